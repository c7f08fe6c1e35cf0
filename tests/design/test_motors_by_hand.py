"""Motors worked in two ways, by hand: volts lost, far-end shorts, contacts, coils, colours.

R20 of ISO 6722 (memory), contacts of common practice, counted one by one. Milliohm as designed and
aged: ring 0.1 and 0.5, blade 0.5 and 2, crimp 0.25 and 0.8 (2.5 to 6 mm2) or 0.1 and 0.3 (10 to
25 mm2), switch 5, relay of 40 A 2 and 10 (make), 3 and 15 (break; judgement).
"""

from __future__ import annotations

import pytest
from small_plans import MAIN, SHED, circuit, drop, findings, hot, studied

from circuitplan.design.assume import Ledger
from circuitplan.design.compose import sized
from circuitplan.library import relays, store
from circuitplan.model.given import MOTOR_TERMINALS
from circuitplan.model.result import Circuit, Result, Run
from circuitplan.planfile import read_text
from circuitplan.planner import study

SIXTEEN, FOUR = 0.00116, 0.00471  # ohm/m at 20 °C
MAIN_FUSE = 0.08 / 30 + 0.1e-3  # class T 30 A
FEEDER_CONTACTS = 8 * 0.1e-3 + MAIN_FUSE
FUSE_15 = 0.11 / 15 + 1e-3
RING, BLADE, CRIMP, MAKE, BREAK, POLE = 0.1e-3, 0.5e-3, 0.25e-3, 2e-3, 3e-3, 5e-3


def plan(motor: str, type_: str, more: str = "", back: str = "wire", amps: str = "8 A") -> str:
    return f"""
switches: {{S1: {{type: {type_}, rating: 30 A, place: shed, lead: {{length: 1 m}}}}}}
accessories:
  - {{name: Vane, current: {amps}, inrush: 30 A, load: torque motor, motor: {motor}, place: shed,
     length: 3 m, size: 4 mm2, fed_from: main, return: {back}, switch: S1{more}}}
"""


def worked(motor: str, type_: str, more: str = "", back: str = "wire") -> Result:
    return studied(SHED, MAIN, plan(motor, type_, more, back))


def wires(found: Circuit) -> dict[str, Run]:
    """By what they are: lead, the position that they are fed in, or back."""
    names = {r.id: r.at or ("lead" if r.role == "feed" else "back") for r in found.runs}
    return {names[r.id]: r for r in found.runs}


def test_reversing_by_relays_goes_out_by_one_and_back_through_the_other() -> None:
    """8 A: 0.3 m lead, 3 m to the motor, 3 m from it, 0.3 m to the negative; 4 mm2.

    Wires: 6.6 m x 4.71 mohm/m = 31.1 mohm at 20 °C, 249 mV, 262 mV warm (34 °C).
    Contacts: feeder 3.57 mohm; lead ring, blade, 2 crimps, 15 A fuse and holder = 9.43; out 2
    blades, 2 crimps, make contact = 3.5; back 2 blades, 2 crimps, break contact = 4.5; to the
    negative blade, ring, 2 crimps = 1.1; 22.1 mohm, 177 mV. Feeder: 8 A x 2 m x 1.16 = 19 mV.
    Together 458 mV.
    """
    result = worked("reversing", "relay")
    found, run = drop(result, "Vane"), wires(circuit(result, "Vane"))
    assert circuit(result, "Vane").fuses[0].rating_a == 15.0  # 8/(0.8 x 0.967) = 10.3 A
    warm = {name: hot(FOUR, r.conductor_c) * r.length_m for name, r in run.items()}
    assert {name: r.length_m for name, r in run.items()} == {
        "lead": 0.3, "up": 3.0, "down": 3.0, "back": 0.3,
    }
    assert found.parts.run_v == pytest.approx(8.0 * (warm["lead"] + warm["up"] + warm["down"]))
    assert found.parts.return_v == pytest.approx(8.0 * warm["back"])
    feeder = result.panels[0].feeder[0]
    assert found.parts.feeder_v == pytest.approx(8.0 * 2 * hot(SIXTEEN, feeder.conductor_c))
    contacts = (
        FEEDER_CONTACTS + RING + BLADE + 2 * CRIMP + FUSE_15
        + 2 * BLADE + 2 * CRIMP + MAKE + 2 * BLADE + 2 * CRIMP + BREAK + BLADE + RING + 2 * CRIMP
    )
    assert found.parts.contacts_v == pytest.approx(8.0 * contacts)
    assert found.total_v == pytest.approx(0.458, abs=1e-3)


def test_reversing_by_a_switch_passes_two_poles() -> None:
    """The same with 1 m to the switch and back, and two contacts of 5 mohm in place of 2 and 3."""
    result = worked("reversing", "direct")
    found, run = drop(result, "Vane"), wires(circuit(result, "Vane"))
    assert circuit(result, "Vane").relays == ()
    warm = {name: hot(FOUR, r.conductor_c) * r.length_m for name, r in run.items()}
    assert (run["lead"].length_m, run["back"].length_m) == (1.0, 1.0)
    assert found.parts.run_v == pytest.approx(8.0 * (warm["lead"] + warm["up"] + warm["down"]))
    contacts = (
        FEEDER_CONTACTS + RING + BLADE + 2 * CRIMP + FUSE_15 + POLE
        + 2 * (2 * BLADE + 2 * CRIMP) + BLADE + RING + 2 * CRIMP + POLE
    )
    assert found.parts.contacts_v == pytest.approx(8.0 * contacts)


@pytest.mark.parametrize(("type_", "contact"), [("relay", 2e-3), ("direct", POLE)])
def test_two_speeds_use_one_wire_at_a_time(type_: str, contact: float) -> None:
    """8 A through lead, the wire of the full speed and the return; the other wire carries none.

    16 A of contact asked for (motors count twice): a plug-in relay of 20 A has 4 mohm.
    """
    result = worked("two-speed", type_, ", low_speed: 5 A")
    found, run = drop(result, "Vane"), wires(circuit(result, "Vane"))
    relay = 4e-3 if type_ == "relay" else contact
    lead_m = run["lead"].length_m
    warm = {name: hot(FOUR, r.conductor_c) * r.length_m for name, r in run.items()}
    assert run["back"].length_m == pytest.approx(3.0 + lead_m)
    assert found.parts.run_v == pytest.approx(8.0 * (warm["lead"] + warm["high"]))
    assert found.parts.return_v == pytest.approx(8.0 * warm["back"])
    contacts = (
        FEEDER_CONTACTS + RING + BLADE + 2 * CRIMP + FUSE_15 + relay
        + 2 * BLADE + 2 * CRIMP + RING + 2 * CRIMP
    )
    assert found.parts.contacts_v == pytest.approx(8.0 * contacts)


def test_a_short_between_the_motors_terminals() -> None:
    """Aged battery, hot wire, aged contacts: battery, feeder, lead, out, back, and the negative.

    Wires at the mean of 105 °C and their final temperature, the feeder at 105 °C. Aged contacts
    [mohm]: feeder 4 rings 2.0, 4 crimps 1.2; lead 0.5 + 2 + 1.6; out 4 + 1.6 + make 10; back
    4 + 1.6 + break 15; to the negative 2 + 0.5 + 1.6: together 47.6 besides the two fuses.
    """
    text = "\n".join((SHED, MAIN, plan("reversing", "relay")))
    state, _ = sized(read_text(text), Ledger(()))
    level = state.levels.batteries["battery"]
    draft = next(c for c in state.wiring.circuits if c.motor)
    wire = state.wire[draft.segments[0].key]
    hot_c = 0.5 * (wire.insulation.class_c + wire.insulation.final_c)
    fuses = [d.worst_ohm for d in state.fuse.values() if d is not None and d.rating_a in (15, 30)]
    assert len(fuses) == 2
    ohm = (
        level.high_ohm + 2 * hot(SIXTEEN, wire.insulation.class_c) + hot(FOUR, hot_c) * 6.6
        + sum(fuses) + 47.6e-3
    )
    found = circuit(study(read_text(text)), "Vane").fault
    assert found is not None
    assert found.current_a == pytest.approx(level.low_emf_v / ohm, rel=1e-6)
    assert found.run == wires(circuit(study(read_text(text)), "Vane"))["up"].id
    assert found.clears_s is not None
    assert found.clears_s <= found.allowed_s


@pytest.mark.parametrize("motor", ["reversing", "two-speed"])
@pytest.mark.parametrize("type_", ["relay", "direct"])
def test_all_wires_are_guarded_alike_and_no_live_one_looks_like_an_earth(
    motor: str, type_: str
) -> None:
    """Both wires to the motor are fed: colour, size, fuse as the lead's, never a return's."""
    text = plan(motor, type_).replace(", size: 4 mm2", "").replace("length: 3 m", "length: 9 m")
    found = circuit(studied(SHED, MAIN, text), "Vane")
    live = [r for r in found.runs if r.role == "feed"]
    backs = [r for r in found.runs if r.role == "return"]
    assert len(live) == 3
    assert len(backs) == 1
    assert {r.size for r in found.runs} == {live[0].size}
    assert {r.colour for r in live}.isdisjoint({r.colour for r in backs})
    assert all("BN" not in r.colour for r in live)  # the return's brown of DIN 72551
    for run in found.runs:
        assert run.protected_by == found.fuses[0].id
        assert run.ampacity_a >= found.fuses[0].rating_a
    assert len({r.id for r in found.runs}) == 4


def test_the_break_contact_rules_the_relay() -> None:
    """16 A of contact for 8 A: 20/15 A is too small by its break contact, 40/30 A is the next."""
    found = circuit(worked("reversing", "relay"), "Vane")
    assert [(r.contact_a, r.break_a, r.needed_a) for r in found.relays] == [(40.0, 30.0, 16.0)] * 2
    assert {r.at for r in found.relays} == {"up", "down"}
    lighter = circuit(
        studied(SHED, MAIN, plan("reversing", "relay", amps="7.5 A")), "Vane"
    ).relays[0]
    assert (lighter.contact_a, lighter.break_a) == (20.0, 15.0)


def test_a_motor_beyond_every_break_contact_fails() -> None:
    """15.5 A ask for 31 A; the largest break contact of the table bears 30 A."""
    result = studied(SHED, MAIN, plan("reversing", "relay", amps="15.5 A"))
    (found,) = findings(result, "S02")
    assert (found.found, found.limit) == (31.0, 30.0)
    assert "break contact" in found.message
    assert not findings(studied(SHED, MAIN, plan("reversing", "relay", amps="15 A")), "S02")


def test_one_coil_at_a_time_on_the_switch() -> None:
    """One coil of 60 ohm at 14.4 V and -20 °C, 0.285 A, in three control wires on one 1 A fuse."""
    result = worked("reversing", "relay")
    control = next(c for c in result.circuits if not c.accessories)
    cold_a = 14.4 / (60.0 * (1.0 + 0.00393 * (-20.0 - 20.0)))
    assert result.switches[0].current_a == pytest.approx(cold_a, rel=2e-3)
    assert [r.current_a for r in control.runs] == [pytest.approx(cold_a, rel=2e-3)] * 3
    assert [r.at for r in control.runs] == ["", "up", "down"]
    assert [f.rating_a for f in control.fuses] == [1.0]


def test_the_brake_at_rest_is_said_of_relays_only() -> None:
    assert [f.subject for f in findings(worked("reversing", "relay"), "M04")] == ["Vane"]
    assert not findings(worked("reversing", "direct"), "M04")
    assert not findings(worked("two-speed", "relay"), "M04")


def test_without_low_speed_the_full_current_is_taken_and_listed() -> None:
    result = worked("two-speed", "relay")
    assert circuit(result, "Vane").accessories[0].low_speed_a == pytest.approx(8.0)
    (noted,) = [a for a in result.assumptions if a.what == "current at low speed"]
    assert (noted.subject, noted.value) == ("Vane", "8 A")
    given = worked("two-speed", "relay", ", low_speed: 5 A")
    assert circuit(given, "Vane").accessories[0].low_speed_a == pytest.approx(5.0)
    assert not [a for a in given.assumptions if a.what == "current at low speed"]


def test_terminals_are_those_of_the_table() -> None:
    """DIN 72552, as the table of terminals has it: 33 main terminal, 32 return, 33f slower."""
    said = {r["terminal"]: r["meaning"] for r in store.rows("terminals_din72552")}
    assert "main terminal" in said["33"]
    assert "return" in said["32"]
    assert "slower" in said["33f"]
    assert {t for pair in MOTOR_TERMINALS.values() for t in pair} == {"32", "33", "33f"}
    for volts in (12.0, 24.0):
        change_over = [r for r in relays.offered(volts) if "87a" in r.terminals]
        assert len(change_over) == 2
        for relay in change_over:  # 30/40 A, the dual rating that relay data have
            assert relay.break_a == 0.75 * relay.contact_a
            assert relay.break_design_ohm > relay.contact_design_ohm


def test_no_relay_of_48_v_changes_over() -> None:
    """Nothing is offered, so the plan fails rather than take a relay that is not made for it."""
    text = plan("reversing", "relay").replace("8 A", "2 A").replace("30 A", "9 A")
    result = studied(SHED.replace("12 V", "48 V"), MAIN, text)
    assert circuit(result, "Vane").relays == ()
    (found,) = findings(result, "S05")
    assert "two change-over relays made for this load" in found.remedy
    assert result.answer == "not ok"
