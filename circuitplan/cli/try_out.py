"""``try``: what if? Before, after, verdict and remedy, without touching the plan."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example
from circuitplan.errors import InputError, Problem

if TYPE_CHECKING:
    from circuitplan.model.plan import Plan
    from circuitplan.model.result import Result
    from circuitplan.planfile.scalars import Value

FORMAT = "circuitplan try 1"


@example(
    'circuitplan try examples/overloaded-compressor.yaml --change "S3 type relay"',
    'circuitplan try examples/workboat.yaml --add "work lamp" --switch S2',
    'circuitplan try examples/owners-list.csv --swap "Radio=usb socket"',
    "circuitplan try examples/owners-list.csv --remove Fridge",
)
def try_out(
    plan: PlanFile,
    add: Annotated[
        list[str] | None,
        typer.Option(metavar="KIND", help='A kind to add, or "NAME=KIND".', show_default=False),
    ] = None,
    change: Annotated[
        list[str] | None,
        typer.Option(
            metavar="WORDS",
            help='"NAME KEY VALUE", as "Fridge size 6 mm2"; value "chosen": choose again.',
            show_default=False,
        ),
    ] = None,
    swap: Annotated[
        list[str] | None,
        typer.Option(
            metavar="NAME=KIND", help='"NAME=KIND": another kind in its place.', show_default=False
        ),
    ] = None,
    remove: Annotated[
        list[str] | None,
        typer.Option(metavar="NAME", help="An accessory or a switch.", show_default=False),
    ] = None,
    switch: Annotated[
        list[str] | None,
        typer.Option(metavar="SWITCH", help="With --add: what works it.", show_default=False),
    ] = None,
    length: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="With --add: wire length one way.", show_default=False),
    ] = None,
    place: Annotated[
        str | None,
        typer.Option(metavar="PLACE", help="With --add: where it sits.", show_default=False),
    ] = None,
    power: Annotated[
        str | None,
        typer.Option(metavar="WATTS", help="With --add: power of each.", show_default=False),
    ] = None,
    current: Annotated[
        str | None,
        typer.Option(metavar="AMPERES", help="With --add: current of each.", show_default=False),
    ] = None,
    quantity: Annotated[
        int | None,
        typer.Option(metavar="N", help="With --add: how many.", min=1, show_default=False),
    ] = None,
    keep: Annotated[
        bool, typer.Option("--keep", help="Write the change into the plan (a .bak copy stays).")
    ] = False,
    json: AsJson = False,
) -> int:
    """Try changes on a plan: before and after.

    Verdict, first of the switch or accessory named, what changes, remedy. Several changes at once
    are one trial. The plan itself stays as it is, unless --keep is given.
    """
    options: dict[str, Value | None] = {
        "switch": switch, "length": length, "place": place, "power": power, "current": current,
        "quantity": None if quantity is None else str(quantity),
    }  # fmt: skip
    wishes = [("add", w) for w in add or ()] + [("change", w) for w in change or ()]
    wishes += [("swap", w) for w in swap or ()] + [("remove", w) for w in remove or ()]
    given = {k: _one(v) for k, v in options.items() if v is not None}
    _check(wishes, given)
    from circuitplan.planfile import read_plan, read_text
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner import study

    before_plan = read_plan(plan)
    before_text = plan_text(Path(plan))
    text = _applied(before_plan, before_text, wishes, given)
    before, after = study(before_plan), study(read_text(text, plan))
    words = [f"{verb} {what}" for verb, what in wishes]
    from circuitplan.cli.terminal.comparing import remedy_of, try_lines

    if keep:
        words += _kept(Path(plan), before_plan, text)
    if json:
        print_json(
            {
                "format": FORMAT, "answer": after.answer, "before": before, "after": after,
                "changes": words, "remedy": remedy_of(after),
            }
        )  # fmt: skip
    else:
        named = _named(after, before_plan, wishes, given)
        print_lines(try_lines(before, after, words, plan, named))
    return exit_code(after.answer)


def _one(value: Value) -> Value:
    """A list of one is that one."""
    return value[0] if isinstance(value, list) and len(value) == 1 else value


def _check(wishes: Sequence[tuple[str, str]], options: dict[str, Value]) -> None:
    if not wishes:
        allowed = "--add, --change, --swap, --remove"
        raise InputError([Problem("", "nothing to try", allowed, 'as --add "fridge" --length 4m')])
    adds = sum(1 for verb, _ in wishes if verb == "add")
    if options and adds != 1:
        names = ", ".join(f"--{key}" for key in options)
        raise InputError(
            [
                Problem(
                    names, f"with {adds} --add", "exactly one --add", "use --change for the others"
                )
            ]
        )


def _applied(
    plan: Plan, text: str, wishes: Sequence[tuple[str, str]], options: dict[str, Value]
) -> str:
    """The plan's text with the wishes in it, one after the other, each seeing those before."""
    from circuitplan.planfile import changes, read_text
    from circuitplan.planfile.edits import apply

    for number, (verb, words) in enumerate(wishes):
        if number:
            plan = read_text(text, plan.file)
        if verb == "add":
            edits = changes.add(plan, words, options)
        elif verb == "change":
            edits = changes.change(plan, words)
        elif verb == "swap":
            edits = changes.swap(plan, words)
        else:
            edits = changes.remove(plan, words)
        text = apply(text, edits)
    return text


def _named(
    after: Result, before: Plan, wishes: Sequence[tuple[str, str]], given: dict[str, Value]
) -> list[str]:
    """What the user named, and what was added, in that order; --switch before all."""
    switch = given.get("switch")
    names = [switch] if isinstance(switch, str) else [str(word) for word in switch or ()]
    known = {a.name for c in after.circuits for a in c.accessories} | {s.id for s in after.switches}
    for verb, words in wishes:
        if verb == "swap":
            names.append(words.partition("=")[0].strip())
        elif verb == "change":
            folded = " ".join(words.split()).casefold() + " "
            fits = [n for n in known if folded.startswith(n.casefold() + " ")]
            names += sorted(fits, key=len)[-1:]
        elif verb == "remove":
            switches = {a.name.casefold(): a.switches for a in before.accessories}
            names += switches.get(words.strip().casefold(), ())
    were = {a.name for a in before.accessories}
    names += [a.name for c in after.circuits for a in c.accessories if a.name not in were]
    return names


def _kept(path: Path, plan: Plan, text: str) -> list[str]:
    from circuitplan.planfile.saving import create_file, save_plan

    if path.suffix.casefold() in (".yaml", ".yml"):
        copy = save_plan(path, text, read_sha256=plan.sha256)
        return [f"written to {path}; the plan as it was is {copy}"]
    target = path.with_suffix(".yaml")
    create_file(target, text.encode("utf-8"))
    return [f"written to {target}; {path} is as it was"]
