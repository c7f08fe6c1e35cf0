"""The first line of ``try``: about the switch or accessory that was named, then the plan."""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.cli.terminal.text import down, up
from circuitplan.model.result import Circuit, Finding, Result, SwitchResult
from circuitplan.planner import counted
from circuitplan.planner.holding import concerns


def about(result: Result, names: Sequence[str]) -> tuple[str, bool] | None:
    """A sentence, and whether it gives the plan's own reason too.

    What holds or not at the first of ``names`` that is a switch, else an accessory.

    None when the result has none of them. Where it holds and the plan as a whole does not, the
    sentence says so: the answer before it is that of the plan.
    """
    wanted = [n.casefold() for n in names]
    switches = {s.id.casefold(): s for s in result.switches}
    switch = next((switches[n] for n in wanted if n in switches), None)
    owners = {a.name.casefold(): (a.name, c) for c in result.circuits for a in c.accessories}
    accessory = next((owners[n] for n in wanted if n in owners), None)
    counting = counted(result.findings)
    if switch is not None:
        circuits = [c for c in result.circuits if switch.id in c.switches]
        own = [f for f in counting if _of_switch(f, switch, circuits)]
        own.sort(key=lambda f: f.subject != switch.id or not f.rule.startswith("S"))
        words = _load(switch)
        told = bool(own) and own[0].rule == "S01"
    elif accessory is not None:
        name, circuit = accessory
        own = [f for f in counting if concerns(f, circuit) or f.subject in circuit.switches]
        words, told = _circuit(name, circuit), False
    else:
        return None
    if own:
        whole = own[0].message == result.because
        return f"{words}. {_then(own[0].message) if told else own[0].message}", whole
    if counting:
        return f"{words}: that holds; but elsewhere: {result.because}", True
    return f"{words}; {result.because}", True


def _then(message: str) -> str:
    """What a message says after its first sentence, the figures: what happens then."""
    first, stop, rest = message.partition(". ")
    return rest if stop else first


def _of_switch(finding: Finding, switch: SwitchResult, circuits: list[Circuit]) -> bool:
    return finding.subject == switch.id or any(concerns(finding, c) for c in circuits)


def _load(switch: SwitchResult) -> str:
    """ "S3: 76.0 A on a 20 A contact, counted as 146 A (...)", or what the coils take."""
    amps = f"{up(switch.current_a, 2 if switch.current_a < 1 else 1)} A"
    rating = switch.rating_a
    if rating is None:
        return f"{switch.id} carries {amps}; its rating is not given"
    if switch.type != "direct":
        usable = rating if switch.usable_a is None else switch.usable_a
        what = "output" if switch.type == "output" else "contact"
        coils = " of relay coils" if switch.type != "output" else ""
        return f"{switch.id}: {amps}{coils} on {_article(usable)} A {what}"
    counted_a = ""
    if switch.needed_a > switch.current_a * 1.001:
        parts = ", ".join(
            f"{name} {up(a)} A × {factor:g}" for name, a, factor in switch.factors if factor > 1
        )
        counted_a = f", counted as {up(switch.needed_a)} A ({parts})"
    if switch.needed_a > rating:
        return f"{switch.id}: {amps} on {_article(rating)} A contact{counted_a}"
    return f"{switch.id} carries {amps} of {down(rating, 0)} A{counted_a}"


def _article(amps: float) -> str:
    word = f"{amps:.4g}"
    vowel = word.startswith("8") or word in ("11", "18")
    return f"{'an' if vowel else 'a'} {word}"


def _circuit(name: str, circuit: Circuit) -> str:
    own = next(a for a in circuit.accessories if a.name == name)
    runs = [r for r in circuit.runs if r.role == "feed" and name in r.accessories]
    wire = f", wire {runs[-1].size}" if runs else ""
    fuse = f", fuse {circuit.fuses[0].rating_a:g} A" if circuit.fuses else ", no fuse"
    return f"{name} draws {up(own.current_a)} A{wire}{fuse}"
