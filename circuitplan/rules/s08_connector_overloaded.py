"""S08: the contacts of a connector carry more than they bear where they sit."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered
from circuitplan.rules.plugs import Plug, better, needed_a, plugs
from circuitplan.units import round_up

RULE = Rule(
    id="S08",
    name="connector overloaded",
    signal_word="WARNING",
    fails=True,
    means="Each contact of a connector bears a current by its maker. Where it is hotter than where "
    "that was found, it bears less: its own heat and its surroundings together may not pass the "
    "class of its parts.",
    why="A contact that runs hot loses its spring, gets hotter still, and melts its housing.",
    remedy="Use contacts of a higher rating, or move the connector to a cooler place. Where the "
    "plan gives no rating, read it in the connector's sheet and write it down.",
    source="IEC 60512-5-2, derating curve of a contact: rise with the square of the current",
    status="memory",
    example="A 20 A contact rated up to 20 °C, class 105 °C, bears 10.8 A in an engine bay of 80 "
    "°C.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for plug in plugs(case):
        connector = plug.connector
        if connector.usable_a is None:
            yield Skip("the plan does not say what the connector is rated for", plug.subject)
        elif connector.rating_a is None:
            yield _unrated(case, plug)
        elif exceeds(connector.current_a, connector.usable_a):
            yield _hot(case, plug, connector.usable_a)


def _unrated(case: Case, plug: Plug) -> Finding:
    connector = plug.connector
    return RULE.finding(
        plug.subject,
        f"Connector {connector.id} of {plug.subject} carries {num(connector.current_a)} A and "
        "nobody says what its contacts bear. One that is too small gets hot and melts its housing: "
        "fire.",
        f"Read in the connector's sheet what a contact bears, and up to which surroundings; give "
        "both with the connector, as rating and rated_at. With its fuse it must bear "
        f"{num(round_up(needed_a(case, plug)), 4)} A at {num(connector.ambient_c)} °C.",
        found=connector.current_a,
        unit="A",
        circuit=plug.circuit,
    )


def _hot(case: Case, plug: Plug, usable_a: float) -> Finding:
    connector = plug.connector
    found, limit = ordered(connector.current_a, usable_a)
    words = better(case, plug)
    return RULE.finding(
        plug.subject,
        f"The contacts of connector {connector.id} carry {found} A and bear {limit} A at "
        f"{num(connector.ambient_c)} °C (rated {num(connector.rating_a or 0.0)} A up to "
        f"{num(connector.rated_at_c or 0.0)} °C, class {num(connector.class_c)} °C). They melt "
        "their housing: fire.",
        f"Use {words}.",
        found=connector.current_a,
        limit=usable_a,
        unit="A",
        circuit=plug.circuit,
    )
