"""Why a reading is off: the likely cause of each deviation, told by volts, current and drops."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.design.bench.chain import Chain, Stretch
from circuitplan.design.nodes import MAIN_BATTERY
from circuitplan.model.readings import Deviation, Reading

METER_V = 0.02
"""Two least digits of a hand meter on its 20 V range (judgement)."""
METER_A, METER_SHARE = 0.1, 0.02
"""What a clamp meter may be off [A], and its share of the reading (judgement)."""
CONTACTS_AGED = 2.0
"""New contacts may have this many times the resistance they are designed with (judgement)."""
NO_CURRENT = 0.1
"""Below this share of the least current nothing flows (judgement)."""
ALIKE = (0.6, 1.0 / 0.6)
"""Both wires of a pair read high by shares this much alike: the wire itself is thin (judgement)."""
LEAST_THIN = 0.2
"""A wire that has this share more than planned, contacts as designed, may be thin (judgement)."""
PARKED_SPARE_A, PARKED_SHARE = 0.005, 1.2
REVERSED_V = 0.5
"""Terminals that read this far below zero are wired the wrong way round (judgement)."""
FLAT_V, OVER_V = 11.5, 15.0
"""Usual volts of a 12 V supply, engine off or running (common practice)."""
CHARGED_V = 13.2
"""The least of a 12 V battery that an engine charges (common practice), as on the test sheet."""


def parked(chain: Chain) -> float:
    """What the accessory may draw with switches and ignition off [A]."""
    return chain.load.parked_a if chain.live == "always" else 0.0


def side_ohm(stretches: Sequence[Stretch]) -> float:
    """The most one side may have [ohm]: hot wires, contacts at twice their design."""
    return sum(s.together * (s.hot_ohm + CONTACTS_AGED * s.contact_ohm) for s in stretches)


def flowing(
    chain: Chain, r: Reading, supply_v: float, current_a: float, load_v: float
) -> Iterator[Deviation]:
    """Every deviation of a circuit that is switched on, the likeliest cause first."""
    if load_v < -REVERSED_V:
        yield Deviation(
            "reversed polarity at the load",
            f"{load_v:.2f} V with the meter's red lead on the accessory's positive terminal",
            "switch off and swap the two wires at its plug; a diode or electronics in it may be "
            "hurt, and so may the fuse",
        )
        return
    contradiction = _contradiction(r, supply_v, load_v)
    if contradiction:
        yield contradiction
        if 0.5 * supply_v < load_v <= supply_v:  # the drops say nothing, the clamp still does
            yield from _current(chain, current_a, load_v)
        return
    plus, minus = _sides(r, supply_v, load_v)
    low = 0.0  # without load nobody knows the least
    if not chain.no_load:
        low, _ = chain.current_band(max(load_v, 0.5 * chain.nominal_v))
    if current_a < max(NO_CURRENT * low, 0.01):
        yield _dead(supply_v, load_v, plus, minus)
        return
    resistances = list(_resistances(chain, current_a, plus, minus))
    yield from resistances
    total = max(supply_v - load_v, 0.0)
    limit_v = chain.limit_percent / 100.0 * chain.nominal_v
    scaled = total * max(1.0, chain.design_a / current_a) if not resistances else total
    margin = METER_V * max(1.0, chain.design_a / current_a)
    if not resistances and scaled > limit_v + 2.0 * margin:
        yield Deviation(
            "drop over its limit",
            f"{total:.2f} V are lost at {current_a:.3g} A, {scaled:.2f} V at the design current of "
            f"{chain.design_a:.3g} A; {limit_v:.2f} V are allowed",
            "measure the drop of each wire and joint, feeder first",
        )
    if not resistances:
        yield from _supply(chain, r, supply_v)
    yield from _current(chain, current_a, load_v)
    if chain.load.min_v is not None and load_v < chain.load.min_v - METER_V:
        yield Deviation(
            "volts below the least the accessory needs",
            f"{load_v:.2f} V at its terminals, {chain.load.min_v:g} V needed",
            "charge the battery, then look at the drops",
        )


def _supply(chain: Chain, r: Reading, supply_v: float) -> Iterator[Deviation]:
    """A source that is weak, too high, or not charged although the row says so.

    Only the main battery is sure to be charged by the engine; a converter holds its own volts.
    """
    if chain.source_v is not None:
        return
    scale = chain.nominal_v / 12.0
    running = "running" in r.note.casefold() and chain.source == MAIN_BATTERY
    if not FLAT_V * scale <= supply_v <= OVER_V * scale:
        yield Deviation(
            "supply out of its range",
            f"{supply_v:.2f} V at the source; {FLAT_V * scale:g} to {OVER_V * scale:g} V are usual",
            "charge the battery, or have the charging checked, and test again",
        )
    elif running and supply_v < CHARGED_V * scale - METER_V:
        yield Deviation(
            "battery not charged, engine running",
            f"{supply_v:.2f} V at the source; {CHARGED_V * scale:g} V or more are usual",
            "look at the belt, the alternator's plug, cable and fuse; where a computer rests the "
            "alternator while the battery is full, switch on the headlamps and measure again",
        )


def _contradiction(r: Reading, supply_v: float, load_v: float) -> Deviation | None:
    if load_v > supply_v + 2.0 * METER_V:
        shown = f"{load_v:.2f} V at the load, more than the {supply_v:.2f} V at the source"
    elif r.drop_plus_v is not None and r.drop_minus_v is not None:
        lost = r.drop_plus_v + r.drop_minus_v
        if abs(supply_v - load_v - lost) <= 4.0 * METER_V + 0.02 * (supply_v - load_v):
            return None
        shown = (
            f"source less load is {supply_v - load_v:.2f} V, the two drops add up to {lost:.2f} V"
        )
    else:
        return None
    return Deviation(
        "readings contradict each other", shown,
        "measure all four again while nothing changes, the meter on the same posts",
    )


def _sides(r: Reading, supply_v: float, load_v: float) -> tuple[float | None, float | None]:
    """Both drops; one that was not written follows from the other."""
    lost = supply_v - load_v
    plus, minus = r.drop_plus_v, r.drop_minus_v
    if plus is None and minus is not None:
        plus = max(0.0, lost - minus)
    elif minus is None and plus is not None:
        minus = max(0.0, lost - plus)
    return plus, minus


def _dead(supply_v: float, load_v: float, plus: float | None, minus: float | None) -> Deviation:
    if load_v > 0.7 * supply_v:
        return Deviation(
            "load open or not switched on",
            f"{load_v:.2f} V stand at its terminals and nothing flows",
            "look at the accessory itself: its own switch, fuse, plug; then replace it",
        )
    if minus is not None and minus > 0.5 * supply_v:
        return Deviation(
            "open return", f"{minus:.2f} V between the load's negative and the source's negative",
            "look for the open joint on the negative side, earth point first",
        )
    if plus is not None and plus > 0.5 * supply_v:
        return Deviation(
            "open feed", f"{plus:.2f} V are lost before the load's positive",
            "look at the fuse, then switch or relay, then the joints of the feed",
        )
    return Deviation(
        "open feed", f"{load_v:.2f} V at the load and nothing flows; no drop was written",
        "measure drop_plus_v and drop_minus_v: the side that shows the volts is open",
    )


def _resistances(
    chain: Chain, current_a: float, plus: float | None, minus: float | None
) -> Iterator[Deviation]:
    """High resistance of one side, or of both alike: then the wire is thin."""
    if plus is None or minus is None:
        return
    most_plus = current_a * side_ohm(chain.plus) + METER_V
    most_minus = current_a * (side_ohm(chain.minus) + CONTACTS_AGED * chain.body_ohm) + METER_V
    high_plus, high_minus = plus > most_plus, minus > most_minus
    if not high_plus and not high_minus:
        return
    thin = _thin(chain, plus / current_a, minus / current_a)
    said = (
        f"feed {1000 * plus / current_a:.0f} mΩ of at most {1000 * most_plus / current_a:.0f}, "
        f"return {1000 * minus / current_a:.0f} mΩ of at most {1000 * most_minus / current_a:.0f}"
    )
    if chain.body_ohm == 0.0 and thin is not None:
        yield Deviation(
            "undersized wire", f"{said}: both read high alike, as {thin} would",
            f"check the size and length of {_wires(chain)} against the cut list; fit the planned "
            "size, or a fuse that the thin one bears",
        )
        return
    if high_minus:
        yield Deviation(
            "high-resistance return", said,
            "clean and tighten the earth point and the joints of the return, then measure again",
        )
    if high_plus:
        feed = _thin_feed(chain, plus / current_a) if chain.body_ohm > 0.0 else None
        also = f" A wire of {feed} would read the same: check its size." if feed else ""
        yield Deviation(
            "high-resistance feed", said,
            "measure each joint of the feed under load: fuse clips, switch or relay contact, "
            f"crimps; the bad one is warm.{also}",
        )


def _wires(chain: Chain) -> str:
    return ", ".join(s.wire for s in chain.plus + chain.minus if not s.feeder)


def _excess(
    stretches: Sequence[Stretch], extra: float, ohm: float, contacts: float = 1.0
) -> float:
    """Resistance over the planned one, as a share of the circuit's own wires.

    ``contacts``: how many times their design resistance the contacts have.
    """
    planned = sum(
        s.together * ((s.cold_ohm + s.hot_ohm) / 2.0 + contacts * s.contact_ohm) for s in stretches
    )
    own = sum((s.cold_ohm + s.hot_ohm) / 2.0 for s in stretches if not s.feeder)
    return (ohm - planned - extra) / own if own else 0.0


def _thin(chain: Chain, plus_ohm: float, minus_ohm: float) -> str | None:
    """The size that both sides read as, if they are high alike.

    Most contacts sit in the feed, and clean ones have far less than they are designed with: they
    are given what makes both wires most alike, up to their design.
    """
    def sides(contacts: float) -> tuple[float, float]:
        return (
            _excess(chain.plus, 0.0, plus_ohm, contacts),
            _excess(chain.minus, chain.body_ohm * contacts, minus_ohm, contacts),
        )

    if min(sides(1.0)) <= LEAST_THIN:
        return None
    feed, back = min(
        (sides(n / 10.0) for n in range(11)), key=lambda s: max(s[0] / s[1], s[1] / s[0])
    )
    if not ALIKE[0] <= feed / back <= ALIKE[1]:
        return None
    return _nearest(chain, 1.0 + (feed + back) / 2.0)


def _thin_feed(chain: Chain, plus_ohm: float) -> str | None:
    ratio = 1.0 + _excess(chain.plus, 0.0, plus_ohm)
    size = _nearest(chain, ratio)
    own = next((s for s in chain.plus if not s.feeder), None)
    known = dict(own.thinner) if own else {}
    return size if size in known and abs(known[size] / ratio - 1.0) < 0.15 else None


def _nearest(chain: Chain, ratio: float) -> str | None:
    own = next((s for s in chain.plus if not s.feeder), None)
    if own is None or not own.thinner:
        return None
    return min(own.thinner, key=lambda t: abs(t[1] / ratio - 1.0))[0]


def _current(chain: Chain, current_a: float, load_v: float) -> Iterator[Deviation]:
    low, high = chain.current_band(load_v)
    spare = METER_A + METER_SHARE * current_a
    if chain.load.rated_a < 1.0:
        spare = 0.02 + METER_SHARE * current_a
    if current_a > high + spare:
        yield Deviation(
            "wrong load, draws more",
            f"{current_a:.3g} A at {load_v:.2f} V; {low:.3g} to {high:.3g} A are expected",
            "look at its label; plan with what it draws (try --change) before it is used",
        )
    elif current_a < low - spare and not chain.no_load:
        count = chain.quantity
        alive = round(count * current_a / ((low + high) / 2.0)) if count > 1 else 0
        shown = f"{current_a:.3g} A at {load_v:.2f} V; {low:.3g} to {high:.3g} A are expected"
        if 0 < alive < count and abs(current_a * count / alive - (low + high) / 2.0) <= (
            (high - low) / 2.0 + spare
        ):
            yield Deviation(
                "some of the pieces dead", f"{shown}: about {alive} of {count} work",
                "look which of them is dead, then at its own plug and tail",
            )
        else:
            yield Deviation(
                "wrong load, draws less", shown,
                "look whether the accessory worked at its hardest, and at its label",
            )


def drain(chain: Chain, r: Reading) -> Iterator[Deviation]:
    """More current than planned with everything off."""
    if r.parked_a is None:
        return
    allowed = parked(chain)
    if r.parked_a > PARKED_SHARE * allowed + PARKED_SPARE_A:
        yield Deviation(
            "drain while parked",
            f"{1000 * r.parked_a:.0f} mA with everything off; {1000 * allowed:.0f} mA are planned",
            "wait until it sleeps and measure again; then look for a relay that stays in or a wire "
            "past the switch",
        )
