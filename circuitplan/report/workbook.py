"""The result as a workbook: a sheet a list, numbers as numbers, units in the heads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitplan.design.bench.plugged import connectors, ends, where
from circuitplan.model.result import Circuit, Result
from circuitplan.planner.holding import failing, unheld_parts
from circuitplan.planner.room import rooms
from circuitplan.report.spreadsheet import Sheet, Value, both_sizes
from circuitplan.report.words import all_fuses, all_relays, all_runs, circuit_name


def sheets(result: Result) -> Iterator[Sheet]:
    """(name, heads, rows) of each sheet; values as computed, unrounded.

    "holds" is no where a finding fails the circuit or feeder: see the sheet of findings.
    """
    bad, unheld, plugs = failing(result), unheld_parts(result), ends(connectors(result))
    runs = {r.id: r for _, r in all_runs(result)}
    yield "circuits", _heads(
        "number, label, panel, source, switches, live, current A, peak A, feed mm², feed AWG, "
        "fuses, relays, accessory, drop V, drop %, drop limit %, volts at accessory V, "
        "fault A, clears s, holds"
    ), [
        (
            c.number, c.label, c.panel, c.source, _join(c.switches), c.live, c.current_a, c.peak_a,
            *_feed_sizes(c),
            _join(f.id for f in c.fuses) or c.fuse_reason, _join(r.id for r in c.relays),
            _join(a.name for a in c.accessories),
            c.drop.total_v if c.drop else None, c.drop.percent if c.drop else None,
            c.drop.limit_percent if c.drop else None, c.drop.accessory_v if c.drop else None,
            c.fault.current_a if c.fault else None, c.fault.clears_s if c.fault else None,
            c.id not in bad,
        )
        for c in result.circuits
    ]  # fmt: skip
    yield "wires", _heads(
        "wire, belongs to, role, from, to, colour, size, mm², AWG, area mm², pieces, "
        "material, insulation, length m, current A, may carry A, source, loading, conductor °C, "
        "ambient °C, ambient assumed, bundle factor, ruled by, given, size unknown, fuse, "
        "next size down, holds"
    ), [
        (
            r.id, owner, r.role, where(r, r.from_, plugs), where(r, r.to, plugs), r.colour, r.size,
            *both_sizes(r), r.area_mm2, r.pieces, r.material, r.insulation, r.length_m, r.current_a,
            r.ampacity_a, r.ampacity_source, r.loading, r.conductor_c, r.ambient_c,
            r.ambient_assumed, r.bundle_factor, r.limited_by, r.given, r.unknown, r.protected_by,
            r.next_smaller, r.id not in unheld,
        )
        for owner, r in all_runs(result)
    ]  # fmt: skip
    yield "fuses", _heads(
        "fuse, belongs to, protects, rating A, type, colour, position, ambient °C, least A, "
        "most A, breaks A, may see A, limited by, given, why, holds"
    ), [
        (
            f.id, owner, f.protects, f.rating_a, f.type, f.colour, f.position, f.ambient_c, f.min_a,
            f.max_a, f.breaking_capacity_a, f.prospective_a, f.limited_by, f.given, f.why,
            f.id not in unheld,
        )
        for owner, f in all_fuses(result)
    ]  # fmt: skip
    yield "relays", _heads(
        "relay, circuit, type, contact A, needs A, coil A, cold coil A, pulls in hot V, "
        "coil gets V, terminals, position, worked by"
    ), [
        (
            r.id, circuit_name(c), r.type, r.contact_a, r.needed_a, r.coil_a, r.cold_coil_a,
            r.pick_up_hot_v, r.coil_low_v, r.terminals, r.position, _join(r.switches),
        )
        for c, r in all_relays(result)
    ]  # fmt: skip
    if plugs:
        yield "connectors", _heads(
            "connector, of, what, pieces, cavity, standard's use, pole, wire, mm², AWG, colour, "
            "contact, rated A, rated up to °C, ambient °C, usable A, current A, sealed"
        ), [
            (
                c.id, c.of, c.what, c.pieces, f"{c.id}:{x.number}",
                f"{x.number}: {x.use}" if x.use else None, x.role, x.run,
                *(both_sizes(runs[x.run]) if x.run else (None, None)), x.colour, c.contact,
                c.rating_a, c.rated_at_c, c.ambient_c, c.usable_a, c.current_a, c.sealed,
            )
            for c in connectors(result) for x in c.cavities
        ]  # fmt: skip
    left = {i: (r.spare_a, r.limit) for i, r in rooms(result).items()}
    yield "switches", _heads(
        "switch, label, type, works, signal, current A, needs A, rated A, usable A, spare A, "
        "spare set by, live, place"
    ), [
        (
            s.id, s.label, s.type, _join(s.works), s.signal, s.current_a, s.needed_a, s.rating_a,
            s.usable_a, *left.get(s.id, (s.spare_a, None)), s.live, s.place,
        )
        for s in result.switches
    ]  # fmt: skip
    yield "findings", _heads(
        "rule, signal word, fails, subject, found, limit, unit, message, remedy, change, source, "
        "accepted by"
    ), [
        (
            f.rule, f.signal_word, f.fails, f.subject, f.found, f.limit, f.unit, f.message,
            f.remedy, f.change, f.source, f.accepted_by,
        )
        for f in result.findings
    ]  # fmt: skip
    yield (
        "assumptions",
        _heads("subject, what, value, status, source, decides"),
        [
            (a.subject, a.what, a.value, a.status, a.source, _join(a.decides))
            for a in result.assumptions
        ],
    )


def _feed_sizes(circuit: Circuit) -> tuple[Value, Value]:
    """Every size of the feed, thickest first; one is a number."""
    sizes = dict.fromkeys(
        both_sizes(r)
        for r in sorted(circuit.runs, key=lambda r: -r.area_mm2) if r.role == "feed"
    )
    if len(sizes) == 1:
        return next(iter(sizes))
    return (
        _join(f"{mm2:g}" if mm2 else "—" for mm2, _ in sizes),
        _join(awg or "—" for _, awg in sizes),
    )


def _heads(text: str) -> tuple[str, ...]:
    return tuple(text.split(", "))


def _join(values: Iterable[str]) -> str:
    return ", ".join(values)
