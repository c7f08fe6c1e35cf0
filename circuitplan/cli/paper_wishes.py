"""What the user asks of the bench paper, read from the options of ``print``."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from circuitplan.errors import InputError, Problem

if TYPE_CHECKING:
    from circuitplan.planfile.prices import Price
    from circuitplan.report.card_parts import Size
    from circuitplan.report.labels.view import Stock
    from circuitplan.report.paper.bench import Wishes

_SIZE = re.compile(r"([0-9.]+)\s*x\s*([0-9.]+)\s*(mm|in)", re.IGNORECASE)


def wishes(
    vehicles: int,
    reels: str | None,
    prices: Path | None,
    label_size: str | None,
    single: bool,
    card_size: str | None,
    cut_marks: bool,
    fold: bool,
    working: bool,
) -> Wishes:
    """Read every option; raises InputError with all that cannot be used."""
    from circuitplan.report.paper.bench import Wishes

    problems: list[Problem] = []
    lengths = _reels(reels, problems) if reels else ()
    stock = _label(label_size, problems) if label_size else None
    card = _card(card_size, problems) if card_size else None
    found: tuple[Price, ...] = ()
    if prices is not None:
        from circuitplan.planfile.prices import read_prices

        try:
            found = read_prices(prices)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    return Wishes(vehicles, lengths, found, stock, single, card, cut_marks, fold, working)


def size_mm(words: str) -> tuple[float, float] | None:
    """"50x12mm" or "4x6in" as (width, height) [mm], or None."""
    match = _SIZE.fullmatch(words.strip())
    if match is None:
        return None
    try:
        factor = 25.4 if match.group(3).casefold() == "in" else 1.0
        return float(match.group(1)) * factor, float(match.group(2)) * factor
    except ValueError:
        return None


def _reels(words: str, problems: list[Problem]) -> tuple[int, ...]:
    from circuitplan.units import UnitError, parse

    found = []
    for word in words.split(","):
        try:
            found.append(round(1000.0 * parse(word.strip(), "length")))
        except (UnitError, ValueError):
            found.append(0)
        if not 100 <= found[-1] <= 10_000_000:
            problems.append(Problem(f"--reels {words}", f"'{word.strip()}'",
                                    'lengths such as "10 m, 25 m, 100 ft"', ""))
    return tuple(found)


def _label(words: str, problems: list[Problem]) -> Stock | None:
    from circuitplan.report.labels.view import own_size, stocks

    known = stocks()
    if words.strip().casefold() in known:
        return known[words.strip().casefold()]
    size = size_mm(words)
    if size is not None and 15.0 <= size[0] <= 190.0 and 4.0 <= size[1] <= 100.0:
        return own_size(*size)
    problems.append(Problem(f"--label-size {words}", "no label of that size",
                            f"{', '.join(known)}, or WxHmm from 15x4mm to 190x100mm", ""))
    return None


def _card(words: str, problems: list[Problem]) -> Size | None:
    from circuitplan.report.card import LEAST_MM, MOST_MM, SIZES
    from circuitplan.report.card_parts import Size

    plain = words.replace(" ", "").casefold()
    for name, size in SIZES.items():
        if name.casefold() == plain:
            return size
    sides = size_mm(words)
    if sides is not None and all(LEAST_MM <= side <= MOST_MM for side in sides):
        return Size(*sides)
    problems.append(Problem(
        f"--card-size {words}", "no face of that size",
        f"{', '.join(SIZES)}, or WxHmm with sides from {LEAST_MM:g} to {MOST_MM:g} mm", "",
    ))
    return None
