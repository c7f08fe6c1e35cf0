"""The console card: what is dead, where its switch, fuse and relay are, and what to do at night.

Letter heights are capital heights at 70 cm in a dark cab: names 5 mm (4.1 mm on cards narrower than
180 mm: 20 minutes of arc), the rest 3.3 mm, nothing under 2.5 mm (MIL-STD-1472, ISO 9241-303 and
NUREG-0700, second-hand). Black on white, no meaning by colour.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import AccessoryResult, Circuit, Result
from circuitplan.planner.holding import warning
from circuitplan.report import card_essentials as essentials
from circuitplan.report import motors, show
from circuitplan.report.environment import environment, style
from circuitplan.report.words import fuse_text, heading, revision

_FAULT_STEPS = (
    "Is more dead than one thing? Then look first at the fuse of the whole panel.",
    "Find the thing on this card. Switch it off. Pull its fuse and look through it.",
    "Blown: fit the same rating and type, never a larger one. Switch on once.",
    "The fuse blows again: stop. Leave it out and leave that thing off.",
    "Fuse good: try a like relay in its place, then plug and earth. Then call the workshop and "
    "give the circuit's number.",
)
_LIVE = {
    "always": "always live",
    "ignition": "live with ignition",
    "engine": "live with the engine",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One dead thing; ``fuses`` holds (identifier, rating and colour word, place)."""

    name: str
    number: str
    switches: tuple[tuple[str, str], ...]
    no_switch: str
    fuses: tuple[tuple[str, str, str], ...]
    no_fuse: str
    relays: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class CardView:
    title: str
    lines: tuple[Line, ...]
    panels: tuple[Line, ...]
    limits: tuple[str, ...]
    together: tuple[str, ...]
    isolate: tuple[str, ...]
    steps: tuple[str, ...]
    boxes: tuple[str, ...]
    parked: tuple[str, ...]
    spare: tuple[str, ...]
    care: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Size:
    """A face of the card [mm]."""

    width: float
    height: float

    @property
    def narrow(self) -> bool:
        """Too narrow for four columns: each thing becomes a block of lines."""
        return self.width < 180.0


SIZES = {
    "A6": Size(148.0, 105.0),
    "A5": Size(210.0, 148.0),
    "100x150mm": Size(100.0, 150.0),
    "4x6in": Size(101.6, 152.4),
}
LEAST_MM, MOST_MM = 85.0, 420.0
"""Sides that a face may have: below, not one thing fits; above, no printer takes it."""


def card_view(plan: Plan, result: Result) -> CardView:
    """Every accessory of the result, in the order in which the fuses sit in their panels."""
    labels = {s.id: "" if s.label == s.id else s.label for s in result.switches}
    circuits = sorted(result.circuits, key=lambda c: essentials.seat(c, result))
    return CardView(
        heading(plan),
        tuple(_line(c, a, result, labels) for c in circuits for a in c.accessories),
        tuple(
            Line(
                f"All on {p.id}", "", (), "",
                ((p.fuse.id, fuse_text(p.fuse), p.fuse.position),) if p.fuse else (),
                p.fuse_reason or "no fuse on record", (),
            )
            for p in result.panels
        ),
        tuple(_limits(result)),
        tuple(_together(result)),
        result.supply.isolate,
        _FAULT_STEPS,
        essentials.boxes(result),
        essentials.parked(result),
        essentials.spare(result),
        essentials.care(result),
    )


def render_card(
    plan: Plan, result: Result, size: Size = SIZES["A5"], *, marks: bool = False,
    fold: bool = False,
) -> str:
    """The card as self-contained HTML: faces of ``size``, as many as it needs.

    ``marks`` adds cut marks outside each face (on paper 20 mm larger each way). ``fold`` prints two
    faces side by side with the fold between them: folded backwards, they are front and back.
    """
    view = card_view(plan, result)
    date = plan.job.date or "date not given"
    foot = f"{revision(plan)} · {date} · plan {plan.sha256[:12]}"
    text = essentials.code_text(view, foot)
    code = essentials.code(text, min(size.width, size.height) - 30.0)
    template = environment().get_template("card.html.j2")
    bad = warning(result)
    body = template.render(view=view, size=size, code=code, style="", warning=bad, fold=fold)
    letters = html.unescape(re.sub(r"<[^>]+>", "", body)) + foot + "sheet"
    sheet = style("card.css", letters, (600, 700), title=view.title, foot=foot,
                  leaf="sheet" if fold else "face")
    cut = " marks: crop; bleed: 10mm;" if marks else ""
    width = size.width * (2.0 if fold else 1.0)
    inside = size.width - 16.0  # the foot keeps to its face
    foot_boxes = "".join(
        f" @bottom-{side} {{ width: {inside:g}mm; }}" for side in ("left", "right") if fold
    )
    page = f"@page {{ size: {width:g}mm {size.height:g}mm;{cut}{foot_boxes} }}"
    return template.render(
        view=view, size=size, code=code, style=f"{sheet}\n{page}", warning=bad, fold=fold
    )


def _line(c: Circuit, a: AccessoryResult, result: Result, labels: dict[str, str]) -> Line:
    own = [s.id for s in result.switches if a.name in s.works] or list(c.switches)
    relays = [r for r in c.relays if set(r.switches) & set(own)] or list(c.relays)
    coils = [
        f
        for other in result.circuits
        if relays and not other.accessories and set(other.switches) & set(own)
        for f in other.fuses
    ]
    isolator = f"isolator {show.rating(c.isolator_a)} A" if c.isolator_a is not None else ""
    return Line(
        a.name,
        str(c.number),
        tuple((s, labels.get(s, "")) for s in own),
        f"no switch, {_LIVE.get(a.live, a.live)}",
        tuple((f.id, fuse_text(f), f.position) for f in c.fuses)
        + tuple((f.id, fuse_text(f), f"{f.position}, for the relay") for f in coils),
        isolator or "no fuse",
        tuple((r.id, r.position) for r in relays),
    )


def _limits(result: Result) -> Iterator[str]:
    for scenario in result.supply.scenarios:
        if scenario.engine == "off" and scenario.hours_to_reserve is not None:
            what = ", ".join(name for name, _ in scenario.running)
            yield (
                f"{scenario.name} ({what or scenario.battery}): "
                f"{show.hours(scenario.hours_to_reserve)} with the engine off"
            )
    for circuit in result.circuits:
        for a in circuit.accessories:
            if a.live == "engine":
                yield f"{a.name}: engine on"
            if a.motor is not None:
                yield (
                    f"{a.name}: {circuit.switches[0]} {' – '.join(motors.positions(a.motor))}"
                    + ("; let it stand before the other way" if a.motor == "reversing" else "")
                )
            if a.on_s is not None and a.period_s is not None:
                yield (
                    f"{a.name}: no longer than {show.seconds(a.on_s)} "
                    f"in every {show.seconds(a.period_s)}"
                )


def _together(result: Result) -> Iterator[str]:
    seen: set[frozenset[str]] = set()
    for circuit in result.circuits:
        for a in circuit.accessories:
            for other in a.never_with:
                if frozenset((a.name, other)) not in seen:
                    seen.add(frozenset((a.name, other)))
                    yield f"Never together: {a.name} and {other}"
            for other in a.needs:
                yield f"{a.name} only while {other} is on"
