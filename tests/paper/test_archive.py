"""The PDF keeps its own plan and result: taken out again, they give the same result."""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest

from circuitplan.cli import main

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("pdfdetach") is None, reason="no poppler-utils"),
]
EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("archive")
    plan = folder / "owner.yaml"
    plan.write_bytes((EXAMPLES / "owner.yaml").read_bytes())
    main(["print", str(plan), "--only", "card", "-o", str(folder / "card.pdf")])
    return folder


def test_plan_and_result_come_back_byte_for_byte(
    printed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    subprocess.run(
        ["pdfdetach", "-saveall", "-o", str(tmp_path), str(printed / "card.pdf")], check=True
    )
    assert (tmp_path / "owner.yaml").read_bytes() == (printed / "owner.yaml").read_bytes()
    capsys.readouterr()
    main(["check", str(tmp_path / "owner.yaml"), "--json"])
    again: Any = json.loads(capsys.readouterr().out)
    assert json.loads((tmp_path / "owner-result.json").read_text(encoding="utf-8")) == again


CURVES = {
    "machine.csv": "shaft_rpm,output_a\n1500,60\n3000,110\n6000,125\n",
    "fuse.csv": "multiple,melts_s,clears_s\n1.35,60,1800\n2,1,30\n3.5,0.1,0.5\n6,0.03,0.1\n",
}


def test_files_that_the_plan_draws_in_are_kept_and_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    home, out = tmp_path / "home", tmp_path / "out"
    home.mkdir()
    out.mkdir()
    text = (EXAMPLES / "owner.yaml").read_text("utf-8")
    text = text.replace("alternator: 120 A", "alternator: {rated: 120 A, curve: machine.csv}")
    fused = "kind: fridge, fuse: {rating: 15 A, type: C, curve: fuse.csv}, "
    text = text.replace("kind: fridge, ", fused)
    plan = home / "owner.yaml"
    plan.write_text(text, "utf-8")
    for name, points in CURVES.items():
        (home / name).write_text(points, "utf-8")
    main(["print", str(plan), "--only", "card", "-o", str(home / "card.pdf")])
    subprocess.run(["pdfdetach", "-saveall", "-o", str(out), str(home / "card.pdf")], check=True)
    for name in CURVES:
        assert (out / name).read_bytes() == (home / name).read_bytes()
    kept = json.loads((out / "owner-result.json").read_text("utf-8"))
    wanted = {
        name: hashlib.sha256((out / name).read_bytes()).hexdigest() for name in sorted(CURVES)
    }
    assert {f["name"]: f["sha256"] for f in kept["plan"]["files"]} == wanted
    capsys.readouterr()
    main(["check", str(out / "owner.yaml"), "--json"])
    assert json.loads(capsys.readouterr().out) == kept
    # another curve of the same name is another fingerprint
    (out / "machine.csv").write_text(CURVES["machine.csv"].replace("125", "126"), "utf-8")
    main(["check", str(out / "owner.yaml"), "--json"])
    again = json.loads(capsys.readouterr().out)
    assert again["plan"]["sha256"] == kept["plan"]["sha256"]
    assert again["plan"]["files"] != kept["plan"]["files"]
    main(["compare", str(plan), str(out / "owner.yaml"), "--json"])
    changed = json.loads(capsys.readouterr().out)["changed"]
    assert "file machine.csv" in {c["what"] for c in changed if c["sort"] == "plan"}


def test_says_what_it_is(printed: Path) -> None:
    """ISO 19005-3 level A and ISO 14289-1 in the metadata, colours defined, files related."""
    data = (printed / "card.pdf").read_bytes()
    assert data.startswith(b"%PDF-1.7")
    inside = b"\n".join([data, *_streams(data)])
    assert b"/GTS_PDFA1" in inside
    assert b"/AFRelationship/Source" in inside.replace(b" ", b"")
    assert b"/AFRelationship/Data" in inside.replace(b" ", b"")
    assert b"/Marked true" in inside
    packet = inside[inside.index(b"<x:xmpmeta") : inside.index(b'<?xpacket end="r"?>')]
    flat = ElementTree.tostring(ElementTree.fromstring(packet), encoding="unicode")
    assert 'part="3"' in flat
    assert 'conformance="A"' in flat
    assert re.search(r"part>1</", flat)
    assert "pdfua/ns/id/" in flat


def _streams(data: bytes) -> Iterator[bytes]:
    """Every stream of the file, unpacked where it is packed."""
    for part in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", data, re.DOTALL):
        try:
            yield zlib.decompress(part)
        except zlib.error:
            continue
