"""Cold start: ``circuitplan check`` as a process, against bare imports of what it stands on.

Prints medians and their ratio; judges nothing. Run: python benchmarks/cold_check.py [PLAN]
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
IMPORTS = "import pint, typer, numpy, ruamel.yaml"
TIMES = 9


def seconds(*arguments: str) -> float:
    """Wall time of one process of this interpreter [s]; stops if it could not answer."""
    begin = time.perf_counter()
    run = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False)
    taken = time.perf_counter() - begin
    if run.returncode not in (0, 1):
        sys.exit(run.stderr.decode())
    return taken


def main() -> None:
    """Measure both in turn, so that a busy moment of the machine falls on both."""
    plan = sys.argv[1] if len(sys.argv) > 1 else "examples/rescue-pickup.yaml"
    check = ("-m", "circuitplan", "check", plan)
    bare = ("-c", IMPORTS)
    seconds(*check), seconds(*bare)  # byte code and disk cache
    pairs = [(seconds(*check), seconds(*bare)) for _ in range(TIMES)]
    checks, imports = zip(*pairs, strict=True)
    print(f"check {plan}: median {statistics.median(checks):.3f} s of {TIMES}, "
          f"{min(checks):.3f} to {max(checks):.3f}")
    print(f"{IMPORTS}: median {statistics.median(imports):.3f} s, "
          f"{min(imports):.3f} to {max(imports):.3f}")
    print(f"ratio {statistics.median(checks) / statistics.median(imports):.2f}")


if __name__ == "__main__":
    main()
