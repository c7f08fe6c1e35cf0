"""Picture: the tree of feeders and circuits with the copper that each takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from circuitplan.model.result import Result, Run
from circuitplan.physics.copper import mass_kg
from circuitplan.report import show
from circuitplan.report.fonts import wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM, _NAME_MM, _BAR_MM, _TEXT_AT_MM = 180.0, 66.0, 66.0, 136.0
_STEP_MM, _LINE_MM, _TEXT_MM, _THICK_MM = 5.0, 3.4, 2.9, 2.8


@dataclass(frozen=True, slots=True)
class Row:
    """A feeder or a circuit: how deep it hangs, its copper out and back, its sizes."""

    depth: int
    name: str
    feeder: bool
    kg: float
    sizes: str


def rows(result: Result) -> tuple[Row, ...]:
    """Each source, below it its circuits and panels, below these theirs; by weight, the most
    first. A thing that hangs on nothing known stands at the end."""
    known = {p.id for p in result.panels}
    roots = [p.fed_from for p in result.panels if p.fed_from not in known]
    roots += [c.panel for c in result.circuits if c.panel not in known]
    done: set[str] = set()
    found: list[Row] = []
    for root in dict.fromkeys(roots):
        found.append(Row(0, root, True, 0.0, ""))
        found += _below(result, root, 1, done)
    return tuple(found)


def _below(result: Result, name: str, depth: int, done: set[str]) -> Iterator[Row]:
    circuits = sorted(
        (c for c in result.circuits if c.panel == name),
        key=lambda c: (-copper_kg(c.runs), c.number),
    )
    for circuit in circuits:
        yield Row(depth, f"{circuit.number} {circuit.label}", False, copper_kg(circuit.runs),
                  _sizes(circuit.runs))  # fmt: skip
    for panel in result.panels:
        if panel.fed_from == name and panel.id not in done:
            done.add(panel.id)
            yield Row(depth, panel.id, True, copper_kg(panel.feeder), _sizes(panel.feeder))
            yield from _below(result, panel.id, depth + 1, done)


def copper_kg(runs: Iterable[Run]) -> float:
    """Copper of wires, out and back [kg]."""
    return sum(mass_kg(r.area_mm2, r.length_m * r.pieces) for r in runs)


def _sizes(runs: Iterable[Run]) -> str:
    by_area = sorted({(r.area_mm2, r.size) for r in runs})
    names = [size for _, size in by_area]
    return names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}" if names else ""


def copper_tree(result: Result, title: str) -> tuple[str, str]:
    """(SVG, the same in words). Hatched: a circuit; solid: a feeder, which many share."""
    found = rows(result)
    whole = sum(row.kg for row in found)
    most = max((row.kg for row in found), default=0.0)
    said = "; ".join(
        f"{row.name} {_weight(row.kg)} {row.sizes}".strip() for row in found if row.kg > 0.0
    )
    alternative = f"{title}: {_weight(whole)} in all. {said}."
    names = [
        wrap(row.name, _TEXT_MM, _NAME_MM - _STEP_MM * row.depth - 1.0, 600) for row in found
    ]
    heights = [max(4.6, _LINE_MM * len(lines) + 1.2) for lines in names]
    canvas = Canvas(_WIDTH_MM, sum(heights) + 1.0, alternative)
    y = 0.5
    stems: dict[int, float] = {}
    for row, lines, height in zip(found, names, heights, strict=True):
        middle = y + height / 2.0
        x = _STEP_MM * row.depth
        if row.depth:
            canvas.line((x - 3.6, stems[row.depth - 1]), (x - 3.6, middle), (x - 0.8, middle),
                        width=0.2)  # fmt: skip
        stems[row.depth] = middle + _LINE_MM * len(lines) / 2.0
        for i, line in enumerate(lines):
            at = middle - _LINE_MM * (len(lines) - 1) / 2.0 + 1.0 + i * _LINE_MM
            canvas.text(x, at, line, _TEXT_MM, bold=row.feeder)
        if row.kg > 0.0:
            long = max(0.4, _BAR_MM * row.kg / most)
            top = middle - _THICK_MM / 2.0
            canvas.box(_NAME_MM, top, long, _THICK_MM, fill="#000" if row.feeder else "#fff")
            if not row.feeder:
                canvas.hatch(_NAME_MM, top, long, _THICK_MM)
            canvas.text(_TEXT_AT_MM, middle + 1.0, f"{_weight(row.kg)}, {row.sizes}", _TEXT_MM)
        y += height
    return canvas.render("drawing bars"), alternative


def _weight(kg: float) -> str:
    return f"{show.near(kg, 2)} kg" if kg >= 1.0 else f"{show.near(1000.0 * kg, 0)} g"
