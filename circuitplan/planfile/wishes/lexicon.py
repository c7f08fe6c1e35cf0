"""Words of a sentence: what to do, quantities with their units, numbers, small words."""

from __future__ import annotations

import re

from circuitplan.model.record import record

VERBS = {
    "add": "add fit install mount attach include connect buy",
    "remove": "remove delete drop without scrap omit cut",
    "swap": "swap replace exchange upgrade substitute",
    "move": "move shift put place hang relocate transfer rewire feed supply",
    "change": "change set make use give let raise lower increase reduce lengthen shorten thicken "
    "fuse run turn rate",
}
_PHRASES = (
    (r"(?:take|leave|pull) (?:out|off|away)", "remove"),
    (r"(?:get rid of|cut out)", "remove"),
    (r"switch(?= (?:the|my|our|all) )", "move"),
    (r"(?:take|leave|pull) (.+?) (?:out|off|away)$", r"remove \1"),
    (r"put in", "add"),
    (r"swap out", "swap"),
)
_LEAD_IN = re.compile(
    r"^(?:(?:please|try|what|happens|if|whether|how about|can|could|may|might|shall|should|"
    r"would|will|"
    r"it|be|hold|ok|okay|i|we|you|want to|like to|let me|lets|let's|to|then|and|also|just|"
    r"now|would it hold)\s+)+(?=\S)"
)
ARTICLES = r"(?:the|my|our|that|this|its|a|an|another|new|second|extra|one)"
PLACERS = r"(?:onto|on|to|into|in|at|by|with|via|from|for|behind|through|off|of|under)"

def split(words: str) -> list[str]:
    """The words of a list that is written as one text."""
    return words.split()


NUMBERS = {
    word: number
    for number, word in enumerate(
        split(
        "one two three four five six seven eight nine ten eleven twelve"
    ), start=1
    )
}
ORDINALS = {
    word: number
    for number, word in enumerate(
        split(
        "first second third fourth fifth sixth seventh eighth ninth tenth"
    ), start=1
    )
}

_UNITS = (
    ("size", r"mm2|mm²|mm\^2|sq\.? ?mm|square mm|awg|sae"),
    ("charge", r"ah|amp[- ]?hours?"),
    ("current", r"ma|ka|a|amps?|amperes?"),
    ("power", r"kw|w|watts?"),
    ("length", r"cm|mm|m|metres?|meters?|ft|feet|foot|inch(?:es)?"),
    ("volts", r"v|volts?"),
    ("share", r"%|percent|per cent"),
    ("heat", r"°? ?[cf]|deg ?[cf]"),
    ("time", r"h|hours?|min|minutes?|s|seconds?"),
)
_WRITTEN = {
    "amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "a": "A", "ma": "mA", "ka": "kA",
    "watt": "W", "watts": "W", "w": "W", "kw": "kW", "metre": "m", "metres": "m", "meter": "m",
    "meters": "m", "feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "volt": "V",
    "volts": "V", "v": "V", "percent": "%", "per cent": "%", "mm²": "mm2", "mm^2": "mm2",
    "sq mm": "mm2", "sqmm": "mm2", "sq. mm": "mm2", "square mm": "mm2", "awg": "AWG",
    "sae": "SAE", "ah": "Ah", "°c": "°C", "° c": "°C", "c": "°C", "deg c": "°C", "°f": "°F",
    "° f": "°F", "f": "°F", "deg f": "°F",
}  # fmt: skip
NUMBER = r"\d+(?:/0|(?:\.\d+)?)"
QUANTITY = re.compile(
    rf"(?<![\w.])(?P<number>{NUMBER})[ -]?(?P<unit>" + "|".join(u for _, u in _UNITS)
    + r")(?![\w²])"
)


@record
class Quantity:
    """A number with its unit: ``sort`` is what it can be, ``text`` as a plan writes it."""

    sort: str
    text: str
    start: int
    end: int


def quantities(text: str) -> list[Quantity]:
    """Every quantity in folded text, in order."""
    found = []
    for match in QUANTITY.finditer(text):
        unit = match["unit"]
        sort = next(s for s, pattern in _UNITS if re.fullmatch(pattern, unit))
        if re.fullmatch(r"amp[- ]?hours?", unit):
            unit = "Ah"
        written = f"{match['number']} {_WRITTEN.get(unit, unit)}"
        found.append(Quantity(sort, written, match.start(), match.end()))
    return found


def as_fuse(text: str) -> str:
    """Text in which the first current is said to be a fuse: "the fridge at 20 a" after "fuse"."""
    current = next((q for q in quantities(text) if q.sort == "current"), None)
    if current is None:
        return text
    return f"{text[: current.start]}fuse {text[current.start :]}"


def plain(sentence: str) -> str:
    """A sentence folded for reading: lower case, one space, no question mark, no lead-in."""
    text = " ".join(sentence.replace("\u2019", "'").split()).casefold().rstrip("?!. ")
    text = re.sub(r",? please$", "", text)
    before = ""
    while before != text:
        before = text
        text = _LEAD_IN.sub("", text)
    for pattern, word in _PHRASES:
        text = re.sub(rf"^{pattern}" if "(" not in word else pattern, word, text)
    return text


def verb_of(text: str) -> tuple[str, str, str]:
    """(verb, the word it was said with, the rest); verb empty where the text begins with none."""
    word, _, rest = text.partition(" ")
    stems = {word}
    for ending in ("ing", "ed"):  # swapping, swapped: swap; replaced: replace
        stem = word.removesuffix(ending)
        if stem != word and len(stem) > 1:
            stems |= {stem, f"{stem}e"}
            if len(stem) > 3 and stem[-1] == stem[-2]:
                stems.add(stem[:-1])
    for verb, known in VERBS.items():
        if stems & set(known.split()):
            return verb, word, rest
    return "", "", text


def bare(phrase: str) -> str:
    """A phrase without its leading articles and small words."""
    return re.sub(rf"^(?:{ARTICLES}\s+)+(?=\S)", "", phrase.strip()).strip()


_ONE_MORE = r"(?:another|(?:a |an |one )?(?:more|further|extra|additional|second))"
FURTHER = re.compile(rf"(?:{_ONE_MORE}|(?:{'|'.join(NUMBERS)}|\d+) (?:more|further|extra)) ")
"""Words by which something is to come beside the one that is there: "another", "two more"."""


def counted(phrase: str) -> tuple[int | None, str]:
    """(how many, the rest): "two 25 w lamps" is 2, "a lamp" is 1, "the lamps" is not said."""
    number = r"\d+|" + "|".join(NUMBERS)
    match = re.match(
        rf"(?:{_ONE_MORE} |a |the |my )?(?:({number}) )?(?:more )?pairs? of (.+)", phrase
    )
    if match:
        return 2 * (NUMBERS.get(match[1]) or int(match[1]) if match[1] else 1), match[2]
    match = re.match(
        rf"(?:{_ONE_MORE} |the |my )?({number})(?: x| ×)?(?: more| further| extra)? (.+)", phrase
    )
    if match and not QUANTITY.match(phrase[match.start(1) :]):
        word = match[1]
        return NUMBERS.get(word) or int(word), match[2]
    match = re.match(r"(?:a|an|another) (.+)", phrase)
    return (1, match[1]) if match else (None, phrase)
