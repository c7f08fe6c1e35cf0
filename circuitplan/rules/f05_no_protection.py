"""F05: a live wire without any fuse or breaker before it."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Circuit
from circuitplan.rules.base import Case, Finding, Rule, Skip, num

RULE = Rule(
    id="F05",
    name="no protection",
    signal_word="WARNING",
    fails=True,
    means="Nothing opens this circuit when its wire is chafed or its load fails: the plan says "
    "that there is no fuse, or none fits.",
    why="A battery drives thousands of amperes through a chafed wire: it glows along its whole "
    "length and sets fire to what it touches.",
    remedy="Fit a fuse at the source. Where trade practice leaves a winch or starter unfused: an "
    "isolator in reach of the operator, the cable short, sleeved and clamped, opened when not in "
    "use; then accept this finding in the plan, with your name and reason.",
    source="33 CFR 183.455(a); IEC 60364-4-43",
    status="read",
    example="A winch on the battery with fuse: none and a 500 A isolator: WARNING, until somebody "
    "accepts it by name, or a 400 A strip fuse is fitted.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    said: set[str] = set()
    for circuit in case.circuits:
        feeds = [r for r in circuit.runs if r.role == "feed"]
        bare = [r.id for r in feeds if r.protected_by is None]
        if bare or (not circuit.fuses and not feeds):
            finding = _circuit(case, circuit, bare)
            said.add(finding.subject.casefold())
            yield finding
    for panel in case.panels:
        bare = [r.id for r in panel.feeder if r.role == "feed" and r.protected_by is None]
        if bare and panel.fuse is None:
            reason = f" ({panel.fuse_reason})" if panel.fuse_reason else ""
            yield RULE.finding(
                panel.id,
                f"The feeder to {panel.id} (wire {', '.join(bare)}) has no protection{reason}. If "
                "it chafes, it glows along its length: fire.",
                f"Fit a fuse at {panel.fed_from}, close to where the feeder begins; it carries "
                f"{num(panel.current_a)} A.",
                found="none",
            )
    for charger in case.chargers:
        none = charger.fuse is not None and charger.fuse.none
        if none and charger.name.casefold() not in said:
            yield RULE.finding(
                charger.name,
                f"{charger.name} has no fuse. A chafed wire on it is fed by a battery: fire.",
                "Fit a fuse close to each battery that this wire reaches.",
                found="none",
            )


def _circuit(case: Case, circuit: Circuit, bare: list[str]) -> Finding:
    name = case.subject(circuit)
    reason = f" ({circuit.fuse_reason})" if circuit.fuse_reason else ""
    wire = f"wire {', '.join(sorted(bare))} of {name}" if bare else f"the wire of {name}"
    chosen_none = (circuit.fuse_reason or "").startswith("the plan")
    if (circuit.fuse_reason or "").startswith("no fuse of the tables"):
        remedy = (
            "Split the load over two circuits; find a cooler place for the fuse; or give one by "
            "its maker's figures for these amperes and volts, with its type (600 A class T)."
        )
    elif not chosen_none and circuit.accessories:
        remedy = (
            f"No fuse was found that carries {num(circuit.current_a)} A and protects this wire: "
            "use thicker wire or insulation of a higher class, a cooler place for wire and fuse, "
            "or split the load over two circuits."
        )
    elif circuit.isolator_a is not None:
        remedy = (
            "Fit a fuse at the source; or keep the cable short, sleeved and clamped, the "
            f"{num(circuit.isolator_a)} A isolator in reach and open when not in use, and accept "
            "this by name."
        )
    else:
        remedy = (
            "Fit a fuse at the source; at the very least an isolator in reach of the operator and "
            "a short sleeved cable."
        )
    return RULE.finding(
        name,
        f"Nothing protects {wire}{reason}; {num(circuit.current_a)} A flow in use, and thousands "
        "in a short circuit. A chafed cable glows along its length: fire.",
        remedy,
        found="none",
        circuit=circuit.id,
    )
