"""Tables of the load analysis about its days, and about what to leave out."""

from __future__ import annotations

from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells


def cures(result: Result) -> Table:
    """What to leave out of each condition that is not carried, and what would carry it."""
    rows = []
    for s in result.supply.scenarios:
        if s.shed_cures is None:
            continue
        order = ", ".join(f"{name} {show.down(a)} A" for name, a in s.shed) or show.BLANK
        remedies = [
            f"shaft speed {show.near(s.cure_shaft_rpm, 0)} r/min" if s.cure_shaft_rpm else "",
            f"alternator of {show.rating(s.cure_rated_a)} A" if s.cure_rated_a else "",
            f"battery of {show.rating(s.cure_capacity_ah)} Ah" if s.cure_capacity_ah else "",
        ]
        rows.append(
            cells(
                s.name, Cell(order, "" if s.shed_cures else "even so it is not enough"),
                "; or ".join(c for c in remedies if c) or show.BLANK,
            )
        )  # fmt: skip
    for d in result.supply.days:
        if d.cure_capacity_ah is not None:
            rows.append(cells(d.name, show.BLANK,
                              f"{d.battery} of {show.rating(d.cure_capacity_ah)} Ah"))  # fmt: skip
    return Table(
        "What to leave out, in this order, and what would cure it",
        (Column("Condition", 34), Column("Leave out, first to last", 76), Column("Or", 70)),
        tuple(rows), "nothing need be left out.",
    )


def build(result: Result) -> tuple[Table, ...]:
    """Runs of minutes, and the least volts at critical accessories."""
    events, least = [], []
    for day in result.supply.days:
        for e in day.events:
            pull = "" if e.pull_n is None else f"pull {show.near(e.pull_n / 1000.0, 1)} kN"
            events.append(
                cells(
                    Cell(e.accessory, pull), Cell(day.name, e.scenario), str(e.count),
                    show.seconds(e.seconds), show.up(e.current_a), show.down(e.least_v, 2),
                    show.up(e.charge_ah), show.up(e.energy_wh),
                )
            )  # fmt: skip
        for v in day.least:
            low = v.needed_v is not None and v.volts < v.needed_v
            least.append(
                cells(v.accessory, Cell(day.name, v.scenario),
                      Cell(show.down(v.volts, 2), "", "low" if low else ""),
                      show.up(v.needed_v, 2))
            )  # fmt: skip
    return (
        Table(
            "Runs of minutes, figures of one run",
            (
                Column("Accessory", 36), Column("Day, condition", 38), Column("Runs", 14, "right"),
                Column("Each", 18, "right"), Column("Current, A", 20, "right"),
                Column("Least volts at the posts", 22, "right"), Column("Ah", 16, "right"),
                Column("Wh", 16, "right"),
            ),
            tuple(events), "none in the plan's days.",
        ),
        Table(
            "Least volts at critical accessories",
            (
                Column("Accessory", 60), Column("Day, condition", 60),
                Column("At its terminals, V", 30, "right"), Column("Needs, V", 30, "right"),
            ),
            tuple(least), "no critical accessory runs in the plan's days.",
        ),
    )  # fmt: skip
