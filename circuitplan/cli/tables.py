"""``tables``: the reference tables, the kinds, the sources, and formula against table."""

from __future__ import annotations

from typing import Annotated

import typer

from circuitplan.cli.answers import print_json, print_lines
from circuitplan.cli.options import AsJson, example


@example(
    "circuitplan tables",
    "circuitplan tables kinds",
    "circuitplan tables sources",
    "circuitplan tables deviations",
)
def tables(
    name: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="NAME",
            help="A table, or kinds, sources, deviations; kinds and a kind shows that one.",
            show_default=False,
        ),
    ] = None,
    json: AsJson = False,
) -> int:
    """Show the reference tables and their sources."""
    from circuitplan.cli.terminal import showing_tables as show

    words = [word.casefold() for word in name or []]
    if json:
        print_json(show.table_data(words))
    elif not words:
        print_lines(show.all_tables())
    elif words[0] == "kinds":
        print_lines(show.one_kind(" ".join(words[1:])) if words[1:] else show.kinds_list())
    elif words == ["sources"]:
        print_lines(show.sources())
    elif words == ["deviations"]:
        print_lines(show.deviations())
    else:
        print_lines(show.one_table("_".join(words)))
    return 0
