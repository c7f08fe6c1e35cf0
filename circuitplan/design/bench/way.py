"""The way of one accessory's current, and of the coil that lets it flow, as things in series."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.bench import plugged
from circuitplan.design.bench.chain import Chain, Stretch
from circuitplan.model.given import MOTOR_TERMINALS
from circuitplan.model.record import record
from circuitplan.model.result import Circuit, Result


@record
class Element:
    """One thing in series; ``at`` names the point behind it, or is empty where none is in reach."""

    name: str
    ohm: float
    at: str
    likely: float  # weight against the others (judgement)
    load: bool = False


@record
class Way:
    """Elements from the source's positive to its negative; ``coil``: those of the relay's coil."""

    accessory: str
    circuit: int
    source_v: float
    main: tuple[Element, ...]
    contact: int | None  # index in ``main`` of the contact that the coil works
    coil: tuple[Element, ...] = ()


# likelihood against each other, by experience of the trade (judgement)
_LIKELY = {
    "fuse": 4.0, "switch": 2.0, "relay": 2.0, "wire": 1.0, "earth": 4.0, "load": 3.0, "coil": 1.0,
}


def way_of(chain: Chain, result: Result) -> Way:
    """The way of one accessory, and of the coil that works it."""
    circuit = next(c for c in result.circuits if c.number == chain.circuit)
    volts = chain.source_v or 12.6 * chain.nominal_v / 12.0
    current_a = max(0.5 * sum(chain.current_band(volts)), 1e-3)
    main, contact, plugs = list[Element](), None, plugged.ends(plugged.connectors(result))
    for stretch in chain.plus:
        for element in _through(_plus(stretch, circuit, result, chain), stretch, plugs):
            if element.name.startswith("relay "):
                contact = len(main)
            main.append(element)
    fed, back = MOTOR_TERMINALS.get(chain.position, ("positive", "negative"))
    main[-1] = replace(main[-1], at=f"{chain.accessory}, {fed}")
    main.append(Element(chain.accessory, volts / current_a, f"{chain.accessory}, {back}",
                        _LIKELY["load"], load=True))
    for stretch in chain.minus:
        if stretch.start != chain.accessory and (ends := _changed_over(stretch, circuit, chain)):
            main += ends
            continue
        earth = "earth point" in stretch.end
        name = f"wire {stretch.wire}" + (" or its earth point" if earth else " or its joints")
        likely = _LIKELY["earth" if earth else "wire"] + 1.0
        e = Element(name, stretch.hot_ohm + stretch.contact_ohm, _end(stretch), likely)
        main += _through([e], stretch, plugs)
    if chain.body_ohm > 0.0:
        main.append(Element("the body's strap to the battery", chain.body_ohm, "", 1.0))
    return Way(chain.accessory, chain.circuit, volts, tuple(main), contact,
               _coil(circuit, result, volts, chain.position) if contact is not None else ())


def _through(found: list[Element], s: Stretch, plugs: plugged.Plugs) -> list[Element]:
    """The elements of a stretch, the connector that ends (or begins) its wire by itself."""
    e, plug = found.pop(), plugs.get((s.wire, s.start if s.back else s.end))
    parts = plugged.split((e.name, e.ohm, e.at, e.likely), s.wire, s.back, plug)
    return [*found, *(Element(*part) for part in parts)]


def _changed_over(stretch: Stretch, circuit: Circuit, chain: Chain) -> list[Element]:
    """The live wire by which a reversing motor's current comes back, and the contact behind it."""
    if not chain.position or stretch.feeder or stretch is not chain.minus[0]:
        return []
    if circuit.accessories[0].motor != "reversing":
        return []
    share = stretch.contact_ohm / 3.0
    name = f"wire {stretch.wire} or its joints"
    if stretch.relay:
        pins = (f"relay {stretch.relay}, 30", f"relay {stretch.relay}, 87a")
        contact, likely = f"break contact of relay {stretch.relay}", _LIKELY["relay"]
    else:
        pins = (f"switch {stretch.end}, from the motor", f"switch {stretch.end}, negative")
        contact, likely = f"other pole of switch {stretch.end}", _LIKELY["switch"]
    return [
        Element(name, stretch.hot_ohm + 2.0 * share, pins[0], _LIKELY["wire"] + 1.0),
        Element(contact, share, pins[1], likely),
    ]


def _end(stretch: Stretch) -> str:
    if stretch.end.startswith("splice"):
        return ""
    return f"{stretch.end}, negative" if "earth" not in stretch.end else "bare body near the earth"


def _plus(
    stretch: Stretch, circuit: Circuit, result: Result, chain: Chain
) -> list[Element]:
    found = []
    share = stretch.contact_ohm / 3.0
    if stretch.fuse:
        found.append(Element(f"fuse {stretch.fuse}", share, f"fuse {stretch.fuse}, far side",
                             _LIKELY["fuse"]))
    if stretch.relay:
        pin = _pins(circuit)[1]
        found.append(Element(f"relay {stretch.relay}", share, f"relay {stretch.relay}, {pin}",
                             _LIKELY["relay"]))
    end = "" if stretch.end.startswith("splice") else stretch.end
    if chain.position and stretch.end == chain.plus[-1].start and circuit.relays:
        end = f"relay {chain.plus[-1].relay}, {_pins(circuit)[0]}"
    wire = Element(f"wire {stretch.wire} or its joints", stretch.hot_ohm + share, end,
                   _LIKELY["wire"])
    direct = [s.id for s in result.switches if s.type == "direct" and s.id in circuit.switches]
    if direct and not stretch.feeder and stretch.end == direct[0]:
        lead = Element(wire.name, wire.ohm, f"switch {direct[0]}, in", wire.likely)
        return [*found, lead, Element(f"switch {direct[0]}", share, f"switch {direct[0]}, out",
                                      _LIKELY["switch"])]
    passes = direct and not stretch.feeder and chain.style == "direct"
    if passes and not any(s.end == direct[0] for s in chain.plus):
        found.append(Element(f"switch {direct[0]}", share, f"switch {direct[0]}, out",
                             _LIKELY["switch"]))
    return [*found, wire]


def _pins(circuit: Circuit) -> tuple[str, str]:
    """Terminals of DIN 72552 by which the current enters and leaves a contact that is pulled over:
    the changing one of a reversing motor's relay is on the motor."""
    reversing = any(a.motor == "reversing" for a in circuit.accessories)
    return ("87", "30") if reversing else ("30", "87")


def _coil(
    circuit: Circuit, result: Result, volts: float, position: str
) -> tuple[Element, ...]:
    """The first switch's way to the coil: its fuse, wires, switch, coil and the coil's negative."""
    relay = next((r for r in circuit.relays if r.at == position), None)
    mine = set(circuit.switches)
    control = next(
        (c for c in result.circuits if not c.accessories and mine & set(c.switches)), None
    )
    if relay is None or control is None:
        return ()
    found = [
        Element(f"fuse {f.id}", 0.01, f"fuse {f.id}, far side", _LIKELY["fuse"])
        for f in control.fuses
    ]
    runs = [r for r in control.runs if r.at in ("", position)]
    for number, run in enumerate(runs):
        ohm = run.resistance_20c_ohm_per_m * run.length_m
        last = number == len(runs) - 1
        at = f"relay {relay.id}, 86" if last else f"switch {run.to}, in"
        found.append(Element(f"wire {run.id} or its joints", ohm, at, _LIKELY["wire"]))
        if not last:
            found.append(Element(f"switch {run.to}", 0.02, f"switch {run.to}, out",
                                 _LIKELY["switch"]))
    coil_ohm = volts / relay.coil_a if relay.coil_a > 0.0 else 80.0
    found.append(Element(f"coil of {relay.id}", coil_ohm, f"relay {relay.id}, 85",
                         _LIKELY["coil"], load=True))
    found.append(Element(f"negative of the coil of {relay.id}", 0.02, "", _LIKELY["wire"]))
    return tuple(found)
