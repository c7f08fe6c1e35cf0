"""Switches that work relays because of what they work, whatever the plan calls them."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.model.plan import Plan


def settled(plan: Plan) -> Plan:
    """The plan with every direct switch that is one of several for a thing as type ``relay``.

    Two contacts in one load's feed would each have to carry it, fed from one fuse; coils with a
    diode each need neither. One contact cannot carry one thing and work the relay of another: they
    hang on different fuses. So all that such a switch works gets a relay.
    """
    shared = {
        name.casefold() for a in plan.accessories if len(a.switches) > 1 for name in a.switches
    }
    return replace(plan, switches=tuple(
        replace(s, type="relay", type_follows=True)
        if s.type == "direct" and s.name.casefold() in shared else s
        for s in plan.switches
    ))
