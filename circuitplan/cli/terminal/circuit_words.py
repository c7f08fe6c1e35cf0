"""Wire, fuse and drop of a circuit in a few letters, for tables."""

from __future__ import annotations

from circuitplan.cli.terminal.text import up
from circuitplan.model.result import Circuit


def wire_word(circuit: Circuit) -> str:
    """Sizes of the circuit's feed wires: "2.5 mm²", "1 to 10 mm²"; with * where one is unknown."""
    feeds = sorted((run for run in circuit.runs if run.role == "feed"), key=lambda r: r.area_mm2)
    if not feeds:
        return "-"
    star = "*" if any(run.unknown for run in feeds) else ""
    least, most = feeds[0].size, feeds[-1].size
    if least == most:
        return most + star
    number, _, unit = least.partition(" ")
    if most.partition(" ")[2] == unit:
        return f"{number} to {most}{star}"
    return f"up to {most}{star}"  # gauges of two kinds: the thickest


def fuse_word(circuit: Circuit) -> str:
    """Rating and type of the first fuse: "15 A C"."""
    if not circuit.fuses:
        return "none"
    fuse = circuit.fuses[0]
    return f"{fuse.rating_a:g} A {fuse.type}"


def drop_word(circuit: Circuit) -> str:
    """Worst drop against its limit, in percent of nominal."""
    if circuit.drop is None:
        return "-"
    return f"{up(circuit.drop.percent)} of {circuit.drop.limit_percent:g} %"
