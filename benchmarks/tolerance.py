"""How fast the tolerance study is: python benchmarks/tolerance.py [PLAN]

Three figures, each the best of several runs that take turns, for a machine is seldom quiet:

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

from circuitplan.design.tolerance_limits import Margins
from circuitplan.design.tolerance_points import SAMPLES, scramblings, seed_of
from circuitplan.planfile import read_plan
from circuitplan.planner import tolerance

RUNS = 5
SINGLE = 300
EXAMPLE = Path(__file__).parent.parent / "examples" / "rescue-pickup.yaml"

Operation = tuple[np.ufunc, str, tuple[Any, ...], tuple[int, ...], dict[str, Any]]


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
    tolerance.margins_at(margins, shares.view(Noted))
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


def seconds(task: Callable[[], object]) -> float:
    start = time.perf_counter()
    task()
    return time.perf_counter() - start


def main() -> None:
    plan = read_plan(sys.argv[1] if len(sys.argv) > 1 else str(EXAMPLE))
    imported = seconds(lambda: next(scramblings("0" * 64, 2, 4, 1)))
    margins, seed = tolerance.sized(plan), seed_of(plan)
    shares = next(scramblings(seed, len(margins.drawing.variables)))
    block = np.ascontiguousarray(shares[:, : tolerance.BLOCK])
    singles = [np.ascontiguousarray(shares[:, i : i + 1]) for i in range(SINGLE)]
    log = operations(margins, block)
    once = replay(log)
    blocks = SAMPLES // tolerance.BLOCK

    def numpy_alone() -> None:
        for _ in range(blocks):
            once()

    def one_by_one() -> None:
        for point in singles:
            tolerance.margins_at(margins, point)

    times: dict[str, list[float]] = {"study": [], "numpy": [], "loop": []}
    for _ in range(RUNS):
        times["study"].append(seconds(lambda: tolerance.study_margins(margins, seed)))
        times["numpy"].append(seconds(numpy_alone))
        times["loop"].append(seconds(one_by_one) * SAMPLES / SINGLE)
    best = {name: min(found) for name, found in times.items()}
    print(f"plan {plan.title}, {len(margins.drawing.variables)} variables, "
          f"{len(margins.limits)} limits, {SAMPLES} samples, best of {RUNS}")
    print(f"study                          {best['study']:8.2f} s (limit 2 s; "
          f"and once a process {imported:.2f} s to load scipy)")
    print(f"the same arithmetic in numpy   {best['numpy']:8.2f} s ({len(log)} operations a block)")
    print(f"ratio                          {best['study'] / best['numpy']:8.2f}   (limit 3)")
    print(f"plain loop of single solves    {best['loop']:8.1f} s (from {SINGLE} samples)")
    print(f"times faster than the loop     {best['loop'] / best['study']:8.0f}   (at least 20)")


if __name__ == "__main__":
    main()
