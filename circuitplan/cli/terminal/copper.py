"""The answer of ``copper``: which wires change size, what it saves, and what is proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from circuitplan.cli.terminal.overview import caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, ink, page_width, table, up, wrap
from circuitplan.planfile.edits import Change, Merge
from circuitplan.planner.copper import FORMAT, CopperAnswer, Money


def copper_lines(found: CopperAnswer, said: Sequence[str]) -> Iterator[str]:
    """Verdict, wires that change, weights, proof, what the plan would say."""
    width = page_width()
    yield from answer_lines(found.answer, found.because)
    yield ""
    if found.resized:
        yield ink("WIRES WITH ANOTHER SIZE", "head")
        yield from table(
            [
                Column("Wire"), Column("Between", gives_way=True), Column("Each alone"),
                Column("Together"), Column("Copper", right=True),
                *([Column(found.money.currency or "Price", right=True)] if found.money else ()),
            ],
            [
                (r.run, f"{r.between[0]} – {r.between[1]}", r.before or "-", r.after or "-",
                 f"{-1000.0 * r.saves_kg:+.0f} g",
                 *(() if r.saves is None else (f"{-r.saves:+.2f}",)))
                for r in found.resized
            ],
            width=width,
        )  # fmt: skip
        yield ""
    if found.money is not None:
        yield from _money(found.money, width)
        yield ""
    yield ink("COPPER OF ALL WIRES", "head")
    yield f"each alone  {up(found.before_kg, 3)} kg"
    yield f"together    {up(found.after_kg, 3)} kg"
    for line in _proof(found):
        yield from wrap(line, width)
    if found.edits or said:
        yield ""
    if found.edits:
        yield ink("WHAT THE PLAN SAYS NOW" if said else "WHAT THE PLAN WOULD SAY", "head")
        for line in edit_words(found.edits):
            yield from wrap(line, width, first="- ", rest="  ")
    for line in said:
        yield from wrap(f"{line}.", width)
    if found.edits and not said:
        yield "Nothing is written; --keep writes it."
    yield from caution_lines()


def _money(money: Money, width: int) -> Iterator[str]:
    """Wire by the price list, and what is not in it."""
    yield ink("PRICE OF ALL WIRES", "head")
    for said, amount, open_ in (
        ("each alone", money.before, money.open_before), ("together  ", money.after, money.open)
    ):
        less = f"  without {open_} wire{'s' if open_ > 1 else ''} that the list has no price for"
        yield f"{said}  {amount:.2f} {money.currency}".rstrip() + (less if open_ else "")
    yield from wrap(
        "Counted is wire alone, the lengths to cut as on the parts list; not terminals, fuses or "
        "labour.", width,
    )
    if money.unpriced:
        sizes = ", ".join(money.unpriced)
        yield from wrap(f"Without a price for some wire or any, and not chosen there: {sizes}.",
                        width)  # fmt: skip


def _proof(found: CopperAnswer) -> Iterator[str]:
    if found.proven:
        less = " weigh less"
        if found.money is not None:
            less = ", have a price and go into the holders of these fuses cost less"
        yield (
            "Proven: with these ways, every current at its worst, and the fuses that each wire "
            f"alone has, no sizes that keep every limit{less}."
        )
    if found.money is not None and found.money.bound is not None:
        yield (
            "With every load at its best volts none would cost less than "
            f"{found.money.bound:.2f} {found.money.currency}".rstrip() + "."
        )
    if found.bound_kg is not None:
        yield (
            f"With every load at its best volts none would weigh less than {found.bound_kg:.3g} kg."
        )
    if found.raised:
        wires = "1 wire takes" if found.raised == 1 else f"{found.raised} wires take"
        yield f"{wires} the next size for the warmth of its loom; the proof is for the rest."


def edit_words(edits: Sequence[Change]) -> tuple[str, ...]:
    """Splits and sizes as the plan says them."""
    return tuple(
        f"{': '.join(edit.path)}: {key}: {value}"
        for edit in edits if isinstance(edit, Merge) for key, value in edit.values.items()
    )


def as_data(found: CopperAnswer, said: Sequence[str]) -> dict[str, Any]:
    """The answer as the JSON document."""
    return {
        "format": FORMAT,
        "answer": found.answer,
        "because": found.because,
        "before_kg": found.before_kg,
        "after_kg": found.after_kg,
        "bound_kg": found.bound_kg,
        "money": None if found.money is None else _money_data(found.money),
        "proven": found.proven,
        "raised": found.raised,
        "wires": [
            {"id": r.run, "from": r.between[0], "to": r.between[1], "before": r.before,
             "after": r.after, "saves_kg": r.saves_kg, "saves_money": r.saves}
            for r in found.resized
        ],
        "edits": list(edit_words(found.edits)),
        "written": list(said),
    }  # fmt: skip


def _money_data(money: Money) -> dict[str, Any]:
    return {
        "currency": money.currency,
        "before": money.before,
        "after": money.after,
        "bound": money.bound,
        "wires_without_a_price_before": money.open_before,
        "wires_without_a_price": money.open,
        "sizes_without_a_price": list(money.unpriced),
    }  # fmt: skip
