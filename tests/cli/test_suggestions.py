"""A word that is no command leads to the right one, with the user's own words in it."""

from __future__ import annotations

import shlex
from typing import Any

import pytest

from circuitplan.cli.app import NAMES
from circuitplan.cli.suggestions import suggestion


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("fridge", "hours --kind fridge --battery 95Ah"),
        ("twin-motor compressor", "size --kind 'twin-motor compressor' --length 5m"),
        ("add winch", "try plan.yaml --add winch"),
        ("add truck.yaml led bar", "try truck.yaml --add 'led bar'"),
        ("swap the fridge for a cooler", "try plan.yaml 'swap the fridge for a cooler'"),
        ("move truck.yaml Fridge to S1", "try truck.yaml 'move Fridge to S1'"),
        ("remove Winch", "try plan.yaml --remove Winch"),
        ("set Fridge size 6 mm2", "try plan.yaml --change 'Fridge size 6 mm2'"),
        ("fuse", "size --current 20A --length 5m"),
        ("fuse 15A 3m", "size --current 15A --length 3m"),
        ("gauge 100W 25ft 3% 24V", "size --power 100W --drop 3% --system 24V --length 25ft"),
        ("fuse 20 A 5 m 14 AWG", "size --wire 14AWG --current 20A --length 5m"),
        ("winch 4m", "size --kind winch --length 4m"),
        ("truck.yaml", "check truck.yaml"),
        ("truck.yaml Fridge", "check truck.yaml Fridge"),
        ("chek truck.yaml", "check truck.yaml"),
        ("pdf truck.yaml", "print truck.yaml"),
        ("D01", "explain D01"),
        ("g07", "explain G07"),
        ("new", "begin my-plan.yaml"),
        ("overnight", "hours --kind fridge --battery 95Ah"),
        ("why D01", "explain D01"),
        ("save truck.yaml", "keep truck.yaml"),
        ("qwertz", "--help"),
    ],
)
def test_the_right_command_is_named(typed: str, meant: str) -> None:
    assert suggestion(shlex.split(typed)) == f"circuitplan {meant}"


def test_it_is_said_and_not_done(run: Any) -> None:
    answer = run("fridge")
    assert answer.code == 2
    assert answer.lines[0] == "CANNOT SAY: 'fridge' is not a command"
    assert answer.lines[1].strip() == (
        "did you mean: circuitplan hours --kind fridge --battery 95Ah"
    )
    assert run("fridge", "--json").data["errors"][0]["remedy"].endswith("--battery 95Ah")


@pytest.mark.parametrize("typed", ["fridge", "fuse 15A 3m", "winch 4m", "D01", "kinds"])
def test_what_is_suggested_works(run: Any, typed: str) -> None:
    words = shlex.split(suggestion(shlex.split(typed)))[1:]
    assert words[0] in NAMES
    assert run(*words).code in (0, 1)
