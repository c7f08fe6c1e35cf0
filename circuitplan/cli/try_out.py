"""``try``: what if? Before, after, verdict and remedy, without touching the plan."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
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
    from circuitplan.planfile.wishes.wish import Wish

FORMAT = "circuitplan try 1"


@example(
    "circuitplan try examples/owner.yaml move the camp lamps to switch 1",
    'circuitplan try examples/overloaded-compressor.yaml --change "S3 type relay"',
    'circuitplan try examples/workboat.yaml --add "work lamp" --switch S2',
    'circuitplan try examples/owners-list.csv --swap "Radio=usb socket"',
    "circuitplan try examples/owners-list.csv --remove Fridge",
)
def try_out(
    plan: PlanFile,
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="SENTENCE",
            help='In plain words: "swap the compressor for a twin-motor one on switch 3".',
            show_default=False,
        ),
    ] = None,
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

    In plain words, or by options. The verdict comes first, then what changes and the cheapest fix
    that passed when it was tried. Several changes at once are one trial. The plan itself stays as
    it is, unless --keep is given.
    """
    options: dict[str, Value | None] = {
        "switch": switch, "length": length, "place": place, "power": power, "current": current,
        "quantity": None if quantity is None else str(quantity),
    }  # fmt: skip
    wishes = [("add", w) for w in add or ()] + [("change", w) for w in change or ()]
    wishes += [("swap", w) for w in swap or ()] + [("remove", w) for w in remove or ()]
    given = {k: _one(v) for k, v in options.items() if v is not None}
    sentence = " ".join(words or ())
    _check(sentence, wishes, given)
    from circuitplan.planfile import read_plan, read_text
    from circuitplan.planfile.wishes.wish import Wish, applied, not_overruled
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner import study
    from circuitplan.planner.aside import Aside

    before_plan = read_plan(plan)
    meanwhile = Aside(lambda: study(before_plan, whole=json))
    before_text = plan_text(Path(plan), before_plan)
    asked = _understood(before_plan, sentence)
    asked += [Wish(verb, w, given if verb == "add" else {}) for verb, w in wishes]
    text = applied(before_plan, before_text, asked)
    after_plan = read_text(text, plan)
    from circuitplan.planner.mending import cheapest

    after = study(after_plan, whole=json)
    before = meanwhile.result()
    said = _said(asked)
    if text == before_text:
        said.append("the plan says all of this already: before and after are the same")
    if keep:
        said += _kept(Path(plan), before_plan, text)
    from circuitplan.cli.terminal import comparing

    if json:
        fix = None if after.answer == "ok" else cheapest(text, after_plan, after, before).fix
        print_json(
            {
                "format": FORMAT, "answer": after.answer, "before": before, "after": after,
                "changes": said, "remedy": comparing.remedy_of(after), "fix": fix,
            }
        )  # fmt: skip
        return exit_code(after.answer)
    named = _named(after, before, before_plan, asked, given)
    print_lines(comparing.verdict_lines(before, after, said, named))
    sys.stdout.flush()  # the answer stands while the search for a fix goes on
    if after.answer != "ok":
        search = cheapest(text, after_plan, after, before)
        still = not_overruled(before_plan, asked, search.fix.changes if search.fix else ())
        print_lines(comparing.fix_lines(search, asked, still, plan))
    print_lines(comparing.difference_lines(before_plan, before, after_plan, after, plan))
    return exit_code(after.answer)


def _understood(plan: Plan, sentence: str) -> list[Wish]:
    if not sentence:
        return []
    from circuitplan.planfile.wishes.sentence import understood

    return understood(plan, sentence)


def _said(wishes: Iterable[Wish]) -> list[str]:
    return [w.said() + (f" ({w.note})" if w.note else "") for w in wishes]


def _one(value: Value) -> Value:
    """A list of one is that one."""
    return value[0] if isinstance(value, list) and len(value) == 1 else value


def _check(sentence: str, wishes: Sequence[tuple[str, str]], options: dict[str, Value]) -> None:
    if not wishes and not sentence:
        allowed = "a sentence, or --add, --change, --swap, --remove"
        raise InputError(
            [Problem("", "nothing to try", allowed, 'as: add a fridge, 4 m; or --add "fridge"')]
        )
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


def _named(
    after: Result, was: Result, before: Plan, wishes: Sequence[Wish], given: dict[str, Value]
) -> list[str]:
    """What the user named, and what was added, in that order; a switch to add to before all."""
    names: list[str] = []
    for options in (given, *(w.options for w in wishes)):
        switch = options.get("switch")
        names += [switch] if isinstance(switch, str) else [str(word) for word in switch or ()]
    known = {a.name for c in after.circuits for a in c.accessories} | {s.id for s in after.switches}
    folded = {name.casefold(): name for name in known}
    for wish in wishes:
        if wish.verb == "swap":
            names.append(wish.words.partition("=")[0].strip())
        elif wish.verb == "change":
            text = " ".join(wish.words.split()).casefold() + " "
            fits = [n for n in known if text.startswith(n.casefold() + " ")]
            names += sorted(fits, key=len)[-1:]
            _, moved, home = text.strip().rpartition(" switch ")
            if moved and home in folded:  # the switch it moves to is what is asked about
                names.insert(0, folded[home])
        elif wish.verb == "remove":
            switches = {a.name.casefold(): a.switches for a in before.accessories}
            names += switches.get(wish.words.strip().casefold(), ())
    were = {a.name for c in was.circuits for a in c.accessories}
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
