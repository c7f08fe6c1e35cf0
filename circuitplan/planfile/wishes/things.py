"""Things of a plan as people name them: "the compressor", "switch 3", "my lamps"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from circuitplan.errors import InputError, Problem
from circuitplan.library import kinds
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.planfile.wishes.lexicon import ARTICLES, NUMBERS, ORDINALS

SORTS = ("accessory", "switch", "panel", "battery", "place", "scenario")


@record
class Thing:
    """``sort`` is one of ``SORTS`` or alternator; ``name`` as the plan writes it."""

    sort: str
    name: str


class Things:
    """Every name of a plan, and what people call it."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        entries: tuple[tuple[Any, ...], ...] = (
            plan.accessories, plan.switches, plan.panels, plan.supply.batteries, plan.places,
            plan.scenarios,
        )
        self.all = [
            Thing(sort, entry.name)
            for sort, group in zip(SORTS, entries, strict=True) for entry in group
        ]
        self.all += [Thing("place", p) for p in _told_places(plan)
                     if p.casefold() not in {t.name.casefold() for t in self.all}]
        self.all.append(Thing("alternator", "alternator"))
        if not any(t.sort == "battery" and t.name == "battery" for t in self.all):
            self.all.append(Thing("battery", "battery"))
        self.labels = {s.label.casefold(): s.name for s in plan.switches if s.label}

    def of_sort(self, *sorts: str) -> list[Thing]:
        return [t for t in self.all if t.sort in sorts]

    def named(self, text: str, sorts: Sequence[str] = ()) -> Thing | None:
        """The thing of exactly that name, in the order of ``sorts``."""
        folded = text.casefold()
        found = [t for t in self.all if t.name.casefold() == folded]
        order = list(sorts or (*SORTS, "alternator"))
        found = [t for t in found if t.sort in order]
        return min(found, key=lambda t: order.index(t.sort), default=None)

    def switch(self, text: str) -> Thing | None:
        """A switch by its name, its number or its label: "s3", "3", "three", "third", "roof"."""
        exact = self.named(text, ("switch",))
        if exact is not None:
            return exact
        if text in self.labels:
            return Thing("switch", self.labels[text])
        number = NUMBERS.get(text) or ORDINALS.get(text)
        digits = re.fullmatch(r"(\d+)(?:st|nd|rd|th)?", text)
        if number is None and digits:
            number = int(digits[1])
        if number is None:
            return None
        fits = [s.name for s in self.plan.switches if re.sub(r"\D", "", s.name) == str(number)]
        return Thing("switch", fits[0]) if len(fits) == 1 else None

    def called(self, phrase: str, sorts: Sequence[str] = ("accessory",)) -> Thing | None:
        """The one thing that a phrase can mean; None if nothing; InputError if several."""
        text = re.sub(rf"^(?:{ARTICLES}\s+)+(?=\S)", "", phrase.strip())
        text = re.sub(r"(?:'s)?\s+(?:wire|cable|lead|circuit|run)s?$", "", text).strip()
        if not text:
            return None
        exact = self.named(text, sorts)
        if exact is not None:
            return exact
        if "switch" in sorts:
            spoken = re.fullmatch(r"(?:switch|output|button)(?: no\.?| number)? (\S.*)", text)
            ordered = re.fullmatch(r"(\S+) (?:switch|output|button)", text)
            said = spoken or ordered
            found = self.switch(said[1]) if said else self.switch(text) if text in self.labels \
                else None
            if found is not None:
                return found
        near = [t for t in self.of_sort(*sorts) if words_of(text) <= words_of(t.name)]
        if len(near) != 1 and "accessory" in sorts:
            kind = kinds.find(text)
            alike = [
                Thing("accessory", a.name) for a in self.plan.accessories
                if kind is not None and a.kind is not None
                and (one := kinds.find(a.kind)) is not None and one.kind == kind.kind
            ]
            near = alike if len(alike) == 1 or not near else near
        if len(near) > 1:
            names = ", ".join(t.name for t in near)
            raise InputError([Problem(f'"{phrase}"', f"it may be {names}", "one of them",
                                      "name the one that is meant")])
        return near[0] if near else None


def _told_places(plan: Plan) -> list[str]:
    things: tuple[Any, ...] = (
        *plan.accessories, *plan.switches, *plan.panels, *plan.supply.batteries
    )
    found = [t.place for t in things if t.place]
    found += [end for leg in plan.legs for end in (leg.a, leg.b)]
    return list(dict.fromkeys(found))


def words_of(text: str) -> frozenset[str]:
    """The words of a phrase in the singular, a light being a lamp."""
    words = re.sub(r"[^\w]+", " ", text.casefold()).split()
    same = {"light": "lamp", "lights": "lamp", "lamps": "lamp"}
    return frozenset(same.get(w, w[:-1] if len(w) > 3 and w.endswith("s") else w) for w in words)
