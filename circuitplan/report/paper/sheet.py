"""One bench sheet: blocks of words, steps, tables and drawings on the paper of the summary."""

from __future__ import annotations

import csv
import html
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.report.environment import HERE, environment, style
from circuitplan.report.table import Picture, Table
from circuitplan.report.words import heading, identity, revision


@dataclass(frozen=True, slots=True)
class Block:
    """One part of a sheet; ``together`` keeps it on one page, ``fresh`` starts a new one."""

    heading: str
    words: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    pictures: tuple[Picture, ...] = ()
    steps: tuple[str, ...] = ()
    together: bool = False
    fresh: bool = False


@dataclass(frozen=True, slots=True)
class Sheet:
    """``name`` is what the paper is called: "Cut list"."""

    name: str
    lead: tuple[str, ...]
    blocks: tuple[Block, ...]
    wide: bool = False
    """Landscape."""


PRECEDENCE = (
    "Local codes, the vehicle and accessory makers' instructions and licensed practice take "
    "precedence."
)


def render_sheet(plan: Plan, sheet: Sheet, warning: str = "") -> str:
    """Self-contained HTML of a sheet, styled and paged as the wiring summary.

    ``warning``: what it says at its head if the plan is not OK.
    """
    title = heading(plan)
    template = environment().get_template("paper/sheet.html.j2")

    def fill(css: str) -> str:
        return template.render(
            sheet=sheet, title=title, style=css, precedence=PRECEDENCE, warning=warning
        )

    letters = html.unescape(re.sub(r"<[^>]+>", "", fill("")))
    css = style(
        "summary.css", letters + title, (400, 600), title=title, revision=revision(plan),
        identity=f"{sheet.name} · {identity(plan)}",
    )
    extra = (HERE / "paper" / "sheet.css").read_text(encoding="utf-8")
    wide = "@page { size: A4 landscape; margin: 20mm 12mm 22mm 20mm; }" if sheet.wide else ""
    return fill(f"{css}\n{extra}\n{wide}")


def csv_text(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV (RFC 4180), blank where a value is unknown.

    A cell that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    target = io.StringIO()
    writer = csv.writer(target, lineterminator="\r\n")
    writer.writerow(head)
    writer.writerows([_cell(value) for value in row] for row in rows)
    return target.getvalue()


def _cell(value: object) -> str:
    if value is None:
        return ""
    text = f"{value:g}" if isinstance(value, float) else str(value)
    return f"'{text}" if isinstance(value, str) and text[:1] in ("=", "+", "-", "@") else text
