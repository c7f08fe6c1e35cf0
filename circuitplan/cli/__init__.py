"""The command line: each command parses, calls one function, prints, and returns the exit code."""

from __future__ import annotations

import atexit
import gc
import os
import sys
from collections.abc import Sequence
from typing import cast

from circuitplan.cli.answers import CRASH, UNUSABLE, unusable
from circuitplan.errors import CircuitplanError, InputError, Problem


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program on ``arguments`` (default: those of the process); returns the exit code.

    Exit codes: 0 every limit met; 1 one not met or not shown to be met; 2 input unusable,
    nothing written; 3 a defect of circuitplan itself.
    """
    gc.set_threshold(100_000)  # a short run: looking for rings of garbage costs more than it frees
    atexit.register(gc.freeze)  # nor is there any use in a search of what ends with the process
    words = list(sys.argv[1:] if arguments is None else arguments)
    as_json = "--json" in words
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
    try:
        code = _run(words, as_json=as_json)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader (head, less) has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    return code


def _run(words: list[str], *, as_json: bool) -> int:
    import typer

    from circuitplan.cli.app import program

    # The parent of BadParameter; newer releases carry their own parser, so no other import fits.
    usage_error = cast("type[Exception]", typer.BadParameter.__mro__[1])
    try:
        code = program(words[0] if words else None).main(
            words, prog_name="circuitplan", standalone_mode=False
        )
    except InputError as error:
        return unusable(error.problems, as_json=as_json)
    except usage_error as error:
        return unusable([_usage(error)], as_json=as_json)
    except (CircuitplanError, OSError) as error:
        if isinstance(error, BrokenPipeError):
            raise
        return unusable([Problem("", str(error), "", "")], as_json=as_json)
    except (typer.Abort, KeyboardInterrupt):
        return unusable([Problem("", "stopped by you, nothing written", "", "")], as_json=as_json)
    except Exception as error:
        if os.environ.get("CIRCUITPLAN_TRACEBACK"):
            raise
        unusable([_defect(error)], as_json=as_json)
        return CRASH
    return code if isinstance(code, int) else 0


def _usage(error: BaseException) -> Problem:
    message = error.format_message() if hasattr(error, "format_message") else str(error)
    context = getattr(error, "ctx", None)
    command = context.command_path if context is not None else "circuitplan"
    return Problem("", message.rstrip("."), "", f"see {command} --help")


def _defect(error: Exception) -> Problem:
    return Problem(
        "",
        f"circuitplan itself failed, which is a defect: {type(error).__name__}: {error}",
        "",
        "report it with the plan; CIRCUITPLAN_TRACEBACK=1 shows where it happened",
    )


__all__ = ["CRASH", "UNUSABLE", "main"]
