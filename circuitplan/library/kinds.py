"""Kinds of accessories: generic draws, inrush, duty, and what each asks of its circuit."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Kind:
    """One generic kind of accessory. Currents are those of one piece at 12 V.

    ``load``: constant power, constant current, resistance, filament, solenoid, motor, torque motor
    or fan motor. ``high_a`` sizes wire and fuse; ``typical_a`` times ``duty`` sets battery time.
    ``scaling``: "power" halves the current at 24 V, "none" keeps it. ``inrush_multiple`` of the
    high current for ``inrush_ms``; ``inrush_low_multiple`` is its lower end, for a stalled motor
    that a fuse must clear. ``on_s``/``off_s``: short-time duty, None means continuous.
    ``drop_class``: general, intermittent motor or critical. ``contact_class``: lamp, resistive,
    ptc, motor, inductive, capacitive or contactor. ``protection``: full, or short-circuit only.
    ``max_fuse_a``: largest fuse that its contacts bear (sockets), or None. ``min_v``: lowest
    voltage it works at, for 12 V; None where none is published. ``letter``: of IEC 81346-2.
    """

    kind: str
    aliases: tuple[str, ...]
    family: str
    load: str
    low_a: float
    typical_a: float
    high_a: float
    scaling: str
    inrush_low_multiple: float
    inrush_multiple: float
    inrush_ms: float
    inrush_known: bool
    on_s: float | None
    off_s: float | None
    duty: float
    drop_class: str
    contact_class: str
    protection: str
    min_v: float | None
    letter: str
    chassis_return_ok: bool
    always_live: bool
    run_on: bool
    momentary: bool
    stalls: bool
    own_contactor: bool
    max_fuse_a: float | None
    parked_a: float
    hazards: str
    note: str
    status: str
    source: str

    def current_at(self, current_a: float, nominal_v: float) -> float:
        """One of this kind's 12 V currents carried to another nominal voltage. [A]"""
        return current_a * 12.0 / nominal_v if self.scaling == "power" else current_a

    def min_v_at(self, nominal_v: float) -> float | None:
        """Lowest voltage it works at, for another nominal voltage. [V]"""
        return None if self.min_v is None else self.min_v * nominal_v / 12.0


@cache
def all() -> tuple[Kind, ...]:
    """Every kind, in table order."""
    return tuple(_typed(row) for row in store.rows("kinds"))


def find(words: str) -> Kind | None:
    """The kind meant by ``words``, or None.

    Case, spaces, hyphens, plural and the order of words are forgiven; aliases count.
    """
    exact = _by_name(" ".join(words.lower().split()))
    if exact is not None:
        return exact
    name = _index().get(_key(words)) or _run_together().get(_joined(words))
    return None if name is None else _by_name(name)


def nearest(words: str, most: int = 3) -> list[str]:
    """Kinds whose wording is nearest to ``words``, best first, for "did you mean"."""
    from difflib import SequenceMatcher

    key = set(_key(words))
    text = " ".join(_words(words))
    scores: dict[str, float] = {}
    for known, name in _index().items():
        shared = len(key & set(known)) / len(key | set(known)) if key & set(known) else 0.0
        alike = SequenceMatcher(None, text, " ".join(known)).ratio()
        # A word in common says more than letters in common: lamp is nearer to led lamp than alarm.
        score = 0.5 + shared / 2 if shared else alike if alike >= 0.6 else 0.0
        scores[name] = max(scores.get(name, 0.0), score)
    order = [row["kind"] for row in store.rows("kinds")]
    ranked = sorted(scores.items(), key=lambda item: (-item[1], order.index(item[0])))
    return [name for name, score in ranked[:most] if score]


@cache
def _index() -> dict[tuple[str, ...], str]:
    """Plain wording -> kind; a kind's own name wins over another's alias."""
    found: dict[tuple[str, ...], str] = {}
    for row in store.rows("kinds"):
        for alias in row["aliases"].split(";"):
            if alias.strip():
                found.setdefault(_key(alias), row["kind"])
    for row in store.rows("kinds"):
        found[_key(row["kind"])] = row["kind"]
    return found


@cache
def _run_together() -> dict[str, str]:
    """The same for wording written as one word: lightbar, dashcam."""
    found: dict[str, str] = {}
    for row in store.rows("kinds"):
        found[_joined(row["kind"])] = row["kind"]
    for row in store.rows("kinds"):
        for alias in row["aliases"].split(";"):
            found.setdefault(_joined(alias), row["kind"])
    found.pop("", None)
    return found


@cache
def _by_name(name: str) -> Kind | None:
    for row in store.rows("kinds"):
        if row["kind"] == name:
            return _typed(row)
    return None


# Words that carry no meaning of their own in "a pair of 12 V rear lamps".
_EMPTY_WORDS = frozenset({"a", "an", "the", "of", "my", "our", "pair", "set", "for", "and"})
_SAME = {"light": "lamp", "tyre": "tire", "12v": "", "24v": "", "volt": "", "colour": "color"}


def _key(words: str) -> tuple[str, ...]:
    """Words in singular, lower case, sorted: "Rock Lights" and "lamp, rock" meet."""
    return tuple(sorted(_words(words)))


def _joined(words: str) -> str:
    return "".join(_words(words)).replace("light", "lamp")


@cache
def _words(words: str) -> tuple[str, ...]:
    """Words in singular and lower case, without those that carry no meaning of their own."""
    plain = "".join(letter if letter.isalnum() else " " for letter in words.lower())
    found = []
    for word in plain.split():
        if word in _EMPTY_WORDS:
            continue
        single = _singular(word)
        single = _SAME.get(single, single)
        if single:
            found.append(single)
    return tuple(found)


def _singular(word: str) -> str:
    if len(word) > 4 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        return word[:-1]
    return word


def _typed(row: dict[str, str]) -> Kind:
    return Kind(
        kind=row["kind"],
        aliases=tuple(alias.strip() for alias in row["aliases"].split(";") if alias.strip()),
        family=row["family"],
        load=row["load"],
        low_a=float(row["low_a"]),
        typical_a=float(row["typical_a"]),
        high_a=float(row["high_a"]),
        scaling=row["scaling"],
        inrush_low_multiple=float(row["inrush_low_multiple"]),
        inrush_multiple=float(row["inrush_multiple"]),
        inrush_ms=float(row["inrush_ms"]),
        inrush_known=store.yes(row["inrush_known"]),
        on_s=store.number(row["on_s"]),
        off_s=store.number(row["off_s"]),
        duty=float(row["duty"]),
        drop_class=row["drop_class"],
        contact_class=row["contact_class"],
        protection=row["protection"],
        min_v=store.number(row["min_v"]),
        letter=row["letter"],
        chassis_return_ok=store.yes(row["chassis_return_ok"]),
        always_live=store.yes(row["always_live"]),
        run_on=store.yes(row["run_on"]),
        momentary=store.yes(row["momentary"]),
        stalls=store.yes(row["stalls"]),
        own_contactor=store.yes(row["own_contactor"]),
        max_fuse_a=store.number(row["max_fuse_a"]),
        parked_a=float(row["parked_a"]),
        hazards=row["hazards"],
        note=row["note"],
        status=row["status"],
        source=row["source"],
    )
