"""Way of every load's current: which stretches carry it, and the resistance of each."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.draft import CircuitDraft, Node, Segment
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate
from circuitplan.model.record import record

CHASSIS = "chassis"


@record
class Link:
    """One stretch in a path with what stands at its start."""

    segment: Segment
    owner: CircuitDraft | Node


def feeders(state: State, circuit: CircuitDraft, index: int) -> list[Link]:
    """Panel feeders and their returns between the source and a circuit, for one load."""
    found: list[Link] = []
    chassis = circuit.chassis.get(index, False)
    if circuit.style == "output":
        return found
    for node in state.wiring.nodes[circuit.node].chain():
        if node.converter and node.name == state.wiring.root[index]:
            break
        found.extend(
            Link(segment, node) for segment in node.feeder if not (chassis and segment.is_return)
        )
    return found


def own(circuit: CircuitDraft, index: int) -> list[Link]:
    """Stretches of the circuit itself that carry one load's current, out and back."""
    stretches = circuit.feeds.get(index, []) + circuit.returns.get(index, [])
    return [Link(segment, circuit) for segment in stretches]


def uses_chassis(state: State, circuit: CircuitDraft, index: int) -> bool:
    """Whether a load's current comes back through the body, from itself or from its panel."""
    if circuit.chassis.get(index, False):
        return True
    if circuit.style == "output":
        return False
    return any(
        node.back == "chassis" and node.name != state.wiring.root[index]
        for node in state.wiring.nodes[circuit.node].chain()
        if node.panel is not None
    )


def converter_path(state: State, node: Node) -> list[Link]:
    """Way to a converter's input: its own feeder and those above it."""
    found: list[Link] = []
    here: Node | None = node
    first = True
    while here is not None and here.panel is not None:
        if here.converter and not first:
            break
        found.extend(Link(segment, here) for segment in here.feeder)
        first, here = False, here.parent
    return found


@record
class Network:
    """Paths (loads, stretches) and the two resistances of each stretch, conductors and contacts.

    The last stretch is the part of the body that all chassis returns share.
    """

    paths: NDArray[np.float64]
    wire_ohm: NDArray[np.float64]
    contact_ohm: NDArray[np.float64]
    links: tuple[Link, ...]
    roles: tuple[str, ...]  # feeder, run, return for the parts of the drop


def network(state: State, worst: bool = False) -> Network:
    """The whole plan as one network at operating temperature, chosen wires in place."""
    columns: dict[str, int] = {}
    links: list[Link] = []
    rows: list[list[int]] = [[] for _ in state.wiring.loads]
    chassis_loads: list[int] = []

    def put(index: int, link: Link) -> None:
        key = link.segment.key
        if key not in columns:
            columns[key] = len(links)
            links.append(link)
        rows[index].append(columns[key])

    for circuit in state.wiring.circuits:
        for index in circuit.loads:
            for link in feeders(state, circuit, index) + own(circuit, index):
                put(index, link)
            if uses_chassis(state, circuit, index):
                chassis_loads.append(index)
    for name, index in state.wiring.converter_load.items():
        for link in converter_path(state, state.wiring.nodes[name]):
            put(index, link)
    count = len(links)
    paths = np.zeros((len(rows), count + 1))
    for index, row in enumerate(rows):
        paths[index, row] = 1.0
    paths[chassis_loads, count] = 1.0
    wire = np.zeros(count + 1)
    contact = np.zeros(count + 1)
    devices = {}
    for link in links:
        devices.update(state.devices_at(link.owner))
    for column, link in enumerate(links):
        segment = link.segment
        chosen: Candidate = state.wire[segment.key]
        wire[column] = state.wire_ohm(segment, chosen, state.temperature(segment, chosen))
        contact[column] = state.contact_ohm(
            segment, chosen, devices.get(segment.key), worst
        )
    contact[count] = state.chassis_ohm(worst)
    roles = tuple(
        "feeder" if isinstance(link.owner, Node)
        else "return" if link.segment.is_return else "run"
        for link in links
    )
    return Network(paths, wire, contact, tuple(links), (*roles, "return"))
