"""Wire colours (IEC 60757), which colour serves which role, and the signal words' colours."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class WireColour:
    """A wire colour: ``code`` as in IEC 60757, ``name`` in English, ``screen_hex`` to draw it."""

    code: str
    name: str
    screen_hex: str
    for_wires: bool
    status: str
    source: str


@record
class ColourUse:
    """The colours of one role in one scheme: base and, where a stripe is used, tracer (codes)."""

    scheme: str
    role: str
    base: str
    tracer: str | None
    meaning: str
    status: str
    source: str

    @property
    def text(self) -> str:
        """Base and tracer as printed on labels: RD/WH is a red base with a white tracer."""
        return f"{self.base}/{self.tracer}" if self.tracer else self.base


@record
class SignalWord:
    """A signal word with its meaning and print colours (approximate screen values)."""

    word: str
    meaning: str
    alert_symbol: bool
    ground_hex: str
    letters_hex: str
    status: str
    source: str


@cache
def wire_colours() -> tuple[WireColour, ...]:
    """All colours of IEC 60757, in the order of the standard."""
    return tuple(
        WireColour(
            row["code"],
            row["name"],
            row["screen_hex"],
            store.yes(row["for_wires"]),
            row["status"],
            row["source"],
        )
        for row in store.rows("wire_colours")
    )


def wire_colour(code: str) -> WireColour | None:
    """The colour of a code or an English name, whatever the case, or None."""
    wanted = code.strip().lower()
    for colour in wire_colours():
        if wanted in (colour.code.lower(), colour.name):
            return colour
    return None


@cache
def uses(scheme: str) -> tuple[ColourUse, ...]:
    """All roles of a scheme: "road vehicle" or "small craft"."""
    return tuple(
        ColourUse(
            row["scheme"],
            row["role"],
            row["base"],
            row["tracer"] or None,
            row["meaning"],
            row["status"],
            row["source"],
        )
        for row in store.rows("colour_use")
        if row["scheme"] == scheme
    )


def for_role(scheme: str, role: str) -> ColourUse | None:
    """The colour of a role in a scheme, or None."""
    return next((use for use in uses(scheme) if use.role == role), None)


@cache
def signal_words() -> tuple[SignalWord, ...]:
    """DANGER, WARNING, CAUTION, NOTICE: worst first."""
    return tuple(
        SignalWord(
            row["word"],
            row["meaning"],
            store.yes(row["alert_symbol"]),
            row["ground_hex"],
            row["letters_hex"],
            row["status"],
            row["source"],
        )
        for row in store.rows("signal_words")
    )
