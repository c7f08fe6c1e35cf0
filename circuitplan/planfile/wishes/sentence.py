"""A sentence such as "swap the compressor for a twin-motor one on switch 3", as wishes.

Nothing is guessed: a clause of which a word is left over is refused, with what may be said.
"""

from __future__ import annotations

import re

from circuitplan.library import kinds
from circuitplan.model.plan import Plan
from circuitplan.planfile import changes
from circuitplan.planfile.wishes import lexicon
from circuitplan.planfile.wishes.consequences import changed
from circuitplan.planfile.wishes.finding import Finder
from circuitplan.planfile.wishes.lexicon import bare, counted, plain, verb_of
from circuitplan.planfile.wishes.qualities import Qualities
from circuitplan.planfile.wishes.things import SORTS, Thing
from circuitplan.planfile.wishes.wish import Wish

_JOINTS = re.compile(
    r"\s*;\s*|\s*,\s+(?:(?:and|then)\s+)*|\s+(?:and|then|plus|&|\+)\s+(?:then\s+)?"
)
_ASKS = re.compile(
    r"^(?:(?:does|do|is|would|will|can|may) )?(?P<what>.+?) "
    r"(?:overloads?|be too much for|too much for|"
    r"(?:hold|run|work|fit|hang|go) on) (?P<home>.+)$"
)
_TAKES = re.compile(
    r"^(?:(?:does|do|would|will|can|may) )?(?P<home>.+?) (?:take|carry|bear|stand) (?P<what>.+)$"
)
_OF_THE_LAST = re.compile(r"(?:wire|cable|fuse|length|run|inrush|lead|size|power|current)\b")
_FOR = re.compile(r" (?:for|with|by|to|against|into) ")


def understood(plan: Plan, sentence: str) -> list[Wish]:
    """The wishes of a sentence, in order; InputError naming what may be said where it fits none."""
    return _Reader(plan, sentence).wishes()


class _Reader(Finder):
    def __init__(self, plan: Plan, sentence: str) -> None:
        super().__init__(plan, sentence)
        self.waiting: list[Thing] = []  # named, with what is to become of them still to come
        self.verb = ""
        self.last: Thing | None = None  # what "it" means

    def wishes(self) -> list[Wish]:
        if re.search(r"\d,\d", self.sentence):
            raise self.no("a comma in a number", "2.5 mm2, with a point")
        found: list[Wish] = []
        for clause in self._clauses():
            found += self._clause(clause)
        if self.waiting:
            raise self.no(f"what shall be done with {self.waiting[-1].name} is not said")
        if not found:
            raise self.no("nothing to try in it")
        return found

    # --- clauses -------------------------------------------------------------------------------

    def _clauses(self) -> list[str]:
        text, kept = plain(self.sentence), dict[str, str]()
        for thing in sorted(self.things.all, key=lambda t: -len(t.name)):
            folded = thing.name.casefold()
            if _JOINTS.search(folded):
                mark = f"\x02{len(kept)}\x03"
                text, kept[mark] = text.replace(folded, mark), folded
        found: list[str] = []
        for number, chunk in enumerate(_JOINTS.split(text)):
            chunk = plain(chunk)
            if not chunk:
                continue
            if number and found and self._goes_on(chunk):
                found[-1] += f" {chunk}"
            else:
                found.append(chunk)
        return [re.sub(r"\x02\d+\x03", lambda m: kept[m[0]], clause) for clause in found]

    def _goes_on(self, chunk: str) -> bool:
        """Whether a chunk only says more of the thing before it."""
        if self.begins_with(chunk):
            return False
        chunk = re.sub(r"^(?:its|their) ", "", chunk)
        figures = lexicon.quantities(chunk)
        rest = re.sub(r"^(?:a|an) ", "", chunk)
        if figures and figures[0].start == len(chunk) - len(rest):
            tail = rest[figures[0].end - figures[0].start :].strip()
            more = rf"(?:fuse|wire|cable|inrush|peak|{lexicon.PLACERS})\b"
            return not tail or re.match(more, tail) is not None
        if re.match(rf"(?:{lexicon.PLACERS}|fed from|called|named) ", chunk):
            return True
        return not verb_of(chunk)[0] and changes.is_key(chunk)

    def _clause(self, clause: str) -> list[Wish]:
        clause = self._without_pronouns(clause)
        again = re.fullmatch(
            r"choose (?:the )?(.+?)(?:'s)? (fuse|wire|size|switch|length)(?: again)?", clause
        )
        if again:
            return self._set(f"{again[1]} {again[2].replace('wire', 'size')} chosen", clause)
        verb, word, rest = ("", "", clause) if self.begins_with(clause) else verb_of(clause)
        if re.match(r"(?:switch|output|button) ", clause):
            verb, word, rest = "", "", clause
        if verb:
            self.verb = verb
        elif self.verb in ("remove", "add", "swap") and not self._own(clause):
            verb, rest = self.verb, clause
        elif self.verb == "move":
            verb = "move"
        asked = None if verb else _ASKS.match(clause) or _TAKES.match(clause)
        if asked:
            what, home = asked["what"], asked["home"]
            if self.things.called(home, ("switch", "panel")):
                return self._hang(what, home)
        if verb == "add":
            machine = re.search(r"\b(alternator|battery)(?= of | with |$)", rest)
            if machine and not self.kind_in(rest):
                if word == "add" or re.search(r"\b(?:second|another|extra)\b", rest):
                    raise self.no(f"a further {machine[1]}", f"write it into the plan; to try "
                                   f"another in its place: swap the {machine[1]} for ...")
                return self._machine(machine[1], rest, clause)
            return self._add(rest)
        if verb == "remove":
            return self._remove(rest)
        if verb == "swap":
            return self._swap(rest)
        if word.startswith("fus"):
            rest = lexicon.as_fuse(rest)
        count, noun = counted(rest)
        there = self.things.named(bare(noun), ("accessory",))
        if not verb and count is not None and count > 1 and there is not None:
            return self._set(f"{noun} quantity {count}", clause)
        new = re.match(r"(?:a|an|another|two|three|four|\d+) ", rest)
        if (word == "put" or (not verb and not self.waiting)) and new and self.kind_in(rest):
            return self._add(rest)
        return self._set(rest, clause)

    def _without_pronouns(self, clause: str) -> str:
        if self.last is None:
            return clause
        return re.sub(r"\b(?:it|them|they|its|their)\b", self.last.name.casefold(), clause)

    def _own(self, clause: str) -> bool:
        """Whether a clause without a verb stands for itself: a thing and what is said of it."""
        thing = self.begins_with(clause)
        if thing is None or (self.verb == "swap" and _FOR.search(clause)):
            return False
        return len(bare(clause)) > len(thing.name)

    def _hang(self, what: str, home: str) -> list[Wish]:
        there = None if re.match(r"(?:a|an|another|\d+) ", what) else self.things.called(what)
        where = self.things.called(home, ("switch", "panel"))
        assert where is not None
        if there is None:
            return self._add(f"{what} on {where.name.casefold()}")
        return self._set(f"{there.name.casefold()} on {where.name.casefold()}", what)

    # --- what is asked -------------------------------------------------------------------------

    def _add(self, text: str) -> list[Wish]:
        named = re.search(r"\b(?:called|named) (.+?)(?= (?:on|with|at|in|to|from) |$)", text)
        name = ""
        if named:
            name = self.as_typed(named[1])
            text = f"{text[: named.start()]} {text[named.end() :]}".strip()
        count, rest = counted(text)
        rest = bare(rest)
        words = rest.split()
        head = next((" ".join(words[:n]) for n in range(len(words), 0, -1)
                     if kinds.find(" ".join(words[:n]))), "")
        blank = Thing("accessory", name or head or "it")
        said = Qualities(rest[len(head) :], blank, self.things)
        kind = head
        if not head:
            kind = re.sub(rf"^(?:{lexicon.PLACERS} )+|(?: {lexicon.PLACERS})+$", "", said.left)
        elif said.strange:
            raise self.no(f"'{said.strange}' is not understood", self.homes())
        pairs = dict(said.found)
        if not kind or (not kinds.find(kind) and self.things.named(kind)):
            if "fuse" in pairs or "its switch" in pairs:
                return self._set(text, text)
            raise self.no("what is to be added is not said")
        known = kinds.find(kind)
        if (known is None or known.kind == "relay coil") and self._relayed(text):
            return self._set(text, text)
        if known is None:
            raise self.strange_kind(kind)
        if "its switch" in pairs:
            raise self.no("a relay is worked by a switch", "S3 to relay")
        if count is not None and count > 1:
            pairs["quantity"] = str(count)
        new = name or kind[:1].upper() + kind[1:]
        self.last = None if self.things.named(new) else Thing("accessory", new)
        self.things.all.append(Thing("accessory", new))
        return [Wish("add", f"{name}={kind}" if name else kind, pairs)]

    def _machine(self, name: str, rest: str, clause: str) -> list[Wish]:
        """Another alternator or battery in the place of the one there is."""
        thing = self.last = Thing(name, name)
        return self._made(thing, self.thing_in(rest)[1], clause, new=True)

    def _relayed(self, text: str) -> bool:
        if not re.search(r"\brelay\b", text):
            return False
        return self.thing_in(text)[0] is not None

    def _remove(self, text: str) -> list[Wish]:
        thing = self.things.called(text, ("accessory", "switch"))
        if thing is None:
            part = re.fullmatch(r"(.+?)(?:'s)? fuse|(?:the )?fuse (?:of|from|at) (.+)", text)
            if part:
                return self._set(f"{part[1] or part[2]} fuse none", text)
            raise self.nobody(text, ("accessory", "switch"))
        return [Wish("remove", thing.name)]

    def _swap(self, text: str) -> list[Wish]:
        parts = _FOR.split(text, maxsplit=1)
        if len(parts) < 2:
            raise self.no("what shall take its place is not said", "swap NAME for a KIND")
        old, new = parts
        of_it = re.fullmatch(r"(?:the )?(.+?)(?:'s)? (fuse|wire|cable)|"
                             r"(?:the )?(fuse|wire|cable) (?:of|on|to) (.+)", old)
        if (of_it and self.things.called(old, SORTS[:3]) is None) or (of_it and \
                "fuse" in (of_it[2], of_it[3])):
            what, whose = of_it[2] or of_it[3], of_it[1] or of_it[4]
            new = re.sub(r"\b(?:one|fuse|wire|cable)\b", "", new)
            return self._set(f"{whose} {what if what == 'fuse' else ''} {new}", text)
        thing = self.things.called(old, (*SORTS[:4], "alternator"))
        if thing is None:
            raise self.nobody(old, (*SORTS[:4], "alternator"))
        if thing.sort in ("alternator", "battery"):
            new = re.sub(rf"\b{thing.sort}\b", "", new)
        if thing.sort != "accessory":
            return self._made(thing, re.sub(r"\bone\b", "", bare(new)), text, new=True)
        return self._other_kind(thing, new)

    def _other_kind(self, thing: Thing, new: str) -> list[Wish]:
        count, rest = counted(new)
        rest = bare(rest)
        given = next(a for a in self.plan.accessories if a.name == thing.name)
        noun = (given.kind or given.name).casefold().split()[-1]
        whole = re.sub(r"\bones?\b", noun, rest)
        words = whole.split()
        kind = next((" ".join(words[:n]) for n in range(len(words), 0, -1)
                     if kinds.find(" ".join(words[:n]))), "")
        said = Qualities(whole[len(kind) :], thing, self.things)
        self.last = thing
        if not kind:
            placers = lexicon.PLACERS.strip("(?:)").split("|")
            left = " ".join(w for w in said.left.split() if w not in placers)
            if not said.strange and said.found:
                left = noun
            if left != noun and kinds.find(left) is None:
                raise self.strange_kind(left)
            kind = left
        elif said.strange:
            raise self.no(f"'{said.strange}' is not understood")
        wishes = []
        same = kind == noun and (not kinds.find(kind) or noun not in rest.split())
        if not same:
            wishes.append(Wish("swap", f"{thing.name}={kind}"))
        pairs = list(said.found)
        if count is not None and count != given.quantity:
            pairs.append(("quantity", str(count)))
        if same and not pairs:
            raise self.no("what is different about the new one is not said")
        return [*wishes, *changed(self.plan, thing, pairs, swapped=not same)]

    def _set(self, text: str, clause: str) -> list[Wish]:
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
        found = [w for one in waiting for w in self._made(one, rest, clause)]
        return [*found, *self._made(thing, rest, clause, said)]

    def _made(
        self, thing: Thing, rest: str, clause: str, said: Qualities | None = None,
        new: bool = False,
    ) -> list[Wish]:
        said = said or Qualities(rest, thing, self.things)
        if said.strange or not said.found:
            raise self.no(f"'{said.strange or clause}' is not understood of {thing.name}",
                           self.homes() if thing.sort == "accessory" else "")
        return changed(self.plan, thing, said.found, swapped=new)
