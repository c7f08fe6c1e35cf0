"""The cures that the design found by trying, as the remedy of a finding."""

from __future__ import annotations

from circuitplan.model.result import Circuit, Cure, PanelResult

MOST = 3


def of(owner: Circuit | PanelResult, rule: str, fuse: str) -> tuple[Cure, ...]:
    """Cures of one rule at one fuse, cheapest first."""
    return tuple(c for c in owner.cures or () if c.rule == rule and c.fuse == fuse)


def remedy(
    owner: Circuit | PanelResult, rule: str, fuse: str, otherwise: str
) -> tuple[str, str | None]:
    """(words, words for ``try --change``) of the cheapest cure, further ones after it.

    ``otherwise`` is said where nothing tried mends it.
    """
    found = of(owner, rule, fuse)
    if owner.cures is None:
        return otherwise, None
    if not found:
        return f"{otherwise} (No other fuse, wire size or length alone mends it: all tried.)", None
    words = [found[0].words]
    words += [f"Or: {cure.words[0].lower()}{cure.words[1:]}" for cure in found[1:MOST]]
    return " ".join(words), found[0].change
