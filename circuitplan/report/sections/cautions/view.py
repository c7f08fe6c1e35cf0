"""General cautions, and what takes precedence over this document."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.library import cautions
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.table import SafetyMessage

_ORDER = {"DANGER": 0, "WARNING": 1, "CAUTION": 2, "NOTICE": 3}


@dataclass(frozen=True, slots=True)
class View:
    precedence: tuple[str, ...]
    isolate: tuple[str, ...]
    messages: tuple[SafetyMessage, ...]


def build(plan: Plan, result: Result) -> View:
    """Messages worst first, each table order kept within its signal word."""
    rows = sorted(cautions.general(), key=lambda c: _ORDER[c.signal_word])
    return View(
        precedence=(
            "Local codes and law, the instructions of the vehicle's and the accessories' makers, "
            "and licensed practice take precedence over this document.",
            "It plans extra-low-voltage direct-current circuits (60 V at most). It does not cover "
            "alternating current, airbag, brake or stability circuits: keep off them.",
            "Read it all before work begins. Work is for people who are trained for it, or "
            "licensed where the law asks; this document certifies nothing.",
        ),
        isolate=result.supply.isolate,
        messages=tuple(
            SafetyMessage(c.signal_word, *map(_sentence, (c.hazard, c.consequence, c.avoidance)))
            for c in rows
        ),
    )


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!")) else f"{text}."
