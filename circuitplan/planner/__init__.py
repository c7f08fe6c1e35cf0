"""The whole story: a plan studied, one circuit sized without a file, time on a battery.

Names are fetched from their modules when they are first asked for, so that a command loads what it
needs and no more.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from circuitplan.planner.endurance import HoursAnswer, hours_by_figures, hours_of
    from circuitplan.planner.one_run import size_one
    from circuitplan.planner.size_forms import SizeAnswer, SizeRequest
    from circuitplan.planner.story import counted, design, study
    from circuitplan.planner.thinner import advised

__all__ = [
    "HoursAnswer",
    "SizeAnswer",
    "SizeRequest",
    "advised",
    "counted",
    "design",
    "hours_by_figures",
    "hours_of",
    "size_one",
    "study",
]

_HOME = {
    "HoursAnswer": "endurance",
    "SizeAnswer": "size_forms",
    "SizeRequest": "size_forms",
    "advised": "thinner",
    "counted": "story",
    "design": "story",
    "hours_by_figures": "endurance",
    "hours_of": "endurance",
    "size_one": "one_run",
    "study": "story",
}


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
