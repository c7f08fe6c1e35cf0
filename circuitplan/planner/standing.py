"""Whether the wires, fuses and relays of a plan do for what a trial puts on them.

A trial chooses sizes anew, as for a vehicle that is still to be wired. Where it is wired already,
the question is what must come out again.
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
    """One part that must be replaced; ``overloaded``: it would carry more than it may.

    ``has`` and ``needs`` as labels ("10 mm²", "50 A fuse"); ``flows_a`` through it, and what it
    ``bears_a``, where that is what rules.
    """

    part: str
    has: str
    needs: str
    flows_a: float | None = None
    bears_a: float | None = None

    @property
    def overloaded(self) -> bool:
        return self.flows_a is not None


def outgrown(before: Result, after: Result, names: Sequence[str]) -> tuple[Outgrown, ...] | None:
    """What of the circuits that ``names`` (accessories or switches) stand for must be replaced.

    None where none of them had a circuit before, and where one of them fails, so that its findings
    say what is too small; () where all parts stay.
    """
    wanted = {n.casefold() for n in names}
    pairs = [
        (was, now) for now in after.circuits
        if wanted & {w.casefold() for w in (*now.switches, *(a.name for a in now.accessories))}
        and (was := _before(before, now)) is not None
    ]
    if not pairs or any(now.id in failing(after) for _, now in pairs):
        return None
    found = [o for was, now in pairs for o in _of(was, now)]
    return tuple(dict.fromkeys(found))


def _before(before: Result, now: Circuit) -> Circuit | None:
    """The circuit of old that has most in common with one of now."""
    names = {a.name for a in now.accessories}
    common = [(len(names & {a.name for a in c.accessories}), c) for c in before.circuits]
    most = max((n for n, _ in common), default=0)
    return next((c for n, c in common if n == most), None) if most else None


def _of(was: Circuit, now: Circuit) -> Iterator[Outgrown]:
    fuse_was, fuse_now = _first(was), _first(now)
    if fuse_was is not None and fuse_now is not None and _more(
        fuse_now.rating_a, fuse_was.rating_a
    ):
        heavy = _more(now.current_a, fuse_was.rating_a) and not fuse_now.short_circuit_only
        yield Outgrown(
            f"fuse {fuse_was.id}", f"{fuse_was.rating_a:g} A fuse", f"{fuse_now.rating_a:g} A fuse",
            *((now.current_a, fuse_was.rating_a) if heavy else ()),
        )
    old = {_key(r): r for r in was.runs}
    for run in now.runs:
        had = old.get(_key(run))
        if had is None or not _more(run.area_mm2, had.area_mm2):
            continue
        heavy = _more(run.thermal_a, had.ampacity_a)
        yield Outgrown(
            f"wire {had.id}", had.size, run.size,
            *((run.thermal_a, had.ampacity_a) if heavy else ()),
        )
    for relay_was, relay_now in zip(was.relays, now.relays, strict=False):
        if _more(relay_now.contact_a, relay_was.contact_a):
            yield Outgrown(
                f"relay {relay_was.id}", f"{relay_was.contact_a:g} A relay",
                f"{relay_now.contact_a:g} A relay",
                *((now.current_a, relay_was.contact_a)
                  if _more(now.current_a, relay_was.contact_a) else ()),
            )
    if now.relays and not was.relays:
        yield Outgrown("relay", "a bare switch", f"{now.relays[0].contact_a:g} A relay")


def _first(circuit: Circuit) -> Fuse | None:
    return circuit.fuses[0] if circuit.fuses else None


def _key(run: Run) -> tuple[str, str, str]:
    """A wire by its part and its ends: its number may change."""
    return run.role, run.from_, run.to


def _more(one: float, other: float) -> bool:
    return one > other * (1 + SLACK)
