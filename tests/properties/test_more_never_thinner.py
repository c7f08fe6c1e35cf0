"""More load, more length or more heat never gives a thinner wire, nor a longer allowed on-time.

Single circuits, everything else equal. "Thinner" means copper area.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from circuitplan.design.wire import Candidate
from circuitplan.library import conductors, insulation, materials
from circuitplan.model.plan import (
    Accessory,
    Battery,
    Duty,
    Panel,
    Place,
    Plan,
    Supply,
    WireSpec,
)
from circuitplan.model.result import Run
from circuitplan.physics import transient
from circuitplan.planner import design

LOADS = ("constant power", "constant current", "resistance", "filament", "motor", "fan motor")
HARDER = ("more load", "more length", "more heat")


def plan(
    current_a: float, length_m: float, ambient_c: float, load: str, gauge: str, back: str
) -> Plan:
    return Plan(
        gauge=gauge,  # type: ignore[arg-type]
        wire=WireSpec(insulation_c=125.0, insulation_material="cross-linked"),
        supply=Supply(batteries=(Battery("battery", "agm", 95.0, 850.0, "bay"),)),
        places=(Place("bay", 40.0), Place("way", ambient_c)),
        panels=(
            Panel("main", place="bay", fed_from="battery", length_m=0.3,
                  wire=WireSpec(gauge="metric", size="50")),
        ),
        accessories=(
            Accessory("Load", current_a=current_a, load=load, place="way",  # type: ignore[arg-type]
                      length_m=length_m, back=back, fed_from="main"),  # type: ignore[arg-type]
        ),
    )  # fmt: skip


def feed(given_plan: Plan) -> tuple[Run, bool]:
    """(the run to the accessory, whether anything of the circuit fails)."""
    result = design(given_plan, ()).result
    circuit = result.circuits[0]
    fails = any(f.fails and f.subject in ("Load", "main") for f in result.findings)
    return next(r for r in circuit.runs if r.role == "feed"), fails


@given(
    st.floats(0.3, 25.0), st.floats(0.3, 10.0), st.floats(20.0, 80.0), st.sampled_from(LOADS),
    st.sampled_from(("metric", "awg", "sae")), st.sampled_from(("wire", "chassis")),
    st.sampled_from(HARDER), st.floats(1.01, 2.0),
)  # fmt: skip
@settings(max_examples=120)
def test_more_of_anything_never_gives_a_thinner_wire(
    current_a: float, length_m: float, ambient_c: float, load: str, gauge: str, back: str,
    harder: str, times: float,
) -> None:  # fmt: skip
    before, fails = feed(plan(current_a, length_m, ambient_c, load, gauge, back))
    assume(not fails)  # the thickest there is, or nothing that holds
    if harder == "more load":
        current_a *= times
    elif harder == "more length":
        length_m *= times
    else:
        ambient_c = min(84.0, ambient_c + 20.0 * (times - 1.0))
    after, _ = feed(plan(current_a, length_m, ambient_c, load, gauge, back))
    assert after.area_mm2 >= before.area_mm2


def test_the_length_of_a_wire_does_not_change_what_its_fuse_must_guard() -> None:
    """A short may lie right behind the fuse: half the length asks for no more copper.

    1 A through the body, 0.31 and 0.63 m: the currents at the far ends are nearly 2 to 1.
    """
    near, fails_near = feed(plan(1.0, 0.3125, 20.0, "constant power", "metric", "chassis"))
    far, fails_far = feed(plan(1.0, 0.625, 20.0, "constant power", "metric", "chassis"))
    assert not fails_near
    assert not fails_far
    assert near.area_mm2 == far.area_mm2


@given(
    st.sampled_from(conductors.offered("metric")), st.floats(1.05, 8.0), st.floats(20.0, 60.0),
    st.floats(1.0, 3.0), st.floats(0.0, 20.0),
)  # fmt: skip
def test_more_load_or_heat_never_gives_a_longer_on_time(
    size: conductors.Conductor, overload: float, ambient_c: float, times: float, hotter_k: float
) -> None:
    """Seconds from the surroundings to the class, of one body (see test_transient)."""
    cover, metal = insulation.get(105.0, "PVC"), materials.get("copper")
    assert cover is not None
    assert metal is not None
    wire = Candidate(size, cover, metal)
    current_a = overload * wire.single_ampacity(ambient_c)[0]

    def allowed(amps: float, ambient: float) -> float:
        path = 70.0 / (wire.single_ampacity(30.0)[0] ** 2 * wire.ohm_per_m(105.0))
        body = transient.Body(
            wire.r20, 0.00393, path,
            transient.heat_capacity_j_per_m_k(size.area_mm2, size.conductor_mm, size.outer_mm),
            ambient,
        )  # fmt: skip
        return transient.time_to(body, ambient, amps, 105.0)

    base = allowed(current_a, ambient_c)
    assert allowed(current_a * times, ambient_c) <= base
    assert allowed(current_a, ambient_c + hotter_k) <= base


def test_a_longer_duty_never_gives_a_thinner_wire() -> None:
    """On-time of 10, 30, 90, 270 s in 10 min through the whole design."""
    base = plan(150.0, 0.5, 50.0, "constant current", "metric", "chassis")
    areas = []
    for on_s in (10.0, 30.0, 90.0, 270.0):
        item = replace(base.accessories[0], duty=Duty(on_s, 600.0), drop_percent=20.0)
        areas.append(feed(replace(base, accessories=(item,)))[0].area_mm2)
    assert areas == sorted(areas)
    assert areas[0] < areas[-1]
