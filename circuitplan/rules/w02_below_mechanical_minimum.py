"""W02: a wire is too thin to last, whatever its current."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import conductors
from circuitplan.model.result import Run
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, below

RULE = Rule(
    id="W02",
    name="wire below the least size for strength",
    signal_word="CAUTION",
    fails=False,
    means="A single wire is at least 1 mm² or 16 AWG; inside a sheath, tube or conduit at least "
    "0.75 mm² or 18 AWG. In small craft this is law, and fails.",
    why="Thinner wire breaks at its crimp under vibration or is pulled off; the circuit then fails "
    "when it is needed.",
    remedy="Use the least size named, or lay the wire in a sheath.",
    source="33 CFR 183.425(d) to (f); ISO 10133 7.7",
    status="read",
    example="0.5 mm² to a camera, tied alone along a frame: use 1 mm², or 0.75 mm² in a sheath.",
)

LEAST = {"metric": ("1", "0.75"), "iec": ("1", "0.75"), "awg": ("16", "18"), "sae": ("16", "18")}


def judge(case: Case) -> Iterator[Finding | Skip]:
    boat = case.trade == "small craft"
    thin: dict[str, RunPlace] = {}
    for place in case.runs:
        least = _least(place.run)
        if (
            least is not None
            and not place.run.unknown
            and below(place.run.area_mm2, least.area_mm2)
        ):
            known = thin.get(place.subject)
            if known is None or place.run.area_mm2 < known.run.area_mm2:
                thin[place.subject] = place
    for subject, place in thin.items():
        least = _least(place.run)
        assert least is not None
        yield RULE.finding(
            subject,
            f"Wire {place.run.id} is {place.run.size}; {least.label} is the least that lasts as it "
            "is laid. Vibration breaks it at the crimp, and the circuit fails.",
            f"Use {least.label}, or more where the current asks for it.",
            found=place.run.area_mm2,
            limit=least.area_mm2,
            unit="mm²",
            change=proposals.size_change(place.thing, least.label),
            circuit=place.circuit_id,
            signal_word="WARNING" if boat else None,
            fails=boat,
        )


def _least(run: Run) -> conductors.Conductor | None:
    single, enclosed = LEAST.get(run.gauge, (None, None))
    size = enclosed if run.tube_factor < 1.0 else single
    return None if size is None else conductors.get(run.gauge, size)
