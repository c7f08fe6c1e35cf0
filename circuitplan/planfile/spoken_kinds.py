"""What people say is fitted: "two rear work lamps", "front LED bar", "2x 40 W lockers".

How many, where, of what power and of which kind; what is no accessory at all is said where it
belongs. Nothing is guessed: words that no kind of the tables has are told as unknown.
"""

from __future__ import annotations

import re

from circuitplan.library import kinds
from circuitplan.model.record import record
from circuitplan.planfile.wishes.lexicon import (
    NUMBERS,
    Quantity,
    bare,
    counted,
    quantities,
    split,
)

PLACE_WORDS = frozenset(
    split(
        "front rear back left right top side upper lower roof bed cab cabin bumper hood bonnet "
        "tailgate door driver driver's passenger nearside offside centre center middle inner outer "
        "port starboard bow stern canopy tray rack"
    )
)
"""Words that say where a thing sits, not what it is (common usage)."""
_SMALL = frozenset(split("a an the my our at on in of for to by with each and side"))
_KEYS = {"power": "power", "current": "current", "length": "length"}
_NUMBER = rf"(\d+|{'|'.join(NUMBERS)})"

UNSURE = {"light bar": "a warning light bar; for a lamp that lights the way say led bar"}
"""Kinds whose name may mean another thing to some: what they are taken for, and what to say."""

_CHARGER = (
    "a battery charger, which is no accessory", "chargers:, under supply",
    "write it as chargers: {Charger: {type: dc-dc, from: battery, to: bed battery, output: 25 A}}",
)  # fmt: skip
_ELSEWHERE = (
    (r"(?:dc.?dc|dc to dc|b2b|batter(?:y|ies)(?: to battery)?|solar|shore|mains|split.charge)?"
     r"(?: second battery| house battery| battery)? ?chargers?", _CHARGER),
    (r"solar(?: panels?)?|split.charge relay", _CHARGER),
    (r"batter(?:y|ies)", (
        "a battery, which is no accessory", "battery: or batteries:, under supply",
        "write it as batteries: {bed battery: {type: agm, capacity: 100 Ah}}",
    )),
    (r"alternators?", (
        "the alternator, which is no accessory", "alternator:, under supply",
        "write it as alternator: {rated: 120 A}",
    )),
    (r"relays?|switch(?:es)?|switch panel", (
        "a part that works others, no accessory", "switches:",
        "write it as switches: {S1: {rating: 20 A, type: relay}}",
    )),
    (r"(?:fuse )?(?:panel|box|block|board)(?:e?s)?|bus ?bars?", (
        "a part that feeds others, no accessory", "panels:",
        "write it as panels: {Cab panel: {place: cab, fed_from: battery, ways: 8}}",
    )),
    (r"fuses?|wires?|wiring|cables?|wiring loom|loom", (
        "a thing that is chosen for each circuit, no accessory", "a kind of accessory",
        "leave it out",
    )),
)  # fmt: skip


@record
class Fitted:
    """``count`` None: not said; ``name`` as a plan may write it; ``figures`` by key of the plan."""

    count: int | None
    kind: str
    name: str
    figures: tuple[tuple[str, str], ...] = ()


def fitted(words: str) -> Fitted | None:
    """What is meant, or None where the tables have no such kind."""
    text = " ".join(words.split())
    count, rest = _counted(text)
    if count is None and kinds.find(bare(rest.casefold())) is not None:
        return _made(None, _without_articles(rest), rest, ())
    if kinds.find(rest) is None and _sensible(text):
        count, rest = None, text  # "4 t winch", "55 W lamp": the number belongs to the kind
    figures: list[tuple[str, str]] = []
    if kinds.find(rest) is None:
        rest, figures = _without_figures(rest)
    rest = _without_articles(rest)
    kind = rest
    if kinds.find(kind) is None:
        kind = " ".join(
            w for w in rest.split() if w.casefold() not in PLACE_WORDS | _SMALL
        )
    if not kind or kinds.find(kind) is None:
        return None
    both = re.search(r"\b(\S+) and (\S+)\b", rest.casefold())
    if both and {both[1], both[2]} <= PLACE_WORDS:  # "front and rear locker"
        count = 2 if count is None else count
    return _made(count, kind, rest, tuple(figures))


def all_fitted(text: str) -> list[str]:
    """A list such as "front LED bar, two lockers and a fridge" in its parts."""
    found: list[str] = []
    for part in re.split(r"[,;\n]", text):
        pieces = [p.strip() for p in re.split(r" and | & | \+ ", part) if p.strip()]
        apart = len(pieces) > 1 and all(fitted(p) or elsewhere(p) for p in pieces)
        found += pieces if apart else [part.strip()] if part.strip() else []
    return found


def elsewhere(words: str) -> tuple[str, str, str] | None:
    """(what it is, where it belongs, how it is written) of what is no accessory; else None."""
    _, rest = _counted(" ".join(words.split()))
    rest = re.sub(r"[-/]", " ", _without_articles(rest)).casefold()
    plain = " ".join(w for w in rest.split() if w not in PLACE_WORDS | _SMALL)
    plain = re.sub(r"^(?:(?:second|extra|further|starter|house|leisure|auxiliary) )+", "", plain)
    for pattern, said in _ELSEWHERE:
        if re.fullmatch(pattern, plain):
            return said
    return None


def _sensible(text: str) -> bool:
    """Whether the whole, number and all, is a kind; "pair" and "set" are never part of one."""
    return not re.match(r"(?:a |the )?(?:pairs?|set|couple)\b", text.casefold()) and (
        kinds.find(text) is not None
    )


def _counted(text: str) -> tuple[int | None, str]:
    """(how many, the rest), the rest as it was written."""
    folded = text.casefold()
    after = re.fullmatch(rf"(.+?) ?(?:[x×] ?{_NUMBER}|\({_NUMBER}\))", folded)
    if after:
        number = after[2] or after[3]
        return NUMBERS.get(number) or int(number), text[: after.end(1)]
    pairs = re.match(rf"{_NUMBER} pairs of ", folded)
    if pairs:
        return 2 * (NUMBERS.get(pairs[1]) or int(pairs[1])), text[pairs.end() :]
    couple = re.match(r"(?:a |the )?couple of ", folded)
    if couple:
        return 2, text[couple.end() :]
    head = re.match(r"(?:a |the )?set of (?=" + _NUMBER + r"\b)", folded)
    if head:
        text, folded = text[head.end() :], folded[head.end() :]
    count, rest = counted(re.sub(r"^(\d+) ?[x×] ?", r"\1 ", folded))
    return count, text[len(text) - len(rest) :]


def _without_articles(text: str) -> str:
    kept = bare(text.casefold())
    return text.strip()[len(text.strip()) - len(kept) :]


def _without_figures(text: str) -> tuple[str, list[tuple[str, str]]]:
    found: list[tuple[str, str]] = []
    folded = text.casefold()
    known: list[Quantity] = [q for q in quantities(folded) if q.sort in _KEYS]
    for quantity in reversed(known):
        if _KEYS[quantity.sort] in dict(found):
            return text, []
        found.append((_KEYS[quantity.sort], quantity.text))
        text = f"{text[: quantity.start]} {text[quantity.end :]}"
    return " ".join(w for w in text.split() if w.casefold() != "each"), found[::-1]


def _made(
    count: int | None, kind: str, name: str, figures: tuple[tuple[str, str], ...]
) -> Fitted:
    name = re.sub(r"(?: (?:at|on|in|of|for|the|my|our))+$", "", " ".join(name.split()))
    return Fitted(count, kind, name[:1].upper() + name[1:], figures)
