"""Relay bases: laid out as ISO 7588-1 has the mini relay (from memory), mirrored by side."""

from __future__ import annotations

from itertools import combinations

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Result
from circuitplan.report.circuit_sheets.base_faces import (
    FACES_APART,
    HIGH,
    OPENING,
    WIDE,
    places,
    room,
)
from circuitplan.report.circuit_sheets.draw import draw
from circuitplan.report.circuit_sheets.pen import TextBox

Worked = tuple[Plan, Result]
NUMBERS = ("30", "85", "86", "87", "87a")


def _based(result: Result) -> list[Circuit]:
    return [c for c in result.circuits if c.accessories and room(c) > 0.0]


def test_openings_stand_where_the_standard_has_them() -> None:
    """From the wire side: 87, 87a, 30 down the middle; 86 to the left, 85 to the right."""
    seen = places(mirrored=False)
    assert set(seen) == set(NUMBERS)
    assert seen["87"][0] == seen["87a"][0] == seen["30"][0] == WIDE / 2
    assert seen["87"][1] < seen["87a"][1] < seen["30"][1]
    assert seen["86"][0] < WIDE / 2 < seen["85"][0]
    assert seen["86"][1] == seen["85"][1]


def test_the_other_side_is_the_mirror_image() -> None:
    """Left and right change places, up and down do not; the distance between any two stays."""
    wire, relay = places(mirrored=False), places(mirrored=True)
    assert relay["85"][0] < WIDE / 2 < relay["86"][0]
    for number in NUMBERS:
        assert relay[number][1] == wire[number][1]
        assert abs(relay[number][0] + wire[number][0] - WIDE) < 1e-9
    for a, b in combinations(NUMBERS, 2):
        assert abs(abs(wire[a][0] - wire[b][0]) - abs(relay[a][0] - relay[b][0])) < 1e-9


def test_no_number_lies_on_an_opening_or_over_the_edge(worked: Worked) -> None:
    _, result = worked
    for circuit in _based(result):
        boxes = draw(circuit, result).pen.boxes
        wire = next(b for b in boxes if b.text == "wire side")
        relay = next(b for b in boxes if b.text.startswith("relay side"))
        for left, mirrored, caption in ((1.0, False, wire), (1.0 + FACES_APART, True, relay)):
            assert caption.x == left
            top = caption.y + 0.75 * caption.h - 3.6 - HIGH
            on_face = [b for b in boxes if left <= b.x < left + WIDE and top <= b.y < top + HIGH]
            assert sorted(b.text for b in on_face) == sorted(NUMBERS)
            for number, (x, y) in places(mirrored).items():
                mine = next(b for b in on_face if b.text == number)
                middle = mine.x + mine.w / 2, mine.y + mine.h / 2
                assert abs(middle[0] - left - x) + abs(middle[1] - top - y) < 5.5
                for other in on_face:
                    assert _clear(other, left + x, top + y), (other.text, number)
            for box in on_face:
                assert box.x + box.w <= left + WIDE - 0.2
                assert box.y + box.h <= top + HIGH


def _clear(text: TextBox, x: float, y: float) -> bool:
    """The text keeps off an opening whose middle is (x, y)."""
    half = OPENING / 2
    return (
        text.x + text.w <= x - half or x + half <= text.x
        or text.y + text.h <= y - half or y + half <= text.y + 0.3
    )


def test_each_number_says_what_goes_there(worked: Worked) -> None:
    """30 from the fuse, 87 to the load's wire, 86 from every control wire, 85 to the negative."""
    _, result = worked
    for circuit in _based(result):
        if len(circuit.relays) > 1:
            continue  # a motor's two: see test_motor_sheets
        pen = draw(circuit, result).pen
        boxes = {b.text: b for b in pen.boxes}
        said = {
            b.text: next(o.text for o in pen.boxes if o.y == b.y and o.x == b.x + 9.0)
            for b in pen.boxes if b.text in NUMBERS and b.x > 70.0 and b.x < 80.0
            and any(o.y == b.y and o.x == b.x + 9.0 for o in pen.boxes)
        }
        assert tuple(sorted(said)) == NUMBERS
        feed = next(r for r in circuit.runs if r.role == "feed")
        assert circuit.fuses[0].id in said["30"]
        assert said["87"].startswith(f"wire {feed.id} to")
        controls = [
            c for c in result.circuits
            if not c.accessories and set(c.switches) & set(circuit.switches)
        ]
        assert controls
        for control in controls:
            assert control.runs[-1].id in said["86"]
        assert said["85"] == "31, negative"
        assert said["87a"] == "left free"
        assert f"Base of {circuit.relays[0].id}, seen from the wire side" in boxes


def test_only_relays_of_this_form_get_the_base(worked: Worked) -> None:
    _, result = worked
    for circuit in result.circuits:
        if not circuit.accessories or not circuit.relays:
            continue
        texts = [b.text for b in draw(circuit, result).pen.boxes]
        plug_in = circuit.relays[0].type.endswith("plug-in relay")
        assert any(t.startswith("Base of ") for t in texts) == plug_in
