"""F07: in a small overload that lasts, the fuse's standard leaves minutes before it opens."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="F07",
    name="overload band not proved",
    signal_word="CAUTION",
    fails=False,
    means="Between 1.35 and twice its rating a fuse may by its standard take minutes to open. "
    "In that time this wire may pass its short-time limit. The rule that the fuse is no larger "
    "than the wire carries is met.",
    why="Such an overload is rare (a motor that drags, a partial short); if it lasts, the "
    "insulation ages at once and may burn a hand or smoke.",
    remedy="One size thicker wire, or one rating smaller, ends the doubt; neither is required.",
    source="ISO 8820-3 and -5 time limits against one-body heating",
    status="memory",
    example="A 60 A fuse of type E before wire that carries 60 A: at 1.9 times the rating it may "
    "hold for minutes.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[str, list[tuple[str, str | None]]] = {}
    for circuit in case.circuits:
        if circuit.fault is not None and circuit.fuses and not circuit.fault.overload_proved:
            entry = (case.subject(circuit), circuit.id)
            groups.setdefault(circuit.panel, []).append(entry)
    for panel in case.panels:
        if panel.fault is not None and panel.fuse and not panel.fault.overload_proved:
            groups.setdefault(panel.fed_from, []).append((panel.id, None))
    for group, entries in sorted(groups.items()):
        single = len(entries) == 1
        yield RULE.finding(
            entries[0][0] if single else group,
            f"An overload of 1.35 to 2 times the rating that lasts for minutes may overheat the "
            f"wire of {listed([name for name, _ in entries])} before its fuse opens.",
            "Use one size thicker wire or one rating smaller if such an overload can last here.",
            circuit=entries[0][1] if single else None,
        )
