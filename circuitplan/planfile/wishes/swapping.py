"""Clauses that put another thing in the place of one: "a twin-motor one in place of mine"."""

from __future__ import annotations

import re
from dataclasses import replace

from circuitplan.library import kinds
from circuitplan.model.plan import Accessory
from circuitplan.planfile import spoken_kinds
from circuitplan.planfile.wishes import lexicon
from circuitplan.planfile.wishes.consequences import changed
from circuitplan.planfile.wishes.lexicon import bare, counted
from circuitplan.planfile.wishes.qualities import Qualities
from circuitplan.planfile.wishes.setting import Setter
from circuitplan.planfile.wishes.things import SORTS, Thing, words_of
from circuitplan.planfile.wishes.wish import Wish

FOR = re.compile(r" (?:for|with|by|to|against|into) ")
_HAVE = r"(?:have|had|get|take|want|run|use|fit|put|put in|install|mount|add|buy|make it)"
_SAME = r"(?:in (?:the )?place of|instead of|rather than|to replace|as a replacement for)"
_IN_PLACE = (
    re.compile(rf"(?:{_HAVE} |(?:does|would|will|could|can) )?(?P<new>.+?)"
               rf"(?: (?:fit|work|run|hold))? {_SAME} (?P<old>.+?)"
               r"(?P<home> (?:on|at|in|with) .+)?"),
    re.compile(rf"{_SAME} (?P<old>.+?),? (?:i |we )?{_HAVE} (?P<new>.+?)(?P<home>)"),
)
_INSTEAD = re.compile(rf"(?:{_HAVE} )?(?P<new>.+?) instead(?: of (?:it|that|this))?")
_MINE = re.compile(
    r"(?:mine|ours|(?:the )?(?:one|what) "
    r"(?:(?:that )?(?:i|we)(?:'ve)? (?:have|got|have got|run|use)(?: now)?|"
    r"(?:that is |that's )?(?:there|fitted|in it)(?: now)?)|"
    r"(?:the |my |our )?(?:old|existing|present|current|fitted) (?:one|ones)|"
    r"(?:the one|the ones))(?: now)?"
)
_THERE = re.compile(r"^((?:the|my|our) )(?:existing|old|present|current) (?!ones?$)")
_BROAD = frozenset({"lamp", "pump", "motor", "socket", "heater", "fan"})
"""Nouns that say little: an awning lamp is not of the sort of a work lamp."""
_ALIKE = frozenset({"lamp", "led"})  # "light bar" and "led bar" differ in nothing else


class Swapper(Setter):
    """Reads swaps; an accessory is of the sort of another where kind or last word are the same."""

    def in_place(self, clause: str) -> list[Wish] | None:
        """The swap that "X in place of Y", "instead of Y fit X" or "X instead" mean; else None."""
        for pattern in _IN_PLACE:
            match = pattern.fullmatch(clause)
            if match is None or lexicon.QUANTITY.match(bare(match["old"])):
                continue
            new, old = match["new"], match["old"]
            old = _THERE.sub(r"\1", old)
            if _MINE.fullmatch(old):
                thing = self.only_like(new, clause)
            else:
                there = self.things.called(old, ("accessory",))
                if there is None:
                    continue
                thing = there
            if re.match(r"(?:the|my|our) ", new) and self.things.named(bare(new), ("accessory",)):
                raise self.no(f"{bare(new)} is there already, in a place of its own",
                              f"remove {thing.name}; move NAME to a switch, a place or a panel")
            return self.other_kind(thing, f"{new}{self._of_the_new(thing, match['home'])}")
        match = _INSTEAD.fullmatch(clause)
        if match is None:
            return None
        new = match["new"]
        other = re.match(r"(?:a|an|one|another|two|three|four|\d+) ", new)
        definite = re.match(r"(?:the|my|our|its) ", new) or self.begins_with(new)
        if (definite and not other) or lexicon.verb_of(new)[0]:
            return None  # "run the bar on S2 instead": no other thing
        if self.last is not None and self.last.sort == "accessory":
            return self.other_kind(self.last, new)
        return self.other_kind(self.only_like(new, clause), new)

    def _of_the_new(self, thing: Thing, home: str | None) -> str:
        """ "... in place of the compressor on S3": where the old one is says nothing of the new."""
        if not home or not home.startswith((" on ", " at ", " in ")):
            return home or ""
        switch = self.things.called(home[4:], ("switch",))
        if switch is None:
            return home
        given = next(a for a in self.plan.accessories if a.name == thing.name)
        if switch.name not in given.switches:
            raise self.no(f"{thing.name} is not on {switch.name}", f"swap {thing.name} for ... on "
                          f"{switch.name}")
        return ""

    def only_like(self, new: str, clause: str) -> Thing:
        """The one accessory of the sort that ``new`` names; InputError where none or several."""
        found = self.like(new, self.plan.accessories)
        if len(found) != 1:
            names = ", ".join(a.name for a in found) or "none"
            said = f"'{clause}' does not say which one goes; of that sort the plan has {names}"
            raise self.no(said, "swap NAME for a KIND")
        return Thing("accessory", found[0].name)

    def like(self, new: str, among: tuple[Accessory, ...]) -> list[Accessory]:
        """Those of ``among`` of the sort that ``new`` names: of its kind, else its noun."""
        said = bare(counted(re.sub(r" (?:on|at|in|with) .*$", "", f"{new} ").strip())[1])
        words = re.sub(lexicon.QUANTITY, " ", said).split()
        if not words:
            return []
        if words[-1] in ("one", "ones"):
            noun = {a.name: _noun(a) for a in among}
            return [
                a for a in among if len(words) > 1
                and (kind := kinds.find(" ".join((*words[:-1], noun[a.name])))) is not None
                and noun[a.name] in words_of(kind.kind)
            ]
        known = next((k for n in range(len(words)) if (k := kinds.find(" ".join(words[n:])))), None)
        same = [a for a in among if known is not None and a.kind and kinds.find(a.kind) == known]
        last = words_of(words[-1])
        nouns = [
            a for a in among if last == words_of(_noun(a))
            and (not last & _BROAD or words_of(a.kind or a.name) <= words_of(said))
        ]
        return same if len(same) == 1 else nouns if known is not None else []

    def swap(self, text: str) -> list[Wish]:
        """ "the compressor for a twin-motor one", after the verb."""
        parts = FOR.split(text, maxsplit=1)
        if len(parts) < 2:
            raise self.no("what shall take its place is not said", "swap NAME for a KIND")
        old, new = parts
        of_it = re.fullmatch(r"(?:the )?(.+?)(?:'s)? (fuse|wire|cable)|"
                             r"(?:the )?(fuse|wire|cable) (?:of|on|to) (.+)", old)
        if (of_it and self.things.called(old, SORTS[:3]) is None) or (of_it and \
                "fuse" in (of_it[2], of_it[3])):
            what, whose = of_it[2] or of_it[3], of_it[1] or of_it[4]
            new = re.sub(r"\b(?:one|fuse|wire|cable)\b", "", new)
            return self.told(f"{whose} {what if what == 'fuse' else ''} {new}", text)
        thing = self.things.called(old, (*SORTS[:4], "alternator"))
        if thing is None:
            raise self.nobody(old, (*SORTS[:4], "alternator"))
        if thing.sort in ("alternator", "battery"):
            new = re.sub(rf"\b{thing.sort}\b", "", new)
        if thing.sort != "accessory":
            return self.made(thing, re.sub(r"\bone\b", "", bare(new)), text, new=True)
        return self.other_kind(thing, new)

    def other_kind(self, thing: Thing, new: str, note: str = "") -> list[Wish]:
        """The wishes that put ``new`` in the place of an accessory."""
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
            if left != noun and kinds.find(left) is None and kinds.find(f"{left} {noun}"):
                left = f"{left} {noun}"  # "a twin" in place of a compressor
            if left != noun and kinds.find(left) is None:
                raise self.strange_kind(left)
            kind = left
        elif said.strange:
            raise self.no(f"'{said.strange}' is not understood")
        if spoken_kinds.elsewhere(kind) is not None:
            raise self.strange_kind(kind)  # a relay in place of a lamp
        wishes = []
        if kinds.find(kind) != kinds.find(given.kind or "") and _in_other_words(kind, given):
            kind = noun
        same = kind == noun and (not kinds.find(kind) or noun not in rest.split())
        if not same:
            wishes.append(Wish("swap", f"{thing.name}={kind}"))
        pairs = list(said.found)
        if count is not None and count != given.quantity:
            pairs.append(("quantity", str(count)))
        alike = not same and kinds.find(kind) == kinds.find(given.kind or "")
        if (same or alike) and not pairs:
            raise self.no("what is different about the new one is not said")
        wishes += changed(self.plan, thing, pairs, swapped=not same)
        return [replace(wishes[0], note=note or wishes[0].note), *wishes[1:]]


def in_one_clause(text: str) -> str:
    """ "instead of the compressor, fit a twin-motor one": without the comma, as one clause."""
    return re.sub(rf"^({_SAME} [^,;]+), ((?:i |we )?{_HAVE} )", r"\1 \2", text)


def _noun(accessory: Accessory) -> str:
    """What sort of thing it is: the last word of its kind, or of its name."""
    return (accessory.kind or accessory.name).casefold().split()[-1]


def _in_other_words(left: str, given: Accessory) -> bool:
    """Whether words name the kind that is there, "light" or "led" more or less."""
    said = words_of(left) - _ALIKE
    return bool(said) and said == words_of(given.kind or given.name) - _ALIKE
