"""Where the wires are warmest: the vehicle's ways as a map, each with its hottest wire."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result, WarmLeg
from circuitplan.report.table import Picture
from circuitplan.report.warm_wires import Way, warm_wires, words

INSIDE = "at "


@dataclass(frozen=True, slots=True)
class View:
    picture: Picture | None
    hottest: str


def build(plan: Plan, result: Result) -> View:
    """Of every way the wire that is nearest to its class; ways in the plan's order."""
    warmest: dict[str, WarmLeg] = {}
    for legs in (*(p.warm for p in result.panels), *(c.warm for c in result.circuits)):
        for leg in legs:
            known = warmest.get(leg.way.casefold())
            if known is None or _share(leg) > _share(known):
                warmest[leg.way.casefold()] = leg
    hottest = max(warmest.values(), key=lambda leg: (_share(leg), leg.run), default=None)
    said = "" if hottest is None else f"Nearest to its class: {words(hottest)} ({_where(hottest)})."
    if not plan.legs:
        return View(None, said)
    ways = tuple(
        Way(leg.a, leg.b, warmest.get("–".join(sorted((leg.a, leg.b))).casefold()))
        for leg in sorted(plan.legs, key=lambda leg: (leg.a.casefold(), leg.b.casefold()))
    )
    inside = {
        key.removeprefix(INSIDE): leg for key, leg in warmest.items() if key.startswith(INSIDE)
    }
    first = next((b.place for b in plan.supply.batteries if b.place), None)
    svg, alternative = warm_wires(first, ways, inside)
    return View(
        Picture(
            "Bars are ways, boxes places; the number is the hottest wire there at its largest "
            "lasting current, looms and ambient counted. In a box: the hottest wire that stays "
            "within the place. A dashed box repeats a place.",
            svg,
            alternative,
        ),
        said,
    )


def _share(leg: WarmLeg) -> float:
    return leg.conductor_c / leg.insulation_c


def _where(leg: WarmLeg) -> str:
    if leg.way.startswith("own "):
        return "along its own way"
    return leg.way.replace("–", " to ") if not leg.way.startswith(INSIDE) else leg.way
