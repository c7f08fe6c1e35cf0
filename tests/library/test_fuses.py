"""Fuse families, relays and contacts."""

from __future__ import annotations

from itertools import pairwise

import pytest

from circuitplan.errors import TableError
from circuitplan.library import contacts, fuses, relays

TYPES = ("C", "E", "F", "SF30", "SF51", "bolt-in", "class T", "breaker", "output")


def test_families_are_those_a_plan_may_name() -> None:
    assert tuple(family.type for family in fuses.families()) == TYPES
    assert fuses.type_name("CLASS-t") == "class T"
    assert fuses.type_name("sf30") == "SF30"
    assert fuses.type_name("glass") is None
    with pytest.raises(TableError, match="known: C, E, F"):
        fuses.family("glass")


@pytest.mark.parametrize(
    ("type", "volts", "breaking_a"),
    # ISO 8820-3:2015, -4:2016, -5:2015 scopes (read); UL 248-15 (from memory).
    [("C", (32.0, 58.0), 1000), ("E", (32.0, 58.0), 1000), ("bolt-in", (32.0, 58.0), 1000),
     ("SF30", (32.0,), 2000), ("SF51", (32.0,), 2000), ("class T", (125.0,), 20000)],
)  # fmt: skip
def test_volts_and_breaking_capacity(
    type: str, volts: tuple[float, ...], breaking_a: float
) -> None:
    family = fuses.family(type)
    assert family.rated_v == volts
    assert family.breaking_capacity_a == breaking_a


def test_unknown_breaking_capacity_is_not_invented() -> None:
    assert fuses.family("breaker").breaking_capacity_a is None
    assert fuses.family("output").breaking_capacity_a is None


@pytest.mark.parametrize(
    ("rating", "colour"),
    # ISO 8820-3 colour code (read).
    [(1, "black"), (2, "grey"), (3, "violet"), (4, "pink"), (5, "tan"), (7.5, "brown"),
     (10, "red"), (15, "blue"), (20, "yellow"), (25, "clear"), (30, "green"),
     (35, "blue-green"), (40, "orange")],
)  # fmt: skip
def test_colours_of_medium_blade_fuses(rating: float, colour: str) -> None:
    assert fuses.colour("C", rating) == colour


def test_colours_of_high_current_blade_fuses() -> None:
    """ISO 8820-3 colour code (read)."""
    found = [fuses.colour("E", rating) for rating in fuses.ratings("E")]
    assert found == ["yellow", "green", "orange", "red", "blue", "tan", "clear", "violet"]
    assert fuses.colour("SF51", 100.0) is None
    assert fuses.colour("C", 12.0) is None


def test_ratings_ascend_and_lie_within_each_standard() -> None:
    for type in TYPES[:-1]:
        ratings = fuses.ratings(type)
        assert list(ratings) == sorted(set(ratings))
    assert fuses.ratings("C")[-1] == 40
    assert fuses.ratings("E")[-1] == 100  # ISO 8820-3 ends at 100 A
    assert fuses.ratings("bolt-in")[-1] <= 140  # ISO 8820-4
    assert (fuses.ratings("class T")[0], fuses.ratings("class T")[-1]) == (30, 400)
    assert fuses.ratings("output") == ()


@pytest.mark.parametrize(
    ("type", "multiple", "t_min_s", "t_max_s"),
    # ISO 8820-3 and -5 time gates (from memory).
    [("C", 1.35, 0.75, 600), ("C", 2.0, 0.15, 5), ("F", 3.5, 0.04, 0.5), ("E", 2.0, 2, 60),
     ("E", 6.0, 0.04, 1), ("SF30", 2.0, 1, 15), ("SF51", 3.5, 0.3, 5), ("C", 1.1, 360000, None)],
)  # fmt: skip
def test_gates(type: str, multiple: float, t_min_s: float, t_max_s: float | None) -> None:
    assert fuses.Gate(multiple, t_min_s, t_max_s) in fuses.gates(type)


def test_gates_shrink_with_current_and_leave_a_band() -> None:
    for type in TYPES[:-2]:
        gates = fuses.gates(type)
        assert gates[0].t_max_s is None
        for low, high in pairwise(gates):
            assert low.multiple < high.multiple
            assert low.t_min_s > high.t_min_s
            assert low.t_max_s is None or (high.t_max_s or 0) < low.t_max_s
        assert all(g.t_max_s is None or g.t_min_s < g.t_max_s for g in gates)
    assert fuses.gates("breaker") == ()
    assert fuses.gates("output") == ()
    assert fuses.gates_source("breaker") is None
    found = fuses.gates_source("class T")
    assert found is not None
    assert found[0] == "judgement"


def test_hot_fuse_carries_less() -> None:
    """40, 34, 30, 25, 22 A of a 40 A blade fuse at 20, 65, 85, 110, 125 °C (second-hand)."""
    for ambient_c, current_a in [(20, 40), (65, 34), (85, 30), (110, 25), (125, 22)]:
        factor = fuses.ambient_factor(ambient_c)
        assert factor is not None
        assert factor * 40 == pytest.approx(current_a)
    assert fuses.ambient_factor(-40) == 1
    assert fuses.ambient_factor(50) == pytest.approx(0.90)
    assert fuses.ambient_factor(125.1) is None


def test_worst_is_never_better_than_design() -> None:
    for family in fuses.families():
        assert 0 < family.drop_v_design < family.drop_v_worst
        assert family.holder_design_ohm <= family.holder_worst_ohm
    for item in contacts.items():
        design, worst = contacts.resistance(item)
        assert 0 < design < worst
    for system_v in (12, 24, 48):
        for relay in relays.offered(system_v):
            assert relay.contact_design_ohm < relay.contact_worst_ohm


def test_sum_of_contacts_on_a_relayed_circuit() -> None:
    """1 ring, 6 crimps, 3 blades, holder, fuse, relay: 0.13, 0.21 and 0.26 V (computed by hand).

    10 A on a 15 A fuse by 1 mm² crimps, 20 A on 25 A and 30 A on 40 A by 4 mm² crimps; relay of
    30 to 40 A.
    """
    for current, fuse, area, printed in [(10, 15, 4, 0.13), (20, 25, 4, 0.21), (30, 40, 4, 0.26)]:
        family = fuses.family("C")
        total = (
            contacts.resistance("ring on stud")[0]
            + 6 * contacts.crimp(area).design_ohm
            + 3 * contacts.resistance("blade joint 6.3 mm")[0]
            + family.holder_design_ohm
            + family.drop_v_design / fuse
            + contacts.resistance("relay contact 30 to 40 A")[0]
        )
        assert current * total == pytest.approx(printed, abs=0.011)


def test_crimps_by_area() -> None:
    for area, item in [(0.5, "crimp to 1.5 mm2"), (2.0, "crimp to 1.5 mm2"), (2.5, "crimp 2.5"),
                       (8, "crimp 2.5"), (16, "crimp 10"), (35, "crimp from 35")]:  # fmt: skip
        assert contacts.crimp(area).item.startswith(item)
    with pytest.raises(TableError, match="known"):
        contacts.get("solder blob")


@pytest.mark.parametrize(
    ("contact_class", "at_12", "at_28"),
    # FAA AC 43.13-1B (1998) Table 11-4 (read).
    [("lamp", 5, 8), ("inductive", 2, 4), ("resistive", 1, 2), ("motor", 2, 3)],
)
def test_contact_factors(contact_class: str, at_12: float, at_28: float) -> None:
    low = contacts.load_factor(contact_class, 12)
    high = contacts.load_factor(contact_class, 24)
    assert low is not None
    assert high is not None
    assert (low.factor, low.status) == (at_12, "read")
    assert (high.factor, high.status) == (at_28, "read")


def test_contacts_that_the_table_of_the_faa_does_not_hold() -> None:
    led = contacts.load_factor("capacitive", 12)
    assert led is not None
    assert (led.factor, led.unknown_inrush_factor, led.status) == (1, 2, "judgement")
    high = contacts.load_factor("lamp", 48)
    assert high is not None
    assert high.needs_contact_volts
    assert contacts.load_factor("contactor", 12) is None
    assert contacts.load_factor("magic", 12) is None
    assert contacts.load_factor("lamp", 36) is None


def test_relays() -> None:
    for system_v in (12, 24, 48):
        found = relays.offered(system_v)
        assert [relay.contact_a for relay in found] == sorted(relay.contact_a for relay in found)
        for relay in found:
            assert relay.pick_up_v < system_v
            assert relay.contact_rated_v >= {12: 15, 24: 30, 48: 58.4}[system_v]
            assert relay.letter == "Q"
            assert relay.terminals[:2] == ("30", "87")
            assert relay.terminals[-2:] == ("86", "85")
    assert relays.offered(36) == ()
    # Coil of 60 ohm, -20 °C, 14.4 V: 0.29 A, no more.
    plug_in = [relay for relay in relays.offered(12) if relay.contact_a <= 70]
    for relay in plug_in:
        cold_ohm = relay.coil_ohm * (1 + 0.00393 * -40)
        assert 14.4 / cold_ohm < 0.29
