"""Before and after: the answer of ``try``."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.cli.terminal.about import about
from circuitplan.cli.terminal.circuit_words import drop_word, fuse_word, wire_word
from circuitplan.cli.terminal.comparing_plans import coming_lines, other_lines, short
from circuitplan.cli.terminal.findings import finding_lines, quoted
from circuitplan.cli.terminal.overview import caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, down, ink, page_width, table, up, wrap
from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Finding, Result, SwitchResult
from circuitplan.planfile.wishes.wish import Wish
from circuitplan.planner import counted
from circuitplan.planner.comparing import compare
from circuitplan.planner.holding import MARK, failing
from circuitplan.planner.mending import Search
from circuitplan.planner.standing import Standing, standing


def remedy_of(result: Result) -> str | None:
    """What to do about the worst finding that counts; None when there is none."""
    counting = counted(result.findings)
    return counting[0].remedy if counting else None


def verdict_lines(
    before: Result, after: Result, changes: Sequence[str], named: Sequence[str] = ()
) -> Iterator[str]:
    """Verdict after, first about what was ``named``; before; what was tried."""
    width = page_width()
    said = about(after, named)
    yield from answer_lines(after.answer, said[0] if said else f"with the change: {after.because}")
    wired = standing(before, after, named)
    if wired is not None:
        yield from wrap(as_it_is(wired), width, first="As it is wired now: ", rest="  ")
    if said and not said[1]:
        yield from wrap(after.because, width, first="With the change: ", rest="  ")
    yield from wrap(before.because, width, first=f"Before: {before.answer.upper()}: ", rest="  ")
    yield ""
    for change in changes:
        yield from wrap(change, width, first="Tried: ", rest="  ")


def as_it_is(found: Standing) -> str:
    """Whether the parts of the plan as it was do, which must be replaced, and which are new."""
    if found.same:
        return "its wires, fuse and relay stay."
    if not found.outgrown:
        return "nothing must get larger, but not all stays: see below."
    words = "too small" if any(o.has for o in found.outgrown) else "parts are missing"
    for one in sorted(found.outgrown, key=lambda o: ("wire", "fuse", "relay").index(o.part)):
        if one.flows_a is not None and one.bears_a is not None:
            bears = f", which bears {down(one.bears_a)} A" if one.part == "wire" else ""
            words = f"overloaded: {up(one.flows_a)} A on its {one.has}{bears}"
            break
    swaps = dict.fromkeys(
        f"{o.needs} in place of {o.has}" if o.has else f"a new {o.part}: {o.needs}"
        for o in found.outgrown
    )
    return f"{words}. It takes {'; '.join(swaps)}."


def fix_lines(
    search: Search, asked: Sequence[Wish], still: Sequence[Wish], plan_file: str
) -> Iterator[str]:
    """The cheapest fix that passed, as a command to type; or that none was found.

    ``still``: those of the wishes ``asked`` that the fix does not overrule.
    """
    width, fix = page_width(), search.fix
    yield ""
    if fix is None:
        tried = {
            0: "No change of a wire, fuse, switch or machine is known to help",
            1: "One change was tried on the whole plan",
        }.get(search.tried, f"{search.tried} changes were tried on the whole plan")
        more = "" if search.exhausted else "; others, dearer, were not"
        words = f"Fix: none found. {tried}{more}; see what the findings say."
        yield from wrap(words, width, rest="  ", first="")
        return
    words = "; ".join(_with_means(change) for change in fix.changes)
    end = "nothing fails any more" if fix.whole else "what fails then failed before the trial too"
    head = "Cheapest fix" if search.exhausted else "A fix, perhaps not the cheapest"
    gives = f" That gives {'; '.join(fix.gives)}." if fix.gives else ""
    yield from wrap(
        f"{head}: {words}.{gives} Tried on the whole plan: {end}.", width, rest="  ", first=""
    )
    if not any(w.options for w in asked):
        options = [f"--{w.verb} {quoted(w.words)}" for w in still]
        options += [f"--change {quoted(c)}" for c in fix.changes]
        command = f"circuitplan try {quoted(plan_file)} {' '.join(options)}"
        yield from wrap(command, width, first="  With it: ", rest="    ")


def _with_means(change: str) -> str:
    """A change, with what it takes where the words alone do not say so."""
    if " inrush " in change:
        return f"{change} (a soft start that holds it there)"
    return f"{change} (a shorter way)" if " length " in change else change


def difference_lines(
    before_plan: Plan, before: Result, after_plan: Plan, after: Result, plan_file: str
) -> Iterator[str]:
    """What differs: circuits, switches, panels, supply, parts; findings that go, come and stay."""
    width = page_width()
    found = compare(before_plan, before, after_plan, after)
    yield from _circuits(before, after, width)
    yield from _switches(before, after, width)
    yield from other_lines(found)
    came = [f for f in after.findings if not _has(before, f)]
    went = [f for f in before.findings if not _has(after, f)]
    if went:
        yield ""
        yield ink(f"FINDINGS THAT GO ({len(went)})", "head")
        for finding in went:
            yield from wrap(short(finding), width, first="- ", rest="  ")
    if came:
        yield ""
        yield ink(f"FINDINGS THAT COME ({len(came)})", "head")
        yield from coming_lines(came, plan_file)
    stay = [f for f in counted(after.findings) if f not in came]
    if stay:
        yield ""
        yield ink(f"FINDINGS THAT STAY AND FAIL ({len(stay)})", "head")
        yield from finding_lines(stay, plan_file)
    yield from caution_lines()


def _has(result: Result, finding: Finding) -> bool:
    return any(f.rule == finding.rule and f.subject == finding.subject for f in result.findings)


def _circuits(before: Result, after: Result, width: int) -> Iterator[str]:
    old = {_key(c): c for c in before.circuits}
    new = {_key(c): c for c in after.circuits}
    rows: list[tuple[str, ...]] = []
    notes: list[str] = []
    moved: list[str] = []
    bad_before, bad_after = failing(before), failing(after)
    for key in dict.fromkeys((*old, *new)):
        was, now = old.get(key), new.get(key)
        if was is not None and now is not None and _facts(was) == _facts(now):
            continue
        if was is not None and now is not None and _barely(was, now):
            moved.append(now.label)
            continue
        label = (now or was).label  # type: ignore[union-attr]
        if was is not None:
            rows.append(("!" if was.id in bad_before else "", "before", label, *_facts(was)))
        if now is not None:
            rows.append(("!" if now.id in bad_after else "", "after", label, *_facts(now)))
        if was is not None and now is None:
            word, note = _fate(was, after)
            rows.append(("", "after", label, word, "", "", ""))
            notes += [note] if note else []
    yield ""
    if not rows and not moved:
        yield "No circuit changes."
        return
    also = f"Wire and fuse stay, current and drop move a little: {', '.join(moved)}."
    if not rows:
        yield from wrap(also, width, first="", rest="  ")
        return
    yield ink("CIRCUITS THAT CHANGE", "head")
    columns = (
        Column("", 1),
        Column("", 6),
        Column("Circuit", 28, gives_way=True),
        Column("Current", right=True),
        Column("Wire", 14),
        Column("Fuse", 13),
        Column("Drop", right=True),
    )
    yield from table(columns, rows, width=width)
    if any(row[0] for row in rows):
        yield f"! {MARK}"
    for note in (*notes, also) if moved else notes:
        yield from wrap(note, width, first="", rest="  ")


def _barely(was: Circuit, now: Circuit) -> bool:
    """Whether only figures differ, by less than 5 % of the current and 0.5 % of the nominal."""
    if (wire_word(was), fuse_word(was)) != (wire_word(now), fuse_word(now)):
        return False
    drops = [c.drop.percent if c.drop is not None else 0.0 for c in (was, now)]
    current = abs(now.current_a - was.current_a) <= 0.05 * was.current_a
    return current and abs(drops[1] - drops[0]) <= 0.5


def _fate(was: Circuit, after: Result) -> tuple[str, str]:
    """What became of a circuit: joined with others, split up, or gone; and a sentence on it."""
    names = {a.name for a in was.accessories}
    homes = [c for c in after.circuits if names & {a.name for a in c.accessories}]
    if not homes:
        return "gone", ""
    if len(homes) > 1:
        return "split", f"{was.label}: split over {' and '.join(c.label for c in homes)}."
    others = [a.name for a in homes[0].accessories if a.name not in names]
    if not others:
        return "smaller", f"{was.label}: what is left of it is {homes[0].label}."
    home = homes[0].label
    into = f"; together they are circuit {home}" if home != was.label else ""
    return "joined", f"{was.label}: joined with {' and '.join(others)}{into}."


def _key(circuit: Circuit) -> tuple[str, ...]:
    return tuple(sorted(a.name for a in circuit.accessories)) or (circuit.label,)


def _facts(circuit: Circuit) -> tuple[str, str, str, str]:
    return (
        f"{up(circuit.current_a)} A",
        wire_word(circuit),
        fuse_word(circuit),
        drop_word(circuit),
    )


def _switches(before: Result, after: Result, width: int) -> Iterator[str]:
    old = {s.id: _load(s) for s in before.switches}
    rows = [
        (s.id, old.get(s.id, "-"), _load(s), _usable(s))
        for s in after.switches
        if old.get(s.id) != _load(s)
    ]
    rows += [(name, load, "gone", "") for name, load in old.items()
             if name not in {s.id for s in after.switches}]  # fmt: skip
    if rows:
        columns = (
            Column("Switch", 20, gives_way=True),
            Column("Load before", right=True),
            Column("Load after", right=True),
            Column("Usable", right=True),
        )
        yield ""
        yield from table(columns, rows, width=width)


def _load(switch: SwitchResult) -> str:
    return f"{up(switch.current_a, 2 if switch.current_a < 1 else 1)} A"


def _usable(switch: SwitchResult) -> str:
    return "-" if switch.usable_a is None else f"{switch.usable_a:.4g} A"
