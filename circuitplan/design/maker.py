"""Makes stretches of wire: route, insulation, gauge and material from what the plan says."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.assume import Ledger
from circuitplan.design.draft import End, Kind, Segment
from circuitplan.design.ways import Route, Ways
from circuitplan.model.plan import Plan, WireSpec
from circuitplan.model.record import record

RING = "ring on stud"
BLADE = "blade joint 6.3 mm"
TERMINAL_C, SWITCH_C = 105.0, 85.0
"""Classes of ordinary terminals and switches (judgement)."""
EARTH_LEAD_M = 0.5
"""Lead from an accessory or panel to its earth point (judgement)."""


@record
class Maker:
    """Makes the stretches of one plan; everything it has to assume goes into the ledger."""

    plan: Plan
    ways: Ways
    ledger: Ledger

    def segment(
        self,
        key: str,
        kind: Kind,
        start: str,
        end: str,
        route: Route,
        spec: WireSpec,
        loads: tuple[int, ...] = (),
        *,
        contacts: tuple[str, ...] = (),
        crimps: int = 2,
        pieces: int = 1,
        apart: str | None = None,
        switch_place: str | None = None,
        at_switch: bool = False,
    ) -> Segment:
        plan = self.plan
        subject = key.rsplit(" ", 1)[0]
        if spec.unknown and spec.outer_mm is None and self.ledger.favours(
            subject, "size of the wire that is there", "the thinnest it can be",
            "nobody measured it", "judgement",
        ):
            spec = replace(spec, unknown=False)
        gauge = spec.gauge or plan.gauge
        return Segment(
            key, kind, start, end, route, spec,
            self.ways.insulation_of(subject, spec, route),
            spec.material or plan.wire.material or "copper",
            gauge, loads, pieces=pieces, crimps=crimps, contacts=contacts, bundle_apart=apart,
            ends=self._ends(route, switch_place, at_switch),
            shelf=frozenset(size for known, size in plan.stock if known == gauge),
        )

    def _ends(self, route: Route, switch_place: str | None, at_switch: bool) -> tuple[End, ...]:
        """Heat leaves a wire along its length only within 0.05 to 0.16 m: an end is as hot as the
        wire is there."""
        places = route.places[:1] + route.places[-1:]
        ambients = [self.ways.ambient(place)[0] for place in places] or [route.ambient_c]
        found = [End("terminal", ambient, TERMINAL_C) for ambient in dict.fromkeys(ambients)]
        if at_switch:
            found.append(End("switch", self.ways.ambient(switch_place)[0], SWITCH_C))
        return tuple(found)

    def earth_lead(
        self, key: str, name: str, place: str | None, spec: WireSpec, loads: tuple[int, ...]
    ) -> Segment:
        """The short wire from a thing to its own earth point on the body."""
        length_m = self.ledger.take(
            key, "lead to the earth point", EARTH_LEAD_M, "m", "short lead", "judgement"
        )
        batteries = self.plan.supply.batteries
        joints = self.ways.joints(place, batteries[0].place if batteries else None)
        route = replace(self.ways.route(key, place, None, length_m), joints=joints)
        return self.segment(
            key, "earth lead", name, f"earth point of {name}", route, spec, loads, contacts=(RING,)
        )
