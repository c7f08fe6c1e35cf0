"""The PDF keeps its own plan and result: taken out again, they give the same result."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import zlib
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


def test_says_what_it_is(printed: Path) -> None:
    """ISO 19005-3 level A and ISO 14289-1 in the metadata, colours defined, files related."""
    data = (printed / "card.pdf").read_bytes()
    assert re.match(rb"%PDF-1\.7", data)
    assert b"/GTS_PDFA1" in data or b"/OutputIntents" in data
    assert b"/AFRelationship /Source" in data
    assert b"/AFRelationship /Data" in data
    packet = _packet(data)
    whole = packet[packet.index(b"<x:xmpmeta") : packet.index(b"<?xpacket e")]
    root = ElementTree.fromstring(whole)
    flat = ElementTree.tostring(root, encoding="unicode")
    assert re.search(r'part="3"', flat)
    assert re.search(r'conformance="A"', flat)
    assert re.search(r"pdfua/ns/id/", flat)


def _packet(data: bytes) -> bytes:
    if b"<x:xmpmeta" in data:
        return data[data.index(b"<x:xmpmeta") : data.index(b'<?xpacket end="r"?>') + 30]
    for part in re.findall(rb"stream\r?\n(.*?)\r?\nendstream", data, re.DOTALL):
        try:
            text = zlib.decompress(part)
        except zlib.error:
            continue
        if b"<x:xmpmeta" in text:
            return text
    raise AssertionError("no metadata")
