"""Switches that only a list of accessories names: a section of their own, made from its rows."""

from __future__ import annotations

import re

from circuitplan.planfile.heads import SWITCH_RATING
from circuitplan.planfile.tree import Node, Troubles

HOW = (
    "add a column 'switch rating A' to the list; or make it a workbook (.xlsx) with a sheet "
    "'switches' headed name, rating"
)


def split(items: Node, troubles: Troubles) -> tuple[Node, Node | None]:
    """The list without its column of switch ratings, and the switches it names; None: no switch.

    A switch without a rating is a problem, not an assumption: whether its contact bears the load
    could not be said, and a plan must not pass for want of the question.
    """
    named: dict[str, Node] = {}
    ratings: dict[str, Node] = {}
    rows = []
    for item in items.items or ():
        switch, rating = item.get("switch"), item.get(SWITCH_RATING)
        kept = tuple(pair for pair in item.entries or () if pair[0].text != SWITCH_RATING)
        rows.append(Node(item.spot, entries=kept))
        names = _names(switch)
        for name in names:
            named.setdefault(name.casefold(), Node(switch.spot if switch else item.spot, text=name))
            if rating is None:
                continue
            before = ratings.setdefault(name.casefold(), rating)
            if before.text != rating.text:
                troubles.add(
                    rating.spot, f"{name} rated {rating.text} here and {before.text} above",
                    "one rating a switch", "make them alike",
                )  # fmt: skip
        if rating is not None and not names:
            troubles.add(rating.spot, "a switch rating in a row without a switch",
                         "a switch beside it", "name the switch, or empty the cell")  # fmt: skip
    if not named:
        return Node(items.spot, items=tuple(rows)), None
    missing = [node for key, node in named.items() if key not in ratings]
    if missing:
        words = ", ".join(f"'{(node.text or '')[:40]}'" for node in missing)
        one = len(missing) == 1
        troubles.add(
            missing[0].spot, f"switch{'' if one else 'es'} {words} without a rating",
            "the rated current of each switch, as on the switch: 20 A", HOW,
        )  # fmt: skip
    entries = []
    for key, node in named.items():
        rating = ratings.get(key, Node(node.spot, text="", spoilt=True))
        entries.append((node, Node(node.spot, entries=((Node(node.spot, text="rating"), rating),))))
    return Node(items.spot, items=tuple(rows)), Node(items.spot, entries=tuple(entries))


def _names(switch: Node | None) -> list[str]:
    parts = re.split(r"[;,]", switch.text or "") if switch is not None else []
    return [part.strip() for part in parts if part.strip()]
