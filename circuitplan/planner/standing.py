"""Whether the wires, fuses and relays of a plan do for what a trial puts on them.

A trial chooses sizes anew, as for a vehicle that is still to be wired. Where it is wired already,
the question is what must come out again, and what is new.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.model.circuit import Circuit, Fuse, Run
from circuitplan.model.record import record
from circuitplan.model.result import Result
from circuitplan.planner.holding import failing

SLACK = 1e-9


@record
class Outgrown:
    """One part that must be replaced or added.

    ``has`` and ``needs`` as labels ("10 mm²", "50 A fuse"); ``has`` is empty where it is new. What
    ``flows_a`` through it and what it ``bears_a``, where it would carry more than it may.
    """

    part: str  # wire, fuse or relay
    has: str
    needs: str
    flows_a: float | None = None
    bears_a: float | None = None


@record
class Standing:
    """``same``: not a part of the circuits differs; else ``outgrown`` may still be empty."""

    outgrown: tuple[Outgrown, ...]
    same: bool


def standing(before: Result, after: Result, names: Sequence[str]) -> Standing | None:
    """How the circuits that ``names`` (accessories or switches) stand for compare with the old.

    Of the old plan all circuits count that feed one of the accessories or hang on one of the
    switches of a new one. None where there is no such circuit, and where a new one fails, so that
    its findings say what is too small.
    """
    wanted = {n.casefold() for n in names}
    pairs = [
        (old, now) for now in after.circuits
        if wanted & {w.casefold() for w in (*now.switches, *(a.name for a in now.accessories))}
        and (old := _before(before, now))
    ]
    if not pairs or any(now.id in failing(after) for _, now in pairs):
        return None
    found = tuple(dict.fromkeys(o for old, now in pairs for o in _of(old, now)))
    return Standing(found, not found and all(_alike(old, now) for old, now in pairs))


def _before(before: Result, now: Circuit) -> list[Circuit]:
    """The old circuits that have something in common with a new one, the most first."""
    names, switches = {a.name for a in now.accessories}, set(now.switches)

    def common(c: Circuit) -> tuple[int, int]:
        shared = len(names & {a.name for a in c.accessories})
        return len(switches & set(c.switches)), shared

    mine = [c for c in before.circuits if any(common(c)) and bool(c.accessories) == bool(names)]
    return sorted(mine, key=lambda c: (*(-n for n in common(c)), c.number))


def _of(old: list[Circuit], now: Circuit) -> Iterator[Outgrown]:
    host = old[0]
    fuse_was, fuse_now = _first(host), _first(now)
    if fuse_now is not None and (fuse_was is None or _more(fuse_now.rating_a, fuse_was.rating_a)):
        heavy = fuse_was is not None and not fuse_now.short_circuit_only and _more(
            now.current_a, fuse_was.rating_a
        )
        yield Outgrown(
            "fuse", "" if fuse_was is None else f"{fuse_was.rating_a:g} A fuse",
            f"{fuse_now.rating_a:g} A fuse",
            *((now.current_a, fuse_was.rating_a) if heavy and fuse_was is not None else ()),
        )
    for run in now.runs:
        had = _had(old, run)
        if had is None:
            yield Outgrown("wire", "", f"{run.size} from {run.from_} to {run.to}")
        elif _more(run.area_mm2, had.area_mm2):
            heavy = _more(run.thermal_a, had.ampacity_a)
            yield Outgrown(
                "wire", had.size, run.size, *((run.thermal_a, had.ampacity_a) if heavy else ())
            )
    for place, relay in enumerate(now.relays):
        was = host.relays[place] if place < len(host.relays) else None
        if was is None or _more(relay.contact_a, was.contact_a):
            heavy = was is not None and _more(now.current_a, was.contact_a)
            yield Outgrown(
                "relay", "" if was is None else f"{was.contact_a:g} A relay",
                f"{relay.contact_a:g} A relay",
                *((now.current_a, was.contact_a) if heavy and was is not None else ()),
            )


def _had(old: list[Circuit], run: Run) -> Run | None:
    """The old wire in the place of a new one: between the same ends, else from or to one of them.

    Of several that would do the thinnest counts: a wire that is cut in two is as thin as it was.
    """
    mine = [r for c in old for r in c.runs if r.role == run.role]
    for same in (
        [r for r in mine if (r.from_, r.to) == (run.from_, run.to)],
        [r for r in mine if r.from_ == run.from_ or r.to == run.to],
    ):
        if same:
            return min(same, key=lambda r: (r.area_mm2, r.id))
    return None


def _alike(old: list[Circuit], now: Circuit) -> bool:
    """Whether one old circuit has exactly the parts of the new one."""
    return any(_parts(c) == _parts(now) for c in old)


def _parts(circuit: Circuit) -> tuple[object, ...]:
    return (
        sorted((r.role, r.from_, r.to, r.size) for r in circuit.runs),
        [(f.rating_a, f.type) for f in circuit.fuses], [r.contact_a for r in circuit.relays],
    )


def _first(circuit: Circuit) -> Fuse | None:
    return circuit.fuses[0] if circuit.fuses else None


def _more(one: float, other: float) -> bool:
    return one > other * (1 + SLACK)
