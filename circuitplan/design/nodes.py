"""Batteries and panels as a tree, with the feeders between them."""

from __future__ import annotations

import math

from circuitplan.design import connecting
from circuitplan.design.draft import Node, Slot
from circuitplan.design.maker import RING, Maker
from circuitplan.model.plan import Battery, Panel

MAIN_BATTERY = "battery"
DEFAULT_PANEL = "panel"
LEAD_AT_SOURCE_M = 0.5
"""Feeder of a panel that sits beside what feeds it and has no length (judgement)."""


def build_nodes(maker: Maker) -> dict[str, Node]:
    """Every battery and panel by its name; each panel knows its parent and its feeder."""
    plan = maker.plan
    nodes: dict[str, Node] = {}
    for battery in plan.supply.batteries or (Battery(MAIN_BATTERY),):
        nodes[battery.name] = Node(battery.name, battery.name, None, None, battery.place, 0)
    waiting = sorted(plan.panels or (_default_panel(maker),), key=lambda p: p.name)
    while waiting:
        ready = [p for p in waiting if find(nodes, p.fed_from or MAIN_BATTERY) is not None]
        if not ready:  # the plan reader refuses rings; nothing else can come here
            raise ValueError("panels feed each other: " + ", ".join(p.name for p in waiting))
        for panel in ready:
            nodes[panel.name] = _panel_node(panel, nodes, maker)
            waiting.remove(panel)
    return nodes


def find(nodes: dict[str, Node], name: str) -> Node | None:
    """A node by its name, whatever the case; the first battery stands for "battery"."""
    for key, node in nodes.items():
        if key.casefold() == name.casefold():
            return node
    if name.casefold() == MAIN_BATTERY:
        return next(n for n in nodes.values() if n.panel is None)
    return None


def default_node(
    maker: Maker, nodes: dict[str, Node], subject: str, *near: str | None
) -> Node:
    """The panel that feeds a thing which names none: one of the main battery, the nearest to all
    the places ``near`` together as far as the plan's legs tell."""
    panels = [n for n in nodes.values() if n.panel is not None and not n.converter]
    panels = panels or [n for n in nodes.values() if n.panel is not None]
    main = find(nodes, MAIN_BATTERY)

    def rank(node: Node) -> tuple[bool, int, float, int, str]:
        ways = [maker.ways.far(node.place, place) for place in near]
        known = [m for m in ways if math.isfinite(m)]
        away = main is None or node.battery != main.name
        return away, len(ways) - len(known), math.fsum(known), node.depth, node.name

    found = min(panels, key=rank)
    if len(panels) > 1:
        maker.ledger.say(
            subject, "fed from", found.name,
            "no panel named for it: the nearest that the main battery feeds", "judgement",
        )
    return found


def _default_panel(maker: Maker) -> Panel:
    maker.ledger.say(
        DEFAULT_PANEL, "fuse panel", "one, at the battery", "no panel in the plan", "judgement"
    )
    batteries = maker.plan.supply.batteries
    return Panel(DEFAULT_PANEL, place=batteries[0].place if batteries else None)


def _panel_node(panel: Panel, nodes: dict[str, Node], maker: Maker) -> Node:
    parent = find(nodes, panel.fed_from or MAIN_BATTERY)
    assert parent is not None
    if panel.fed_from is None and panel.name != DEFAULT_PANEL:
        maker.ledger.say(panel.name, "fed from", parent.name, "no feeder named", "judgement")
    length_m = panel.length_m
    beside = panel.place is None or panel.place.casefold() == (parent.place or "").casefold()
    if length_m is None and beside:
        length_m = maker.ledger.take(
            panel.name, "feeder length", LEAD_AT_SOURCE_M, "m", "beside what feeds it",
            "judgement",
        )
    route = maker.ways.route(f"{panel.name} feeder", parent.place, panel.place, length_m)
    node = Node(
        panel.name, parent.battery, parent, panel, panel.place, parent.depth + 1,
        back=panel.back or "wire", converter=panel.output_v is not None,
        assumed=panel.name == DEFAULT_PANEL, live=panel.live or parent.live,
    )
    apart = f"power cable to {panel.name}"
    node.feeder.append(
        maker.segment(
            f"{panel.name} feed", "feeder", parent.name, panel.name, route, panel.wire,
            contacts=(RING, RING), apart=apart,
        )
    )
    if node.back == "wire":
        node.feeder.append(
            maker.segment(
                f"{panel.name} return", "feeder return", panel.name, parent.name, route,
                panel.wire, contacts=(RING, RING), apart=apart,
            )
        )
    else:
        node.feeder.append(
            maker.earth_lead(f"{panel.name} earth", panel.name, panel.place, panel.wire, ())
        )
    connecting.fit_feeder(maker, node)
    node.slot = Slot(
        f"{panel.name} fuse", panel.fuse,
        f"at {parent.name}" if parent.panel is None else f"{parent.name}, way for {panel.name}",
        parent.place, list(node.feeder), (),
        first=parent.panel is None or parent.converter,
        above=None if parent.converter else parent.slot,
        family=parent.panel.fuses if parent.panel else None,
    )
    return node
