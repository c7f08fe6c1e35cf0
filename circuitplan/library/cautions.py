"""General cautions, what goes wrong, rules often heard, and terminal and reference letters."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Caution:
    """A safety message in three parts, as ANSI Z535.6 asks; ``topic`` groups them."""

    id: str
    signal_word: str
    hazard: str
    consequence: str
    avoidance: str
    topic: str
    status: str
    source: str


@record
class Mishap:
    """One way in which installations fail, and which rules say so beforehand."""

    id: str
    what_happened: str
    what_to_say: str
    said_by: tuple[str, ...]
    status: str
    source: str


@record
class RuleOfThumb:
    """A rule heard in the trade. ``used`` False: printed as "often heard, not used"."""

    id: str
    text: str
    used: bool
    why: str
    status: str
    source: str


@cache
def general() -> tuple[Caution, ...]:
    """The general cautions, in table order."""
    return tuple(
        Caution(
            row["id"],
            row["signal_word"],
            row["hazard"],
            row["consequence"],
            row["avoidance"],
            row["topic"],
            row["status"],
            row["source"],
        )
        for row in store.rows("cautions")
    )


@cache
def mishaps() -> tuple[Mishap, ...]:
    """The twenty ways in which installations fail."""
    return tuple(
        Mishap(
            row["id"],
            row["what_happened"],
            row["what_to_say"],
            tuple(row["said_by"].split(";")),
            row["status"],
            row["source"],
        )
        for row in store.rows("what_goes_wrong")
    )


@cache
def rules_of_thumb() -> tuple[RuleOfThumb, ...]:
    """Rules heard in the trade, used or not."""
    return tuple(
        RuleOfThumb(
            row["id"],
            row["rule"],
            store.yes(row["used"]),
            row["why"],
            row["status"],
            row["source"],
        )
        for row in store.rows("rules_of_thumb")
    )


def terminal(number: str) -> str | None:
    """Meaning of a terminal number of DIN 72552, or None."""
    rows = store.rows("terminals_din72552")
    return next((row["meaning"] for row in rows if row["terminal"] == number), None)


def reference_letter(object_name: str) -> str | None:
    """Single reference letter of IEC 81346-2 for an object ("fuse", "load relay"), or None."""
    rows = store.rows("reference_letters")
    return next((row["letter"] for row in rows if row["object"] == object_name), None)
