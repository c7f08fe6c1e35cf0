"""One small clean case, built by hand, and small changes to it: invented data, not engineering."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from circuitplan.model import plan as p
from circuitplan.model import result as r
from circuitplan.rules.case import Case


def run(run_id: str, role: r.Role, start: str, end: str, **changes: Any) -> r.Run:
    made = r.Run(
        id=run_id, role=role, from_=start, to=end, colour="RD", size="4 mm²", area_mm2=4.0,
        gauge="metric", material="copper", insulation="105 °C PVC", insulation_c=105.0,
        length_m=3.0, loop_m=6.0, pieces=1, current_a=5.0, thermal_a=5.0,
        resistance_20c_ohm_per_m=0.00471, conductor_c=52.0, peak_c=None, ambient_c=50.0,
        ambient_assumed=False, ampacity_a=30.0, ampacity_source="table", published_a=42.0,
        first_principles_a=41.0, bundle_factor=0.825, bundle_wires=2, tube_factor=1.0, loading=0.2,
        limited_by="minimum", next_smaller=None, given=False, unknown=False, places=("cab",),
        accessories=(), protected_by=None, outer_mm=3.4, od_source="table",
    )  # fmt: skip
    return replace(made, **changes)


def fuse(fuse_id: str, protects: str, **changes: Any) -> r.Fuse:
    made = r.Fuse(
        id=fuse_id, protects=protects, rating_a=15.0, type="C", colour="light blue",
        position="main, way 1", ambient_c=50.0, min_a=7.0, max_a=30.0, limited_by="load",
        breaking_capacity_a=1000.0, prospective_a=800.0, behind_sufficient=True,
        first_after_source=False, distance_m=0.0, sheathed=False, rides_through=0.2,
        short_circuit_only=False, given=False, why="load",
    )  # fmt: skip
    return replace(made, **changes)


def accessory(name: str, **changes: Any) -> r.AccessoryResult:
    made = r.AccessoryResult(
        name=name, kind=None, quantity=1, current_a=5.0, average_a=3.0, parked_a=0.0, low_v=11.2,
        sag=r.Sag("at rest"), solved_v=11.3, min_v=10.5, load="constant power",
        drop_class="general", contact_class="resistive", letter="E", place="cab",
        live="always", continuous=True,
        on_s=None, period_s=None, peak_a=None, inrush_a=None, inrush_known=True, needs=(),
        never_with=(), back="wire",
    )  # fmt: skip
    return replace(made, **changes)


def drop(name: str, **changes: Any) -> r.Drop:
    made = r.Drop(
        accessory=name, total_v=0.36, percent=3.0, limit_percent=5.0, accessory_v=11.2,
        conductor_percent=2.0, conductor_limit_percent=None, state="low", supply_v=11.5,
        parts=r.DropParts(0.06, 0.1, 0.1, 0.1),
    )  # fmt: skip
    return replace(made, **changes)


def fault(run_id: str, **changes: Any) -> r.Fault:
    made = r.Fault(
        current_a=200.0, clears_s=0.2, allowed_s=2.0, prospective_max_a=800.0, run=run_id,
        adiabatic_k=88.0, overload_proved=True, band_peak_c=120.0, selective="proved",
    )  # fmt: skip
    return replace(made, **changes)


def circuit(number: int, name: str, switches: tuple[str, ...] = (), **changes: Any) -> r.Circuit:
    feed, back, fid = f"{number}A", f"{number}N", f"F{number}"
    made = r.Circuit(
        id=str(number), number=number, label=name, switches=switches, panel="main",
        source="battery", live="always", current_a=5.0, peak_a=None, inrush_a=None,
        continuous=True, accessories=(accessory(name),), fuses=(fuse(fid, feed),),
        fuse_reason=None, isolator_a=None, relays=(), relay_reason=None,
        runs=(
            run(feed, "feed", "main", name, accessories=(name,), protected_by=fid),
            run(back, "return", name, "main", accessories=(name,), protected_by=fid),
        ),
        drop=drop(name), drops=(drop(name),), fault=fault(feed), test=(), working=(),
    )  # fmt: skip
    return replace(made, **changes)


def relay(**changes: Any) -> r.Relay:
    made = r.Relay(
        id="Q2", type="mini", contact_a=30.0, needed_a=10.0, coil_a=0.15, cold_coil_a=0.28,
        pick_up_hot_v=9.8, coil_low_v=11.0, terminals="30 87 85 86", position="main",
        switches=("S1",),
    )  # fmt: skip
    return replace(made, **changes)


def switch(switch_id: str, works: tuple[str, ...], **changes: Any) -> r.SwitchResult:
    made = r.SwitchResult(
        id=switch_id, label=switch_id, type="direct", rating_a=20.0, usable_a=20.0, current_a=5.0,
        spare_a=15.0, needed_a=5.0, factors=tuple((w, 5.0, 1.0) for w in works), works=works,
        signal=None, live="always", place="cab",
    )  # fmt: skip
    return replace(made, **changes)


def panel(**changes: Any) -> r.PanelResult:
    made = r.PanelResult(
        id="main", place="cab", fed_from="battery", rating_a=100.0, usable_a=60.0, current_a=15.0,
        spare_a=45.0, ways=8, free_ways=5, output_v=None,
        feeder=(
            run("P1A", "feed", "battery", "main", protected_by="F10", size="16 mm²", area_mm2=16.0,
                resistance_20c_ohm_per_m=0.00116, ampacity_a=90.0, current_a=15.0, thermal_a=15.0),
            run("P1N", "return", "main", "battery", protected_by="F10", size="16 mm²",
                area_mm2=16.0, resistance_20c_ohm_per_m=0.00116, ampacity_a=90.0, current_a=15.0,
                thermal_a=15.0),
        ),
        fuse=fuse("F10", "P1A", rating_a=80.0, type="class T", colour=None, position="at battery",
                  min_a=20.0, max_a=90.0, breaking_capacity_a=20000.0, prospective_a=4000.0,
                  behind_sufficient=False, first_after_source=True, distance_m=0.1),
        fault=fault("P1A", selective="single"), fuse_reason=None, assumed=False, live="always",
    )  # fmt: skip
    return replace(made, **changes)


def supply(**changes: Any) -> r.SupplyResult:
    made = r.SupplyResult(
        parked_a=0.02, parked_days=70.0, isolate=("battery",), low_v=11.5, high_v=14.4,
        scenarios=(scenario(),), days=(day(),),
    )  # fmt: skip
    return replace(made, **changes)


def scenario(**changes: Any) -> r.ScenarioResult:
    made = r.ScenarioResult(
        name="Evening", engine="idle", battery="battery", demand_a=10.0, vehicle_a=30.0,
        alternator_a=60.0, margin_a=20.0, margin_percent=33.0, margin_limit_percent=20.0,
        hours_to_reserve=None, duration_h=2.0, charge_used=None, note="",
        running=(("Fridge", 3.0), ("Pump", 5.0)),
    )  # fmt: skip
    return replace(made, **changes)


def day(**changes: Any) -> r.DayResult:
    made = r.DayResult(
        name="Trip", battery="battery", start_charge=1.0, end_charge=0.8, lowest_charge=0.7,
        reserve_charge=0.5, steps=(("Evening", 0.7),), starts=True, cranking_v=10.4,
        cranking_limit_v=9.6,
    )  # fmt: skip
    return replace(made, **changes)


def base() -> Case:
    """Three circuits on one panel: nothing to find fault with by any rule."""
    plan = p.Plan(
        supply=p.Supply(
            batteries=(p.Battery("battery", type="agm", capacity_ah=95.0, cranking_a=850.0),),
            alternator=p.Alternator(180.0, control="regulator"),
        ),
        panels=(p.Panel("main", fed_from="battery", ways=8, rating_a=100.0),),
        switches=(
            p.Switch("S1", type="relay", rating_a=1.0),
            p.Switch("S3", type="direct", rating_a=20.0),
        ),
        accessories=(
            p.Accessory("Fridge", kind="fridge", length_m=3.0),
            p.Accessory("Lamp", power_w=60.0, length_m=3.0, switches=("S1",)),
            p.Accessory("Pump", current_a=5.0, load="resistance", length_m=3.0, switches=("S3",)),
        ),
    )
    result = r.Result(
        answer="ok", because="", plan=r.PlanHead(None, None, 12.0, "general", {}, ""),
        circuits=(
            circuit(1, "Fridge"),
            circuit(2, "Lamp", ("S1",), relays=(relay(),)),
            circuit(3, "Pump", ("S3",)),
        ),
        switches=(
            switch("S1", ("Lamp",), type="relay", rating_a=1.0, usable_a=1.0, current_a=0.28),
            switch("S3", ("Pump",)),
        ),
        panels=(panel(),), supply=supply(), parts=(), findings=(), assumptions=(),
    )  # fmt: skip
    return Case(plan, result)


def with_result(case: Case, **changes: Any) -> Case:
    return Case(case.plan, replace(case.result, **changes), case.practice)


def with_plan(case: Case, **changes: Any) -> Case:
    return Case(replace(case.plan, **changes), case.result, case.practice)


def by(case: Case, practice: str) -> Case:
    return Case(case.plan, case.result, practice)


def with_circuit(case: Case, number: int, **changes: Any) -> Case:
    changed = tuple(
        replace(c, **changes) if c.number == number else c for c in case.result.circuits
    )
    return with_result(case, circuits=changed)


def _circuit(case: Case, number: int) -> r.Circuit:
    return next(c for c in case.result.circuits if c.number == number)


def with_run(case: Case, run_id: str, **changes: Any) -> Case:
    def edit(runs: tuple[r.Run, ...]) -> tuple[r.Run, ...]:
        return tuple(replace(x, **changes) if x.id == run_id else x for x in runs)

    return with_result(
        case,
        circuits=tuple(replace(c, runs=edit(c.runs)) for c in case.result.circuits),
        panels=tuple(replace(q, feeder=edit(q.feeder)) for q in case.result.panels),
    )


def with_fuse(case: Case, number: int, **changes: Any) -> Case:
    found = _circuit(case, number)
    return with_circuit(case, number, fuses=(replace(found.fuses[0], **changes),))


def with_main_fuse(case: Case, **changes: Any) -> Case:
    main = case.result.panels[0]
    assert main.fuse is not None
    return with_panel(case, fuse=replace(main.fuse, **changes))


def with_panel(case: Case, **changes: Any) -> Case:
    return with_result(case, panels=(replace(case.result.panels[0], **changes),))


def with_fault(case: Case, number: int, **changes: Any) -> Case:
    found = _circuit(case, number).fault
    assert found is not None
    return with_circuit(case, number, fault=replace(found, **changes))


def with_drop(case: Case, number: int, **changes: Any) -> Case:
    found = _circuit(case, number).drops[0]
    changed = replace(found, **changes)
    return with_circuit(case, number, drop=changed, drops=(changed,))


def with_accessory(case: Case, number: int, **changes: Any) -> Case:
    found = _circuit(case, number).accessories[0]
    return with_circuit(case, number, accessories=(replace(found, **changes),))


def with_switch(case: Case, switch_id: str, **changes: Any) -> Case:
    changed = tuple(replace(s, **changes) if s.id == switch_id else s for s in case.result.switches)
    return with_result(case, switches=changed)


def with_supply(case: Case, **changes: Any) -> Case:
    return with_result(case, supply=replace(case.result.supply, **changes))


def planned(case: Case, name: str, **changes: Any) -> Case:
    changed = tuple(replace(a, **changes) if a.name == name else a for a in case.plan.accessories)
    return with_plan(case, accessories=changed)


def planned_switch(case: Case, name: str, **changes: Any) -> Case:
    changed = tuple(replace(s, **changes) if s.name == name else s for s in case.plan.switches)
    return with_plan(case, switches=changed)


def planned_panel(case: Case, **changes: Any) -> Case:
    return with_plan(case, panels=(replace(case.plan.panels[0], **changes),))


def planned_supply(case: Case, **changes: Any) -> Case:
    return with_plan(case, supply=replace(case.plan.supply, **changes))


def shared_circuit(case: Case, *names: str, contact_classes: tuple[str, ...] = ()) -> Case:
    """Circuit 3 feeds several accessories over one return."""
    classes = contact_classes or ("resistive",) * len(names)
    feeds = tuple(
        run(f"3{letter}", "feed", "main", name, accessories=(name,), protected_by="F3")
        for letter, name in zip("ABCDEF", names, strict=False)
    )
    back = run("3N", "return", "splice", "main", accessories=names, protected_by="F3",
               current_a=5.0 * len(names), thermal_a=5.0 * len(names))  # fmt: skip
    changed = with_circuit(
        case, 3, label="Group", runs=(*feeds, back), drop=None, drops=(),
        accessories=tuple(
            accessory(n, contact_class=c) for n, c in zip(names, classes, strict=True)
        ),
    )  # fmt: skip
    kept = tuple(a for a in case.plan.accessories if a.name != "Pump")
    more = tuple(p.Accessory(n, current_a=5.0, switches=("S3",)) for n in names)
    return with_switch(with_plan(changed, accessories=(*kept, *more)), "S3", works=names)
