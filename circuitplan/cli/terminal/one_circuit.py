"""One circuit on one screen: its path, protection, drop, fault, test values and findings."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import (
    assumption_lines,
    caution_lines,
    panel_table,
    switch_table,
)
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, down, ink, page_width, seconds, table, up, wrap
from circuitplan.design.bench.plugged import Plugs, ends, where
from circuitplan.model.result import Circuit, Finding, Fuse, Result, Run
from circuitplan.planner import counted
from circuitplan.planner.holding import MARK, concerns, failing


def circuit_lines(
    circuit: Circuit, findings: tuple[Finding, ...], plan_file: str | None
) -> Iterator[str]:
    """The page of one circuit; ``findings`` are those that name it or what feeds it."""
    width = page_width()
    head = wrap(f"CIRCUIT {circuit.number}: {circuit.label}", width, first="", rest="  ")
    yield from (ink(line, "head") for line in head)
    switches = " or ".join(circuit.switches) or "no switch: on with its panel"
    yield from wrap(
        f"from {circuit.panel} ({circuit.source}), live {circuit.live}, worked by {switches}", width
    )
    yield ""
    if counted(findings):
        yield from wrap(f"{MARK[:1].upper()}{MARK[1:]} below; do not build it so.", width)
        yield ""
    yield from _accessories(circuit)
    yield ""
    yield from _runs(circuit)
    yield ""
    yield from _fuses(circuit)
    yield from _relays(circuit)
    yield from _connectors(circuit)
    yield from _drop(circuit)
    yield from _fault(circuit)
    yield from _test(circuit)
    if findings:
        yield ""
        yield ink(f"FINDINGS ({len(findings)}): those that fail first, then worst first", "head")
        yield from finding_lines(findings, plan_file)


def _accessories(circuit: Circuit) -> Iterator[str]:
    columns = (
        Column("Accessory", 26, gives_way=True),
        Column("Pieces", right=True),
        Column("Largest", right=True),
        Column("Average", right=True),
        Column("Start", right=True),
        Column("Volts, low supply", right=True),
        Column("Needs", right=True),
    )
    rows = []
    for a in circuit.accessories:
        start = a.inrush_a if a.inrush_a is not None else a.peak_a
        rows.append(
            (
                a.name,
                str(a.quantity),
                f"{up(a.current_a)} A",
                f"{up(a.average_a)} A",
                "-" if start is None else f"{up(start, 0)} A{'' if a.inrush_known else '?'}",
                f"{down(a.low_v, 2)} V",
                "-" if a.min_v is None else f"{a.min_v:g} V",
            )
        )
    yield from table(columns, rows, width=page_width())


def _runs(circuit: Circuit) -> Iterator[str]:
    columns = (
        Column("Wire", 6),
        Column("From - to", 30, gives_way=True),
        Column("Col", 5),
        Column("Size", 9),
        Column("Length", right=True),
        Column("Load", right=True),
        Column("May carry", right=True),
        Column("Ruled by", 9),
    )
    plugs = ends(circuit.connectors)
    rows = [_run_row(run, plugs) for run in circuit.runs]
    yield from table(columns, rows, width=page_width())
    for run in circuit.runs:
        if run.next_smaller:
            yield from wrap(
                f"{run.id}, one size down: {run.next_smaller}",
                page_width(),
                first="  ",
                rest="    ",
            )


def _run_row(run: Run, plugs: Plugs) -> tuple[str, ...]:
    size = run.size + ("*" if run.unknown else "")
    return (
        run.id,
        f"{where(run, run.from_, plugs)} - {where(run, run.to, plugs)}",
        run.colour,
        size if run.pieces == 1 else f"{run.pieces}x {size}",
        f"{up(run.length_m)} m",
        f"{up(run.current_a)} A",
        f"{down(run.ampacity_a)} A",
        "given" if run.given else run.limited_by,
    )


def _fuses(circuit: Circuit) -> Iterator[str]:
    width = page_width()
    if not circuit.fuses:
        yield from wrap(
            f"Fuse: none ({circuit.fuse_reason or 'no reason given'})", width, rest="  "
        )
    for fuse in circuit.fuses:
        yield from wrap(_fuse_words(fuse), width, first=f"Fuse {fuse.id}: ", rest="  ")


def _fuse_words(fuse: Fuse) -> str:
    colour = f", {fuse.colour}" if fuse.colour else ""
    most = "" if fuse.max_a is None else f", at most {down(fuse.max_a)} A"
    least = "" if fuse.short_circuit_only else f"at least {up(fuse.min_a)} A{most}. "
    return (
        f"{fuse.rating_a:g} A type {fuse.type}{colour}, {fuse.position}; {least}"
        f"{'Given. ' if fuse.given else ''}{fuse.why}"
    )


def _relays(circuit: Circuit) -> Iterator[str]:
    width = page_width()
    for relay in circuit.relays:
        yield from wrap(
            f"{relay.type}, contact {relay.contact_a:g} A"
            + (f", break contact {relay.break_a:g} A" if relay.break_a is not None else "")
            + f" (needs {up(relay.needed_a)} A), coil {up(relay.coil_a, 2)} A on "
            f"{' or '.join(relay.switches) or 'its panel'}{f' {relay.at}' * bool(relay.at)}, "
            f"terminals {relay.terminals}, {relay.position}"
            + (", each trigger through a diode of its own" if relay.diodes else ""),
            width,
            first=f"Relay {relay.id}: ",
            rest="  ",
        )
    if circuit.relay_reason:
        yield from wrap(circuit.relay_reason, width, first="Relay: ", rest="  ")


def _connectors(circuit: Circuit) -> Iterator[str]:
    for c in circuit.connectors:
        rated = "no rating given"
        if c.rating_a is not None:
            rated = f"contacts rated {c.rating_a:g} A, bear {down(c.usable_a or 0.0)} A there"
        poles = ", ".join(f"{x.run} in {x.number}" for x in c.cavities if x.run)
        many = f", {c.pieces} alike" if c.pieces > 1 else ""
        yield from wrap(
            f"{c.name} of {c.of}{many}; {poles}; {rated}, {up(c.current_a)} A flow",
            page_width(),
            first=f"Connector {c.id}: ",
            rest="  ",
        )


def _drop(circuit: Circuit) -> Iterator[str]:
    drop = circuit.drop
    if drop is None:
        return
    parts = drop.parts
    yield from wrap(
        f"{up(drop.total_v, 2)} V of {down(drop.supply_v, 2)} V at {drop.accessory} "
        f"({up(drop.percent)} %, limit {drop.limit_percent:g} %; {drop.state} supply): "
        f"feeder {parts.feeder_v:.2f}, contacts {parts.contacts_v:.2f}, run {parts.run_v:.2f}, "
        f"return {parts.return_v:.2f} V",
        page_width(),
        first="Drop: ",
        rest="  ",
    )
    if drop.conductor_limit_percent is not None:
        yield (
            f"  conductors alone {up(drop.conductor_percent)} %, "
            f"limit {drop.conductor_limit_percent:g} %"
        )


def _fault(circuit: Circuit) -> Iterator[str]:
    fault = circuit.fault
    if fault is None:
        return
    yield from wrap(
        f"bolted at the far end of {fault.run} {down(fault.current_a, 0)} A, cleared in "
        f"{seconds(fault.clears_s)}, wire stands {down(fault.allowed_s, 2)} s; largest at the fuse "
        f"{up(fault.prospective_max_a, 0)} A",
        page_width(),
        first="Fault: ",
        rest="  ",
    )


def _test(circuit: Circuit) -> Iterator[str]:
    for line in circuit.test:
        yield from wrap(
            f"at {line.supply_v:g} V supply read {line.low_a:.2f} to {line.high_a:.2f} A, "
            f"{line.load_v:.2f} V at the load",
            page_width(),
            first="Test: ",
            rest="  ",
        )


def narrowed_lines(result: Result, plan_file: str | None) -> Iterator[str]:
    """What `check PLAN NAME` prints: a page a circuit, then switch and feeding panels."""
    yield from answer_lines(result.answer, result.because)
    rest = result.findings
    for circuit in result.circuits:
        own = tuple(f for f in rest if concerns(f, circuit))
        rest = tuple(f for f in rest if f not in own)
        yield ""
        yield from circuit_lines(circuit, own, plan_file)
    if result.switches:
        yield ""
        yield from switch_table(result)
    if result.panels:
        yield ""
        yield from panel_table(result.panels, failing(result))
    if rest:
        yield ""
        yield ink("WHAT FEEDS IT", "head")
        yield from finding_lines(rest, plan_file)
    yield from assumption_lines(result.assumptions, plan_file, every=True)
    yield from caution_lines()
