"""Print to PDF: ``circuitplan print`` as a process, against WeasyPrint alone on the same HTML.

Prints medians and their ratio; judges nothing. Run: python benchmarks/pdf.py [PLAN]
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
TIMES = 3
ALONE = (
    "import sys, weasyprint; "
    "weasyprint.HTML(sys.argv[1]).write_pdf(sys.argv[2], pdf_variant='pdf/ua-1')"
)


def seconds(*arguments: str) -> float:
    """Wall time of one process of this interpreter [s]; stops if it could not write its file."""
    begin = time.perf_counter()
    run = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, check=False)
    taken = time.perf_counter() - begin
    if run.returncode not in (0, 1):
        sys.exit(run.stderr.decode())
    return taken


def main() -> None:
    """HTML once; then each way to PDF in turn."""
    plan = sys.argv[1] if len(sys.argv) > 1 else "examples/rescue-pickup.yaml"
    with tempfile.TemporaryDirectory() as folder:
        html, pdf = str(Path(folder) / "plan.html"), str(Path(folder) / "plan.pdf")
        seconds("-m", "circuitplan", "print", plan, "-o", html)
        whole = ("-m", "circuitplan", "print", plan, "-o", pdf)
        alone = ("-c", ALONE, html, pdf)
        pairs = [(seconds(*whole), seconds(*alone)) for _ in range(TIMES)]
        size = Path(pdf).stat().st_size
    prints, renders = zip(*pairs, strict=True)
    print(f"print {plan} to PDF: median {statistics.median(prints):.2f} s of {TIMES}")
    print(f"WeasyPrint alone on the same HTML: median {statistics.median(renders):.2f} s, {size} B")
    print(f"ratio {statistics.median(prints) / statistics.median(renders):.2f}")


if __name__ == "__main__":
    main()
