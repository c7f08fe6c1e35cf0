"""Where wires run: places, legs, the shortest way between two places, and how hot it is there."""

from __future__ import annotations

import heapq
import math

from circuitplan.design.assume import Ledger
from circuitplan.library import insulation, places
from circuitplan.library.insulation import Insulation
from circuitplan.model.plan import Leg, Place, Plan, WireSpec
from circuitplan.model.record import record

UNKNOWN_PLACE_C = 50.0
UNKNOWN_LENGTH_M = 5.0
WITHIN_PLACE_M = 1.0
TUBE_FACTOR = 0.9  # loom tube and conduit: 0.92 computed, 0.9 used
CLASS_MARGIN_K = 40.0  # insulation offered at least this far above its surroundings


@record
class Stretch:
    """One piece of a route: a leg, or a length of which only the place is known."""

    bundle: str  # wires with the same bundle lie side by side
    length_m: float
    ambient_c: float
    tube: float
    sheathed: bool


@record
class Route:
    """The way of one wire: its length [m], the stretches it runs along, the places it touches."""

    length_m: float
    stretches: tuple[Stretch, ...]
    places: tuple[str, ...]
    joints: int
    ambient_assumed: bool

    @property
    def ambient_c(self) -> float:
        return max(s.ambient_c for s in self.stretches)

    @property
    def sheathed(self) -> bool:
        return all(s.sheathed for s in self.stretches)


class Ways:
    """Routes of one plan. Lengths in m, temperatures in °C."""

    def __init__(self, plan: Plan, ledger: Ledger) -> None:
        self._plan = plan
        self.ledger = ledger
        self._places: dict[str, Place] = {p.name.casefold(): p for p in plan.places}
        self._legs: dict[str, list[tuple[str, Leg]]] = {}
        for leg in plan.legs:
            self._legs.setdefault(leg.a.casefold(), []).append((leg.b.casefold(), leg))
            self._legs.setdefault(leg.b.casefold(), []).append((leg.a.casefold(), leg))

    def ambient(self, place: str | None) -> tuple[float, bool]:
        """(temperature of a place, assumed?)."""
        if place is None:
            return UNKNOWN_PLACE_C, True
        known = self._places.get(place.casefold())
        if known is not None and known.ambient_c is not None:
            return known.ambient_c, False
        default = places.default(place)
        if default is not None and default.ambient_c is not None:
            self.ledger.say(
                place, "temperature", f"{default.ambient_c:g} °C", default.source, default.status
            )
            return default.ambient_c, True
        self.ledger.say(
            place, "temperature", f"{UNKNOWN_PLACE_C:g} °C", "inside a vehicle", "common practice"
        )
        return UNKNOWN_PLACE_C, True

    def route(
        self, subject: str, start: str | None, end: str | None, given_m: float | None
    ) -> Route:
        """The way from ``start`` to ``end``; a given length rules, the legs say how hot it is."""
        path = self._shortest(start, end)
        if path:
            return self._along(subject, start or "", path, given_m)
        length_m = given_m
        if length_m is None:
            if start is not None and end is not None and start.casefold() == end.casefold():
                length_m = self.ledger.take(
                    subject, "length within one place", WITHIN_PLACE_M, "m",
                    "usual size of a place", "judgement", favourable=0.3,
                )
            else:
                length_m = self.ledger.take(
                    subject, "length one way", UNKNOWN_LENGTH_M, "m",
                    "a long way in a car-sized vehicle; measure it", "judgement", favourable=1.0,
                )
        ambients = [self.ambient(p) for p in (start, end) if p is not None]
        if not ambients:
            self.ledger.say(
                subject, "temperature along the wire", f"{UNKNOWN_PLACE_C:g} °C",
                "inside a vehicle, away from the engine", "common practice",
            )
            ambients = [(UNKNOWN_PLACE_C, True)]
        hottest = max(ambients)
        named = tuple(dict.fromkeys(p for p in (start, end) if p))
        bundle = f"at {named[-1]}" if named and len(named) == 1 else f"own {subject}"
        stretch = Stretch(bundle, length_m, hottest[0], 1.0, False)
        return Route(length_m, (stretch,), named, 0, any(a for _, a in ambients))

    def far(self, start: str | None, end: str | None) -> float:
        """Length of the shortest way by the plan's legs [m]; inf where they do not tell."""
        if start is not None and end is not None and start.casefold() == end.casefold():
            return 0.0
        path = self._shortest(start, end)
        return sum(leg.length_m for leg in path) if path else math.inf

    def joints(self, start: str | None, end: str | None) -> int:
        """Body joints between two places that a chassis return must cross."""
        return sum(leg.joints for leg in self._shortest(start, end))

    def _along(
        self, subject: str, start: str, path: list[Leg], given_m: float | None
    ) -> Route:
        total = sum(leg.length_m for leg in path)
        scale = 1.0 if given_m is None or total == 0 else given_m / total
        stretches, names, assumed = [], [start], False
        here = start.casefold()
        for leg in path:
            there = leg.b if leg.a.casefold() == here else leg.a
            here = there.casefold()
            names.append(there)
            hot_a, assumed_a = self.ambient(leg.a)
            hot_b, assumed_b = self.ambient(leg.b)
            assumed = assumed or assumed_a or assumed_b
            stretches.append(
                Stretch(
                    "–".join(sorted((leg.a, leg.b))),
                    leg.length_m * scale,
                    max(hot_a, hot_b),
                    1.0 if leg.way == "open" else TUBE_FACTOR,
                    leg.way != "open",
                )
            )
        joints = sum(leg.joints for leg in path)
        length_m = given_m if given_m is not None else total
        return Route(length_m, tuple(stretches), tuple(names), joints, assumed)

    def _shortest(self, start: str | None, end: str | None) -> list[Leg]:
        """Legs of the shortest way; empty if there is none (or no need)."""
        if start is None or end is None or start.casefold() == end.casefold():
            return []
        first, last = start.casefold(), end.casefold()
        queue: list[tuple[float, int, str, list[Leg]]] = [(0.0, 0, first, [])]
        seen: set[str] = set()
        count = 0
        while queue:
            far, _, here, path = heapq.heappop(queue)
            if here == last:
                return path
            if here in seen:
                continue
            seen.add(here)
            for there, leg in sorted(
                self._legs.get(here, ()), key=lambda item: (item[1].length_m, item[0])
            ):
                if there not in seen:
                    count += 1
                    heapq.heappush(queue, (far + leg.length_m, count, there, [*path, leg]))
        return []

    def insulation_of(self, subject: str, spec: WireSpec, route: Route) -> Insulation:
        """Insulation of one wire: its own, else the plan's raised by its places, else offered."""
        if spec.insulation_c is not None:
            found = insulation.get(spec.insulation_c, spec.insulation_material)
            if found is not None:
                return found
        wishes: list[tuple[float, str | None]] = []
        if self._plan.wire.insulation_c is not None:
            wishes.append((self._plan.wire.insulation_c, self._plan.wire.insulation_material))
        for name in route.places:
            place = self._places.get(name.casefold())
            if place is not None and place.insulation_c is not None:
                wishes.append((place.insulation_c, place.insulation_material))
        for class_c, material in sorted(wishes, key=lambda w: (-w[0], w[1] or "")):
            found = insulation.get(class_c, material)
            if found is not None:
                return found
        return self._offer(subject, route.ambient_c)

    def _offer(self, subject: str, ambient_c: float) -> Insulation:
        for class_c, material in ((105.0, "PVC"), (125.0, "cross-linked"), (150.0, "cross-linked")):
            found = insulation.get(class_c, material)
            if found is not None and class_c >= ambient_c + CLASS_MARGIN_K:
                break
        if found is None:
            raise ValueError("insulation table lacks the offered classes")
        self.ledger.say(
            subject, "insulation", found.label,
            f"at least {CLASS_MARGIN_K:g} K above {ambient_c:g} °C", "judgement",
        )
        return found
