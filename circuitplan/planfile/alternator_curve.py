"""A maker's curve of an alternator, as a CSV beside the plan: columns shaft_rpm and output_a."""

from __future__ import annotations

import math
from hashlib import sha256
from pathlib import Path

from circuitplan.units import UnitError

LARGEST_BYTES = 200_000
COLUMNS = ("shaft_rpm", "output_a")
ALLOWED = "a CSV beside the plan with the columns shaft_rpm, output_a; speeds rising"


def read(name: str, folder: Path) -> tuple[tuple[tuple[float, float], ...], str]:
    """The points of the file ``name`` in ``folder``, and the SHA-256 of what was read.

    ``UnitError`` says what is wrong with it.

    Speeds must rise and output must not fall: that is how a full-field curve looks.
    """
    shown = f"'{name[:60]}'"
    if Path(name).name != name or "\\" in name or not name.lower().endswith(".csv"):
        raise UnitError(f"{shown}, no plain file name", ALLOWED, "put the file beside the plan")
    file = folder / name
    try:
        if file.stat().st_size > LARGEST_BYTES:
            raise UnitError(f"{shown}, more than 0.2 MB", ALLOWED, "leave points out")
        data = file.read_bytes()
        text = data.decode("utf-8-sig")
    except OSError:
        raise UnitError(f"{shown}, which is not there", ALLOWED, "check the name") from None
    except UnicodeDecodeError:
        raise UnitError(f"{shown}, not in UTF-8", ALLOWED, "save it again as UTF-8") from None
    return _points(text, shown), sha256(data).hexdigest()


def _points(text: str, shown: str) -> tuple[tuple[float, float], ...]:
    import csv  # only for a plan that has a curve
    import io

    table = csv.DictReader(io.StringIO(text))
    names = {(n or "").strip().lower(): n for n in table.fieldnames or ()}
    if any(column not in names for column in COLUMNS):
        raise UnitError(f"{shown} with the columns {', '.join(names) or 'none'}", ALLOWED,
                        "name the columns so")  # fmt: skip
    points: list[tuple[float, float]] = []
    for line, row in enumerate(table, start=2):
        where = f"line {line} of {shown}"
        try:
            rpm, amps = (float((row[names[c]] or "").strip()) for c in COLUMNS)
        except ValueError:
            raise UnitError(f"{where}, no number", ALLOWED, "write plain numbers") from None
        sound = math.isfinite(rpm) and math.isfinite(amps) and rpm > 0.0 and amps >= 0.0
        if not sound or (points and (rpm <= points[-1][0] or amps < points[-1][1])):
            raise UnitError(f"{where}: {rpm:g} r/min, {amps:g} A", ALLOWED,
                            "sort by speed; output does not fall with speed")  # fmt: skip
        points.append((rpm, amps))
    if len(points) < 2:
        raise UnitError(f"{shown} with {len(points)} points", ALLOWED, "give two points or more")
    return tuple(points)
