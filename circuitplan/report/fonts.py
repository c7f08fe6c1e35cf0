"""The typeface of all paper: measured for layout, cut down and embedded for print.

Source Sans (SIL Open Font License 1.1) comes as a Python package, so every machine sets the same
lines. Its default figures are of equal width, which columns of numbers need. The embedded cut is
named ``plan-sans`` because the licence reserves the font's own name for the unmodified files.
"""

from __future__ import annotations

import base64
import io
from functools import cache
from importlib import import_module
from importlib.resources import as_file, files
from typing import Any

FAMILY = "plan-sans"
CAP_HEIGHT_EM = 0.66  # read in the font's OS/2 table: sCapHeight 660 of 1000 units
_FACES = {400: "Regular", 600: "Semibold", 700: "Bold"}
_ALWAYS = "".join(map(chr, range(0x20, 0x7F))) + "²°×·•–−±≤≥√ΩΔθµ…’“”→½"


@cache
def _font(weight: int) -> Any:
    ttlib = import_module("fontTools.ttLib")
    source = files("font_source_sans_pro") / "files" / f"SourceSansPro-{_FACES[weight]}.ttf"
    with as_file(source) as path:
        return ttlib.TTFont(io.BytesIO(path.read_bytes()), lazy=True, recalcTimestamp=False)


@cache
def _advances(weight: int) -> dict[str, float]:
    font = _font(weight)
    units = font["head"].unitsPerEm
    metrics = font["hmtx"]
    return {chr(code): metrics[name][0] / units for code, name in font.getBestCmap().items()}


def width_mm(text: str, size_mm: float, weight: int = 400) -> float:
    """Width of ``text`` [mm] set at ``size_mm`` em [mm]; a glyph not in the font counts 1 em."""
    advances = _advances(weight)
    return size_mm * sum(advances.get(char, 1.0) for char in text)


def wrap(text: str, size_mm: float, room_mm: float, weight: int = 400) -> tuple[str, ...]:
    """Break ``text`` into lines no wider than ``room_mm`` [mm], at blanks where it can."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        trial = f"{line} {word}".strip()
        if width_mm(trial, size_mm, weight) <= room_mm:
            line = trial
            continue
        if line:
            lines.append(line)
        while width_mm(word, size_mm, weight) > room_mm and len(word) > 1:
            keep = len(word) - 1
            while keep > 1 and width_mm(word[:keep], size_mm, weight) > room_mm:
                keep -= 1
            lines.append(word[:keep])
            word = word[keep:]
        line = word
    return (*lines, line) if line else tuple(lines)


@cache
def _cut(weight: int, characters: str) -> str:
    subset = import_module("fontTools.subset")
    options = subset.Options(
        layout_features=["kern"],
        name_IDs=[],
        notdef_outline=True,
        hinting=False,
        flavor="woff2",
        recalc_timestamp=False,
    )
    options.drop_tables += ["GSUB", "DSIG", "GDEF"]
    _font.cache_clear()  # the cut changes the font it is made from
    font = _font(weight)
    subsetter = subset.Subsetter(options)
    subsetter.populate(text=characters)
    subsetter.subset(font)
    for name_id, words in ((1, FAMILY), (2, _FACES[weight]), (4, FAMILY), (6, FAMILY)):
        font["name"].setName(words, name_id, 3, 1, 0x409)
    font.flavor = "woff2"
    target = io.BytesIO()
    font.save(target)
    _font.cache_clear()
    return base64.b64encode(target.getvalue()).decode("ascii")


def face_rules(text: str, weights: tuple[int, ...] = (400, 600)) -> str:
    """CSS ``@font-face`` rules that hold every character of ``text`` that the font has."""
    known = _advances(weights[0]).keys()
    characters = "".join(sorted({*_ALWAYS, *(c for c in text if c in known)}))
    return "\n".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {weight}; font-style: normal; '
        f'src: url("data:font/woff2;base64,{_cut(weight, characters)}") format("woff2"); }}'
        for weight in weights
    )
