"""Practices: published thresholds by trade, as data. A practice only tightens ``general``."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Threshold:
    """One threshold of one practice. ``value`` None: a rule in words only.

    ``tighter`` says whether the lower or the higher value is the stricter one. ``used`` False:
    published, but looser than general: shown, not used.
    """

    id: str
    practice: str
    key: str
    value: float | None
    unit: str
    tighter: str
    text: str
    clause: str
    used: bool
    status: str
    source: str


@record
class Practice:
    """The thresholds of one practice, with those of ``general`` beneath them."""

    name: str
    own: tuple[Threshold, ...]
    general: tuple[Threshold, ...]

    def row(self, key: str) -> Threshold | None:
        """The threshold that rules: the stricter of this practice's and the general one.

        Thresholds that are shown only (``used`` False) never rule: see ``published``.
        """
        own = next((row for row in self.own if row.key == key and row.used), None)
        general = next((row for row in self.general if row.key == key and row.used), None)
        if own is None or general is None:
            return own or general
        if own.value is None or general.value is None:
            return own
        stricter = (
            own.value < general.value if own.tighter == "lower" else own.value > general.value
        )
        return own if stricter or own.value == general.value else general

    def published(self, key: str) -> Threshold | None:
        """The threshold as this practice's own documents print it, even if general is stricter."""
        return next((row for row in self.own if row.key == key), None)

    def value(self, key: str) -> float | None:
        """The number that rules, or None where there is no such threshold."""
        row = self.row(key)
        return None if row is None else row.value

    def keys(self) -> tuple[str, ...]:
        """All keys that this practice or general knows."""
        return tuple(dict.fromkeys(row.key for row in (*self.general, *self.own)))


@cache
def _rows(name: str) -> tuple[Threshold, ...]:
    return tuple(
        Threshold(
            row["id"],
            row["practice"],
            row["key"],
            store.number(row["value"]),
            row["unit"],
            row["tighter"],
            row["text"],
            row["clause"],
            store.yes(row["used"]),
            row["status"],
            row["source"],
        )
        for row in store.rows("practices")
        if row["practice"] == name
    )


def names() -> tuple[str, ...]:
    """All practices: general first."""
    return tuple(dict.fromkeys(row["practice"] for row in store.rows("practices")))


@cache
def get(name: str) -> Practice | None:
    """The practice ``name`` (case, hyphens and spaces forgiven), or None."""
    wanted = " ".join(name.lower().replace("-", " ").split())
    if wanted not in names():
        return None
    return Practice(wanted, _rows(wanted), _rows("general"))
