"""How fast the tolerance study is: python benchmarks/tolerance.py [PLAN]

Three figures, each the best of several runs that take turns, for a machine is seldom quiet (hence
the processor's own time beside that of the clock):

- the study of 131,072 samples;
- the plain numpy cost of the same arithmetic: every array operation that one block of the study
  makes is noted (which, on which shapes) and made again on ready arrays of these shapes, as often
  as the study has blocks. Making points, picking rows, and Python itself are left out of it;
- a plain loop that solves one sample after another, reckoned from a few hundred of them.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np

from circuitplan.design.tolerance.arrays import Incidence
from circuitplan.design.tolerance.limits import Margins
from circuitplan.design.tolerance.points import SAMPLES, scrambling, seed_of
from circuitplan.planfile import read_plan
from circuitplan.planner import tolerance

RUNS = 5
SINGLE = 300
EXAMPLE = Path(__file__).parent.parent / "examples" / "rescue-pickup.yaml"

Operation = tuple[Any, str, tuple[Any, ...], tuple[int, ...], dict[str, Any]]


class Noted(np.ndarray):
    """An array that notes every operation made with it."""

    log: list[Operation] = []  # noqa: RUF012

    def __array_ufunc__(self, ufunc: Any, method: str, *inputs: Any, **kwargs: Any) -> Any:
        plain = [x.view(np.ndarray) if isinstance(x, Noted) else x for x in inputs]
        outs = kwargs.pop("out", None)
        if outs is not None:
            kwargs["out"] = tuple(o.view(np.ndarray) if isinstance(o, Noted) else o for o in outs)
        found = getattr(ufunc, method)(*plain, **kwargs)
        kwargs.pop("out", None)
        shapes = tuple((x.shape, x.dtype.str) if isinstance(x, np.ndarray) and x.ndim else x
                       for x in plain)
        if method in ("__call__", "reduce"):
            Noted.log.append((ufunc, method, shapes, np.shape(found), kwargs))
        return found.view(Noted) if isinstance(found, np.ndarray) else found


def operations(margins: Margins, shares: np.ndarray) -> list[Operation]:
    """Every array operation of one block."""
    Noted.log = []
    product = Incidence.__matmul__

    def noted(self: Incidence, other: np.ndarray) -> np.ndarray:
        found = product(self, other.view(np.ndarray))
        Noted.log.append((self, "product", (other.shape,), found.shape, {}))
        return found.view(Noted)

    Incidence.__matmul__ = noted  # type: ignore[method-assign]
    try:
        tolerance.margins_at(margins, shares.view(Noted))
    finally:
        Incidence.__matmul__ = product  # type: ignore[method-assign]
    return Noted.log


def replay(log: list[Operation]) -> Callable[[], None]:
    """The same operations on ready arrays."""
    source = np.random.default_rng(1)
    ready: dict[tuple[Any, ...], np.ndarray] = {}

    def array(shape: tuple[int, ...], kind: str, use: int) -> np.ndarray:
        if (shape, kind, use) not in ready:
            ready[shape, kind, use] = source.uniform(0.2, 0.8, shape).astype(kind)
        return ready[shape, kind, use]

    calls: list[tuple[Any, tuple[Any, ...], dict[str, Any]]] = []
    for ufunc, method, shapes, out_shape, kwargs in log:
        if isinstance(ufunc, Incidence):
            calls.append((ufunc.__matmul__, (array(shapes[0], "f8", 0),), {}))
            continue
        inputs = tuple(
            array(*s, i) if isinstance(s, tuple) else s for i, s in enumerate(shapes)
        )
        typed = getattr(ufunc, method)(*inputs, **kwargs)
        key = (out_shape, np.asarray(typed).dtype.str)
        if key not in ready:
            ready[key] = np.empty(np.shape(typed), dtype=np.asarray(typed).dtype)
        calls.append((getattr(ufunc, method), inputs, {**kwargs, "out": ready[key]}))

    def run() -> None:
        for function, inputs, kwargs in calls:
            function(*inputs, **kwargs)

    return run


def seconds(task: Callable[[], object]) -> tuple[float, float]:
    """(clock, processor) seconds."""
    start = time.perf_counter(), time.process_time()
    task()
    return time.perf_counter() - start[0], time.process_time() - start[1]


def main() -> None:
    plan = read_plan(sys.argv[1] if len(sys.argv) > 1 else str(EXAMPLE))
    imported = seconds(lambda: scrambling("0" * 64, 2, 0, 4))
    margins, seed = tolerance.sized(plan), seed_of(plan)
    shares = scrambling(seed, len(margins.drawing.variables), 0)
    block = np.ascontiguousarray(shares[: tolerance.BLOCK].T)
    singles = [np.ascontiguousarray(shares[i : i + 1].T) for i in range(SINGLE)]
    log = operations(margins, block)
    once = replay(log)
    blocks = SAMPLES // tolerance.BLOCK

    def numpy_alone() -> None:
        for _ in range(blocks):
            once()

    def one_by_one() -> None:
        for point in singles:
            tolerance.margins_at(margins, point)

    tasks = {
        "study": lambda: tolerance.study_margins(margins, seed),
        "numpy": numpy_alone,
        "loop": one_by_one,
    }
    runs = [{name: seconds(task) for name, task in tasks.items()} for _ in range(RUNS)]
    clock, own = ({n: min(run[n][which] for run in runs) for n in tasks} for which in (0, 1))
    for found in (clock, own):
        found["loop"] *= SAMPLES / SINGLE
    print(f"{plan.title}: {len(margins.drawing.variables)} variables, {len(margins.limits)} "
          f"limits, {SAMPLES} samples, best of {RUNS}; loading scipy takes {imported[0]:.2f} s "
          "more, once a process")
    print(f"{'':34}{'clock':>9}{'processor':>11}")
    for name, words in (
        ("study", "study [s], limit 2"),
        ("numpy", f"numpy alone [s], {len(log)} calls a block"),
        ("loop", f"one by one [s], from {SINGLE}"),
    ):
        print(f"{words:34}{clock[name]:9.2f}{own[name]:11.2f}")
    for over, under, words in (
        ("study", "numpy", "study over numpy, limit 3"),
        ("loop", "study", "one by one over study, 20 at least"),
    ):
        print(f"{words:34}{clock[over] / clock[under]:9.2f}{own[over] / own[under]:11.2f}")


if __name__ == "__main__":
    main()
