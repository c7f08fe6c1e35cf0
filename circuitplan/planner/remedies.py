"""Changes that may mend what fails: from the findings, the cures tried on each fuse, and what is
free on other switches and panels.

``effort`` orders them by money and work (judgement: one for a fuse in a holder that is there; see
``design.protection.cures``).
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from circuitplan.library import conductors
from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Finding, Result
from circuitplan.physics.copper import KG_PER_M_MM2
from circuitplan.planfile.changes import CHOSEN
from circuitplan.planner.holding import concerns
from circuitplan.planner.story import counted

HABIT, MOVED, FUSE, WIRE, RELAY, SHORTER = 0.5, 1.0, 1.0, 3.0, 3.0, 15.0
BATTERY, ALTERNATOR, OTHER = 40.0, 60.0, 6.0
PER_KG = 5.0
SIZES_TRIED = 4

Words = tuple[str, ...]


def candidates(plan: Plan, result: Result) -> Iterator[tuple[float, Words]]:
    """(effort, words) of changes that may mend what fails, without doubles."""
    best: dict[Words, float] = {}
    for finding in counted(result.findings):
        for effort, one in _for(plan, result, finding):
            best[(one,)] = min(effort, best.get((one,), effort))
        for effort, words in _machines(plan, result, finding):
            best[words] = min(effort, best.get(words, effort))
    yield from sorted((effort, words) for words, effort in best.items())


def anew(plan: Plan, result: Result) -> Words:
    """Everything that the plan fixes of what fails, to be chosen again at once: where a kept plan
    gets a heavier load, its wire, fuse and feeder have all become too small together."""
    counting = counted(result.findings)
    mine = [c for c in result.circuits if any(concerns(f, c) for f in counting)]
    words = [w for c in mine for _, w in _given(plan, c)]
    subjects = {f.subject for f in counting}
    for panel in plan.panels:
        if panel.name in subjects:
            words += [f"{panel.name} size {CHOSEN}"] * panel.wire.given
            words += [f"{panel.name} fuse {CHOSEN}"] * (panel.fuse is not None)
    return tuple(dict.fromkeys(words))


def _for(plan: Plan, result: Result, finding: Finding) -> Iterator[tuple[float, str]]:
    if finding.change:
        yield effort_of(finding.change), finding.change
    mine = [c for c in result.circuits if concerns(finding, c)]
    for circuit in mine:
        for cure in circuit.cures or ():
            if cure.change:
                yield cure.effort, cure.change
        yield from _given(plan, circuit)
        yield from _thicker(circuit, finding)
        if finding.rule in _SWITCH_MENDS:
            yield from _switches(plan, result, circuit)
    panel = next((p for p in result.panels if p.id == finding.subject), None)
    if panel is not None:
        for cure in panel.cures or ():
            if cure.change:
                yield cure.effort, cure.change
        for key in ("size", "fuse"):
            yield WIRE if key == "size" else FUSE, f"{panel.id} {key} {CHOSEN}"
        yield from _other_panel(plan, result, panel.id)


def _other_panel(plan: Plan, result: Result, full: str) -> Iterator[tuple[float, str]]:
    """Another panel of the same source with a free way, for what hangs on a full one.

    Only for what has its place and no length of its own: the way is then known anew.
    """
    home = next(p for p in result.panels if p.id == full)
    for other in result.panels:
        same = other.fed_from == home.fed_from and other.output_v == home.output_v
        if other.id == full or not same or not other.free_ways or other.assumed:
            continue
        for accessory in plan.accessories:
            fed = (accessory.fed_from or "").casefold() == full.casefold()
            if fed and accessory.place and accessory.length_m is None:
                yield MOVED, f"{accessory.name} fed from {other.id}"


def _machines(plan: Plan, result: Result, finding: Finding) -> Iterator[tuple[float, Words]]:
    """A larger alternator of the same proportions, a larger battery: those the supply found."""
    if finding.rule not in ("B01", "B02"):
        return
    machine = plan.supply.alternator
    for scenario in result.supply.scenarios:
        if scenario.name != finding.subject:
            continue
        if scenario.cure_rated_a is not None and machine is not None:
            words = [f"alternator rated {scenario.cure_rated_a:g} A"]
            if machine.idle_a is not None:
                idle = math.floor(machine.idle_a * scenario.cure_rated_a / machine.rated_a)
                words.append(f"alternator idle {idle} A")
            yield ALTERNATOR, tuple(words)
        if scenario.cure_capacity_ah is not None:
            yield BATTERY, (f"{scenario.battery} capacity {scenario.cure_capacity_ah:g} Ah",)
    for day in result.supply.days:
        if day.name == finding.subject and day.cure_capacity_ah is not None:
            yield BATTERY, (f"{day.battery} capacity {day.cure_capacity_ah:g} Ah",)


def effort_of(words: str) -> float:
    """The effort of a change that a finding proposes, by what it touches."""
    marks = (
        (" engine ", HABIT), (" live ", HABIT), (" fuse ", FUSE), (" size ", WIRE),
        (" type relay", RELAY), (" length ", SHORTER), ("alternator ", ALTERNATOR),
        (" capacity ", BATTERY), (" switch ", MOVED),
    )
    return next((effort for mark, effort in marks if mark in f" {words}"), OTHER)


def _given(plan: Plan, circuit: Circuit) -> Iterator[tuple[float, str]]:
    """What the plan fixes may be chosen again."""
    names = {a.name for a in circuit.accessories}
    for accessory in plan.accessories:
        if accessory.name in names:
            if accessory.fuse is not None:
                yield FUSE, f"{accessory.name} fuse {CHOSEN}"
            if accessory.wire.given:
                yield WIRE, f"{accessory.name} size {CHOSEN}"


def _thicker(circuit: Circuit, finding: Finding) -> Iterator[tuple[float, str]]:
    """The next sizes of the accessory's own wire."""
    for accessory in circuit.accessories:
        runs = [r for r in circuit.runs if r.role == "feed" and r.accessories == (accessory.name,)]
        if not runs or finding.rule not in _WIRE_MENDS:
            continue
        run = max(runs, key=lambda r: r.area_mm2)
        larger = [c for c in conductors.offered(run.gauge) if c.area_mm2 > run.area_mm2]
        for conductor in larger[:SIZES_TRIED]:
            copper = conductor.area_mm2 * run.loop_m * KG_PER_M_MM2
            label = conductor.label.replace("²", "2").replace(" class 5", "")
            yield WIRE + PER_KG * copper, f"{accessory.name} size {label}"


_SWITCH_MENDS = ("D01", "F03", "S01", "X11", "X17", "X22")
_WIRE_MENDS = ("A01", "D01", "F01", "F03", "W02", "X13", "X31")


def _switches(plan: Plan, result: Result, circuit: Circuit) -> Iterator[tuple[float, str]]:
    """A relay at the circuit's switch; another switch that is free and has room for it.

    Never one that works something else already: a lamp on the horn's switch is no fix. Never one
    that springs back, unless this load is worked by such a one now.
    """
    springs = {s.name for s in plan.switches if s.momentary}
    held = not springs & set(circuit.switches)
    needed_a = sum(a.current_a for a in circuit.accessories)
    types = {s.name: s.type for s in plan.switches}
    for name in circuit.switches:
        if types.get(name) == "direct":
            yield RELAY, f"{name} type relay"
    if not circuit.switches:
        return
    for switch in result.switches:
        if switch.id in circuit.switches or switch.signal or switch.works:
            continue
        if held and switch.id in springs:
            continue
        room = switch.type == "relay" or (switch.spare_a or 0.0) >= needed_a
        if room:
            for accessory in circuit.accessories:
                more = RELAY if switch.type == "relay" else 0.0
                yield MOVED + more, f"{accessory.name} switch {switch.id}"
