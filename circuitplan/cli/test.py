"""``test``: verdict on the filled-in test sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example
from circuitplan.errors import InputError, Problem

if TYPE_CHECKING:
    from circuitplan.design.bench.chain import Chain
    from circuitplan.design.bench.readings import Measured
    from circuitplan.model.plan import Plan
    from circuitplan.model.readings import Reading, TestAnswer


@example("circuitplan test examples/owner.yaml examples/readings/owner.csv")
def judge_readings(
    plan: PlanFile,
    readings: Annotated[
        Path,
        typer.Argument(
            metavar="READINGS", help="The filled-in sheet: .csv or .xlsx.", show_default=False
        ),
    ],
    keep: Annotated[
        bool, typer.Option("--keep", help="Write the measured draws into the plan.")
    ] = False,
    json: AsJson = False,
) -> int:
    """Judge a filled-in test sheet, reading by reading.

    The likely cause is said where one is off. The command print with --only test and -o
    readings.csv gives the empty sheet. Fill in a row a circuit and supply voltage, that circuit
    alone on; blank rows are left out.
    """
    from circuitplan.design.bench.chain import chains, sized
    from circuitplan.design.bench.readings import judge, measured
    from circuitplan.planfile import read_plan
    from circuitplan.planfile.readings import gathered

    problems: list[Problem] = []
    try:
        read = read_plan(plan)
    except InputError as wrong:
        problems += wrong.problems
    rows, unread = gathered(readings)
    if problems:
        raise InputError([*problems, *unread])
    found = chains(sized(read))
    bad = {problem.where.partition(", column ")[0] for problem in unread}
    unread += _unknown(found, [row for row in rows if not row.blank or row.where in bad])
    if unread:
        raise InputError(sorted(unread, key=_row))
    answer = judge(found, rows)
    draws = measured(found, answer)
    if json:
        print_json(answer)
    else:
        print_lines(_lines(answer))
    if keep:
        said = _keep(plan, read, draws)
        if not json:
            print_lines(["", *said])
    return exit_code(answer.answer)


def _unknown(found: Sequence[Chain], rows: Sequence[Reading]) -> list[Problem]:
    """Rows whose circuit is none of the plan, or may be several."""
    from circuitplan.design.bench.readings import find
    from circuitplan.planfile.tree import nearest

    names = [f"{c.circuit} {c.accessory}" for c in found]
    return [
        Problem(
            f"{row.where}, column circuit",
            f"no circuit, or more than one, is meant by '{row.circuit}'", ", ".join(names),
            f"did you mean {near}?" if (near := nearest(row.circuit, names))
            else "name it by number and accessory",
        )
        for row in rows if row.circuit and find(found, row.circuit) is None
    ]  # fmt: skip


def _row(problem: Problem) -> int:
    number = re.search(r", row (\d+)", problem.where)
    return int(number[1]) if number else 0


def _lines(answer: TestAnswer) -> Iterator[str]:
    from circuitplan.cli.terminal.problems import answer_lines
    from circuitplan.cli.terminal.text import page_width, wrap

    width = page_width()
    yield from answer_lines(answer.answer, answer.because)
    for circuit in answer.circuits:
        if not circuit.readings:
            continue
        verdict = {True: "passes", False: "FAILS", None: "not complete"}[circuit.passed]
        yield ""
        yield from wrap(f"{circuit.id} {circuit.accessory}: {verdict}", width, first="", rest="  ")
        for r in circuit.readings:
            for d in r.deviations:
                yield from wrap(f"{d.cause}: {d.shown_by}", width, first="  ", rest="    ")
                yield from wrap(d.remedy, width, first="    to mend it: ", rest="      ")
            if r.missing:
                gaps = f"not written: {', '.join(r.missing)}"
                yield from wrap(gaps, width, first="  ", rest="    ")
    if answer.not_tested:
        yield ""
        yield from wrap(f"Not tested: {', '.join(answer.not_tested)}", width, first="", rest="  ")


def _keep(plan: str, read: Plan, draws: Sequence[Measured]) -> list[str]:
    from circuitplan.planfile.edits import Change, Merge, Remove, apply
    from circuitplan.planfile.saving import save_plan
    from circuitplan.planfile.writing import plan_text

    path = Path(plan)
    if path.suffix.casefold() not in (".yaml", ".yml"):
        return [f"{path} is a sheet: circuitplan keep {path} makes a plan of it first."]
    named = {a.name for a in read.accessories}
    changes: list[Change] = []
    said = []
    for draw in draws:
        if draw.accessory not in named:
            continue
        if not draw.kept:
            said.append(f"not kept: {draw.accessory}: {draw.why}")
            continue
        key = ("accessories", draw.accessory)
        changes.append(Merge(key, {"current": f"{draw.each_a:g} A",
                                   "rated_voltage": f"{draw.volts:g} V"}))
        changes.append(Remove((*key, "power"), missing_ok=True))
        said.append(f"kept: {draw.accessory}: {draw.each_a:g} A each at {draw.volts:g} V")
    if not changes:
        return [*said, "Nothing to write into the plan."]
    text = apply(plan_text(path), changes)
    copy = save_plan(path, text, read_sha256=read.sha256)
    return [*said, f"{path} is written; the plan as it was is {copy}."]
