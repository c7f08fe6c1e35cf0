"""A maker's time-current curve, as a CSV beside the plan: read, checked, kept as its own points.

Columns: ``multiple`` (of the rating) or ``current_a``; ``melts_s``, the soonest that it melts or
opens; ``clears_s``, the latest that it has cleared (blank where the maker names no limit).
"""

from __future__ import annotations

import math
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

from circuitplan.errors import Problem
from circuitplan.model.plan import FuseCurve
from circuitplan.planfile.tree import Spot, Troubles

LARGEST_BYTES = 200_000
MOST_POINTS = 400
BEGINS_BY = 2.0
"""A curve that begins above this leaves overloads open in which a wire is hurt."""
SLACK = 1.0 + 1e-6
READING_ERROR = 1.5
"""By how much I²t may seem to rise between two points read off a printed curve (judgement); the
lower one is used."""
COLUMNS = "the columns multiple (or current_a), melts_s, clears_s"


class CurveError(Exception):
    """One thing wrong with the file: what, what is allowed, what to do, and the line."""

    def __init__(self, found: str, allowed: str, remedy: str, line: int | None = None) -> None:
        super().__init__(found)
        self.found, self.allowed, self.remedy, self.line = found, allowed, remedy, line


def read(
    name: str, folder: Path, rating_a: float | None, breaker: bool, spot: Spot, troubles: Troubles
) -> FuseCurve | None:
    """The curve in the file ``name`` of ``folder``; None after noting what is wrong with it."""
    try:
        return _read(name, folder, rating_a, breaker)
    except CurveError as bad:
        where = f"{spot} ({name}{f', line {bad.line}' if bad.line else ''})"
        problem = Problem(where, bad.found, bad.allowed, bad.remedy, spot.file, spot.line)
        troubles.problems[problem] = None
        troubles.noted += 1
        return None


def _read(name: str, folder: Path, rating_a: float | None, breaker: bool) -> FuseCurve:
    if Path(name).name != name or "\\" in name or not name.lower().endswith(".csv"):
        raise CurveError(
            f"a curve in '{name[:60]}'", "a file name that ends in .csv, in the plan's own folder",
            "put the file beside the plan and give its name alone",
        )
    file = folder / name
    try:
        if file.stat().st_size > LARGEST_BYTES:
            raise CurveError("a curve file of more than 0.2 MB", f"at most {MOST_POINTS} points",
                       "leave points out")  # fmt: skip
        data = file.read_bytes()
        text = data.decode("utf-8-sig")
    except OSError:
        raise CurveError(f"no curve file '{name}'", "a file beside the plan",
                   "check its name, or leave the curve out") from None  # fmt: skip
    except UnicodeDecodeError:
        raise CurveError("bytes that are not UTF-8", "a CSV in UTF-8", "save it again") from None
    points = _points(text, rating_a)
    _check(points, breaker)
    return FuseCurve(name, sha256(data).hexdigest(), points)


Points = tuple[tuple[float, float, float | None], ...]


def _points(text: str, rating_a: float | None) -> Points:
    import csv  # only for a plan that has a curve
    import io

    table = csv.DictReader(io.StringIO(text))
    names = {(n or "").strip().lower(): n for n in table.fieldnames or ()}
    by = "multiple" if "multiple" in names else "current_a"
    if by not in names or "melts_s" not in names or "clears_s" not in names:
        raise CurveError(f"the columns {', '.join(names) or 'none'}", COLUMNS, "name them so", 1)
    scale = 1.0
    if by == "current_a":
        if rating_a is None:
            raise CurveError("a curve over amperes without a rating", "rating: 40 A beside curve:",
                       "add the rating")  # fmt: skip
        scale = 1.0 / rating_a
    found = []
    for line, row in enumerate(table, start=2):
        cells = {key: str(row[names[key]] or "").strip() for key in (by, "melts_s", "clears_s")}
        if not any(cells.values()):
            continue
        try:
            x, melts = float(cells[by]), float(cells["melts_s"])
            clears = float(cells["clears_s"]) if cells["clears_s"] else None
        except ValueError:
            raise CurveError(
                f"a row that is not numbers: {', '.join(cells.values())[:60]}",
                "numbers with a decimal point; clears_s may be blank", "mend the row", line,
            ) from None
        values = (x, melts) if clears is None else (x, melts, clears)
        if not all(math.isfinite(v) and v > 0.0 for v in values):
            raise CurveError("a number that is not above zero", "currents and seconds above zero",
                       "mend the row", line)  # fmt: skip
        if clears is not None and clears < melts:
            raise CurveError(
                f"clears_s {clears:g} before melts_s {melts:g}", "clears_s at or after it",
                "melts_s is the soonest, clears_s the latest", line,
            )
        found.append((x * scale, melts, clears))
        if len(found) > MOST_POINTS:
            raise CurveError(f"more than {MOST_POINTS} points", "fewer", "leave points out", line)
    return tuple(found)


def _check(points: Points, breaker: bool) -> None:
    """Order and shape. The bounds between the points stand on what is checked here."""
    if len(points) < 2:
        raise CurveError(
            f"a curve of {len(points)} points", "two or more", "read more off the curve"
        )
    if points[0][0] > BEGINS_BY * SLACK or points[0][0] <= 1.0:
        raise CurveError(
            f"a curve that begins at {points[0][0]:.3g} times the rating",
            "its first point above 1 and at or below 2 times the rating",
            "read it from the overload on: wires are hurt there too",
        )
    for (x1, melts1, clears1), (x2, melts2, clears2) in pairwise(points):
        at = f"{x2:.4g} times the rating"
        if x2 <= x1:
            raise CurveError(f"currents out of order at {at}", "currents that rise from row to row",
                       "sort the rows")  # fmt: skip
        if melts2 > melts1 * SLACK:
            raise CurveError(f"melts_s rises at {at}", "seconds that fall as the current rises",
                       "check the row")  # fmt: skip
        if clears1 is not None and (clears2 is None or clears2 > clears1 * SLACK):
            raise CurveError(f"clears_s rises, or ends, at {at}",
                       "seconds that fall as the current rises", "check the row")  # fmt: skip
        if not breaker and melts2 * x2 * x2 > melts1 * x1 * x1 * READING_ERROR:
            raise CurveError(
                f"melting I²t rises with the current at {at}",
                "for a fuse, I²t that falls or stays: a larger current needs no more of it",
                "check the row; a breaker is written as type: breaker",
            )
