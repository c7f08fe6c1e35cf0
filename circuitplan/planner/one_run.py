"""One circuit without a file: the wire and fuse for it, or a check of what is there already."""

from __future__ import annotations

import math

from circuitplan.design.assume import Ledger
from circuitplan.design.load import Load, resolve
from circuitplan.design.protection import protect
from circuitplan.design.protection.given import as_given
from circuitplan.design.switchgear import factor
from circuitplan.design.wire import OVERLOAD_K, Candidate, Surroundings
from circuitplan.errors import InputError, Problem
from circuitplan.library import conductors, fuses, insulation, materials, practices
from circuitplan.model.plan import Accessory, Plan
from circuitplan.model.record import record
from circuitplan.model.result import Finding
from circuitplan.planner.size_forms import (
    SizeAnswer,
    SizedDrop,
    SizedFuse,
    SizedRun,
    SizeRequest,
    complete,
)
from circuitplan.rules import find
from circuitplan.units import round_down, round_up

FORMAT = "circuitplan size 1"
DEFAULT_DROP_PERCENT = 3.0
"""In the wires alone: of 5 % all-in, contacts take 1.1 to 2.2 % (common practice)."""
HIGH_SHARE, LOW_SHARE = 1.2, 11.5 / 12.0
"""Charging volts and a sagging battery against the nominal: 14.4 and 11.5 V at 12 V."""
FAULT_SHARE = 13.0 / 12.0


@record
class _Case:
    request: SizeRequest
    load: Load
    current_a: float
    limit_v: float
    loop_m: float
    length_m: float
    around: Surroundings


def size_one(request: SizeRequest) -> SizeAnswer:
    """The smallest wire and its fuse, or the verdict on a given wire and fuse.

    Volts lost in the conductors alone. A far-end short is not looked at: the source is unknown.
    InputError if the request is incomplete or outside the tables.
    """
    ledger = Ledger()
    case = _case(request, ledger)
    wires = _candidates(request)
    chosen, device, why, ruled = _choose(case, wires)
    findings = _findings(case, chosen, device)
    failing = [f for f in findings if f.fails]
    because = failing[0].message if failing else "wire and fuse hold for heat, volts and overload"
    return SizeAnswer(
        FORMAT, "not ok" if failing else "ok", because, _run(case, chosen, why, ruled),
        _fuse(case, chosen, device), _drop(case, chosen), findings, ledger.listed(),
    )


def _case(request: SizeRequest, ledger: Ledger) -> _Case:
    complete(request)
    volts = request.system_v
    accessory = Accessory(
        "load", kind=request.kind, quantity=request.quantity, power_w=request.power_w,
        current_a=request.current_a, load=request.load or (
            "constant current" if request.current_a is not None else None
        ), back="wire",
    )
    load = resolve(accessory, Plan(nominal_v=volts), ledger)
    percent = request.drop_percent if request.drop_percent is not None else DEFAULT_DROP_PERCENT
    limit = request.drop_v if request.drop_v is not None else percent * volts / 100.0
    if request.drop_v is None and request.drop_percent is None:
        ledger.say("load", "drop allowed in the wires", f"{percent:g} %",
                   "leaves room for contacts", "judgement")
    current = max(
        load.current_at(max(LOW_SHARE * volts - limit, 0.5 * volts)),
        load.current_at(HIGH_SHARE * volts),
    )
    chassis = request.back == "chassis"
    if request.loop_m is not None:
        loop = request.loop_m
        length = loop if chassis else loop / 2.0
    else:
        length = request.length_m or 0.0
        loop = length if chassis else 2.0 * length
    wires = request.bundle or (1 if chassis else 2)
    if not request.ambient_given:
        ledger.say("load", "temperature along the wire", f"{request.ambient_c:g} °C",
                   "inside a vehicle, away from the engine", "common practice")
    ledger.say("load", "contacts and far-end short", "not counted", "no plan", "judgement")
    return _Case(
        request, load, current, limit, loop, length,
        Surroundings(request.ambient_c, 1.0, wires, 1.0),
    )


def _candidates(request: SizeRequest) -> tuple[Candidate, ...]:
    cover = insulation.get(request.insulation_c, request.insulation_material)
    metal = materials.get(request.material)
    if cover is None or metal is None:
        raise InputError(
            [
                Problem("size", f"insulation of {request.insulation_c:g} °C",
                        ", ".join(f"{c:g} °C" for c in insulation.classes()), "take one of these")
            ]
        )
    if request.wire is not None:
        found = conductors.get(*request.wire)
        if found is None:
            names = ", ".join(c.label for c in conductors.offered(request.wire[0]))
            raise InputError(
                [Problem("size", f"wire {request.wire[1]}", names, "take one of these")]
            )
        return (Candidate(found, cover, metal),)
    return tuple(Candidate(c, cover, metal) for c in conductors.offered(request.gauge))


def _conductor_c(case: _Case, wire: Candidate) -> float:
    if case.request.conductor_c is not None:
        return case.request.conductor_c
    thermal = case.current_a * case.load.thermal_factor
    return min(wire.temperature(thermal, case.around), wire.insulation.class_c + 50.0)


def _drop_v(case: _Case, wire: Candidate) -> float:
    return case.current_a * wire.ohm_per_m(_conductor_c(case, wire)) * case.loop_m


def _devices(case: _Case, wire: Candidate) -> list[protect.Device]:
    currents: list[tuple[Load | None, float]] = [(case.load, case.current_a)]
    least = protect.least_rating(currents, case.request.ambient_c)
    spec = case.request.fuse
    found = protect.devices(
        least, case.request.ambient_c, family=None, rating_a=spec.rating_a if spec else None,
        type_=spec.type if spec else None, highest_v=HIGH_SHARE * case.request.system_v,
        continuous_a=case.current_a if case.load.continuous else 0.0, breaking_a=None,
    )
    if spec is not None:
        return found or as_given(spec, case.request.ambient_c, HIGH_SHARE * case.request.system_v)
    rated = wire.ampacity(case.around)
    highest = HIGH_SHARE * case.request.system_v
    rides = [
        d for d in found
        if (protect.start_share(d, currents, highest) or 0.0) <= protect.RIDE_THROUGH
        and d.rating_a <= rated * protect.SLACK
    ]
    return [d for d in rides if _coordinated(case, wire, d)]


def _coordinated(case: _Case, wire: Candidate, device: protect.Device) -> bool:
    ohm = wire.ohm_per_m(20.0) * case.loop_m
    strongest = FAULT_SHARE * case.request.system_v / ohm if ohm > 0.0 else 0.0
    peak = protect.short_peak(device, wire, case.around, strongest)
    return peak <= (wire.insulation.class_c + OVERLOAD_K) * protect.SLACK


def _fails(case: _Case, wire: Candidate) -> tuple[str, str] | None:
    area = wire.conductor.area_mm2
    general = practices.get("general")
    assert general is not None
    least = general.value("min_size_metric_mm2") or 1.0
    if wire.conductor.gauge in ("awg", "sae"):
        number = conductors.get(wire.conductor.gauge, f"{general.value('min_size_awg') or 16:g}")
        least = number.area_mm2 if number is not None else least
    if area * protect.SLACK < least:
        return "minimum", "below the least size for strength"
    thermal = case.current_a * case.load.thermal_factor
    if thermal > wire.ampacity(case.around) * protect.SLACK:
        return "ampacity", f"carries {wire.ampacity(case.around):.1f} A of {thermal:.1f} A"
    drop = _drop_v(case, wire)
    if drop > case.limit_v * protect.SLACK:
        return "drop", f"drops {drop:.2f} V of {case.limit_v:.2f} V allowed"
    if not _devices(case, wire):
        return "fuse", "no fuse both carries the load and guards it"
    return None


def _choose(
    case: _Case, wires: tuple[Candidate, ...]
) -> tuple[Candidate, protect.Device | None, str | None, str]:
    if case.request.wire is not None:
        found = _devices(case, wires[0])
        return wires[0], found[0] if found else None, None, "fixed"
    last: tuple[str, str] | None = None
    for wire in wires:
        failed = _fails(case, wire)
        if failed is None:
            device = _devices(case, wire)[0]
            return wire, device, last[1] if last else None, last[0] if last else "minimum"
        last = failed
    found = _devices(case, wires[-1])
    return wires[-1], found[0] if found else None, last[1] if last else None, "minimum"


def _findings(
    case: _Case, wire: Candidate, device: protect.Device | None
) -> tuple[Finding, ...]:
    found: list[Finding] = []
    rated = wire.ampacity(case.around)
    thermal = case.current_a * case.load.thermal_factor
    label = wire.conductor.label
    drop = _drop_v(case, wire)

    def say(rule: str, message: str, remedy: str, got: float, limit: float, unit: str) -> None:
        known = find(rule)
        assert known is not None
        found.append(known.finding("load", message, remedy, found=got, limit=limit, unit=unit))

    if thermal > rated * protect.SLACK:
        say("A01", f"{label} carries {rated:.2f} A here; {thermal:.2f} A flow. It overheats: fire.",
            "Use thicker wire, or a higher insulation class.", thermal, rated, "A")
    if device is None:
        known = find("F05")
        assert known is not None
        found.append(
            known.finding("load", f"No fuse of the tables both carries {case.current_a:.2f} A and "
                          f"guards {label}.", "Use thicker wire.", limit=rated, unit="A")
        )
    elif device.rating_a > rated * protect.SLACK:
        say("F01", f"The {device.rating_a:g} A fuse is larger than {label} carries here, "
            f"{rated:.2f} A: the wire burns before the fuse opens.",
            f"Use a fuse of at most {round_down(rated, 3):g} A, or thicker wire.",
            device.rating_a, rated, "A")
    elif not _coordinated(case, wire, device):
        say("F03", f"Between 2 times its rating and a short the {device.rating_a:g} A fuse of type "
            f"{device.type} lets {label} pass its short-time limit.",
            "Use a quicker type or thicker wire.", device.rating_a, rated, "A")
    if device is not None:
        least = protect.least_rating([(case.load, case.current_a)], device.ambient_c)
        if device.rating_a * protect.SLACK < least:
            say("F02", f"The {device.rating_a:g} A fuse is too small for {case.current_a:.2f} A at "
                f"{device.ambient_c:g} °C: it ages and blows.",
                f"Use at least {round_up(least, 3):g} A if the wire carries it.",
                device.rating_a, least, "A")
        made_v = max(device.family.rated_v, default=math.inf)
        high_v = HIGH_SHARE * case.request.system_v
        if high_v > made_v * protect.SLACK:
            say("X18", f"A fuse of type {device.type} is made for {made_v:g} V at most; "
                f"{high_v:.1f} V may stand across it: it melts and burns on as an arc.",
                f"Use a fuse rated {high_v:.1f} V DC or more, such as class T.",
                made_v, high_v, "V")
    if drop > case.limit_v * protect.SLACK:
        say("D01", f"{label} loses {drop:.3f} V in the wires; {case.limit_v:.3f} V are allowed.",
            "Use thicker or shorter wire.", drop, case.limit_v, "V")
    if case.request.switch_a is not None:
        volts = min((12.0, 24.0, 48.0), key=lambda v: abs(v - case.request.system_v))
        needed = case.current_a * factor(case.load, volts)
        if needed > case.request.switch_a * protect.SLACK:
            say("S01", f"The switch needs a contact of {needed:.1f} A ({case.current_a:.1f} A x "
                f"{factor(case.load, volts):g}) and has {case.request.switch_a:g} A: it welds.",
                f"Let it work a relay of {round_up(needed, 2):g} A or more.",
                needed, case.request.switch_a, "A")
    return tuple(found)


def _run(case: _Case, wire: Candidate, why: str | None, ruled: str) -> SizedRun:
    rated = wire.ampacity(case.around)
    return SizedRun(
        wire.conductor.label, wire.conductor.area_mm2, wire.conductor.gauge,
        wire.insulation.class_c, case.length_m, case.loop_m, case.current_a, wire.r20,
        _conductor_c(case, wire), case.around.ambient_c, rated,
        wire.single_ampacity(case.around.ambient_c)[1], case.around.bundle_factor,
        case.around.wires, case.current_a / rated if rated else 99.0, ruled, why,
        case.request.wire is not None,
    )


def _fuse(case: _Case, wire: Candidate, device: protect.Device | None) -> SizedFuse | None:
    if device is None:
        return None
    least = protect.least_rating([(case.load, case.current_a)], device.ambient_c)
    return SizedFuse(
        device.rating_a, device.type, fuses.colour(device.type, device.rating_a), least,
        wire.ampacity(case.around), case.request.fuse is not None,
    )


def _drop(case: _Case, wire: Candidate) -> SizedDrop:
    lost = _drop_v(case, wire)
    volts = case.request.system_v
    return SizedDrop(
        lost, 100.0 * lost / volts, case.limit_v, 100.0 * case.limit_v / volts, True
    )
