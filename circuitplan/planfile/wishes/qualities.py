"""What a clause says of a thing: "on switch 3, 6 mm2, 8 m, with a 40 A fuse" -> keys and values."""

from __future__ import annotations

import re

from circuitplan.errors import InputError, Problem
from circuitplan.planfile import fields
from circuitplan.planfile.key_forms import Section
from circuitplan.planfile.wishes.lexicon import ARTICLES, PLACERS, QUANTITY, quantities, split
from circuitplan.planfile.wishes.things import Thing, Things

Pair = tuple[str, str]

SECTIONS: dict[str, Section] = {
    "accessory": fields.ACCESSORY, "switch": fields.SWITCH, "panel": fields.PANEL,
    "battery": fields.BATTERY, "place": fields.PLACE, "scenario": fields.SCENARIO,
    "alternator": fields.ALTERNATOR,
}  # fmt: skip

# What a lone quantity means, by what it is said of.
_LONE = {
    "accessory": {"size": "size", "length": "length", "power": "power", "current": "current"},
    "switch": {"current": "rating", "size": "lead size"},
    "panel": {"size": "size", "length": "length", "current": "rating"},
    "battery": {"charge": "capacity"},
    "place": {"heat": "ambient"},
    "scenario": {"time": "duration"},
    "alternator": {"current": "rated"},
}
_FUSE_TYPE = r"(?: (?:class t|bolt-in|sf30|sf51|[cef]))?"
_VALUE = QUANTITY.pattern.replace("?P<number>", "").replace("?P<unit>", "")
_AMPS = rf"(?P<amps>{_VALUE})"
_BETWEEN = r"(?: (?:of|to|at|with|for|is|on|a|an|the))*"
_FUSES = (
    rf"{_AMPS}(?P<type>{_FUSE_TYPE}) (?:fuse|breaker)",
    rf"(?:fuse|breaker|fused|fusing){_BETWEEN} {_AMPS}(?P<type>{_FUSE_TYPE})(?= |$)",
    r"(?P<none>no|without (?:a )?) ?fuse\b",
    r"(?:fuse|fused) (?P<word>none|chosen)",
)
_CHEMISTRIES = {
    "agm": "agm", "gel": "gel", "flooded": "flooded", "wet": "flooded", "lifepo4": "lifepo4",
}
_FILLERS = frozenset(
    split(
    "away draws pulls were enough shall should will a an the to of with and its it on at by in "
    "up down is be as only now wire wires cable "
    "lead run way long each instead that which has gets takes through from for rating rated "
    "size sized length fitted made work works worked let there fed"
)
)


class Qualities:
    """Takes what it knows out of a text; ``left`` is what it does not know."""

    def __init__(self, text: str, thing: Thing, things: Things) -> None:
        self.thing, self.things, self.found = thing, things, list[Pair]()
        self.left = f" {' '.join(text.replace('=', ' ').split())} "
        if re.search(rf"\bby {QUANTITY.pattern}", self.left):
            raise InputError([Problem(f'"{text}"', "a difference", "the new value, as to 8 m",
                                      "say how much it shall be, not how much more or less")])
        self.left = re.sub(
            rf"\b(?:from|instead of|rather than) (?:(?:the|a|an|its) )?{QUANTITY.pattern}"
            r"(?: (?:one|fuse|wire|cable))?(?= |$)", " ", self.left)
        self.left = f" {' '.join(self.left.split())} "
        self._without_the_old_home()
        self._connector()
        self._relay()
        self._fuse()
        if thing.sort in ("accessory", "switch", "panel"):
            self._homes()
        self._starts()
        self._pieces()
        self._keys()
        self._lone()
        self.left = " ".join(self.left.split())

    def _without_the_old_home(self) -> None:
        """ "from S3 to S1", "on S1 instead of S3": what it leaves is not where it is to go."""
        if self.thing.sort != "accessory":
            return
        given = next((a for a in self.things.plan.accessories if a.name == self.thing.name), None)
        for old in self.things.of_sort("switch", "panel", "battery", "place"):
            words = "instead of|rather than" + ("|from|off" if old.sort == "switch" else "")
            name = re.escape(old.name.casefold())
            match = re.search(rf" (?:{words}) (?:the |switch )*{name}(?= )", self.left)
            if match is None or given is None:
                continue
            if old.name not in (*given.switches, given.fed_from, given.place):
                raise InputError([Problem(f'"{self.left.strip()}"', f"{given.name} is not on "
                                          f"{old.name}", "where it is, or where it is to go", "")])
            self._take(match)
            self.left = f" {' '.join(self.left.split())} "

    @property
    def strange(self) -> str:
        """The words that nothing was made of, without small words."""
        known = _FILLERS | {self.thing.sort}
        return " ".join(w for w in self.left.split() if w not in known)

    def _take(self, match: re.Match[str], *pairs: Pair) -> None:
        self.left = f"{self.left[: match.start()]} {self.left[match.end() :]}"
        self.found += pairs

    def _connector(self) -> None:
        """A connector by its ways, one of its figures, or none."""
        if self.thing.sort not in ("accessory", "panel"):
            return
        lead = rf"(?:\b(?:{PLACERS}|with) )*(?:{ARTICLES} )?"
        match = re.search(rf"{lead}\b(?P<ways>\d+)[ -](?:way|pole|pin)s? connector(?= )", self.left)
        if match is not None:
            self._take(match, ("connector", f"{match['ways']}-way"))
        match = re.search(rf"{lead}\bconnector (?:with |of )?(?P<key>rating|contact)s? "
                          rf"(?:of |to |at |is )?(?P<value>{_VALUE})(?: blades?)?(?= )", self.left)
        if match is not None:
            self._take(match, (f"connector {match['key']}", quantities(match["value"])[0].text))
        match = re.search(r"(?<= )(?:no|without(?: a)?) connector(?= )", self.left)
        if match is not None:
            self._take(match, ("connector", "chosen"))

    def _relay(self) -> None:
        pattern = (rf"(?:\b(?:{PLACERS}|type|as|let|work|works|worked|that) )*"
                   rf"(?:(?:{ARTICLES}) )?\b(?P<word>relay|relays|direct|output)\b(?! coil)")
        match = re.search(pattern, self.left)
        if match is None or self.thing.sort not in ("switch", "accessory"):
            return
        word = match["word"].removesuffix("s")
        if self.thing.sort == "switch":
            self._take(match, ("type", word))
        elif word == "relay":
            self._take(match, ("its switch", "relay"))

    def _fuse(self) -> None:
        for pattern in _FUSES:
            match = re.search(rf"(?:\b{PLACERS} )?(?:{ARTICLES} )?{pattern}", self.left)
            if match is None:
                continue
            parts = match.groupdict()
            if parts.get("amps"):
                if quantities(parts["amps"])[0].sort != "current":
                    continue
                value = quantities(parts["amps"])[0].text + _family(parts.get("type") or "")
            else:
                value = parts.get("word") or "none"
            # A breaker is another device than a fuse: it has a key of its own.
            self._take(match, ("breaker" if "breaker" in match[0] else "fuse", value))
            return

    def _homes(self) -> None:
        """Switches, panels, batteries and places that it is to hang on or to sit in."""
        switches = []
        for name in (s.name.casefold() for s in self.things.plan.switches):
            self.left = re.sub(rf"(?:\bor|/) (?={re.escape(name)} )", "on ", self.left)
        spoken = rf"(?:\b(?:{PLACERS}) )?(?:the )?\b(?:switch|output|button)(?: no\.?| number)?" \
                 r"(?: to)? (\w+)"
        for pattern in (spoken, r"(?:\b(?:" + PLACERS + r") )?(?:the )?(\w+) (?:switch|button)\b"):
            while self.thing.sort == "accessory" and (match := re.search(pattern, self.left)):
                switch = self.things.switch(match[1])
                if switch is None and match[1] != "chosen":
                    break
                self._take(match)
                switches.append("chosen" if switch is None else switch.name)
        wanted = sorted(self.things.all, key=lambda t: (-len(t.name), t.sort != "panel"))
        for thing in wanted:
            if thing == self.thing or thing.sort not in ("switch", "panel", "battery", "place"):
                continue
            if thing.name.casefold() not in self.left:
                continue
            match = re.search(
                rf"(?:\b(?:{PLACERS}|fed from|place) )+(?:(?:{ARTICLES}) )?"
                rf"{re.escape(thing.name.casefold())}(?=[ ,])", self.left,
            )
            if match is None:
                continue
            if thing.sort == "switch" and self.thing.sort == "accessory":
                self._take(match)
                switches.append(thing.name)
            elif thing.sort in ("panel", "battery") and self.thing.sort != "battery":
                self._take(match, ("fed_from", thing.name))
            elif thing.sort == "place":
                self._take(match, ("place", thing.name))
        if switches:
            self.found.append(("switch", ", ".join(dict.fromkeys(switches))))

    def _starts(self) -> None:
        if self.thing.sort != "accessory":
            return
        for key, words in (("inrush", "(?:soft start )?inrush(?: current)?|starting current|"
                                      "soft start"),
                           ("peak", "peak(?: current)?")):
            for pattern in (rf"{_AMPS} (?:of )?(?:{words})", rf"(?:{words}){_BETWEEN} {_AMPS}"):
                match = re.search(rf"(?:{ARTICLES} )?(?:{pattern})", self.left)
                if match is not None:
                    self._take(match, (key, quantities(match["amps"])[0].text))

    def _pieces(self) -> None:
        match = re.search(r"(?<= )(chassis|wire)[- ]return(?= )", self.left)
        if match is not None and self.thing.sort == "accessory":
            self._take(match, ("return", match[1]))
        match = re.search(r"(?<= )(\d+) (?:pieces|pcs|off|in number)(?= )", self.left)
        if match is not None and self.thing.sort == "accessory":
            self._take(match, ("quantity", match[1]))

    def _keys(self) -> None:
        """Keys of the plan by their own names, with the value after them."""
        section = SECTIONS[self.thing.sort]
        spelled = [(w, f.key) for f in section.fields for w in (f.key, *f.also)]
        names = [t.name.casefold() for t in self.things.all if t.sort in ("accessory", "switch")]
        value = "|".join(
            [r"\d+(?:\.\d+)? \w+ in \d+(?:\.\d+)? \w+", QUANTITY.pattern.replace(
                "?P<number>", "").replace("?P<unit>", ""), "high idle"]
            + [re.escape(n) for n in sorted(names, key=len, reverse=True)] + [r"[\w.-]+"]
        )
        for word, key in sorted(spelled, key=lambda pair: -len(pair[0])):
            if word.replace("_", " ") not in self.left.replace("_", " ").replace("-", " "):
                continue  # the search below is slow, and few keys are said
            spoken = word.replace("_", "[ _-]")
            match = re.search(rf"(?<= ){spoken}(?: (?:of|to|at|is|=|with|from))* ({value})(?= )",
                              self.left)
            if match is None or (match[1] in _FILLERS and (key, match[1]) != ("return", "wire")):
                continue
            measured = quantities(match[1])
            plain = measured[0].text if len(measured) == 1 else match[1]
            named = self.things.named(match[1], ("accessory", "switch"))
            plain = named.name if named and key in ("needs", "never_with", "switch") else plain
            self._take(match, (key, plain))

    def _lone(self) -> None:
        meanings = _LONE[self.thing.sort]
        for quantity in reversed(quantities(self.left)):
            key = meanings.get(quantity.sort)
            if key is None or any(k == key for k, _ in self.found):
                continue
            self.left = f"{self.left[: quantity.start]} {self.left[quantity.end :]}"
            self.found.append((key, quantity.text))
        if self.thing.sort == "battery":
            for word in self.left.split():
                if word in _CHEMISTRIES:
                    self.left = self.left.replace(f" {word} ", " ", 1)
                    self.found.append(("type", _CHEMISTRIES[word]))
        if self.thing.sort == "scenario" and not any(k == "engine" for k, _ in self.found):
            match = re.search(r"(?:the )?(?:engine )?(?:at |to )?\b(high idle|idle|cruise|off)\b",
                              self.left)
            if match is not None:
                self._take(match, ("engine", match[1]))


def _family(words: str) -> str:
    """ "class t" as the plan writes it."""
    word = words.strip()
    if not word:
        return ""
    return " class T" if word == "class t" else f" {word if word == 'bolt-in' else word.upper()}"
