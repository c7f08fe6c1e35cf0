"""Picture: the switches as they sit before the driver, place by place, with loads and spare."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from circuitplan.model.result import SwitchResult
from circuitplan.planner.room import Room
from circuitplan.report import show
from circuitplan.report.fonts import wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM = 180.0
_SEATS = 6  # side by side
_GAP_MM, _PAD_MM = 2.0, 1.4
_SEAT_MM = (_WIDTH_MM - _GAP_MM * (_SEATS - 1)) / _SEATS
_LINE_MM, _TEXT_MM, _NAME_MM = 3.3, 2.7, 3.2
_BAR_MM, _HEAD_MM = 2.6, 5.2


@dataclass(frozen=True, slots=True)
class _Seat:
    """One switch with its lines of text, cut to the width of a seat."""

    switch: SwitchResult
    label: tuple[str, ...]
    works: tuple[str, ...]
    spare: tuple[str, ...]
    height: float


def switch_bank(
    switches: Sequence[SwitchResult], rooms: Mapping[str, Room], title: str
) -> tuple[str, str]:
    """(SVG, the same in words). Switches stand in the order of the plan, from left to right; a
    signal of the vehicle is no switch and is left out. ``rooms``: what each may still carry."""
    by_place: dict[str, list[_Seat]] = {}
    for switch in switches:
        if switch.type != "signal":
            by_place.setdefault(switch.place or "", []).append(_seat(switch, rooms[switch.id]))
    rows = [
        (place if start == 0 else "", seats[start : start + _SEATS])
        for place, seats in by_place.items() for start in range(0, len(seats), _SEATS)
    ]
    said = "; ".join(
        f"{place or 'no place given'}: "
        + ", ".join(_words(s.switch, rooms[s.switch.id]) for s in seats)
        for place, seats in by_place.items()
    )
    alternative = f"{title}. {said}."
    heights = [max(s.height for s in seats) + (_LINE_MM + 1.0) * bool(place) + 2.5
               for place, seats in rows]
    canvas = Canvas(_WIDTH_MM, sum(heights) or 1.0, alternative)
    y = 0.0
    for (place, seats), height in zip(rows, heights, strict=True):
        top = y
        if place:
            canvas.text(0.0, y + _LINE_MM - 0.5, place, _NAME_MM, bold=True)
            top += _LINE_MM + 1.0
        tall = max(s.height for s in seats)
        for number, seat in enumerate(seats):
            _draw(canvas, (_SEAT_MM + _GAP_MM) * number, top, tall, seat)
        y += height
    return canvas.render("drawing bars"), alternative


def _seat(switch: SwitchResult, room_left: Room) -> _Seat:
    room = _SEAT_MM - 2.0 * _PAD_MM
    label = () if switch.label == switch.id else tuple(wrap(switch.label, _TEXT_MM, room, 600))
    works = tuple(
        line for name in switch.works for line in wrap(name, _TEXT_MM, room, 400)
    ) or ("free",)
    spare = wrap(spare_words(switch, room_left), _TEXT_MM, room, 400)
    lines = len(label) + len(works) + len(spare) - 1
    return _Seat(switch, label, works, spare, _HEAD_MM + _LINE_MM * (lines + 1) + _BAR_MM + 3.0)


def _draw(canvas: Canvas, x: float, y: float, height: float, seat: _Seat) -> None:
    canvas.box(x, y, _SEAT_MM, height, fill="#fff", width=0.4)
    left = x + _PAD_MM
    at = y + _HEAD_MM - 1.4
    canvas.text(left, at, seat.switch.id, _NAME_MM, bold=True)
    for line in seat.label:
        at += _LINE_MM
        canvas.text(left, at, line, _TEXT_MM, bold=True)
    at += 1.0
    canvas.line((x, at), (x + _SEAT_MM, at), width=0.15)
    for line in seat.works:
        at += _LINE_MM
        canvas.text(left, at, line, _TEXT_MM)
    foot = y + height - _PAD_MM
    for number, line in enumerate(reversed(seat.spare)):
        canvas.text(left, foot - _LINE_MM * number, line, _TEXT_MM)
    _bar(canvas, left, foot - _LINE_MM * len(seat.spare) - _BAR_MM + 0.2, seat.switch)


def _bar(canvas: Canvas, x: float, y: float, switch: SwitchResult) -> None:
    room = _SEAT_MM - 2.0 * _PAD_MM
    canvas.box(x, y, room, _BAR_MM, fill="#fff", width=0.2)
    if not switch.usable_a:
        return
    share = max(0.0, switch.current_a / switch.usable_a)
    if share > 1.0:
        canvas.box(x, y, room, _BAR_MM, fill="#000")
    elif share > 0.0:
        canvas.hatch(x, y, room * share, _BAR_MM)


def spare_words(switch: SwitchResult, room: Room) -> str:
    """"5.2 A spare (cab panel)": what may be added, and what would be full then."""
    if switch.spare_a is not None and switch.spare_a < 0.0:
        return f"OVER by {show.up(-switch.spare_a)} A"
    if room.spare_a is None:
        return room.limit
    if room.spare_a <= 0.0:
        return f"none spare ({room.limit})"
    return f"{show.down(room.spare_a, 1)} A spare ({room.limit})"


def _words(switch: SwitchResult, room: Room) -> str:
    label = "" if switch.label == switch.id else f" {switch.label}"
    works = show.listed(switch.works) if switch.works else "free"
    return f"{switch.id}{label} works {works}, {spare_words(switch, room)}"
