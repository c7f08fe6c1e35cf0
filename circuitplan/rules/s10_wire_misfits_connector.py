"""S10: a wire is thinner or thicker than the contacts of its connector take."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import connectors
from circuitplan.model.result import Cavity
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, exceeds, listed, num
from circuitplan.rules.plugs import Plug, plugs

RULE = Rule(
    id="S10",
    name="wire does not fit the connector",
    signal_word="CAUTION",
    fails=False,
    means="The crimp of a contact is made for wire of certain sizes: a thinner one is not held, a "
    "thicker one does not go in without losing strands.",
    why="A crimp that does not fit is loose or weak: it heats there, or the wire pulls out.",
    remedy="Take contacts for that size from the same housing's range, or join a short tail of a "
    "size that fits, still able to carry the fuse.",
    source="the connector's sheet; else ISO 8092-1 by the width of the blade",
    status="memory",
    example="4 mm² to a lamp for its drop, on a 2.8 mm contact for 0.22 to 2.5 mm².",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for plug in plugs(case):
        connector = plug.connector
        if connector.least_mm2 is None or connector.most_mm2 is None:
            yield Skip("the plan does not say which wire the contacts take", plug.subject)
            continue
        wires = [c for c in connector.cavities if c.area_mm2 is not None]
        if any(c.run is not None and c.area_mm2 is None for c in connector.cavities):
            yield Skip("nobody knows the size of a wire in the connector", plug.subject)
        thick = [c for c in wires if exceeds(c.area_mm2 or 0.0, connector.most_mm2)]
        thin = [c for c in wires if below(c.area_mm2 or 0.0, connector.least_mm2)]
        for group in (thick, thin):
            if group:
                yield _misfit(plug, group, connector.least_mm2, connector.most_mm2)


def _misfit(plug: Plug, wires: list[Cavity], least: float, most: float) -> Finding:
    connector = plug.connector
    area = max(c.area_mm2 or 0.0 for c in wires)
    thick = area > most
    wider = next(
        (t for t in connectors.tabs() if t.least_mm2 <= area <= t.most_mm2), None
    ) if connector.contact is not None else None  # fmt: skip
    other = f" ({wider.contact}s do)" if wider is not None else ""
    tail = f", or join a short tail of {num(most)} mm² if that carries the fuse" if thick else ""
    names = listed([f"{c.run} ({c.size})" for c in wires])
    many = len(wires) > 1
    return RULE.finding(
        plug.subject,
        f"{'Wires' if many else 'Wire'} {names} {'are' if many else 'is'} "
        f"{'thicker' if thick else 'thinner'} than the contacts of connector {connector.id} take, "
        f"{num(least)} to {num(most)} mm² ({connector.takes_source}). A crimp there "
        f"{'loses strands' if thick else 'does not hold'}: it heats, or the wire pulls out.",
        f"Take contacts for {num(area)} mm²{other}{tail}.",
        found=area,
        limit=most if thick else least,
        unit="mm²",
        circuit=plug.circuit,
    )
