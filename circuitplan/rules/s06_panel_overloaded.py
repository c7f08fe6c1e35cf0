"""S06: a panel, bar, socket or converter carries more than it is made for, or has too few ways."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import PanelResult
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="S06",
    name="panel or socket overloaded",
    signal_word="WARNING",
    fails=True,
    means="What hangs on a panel, bar, socket, plug or converter is more than it may carry: its "
    "own rating, its feeder, or its main fuse.",
    why="Its contacts and its feeder overheat, or its fuse blows and everything on it goes dark. "
    "Hot sockets burn hands and start fires.",
    remedy="Move loads to another panel, or raise the rating that rules: the panel's, its "
    "feeder's, or its main fuse's, all three together.",
    source="the panel's rating; 0.8 of its fuse for continuous loads (common practice)",
    status="common practice",
    example="A 12 A inflator in a 10 A socket: a direct feed instead.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for panel in case.panels:
        if panel.usable_a is None:
            yield Skip("the plan does not say what the panel is rated for", panel.id)
        elif exceeds(panel.current_a, panel.usable_a):
            yield _overloaded(case, panel, panel.usable_a)
        if panel.free_ways is not None and panel.free_ways < 0:
            yield RULE.finding(
                panel.id,
                f"{panel.id} has {panel.ways} ways, and {-panel.free_ways} circuits too many hang "
                "on it: two would share a fuse, or one go without.",
                "Move circuits to another panel, or let those that work together share a number.",
                found=(panel.ways or 0) - panel.free_ways,
                limit=panel.ways,
                signal_word="CAUTION",
                fails=True,
            )


def _overloaded(case: Case, panel: PanelResult, usable_a: float) -> Finding:
    """Over its own rating it fails; feeder and fuse are judged by A01 and F02, duty counted."""
    fails = panel.rating_a is not None and exceeds(panel.current_a, panel.rating_a)
    if fails and panel.rating_a is not None:
        usable_a = panel.rating_a
    found, limit = ordered(panel.current_a, usable_a)
    rated = f", rated {num(panel.rating_a)} A," if panel.rating_a is not None else ""
    others = [
        p for p in case.panels
        if p.id != panel.id and p.spare_a is not None and p.output_v == panel.output_v
        and p.spare_a >= panel.current_a - usable_a
    ]  # fmt: skip
    best = max(others, key=lambda p: (p.spare_a or 0.0, p.id), default=None)
    over_a = num(panel.current_a - usable_a)
    move = (
        f"{best.id}, which has {num(best.spare_a or 0.0)} A to spare" if best else "another panel"
    )
    return RULE.finding(
        panel.id,
        f"{panel.id}{rated} carries {found} A and may be used to {limit} A"
        f"{'' if fails else ' for good, all at once'}. Its contacts or feeder overheat and may "
        "burn, or its fuse blows.",
        f"Move {over_a} A or more to {move}, or raise what rules here: the panel, its feeder and "
        "its main fuse.",
        found=panel.current_a,
        limit=usable_a,
        unit="A",
        signal_word=None if fails else "CAUTION",
        fails=fails,
    )
