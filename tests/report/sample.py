"""Hand-built plans and results for the report's tests: demonstration data, not engineering.

The numbers are only believable; no test takes them for truth. They exercise every form that the
report must print: several panels, an output, shared fuses, missing values, accepted findings.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from circuitplan.model import plan as p
from circuitplan.model import result as r


@dataclass(frozen=True)
class Spec:
    """What the sample needs to know of one circuit."""

    number: int
    name: str
    letter: str
    current_a: float
    fuse_a: float
    colour: str | None
    size: str
    area_mm2: float
    length_m: float
    panel: str
    switch: str | None
    relay: bool = False
    quantity: int = 1
    back: str = "wire"
    needs: tuple[str, ...] = ()
    never_with: tuple[str, ...] = ()
    live: str = "ignition"
    on_s: float | None = None
    period_s: float | None = None
    kind: str | None = None


SPECS = (
    Spec(1, "Winch", "M", 250.0, 0.0, None, "50 mm²", 50.0, 1.2, "battery", None,
         never_with=("Compressor",), live="always", on_s=60.0, period_s=600.0),
    Spec(2, "Compressor", "G", 62.0, 80.0, None, "16 mm²", 16.0, 1.9, "engine bay bar", "S3",
         relay=True, needs=("Roof lamps",), live="engine", on_s=1200.0, period_s=3600.0),
    Spec(3, "Front locker", "M", 3.2, 7.5, "brown", "1 mm²", 1.0, 3.4, "main", "S1"),
    Spec(4, "Rear locker", "M", 3.2, 7.5, "brown", "1 mm²", 1.0, 4.6, "main", "S2",
         needs=("Front locker",)),
    Spec(5, "Roof lamps", "E", 15.6, 25.0, "white", "4 mm²", 4.0, 4.2, "main", "S4",
         relay=True, quantity=4),
    Spec(6, "Scene lamps", "E", 7.9, 15.0, "light blue", "2.5 mm²", 2.5, 5.1, "main", "S5",
         quantity=2),
    Spec(7, "Reverse lamps", "E", 4.2, 10.0, "red", "1.5 mm²", 1.5, 6.0, "main", "S6",
         relay=True, quantity=2, back="chassis"),
    Spec(8, "Under-body lamps", "E", 2.1, 5.0, "tan", "1 mm²", 1.0, 3.0, "main", "S7",
         quantity=6),
    Spec(9, "Fridge", "E", 6.6, 15.0, "light blue", "4 mm²", 4.0, 4.8, "house bar", None,
         live="always"),
    Spec(10, "Radio", "T", 9.5, 15.0, "light blue", "2.5 mm²", 2.5, 2.2, "main", None),
    Spec(11, "Camera", "B", 0.5, 3.0, "violet", "1 mm²", 1.0, 5.6, "main", None),
    Spec(12, "Twin socket", "X", 10.0, 15.0, "light blue", "2.5 mm²", 2.5, 1.8, "house bar", "S8"),
    Spec(13, "Beacon", "P", 4.6, 10.0, "red", "1.5 mm²", 1.5, 3.8, "main", "S9"),
    Spec(14, "Horn", "P", 5.8, 10.0, "red", "1.5 mm²", 1.5, 2.6, "main", "S10"),
    Spec(15, "Tracker <12 V> & alarm", "K", 0.02, 2.0, "grey", "1 mm²", 1.0, 1.4, "reducer", None,
         live="always"),
    Spec(16, "Bed lamp", "E", 0.9, 3.0, "violet", "1 mm²", 1.0, 3.3, "S11", "S11"),
)  # fmt: skip


def accessory(s: Spec) -> r.AccessoryResult:
    return r.AccessoryResult(
        name=s.name, kind=s.kind, quantity=s.quantity, current_a=s.current_a,
        average_a=s.current_a * 0.6, parked_a=0.01 if s.live == "always" else 0.0,
        low_v=11.12, sag=r.Sag("at rest"), solved_v=11.31, min_v=10.5 if s.letter in "TE" else None,
        load="constant power", drop_class="general", contact_class="motor",
        letter=s.letter, place="bed", live=s.live, continuous=s.on_s is None,
        on_s=s.on_s, period_s=s.period_s, peak_a=s.current_a * 1.9 if s.letter == "M" else None,
        inrush_a=None, inrush_known=False, needs=s.needs, never_with=s.never_with, back=s.back,
    )  # fmt: skip


def run(s: Spec, role: r.Role, fuse: str | None) -> r.Run:
    rho = 0.0185 / s.area_mm2
    ampacity = 17.0 * s.area_mm2**0.62
    load = 0.15 if role == "control" else s.current_a
    suffix = {"feed": "", "return": "R", "control": "C"}[role]
    return r.Run(
        id=f"W{s.number:02d}{suffix}", role=role, from_=s.panel, to=s.name,
        colour={"feed": "RD", "return": "BN", "control": "BK/WH"}[role],
        size="0.75 mm²" if role == "control" else s.size, area_mm2=s.area_mm2, gauge="metric",
        material="copper", insulation="105 °C PVC", insulation_c=105.0, length_m=s.length_m,
        loop_m=s.length_m * (2 if s.back == "wire" else 1), pieces=1, current_a=load,
        thermal_a=load, resistance_20c_ohm_per_m=rho, conductor_c=62.0,
        peak_c=91.0 if s.on_s else None, ambient_c=45.0, ambient_assumed=s.number % 5 == 0,
        ampacity_a=ampacity, ampacity_source="DIN VDE 0298-4, column free in air",
        published_a=ampacity * 1.4, first_principles_a=ampacity * 1.3, bundle_factor=0.81,
        bundle_wires=6, tube_factor=0.9, loading=load / ampacity, limited_by="drop",
        next_smaller="the next size down drops 5.8 % (limit 5 %)", given=s.number == 3,
        unknown=False, places=("cab", "bed"), accessories=(s.name,), protected_by=fuse,
        outer_mm=2.7, od_source="ISO 6722 (memory)", terminal="crimp", terminal_c=70.0,
        terminal_class_c=105.0,
    )  # fmt: skip


def fuse(fuse_id: str, run_id: str, rating_a: float, kind: str, colour: str | None,
         position: str) -> r.Fuse:  # fmt: skip
    return r.Fuse(
        id=fuse_id, protects=run_id, rating_a=rating_a, type=kind, colour=colour,
        position=position, ambient_c=45.0, min_a=rating_a * 0.7, max_a=rating_a * 1.3,
        limited_by="load", breaking_capacity_a=1000.0, prospective_a=890.0,
        behind_sufficient=True, first_after_source=False, distance_m=0.1, sheathed=False,
        rides_through=0.21, short_circuit_only=False, given=False,
        why="next rating above 0.8 of continuous load at 45 °C",
    )  # fmt: skip


def drop(s: Spec) -> r.Drop:
    v = min(0.55, s.current_a * 2 * s.length_m * 0.0185 / s.area_mm2)
    return r.Drop(
        accessory=s.name, total_v=v + 0.12, percent=(v + 0.12) / 0.12, limit_percent=5.0,
        accessory_v=11.3, conductor_percent=v / 0.12, conductor_limit_percent=None, state="low",
        supply_v=11.5, parts=r.DropParts(0.04, 0.08, v / 2, v / 2),
    )  # fmt: skip


def fault(run_id: str) -> r.Fault:
    return r.Fault(
        current_a=312.0, clears_s=0.1, allowed_s=1.42, prospective_max_a=890.0, run=run_id,
        adiabatic_k=88.0, overload_proved=True, band_peak_c=141.0, selective="proved",
    )  # fmt: skip


def working(s: Spec) -> tuple[r.WorkingStep, ...]:
    return (
        r.WorkingStep(
            "Largest steady current",
            f"I = P / U = {s.current_a * 11.5:.0f} W / 11.5 V",
            f"{s.current_a:.1f} A", "definition of power"),
        r.WorkingStep(
            "Voltage drop, feed and return at 62 °C",
            f"U = I · 2 · L · R = {s.current_a:.1f} A · 2 · {s.length_m} m · "
            f"{18.5 / s.area_mm2:.2f} mΩ/m", f"{drop(s).total_v:.3f} V",
            "IEC 60228 resistance, 0.00393 /K"),
        r.WorkingStep(
            "Ampacity", "Iz = I30 · ka · kb = 37.0 A · 0.89 · 0.81", "26.6 A",
            "DIN VDE 0298-4; MIL-W-5088L"),
    )  # fmt: skip


def circuit(s: Spec) -> r.Circuit:
    fuses: tuple[r.Fuse, ...] = ()
    reason = None
    if s.fuse_a:
        kind = "C" if s.fuse_a <= 40 else "SF30"
        where = f"{s.panel}, way {s.number}" if s.panel != "S11" else "inline at S11"
        fuses = (fuse(f"F{s.number}", f"W{s.number:02d}", s.fuse_a, kind, s.colour, where),)
    else:
        reason = "plan: fuse none; isolator within reach, short sleeved cable"
    fid = fuses[0].id if fuses else None
    runs = [run(s, "feed", fid)]
    if s.back == "wire":
        runs.append(run(s, "return", fid))
    relays: tuple[r.Relay, ...] = ()
    if s.relay:
        runs.append(run(s, "control", fid))
        relays = (
            r.Relay(
                id=f"Q{s.number}", type="70 A relay" if s.current_a > 40 else "30 A relay",
                contact_a=70.0 if s.current_a > 40 else 30.0, needed_a=s.current_a, coil_a=0.15,
                cold_coil_a=0.29, pick_up_hot_v=9.8, coil_low_v=11.0,
                terminals="30, 87, 85, 86", position=s.panel,
                switches=(s.switch or "", *(("reverse",) if s.number == 7 else ()))),
        )  # fmt: skip
    switches = tuple(x for x in (s.switch, "reverse" if s.number == 7 else None) if x)
    return r.Circuit(
        id=f"C{s.number}", number=s.number, label=s.name, switches=switches, panel=s.panel,
        source="house" if s.panel == "house bar" else "battery", live=s.live,
        current_a=s.current_a, peak_a=480.0 if s.number == 1 else None, inrush_a=None,
        continuous=s.on_s is None, accessories=(accessory(s),), fuses=fuses, fuse_reason=reason,
        isolator_a=500.0 if s.number == 1 else None, relays=relays,
        relay_reason="S3 carries 20 A, the motor needs 124 A" if s.number == 2 else None,
        runs=tuple(runs), drop=drop(s), drops=(drop(s),), fault=fault(f"W{s.number:02d}"),
        test=(r.TestLine(12.6, s.current_a * 0.9, s.current_a * 1.05, 12.1),),
        working=working(s),
    )  # fmt: skip


def switch(sid: str, label: str, kind: str, rating_a: float | None, current_a: float,
           works: tuple[str, ...], factor: float = 1.0, signal: str | None = None,
           ) -> r.SwitchResult:  # fmt: skip
    usable = None if rating_a is None else rating_a / factor
    return r.SwitchResult(
        id=sid, label=label, type=kind, rating_a=rating_a, usable_a=usable, current_a=current_a,
        spare_a=None if usable is None else usable - current_a, needed_a=current_a * factor,
        factors=tuple((w, current_a, factor) for w in works), works=works, signal=signal,
        live="ignition", place="console",
    )  # fmt: skip


SWITCHES = (
    switch("S1", "Front lock", "direct", 20.0, 3.2, ("Front locker",), 2.0),
    switch("S2", "Rear lock", "direct", 20.0, 3.2, ("Rear locker",), 2.0),
    switch("S3", "Air", "relay", 20.0, 0.15, ("Compressor",)),
    switch("S4", "Roof", "relay", 1.0, 0.15, ("Roof lamps",)),
    switch("S5", "Scene", "direct", 10.0, 7.9, ("Scene lamps",)),
    switch("S6", "Reverse lamps", "relay", 1.0, 0.15, ("Reverse lamps",)),
    switch("S7", "Under", "direct", 2.0, 2.1, ("Under-body lamps",)),
    switch("S8", "Sockets", "direct", 16.0, 10.0, ("Twin socket",)),
    switch("S9", "Beacon", "direct", 10.0, 4.6, ("Beacon",)),
    switch("S10", "Horn", "direct", None, 5.8, ("Horn",)),
    switch("S11", "Bed", "output", 10.0, 0.9, ("Bed lamp",)),
    switch("reverse", "reverse", "signal", 0.5, 0.15, ("Reverse lamps",), signal="reverse lamp"),
)


def panel(pid: str, fed: str, rating: float | None, current: float, fuse_a: float,
          ways: int | None, used: int, volts: float | None = None) -> r.PanelResult:  # fmt: skip
    s = Spec(90 + len(pid), f"{pid}", "W", current, fuse_a, None, "25 mm²", 25.0, 2.1, fed, None)
    feeder = tuple(
        replace(w, id=f"WP-{pid}{t}")
        for w, t in ((run(s, "feed", f"F-{pid}"), ""), (run(s, "return", f"F-{pid}"), "R"))
    )
    return r.PanelResult(
        id=pid, place="cab", fed_from=fed, rating_a=rating, usable_a=rating, current_a=current,
        spare_a=None if rating is None else rating - current, ways=ways,
        free_ways=None if ways is None else ways - used, output_v=volts, feeder=feeder,
        fuse=fuse(f"F-{pid}", f"WP-{pid}", fuse_a, "SF30", None, f"{fed}, 0.15 m after it"),
        fault=fault(f"WP-{pid}"), fuse_reason=None, assumed=False, live="always",
    )  # fmt: skip


def scenario(name: str, engine: str, demand: float, out: float | None, limit: float | None,
             hours: float | None) -> r.ScenarioResult:  # fmt: skip
    margin = None if out is None else out - demand
    return r.ScenarioResult(
        name=name, engine=engine, battery="battery", demand_a=demand, vehicle_a=32.0,
        alternator_a=out, margin_a=margin,
        margin_percent=None if margin is None or not out else margin / out * 100.0,
        margin_limit_percent=limit, hours_to_reserve=hours, duration_h=3.0, charge_used=0.22,
        note="hot, at idle" if out else "", running=(("Roof lamps", 15.6), ("Fridge", 2.6)),
    )  # fmt: skip


FINDINGS = (
    r.Finding("S01", "WARNING", True, "S7", 2.1, 2.0, "A",
              "S7 carries 2.1 A and may carry 2.0 A. The contact can weld or burn.",
              "Put a relay behind S7, or choose a 5 A switch.", "S7 rating 5 A",
              "ISO 7588-1; common practice", None, "C8"),
    r.Finding("F05", "WARNING", True, "Winch", None, None, None,
              "The winch cable has no fuse. A chafed cable can start a fire.",
              "Fit an isolator in reach and sleeve the cable.", None,
              "33 CFR 183.455", "J. K.", "C1"),
    r.Finding("B01", "NOTICE", True, "Search", 12.0, 20.0, "%",
              "The alternator keeps 12 % at idle; 20 % is wanted.",
              "Raise the idle, or leave the scene lamps off.", None, "judgement"),
    r.Finding("F08", "NOTICE", False, "main", None, None, None,
              "Above 750 A the main fuse may open with the branch fuse.",
              "None needed; know it when a fault takes the panel down.", None, "computed"),
)  # fmt: skip

ASSUMPTIONS = (
    r.Assumption("Beacon", "place", "50 °C", "no place given", "judgement", ("A01", "F02")),
    r.Assumption("all blade fuses", "time limits", "gates of type C", "ISO 8820-3", "memory"),
    r.Assumption("battery", "temperature", "20 °C", "no day given", "common practice"),
)


def big_plan() -> p.Plan:
    return p.Plan(
        title="Quarry rescue pickup", revision="B",
        job=p.Job("R-2231", "Quarry Rescue", "pickup, double cab", "J. K.", None, "2026-03-02"),
        practice="rescue vehicle",
        switches=tuple(p.Switch(s.id, s.label, rating_a=s.rating_a) for s in SWITCHES),
        accessories=tuple(p.Accessory(s.name, s.number) for s in SPECS),
        accepted=(p.Accepted("F05", "Winch", "J. K.", "isolator in reach, cable sleeved"),),
        file="rescue.yaml", sha256="9f" * 32,
    )  # fmt: skip


def big_result() -> r.Result:
    panels = (
        panel("engine bay bar", "battery", 200.0, 132.0, 150.0, None, 0),
        panel("main", "engine bay bar", 120.0, 62.0, 100.0, 14, 10),
        panel("reducer", "main", 10.0, 0.02, 5.0, 2, 1, 12.0),
        panel("house bar", "house", 60.0, 16.6, 40.0, 6, 2),
    )
    supply = r.SupplyResult(
        parked_a=0.045, parked_days=38.0,
        isolate=("Turn the isolator Q0 at the battery off.", "Pull fuse F-house bar.",
                 "Winch or compressor stuck: isolator first."),
        low_v=11.5, high_v=14.4,
        scenarios=(
            scenario("Search", "idle", 76.0, 86.0, 20.0, None),
            scenario("Night on scene", "off", 18.0, None, None, 2.4),
            scenario("Return", "cruise", 88.0, 171.0, 20.0, None),
            scenario("Winching", "high idle", 140.0, 118.0, 20.0, 1.1),
        ),
        days=(r.DayResult("Call", "battery", 0.9, 0.78, 0.62, 0.5,
                          (("Search", 0.71), ("Return", 0.78)), True, 10.1, 9.6),),
    )  # fmt: skip
    plan = big_plan()
    head = r.PlanHead(plan.title, plan.revision, 12.0, plan.practice, {}, plan.sha256)
    return r.Result(
        answer="not ok", because="S7 carries 2.1 A, more than its 2.0 A, and one more limit fails.",
        plan=head, circuits=tuple(circuit(s) for s in SPECS), switches=SWITCHES, panels=panels,
        supply=supply, parts=(r.Part("wire", "2.5 mm²", "RD", 3, 18.2),
                              r.Part("blade fuse type C", "15 A", "light blue", 5, None)),
        findings=FINDINGS, assumptions=ASSUMPTIONS,
    )  # fmt: skip


def small_plan() -> p.Plan:
    return p.Plan(
        switches=(p.Switch("S1", None, rating_a=10.0),),
        accessories=(p.Accessory("Lamp", 1),), file="lamp.yaml", sha256="0a" * 32,
    )  # fmt: skip


def small_result() -> r.Result:
    one = Spec(1, "Lamp", "E", 3.0, 5.0, "tan", "1 mm²", 1.0, 2.0, "battery", "S1")
    return r.Result(
        answer="ok", because="every limit is met.",
        plan=r.PlanHead(None, None, 12.0, "general", {}, "0a" * 32), circuits=(circuit(one),),
        switches=(switch("S1", "S1", "direct", 10.0, 3.0, ("Lamp",)),), panels=(),
        supply=r.SupplyResult(0.0, None, ("Disconnect the battery, negative first.",), 11.5, 14.4,
                              (), ()),
        parts=(), findings=(), assumptions=(),
    )  # fmt: skip


def wide_result(panels: int, circuits: int) -> r.Result:
    """Many panels in a chain and many circuits on each: the drawing must split."""
    base = big_result()
    chain, leaves, number = [], [], 0
    for i in range(panels):
        chain.append(panel(f"P{i}", f"P{i - 1}" if i else "battery", 100.0, 9.0, 60.0, None, 0))
        for _ in range(circuits):
            number += 1
            name = f"Lamp {number} " + "with a very long name that must wrap " * (number % 3)
            s = SPECS[math.floor(number % len(SPECS))]
            leaves.append(circuit(Spec(number, name.strip()[:80], s.letter, 3.0, 5.0, "tan",
                                       "1 mm²", 1.0, 2.0, f"P{i}", f"S{number}",
                                       relay=number % 2 == 0)))  # fmt: skip
    switches = tuple(
        switch(f"S{c.number}", f"S{c.number}", "direct", 10.0, 3.0, (c.label,)) for c in leaves
    )
    return r.Result(
        answer="ok", because="every limit is met.", plan=base.plan, circuits=tuple(leaves),
        switches=switches, panels=tuple(chain), supply=base.supply, parts=(), findings=(),
        assumptions=(),
    )  # fmt: skip
