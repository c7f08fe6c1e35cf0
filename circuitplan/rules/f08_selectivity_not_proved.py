"""F08: it is not shown that a branch fuse opens before the fuse in front of it."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="F08",
    name="selectivity not proved",
    signal_word="NOTICE",
    fails=False,
    means="When a branch is shorted, its own fuse and the one in front of it see the fault. The "
    "standards' time limits do not prove that only the branch fuse opens.",
    why="One shorted lamp may put out everything on its panel.",
    remedy="Make the fuse in front at least 3.2 times the branch fuse (type C before type C), "
    "2.25 times (E or SF before C), or move what must not go dark to a feed of its own.",
    source="computed from the gates of ISO 8820-3 and -5",
    status="computed",
    example="20 A of type C behind 60 A of type E is proved up to 480 A; a dead short at the panel "
    "draws more, so there it is not.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[str, list[tuple[str, str | None]]] = {}
    for circuit in case.circuits:
        if circuit.fault is not None and circuit.fault.selective == "not proved":
            entry = (case.subject(circuit), circuit.id)
            groups.setdefault(circuit.panel, []).append(entry)
    for panel in case.panels:
        if panel.fault is not None and panel.fault.selective == "not proved":
            groups.setdefault(panel.fed_from, []).append((panel.id, None))
    for group, entries in sorted(groups.items()):
        single = len(entries) == 1
        yield RULE.finding(
            entries[0][0] if single else group,
            f"A short circuit on {listed([name for name, _ in entries])} may open the fuse in "
            f"front as well and put out all of {group}.",
            "Keep what must not go dark on a feed of its own; carry spares of both fuses.",
            circuit=entries[0][1] if single else None,
        )
