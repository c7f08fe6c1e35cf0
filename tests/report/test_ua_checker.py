"""The tags of every PDF, judged by a checker of PDF/UA-1 that is not of this project (``pdfua``).

It knows 16 of the 106 rules that a program can judge, and says so itself; the rest is looked at in
``test_accessible``. No checker of PDF/A could be had.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main

pypdf = pytest.importorskip("pypdf")
pytestmark = pytest.mark.slow
EXAMPLES = Path(__file__).parents[2] / "examples"


def checked(path: Path) -> tuple[int, str]:
    """(exit code: 0 without findings, what it says)."""
    words = [sys.executable, "-m", "pdfua", "check", str(path)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


def printed(folder: Path, plan: str, only: str) -> Path:
    path = folder / f"{only or 'summary'}.pdf"
    main(["print", str(EXAMPLES / plan), *(["--only", only] if only else []), "-o", str(path)])
    return path


@pytest.mark.parametrize(
    ("plan", "only"),
    [("workboat.yaml", ""), ("rescue-pickup.yaml", "card"), ("market-van.yaml", "drawings"),
     ("service-truck.yaml", "test"), ("owner.yaml", "cuts")],
)
def test_nothing_is_found(tmp_path: Path, plan: str, only: str) -> None:
    code, said = checked(printed(tmp_path, plan, only))
    assert code == 0, said
    assert "PASS (no findings)" in said


@pytest.mark.parametrize("key", ["/Lang", "/MarkInfo", "/StructTreeRoot"])
def test_what_is_taken_away_is_missed(tmp_path: Path, key: str) -> None:
    """The checker does look: without these it is not content."""
    writer: Any = pypdf.PdfWriter(clone_from=printed(tmp_path, "owner.yaml", "card"))
    del writer.root_object[key]
    broken = tmp_path / "broken.pdf"
    writer.write(broken)
    code, said = checked(broken)
    assert code == 3, said
