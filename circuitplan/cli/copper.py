"""``copper``: the sizes of all wires chosen together, by weight or by price, with proof."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example
from circuitplan.errors import InputError, Problem

if TYPE_CHECKING:
    from circuitplan.planner.measures import Purse


@example(
    "circuitplan copper examples/workboat.yaml",
    "circuitplan copper examples/rescue-pickup.yaml --keep",
    "circuitplan copper examples/workboat.yaml --prices examples/prices/wires.csv",
)
def copper(
    plan: PlanFile,
    by: Annotated[
        str | None,
        typer.Option(
            metavar="WHAT", help="weight, or price by a price list; weight if left out.",
            show_default=False,
        ),
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(
            metavar="FILE", show_default=False,
            help="Your price list, .csv or .xlsx, in place of the plan's: what, size, colour, per, "
            "price, currency.",
        ),
    ] = None,
    seconds: Annotated[
        float, typer.Option(metavar="S", help="Most time for one search.", min=0.1)
    ] = 30.0,
    keep: Annotated[
        bool, typer.Option("--keep", help="Write it into the plan (a .bak copy stays).")
    ] = False,
    json: AsJson = False,
) -> int:
    """Choose all wire sizes together: least copper, or cheapest.

    check sizes one wire after the other, with a fixed share of the drop for what several use.
    Here the shares are chosen too. Exact, and proven where it says so; the plan with the sizes
    in it is checked as a whole. Nothing is written without --keep.

    By price, wire costs what the price list has for its metre; a thicker wire may be the cheaper.
    A size without a price is not chosen. Terminals, fuses and labour are not counted.
    """
    from circuitplan.cli.searching import kept, too_late
    from circuitplan.cli.terminal.copper import as_data, copper_lines
    from circuitplan.planfile import read_plan
    from circuitplan.planfile.edits import apply
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner.copper import FORMAT, least

    read = read_plan(plan)
    text = plan_text(Path(plan))
    purse = _purse(plan, read.price_list, by, prices)
    try:
        found = least(read, text, plan, seconds, purse)
    except TimeoutError as late:
        return too_late(FORMAT, str(late), as_json=json)
    said: tuple[str, ...] = ()
    if keep:
        said = kept(Path(plan), read, apply(text, found.edits), bool(found.edits))
    if json:
        print_json(as_data(found, said))
    else:
        print_lines(copper_lines(found, said))
    return exit_code(found.answer)


def _purse(plan: str, named: str | None, by: str | None, prices: Path | None) -> Purse | None:
    """The price list to choose by, the option's before the plan's; None to choose by weight."""
    if by not in (None, "weight", "price"):
        raise InputError([Problem(f"--by {by}", f"'{by}'", "weight, price", "use one of these")])
    if by == "weight" and prices is not None:
        raise InputError([Problem(
            f"--by weight --prices {prices}", "prices, and a choice by weight", "",
            "say --by price, or leave --prices",
        )])
    if by != "price" and prices is None:
        return None
    file = prices or (Path(plan).with_name(named) if named is not None else None)
    if file is None:
        raise InputError([Problem(
            plan, "no price list to choose by",
            "a .csv or .xlsx with rows such as wire,2.5 mm2,,m,0.90,EUR below the heads "
            "what,size,colour,per,price,currency",
            "name it with --prices FILE, or in the plan: prices: FILE",
        )])
    from circuitplan.planfile.prices import read_prices
    from circuitplan.planner.measures import Purse

    return Purse(read_prices(file), str(file))
