"""Clauses that give a thing of the plan other qualities: "fuse the fridge at 20 A"."""

from __future__ import annotations

import re

from circuitplan.model.plan import Plan
from circuitplan.planfile import changes
from circuitplan.planfile.wishes.consequences import changed
from circuitplan.planfile.wishes.finding import Finder
from circuitplan.planfile.wishes.lexicon import bare
from circuitplan.planfile.wishes.qualities import Qualities
from circuitplan.planfile.wishes.things import SORTS, Thing
from circuitplan.planfile.wishes.wish import Wish

_OF_THE_LAST = re.compile(r"(?:wire|cable|fuse|length|run|inrush|lead|size|power|current)\b")


class Setter(Finder):
    """Reads what is said of one thing; remembers which was the last."""

    def __init__(self, plan: Plan, sentence: str) -> None:
        super().__init__(plan, sentence)
        self.waiting: list[Thing] = []  # named, with what is to become of them still to come
        self.verb = ""
        self.last: Thing | None = None  # what "it" means

    def told(self, text: str, clause: str) -> list[Wish]:
        """What a clause says of a thing that stands in it, or of the last one."""
        waiting, self.waiting = self.waiting, []
        thing, rest = self.thing_in(text)
        if thing is None and waiting:
            thing, waiting, rest = waiting[-1], waiting[:-1], text
        if thing is None and self.last is not None and _OF_THE_LAST.match(bare(text)):
            thing, rest = self.last, text
        if thing is None:
            if changes.top_key(" ".join(text.split())):
                return [Wish("change", self.as_typed(text))]
            if self.strictly(text):
                return [Wish("change", self.as_typed(text.strip()))]
            raise self.nobody(text, (*SORTS, "alternator"))
        self.last = thing
        said = Qualities(rest, thing, self.things)
        if not said.found and not said.strange:
            self.waiting = [*waiting, thing]
            return []
        found = [w for one in waiting for w in self.made(one, rest, clause)]
        return [*found, *self.made(thing, rest, clause, said)]

    def made(
        self, thing: Thing, rest: str, clause: str, said: Qualities | None = None,
        new: bool = False,
    ) -> list[Wish]:
        """The wishes that give ``thing`` what ``rest`` says; ``new``: another takes its place."""
        said = said or Qualities(rest, thing, self.things)
        if said.strange or not said.found:
            raise self.no(f"'{said.strange or clause}' is not understood of {thing.name}",
                           self.homes() if thing.sort == "accessory" else "")
        return changed(self.plan, thing, said.found, swapped=new)

    def machine(self, name: str, rest: str, clause: str) -> list[Wish]:
        """Another alternator or battery in the place of the one there is."""
        thing = self.last = Thing(name, name)
        return self.made(thing, self.thing_in(rest)[1], clause, new=True)
