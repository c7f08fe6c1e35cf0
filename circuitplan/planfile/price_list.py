"""The key ``prices``: the name of a price list beside the plan, read when parts are priced."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

from circuitplan.planfile.tree import Node
from circuitplan.planfile.values import Context

LARGEST_BYTES = 5_000_000
ENDINGS = (".csv", ".xlsx")
ALLOWED = "the name of a .csv or .xlsx beside the plan: what, size, colour, per, price, currency"


def named(root: Node, context: Context) -> str | None:
    """The name of the price list, its SHA-256 noted; None if there is none or a problem with it.

    Anything but a text under ``prices`` is left as it is: it is kept, and said to be unused.
    """
    node = root.get("prices")
    if node is None or not node.is_text or not (node.text or "").strip():
        return None
    name = (node.text or "").strip()
    if Path(name).name != name or "\\" in name or not name.lower().endswith(ENDINGS):
        context.troubles.add(node.spot, f"prices '{name[:60]}'", ALLOWED, "put it beside the plan")
        return None
    file = context.folder / name
    try:
        if file.stat().st_size > LARGEST_BYTES:
            context.troubles.add(node.spot, f"'{name[:60]}', more than 5 MB", ALLOWED, "shorten it")
            return None
        data = file.read_bytes()
    except OSError:
        context.troubles.add(
            node.spot, f"prices '{name[:60]}', which is not there", ALLOWED, "check the name"
        )
        return None
    context.drawn_in[name] = sha256(data).hexdigest()
    return name
