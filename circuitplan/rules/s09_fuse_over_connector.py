"""S09: the fuse is larger than the contacts of the connector behind it bear."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered
from circuitplan.rules.plugs import Plug, better, plugs, ratio

RULE = Rule(
    id="S09",
    name="fuse larger than the connector bears",
    signal_word="WARNING",
    fails=True,
    means="A fuse guards everything behind it, the contacts of connectors too: it may not be "
    "larger than what one of them bears where it sits. Rescue vehicle: the contact bears 125 % of "
    "the fuse.",
    why="A fault in the accessory draws what the fuse lets pass for good; the wire bears it, the "
    "connector gets hot and melts.",
    remedy="Fit a smaller fuse where the load allows it, or contacts that bear the fuse.",
    source="IEC 60364-4-43 433.1, connections as the conductors; rescue vehicle: NFPA 1901 13.2",
    status="memory",
    example="A 10 A contact behind a fuse of 20 A: a fuse of 10 A if the load draws 8 A or less.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for plug in plugs(case):
        usable_a = plug.connector.usable_a
        if plug.connector.rating_a is None or usable_a is None:
            yield Skip("the plan does not say what the connector is rated for", plug.subject)
        elif plug.fuse is None:
            yield Skip("there is no fuse before the connector", plug.subject)
        elif plug.fuse.fuse.short_circuit_only:
            yield Skip("its fuse guards against short circuits alone", plug.subject)
        elif exceeds(ratio(case) * plug.fuse.fuse.rating_a, usable_a):
            yield _weaker(case, plug, usable_a)


def _weaker(case: Case, plug: Plug, usable_a: float) -> Finding:
    assert plug.fuse is not None
    place, connector = plug.fuse, plug.connector
    fuse = place.fuse
    times = ratio(case)
    wanted_a = times * fuse.rating_a
    found, limit = ordered(wanted_a, usable_a)
    asked = f"{num(times)} times its fuse" if times > 1.0 else "its fuse"
    ways = [f"use {better(case, plug)}"]
    owner = place.circuit or place.panel
    smaller = None
    if fuse.type not in ("output", "breaker"):
        start = proposals.start_behind(owner, fuse.id)
        smaller = proposals.fuse_between(fuse.type, fuse.min_a, usable_a / times, start)
    if smaller is not None:
        ways.insert(0, f"fit a fuse of {num(smaller)} A")
    remedy = " or ".join(ways)
    fits = smaller is not None and place.thing is not None
    return RULE.finding(
        plug.subject,
        f"Connector {connector.id} is to bear {asked}, {found} A ({fuse.id}, {num(fuse.rating_a)} "
        f"A), and bears {limit} A at {num(connector.ambient_c)} °C. A fault in {plug.subject} "
        "heats its contacts while the fuse holds: fire.",
        remedy[0].upper() + remedy[1:] + ".",
        found=wanted_a,
        limit=usable_a,
        unit="A",
        circuit=plug.circuit,
        change=f"{place.thing} fuse {num(smaller or 0.0)} A" if fits else None,
    )
