"""Remedies with numbers: the wire, fuse or relay that would mend a finding.

Each proposal is worked out on the safe side from what the result holds, and None where nothing
offered does. The planner's own ``try`` proves it on the whole plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from circuitplan.library import ampacity, conductors, contacts, fuses, insulation, materials, relays
from circuitplan.library.conductors import Conductor
from circuitplan.library.relays import Relay
from circuitplan.model.result import AccessoryResult, Circuit, PanelResult, Run
from circuitplan.physics import heat
from circuitplan.physics import relays as coils
from circuitplan.physics.fuses import ride_through

Points = tuple[tuple[float, float], ...]

START_ALLOWED = 0.7
"""Share of the soonest melting that a start may use (judgement), as in F09."""

FIRST_PRINCIPLES_SHARE = 0.9
"""Share of the computed ampacity that may be used (judgement; computed against two tables)."""

COLDEST_COIL_C = -20.0


def plain(label: str) -> str:
    """A size as a change to the plan writes it: "6 mm²" becomes "6 mm2"."""
    return label.replace("²", "2").replace(" class 5", "")


def size_change(thing: str | None, label: str | None) -> str | None:
    """Words for ``try --change`` that set a wire's size."""
    return None if thing is None or label is None else f"{thing} size {plain(label)}"


def installed_ampacity_a(conductor: Conductor, run: Run) -> float | None:
    """What another conductor would carry in the place of ``run`` [A], or None outside the tables.

    bundle factor x tube factor x the lower of published x ambient factor and 0.9 of first
    principles. The bundle factor is that of the present wire: a thicker one loads the bundle
    less.
    """
    published = ampacity.published(conductor, run.insulation_c)
    material = materials.get(run.material) or materials.get("copper")
    if published is None or material is None:
        return None
    words = run.insulation.lower()
    declared = next((m for m in ("PVC", "cross-linked") if m.lower() in words), None)
    shell = insulation.get(run.insulation_c, declared) or insulation.get(run.insulation_c, None)
    if shell is None:
        return None
    # Above 125 °C the published value is that of 125 °C, and so is its ambient factor.
    class_c = min(run.insulation_c, ampacity.HIGHEST_CLASS_C)
    try:
        derated_a = published.current_a * heat.ambient_factor(class_c, run.ambient_c)
    except ValueError:
        return None
    computed_a = heat.ampacity_a(
        conductor.r20_ohm_per_m * material.r_factor, material.alpha_per_k, conductor.conductor_mm,
        conductor.outer_mm, shell.resistivity_k_m_per_w, run.insulation_c, run.ambient_c,
    )  # fmt: skip
    if material.r_factor > 1.0:
        derated_a /= math.sqrt(material.r_factor)
    lower_a = min(derated_a, FIRST_PRINCIPLES_SHARE * computed_a)
    return run.bundle_factor * run.tube_factor * lower_a


def size_for_ampacity(run: Run, needed_a: float) -> str | None:
    """Label of the smallest offered conductor that carries ``needed_a`` where ``run`` lies."""
    for conductor in _larger(run):
        carries_a = installed_ampacity_a(conductor, run)
        if carries_a is not None and carries_a >= needed_a:
            return conductor.label
    return None


def size_for_resistance(run: Run, share: float) -> str | None:
    """Label of the smallest offered conductor with at most ``share`` of the run's resistance."""
    if share <= 0.0:
        return None
    material = materials.get(run.material)
    factor = material.r_factor if material is not None else 1.0
    for conductor in _larger(run):
        tinned = conductor.tinned_r20_ohm_per_m if run.material == "tinned copper" else None
        r20 = tinned if tinned is not None else conductor.r20_ohm_per_m * factor
        if r20 <= run.resistance_20c_ohm_per_m * share:
            return conductor.label
    return None


def _larger(run: Run) -> list[Conductor]:
    return [c for c in conductors.offered(run.gauge) if c.area_mm2 > run.area_mm2]


def fuse_between(
    type_: str, least_a: float, most_a: float, start: Points = ()
) -> float | None:
    """The largest rating of a family from ``least_a`` to ``most_a`` [A] that lets ``start`` pass.

    ``start``: (current [A], how long it is exceeded [s]). None where no rating does it all.
    """
    if fuses.type_name(type_) is None:
        return None
    gates = gates_of(type_)
    fitting = [
        r for r in fuses.ratings(type_)
        if least_a <= r <= most_a
        and (not start or ride_through(gates, r, _steps(start)) <= START_ALLOWED)
    ]  # fmt: skip
    return max(fitting, default=None)


def start_behind(owner: Circuit | PanelResult | None, fuse_id: str) -> Points:
    """(current [A], how long it is exceeded [s]) of the worst start behind a fuse; empty: none."""
    found = () if owner is None else owner.coordination
    return next((c.start for c in found if c.fuse == fuse_id), ())


def _steps(start: Points) -> list[tuple[float, float]]:
    """(current, seconds) steps that are never below the start."""
    steps: list[tuple[float, float]] = []
    before_s = 0.0
    falling = sorted(start, key=lambda point: (-point[0], point[1]))
    highest_a = falling[0][0]
    for current_a, until_s in falling:
        if until_s > before_s:
            steps.append((highest_a, until_s - before_s))
            before_s = until_s
        highest_a = current_a
    return steps


def fuse_at_least(type_: str, least_a: float) -> float | None:
    """The smallest rating of a family that is at least ``least_a`` [A], or None."""
    if fuses.type_name(type_) is None:
        return None
    return min((r for r in fuses.ratings(type_) if r >= least_a), default=None)


def gates_of(type_: str) -> tuple[tuple[float, float, float | None], ...]:
    """Time gates of a fuse family as plain tuples; empty where the maker's curve is wanted."""
    if fuses.type_name(type_) is None:
        return ()
    return tuple((g.multiple, g.t_min_s, g.t_max_s) for g in fuses.gates(type_))


def relay_for(
    nominal_v: float, needed_a: float, highest_v: float, change_over: bool = False
) -> Relay | None:
    """The smallest relay whose contacts bear ``needed_a`` (class factor included): one with a make
    contact, or one that changes over."""
    for relay in relays.offered(nominal_v):
        rated_a = min(relay.contact_a, relay.break_a) if change_over else relay.contact_a
        fits = rated_a >= needed_a and relay.contact_rated_v >= highest_v
        if fits and ("87a" in relay.terminals) == change_over:
            return relay
    return None


def needed_contact_a(accessories: Iterable[AccessoryResult], nominal_v: float) -> float:
    """Rating that a contact needs for these loads: sum of current times class factor [A]."""
    total_a = 0.0
    for accessory in accessories:
        known = contacts.load_factor(accessory.contact_class, nominal_v)
        factor = 1.0 if known is None else known.factor
        if known is not None and not accessory.inrush_known:
            factor = max(factor, known.unknown_inrush_factor)
        total_a += accessory.current_a * factor
    return total_a


def cold_coil_a(relay: Relay, high_v: float) -> float:
    """What the coil of a relay draws at most: high volts, -20 °C [A]."""
    return coils.coil_current(high_v, relay.coil_ohm, COLDEST_COIL_C)
