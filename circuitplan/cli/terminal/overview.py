"""The whole plan on a terminal: verdict, findings, circuits, switches, supply, assumptions."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from circuitplan.cli.terminal.circuit_words import drop_word, fuse_word, wire_word
from circuitplan.cli.terminal.findings import finding_lines, quoted
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, down, ink, page_width, plain, table, up, wrap
from circuitplan.model.result import Assumption, PanelResult, Result, ScenarioResult
from circuitplan.planner.holding import MARK, failing
from circuitplan.planner.room import rooms
from circuitplan.units import show_days, show_drain, show_hours

_SHOWN_ASSUMPTIONS = 6


def overview_lines(
    result: Result,
    plan_file: str | None,
    *,
    assumed: bool = False,
    questions: Sequence[str] = (),
) -> Iterator[str]:
    """What `check PLAN` prints; ``assumed`` lists every assumption instead of the first few.

    ``questions`` are about figures of the plan that may be slips of the pen.
    """
    yield from answer_lines(result.answer, result.because)
    yield ""
    yield from wrap(title_line(result), page_width())
    for question in questions:
        yield from wrap(question, page_width(), first="? ", rest="  ")
    if result.findings:
        yield ""
        yield ink(
            f"FINDINGS ({len(result.findings)}): those that fail first, then worst first", "head"
        )
        yield from finding_lines(result.findings, plan_file)
    if result.circuits:
        yield ""
        yield ink("CIRCUITS", "head")
        yield from circuit_table(result)
    if result.switches:
        yield ""
        yield ink("SWITCHES", "head")
        yield from switch_table(result)
    if result.panels:
        yield ""
        yield ink("PANELS", "head")
        yield from panel_table(result.panels, failing(result))
    yield from supply_lines(result)
    yield from assumption_lines(result.assumptions, plan_file, every=assumed)
    yield from caution_lines()


def title_line(result: Result) -> str:
    """Title, revision, volts, practice and counts in one sentence."""
    head = result.plan
    parts = [head.title or "Untitled plan"]
    if head.revision:
        parts.append(f"revision {head.revision}")
    parts.append(f"{head.nominal_v:g} V")
    parts.append(f"practice {head.practice}")
    parts.append(_count(len(result.circuits), "circuit"))
    parts.append(_count(len(result.switches), "switch", "switches"))
    return ", ".join(parts)


def _count(number: int, one: str, many: str | None = None) -> str:
    return f"{number} {one if number == 1 else many or one + 's'}"


def circuit_table(result: Result) -> Iterator[str]:
    """A line a circuit; a mark stands before those that a counting finding names."""
    columns = (
        Column("", 1),
        Column("No", 4, right=True),
        Column("Circuit", 26, gives_way=True),
        Column("Switch", 12, gives_way=True),
        Column("Current", right=True),
        Column("Wire", 14),
        Column("Fuse", 13),
        Column("Drop", right=True),
    )
    marks = failing(result)
    rows = [
        (
            "!" if circuit.id in marks else "",
            str(circuit.number),
            circuit.label,
            " or ".join(circuit.switches) or "none",
            f"{up(circuit.current_a)} A",
            wire_word(circuit),
            fuse_word(circuit),
            drop_word(circuit),
        )
        for circuit in result.circuits
    ]
    yield from table(columns, rows, width=page_width())
    if any(row[0] == "!" for row in rows):
        yield f"! {MARK} above; do not build it so"
    if any("*" in row[5] for row in rows):
        yield "* wire of unknown size, counted as the thinnest it can be: measure it"


def switch_table(result: Result) -> Iterator[str]:
    """Load against what the contacts may carry; the spare is the least of the whole way."""
    left, switches = rooms(result), result.switches
    columns = (
        Column("Switch", 16),
        Column("Type", 7),
        Column("Rating", right=True),
        Column("Usable", right=True),
        Column("Load", right=True),
        Column("Spare", right=True),
        Column("set by", 16, gives_way=True),
        Column("Works", 34, gives_way=True),
    )
    rows = [
        (
            switch.id if switch.label in ("", switch.id) else f"{switch.id} {switch.label}",
            switch.type,
            plain(switch.rating_a, "A"),
            _amps_down(switch.usable_a),
            f"{up(switch.current_a, 2 if switch.current_a < 1 else 1)} A",
            _amps_down(left[switch.id].spare_a if switch.id in left else None),
            left[switch.id].limit if switch.id in left else "",
            ", ".join(switch.works) or "nothing",
        )
        for switch in switches
    ]
    yield from table(columns, rows, width=page_width())
    unrated = [s.id for s in switches if s.rating_a is None and s.works]
    if unrated:
        text = f"{', '.join(unrated)}: rating not given: nothing says whether the contact bears it"
        yield from wrap(f"{text} (rule S01 not judged)", page_width(), first="? ", rest="  ")


def panel_table(panels: Sequence[PanelResult], marked: Collection[str] = ()) -> Iterator[str]:
    """Load and spare of each panel, its feed wire and main fuse, ways left.

    A mark stands before those of ``marked``, whose feeder does not hold.
    """
    columns = [
        Column("", 1),
        Column("Panel", 16, gives_way=True),
        Column("Fed from", 14, gives_way=True),
        Column("Feed", 9),
        Column("Fuse", 13),
        Column("Load", right=True),
        Column("Usable", right=True),
        Column("Free ways", right=True),
    ]
    rows = [_panel_row(panel, "!" if panel.id in marked else "") for panel in panels]
    bad = any(row[0] for row in rows)
    if not bad:
        columns, rows = columns[1:], [row[1:] for row in rows]
    yield from table(columns, rows, width=page_width())
    if bad:
        yield f"! {MARK}; do not build it so"


def _panel_row(panel: PanelResult, mark: str) -> tuple[str, ...]:
    return (
        mark,
        panel.id + (" (assumed)" if panel.assumed else ""),
        panel.fed_from,
        panel.feeder[0].size if panel.feeder else "-",
        f"{panel.fuse.rating_a:g} A {panel.fuse.type}" if panel.fuse else "none",
        f"{up(panel.current_a)} A",
        _amps_down(panel.usable_a),
        "-" if panel.free_ways is None else f"{panel.free_ways} of {panel.ways}",
    )


def _amps_down(value: float | None) -> str:
    return "-" if value is None else f"{down(value, 2 if abs(value) < 1 else 1)} A"


def supply_lines(result: Result) -> Iterator[str]:
    """Alternator margin and battery time of each scenario, each day, and the parked drain."""
    supply = result.supply
    unjudged = bool(supply.alternators) and not supply.scenarios
    if not (supply.scenarios or supply.days or supply.parked_a or unjudged):
        return
    yield ""
    yield ink("SUPPLY", "head")
    for answer in supply.answers:
        yield from wrap(answer, page_width(), rest="  ", first="")
    if supply.scenarios:
        columns = (
            Column("Scenario", 18, gives_way=True),
            Column("Engine", 9),
            Column("Battery", 9, gives_way=True),
            Column("Demand", right=True),
            Column("Alternator", right=True),
            Column("Margin", right=True),
            Column("To reserve", right=True),
        )
        rows = [_scenario_row(scenario) for scenario in supply.scenarios]
        yield from table(columns, rows, width=page_width())
    if unjudged:
        yield from wrap(
            "alternator: not judged, the plan has no scenario (say what runs together, engine on: "
            "circuitplan explain scenarios)",
            page_width(), rest="  ", first="",
        )  # fmt: skip
    for day in supply.days:
        end = "-" if day.end_charge is None else f"{down(day.end_charge * 100, 0)} %"
        low = "-" if day.lowest_charge is None else f"{down(day.lowest_charge * 100, 0)} %"
        starts = {True: ", the engine starts", False: ", the engine may not start", None: ""}
        yield from wrap(
            f"Day {day.name}, {day.battery}: from {day.start_charge:.0%} down to {low}, "
            f"ends at {end}; reserve {day.reserve_charge:.0%}{starts[day.starts]}",
            page_width(),
            rest="  ",
            first="",
        )
    if supply.parked_a:
        days = supply.parked_days
        time = "" if days is None else f", {show_days(days)} from full to the reserve"
        yield f"Parked: {show_drain(supply.parked_a)}{time}"


def _scenario_row(scenario: ScenarioResult) -> tuple[str, ...]:
    off = scenario.engine == "off"
    margin = "-" if scenario.margin_a is None or off else f"{down(scenario.margin_a)} A"
    if scenario.margin_percent is not None and not off:
        margin += f" {down(scenario.margin_percent, 0)} %"
    hours = scenario.hours_to_reserve
    return (
        scenario.name,
        scenario.engine,
        scenario.battery,
        f"{up(scenario.demand_a)} A",
        "-" if scenario.alternator_a is None or off else f"{down(scenario.alternator_a)} A",
        margin,
        "-" if hours is None else show_hours(hours, "> 2 weeks"),
    )


def assumption_lines(
    assumptions: Sequence[Assumption], plan_file: str | None, *, every: bool
) -> Iterator[str]:
    """What the plan did not say, those that decide a verdict first; never left out in silence."""
    if not assumptions:
        return
    ordered = sorted(assumptions, key=lambda a: not a.decides)
    deciding = sum(1 for a in ordered if a.decides)
    shown = ordered if every else ordered[: max(_SHOWN_ASSUMPTIONS, deciding)]
    yield ""
    yield ink(f"ASSUMED ({len(ordered)}), because the plan does not say", "head")
    for a in shown:
        rules = "rule" if len(a.decides) == 1 else "rules"
        decides = f"; decides {rules} {', '.join(a.decides)}" if a.decides else ""
        basis = a.status if a.source == a.status else f"{a.status}: {a.source}"
        line = f"{a.subject}: {a.what} {a.value} ({basis}){decides}"
        yield from wrap(line, page_width(), first="- ", rest="  ")
    left = len(ordered) - len(shown)
    if left:
        where = f": circuitplan check {quoted(plan_file)} --assumed" if plan_file else ""
        yield from wrap(f"and {left} more{where}", page_width(), first="  ", rest="  ")


def caution_lines() -> Iterator[str]:
    """The cautions that stand under every plan."""
    yield ""
    yield from wrap(
        "Before work: isolate every battery, keep off airbag and stability circuits, fuse every "
        "wire at its source, and never fit a larger fuse than planned. Local codes, the vehicle "
        "and accessory makers' instructions and licensed practice take precedence over this plan.",
        page_width(),
    )
