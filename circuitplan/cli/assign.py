"""``assign``: choose switch, relay or direct feed for each accessory, with proof."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import NOT_MET, exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example
from circuitplan.cli.quantities import Reader

if TYPE_CHECKING:
    from circuitplan.design.assigning.gather import Wishes
    from circuitplan.model.plan import Plan


@example(
    "circuitplan assign examples/overloaded-compressor.yaml",
    "circuitplan assign examples/workboat.yaml --again --spare 2A --others 2",
)
def assign(
    plan: PlanFile,
    again: Annotated[
        bool, typer.Option("--again", help="Decide again what has a switch already.")
    ] = False,
    together: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME=NAME", help="Two that share a switch.", show_default=False),
    ] = None,
    apart: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME=NAME", help="Two never on one switch.", show_default=False),
    ] = None,
    spare: Annotated[
        str | None,
        typer.Option(
            metavar="AMPERES", help="To stay free where a switch carries.", show_default=False
        ),
    ] = None,
    spare_ways: Annotated[
        int, typer.Option(metavar="N", help="Ways to stay free on every panel.", min=0)
    ] = 0,
    others: Annotated[
        int, typer.Option(metavar="N", help="Show the N next best too.", min=0, max=9)
    ] = 0,
    seconds: Annotated[
        float, typer.Option(metavar="S", help="Most time for one search.", min=0.1)
    ] = 30.0,
    keep: Annotated[
        bool, typer.Option("--keep", help="Write the best into the plan (a .bak copy stays).")
    ] = False,
    json: AsJson = False,
) -> int:
    """Choose switches for what has none.

    Switch, relay or feed without a switch, and panel. Fewest added relays, then least copper,
    then kin side by side: exact, and proven where it says so. What the plan says stays. When
    demands conflict, it names them, and what to give up. Nothing is written without --keep.
    """
    from circuitplan.cli.searching import kept, too_late
    from circuitplan.planfile import read_plan, read_text
    from circuitplan.planfile.edits import apply
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner import study
    from circuitplan.planner.assigning import FORMAT, changes
    from circuitplan.planner.assigning import assign as assign_plan

    read = read_plan(plan)
    wishes = _wishes(read, again, together or (), apart or (), spare, spare_ways)
    before = study(read)
    try:
        answer = assign_plan(read, wishes, before, others, seconds)
    except TimeoutError as late:
        return too_late(FORMAT, str(late), as_json=json)
    from circuitplan.cli.terminal.assigning import as_data, conflict_lines, proposal_lines

    if not answer.proposals:
        if json:
            print_json(as_data(answer, None, ()))
        else:
            print_lines(conflict_lines(answer))
        return NOT_MET
    start = plan_text(Path(plan))
    text = apply(start, changes(answer.proposals[0]))
    after = study(read_text(text, plan))
    said = kept(Path(plan), read, text, bool(answer.proposals[0].edits)) if keep else ()
    if json:
        print_json(as_data(answer, after, said))
    else:
        print_lines(proposal_lines(answer, before, after, plan, said))
    return exit_code(after.answer)


def _wishes(
    plan: Plan, again: bool, together: Sequence[str], apart: Sequence[str], spare: str | None,
    spare_ways: int,
) -> Wishes:
    from circuitplan.design.assigning.gather import Wishes

    reader = Reader()
    spare_a = reader.quantity("--spare", spare, "current") or 0.0
    names = {a.name.casefold(): a.name for a in plan.accessories}
    pairs = {
        option: tuple(p for words in given if (p := _pair(reader, option, words, names)))
        for option, given in (("--together", together), ("--apart", apart))
    }
    reader.finish()
    return Wishes(again, pairs["--together"], pairs["--apart"], spare_a, spare_ways)


def _pair(
    reader: Reader, option: str, words: str, names: dict[str, str]
) -> tuple[str, str] | None:
    parts = [part.strip() for part in words.split("=")]
    if len(parts) != 2 or not all(parts):
        reader.problem(option, f"'{words}'", "NAME=NAME", 'as "Fog lamps=Roof bar"')
        return None
    for part in parts:
        if part.casefold() not in names:
            known = ", ".join(names.values())
            reader.problem(option, f"no accessory '{part}'", known, "use a name of the plan")
            return None
    return names[parts[0].casefold()], names[parts[1].casefold()]
