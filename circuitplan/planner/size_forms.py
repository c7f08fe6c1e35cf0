"""What ``size`` is asked, and the form of its answer."""

from __future__ import annotations

from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import FuseSpec, Gauge, LoadModel
from circuitplan.model.record import record
from circuitplan.model.result import Assumption, Finding


@record
class SizeRequest:
    """What ``size`` is asked. Exactly one of current, power and kind; length or loop."""

    current_a: float | None = None
    power_w: float | None = None
    kind: str | None = None
    quantity: int = 1
    load: LoadModel | None = None
    length_m: float | None = None
    loop_m: float | None = None
    drop_v: float | None = None
    drop_percent: float | None = None
    system_v: float = 12.0
    back: str = "wire"
    gauge: Gauge = "metric"
    insulation_c: float = 105.0
    insulation_material: str | None = None
    ambient_c: float = 50.0
    ambient_given: bool = False
    bundle: int | None = None
    conductor_c: float | None = None
    material: str = "copper"
    switch_a: float | None = None
    wire: tuple[Gauge, str] | None = None
    fuse: FuseSpec | None = None


@record
class SizedRun:
    size: str
    area_mm2: float
    gauge: str
    insulation_c: float
    length_m: float
    loop_m: float
    current_a: float
    resistance_20c_ohm_per_m: float
    conductor_c: float
    ambient_c: float
    ampacity_a: float
    ampacity_source: str
    bundle_factor: float
    bundle_wires: int
    loading: float
    limited_by: str
    next_smaller: str | None
    given: bool


@record
class SizedFuse:
    rating_a: float
    type: str
    colour: str | None
    min_a: float
    max_a: float
    given: bool


@record
class SizedDrop:
    total_v: float
    percent: float
    limit_v: float
    limit_percent: float
    conductors_only: bool


@record
class SizeAnswer:
    format: str
    answer: str
    because: str
    run: SizedRun
    fuse: SizedFuse | None
    drop: SizedDrop
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]


def complete(request: SizeRequest) -> None:
    """InputError with every problem if the request lacks something or is outside the tool."""
    problems = []
    draws = [request.current_a, request.power_w, request.kind]
    if sum(d is not None for d in draws) != 1:
        problems.append(
            Problem("size", "the draw is not clear", "one of --current, --power, --kind",
                    "give exactly one of them")
        )
    if (request.length_m is None) == (request.loop_m is None):
        problems.append(
            Problem("size", "the length is not clear", "--length one way, or --loop out and back",
                    "give exactly one of them")
        )
    if not 6.0 <= request.system_v <= 60.0:
        problems.append(
            Problem("size", f"--system {request.system_v:g} V", "6 to 60 V",
                    "above 60 V the work is outside this tool")
        )
    if request.bundle is not None and not 1 <= request.bundle <= 19:
        problems.append(
            Problem("size", f"--bundle {request.bundle}", "1 to 19 wires", "tie fuller looms apart")
        )
    if problems:
        raise InputError(problems)
