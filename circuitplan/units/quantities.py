"""The one registry of units, and text to a plain float in the unit its dimension is kept in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache

import pint

from circuitplan.units.showing import show

# Only what the trade writes: the full list of pint costs a hundred times more to build.
# Inch and foot: international yard and pound agreement of 1959, exact.
# Kilogram-force, pound-force: NIST SP 811, appendix B.8.
# Horsepower: 550 ft lbf/s (NIST SP 811, appendix B.8).
_DEFINITIONS = """\
milli- = 1e-3 = m-
micro- = 1e-6 = µ-
centi- = 1e-2 = c-
kilo- = 1e3 = k-
metre = [length] = m
second = [time] = s
ampere = [current] = A
gram = [mass] = g
kelvin = [temperature] = K
minute = 60 * second = min
hour = 60 * minute = h
day = 24 * hour = d
newton = kilogram * metre / second ** 2 = N
kilogram_force = 9.80665 * newton
pound_force = 4.4482216152605 * newton
watt = kilogram * metre ** 2 / second ** 3 = W
volt = watt / ampere = V
ohm = volt / ampere = Ω
inch = 0.0254 * metre = in
foot = 12 * inch = ft
horsepower = 745.6998715822702 * watt = hp
turn = []
percent = 0.01 = %
degree_Celsius = kelvin; offset: 273.15 = degC
degree_Fahrenheit = 5 / 9 * kelvin; offset: 233.15 + 200 / 9 = degF
"""


class UnitError(ValueError):
    """A text that is not the quantity asked for: what was found, what is allowed, what to do."""

    def __init__(self, found: str, allowed: str, remedy: str) -> None:
        self.found, self.allowed, self.remedy = found, allowed, remedy
        super().__init__(f"{found}; allowed: {allowed}; {remedy}")


@dataclass(frozen=True, slots=True)
class Dimension:
    """A sort of quantity: ``unit`` it is kept in (pint), how that is written, words, bounds.

    ``most`` is far above anything on a vehicle: what lies beyond is a slip of the pen.
    """

    name: str
    unit: str
    symbol: str
    examples: str
    words: dict[str, str]  # as written -> pint expression
    most: float
    least: float = 0.0


def _words(**units: str) -> dict[str, str]:
    return {word: unit for unit, words in units.items() for word in words.split()}


_LENGTH = _words(
    metre="m metre metres meter meters", centimetre="cm", millimetre="mm MM",
    inch="in in. inch inches \" ″", foot="ft ft. foot feet ' ′",
)  # fmt: skip
_TIME = _words(
    millisecond="ms", second="s sec secs second seconds", minute="min mins minute minutes",
    hour="h hr hrs hour hours", day="d day days",
)  # fmt: skip

_AREA = _words(**{"mm**2": "mm2 mm² mm^2 sqmm sq.mm qmm"})
_SPEED = _words(**{"turn/minute": "r/min rpm rev/min 1/min min-1"})

DIMENSIONS: dict[str, Dimension] = {
    dimension.name: dimension
    for dimension in (
        Dimension("current", "ampere", "A", "40 A, 0.5 A or 35 mA", _words(
            ampere="A amp amps ampere amperes", milliampere="mA", kiloampere="kA"), 50_000.0),
        Dimension("voltage", "volt", "V", "12 V or 10.5 V", _words(
            volt="V volt volts", millivolt="mV", kilovolt="kV"), 100_000.0),
        Dimension("power", "watt", "W", "45 W or 1.2 kW", _words(
            watt="W watt watts", milliwatt="mW", kilowatt="kW", horsepower="hp"), 200_000.0),
        Dimension("resistance", "ohm", "Ω", "5 mΩ, 5 mohm or 60 ohm", _words(
            ohm="Ω ohm ohms", milliohm="mΩ mohm mohms milliohm milliohms",
            microohm="µΩ uΩ µohm uohm", kiloohm="kΩ kohm"), 1e7),
        Dimension("length", "metre", "m", "4.2 m, 85 cm, 14 in, 7.5 ft or 7' 6\"", _LENGTH, 500.0),
        Dimension("diameter", "millimetre", "mm", "3 mm or 0.125 in", _LENGTH, 100.0),
        Dimension("area", "mm**2", "mm²", "2.5 mm2 or 2.5 mm²", _AREA, 1000.0),
        Dimension("temperature", "degree_Celsius", "°C", "85 °C, 85 C or 185 F", _words(
            degree_Celsius="°C C degC celsius", degree_Fahrenheit="°F F degF fahrenheit",
            kelvin="K kelvin"), 400.0, -90.0),
        Dimension("time", "second", "s", "60 s, 4 min or 3 h", _TIME, 366 * 86400.0),
        Dimension("charge", "ampere*hour", "Ah", "95 Ah", {
            "Ah": "ampere*hour", "amphours": "ampere*hour", "amphour": "ampere*hour",
            "A·h": "ampere*hour", "mAh": "milliampere*hour"}, 50_000.0),
        Dimension("speed", "turn/minute", "r/min", "1500 r/min or 1500 rpm", _SPEED, 1e5),
        Dimension("force", "newton", "N", "20 kN, 2000 kgf or 4500 lbf", _words(
            newton="N newton newtons", kilonewton="kN", kilogram_force="kgf kp",
            pound_force="lbf lb lbs"), 1e6),
        Dimension("percent", "percent", "%", "3 %", _words(
            percent="% percent pct"), 1e4),
    )
}  # fmt: skip

_SPELLINGS = str.maketrans({
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2212": "-", "’": "'", "‘": "'", "′": "'",
    "”": '"', "“": '"', "″": '"', "\u03bc": "\u00b5", "\u2126": "Ω", "º": "°", "˚": "°",
})  # fmt: skip
_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_SINGLE = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
_PIECE = re.compile(rf"\s*({_NUMBER})\s*([^\d\s.+-]+)\.?,?")
_FRACTION = re.compile(
    r"(?:(\d+)[ -])?\s*(\d+)\s*/\s*(\d+)\s*(in\.?|inch|inches|ft\.?|foot|feet|\"|')"
)
_NOT_A_NUMBER = re.compile(r"[+-]?(nan|inf|infinity|∞)\b", re.IGNORECASE)


@cache
def registry() -> pint.UnitRegistry[Decimal]:
    """The registry; decimal numbers inside, so that 14 in is 0.3556 m exactly."""
    found: pint.UnitRegistry[Decimal] = pint.UnitRegistry(None, non_int_type=Decimal)
    found.load_definitions(_DEFINITIONS.splitlines())
    return found


def tidy(text: str) -> str:
    """``text`` with one spelling for spaces, minus, prime, micro, ohm and degree signs."""
    return " ".join(text.translate(_SPELLINGS).replace("''", '"').split())


@lru_cache(maxsize=4096)
def parse(text: str, dimension: str) -> float:
    """``text`` as a float in the unit of ``dimension`` (a name of ``DIMENSIONS``).

    Raises ``UnitError`` for a bare number, another dimension, a comma in the number, a negative
    number (temperatures excepted), NaN, infinity, or a number beyond all reason.
    """
    kind = DIMENSIONS[dimension]
    allowed = f"{_article(kind)} with its unit, as {kind.examples}"
    plain = tidy(text)
    shown = f"'{plain[:60]}'"
    if not plain:
        raise UnitError("nothing", allowed, "give a value")
    if _NOT_A_NUMBER.match(plain):
        raise UnitError(f"{shown}, which is no number", allowed, "give the number")
    if re.search(r"\d,\d", plain):
        point = re.sub(r"(?<=\d),(?=\d)", ".", plain)
        bare = re.sub(r"(?<=\d),(?=\d)", "", plain)
        raise UnitError(
            f"{shown}, with a comma in the number",
            allowed,
            f"write {point[:40]}"
            + (f" (or {bare[:40]})" if re.search(r"\d,\d{3}(?!\d)", plain) else "")
            + ": a decimal point, no thousands mark",
        )
    value = _amount(plain, kind, allowed, shown)
    if value < kind.least:
        what = "negative" if kind.least == 0 else "too cold"
        raise UnitError(f"{shown}, which is {what}", allowed, "check the sign and the number")
    if not value <= kind.most:
        raise UnitError(
            f"{shown}, beyond anything on a vehicle",
            f"at most {show(kind.most, kind.symbol)}",
            "check the number and its unit",
        )
    return value


def _amount(plain: str, kind: Dimension, allowed: str, shown: str) -> float:
    fraction = _FRACTION.fullmatch(plain) if kind.words is _LENGTH else None
    if fraction and int(fraction[3]):
        whole, above, below, unit = fraction.groups()
        return float(_kept(Decimal(whole or 0) + Decimal(above) / Decimal(below), unit, kind))
    single = _SINGLE.fullmatch(plain)
    if single is None:
        raise UnitError(
            f"{shown}, which does not begin with a number",
            allowed,
            "write the number, then its unit",
        )
    number, word = single.groups()
    if not word:
        first = kind.examples.split()[1].rstrip(",")
        raise UnitError(
            f"{shown}, a number without a unit",
            allowed,
            f"add the unit, for instance {plain} {first}",
        )
    if _unit(word, kind):
        return float(_kept(Decimal(number), word, kind))
    pieces = _pieces(plain, kind)
    if pieces:
        return float(sum((_kept(Decimal(n), w, kind) for n, w in pieces), Decimal(0)))
    raise _wrong_unit(word, kind, allowed, shown)


def _pieces(plain: str, kind: Dimension) -> list[tuple[str, str]]:
    """The parts of 7' 6" or 1 h 30 min, each unit smaller than the one before; else nothing."""
    if kind.words is not _LENGTH and kind.words is not _TIME:
        return []
    found = [(piece[1], piece[2]) for piece in _PIECE.finditer(plain)]
    units = [_unit(word, kind) for _, word in found]
    whole = "".join(piece[0] for piece in _PIECE.finditer(plain))
    falling = [
        ["foot", "inch"],
        ["hour", "minute"],
        ["minute", "second"],
        ["hour", "minute", "second"],
        ["metre", "centimetre"],
    ]
    if whole != plain or units not in falling or any(n.startswith(("+", "-")) for n, _ in found):
        return []
    return found


def _unit(word: str, kind: Dimension) -> str | None:
    """The pint unit meant by ``word``; capitals forgiven where no prefix could change meaning."""
    plain = word.replace(" ", "").removeprefix("deg") if kind.name == "temperature" else word
    for attempt in (word, plain, word.replace(" ", ""), word.rstrip(".")):
        if attempt in kind.words:
            return kind.words[attempt]
    low = word.replace(" ", "").lower()
    matches = {unit for known, unit in kind.words.items() if known.lower() == low}
    if len(matches) == 1 and not (word[0] == "M" and low[0] == "m" and len(low) <= 3):
        return matches.pop()
    if kind.words is _LENGTH and word == "M":
        return "metre"
    if kind.words is _TIME and low == "min":
        return "minute"
    return None


def _kept(number: Decimal, word: str, kind: Dimension) -> Decimal:
    unit = _unit(word, kind) or ""
    if unit == kind.unit:
        return number
    if kind.name == "temperature":
        result: Decimal = registry().Quantity(number, unit).to(kind.unit).magnitude
        return result
    return number * _factor(unit, kind.unit)


@cache
def _factor(unit: str, target: str) -> Decimal:
    factor: Decimal = registry().Quantity(Decimal(1), unit).to(target).magnitude
    return factor


def _wrong_unit(word: str, kind: Dimension, allowed: str, shown: str) -> UnitError:
    for other in DIMENSIONS.values():
        if _unit(word, other) and other.words is not kind.words:
            return UnitError(f"{shown}, {_article(other)}", allowed, f"give {_article(kind)}")
    if re.fullmatch(r"\s*(-|–|to|\.\.+)\s*\d.*", word):
        return UnitError(f"{shown}, a range", allowed, "give one value, on the safe side")
    from difflib import get_close_matches

    small = "m" + word[1:]  # MA: mA is nearer than A
    near = [small] if small in kind.words else get_close_matches(word, kind.words, 1, 0.5)
    hint = f"did you mean {near[0]}?" if near else "use one of these units"
    return UnitError(f"{shown}, with the unknown unit '{word[:20]}'", allowed, hint)


def _article(kind: Dimension) -> str:
    return f"{'an' if kind.name[0] in 'aeiou' else 'a'} {kind.name}"


def knows(word: str, dimension: str) -> bool:
    """Whether ``word`` is a unit of ``dimension``."""
    return bool(word) and _unit(tidy(word), DIMENSIONS[dimension]) is not None


def parse_length(text: str) -> float:
    """A length in metres. [m]"""
    return parse(text, "length")
