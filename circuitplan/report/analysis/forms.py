"""Test forms of the load analysis, in the order in which the tests are done; readings left blank.

Order, durations and thresholds: NFPA 1901 13.14, 9.3.3 as restated in build specifications and an
alarm maker's manual (second-hand; clauses from memory).
"""

from __future__ import annotations

from circuitplan.library import practices
from circuitplan.model.plan import Battery, Plan
from circuitplan.physics.battery import Wells
from circuitplan.report import show
from circuitplan.report.analysis.loads import Loads
from circuitplan.report.table import Column, Table, cells

RESERVE_TEST_A = 25.0
"""Current of the reserve capacity rating (SAE J537 / BCI; read)."""
_COLUMNS = (
    Column("Step", 96), Column("Wanted", 44), Column("Read", 22), Column("Passed", 18),
)  # fmt: skip


def reserve_minutes(battery: Battery) -> float | None:
    """Minutes at 25 A to empty by the two-well model, new and warm; None if it cannot be said."""
    from circuitplan.library import batteries

    if battery.capacity_ah is None:
        return None
    kind = batteries.type_(battery.type or "unknown")
    model = Wells(kind.c, kind.k_prime_per_h, kind.qmax_over_c20 * battery.capacity_ah)
    capacity_ah = model.capacity_ah(RESERVE_TEST_A)
    return None if capacity_ah is None else 60.0 * capacity_ah / RESERVE_TEST_A


def reserve_minutes_text(battery: Battery) -> str:
    """The same as printed, rounded down."""
    return show.down(reserve_minutes(battery), 0)


def build(plan: Plan, split: Loads) -> tuple[Table, ...]:
    """Reserve, idle, full load and alarm tests, then the checks on paper before them."""
    scale = plan.nominal_v / 12.0
    alarm_v = _value("low_voltage_alarm_v", 11.8) * scale
    alarm_s = _value("low_voltage_alarm_s", 120.0)
    alarm_test_v = _value("alarm_test_v", 11.7) * scale
    minutes = _value("reserve_test_min", 10.0)
    minimum, total = f"{show.up(split.minimum_a)} A", f"{show.up(split.total_a)} A"
    return (
        _on_paper(plan, split, minutes),
        _form(
            "Test 1: reserve capacity",
            ("Battery charged and rested; engine off; ambient", "−18 to 43 °C"),
            (f"Minimum continuous load on for {minutes:g} min; current", minimum),
            ("Volts at the posts after that", "record"),
            ("Engine restarts at the first try", "yes"),
        ),
        _form(
            "Test 2: alternator at idle",
            ("Engine at idle, warm; minimum continuous load on; current", minimum),
            ("Current out of the battery once steady", "none"),
            ("Volts at the posts", "record"),
        ),
        _form(
            "Test 3: alternator at full load",
            ("Engine up to governed speed; total continuous load on for 2 h; current", total),
            (f"Volts at the posts never below the limit for over {alarm_s:g} s",
             f"{alarm_v:.1f} V"),
            ("Low-voltage alarm silent; what was left out by itself", "record"),
        ),
        _form(
            "Test 4: low-voltage alarm",
            ("Engine off; total continuous load on; volts at the start",
             f"{plan.nominal_v:g} V or more"),
            (f"Alarm after the volts reached {alarm_test_v:.2f} V, within", "140 s"),
            ("Engine restarts", "yes"),
        ),
    )  # fmt: skip


def _value(key: str, otherwise: float) -> float:
    for name in ("rescue vehicle", "general"):
        practice = practices.get(name)
        found = practice.value(key) if practice is not None else None
        if found is not None:
            return found
    return otherwise


def _form(caption: str, *steps: tuple[str, str]) -> Table:
    return Table(caption, _COLUMNS, tuple(cells(what, wanted, "", "") for what, wanted in steps))


def _on_paper(plan: Plan, split: Loads, minutes: float) -> Table:
    """Minimum load for some minutes against half of the reserve capacity."""
    main = plan.supply.batteries[0] if plan.supply.batteries else None
    whole = reserve_minutes(main) if main is not None else None
    share = _value("reserve_test_share", 0.5)
    rows = []
    if whole is not None:
        used_ah = split.minimum_a * minutes / 60.0
        most_ah = share * RESERVE_TEST_A * whole / 60.0
        rows.append(
            cells(
                f"Minimum continuous load for {minutes:g} min takes {show.up(used_ah)} Ah of the "
                f"{show.down(most_ah)} Ah that {share:.0%} of the reserve capacity "
                f"({show.down(whole, 0)} min at 25 A) holds",
                f"{show.down(most_ah)} Ah", show.up(used_ah), "yes" if used_ah <= most_ah else "no",
            )
        )  # fmt: skip
    return Table(
        "Before the tests, computed", _COLUMNS, tuple(rows),
        "the battery's capacity is not known, or the reserve rating is outside its model.",
    )
