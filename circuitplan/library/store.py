"""Reading the shipped tables: find them, read them once, hand out their rows as text.

The tables are a Frictionless Data Package: CSV files and ``datapackage.json``. In an installed
package they stand in ``circuitplan/_tables``; in a checkout they stand in ``tables`` beside the
package. Only the csv module is used, so that looking up one table costs a fraction of a
millisecond.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import Any

from circuitplan.errors import TableError

DESCRIPTOR = "datapackage.json"
STATUSES = ("read", "second-hand", "memory", "common practice", "computed", "judgement")


def locate(package_dir: Path) -> Path:
    """Folder of the tables that belong to the package in ``package_dir``.

    Raises TableError if neither the installed nor the checkout folder holds the descriptor.
    """
    installed = package_dir / "_tables"
    checkout = package_dir.parent / "tables"
    for folder in (installed, checkout):
        if (folder / DESCRIPTOR).is_file():
            return folder
    raise TableError(
        f"the shipped tables are missing: {DESCRIPTOR} stands neither in {installed} "
        f"nor in {checkout}. Install circuitplan again."
    )


@cache
def folder() -> Path:
    """Folder of the tables of this installation."""
    return locate(Path(__file__).resolve().parent.parent)


def read_csv(path: Path) -> tuple[dict[str, str], ...]:
    """Rows of one CSV file as text, keyed by heading; an empty cell is the empty string.

    Raises TableError if the file is missing, empty, or a row has too few or too many cells.
    """
    try:
        with path.open(encoding="utf-8", newline="") as stream:
            lines = csv.reader(stream)
            head = next(lines)
            found = []
            for number, cells in enumerate(lines, start=2):
                if len(cells) != len(head):
                    raise TableError(
                        f"{path}, row {number}: {len(cells)} cells, {len(head)} wanted. "
                        "Install circuitplan again."
                    )
                found.append(dict(zip(head, cells, strict=True)))
    except FileNotFoundError as error:
        raise TableError(f"the table {path} is missing. Install circuitplan again.") from error
    except StopIteration as error:
        raise TableError(f"the table {path} is empty. Install circuitplan again.") from error
    return tuple(found)


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """Rows of the table ``name`` (file name without ``.csv``), read once."""
    return read_csv(folder() / f"{name}.csv")


@cache
def _package() -> dict[str, Any]:
    import json

    text = (folder() / DESCRIPTOR).read_text(encoding="utf-8")
    package: dict[str, Any] = json.loads(text)
    return package


def names() -> tuple[str, ...]:
    """Names of all tables, in the order of the descriptor."""
    return tuple(str(resource["name"]) for resource in _package()["resources"])


def describe(name: str) -> dict[str, Any]:
    """The descriptor's entry for the table ``name``: title, sources, conditions, fields.

    Raises TableError if there is no such table.
    """
    for resource in _package()["resources"]:
        if resource["name"] == name:
            entry: dict[str, Any] = resource
            return entry
    raise TableError(f"no table is named {name}; the tables are: {', '.join(names())}")


def number(text: str) -> float | None:
    """The number in a cell, or None for an empty cell."""
    return float(text) if text else None


def yes(text: str) -> bool:
    """True for ``yes``."""
    return text == "yes"
