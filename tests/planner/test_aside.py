"""Work done beside the caller: the same value, the same error, and nothing printed twice."""

from __future__ import annotations

import os
import sys
import threading
from pathlib import Path

import pytest

from circuitplan.planfile import read_plan
from circuitplan.planner import study
from circuitplan.planner.aside import Aside


def test_a_study_made_aside_is_the_same() -> None:
    plan = read_plan(Path(__file__).parents[2] / "examples" / "owner.yaml")
    assert Aside(lambda: study(plan)).result() == study(plan)


def test_it_is_another_process_where_there_is_one_thread_and_a_second_core() -> None:
    cores = os.cpu_count() or 1
    alone = sys.platform == "linux" and threading.active_count() == 1 and cores > 1
    assert (Aside(os.getpid).result() != os.getpid()) == alone


def test_what_fails_aside_fails_here() -> None:
    def work() -> int:
        raise LookupError("not in the table")

    aside = Aside(work)
    with pytest.raises(LookupError, match="not in the table"):
        aside.result()


def test_a_process_that_comes_to_nothing_is_made_up_for() -> None:
    here = os.getpid()

    def work() -> int:
        if os.getpid() != here:
            os._exit(9)
        return 7

    assert Aside(work).result() == 7
