"""The tolerance study on a terminal: what may fail on a real vehicle, and what to measure."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from circuitplan.cli.terminal.text import Column, ink, page_width, table, wrap
from circuitplan.planner.tolerance import Chance, Tolerance

SURE = 0.9995
"""Limits that hold at least so often are only counted (judgement)."""

MOST_TOLD = 5


def tolerance_lines(found: Tolerance, circuits: Collection[str] | None = None) -> Iterator[str]:
    """What ``check --tolerance`` adds; ``circuits`` keeps those circuits and feeders alone."""
    mine = [c for c in found.chances if circuits is None or c.circuit in circuits]
    risky = sorted((c for c in mine if c.low < SURE), key=lambda c: (c.chance, c.circuit, c.limit))
    yield ""
    yield ink("TOLERANCE, if vehicles, wire and days vary as they do", "head")
    if risky:
        columns = (
            Column("Circuit", 20),
            Column("Limit", 14),
            Column("Holds in", right=True),
            Column("95 % interval", right=True),
            Column("Most of it from", 34, gives_way=True),
        )
        yield from table(columns, [_row(c) for c in risky], width=page_width())
    sure = len(mine) - len(risky)
    if sure:
        yield from wrap(
            f"{sure} of {len(mine)} limits hold in {100 * SURE:g} % of cases or more.", page_width()
        )
    told: set[str] = set()
    for chance in risky:
        if chance.measure is not None and chance.measure not in told and len(told) < MOST_TOLD:
            told.add(chance.measure)
            name = f"{chance.label}, {chance.limit}: "
            yield from wrap(name + chance.measure, page_width(), first="- ", rest="  ")
    if found.not_known:
        yield from wrap(
            f"Not studied: whether {', '.join(found.not_known)} clears, for want of its curve.",
            page_width(),
        )
    yield from wrap(
        f"{found.samples} samples of {found.variables} variables. How they vary is our judgement "
        "for the most part; the verdict above stands on safe values and is not changed by this.",
        page_width(),
    )


def _row(chance: Chance) -> tuple[str, ...]:
    label = chance.label if chance.label.startswith("feeder") else (
        f"{chance.circuit} {chance.label}"
    )
    driver = "several together" if chance.driver is None else (
        f"{chance.driver.share:.0%} {chance.driver.name}"
    )
    if chance.chance in (0.0, 1.0):
        driver = "-"
    interval = f"{_percent(chance.low)[:-2]}–{_percent(chance.high, up=True)}"
    return label, chance.limit, _percent(chance.chance), interval, driver


def _percent(share: float, *, up: bool = False) -> str:
    """Percent with two decimals; never rounded up to 100, upper ends never rounded down."""
    hundredths = share * 10000.0
    whole = -int(-hundredths // 1) if up else int(hundredths + 1e-9)
    return f"{whole / 100:.2f} %"
