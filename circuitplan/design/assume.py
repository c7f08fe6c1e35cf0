"""The ledger of assumptions: every value that the plan did not give is taken here, and listed.

An assumption has a safe end and a favourable end. The design takes the safe one; the planner
asks for the favourable one only to tell NOT OK (fails at both ends) from CANNOT SAY (hangs on a
value that nobody has given).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field

from circuitplan.model.result import Assumption


@dataclass(slots=True)
class Ledger:
    """Collects assumptions while the design runs.

    ``favourable`` holds the keys (subject, what) to be taken at their favourable end; ``None``
    takes every one there.
    """

    favourable: Collection[tuple[str, str]] | None = ()
    entries: dict[tuple[str, str], Assumption] = field(default_factory=dict)
    two_ended: set[tuple[str, str]] = field(default_factory=set)

    def take(
        self,
        subject: str,
        what: str,
        safe: float,
        unit: str,
        source: str,
        status: str,
        favourable: float | None = None,
    ) -> float:
        """Record and return the value to use; without a favourable end it is always ``safe``."""
        key = (subject, what)
        if favourable is not None and favourable != safe:
            self.two_ended.add(key)
        chosen = safe
        if favourable is not None and (self.favourable is None or key in self.favourable):
            chosen = favourable
        self._note(key, f"{chosen:.4g} {unit}".strip(), source, status)
        return chosen

    def favours(self, subject: str, what: str, value: str, source: str, status: str) -> bool:
        """Record a two-ended assumption without a number; True: take its favourable end."""
        key = (subject, what)
        self.two_ended.add(key)
        self._note(key, value, source, status)
        return self.favourable is None or key in self.favourable

    def say(self, subject: str, what: str, value: str, source: str, status: str) -> None:
        """Record an assumption that is a word rather than a number."""
        self._note((subject, what), value, source, status)

    def _note(self, key: tuple[str, str], value: str, source: str, status: str) -> None:
        self.entries[key] = Assumption(key[0], key[1], value, source, status)

    def forget(self, subject: str) -> None:
        """Drop what was assumed of a thing that turned out not to be there."""
        for key in [k for k in self.entries if k[0] == subject or k[0].startswith(f"{subject} ")]:
            del self.entries[key]
            self.two_ended.discard(key)

    def listed(self) -> tuple[Assumption, ...]:
        """All assumptions, in the order of subject and matter."""
        return tuple(self.entries[key] for key in sorted(self.entries))
