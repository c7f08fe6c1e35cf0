"""The commands, in the order in which a job meets them."""

from __future__ import annotations

from importlib import import_module
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

import circuitplan

# name -> module and function; a module is imported only when its command, or the help, is asked for
_COMMANDS = {
    "begin": ("begin", "begin"),
    "check": ("check", "check"),
    "print": ("printout", "print_plan"),
    "size": ("size", "size"),
    "wire": ("wire", "wire"),
    "hours": ("hours", "hours"),
    "try": ("try_out", "try_out"),
    "keep": ("keep", "keep"),
    "explain": ("explain", "explain"),
    "tables": ("tables", "tables"),
    "assign": ("assign", "assign"),
    "copper": ("copper", "copper"),
    "test": ("test", "judge_readings"),
    "compare": ("compare", "compare"),
}
NAMES = tuple(_COMMANDS)


class _Commands(TyperGroup):
    """Leads a word that is no command to the right one."""

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        if args and args[0] not in NAMES and not args[0].startswith("-"):
            from circuitplan.cli.suggestions import not_a_command

            raise not_a_command(args)
        return super().resolve_command(ctx, args)

    def list_commands(self, ctx: Any) -> list[str]:
        return [name for name in NAMES if name in self.commands]


def _version(wanted: bool) -> None:
    if wanted:
        print(f"circuitplan {circuitplan.__version__}")
        raise typer.Exit


def _top(
    ctx: typer.Context,
    version: Annotated[
        bool,
        typer.Option("--version", help="Print the version.", callback=_version, is_eager=True),
    ] = False,
) -> None:
    """Plan the electrics of accessories on vehicles and small craft.

    Which switch works what, current, wire, fuse, relay, alternator margin, battery time. The
    first line of every answer is OK, NOT OK or CANNOT SAY, and why. Exit code: 0 every limit
    met, 1 one not met or not shown to be met, 2 the input cannot be used.

    Local codes, the vehicle and accessory makers' instructions and licensed practice take
    precedence.
    """
    if ctx.invoked_subcommand is None:
        print(ctx.get_help())


def program(first_word: str | None = None) -> Any:
    """The command line, ready to run: that one command alone, or all if it is none of them."""
    app = typer.Typer(
        cls=_Commands,
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
    )
    app.callback(
        invoke_without_command=True,
        epilog="\b\nExamples:\n  circuitplan begin my-truck.yaml --system 12V\n"
        "  circuitplan check examples/rescue-pickup.yaml\n"
        "  circuitplan size --current 20A --length 25ft",
    )(_top)
    for name in [first_word] if first_word in _COMMANDS else NAMES:
        function = _function(name)
        app.command(name, epilog=_examples(function))(function)
    return typer.main.get_command(app)


def _function(name: str) -> Any:
    module, function = _COMMANDS[name]
    return getattr(import_module(f"circuitplan.cli.{module}"), function)


def _examples(function: Any) -> str:
    lines = "\n".join(f"  {line}" for line in function.examples)
    return f"\b\nExample{'s' if len(function.examples) > 1 else ''}:\n{lines}"
