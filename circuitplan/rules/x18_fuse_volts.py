"""X18: a fuse is rated for fewer volts than the system reaches."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import fuses
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, listed, num, ordered

RULE = Rule(
    id="X18",
    name="fuse above its volts",
    signal_word="WARNING",
    fails=True,
    means="Vehicle fuses are made in classes of 32 and 58 V. A 48 V system reaches 57.6 V with "
    "lead and 58.4 V with sixteen LiFePO4 cells: 32 V fuses are forbidden there, and 58 V is too "
    "low for the latter.",
    why="A fuse above its volts melts and goes on burning as an arc: burns and fire.",
    remedy="Use the 58 V class where the highest volts are below 58 V, else a fuse of 80 V or more "
    "(class T is 125 V).",
    source="ISO 8820-3 to -6 (32 and 58 V)",
    status="read",
    example="Blade fuses in a 48 V LiFePO4 system: class T instead.",
    by_hand="Read the volts on the body of each fuse.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[tuple[str, str], list[str]] = {}
    for place in case.fuses:
        type_ = place.fuse.type
        if fuses.type_name(type_) is None or not fuses.family(type_).rated_v:
            yield Skip(f"the volts of {place.fuse.id} ({type_}) are not known", place.subject)
            continue
        high_v = _high_v(case, place.group)
        if any(below(v, high_v) for v in fuses.family(type_).rated_v):
            groups.setdefault((place.group, type_), []).append(place.fuse.id)
    for (group, type_), names in sorted(groups.items()):
        best_v, high_v = max(fuses.family(type_).rated_v), _high_v(case, group)
        found, limit = ordered(best_v, high_v)
        if below(best_v, high_v):
            yield RULE.finding(
                group,
                f"{listed(names)} at {group} (type {type_}) are made for {found} V at most; the "
                f"supply reaches {limit} V. Such a fuse melts and burns on as an arc.",
                f"Use fuses rated {num(high_v)} V DC or more, such as class T.",
                found=best_v,
                limit=high_v,
                unit="V",
            )
        else:
            low_v = min(fuses.family(type_).rated_v)
            yield RULE.finding(
                group,
                f"{listed(names)} at {group} (type {type_}) are made in classes of {num(low_v)} "
                f"and {num(best_v)} V; the supply reaches {limit} V. The lower class would burn on "
                "as an arc.",
                f"Take only those printed {num(best_v)} V.",
                found=low_v,
                limit=high_v,
                unit="V",
                signal_word="CAUTION",
                fails=False,
            )


def _high_v(case: Case, group: str) -> float:
    """Highest volts at a panel or source [V]: a converter's output where one feeds it."""
    converted = (p.output_v for p in case.upstream(group) if p.output_v is not None)
    return next(converted, case.result.supply.high_v)
