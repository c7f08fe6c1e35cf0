"""R01: the body of the vehicle carries a return that belongs in a wire."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="R01",
    name="return through the body",
    signal_word="WARNING",
    fails=True,
    means="The load's return goes through the metal of the body. That is for up to 30 A steady and "
    "100 A short; never on boats, composite bodies or through a coupling.",
    why="Body joints are a few milliohms: at 100 A they take half a volt and 50 W, and char paint "
    "and seals. Through a coupling the return finds brake lines and bearings. On a boat it eats "
    "the fittings. A charred joint burns what lies on it.",
    remedy="Lay a return wire of the same size as the feed.",
    source="AC 43.13-1B 11-70 (5 mΩ ground return); ISO 10133 (insulated two-wire); limits are "
    "judgement",
    status="judgement",
    example="A 62 A compressor earthed to the bed: lay a return to the panel or battery.",
)

STEADY_A = 30.0
SHORT_A = 100.0
MERELY = "trade practice is a wired return; it may work badly."


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        if item.result.back != "chassis":
            continue
        reason = _reason(case, item)
        if reason is None:
            continue
        words, found, limit = reason
        yield RULE.finding(
            item.name,
            f"The return of {item.name} goes through the body: {words}",
            f"Lay a return wire for {item.name}, of the size of its feed.",
            found=found,
            limit=limit,
            unit="A" if limit is not None else None,
            change=f"{item.name} return wire",
            circuit=item.circuit.id,
            signal_word="CAUTION" if words.endswith(MERELY) else None,
            fails=False if words.endswith(MERELY) else None,
        )


def _reason(case: Case, item: Item) -> tuple[str, float | None, float | None] | None:
    if case.trade == "small craft":
        return "on a boat that eats its fittings and may hole it.", None, None
    place = (item.result.place or "").casefold()
    if "trailer" in place:
        return (
            "through a coupling it finds brake lines and bearings, which burn and seize.",
            None,
            None,
        )
    steady_a = item.result.current_a
    if item.result.continuous and exceeds(steady_a, STEADY_A):
        found, limit = ordered(steady_a, STEADY_A)
        text = f"{found} A steady; {limit} A is allowed. Body joints heat up and char: fire."
        return text, steady_a, STEADY_A
    peak_a = max(item.result.peak_a or 0.0, steady_a)
    if exceeds(peak_a, SHORT_A):
        found, limit = ordered(peak_a, SHORT_A)
        text = (
            f"{found} A for short times; {limit} A is allowed. At {found} A a joint of 5 mΩ takes "
            f"{num(peak_a**2 * 0.005)} W: it chars, and may burn."
        )
        return text, peak_a, SHORT_A
    if item.kind is not None and not item.kind.chassis_return_ok:
        return f"for this kind ({item.kind.kind}) {MERELY}", None, None
    return None
