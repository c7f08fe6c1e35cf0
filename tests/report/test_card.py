"""The console card: every dead thing leads to its switch, fuse and relay; letters large enough."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from types import ModuleType
from typing import Any

import pytest

from circuitplan.model.result import Circuit
from circuitplan.report.card import card_view, render_card
from circuitplan.report.fonts import CAP_HEIGHT_EM, _font

PX_PER_MM = 96.0 / 25.4  # CSS Values and Units 4, section 6.2


def test_each_dead_thing_leads_to_its_parts(sample: ModuleType) -> None:
    result = sample.big_result()
    lines = {line.name: line for line in card_view(sample.big_plan(), result).lines}
    assert lines.keys() == {a.name for c in result.circuits for a in c.accessories}
    roof = lines["Roof lamps"]
    assert roof.switches == (("S4", "Roof"),)
    assert roof.fuses == (("F5", "25 A white, type C", "main, way 5"),)
    assert roof.relays == (("Q5", "main"),)
    assert lines["Winch"].no_fuse == "isolator 500 A"
    assert {s for s, _ in lines["Reverse lamps"].switches} == {"S6", "reverse"}


def test_the_fuse_of_the_coil_is_named_too(sample: ModuleType) -> None:
    """A relayed lamp is dead as well when the fuse of its relay's coil has blown."""
    result = sample.big_result()
    roof = next(c for c in result.circuits if c.label == "Roof lamps")
    fuse = dataclasses.replace(roof.fuses[0], id="F77", rating_a=1.0, colour="black")
    coil: Circuit = dataclasses.replace(
        roof, id="C77", number=77, label="Roof lamps: control", accessories=(), fuses=(fuse,),
        relays=(), drop=None, drops=(),
    )  # fmt: skip
    result = dataclasses.replace(result, circuits=(*result.circuits, coil))
    lines = {line.name: line for line in card_view(sample.big_plan(), result).lines}
    assert [f[0] for f in lines["Roof lamps"].fuses] == ["F5", "F77"]
    assert "for the relay" in lines["Roof lamps"].fuses[1][2]


def test_limits_and_what_excludes_what(sample: ModuleType) -> None:
    view = card_view(sample.big_plan(), sample.big_result())
    assert "Night on scene, engine off (Roof lamps, Fridge): 2.4 h" in view.limits
    assert "Compressor: engine on" in view.limits
    assert "Winch: no longer than 60 s in every 10 min" in view.limits
    assert "Never together: Winch and Compressor" in view.together
    assert view.isolate == sample.big_result().supply.isolate
    assert len(view.steps) == 5
    assert "blows again: stop" in view.steps[3]


def test_capital_height_is_that_of_the_font() -> None:
    font = _font(700)
    assert font["OS/2"].sCapHeight / font["head"].unitsPerEm == pytest.approx(CAP_HEIGHT_EM)


@pytest.mark.slow
def test_letter_heights_on_every_face(sample: ModuleType) -> None:
    """Names of things, switches and the steps that cut the power: 20 minutes of arc at 70 cm, 4.1
    mm (ISO 9241-303; MIL-STD-1472: 4 mm at least for what is critical; second-hand). Else 2.5 mm.
    """
    from weasyprint import HTML

    pages = HTML(string=render_card(sample.big_plan(), sample.big_result())).render().pages
    steps = 0
    names: list[float] = []
    for page in pages:
        assert (page.width, page.height) == pytest.approx((210 * PX_PER_MM, 148 * PX_PER_MM))
        for box, classes in _texts(page._page_box, frozenset()):
            cap_mm = box.style["font_size"] / PX_PER_MM * CAP_HEIGHT_EM
            assert cap_mm >= 2.5 - 1e-6, box.text
            if "name" in classes:
                names.append(cap_mm)
            isolate = sample.big_result().supply.isolate
            if any(step.startswith(box.text.strip()) for step in isolate):
                steps += 1
                assert cap_mm >= 4.07
    assert len(names) >= 25
    assert steps >= len(sample.big_result().supply.isolate)
    assert min(names) >= 4.07  # 2 x 700 mm x tan(10 minutes of arc)


def _texts(box: Any, classes: frozenset[str]) -> Iterator[tuple[Any, frozenset[str]]]:
    """Each printed text with the classes around it."""
    if box.element is not None:
        classes |= set((box.element.get("class") or "").split())
    if getattr(box, "text", "").strip():
        yield box, classes
    for child in getattr(box, "children", ()):
        yield from _texts(child, classes)


def test_black_on_white_and_nothing_from_outside(sample: ModuleType) -> None:
    html = render_card(sample.big_plan(), sample.big_result())
    assert "<script" not in html
    assert "http" not in html
    assert "Tracker &lt;12 V&gt; &amp; alarm" in html
