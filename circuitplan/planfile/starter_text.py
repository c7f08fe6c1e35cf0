"""The starter plan as text: what was answered, and commented lines for what comes next."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from circuitplan.library import kinds
from circuitplan.model.record import record
from circuitplan.planfile.spoken_kinds import UNSURE, Fitted

SECOND = "second battery"
_BARE = re.compile(r"[A-Za-z][A-Za-z0-9_-]*( [A-Za-z0-9_-]+)*")

SWITCH_STUBS = (
    "S3: {rating: 20 A, type: relay}  # works a relay, which carries the load",
    "Reverse: {type: signal, signal: reverse lamp}  # the reverse lamp works a relay",
)
"""Lines under switches: to make them count, take away the # before them."""
SECOND_STUB = (
    "batteries: {bed battery: {type: agm, capacity: 100 Ah, place: bed}}",
    "chargers:",
    "  Charger: {type: dc-dc, from: battery, to: bed battery, output: 25 A, place: bed}",
)
"""Lines under supply."""
WINCH_STUB = "- {name: Winch, kind: winch, length: 2 m, fed_from: battery, duty: 60 s in 10 min}"
PANEL_STUB = (
    "panels:",
    "  Cab panel: {place: cab, fed_from: battery, length: 2.5 m, ways: 8}",
    "  Bed panel: {place: bed, fed_from: battery, length: 5 m, ways: 6}",
)
LEG_STUB = (
    "legs:",
    "  - [engine bay, cab, 2 m]",
    "  - [cab, bed, 3 m]",
)
SCENARIO_STUB = (
    "scenarios:",
    "  - {name: Drive, engine: cruise, duration: 2 h, running: {FIRST: 100 %}}",
    "  - {name: Camp, engine: off, duration: 10 h, running: {FIRST: 100 %}}",
)
DAY_STUB = (
    "days:",
    "  - {name: Weekend, order: [Drive, Camp], charge: 90 %, temperature: 5 °C}",
)
"""Whole sections; FIRST stands for the first accessory."""


@record
class Charge:
    """What charges the second battery: a sort of charger, and its output or ""."""

    sort: str
    output: str


@record
class Answers:
    """The answers as given and as read; ``asked``: somebody said what is fitted."""

    given: Mapping[str, str]
    switches: Sequence[tuple[str, str]]
    fitted: Sequence[Fitted]
    charger: Charge | None
    asked: bool


def plan_lines(answers: Answers) -> list[str]:
    """The lines of the plan."""
    given, first = answers.given, ""
    lines = [
        "# A plan of circuitplan: what you give is kept and checked, what you leave out is chosen",
        "# or assumed, and every assumption is listed. Quantities carry a unit: 40 A, 2.5 mm2,",
        "# 14 AWG, 3 m, 7.5 ft. Lines that begin with # are not read.",
        "circuitplan: 1",
        f"title: {_quoted(given['title'])}",
        f"system: {given['system']}  # nominal: 12 V, 24 V or 48 V",
        "",
        *_supply(answers),
        "",
        *_switch_lines(answers.switches),
        "",
        "# What feeds others: fuse panels, busbars, converters. Without any, one is assumed.",
        *_commented(PANEL_STUB),
        "",
        "# How far it is from place to place: then 'place: bed' does in place of a length.",
        *_commented(LEG_STUB),
        "",
        "# length: the wire one way, in m or ft; until it is given, a long way is assumed.",
        "# Power or current from the label is better than the kind's usual draw.",
        *([f"# fed_from: {SECOND}, for what shall not empty the first one."]
          if given["second_battery"] else []),
        "accessories:",
    ]
    if not answers.asked:
        lines.append("  # an example: put what is fitted in its place")
    names: dict[str, int] = {}
    for one in answers.fitted:
        names[one.name.casefold()] = number = names.get(one.name.casefold(), 0) + 1
        name = f"{one.name} {number}" if number > 1 else one.name
        first = first or _quoted(name)
        lines += _accessory(one, name, answers.switches)
    lines += ["  # A winch hangs on the battery; peak: from its label.", f"  # {WINCH_STUB}"]
    lines += ["", "# What runs together, and for how long: alternator margin and battery time."]
    lines += [line.replace("FIRST", first) for line in _commented(SCENARIO_STUB)]
    lines += ["", "# Scenarios in a row: does the battery last, does the engine start after it?"]
    return [*lines, *_commented(DAY_STUB)]


def _supply(answers: Answers) -> list[str]:
    given, second = answers.given, answers.given["second_battery"]
    battery = [f"type: {given['battery_type']}"] if given["battery_type"] else []
    battery += [f"capacity: {given['battery']}"] if given["battery"] else []
    lines = ["supply:" if battery or given["alternator"] else "# supply:"]
    if battery:
        lines.append(f"  battery: {{{', '.join(battery)}}}")
    else:
        lines.append("  # battery: {type: agm, capacity: 70 Ah, cranking: 700 A}")
    if second:
        lines += [f"  batteries: {{{SECOND}: {{capacity: {second}}}}}  # type: agm, place: bed"]
        charger = answers.charger or Charge("dc-dc", "25 A")
        source = "" if charger.sort in ("solar", "shore") else "from: battery, "
        output = f", output: {charger.output}" if charger.output else ""
        mark = "" if answers.charger else "# "
        lines += [f"  {mark}chargers:", f"  {mark}  Charger: {{type: {charger.sort}, {source}"
                  f"to: {SECOND}{output}}}"]  # fmt: skip
    else:
        lines += ["  # A second battery, and what charges it:"]
        lines += [f"  {line}" for line in _commented(SECOND_STUB)]
    alternator = given["alternator"]
    return [*lines, f"  {'' if alternator else '# '}alternator: {{rated: {alternator or '120 A'}}}"
            "  # idle: its output at idle speed, if you know it"]  # fmt: skip


def _accessory(one: Fitted, name: str, switches: Sequence[tuple[str, str]]) -> list[str]:
    kind = kinds.find(one.kind)
    table = kind.kind if kind is not None else one.kind
    plain = {one.kind.casefold(), one.kind.casefold().removesuffix("s")}
    note = "" if table in plain else f"  # in the table: {table}"
    if table in UNSURE:
        note = f"  # taken as {UNSURE[table]}"
    lines = [f"  - name: {_quoted(name)}", f"    kind: {_quoted(one.kind)}{note}"]
    if one.count is not None and one.count > 1:
        lines.append(f"    quantity: {one.count}")
    elif one.count is None and _many(one.kind) and one.kind.casefold() != table:
        lines.append("    # quantity: 2")
    figures = dict(one.figures)
    lines += [f"    {key}: {text}" for key, text in one.figures]
    if "length" not in figures:
        lines.append("    # length: 3 m")
    return [*lines, *([f"    # switch: {_quoted(switches[0][0])}"] if switches else [])]


def _many(kind: str) -> bool:
    """Whether a kind is said in the plural."""
    last = kind.casefold().split()[-1]
    return last.endswith("s") and not last.endswith(("ss", "us", "is"))


def _quoted(text: str) -> str:
    """``text`` as YAML text: bare where every reader takes it alike, else in double quotes."""
    if _BARE.fullmatch(text) and text.casefold() not in ("yes", "no", "on", "off", "true", "false"):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _switch_lines(switches: Sequence[tuple[str, str]]) -> list[str]:
    lines = ["# direct (the default) carries the load; relay: works a relay, carries only its coil"]
    if switches:
        lines.append("switches:")
        lines += [f"  {_quoted(name)}: {{rating: {rating}}}" for name, rating in switches]
        return [*lines, *(f"  # {stub}" for stub in SWITCH_STUBS)]
    stubs = ("S1: {rating: 20 A}", *SWITCH_STUBS)
    return [*lines, *_commented(("switches:", *(f"  {stub}" for stub in stubs)))]


def _commented(lines: tuple[str, ...]) -> list[str]:
    return [f"# {line}" for line in lines]
