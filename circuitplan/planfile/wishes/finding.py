"""What a clause is about, and what is said where nothing in the plan fits."""

from __future__ import annotations

import re
from collections.abc import Sequence

from circuitplan.errors import InputError, Problem
from circuitplan.library import kinds
from circuitplan.model.plan import Plan
from circuitplan.planfile import changes, spoken_kinds
from circuitplan.planfile.wishes import lexicon
from circuitplan.planfile.wishes.lexicon import ARTICLES, bare, counted, split
from circuitplan.planfile.wishes.things import SORTS, Thing, Things

ALLOWED = (
    "add a fridge on S1, 4 m; remove NAME; swap NAME for a KIND; move NAME to S1 (a switch, a "
    "place or a panel); NAME 6 mm2, or 8 m, or 40 W, or 15 A fuse, or inrush 60 A; S3 to relay; "
    "alternator 150 A; battery 120 Ah; NAME KEY VALUE; several joined by 'and' or ';'"
)
_NO_NAMES = frozenset(
    split(
    "wire cable lead fuse relay switch length size power current to on in at of for with a "
    "an the by from rating place panel coil inrush peak from"
)
)


class Finder:
    """Finds the things of one plan in the clauses of one sentence."""

    def __init__(self, plan: Plan, sentence: str) -> None:
        self.plan, self.sentence = plan, sentence
        self.things = Things(plan)

    def begins_with(self, text: str) -> Thing | None:
        head = bare(text)
        fits = [t for t in self.things.all if f"{head} ".startswith(f"{t.name.casefold()} ")]
        order = [*SORTS, "alternator"]
        return max(fits, key=lambda t: (len(t.name), -order.index(t.sort)), default=None)

    def thing_in(self, text: str) -> tuple[Thing | None, str]:
        """What a clause is about, and the clause without it: accessories before their switches."""
        text = f" {text} "
        begins = self.begins_with(text)
        if begins is not None:
            at = text.index(begins.name.casefold())
            return begins, f"{text[: at]} {text[at + len(begins.name) :]}"
        for sorts in (("accessory", "scenario"), ("panel", "alternator", "battery", "switch",
                                                  "place")):
            for sort in sorts:
                for thing in sorted(self.things.of_sort(sort), key=lambda t: -len(t.name)):
                    if thing.name.casefold() not in text:
                        continue
                    match = re.search(
                        rf"(?<!\d) (?:{lexicon.PLACERS} )?(?:{ARTICLES} )*"
                        rf"{re.escape(thing.name.casefold())}(?:'s)?(?= )", text)
                    if match:
                        return thing, f"{text[: match.start()]} {text[match.end() :]}"
            for sort in sorts:
                part = self._by_words(text, sort)
                if part is not None:
                    return part
        return None, text.strip()

    def _by_words(self, text: str, sort: str) -> tuple[Thing, str] | None:
        """A thing named in part ("the lamps"), or by kind, or "switch 3"."""
        words = text.split()
        for length in range(min(4, len(words)), 0, -1):
            for start in range(len(words) - length + 1):
                phrase = " ".join(words[start : start + length])
                if sort == "switch" or not re.search(r"\d", phrase):
                    if phrase in _NO_NAMES or bare(phrase) in _NO_NAMES:
                        continue
                    thing = self.things.called(phrase, (sort,))
                    if thing is not None:
                        first = start
                        while first and _small(words[:first]):
                            first -= 1
                        rest = [*words[:first], *words[start + length :]]
                        return thing, " ".join(rest)
        return None

    def strictly(self, text: str) -> bool:
        """Whether a clause is NAME KEY VALUE of something that only the plan's own words name."""
        try:
            return bool(changes.change(self.plan, text))
        except InputError:
            return False

    def kind_in(self, text: str) -> bool:
        words = bare(counted(text)[1]).split()
        return any(kinds.find(" ".join(words[:n])) for n in range(1, len(words) + 1))

    def as_typed(self, folded: str) -> str:
        at = self.sentence.casefold().find(folded)
        return self.sentence[at : at + len(folded)] if at >= 0 else folded

    # --- what is not understood ----------------------------------------------------------------

    def no(self, found: str, remedy: str = "") -> InputError:
        return InputError([Problem(f'"{self.sentence}"', found, ALLOWED, remedy)])

    def homes(self) -> str:
        there = [
            f"{word} {', '.join(t.name for t in found)}" for word, sort in
            (("switches", "switch"), ("panels", "panel"), ("places", "place"))
            if (found := self.things.of_sort(sort))
        ]
        return f"the plan has {'; '.join(there)}" if there else ""

    def strange_kind(self, words: str) -> InputError:
        apart = spoken_kinds.elsewhere(words)
        if apart is not None:
            return self.no(f"'{words}' is {apart[0]}", f"it belongs to {apart[1]}; {apart[2]}")
        near = kinds.nearest(words)
        remedy = f"did you mean {near[0]}?" if near else "circuitplan tables kinds lists them"
        return self.no(f"'{words}' is no kind of accessory", remedy)

    def nobody(self, words: str, sorts: Sequence[str]) -> InputError:
        names = ", ".join(dict.fromkeys(t.name for t in self.things.of_sort(*sorts[:3])))
        near = changes.near(bare(words), [t.name for t in self.things.of_sort(*sorts)])
        found = f"nothing in the plan is called '{bare(words)}'; it has {names}"
        remedy = f"did you mean {near}?" if near else ""
        if not near and kinds.find(bare(words)) is not None:
            remedy = f"to add one: add a {bare(words)}"
        return self.no(found, remedy)


def _small(words: Sequence[str]) -> bool:
    """Whether the last word is an article or preposition; the "a" of "150 a" is an ampere."""
    if re.fullmatch(rf"{ARTICLES}|{lexicon.PLACERS}", words[-1]) is None:
        return False
    return not (words[-1] == "a" and words[-2:-1] and words[-2].isdigit())
