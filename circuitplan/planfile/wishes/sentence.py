"""A sentence such as "swap the compressor for a twin-motor one on switch 3", as wishes.

Nothing is guessed: a clause of which a word is left over is refused, with what may be said.
"""

from __future__ import annotations

import re

from circuitplan.library import kinds
from circuitplan.model.plan import Accessory, Plan
from circuitplan.planfile import changes, spoken_kinds
from circuitplan.planfile.wishes import lexicon
from circuitplan.planfile.wishes.lexicon import bare, counted, plain, verb_of
from circuitplan.planfile.wishes.qualities import Qualities
from circuitplan.planfile.wishes.swapping import FOR, Swapper, in_one_clause
from circuitplan.planfile.wishes.things import Thing, words_of
from circuitplan.planfile.wishes.wish import Wish

_JOINTS = re.compile(
    r"\s*;\s*|\s*,\s+(?:(?:and|then|but)\s+)*|\s+(?:and|then|plus|but|&|\+)\s+(?:then\s+)?|"
    r"\s*[?!]\s+|\.\s+(?=(?:does|do|is|will|would|can|could|may|and|then)\b)"
)
_TOO_MUCH = r"(?:be |is |are )?(?:too much|too big|too heavy|too strong) (?:for|on|at|with)"
_ASKS = re.compile(
    r"^(?:(?:does|do|is|would|will|can|may) )?(?P<what>.+?) "
    rf"(?:overloads?|{_TOO_MUCH}|be ok on|be all right on|be fine on|be safe on|"
    r"(?:hold|run|work|fit|hang|go) on) (?P<home>.+)$"
)
_TAKES = re.compile(
    r"^(?:(?:does|do|would|will|can|may) )?(?P<home>.+?) "
    r"(?:take|carry|bear|stand|handle|cope with|work) (?P<what>.+)$"
)
_PARTS = (
    r"(?:circuit|fuse|wire|wiring|switch|battery|alternator|relay|panel|supply|loom|cable|lead)s?"
)
_THE_CIRCUIT = re.compile(r"(?:the|my|our|its|this|that) (?:circuit|fuse|wire|wiring|switch|relay)")
_ONLY_ASKS = re.compile(
    r"(?:and |but |then )?(?:does|do|is|are|will|would|can|could|may|might) "
    rf"(?:it|that|this|they|everything|all|the {_PARTS}) (?:still |then )?(?:all )?(?:be )?"
    r"(?:overload(?:s|ed|ing)?|hold|work|fit|run|ok|okay|all right|alright|fine|safe|enough|"
    r"possible|too much(?: for)?|blow|trip|melt|burn|heat up|keep up|last|cope|take it|carry it|"
    rf"stand it)(?: up| out| then| still)?(?: (?:the|my|our|its|that|this|any) {_PARTS})?"
)
"""A question about the whole that names nothing new: the answer is given anyway."""


def understood(plan: Plan, sentence: str) -> list[Wish]:
    """The wishes of a sentence, in order; InputError naming what may be said where it fits none."""
    return _Reader(plan, sentence).wishes()


class _Reader(Swapper):
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
        text, kept = in_one_clause(plain(self.sentence)), dict[str, str]()
        for thing in sorted(self.things.all, key=lambda t: -len(t.name)):
            folded = thing.name.casefold()
            if _JOINTS.search(folded):
                mark = f"\x02{len(kept)}\x03"
                text, kept[mark] = text.replace(folded, mark), folded
        found: list[str] = []
        for number, chunk in enumerate(_JOINTS.split(text)):
            if number and _ONLY_ASKS.fullmatch(chunk.strip(" ?!.")):
                continue
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
        swapped = self.in_place(clause)
        if swapped is not None:
            return swapped
        clause = self._without_pronouns(clause)
        again = re.fullmatch(
            r"choose (?:the )?(.+?)(?:'s)? (fuse|wire|size|switch|length)(?: again)?", clause
        )
        if again:
            return self.told(f"{again[1]} {again[2].replace('wire', 'size')} chosen", clause)
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
            if _THE_CIRCUIT.fullmatch(home) and re.match(r"(?:a|an) ", what) and self.kind_in(what):
                thing = self.only_like(what, clause)
                return self.other_kind(thing, what, f"taken as in place of {thing.name}")
            if self.things.called(home, ("switch", "panel")):
                return self._hang(what, home)
        if verb == "add":
            machine = re.search(r"\b(alternator|battery)(?= of | with |$)", rest)
            if machine and not self.kind_in(rest):
                if word == "add" or re.search(r"\b(?:second|another|extra)\b", rest):
                    raise self.no(f"a further {machine[1]}", f"write it into the plan; to try "
                                   f"another in its place: swap the {machine[1]} for ...")
                return self.machine(machine[1], rest, clause)
            return self._add(rest)
        if verb == "remove":
            return self._remove(rest)
        if verb == "swap":
            return self.swap(rest)
        if word.startswith("fus"):
            rest = lexicon.as_fuse(rest)
        count, noun = counted(rest)
        there = self.things.named(bare(noun), ("accessory",))
        if not verb and count is not None and count > 1 and there is not None:
            return self.told(f"{noun} quantity {count}", clause)
        new = re.match(r"(?:a|an|another|two|three|four|\d+) ", rest)
        if (word == "put" or (not verb and not self.waiting)) and new and self.kind_in(rest):
            return self._add(rest)
        return self.told(rest, clause)

    def _without_pronouns(self, clause: str) -> str:
        if self.last is None:
            return clause
        return re.sub(r"\b(?:it|them|they|its|their)\b", self.last.name.casefold(), clause)

    def _own(self, clause: str) -> bool:
        """Whether a clause without a verb stands for itself: a thing and what is said of it."""
        thing = self.begins_with(clause)
        if thing is None or (self.verb == "swap" and FOR.search(clause)):
            return False
        return len(bare(clause)) > len(thing.name)

    def _hang(self, what: str, home: str) -> list[Wish]:
        there = None if re.match(r"(?:a|an|another|\d+) ", what) else self.things.called(what)
        where = self.things.called(home, ("switch", "panel"))
        assert where is not None
        if there is not None:
            return self.told(f"{there.name.casefold()} on {where.name.casefold()}", what)
        mine = self._worked_by(what, where)
        if len(mine) == 1 and mine[0].quantity == 1 and not lexicon.FURTHER.match(what):
            old = mine[0].name
            if bare(what) == old.casefold():
                raise self.no(f"{where.name} works {old} already", f"to try a second one: add "
                              f"another {bare(what)} on {where.name}")
            note = (f"{where.name} works {old} already, so in its place; to try both: add it on "
                    f"{where.name}")  # fmt: skip
            return self.other_kind(Thing("accessory", old), what, note)
        return self._add(f"{what} on {where.name.casefold()}")

    def _worked_by(self, what: str, switch: Thing) -> list[Accessory]:
        """Accessories of the sort that ``what`` names which a switch works already."""
        return self.like(what, tuple(a for a in self.plan.accessories if switch.name in a.switches))

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
        there = self.things.named(kind, ("accessory",))
        if there is not None and re.match(r"(?:the|my|our) ", text):  # no second one of it
            return self.told(text, text)
        if not kind or (spoken_kinds.fitted(kind) is None and self.things.named(kind)):
            if "fuse" in pairs or "its switch" in pairs:
                return self.told(text, text)
            raise self.no("what is to be added is not said")
        if kinds.find(kind) is None:
            kind, name = self._placed(kind, name, pairs)
        known = kinds.find(kind)
        if (known is None or known.kind == "relay coil") and self._relayed(text):
            return self.told(text, text)
        if known is None:
            raise self.strange_kind(kind)
        if "its switch" in pairs:
            raise self.no("a relay is worked by a switch", "S3 to relay")
        if count is not None and count > 1:
            pairs["quantity"] = str(count)
        notes = []
        if not name and lexicon.FURTHER.match(text):
            name, kind, note = self._one_more(kind, count, pairs)
            notes.append(note)
        if known.kind in spoken_kinds.UNSURE:
            notes.append(f"taken as {spoken_kinds.UNSURE[known.kind]}")
        beside = self._worked_by(kind, Thing("switch", pairs.get("switch", "")))
        if beside:
            notes.append(f"beside {beside[0].name}, which {pairs['switch']} works already")
        new = name or kind[:1].upper() + kind[1:]
        self.last = None if self.things.named(new) else Thing("accessory", new)
        self.things.all.append(Thing("accessory", new))
        note = "; ".join(n for n in notes if n)
        return [Wish("add", f"{name}={kind}" if name else kind, pairs, note)]

    def _placed(self, kind: str, name: str, pairs: dict[str, str]) -> tuple[str, str]:
        """Kind and name of "front led bar"; a word that is a place of the plan is its place."""
        one = spoken_kinds.fitted(kind)
        if one is None or one.count is not None or one.figures:
            return kind, name
        for word in kind.split():
            place = self.things.named(word, ("place",)) if word not in one.kind.split() else None
            if place is not None:
                pairs.setdefault("place", place.name)
        said = self.as_typed(kind)
        new = said[:1].upper() + said[1:]
        taken = {t.name.casefold() for t in self.things.of_sort("accessory")}
        names = (new if n == 1 else f"{new} {n}" for n in range(1, len(taken) + 2))
        return one.kind, name or next(n for n in names if n.casefold() not in taken)

    def _one_more(
        self, kind: str, count: int | None, pairs: dict[str, str]
    ) -> tuple[str, str, str]:
        """(name, kind, note) of "another pair of work lamps": as the one there is, if it is one."""
        known = kinds.find(kind)
        there = [a for a in self.plan.accessories if a.kind and kinds.find(a.kind) == known]
        named = [a for a in there if words_of(kind) <= words_of(a.name)]
        if len(there) > 1 and len(named) == 1:
            there = named
        if len(there) != 1:
            return "", kind, ""
        old, note = there[0], ""
        if "power" not in pairs and "current" not in pairs:
            for key, value, unit in (("power", old.power_w, "W"), ("current", old.current_a, "A")):
                if value is not None:
                    pairs[key] = f"{value:g} {unit}"
                    note = f"as {old.name} is"
        taken = {t.name.casefold() for t in self.things.of_sort("accessory")}
        name = next(n for i in range(2, len(taken) + 3)
                    if (n := f"{old.name} {i}").casefold() not in taken)
        one = (count or 1) < 2 and old.quantity > 1  # one lamp is no "Work lamps 2"
        plain = old.name == kind[:1].upper() + kind[1:]  # the name that it gets anyway
        return "" if one or plain else name, kind if one or plain else old.kind or kind, note

    def _relayed(self, text: str) -> bool:
        if not re.search(r"\brelay\b", text):
            return False
        return self.thing_in(text)[0] is not None

    def _remove(self, text: str) -> list[Wish]:
        thing = self.things.called(text, ("accessory", "switch"))
        if thing is None:
            part = re.fullmatch(r"(.+?)(?:'s)? fuse|(?:the )?fuse (?:of|from|at) (.+)", text)
            if part:
                return self.told(f"{part[1] or part[2]} fuse none", text)
            raise self.nobody(text, ("accessory", "switch"))
        return [Wish("remove", thing.name)]

