"""What the keys of one entry must say together."""

from __future__ import annotations

import re

from circuitplan.planfile.keys import Values
from circuitplan.planfile.tree import Node
from circuitplan.planfile.values import Context


def accessory(node: Node, values: Values, context: Context, subject: str) -> None:
    """Note what an accessory must say: something to draw, once; a pull within its rating."""
    if not any(node.get(key) for key in ("kind", "power", "current")):
        context.troubles.add(
            node.spot, f"{subject} without kind, power and current", "at least one of the three",
            "give its current or power, or a kind from 'circuitplan tables kinds'",
        )  # fmt: skip
    if "power_w" in values and "current_a" in values:
        context.troubles.add(
            node.spot, f"{subject} with both power and current", "one of the two",
            "keep the one on its label at the volts it is fed with",
        )  # fmt: skip
    pull_n, rated_n = values.get("pull_n"), values.get("rated_pull_n")
    if pull_n is not None and (rated_n is None or pull_n > rated_n):
        context.troubles.add(
            node.spot, f"{subject} pulls with no rated_pull, or with more than that",
            "a pull up to rated_pull", "give rated_pull, as on the winch's label",
        )  # fmt: skip


def scenario(node: Node, values: Values, context: Context, subject: str) -> None:
    """Note running times that do not fit the duration."""
    whole_s = values.get("duration_s")
    for run in values.get("running", ()):
        if run.seconds is not None and whole_s is not None and run.seconds > whole_s:
            context.troubles.add(
                node.spot, f"{subject}: {run.name} runs longer than the scenario lasts",
                "a time within the duration", "lengthen the duration, or give a share as 100 %",
            )  # fmt: skip
        if run.seconds is not None and whole_s is None:
            context.troubles.add(
                node.spot, f"{subject}: {run.name} runs for a time, but no duration is given",
                "a duration, or a share of the time", "add duration: 3 h, or give a share in %",
            )  # fmt: skip


def circuit(node: Node, name: str, context: Context) -> None:
    """Note a circuit that is named by anything but its number."""
    if not re.fullmatch(r"[1-9][0-9]{0,3}", name):
        context.troubles.add(
            node.spot, f"circuits: '{name[:40]}'", "a circuit number from 1 to 9999",
            "write the number that its accessories have, as circuits: {3: {split: bed}}",
        )  # fmt: skip


def charger(node: Node, values: Values, context: Context, subject: str) -> None:
    """Note chargers whose ends do not suit their sort."""
    sort, source = values.get("kind"), values.get("source")
    if sort in ("dc-dc", "voltage relay", "diode") and not node.get("from"):
        context.troubles.add(
            node.spot, f"{subject}, a {sort} charger, without 'from'", "the battery it draws from",
            "add from: battery",
        )  # fmt: skip
    if sort in ("solar", "shore") and source is not None:
        context.troubles.add(
            node.spot, f"{subject}, a {sort} charger, with 'from'", "only 'to'", "delete 'from'"
        )
    if source is not None and source == values.get("target"):
        context.troubles.add(
            node.spot, f"{subject} from and to the same battery", "two batteries", "mend one end"
        )
