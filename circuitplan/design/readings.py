"""Verdict on measured values: what each should be, and the likely cause where it is not.

Volts are taken at the source's posts (``supply_v``), at the accessory's terminals (``load_v``) and
along each side (``drop_plus_v``, ``drop_minus_v``), with this circuit alone switched on.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitplan.design.chain import Chain, Stretch
from circuitplan.model.readings import (
    Deviation,
    JudgedReading,
    Reading,
    TestAnswer,
    TestedCircuit,
)
from circuitplan.model.result import Answer

METER_V = 0.02
"""Two least digits of a hand meter on its 20 V range (judgement)."""
METER_A, METER_SHARE = 0.1, 0.02
"""What a clamp meter may be off [A], and its share of the reading (judgement)."""
CONTACTS_AGED = 2.0
"""Contacts of new work may have this many times the resistance they are designed with (judgement)."""
NO_CURRENT = 0.1
"""Below this share of the least current nothing flows (judgement)."""
ALIKE = (0.6, 1.0 / 0.6)
"""Both wires of a pair read high by shares this much alike: the wire itself is thin (judgement)."""
PARKED_SPARE_A, PARKED_SHARE = 0.005, 1.2


@dataclass(frozen=True, slots=True)
class Expected:
    """Bands at one supply voltage, with this circuit alone on."""

    supply_v: float
    low_a: float
    high_a: float
    least_v: float
    most_plus_v: float
    most_minus_v: float
    plus_ohm: float  # the most each side may have
    minus_ohm: float
    parked_a: float


def expected(chain: Chain, supply_v: float) -> Expected:
    """What the meter should read [V], [A] with ``supply_v`` at the source's posts.

    The most drop is that of the largest current through wires at working temperature and contacts of
    twice their design resistance, and never more than the limit of the circuit.
    """
    plus, minus = side_ohm(chain.plus), side_ohm(chain.minus) + CONTACTS_AGED * chain.body_ohm
    limit_v = chain.limit_percent / 100.0 * chain.nominal_v
    loop = plus + minus
    volts = supply_v
    for _ in range(30):  # the current follows the volts; the drop is small against them
        volts = supply_v - min(limit_v, chain.current_band(volts)[1] * loop)
    high_a = max(chain.current_band(volts)[1], chain.current_band(supply_v)[1])
    low_a = min(chain.current_band(volts)[0], chain.current_band(supply_v)[0])
    drop = min(limit_v, high_a * loop)
    share = plus / loop if loop else 0.0
    return Expected(
        supply_v, low_a, high_a, supply_v - drop, drop * share, drop * (1.0 - share), plus, minus,
        parked(chain),
    )


def parked(chain: Chain) -> float:
    """What the accessory may draw with switches and ignition off [A]."""
    return chain.load.parked_a if chain.live == "always" else 0.0


def side_ohm(stretches: Sequence[Stretch]) -> float:
    """The most one side may have [ohm]: hot wires, contacts at twice their design."""
    return sum(s.together * (s.hot_ohm + CONTACTS_AGED * s.contact_ohm) for s in stretches)


def judge(chains: Sequence[Chain], readings: Sequence[Reading]) -> TestAnswer:
    """Judge every row; a row names a circuit number or an accessory (see ``find``)."""
    rows: dict[str, list[JudgedReading]] = {}
    for reading in readings:
        chain = find(chains, reading.circuit)
        if chain is not None and not reading.blank:
            rows.setdefault(chain.accessory, []).append(judge_one(chain, reading))
    found = []
    untested = []
    for chain in chains:
        mine = tuple(rows.get(chain.accessory, ()))
        if not mine:
            untested.append(f"{chain.circuit} {chain.accessory}")
        passed = _together([r.passed for r in mine])
        first = next((d.cause for r in mine for d in r.deviations), None)
        found.append(TestedCircuit(str(chain.circuit), chain.accessory, mine, passed, first))
    return _answer(tuple(found), tuple(untested))


def find(chains: Sequence[Chain], words: str) -> Chain | None:
    """The chain that a row means: "9 Beacon", "Beacon", or "9" where it has one accessory."""
    folded = " ".join(words.casefold().split())
    for chain in chains:
        names = (chain.accessory.casefold(), f"{chain.circuit} {chain.accessory}".casefold())
        if folded in names:
            return chain
    numbered = [c for c in chains if folded in (str(c.circuit), f"c{c.circuit}")]
    labelled = [c for c in chains if folded == c.label.casefold()]
    for group in (numbered, labelled):
        if len(group) == 1:
            return group[0]
    return None


def _together(verdicts: list[bool | None]) -> bool | None:
    if False in verdicts:
        return False
    return True if verdicts and None not in verdicts else None


def _answer(found: tuple[TestedCircuit, ...], untested: tuple[str, ...]) -> TestAnswer:
    failed = [c for c in found if c.passed is False]
    unsure = [c for c in found if c.passed is None and c.readings]
    answer: Answer
    if failed:
        answer, first = "not ok", failed[0]
        because = f"{first.id} {first.accessory}: {first.cause}"
        if len(failed) > 1:
            because += f"; {len(failed) - 1} more fail"
    elif unsure or untested:
        answer = "cannot say"
        because = (
            f"{unsure[0].id} {unsure[0].accessory} lacks {', '.join(unsure[0].readings[0].missing)}"
            if unsure else f"no reading of {untested[0]}"
        )  # fmt: skip
        more = len(unsure) + len(untested) - 1
        because += f", and {more} more are not whole" if more else ""
    else:
        answer, because = "ok", f"all {len(found)} accessories read as planned"
    return TestAnswer(answer, because, found, untested)


def judge_one(chain: Chain, r: Reading) -> JudgedReading:
    """Verdict on one row, with every deviation, the likeliest cause first."""
    missing = tuple(
        name for name in ("supply_v", "current_a", "load_v") if getattr(r, name) is None
    )
    found = list(_parked(chain, r))
    low = high = None
    if r.supply_v is not None and r.current_a is not None and r.load_v is not None:
        low, high = chain.current_band(r.load_v)
        found = [*_flowing(chain, r, r.supply_v, r.current_a, r.load_v), *found]
    only_parked = r.parked_a is not None and len(missing) == 3
    passed: bool | None = not found
    if not found and missing and not only_parked:
        passed = None
    return JudgedReading(r, passed, low, high, tuple(found), () if only_parked else missing)


def _flowing(
    chain: Chain, r: Reading, supply_v: float, current_a: float, load_v: float
) -> Iterator[Deviation]:
    contradiction = _contradiction(r, supply_v, load_v)
    if contradiction:
        yield contradiction
        return
    plus, minus = _sides(r, supply_v, load_v)
    low, high = chain.current_band(max(load_v, 0.5 * chain.nominal_v))
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
        )  # fmt: skip
    yield from _current(chain, current_a, load_v)
    if chain.load.min_v is not None and load_v < chain.load.min_v - METER_V:
        yield Deviation(
            "volts below the least the accessory needs",
            f"{load_v:.2f} V at its terminals, {chain.load.min_v:g} V needed",
            "charge the battery, then look at the drops",
        )
    scale = chain.nominal_v / 12.0
    if not resistances and not 11.5 * scale <= supply_v <= 15.0 * scale and chain.source == "battery":
        yield Deviation(
            "supply out of its range",
            f"{supply_v:.2f} V at the source; {11.5 * scale:g} to {15.0 * scale:g} V are usual",
            "charge the battery, or have the charging checked, and test again",
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
    most_minus = (
        current_a * (side_ohm(chain.minus) + CONTACTS_AGED * chain.body_ohm) + METER_V
    )
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


def _excess(stretches: Sequence[Stretch], extra: float, ohm: float) -> float:
    """Resistance over the planned one, as a share of the circuit's own wires."""
    planned = sum(s.together * ((s.cold_ohm + s.hot_ohm) / 2.0 + s.contact_ohm) for s in stretches)
    own = sum((s.cold_ohm + s.hot_ohm) / 2.0 for s in stretches if not s.feeder)
    return (ohm - planned - extra) / own if own else 0.0


def _thin(chain: Chain, plus_ohm: float, minus_ohm: float) -> str | None:
    """The size that both sides read as, if they are high alike."""
    feed = _excess(chain.plus, 0.0, plus_ohm)
    back = _excess(chain.minus, chain.body_ohm, minus_ohm)
    if feed <= 0.2 or back <= 0.2 or not ALIKE[0] <= feed / back <= ALIKE[1]:
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
            "look at the accessory's label; plan with what it draws (try --change) before it is used",
        )
    elif current_a < low - spare:
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


def _parked(chain: Chain, r: Reading) -> Iterator[Deviation]:
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


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured draw; ``kept`` says whether it may replace what the plan is sized for."""

    accessory: str
    each_a: float
    volts: float
    kept: bool
    why: str


def measured(chains: Sequence[Chain], answer: TestAnswer) -> tuple[Measured, ...]:
    """The largest sound current of every accessory, each piece, rounded up to 10 mA.

    Of a thing whose draw varies (typical below high) a smaller measured value is not kept: it may
    not have worked at its hardest, and a wire sized by it would be too thin.
    """
    found = []
    for chain, circuit in zip(chains, answer.circuits, strict=True):
        sound = [
            r.reading for r in circuit.readings
            if r.reading.current_a is not None and r.reading.load_v is not None
            and all(d.cause.startswith("wrong load") for d in r.deviations)
        ]  # fmt: skip
        if not sound:
            continue
        # The reading that asks for most at the rated volts sizes the plan.
        best = max(sound, key=lambda r: r.current_a or 0.0)
        assert best.current_a is not None and best.load_v is not None
        each = math.ceil(100.0 * best.current_a / chain.quantity - 1e-6) / 100.0
        planned = chain.current_band(best.load_v)[1] / 1.1
        varies = chain.load.typical_a < 0.999 * chain.load.rated_a or len(chain.load.exponents) > 1
        if varies and best.current_a < planned:
            found.append(Measured(chain.accessory, each, best.load_v, False,
                                  "its draw varies, and it may draw more than it did now"))  # fmt: skip
        else:
            found.append(Measured(chain.accessory, each, round(best.load_v, 2), True, ""))
    return tuple(found)
