"""The whole story: a plan studied, one circuit sized without a file, time on a battery."""

from circuitplan.planner.endurance import HoursAnswer, hours_by_figures, hours_of
from circuitplan.planner.one_run import SizeAnswer, SizeRequest, size_one
from circuitplan.planner.study import counted, design, study

__all__ = [
    "HoursAnswer",
    "SizeAnswer",
    "SizeRequest",
    "counted",
    "design",
    "hours_by_figures",
    "hours_of",
    "size_one",
    "study",
]
