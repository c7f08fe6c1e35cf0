"""Cold ``try`` and ``compare`` as processes, against ``check`` of the same plan.

Both design two plans, one of them in a process of its own: by the clock, and in processor time
(user and system, of all processes). Medians of pairs taken in turn; judges nothing.
Run: python benchmarks/cold_try.py [PLAN]
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TIMES = 7
TRIALS = {
    "examples/rescue-pickup.yaml": ("a trial that holds", "rescue radio 6 mm2"),
    "examples/owner.yaml": ("a trial that holds", "move the camp lamps to switch 1"),
    "examples/overloaded-compressor.yaml": ("a trial with a search for a fix", "compressor 4 m"),
}


def seconds(*words: str) -> tuple[float, float]:
    """One command by the clock, and in processor time [s]; stops if it could not answer."""
    start, before = time.perf_counter(), os.times()
    run = subprocess.run(
        [sys.executable, "-m", "circuitplan", *words], cwd=ROOT, capture_output=True, check=False
    )
    wall, after = time.perf_counter() - start, os.times()
    if run.returncode not in (0, 1):
        sys.exit(run.stdout.decode() + run.stderr.decode())
    return wall, (after.children_user - before.children_user) + (
        after.children_system - before.children_system
    )


def measured(name: str, words: Sequence[str], check: Sequence[str]) -> None:
    """Print the medians of a command and of ``check``, and of the ratios of the pairs."""
    seconds(*words), seconds(*check)  # byte code and disk cache
    pairs = [(seconds(*words), seconds(*check)) for _ in range(TIMES)]
    for kind, which in (("by the clock", 0), ("processor", 1)):
        ratio = statistics.median(a[which] / b[which] for a, b in pairs)
        mine, theirs = (statistics.median(one[which] for one in side)
                        for side in zip(*pairs, strict=True))
        print(
            f"{name}: {kind} {mine:.3f} s, check {theirs:.3f} s; {ratio:.2f} of one check "
            f"(medians of {TIMES} pairs)", flush=True,
        )


def main() -> None:
    """Measure each example, or the one given."""
    plans = sys.argv[1:] or list(TRIALS)
    for plan in plans:
        kind, words = TRIALS.get(plan, ("a trial", "practice general"))
        check = ("check", plan)
        measured(f"try {plan}, {kind}", ("try", plan, words), check)
        with tempfile.TemporaryDirectory() as folder:
            copy = Path(folder) / Path(plan).name
            text = (ROOT / plan).read_text("utf-8")
            copy.write_text("# the next revision\n" + text, "utf-8")
            measured(f"compare {plan}, remarks alone", ("compare", plan, str(copy)), check)
            if "length: 3 m" in text or "length: 2 m" in text or "length: 5 m" in text:
                for given in ("2 m", "3 m", "5 m"):
                    text = text.replace(f"length: {given}", f"length: {given[0]}.5 m", 1)
                copy.write_text(text, "utf-8")
                measured(f"compare {plan}, a length", ("compare", plan, str(copy)), check)


if __name__ == "__main__":
    main()
