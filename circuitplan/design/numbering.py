"""Circuit numbers, wire numbers, ways and reference letters: the same for any order of entries."""

from __future__ import annotations

from circuitplan.design.draft import CircuitDraft, Segment
from circuitplan.design.state import State
from circuitplan.model.record import record

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@record
class Numbers:
    circuit: dict[str, int]  # circuit key -> number
    run: dict[str, str]  # segment key -> wire number
    fuse: dict[str, str]  # slot key -> F1 ...
    relay: dict[str, tuple[str, ...]]  # circuit key -> Q1 ..., one a position of a motor
    way: dict[str, int]  # slot key -> way in its panel
    way_user: dict[str, int]  # panel -> ways used
    ends: dict[str, tuple[str, str]]  # segment key -> from, to, where these name a motor's relays
    connector: dict[str, str]  # accessory, or "panel " and its name -> X1 ...


def give(state: State) -> Numbers:
    """Numbers the plan gives stay; the rest go by panel, then label, in code-point order."""
    circuits = sorted(state.wiring.circuits, key=_order)
    taken = {c.number for c in circuits if c.number is not None}
    numbers: dict[str, int] = {}
    following = 1
    for circuit in circuits:
        if circuit.number is not None and circuit.number not in numbers.values():
            numbers[circuit.key] = circuit.number
            continue
        while following in taken:
            following += 1
        numbers[circuit.key] = following
        taken.add(following)
    runs: dict[str, str] = {}
    for circuit in circuits:
        _number_runs(circuit.segments, str(numbers[circuit.key]), runs)
    panels = sorted(
        (n for n in state.wiring.nodes.values() if n.panel is not None),
        key=lambda n: (n.depth, n.name),
    )
    for count, node in enumerate(panels, start=1):
        _number_runs(node.feeder, f"P{count}", runs)
    fuses, ways, used = _number_fuses(state, circuits, numbers)
    relayed = [c for c in sorted(circuits, key=lambda c: numbers[c.key]) if c.key in state.relay]
    relays: dict[str, tuple[str, ...]] = {}
    count = 0
    for circuit in relayed:
        own = len(circuit.positions) or 1
        relays[circuit.key] = tuple(f"Q{count + n + 1}" for n in range(own))
        count += own
    joined = [f"panel {n.name}" for n in panels if n.panel and n.panel.connector]
    joined += [
        state.wiring.loads[i].name
        for circuit in sorted(circuits, key=lambda c: numbers[c.key]) for i in circuit.loads
        if state.wiring.loads[i].accessory.connector
    ]
    plugs = {name: f"X{i}" for i, name in enumerate(joined, start=1)}
    ends = _ends(circuits, relays)
    return Numbers(numbers, runs, fuses, relays, ways, used, ends, plugs)


def _ends(
    circuits: list[CircuitDraft], relays: dict[str, tuple[str, ...]]
) -> dict[str, tuple[str, str]]:
    """Terminals (DIN 72552) of its relays at which a motor's wires and those of its coils end."""
    found: dict[str, tuple[str, str]] = {}
    for circuit in circuits:
        if not circuit.positions or circuit.key not in relays:
            continue
        names = dict(zip(circuit.positions, relays[circuit.key], strict=True))
        both, reversing = " and ".join(names.values()), circuit.motor == "reversing"
        fed, out = ("87", "30") if reversing else ("30", "87")
        for s in circuit.segments:
            if s.position:
                found[s.key] = f"relay {names[s.position]} {out}", s.end
            elif not s.is_return:
                found[s.key] = s.start, f"relays {both} {fed}"
            elif reversing:
                found[s.key] = f"relays {both} 87a", s.end
        for control in circuits:
            if control.style == "control" and control.switches[0] in circuit.coil_switches:
                for s in control.segments:
                    if s.position:
                        found[s.key] = s.start, f"relay {names[s.position]} 86"
    return found


def _order(circuit: CircuitDraft) -> tuple[int, str, str]:
    style = {"control": 1, "link": 2}.get(circuit.style, 0)
    return style, circuit.node, circuit.label


def _number_runs(segments: list[Segment], stem: str, runs: dict[str, str]) -> None:
    feeds = [s for s in segments if not s.is_return and s.kind != "control"]
    backs = [s for s in segments if s.is_return]
    controls = [s for s in segments if s.kind == "control"]
    for position, segment in enumerate(feeds):
        runs[segment.key] = stem + _letter(position)
    for position, segment in enumerate(backs):
        runs[segment.key] = f"{stem}N{position + 1 if len(backs) > 1 else ''}"
    for position, segment in enumerate(controls):
        runs[segment.key] = f"{stem}C{position + 1 if len(controls) > 1 else ''}"


def _letter(position: int) -> str:
    usable = [letter for letter in LETTERS if letter not in "CNIO"]
    if position < len(usable):
        return usable[position]
    return usable[position // len(usable) - 1] + usable[position % len(usable)]


def _number_fuses(
    state: State, circuits: list[CircuitDraft], numbers: dict[str, int]
) -> tuple[dict[str, str], dict[str, int], dict[str, int]]:
    slots: list[tuple[str, str]] = []  # (slot key, panel or "")
    for node in sorted(state.wiring.nodes.values(), key=lambda n: (n.depth, n.name)):
        if node.slot is not None and state.fuse.get(node.slot.key) is not None:
            parent = node.parent
            in_way = parent is not None and parent.panel is not None
            slots.append((node.slot.key, parent.name if in_way and parent else ""))
    for circuit in sorted(circuits, key=lambda c: numbers[c.key]):
        own = [circuit.slot] if circuit.slot is not None else []
        for slot in own + circuit.inline:
            if state.fuse.get(slot.key) is None:
                continue
            in_panel = (
                slot is circuit.slot
                and circuit.style != "output"
                and slot.position == circuit.node
                and state.wiring.nodes[circuit.node].panel is not None
            )
            slots.append((slot.key, circuit.node if in_panel else ""))
    fuses = {key: f"F{i}" for i, (key, _) in enumerate(slots, start=1)}
    ways: dict[str, int] = {}
    used: dict[str, int] = {}
    for key, panel in slots:
        if panel:
            used[panel] = used.get(panel, 0) + 1
            ways[key] = used[panel]
    return fuses, ways, used
