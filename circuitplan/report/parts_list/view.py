"""The parts list as a sheet and as CSV."""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.design.bench.cutting import reels_of
from circuitplan.design.bench.fittings import PartLine, part_lines
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planfile.prices import Price
from circuitplan.report.cuts.view import USUAL_REELS_MM
from circuitplan.report.paper.sheet import Block, Sheet, csv_text
from circuitplan.report.parts_list.prices import Priced, priced, totals
from circuitplan.report.table import Cell, Column, Table, cells

HEAD = (
    "group", "what", "size", "other_gauge", "colour", "quantity", "unit", "note", "price",
    "amount", "currency", "minutes",
)


def lines(
    plan: Plan, result: Result, vehicles: int, reels: Sequence[int], prices: tuple[Price, ...]
) -> tuple[Priced, ...]:
    """Every line to buy, priced where a price fits."""
    return priced(
        part_lines(plan, result, reels_of(tuple(reels) or USUAL_REELS_MM), vehicles,
                   by_metre=not reels),
        prices,
    )


def view(
    plan: Plan, result: Result, vehicles: int = 1, reels: Sequence[int] = (),
    prices: tuple[Price, ...] = (),
) -> Sheet:
    """``prices``: the user's; without them the sheet has no money in it."""
    found = lines(plan, result, vehicles, reels, prices)
    groups = list(dict.fromkeys(p.line.group for p in found))
    blocks = [
        Block("", tables=(_table([p for p in found if p.line.group == group], bool(prices)),))
        for group in groups
    ]
    if prices:
        blocks.append(Block("Sum", together=True, words=tuple(_sums(found))))
    what = "one vehicle" if vehicles == 1 else f"{vehicles} vehicles"
    lead = (
        f"For {what}. Wire lengths hold slack; behind each size stands the other gauge's first "
        "size with no more resistance. Accessories and panels are not listed, and of the switches "
        "only those of motors worked in two ways.",
    )
    return Sheet("Parts list", lead, tuple(blocks))


def _sums(found: tuple[Priced, ...]) -> list[str]:
    said = [f"{amount:.2f} {currency}".strip() for currency, amount in totals(found).items()]
    minutes = sum(p.minutes for p in found)
    open_ = [p.line for p in found if p.amount is None]
    words = [f"Total: {' and '.join(said) or 'nothing priced'}."]
    if minutes:
        words.append(f"Labour: {minutes / 60:.1f} h.")
    if open_:
        words.append(f"{len(open_)} line{'s' if len(open_) > 1 else ''} without a price: "
                     + "; ".join(_short(x) for x in open_) + ".")
    return words


def _short(line: PartLine) -> str:
    return " ".join(x for x in (line.what, line.size, line.colour) if x)


def _table(found: list[Priced], money: bool) -> Table:
    columns = [
        Column("What", 36), Column("Size", 14), Column("Colour", 12),
        Column("Quantity", 12, "right"), Column("Note", 36),
    ]
    if money:
        columns.append(Column("Amount", 14, "right"))
    rows = []
    for p in found:
        line = p.line
        quantity = f"{line.quantity:.2f} m" if line.unit == "m" else f"{line.quantity:g}"
        size = Cell(line.size or "–", line.size_2)
        row: list[str | Cell] = [line.what, size, line.colour or "–", quantity, line.note]
        if money:
            row.append(f"{p.amount:.2f} {p.currency}".strip() if p.amount is not None else "–")
        rows.append(cells(*row))
    return Table(found[0].line.group if found else "", tuple(columns), tuple(rows))


def as_csv(
    plan: Plan, result: Result, vehicles: int = 1, reels: Sequence[int] = (),
    prices: tuple[Price, ...] = (),
) -> str:
    """The parts list as CSV; price columns are blank where nothing fits."""
    return csv_text(HEAD, (
        (p.line.group, p.line.what, p.line.size, p.line.size_2, p.line.colour, p.line.quantity,
         p.line.unit, p.line.note, p.each, p.amount, p.currency, p.minutes or None)
        for p in lines(plan, result, vehicles, reels, prices)
    ))
