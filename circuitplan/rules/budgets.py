"""What eats the volts on the way to an accessory, and which single change gives most of them back.

Savings are estimates from the result's own figures, cold wire and design contacts, so that they
come out low; whether a change mends a plan is proved by ``try``.
"""

from __future__ import annotations

from circuitplan.library import conductors, contacts, materials
from circuitplan.model.record import record
from circuitplan.model.result import Circuit, Drop, Run
from circuitplan.rules.base import num
from circuitplan.rules.case import Case
from circuitplan.rules.proposals import plain

RELAY_CONTACTS = (
    (20.0, "relay contact 20 A"), (40.0, "relay contact 30 to 40 A"), (70.0, "relay contact 70 A"),
)  # fmt: skip
"""Up to how many amperes each row of ``contacts`` is taken; above: the contactor."""
LARGER_TRIED = 2
"""A change proposes at most so many sizes up (judgement): more is another way of feeding it."""


@record
class Saving:
    """One change: volts it gives back, at least about; ``change`` fits ``try --change``."""

    volts: float
    words: str
    change: str | None


def shares(drop: Drop) -> str:
    """ "contacts 0.301 V (50 %), wire 0.161 V (27 %), ..." of what is lost, most first."""
    parts = drop.parts
    named = (
        ("contacts", parts.contacts_v), ("wire", parts.run_v), ("return", parts.return_v),
        ("feeder", parts.feeder_v),
    )  # fmt: skip
    total = sum(volts for _, volts in named) or 1.0
    most = sorted(((v, name) for name, v in named if v > 0.0), key=lambda p: (-p[0], p[1]))
    return ", ".join(f"{name} {num(v)} V ({v / total * 100:.0f} %)" for v, name in most)


def savings(case: Case, circuit: Circuit, drop: Drop, own: list[Run]) -> list[Saving]:
    """Single changes that give volts back, most first: wire, feeder, a relay for the switch.

    ``own``: the accessory's feed runs.
    """
    found = [_relay(case, circuit), _feeder(case, circuit, drop), _wire(drop, own)]
    return sorted(
        (s for s in found if s is not None and s.volts > 0.0), key=lambda s: (-s.volts, s.words)
    )


def _relay(case: Case, circuit: Circuit) -> Saving | None:
    for name in circuit.switches:
        planned = case.planned_switch(name)
        switch = next((s for s in case.switches if s.id.casefold() == name.casefold()), None)
        if planned is None or switch is None or planned.type != "direct":
            continue
        item = next((i for most, i in RELAY_CONTACTS if switch.current_a <= most), "contactor")
        better = contacts.resistance("switch")[0] - contacts.resistance(item)[0]
        return Saving(
            switch.current_a * better,
            f"a relay at {circuit.panel} in place of the contact of {switch.id}",
            f"{switch.id} type relay",
        )
    return None


def _feeder(case: Case, circuit: Circuit, drop: Drop) -> Saving | None:
    panel = case.panel(circuit.panel)
    feed = next((r for r in panel.feeder if r.role == "feed"), None) if panel else None
    if panel is None or feed is None:
        return None
    larger = _larger(feed)
    if larger is None:
        return None
    label, ratio = larger
    lost_v = feed.current_a * feed.resistance_20c_ohm_per_m * feed.loop_m
    named = not panel.assumed
    return Saving(
        min(lost_v, drop.parts.feeder_v) * (1.0 - ratio),
        f"{label} in place of {feed.size} for the feeder of {panel.id}",
        f"{panel.id} size {plain(label)}" if named else None,
    )


def _wire(drop: Drop, own: list[Run]) -> Saving | None:
    thinnest = min(own, key=lambda r: r.area_mm2, default=None)
    larger = None if thinnest is None else _larger(thinnest)
    if thinnest is None or larger is None:
        return None
    label, ratio = larger
    lost_v = thinnest.current_a * thinnest.resistance_20c_ohm_per_m * thinnest.loop_m
    lost_v = min(lost_v, drop.parts.run_v + drop.parts.return_v)
    return Saving(
        lost_v * (1.0 - ratio),
        f"{label} in place of {thinnest.size} on the way to {drop.accessory}",
        f"{drop.accessory} size {plain(label)}" if len(own) == 1 else None,
    )


def _larger(run: Run) -> tuple[str, float] | None:
    """(label, resistance over that of now) of the wire some sizes up; None if there is none."""
    material = materials.get(run.material)
    factor = material.r_factor if material is not None else 1.0
    sizes = [c for c in conductors.offered(run.gauge) if c.area_mm2 > run.area_mm2][:LARGER_TRIED]
    if not sizes or run.resistance_20c_ohm_per_m <= 0.0:
        return None
    best = sizes[-1]
    tinned = best.tinned_r20_ohm_per_m if run.material == "tinned copper" else None
    r20 = tinned if tinned is not None else best.r20_ohm_per_m * factor
    return best.label, min(1.0, r20 / run.resistance_20c_ohm_per_m)
