"""Texts that hold more than one number or meaning: wire sizes, fuses, duty."""

from __future__ import annotations

import re
from typing import NamedTuple

from circuitplan.units.quantities import UnitError, parse, tidy


class WireWords(NamedTuple):
    """A wire size; ``size`` None: a wire that is there and whose size nobody knows."""

    gauge: str
    size: str | None


class FuseWords(NamedTuple):
    """What a text says of a protective device."""

    rating_a: float | None = None
    type: str | None = None
    none: bool = False
    self_resetting: bool = False


class DutyWords(NamedTuple):
    """Short-time running: on for ``on_s`` in every ``period_s``."""

    on_s: float
    period_s: float


_METRIC = re.compile(r"(\d+(?:\.\d+)?)\s*(?:mm2|mm²|mm\^2|sq\.?\s*mm|qmm)\s*(class 5|iec)?", re.I)
_NUMBERED = re.compile(
    r"(?:(?P<before>awg|sae)\s*)?(?:#|no\.?\s*)?(?P<size>\d{1,2}|[1-4]/0|0{2,4})\s*"
    r"(?P<after>awg|sae|gauge|ga\.?)?", re.I,
)  # fmt: skip
_WIRE_ALLOWED = "a wire size as 2.5 mm2, 14 AWG, 14 SAE or 4/0 AWG, or 'unknown'"


def parse_wire(text: str, default_gauge: str = "metric") -> WireWords:
    """The gauge and size of a wire: ("metric", "2.5"), ("awg", "4/0"); size None for "unknown".

    ``default_gauge`` decides what a size without a word belongs to, and whether mm² is ``metric``
    or ``iec``. Whether such a size exists is for the tables to say.
    """
    plain = tidy(text)
    if plain.lower() == "unknown":
        return WireWords(default_gauge, None)
    shown = f"'{plain[:60]}'"
    if re.search(r"\d,\d", plain):
        raise UnitError(
            f"{shown}, with a comma in the number",
            _WIRE_ALLOWED,
            f"write {plain.replace(',', '.')[:40]}: a decimal point",
        )
    metric = _METRIC.fullmatch(plain)
    if metric:
        size = metric[1]
        size = size.rstrip("0").rstrip(".") if "." in size else size
        return WireWords("iec" if metric[2] or default_gauge == "iec" else "metric", size)
    numbered = _NUMBERED.fullmatch(plain)
    if numbered is None:
        dotted = re.fullmatch(r"[\d.]+\s*(mm)?", plain)
        remedy = (
            f"write {plain.removesuffix('mm').strip()} mm2" if dotted else "write number and unit"
        )
        raise UnitError(f"{shown}, which is no wire size", _WIRE_ALLOWED, remedy)
    word = (numbered["before"] or numbered["after"] or "").lower()
    size = numbered["size"]
    size = f"{len(size)}/0" if set(size) == {"0"} else size.lstrip("0")
    if word in ("awg", "sae"):
        return WireWords(word, size)
    if default_gauge in ("awg", "sae") and (word or "/0" in size):
        return WireWords(default_gauge, size)
    if "/0" in size and not word:
        return WireWords("awg", size)
    raise UnitError(
        f"{shown}, which may be AWG, SAE or mm²",
        _WIRE_ALLOWED,
        f"write {size} AWG, {size} SAE (thinner) or {size} mm2",
    )


_FUSE_TYPES = {
    "c": "C", "e": "E", "f": "F", "sf30": "SF30", "sf51": "SF51", "bolt in": "bolt-in",
    "bolted": "bolt-in", "class t": "class T", "t": "class T", "breaker": "breaker",
    "circuit breaker": "breaker", "output": "output",
}  # fmt: skip
_FUSE_ALLOWED = (
    "a rating as 40 A, with its type if known (C, E, F, SF30, SF51, bolt-in, class T, breaker, "
    "output): 40 A E; or none"
)
_RATING = re.compile(r"(?<![\w.,])[+-]?\d[\d.,]*\s*(?:A|amps?|amperes?)(?![A-Za-z])", re.IGNORECASE)


def parse_fuse(text: str) -> FuseWords:
    """A protective device: "40 A", "40 A E", "125 A class T", "40 A breaker", "none"."""
    plain = tidy(text)
    if plain.lower() == "none":
        return FuseWords(none=True)
    found = _RATING.search(plain)
    rating = parse(found[0], "current") if found else None
    if rating == 0.0:
        raise UnitError(f"'{plain[:60]}'", _FUSE_ALLOWED, "for no fuse at all, write none")
    rest = (plain[: found.start()] + " " + plain[found.end() :]) if found else plain
    words = rest.lower().replace("-", " ").replace("fuse", " ").replace("type ", " ").split()
    resets = " ".join(words[:2]) in ("self resetting", "auto reset")
    name = " ".join(words[2:] if resets else words)
    kind = _FUSE_TYPES.get(name.replace("sf ", "sf"), "breaker" if resets and not name else None)
    if name and kind is None:
        bare = rating is None and re.fullmatch(r"[\d.]+", plain)
        remedy = f"add the unit: {plain} A" if bare else "write the rating, then the type"
        what = ", a number without a unit" if bare else ""
        raise UnitError(f"'{plain[:60]}'{what}", _FUSE_ALLOWED, remedy)
    if rating is None and kind is None:
        raise UnitError(f"'{plain[:60]}'", _FUSE_ALLOWED, "give the rating")
    return FuseWords(rating, kind, self_resetting=resets)


_DUTY = re.compile(r"(.+?)\s+(?:(?:in|per|every|of)\s+(?:every\s+)?(.+)|on,?\s+(.+?)\s+off)", re.I)


def parse_duty(text: str) -> DutyWords:
    """Short-time running: "60 s in 10 min" or "60 s on, 9 min off". [s, s]"""
    plain = tidy(text)
    allowed = "a time on in a whole cycle, as 60 s in 10 min or 60 s on, 9 min off"
    match = _DUTY.fullmatch(plain)
    if match is None:
        raise UnitError(
            f"'{plain[:60]}'",
            allowed,
            "say how long it is on in each cycle (a pulsed load has 'dimmed: 40 %')",
        )
    on_s = parse(match[1], "time")
    period_s = parse(match[2], "time") if match[2] else on_s + parse(match[3], "time")
    if not 0 < on_s <= period_s:
        raise UnitError(
            f"'{plain[:60]}', on for longer than the cycle or not at all",
            allowed,
            "give the time on first, then the whole cycle",
        )
    return DutyWords(on_s, period_s)
