"""The commissioning sheet, and its table as CSV to fill in."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from circuitplan.design.bench.causes import CHARGED_V
from circuitplan.design.bench.chain import Chain, chains, sized
from circuitplan.design.bench.readings import expected
from circuitplan.model.plan import Plan
from circuitplan.model.readings import COLUMNS
from circuitplan.model.result import Result
from circuitplan.report import motors, show
from circuitplan.report.paper.sheet import Block, Sheet, csv_text
from circuitplan.report.table import Cell, Column, Table, cells
from circuitplan.report.test_sheet import polarity
from circuitplan.report.words import all_fuses, fuse_text, switch_names

CHARGING_V = 14.2
"""Of a 12 V system: the usual charging volts (common practice)."""

COLD = (
    "Isolate every battery: take off the negative first. Lock or label the isolator.",
    "Look: grommets or 9.5 mm clearance at every hole (AC 43.13-1B 11-115), ties, boots on studs "
    "that stay live (33 CFR 183.445), nothing near airbag or stability wiring.",
    "Pull each crimp by hand; check the torque marks of every stud.",
    "Continuity of every wire from end to end, by its number.",
    "No short: fuses out, loads unplugged, each feed against body and neighbours, 1 MΩ or more.",
    "Polarity at every connector.",
    "Each fuse against the list below, one by one; then fit them.",
    "Connect the battery, negative last. No spark: if there is one, stop and find the load.",
)
HOT = (
    "One circuit at a time, everything else off: fill in the rows below, engine off, then running.",
    "Switches, triggers and interlocks: go through the table below.",
    "All continuous loads on, engine at idle, then faster: volts at the battery, below.",
    "After 30 minutes of that: touch fuse holders, relays and feeders with the back of the hand; "
    "what cannot be touched for 3 s has a bad joint.",
    "Everything off and asleep: drain of the parked vehicle. Then start the engine once.",
)


MOTORS = (
    "At the motor's terminals (DIN 72552), black lead on the source's negative, engine off, this "
    "circuit alone on. If a motor runs the wrong way, swap its two wires at the motor; if low and "
    "high are exchanged, those at 33 and 33f. Let it stand before the other direction. In the "
    "readings above the red lead is at the terminal that is fed: 33 up, 32 down."
)


def view(plan: Plan, result: Result) -> Sheet:
    """The whole sheet; bands come from the network as it was sized."""
    found = chains(sized(plan))
    blocks = (
        Block("With the battery isolated", steps=COLD, together=True),
        *_polarity(result),
        Block("", tables=(_fuses(result),)),
        Block("With the battery connected", steps=HOT, together=True),
        Block("Readings", words=(
            "Supply: at the posts of the source. Load: at the accessory's terminals. Drop +: from "
            "the source's positive to the load's positive. Drop −: from the load's negative to the "
            "source's negative. Each expected figure holds with this circuit alone on.",
        ), tables=(_readings(found),)),
        Block("Switches, triggers, interlocks", tables=(_truth(result),)),
        *(
            [Block("Motors", words=(MOTORS,), tables=(motors.terminals(found, result),))]
            if motors.has_any(result) else []
        ),
        Block("Alternator and parked drain", tables=(_supply(plan, result),), together=True),
        Block("Signed", tables=(_signed(),), together=True),
    )
    lead = (
        "Write into the blanks, or into the CSV of this sheet: circuitplan test PLAN READINGS.csv "
        "judges it. The meter does not show the design current: the bands say what it may show.",
    )
    return Sheet("Commissioning sheet", lead, blocks, wide=True)


def _polarity(result: Result) -> tuple[Block, ...]:
    if not polarity.rows(result):
        return ()
    return (Block("Polarity", words=(polarity.WORDS,), tables=(polarity.table(result),)),)


def supplies(chain: Chain) -> tuple[tuple[float, str], ...]:
    """Supply volts to test at, and in which state; a converter has one."""
    scale = chain.nominal_v / 12.0
    if chain.source_v is not None:
        return ((chain.source_v, "converter on"),)
    if chain.no_load:
        kind = chain.load.kind
        if kind is not None and kind.family == "engine":
            return ((motors.RESTING_V * scale, "engine off, while it cranks"),)
        return ((CHARGING_V * scale, "engine running, no load"),)
    return ((motors.RESTING_V * scale, "engine off"), (CHARGING_V * scale, "engine running"))


def as_csv(plan: Plan) -> str:
    """The readings to fill in: a row an accessory and supply state, the values blank."""
    found = chains(sized(plan))
    rows = [
        (f"{c.circuit} {c.title}", *([""] * 6), state)
        for c in found
        for _, state in supplies(c)
    ]
    return csv_text(COLUMNS, rows)


def _readings(found: Sequence[Chain]) -> Table:
    rows = []
    for chain in found:
        for volts, state in supplies(chain):
            e = expected(chain, volts)
            if chain.no_load:
                rows.append(cells(
                    Cell(f"{chain.circuit} {chain.title}", state),
                    show.rating(round(volts, 2)), Cell("note the amps", _no_load(chain)),
                    show.BLANK, show.BLANK, show.BLANK, show.down(1000.0 * e.minus_ohm, 1),
                    show.down(1000.0 * e.parked_a, 0), "", "", "", "", "", "", "",
                ))
                continue
            rows.append(cells(
                Cell(f"{chain.circuit} {chain.title}", state), show.rating(round(volts, 2)),
                f"{show.down(e.low_a)} to {show.up(e.high_a)}", show.up(e.least_v, 2),
                show.down(e.most_plus_v, 2), show.down(e.most_minus_v, 2),
                show.down(1000.0 * e.minus_ohm, 1), show.down(1000.0 * e.parked_a, 0),
                "", "", "", "", "", "", "",
            ))
    blanks = ("Supply V", "A", "Load V", "Drop +", "Drop −", "Parked mA", "OK, initials")
    return Table("What to read, and room to write", (
        Column("Circuit", 19), Column("Supply [V]", 7, "right"), Column("Current [A]", 11, "right"),
        Column("Load [V] least", 7, "right"), Column("Drop + [V] most", 8, "right"),
        Column("Drop − [V] most", 8, "right"), Column("Return [mΩ] most", 8, "right"),
        Column("Parked [mA]", 8, "right"), *(Column(b, 8) for b in blanks),
    ), tuple(rows))


def _no_load(chain: Chain) -> str:
    if chain.no_load_a is None:
        return "no band: never stall it to reach the planned current"
    return f"runs free, about {show.rating(chain.no_load_a)} A usual; no pull, no stall"


def _fuses(result: Result) -> Table:
    rows = [
        cells(f.id, fuse_text(f), f.position, name, "") for name, f in all_fuses(result)
    ]
    return Table("Fuses, one by one", (
        Column("Fuse", 8), Column("Rating, colour, type", 24), Column("Where", 28),
        Column("Protects", 30), Column("Seen, initials", 14),
    ), tuple(rows))


def truth(result: Result) -> Iterator[tuple[str, str, str]]:
    """(what is set, what must happen, on what condition) for everything that a switch works."""
    names = switch_names(result)
    by_id = {s.id: s for s in result.switches}
    for circuit in result.circuits:
        for a in circuit.accessories:
            own = [s.id for s in result.switches if a.name in s.works]
            live = {"always": "always", "ignition": "with ignition", "engine": "with the engine"}
            when = live.get(a.live, a.live)
            if a.needs:
                when += f"; meant only while {show.listed(a.needs)} is on"
            if a.never_with:
                when += f"; never together with {show.listed(a.never_with)}"
            if not own:
                yield "no switch: by its own control", f"{a.name} works", when
                continue
            if a.motor is not None:
                yield from motors.truth(a, names[own[0]], when)
                continue
            for states in itertools.product((False, True), repeat=min(len(own), 3)):
                set_to = ", ".join(
                    f"{_named(by_id[s].signal, names[s])} {'on' if on else 'off'}"
                    for s, on in zip(own, states, strict=False)
                )
                yield set_to, f"{a.name} {'on' if any(states) else 'off'}", when


def _named(signal: str | None, name: str) -> str:
    return signal if signal else name


def _truth(result: Result) -> Table:
    rows = [cells(what, happens, when, "") for what, happens, when in truth(result)]
    return Table("Set, and see", (
        Column("Set", 34), Column("Must be", 24), Column("Live, and conditions", 42),
        Column("OK, initials", 12),
    ), tuple(rows), "Nothing is switched.")


@dataclass(frozen=True, slots=True)
class AtBattery:
    """One line of the supply's test; ``least_v`` None: the battery gives part, the volts fall."""

    name: str
    state: str
    drawn_a: float
    alternator_a: float | None
    least_v: float | None
    most_v: float | None


def at_battery(plan: Plan, result: Result) -> Iterator[AtBattery]:
    """What the battery should show in each scenario with the engine on, and parked."""
    scale = plan.nominal_v / 12.0
    least, most = round(CHARGED_V * scale, 1), round(14.8 * scale, 1)
    for s in result.supply.scenarios:
        if s.alternator_a is None or s.engine == "off":
            continue
        holds = s.margin_a is not None and s.margin_a >= 0.0
        yield AtBattery(
            s.name, f"engine {s.engine}, {s.battery}", s.demand_a, s.alternator_a,
            least if holds else None, most if holds else None,
        )
    yield AtBattery(
        "Parked, asleep", "everything off", result.supply.parked_a, None,
        round(12.4 * scale, 1), None,
    )


def _supply(plan: Plan, result: Result) -> Table:
    rows = []
    for at in at_battery(plan, result):
        parked = at.alternator_a is None
        volts = "falls: the battery gives the rest"
        if at.least_v is not None:
            least = show.rating(at.least_v)
            volts = (
                f"{least} to {show.rating(at.most_v)} V" if at.most_v is not None
                else f"{least} V or more at rest"
            )
        drawn = f"{show.up(1000.0 * at.drawn_a, 0)} mA" if parked else f"{show.up(at.drawn_a)} A"
        gives = "–" if at.alternator_a is None else f"{show.down(at.alternator_a)} A"
        rows.append(cells(Cell(at.name, at.state), drawn, gives, volts, "", ""))
    return Table("Volts at the battery", (
        Column("Scenario", 26), Column("Drawn, at most", 16, "right"),
        Column("Alternator gives", 16, "right"), Column("Expected at the battery", 26),
        Column("Volts read", 12), Column("Amperes read", 12),
    ), tuple(rows))


def _signed() -> Table:
    rows = tuple(
        cells(what, "", "", "")
        for what in ("Meter and clamp: kind, number, calibrated until", "Ambient, engine speed",
                     "Tested by", "Released by")
    )
    return Table("Who, with what, when", (
        Column("What", 34), Column("Entry", 40), Column("Date", 14), Column("Signature", 24),
    ), rows)
