"""What an accessory takes of a contact, a coil, a panel and the copper, in whole numbers."""

from __future__ import annotations

import math
from collections.abc import Sequence

from circuitplan.design.maker import Maker
from circuitplan.design.protection import protect
from circuitplan.design.sizing import usable
from circuitplan.design.state import State
from circuitplan.design.switchgear import (
    CONTACTOR_COIL_A,
    burdens,
    cold_coil_a,
    pick_relay,
    rating_for,
)
from circuitplan.library import kinds
from circuitplan.model.plan import Switch

COPPER_OHM_MM2_PER_M = 1 / 58
"""IEC 60028: standard annealed copper at 20 °C (from memory)."""
COPPER_G_PER_MM2_M = 8.89
"""IEC 60028: density at 20 °C (from memory)."""
SHARE_FOR_THE_RUN = 0.5
"""Share of the allowed drop that the estimate leaves to the run itself (judgement)."""
LEAST_MM2 = 1.0


class Burdens:
    """Currents are frozen at their worst (see design.demand) and rounded up to a milliampere."""

    def __init__(self, state: State, maker: Maker) -> None:
        self.state, self.maker = state, maker
        self.index = {load.name: i for i, load in enumerate(state.wiring.loads)}
        self._lengths: dict[tuple[str | None, str | None], float] = {}

    def carried_ma(self, switch: Switch, loads: Sequence[int]) -> int:
        """Share of a switch's rating, class factor counted."""
        found = burdens(self.state, tuple(loads))
        shares = (
            rating_for(switch, self.state.wiring.loads[i], burden)
            for i, burden in zip(loads, found, strict=True)
        )
        return milli(sum(shares))

    def current_ma(self, loads: Sequence[int]) -> int:
        return milli(sum(float(self.state.demand.worst_a[i]) for i in loads))

    def thermal_ma(self, loads: Sequence[int]) -> int:
        return milli(sum(float(self.state.demand.thermal_a[i]) for i in loads))

    def coil_ma(self, loads: Sequence[int]) -> int | None:
        """The coil of the relay that these loads need, cold; None: no relay is large enough."""
        if all(self.state.wiring.loads[i].own_contactor for i in loads):
            found = kinds.find("winch control")
            return milli(found.high_a if found is not None else CONTACTOR_COIL_A)
        needed = sum(b.current_a * b.factor for b in burdens(self.state, tuple(loads)))
        volts = max(self.state.levels.high_v[i] for i in loads)
        relay = pick_relay(needed, self.state.plan.nominal_v, volts)
        return None if relay is None else milli(cold_coil_a(relay, volts))

    def output_ma(self, switch: Switch) -> int | None:
        """What the fuse of a vehicle's output carries for good; None for other switches."""
        if switch.type != "output":
            return None
        rating_a = switch.rating_a
        if switch.fuse is not None and switch.fuse.rating_a is not None:
            rating_a = switch.fuse.rating_a
        if rating_a is None or (switch.fuse is not None and switch.fuse.none):
            return None
        ambient_c = self.maker.ways.ambient(switch.place)[0]
        device = protect.Device("output", rating_a, ambient_c)
        return math.floor(usable(device) * 1000 + 1e-6)

    def copper_g(self, loads: Sequence[int], panel: str, contact: str) -> int:
        """Copper of the run, estimated: section from half the allowed drop, at least 1 mm2."""
        total = 0.0
        for index in loads:
            load = self.state.wiring.loads[index]
            length_m = self._length_m(index, panel, contact)
            ways = 1 if load.back == "chassis" else 2
            allowed_v = SHARE_FOR_THE_RUN * self.state.demand.limits[index].total_v
            current_a = float(self.state.demand.worst_a[index])
            area_mm2 = COPPER_OHM_MM2_PER_M * ways * length_m * current_a / max(allowed_v, 1e-3)
            total += COPPER_G_PER_MM2_M * max(area_mm2, LEAST_MM2) * ways * length_m
        return math.ceil(total - 1e-6)

    def _length_m(self, index: int, panel: str, contact: str) -> float:
        accessory = self.state.wiring.loads[index].accessory
        if accessory.length_m is not None:
            return accessory.length_m
        nodes = self.state.wiring.nodes
        node = nodes.get(panel) or next(n for n in nodes.values() if n.panel is None)
        start = node.place
        switch = next((s for s in self.state.plan.switches if s.name == contact), None)
        if switch is None or switch.place is None:
            return self._way_m(start, accessory.place)
        if switch.type == "output":
            return self._way_m(switch.place, accessory.place)
        return self._way_m(start, switch.place) + self._way_m(switch.place, accessory.place)

    def _way_m(self, start: str | None, end: str | None) -> float:
        known = self._lengths.get((start, end))
        if known is None:
            known = self.maker.ways.route("way", start, end, None).length_m
            self._lengths[start, end] = known
        return known


def milli(value_a: float) -> int:
    """Ampere to milliampere, rounded up, at least 1."""
    return max(1, math.ceil(value_a * 1000 - 1e-6))
