"""A plan to start from: a few questions, and a commented YAML plan made of the answers."""

from __future__ import annotations

import re
from collections.abc import Mapping

from circuitplan.errors import InputError, Problem
from circuitplan.model.record import record
from circuitplan.planfile import fields, trade, values
from circuitplan.planfile.key_forms import Field
from circuitplan.planfile.reading import read_text
from circuitplan.planfile.tree import Node, Spot, Troubles
from circuitplan.planfile.values import Context, Value

_BARE = re.compile(r"[A-Za-z][A-Za-z0-9_-]*( [A-Za-z0-9_-]+)*")


@record
class Question:
    """One question. ``default`` holds where the answer is empty; "" means: leave it out."""

    key: str
    ask: str
    default: str
    example: str


QUESTIONS = (
    Question("title", "What is the plan called?", "My vehicle", "Ridge rescue pickup"),
    Question("system", "Nominal voltage: 12 V, 24 V or 48 V?", "12 V", "12 V"),
    Question("battery", "Capacity of the battery, in Ah? (empty: not known)", "", "70 Ah"),
    Question("battery_type", "Its type: flooded, agm, gel or lifepo4? (empty: not known)", "",
             "agm"),
    Question("alternator", "Rated output of the alternator? (empty: not known)", "", "120 A"),
    Question("switches", "Switches and their ratings? (empty: none yet)", "",
             "S1: 30 A, S2: 20 A"),
    Question("accessories", "What is fitted, in plain words?", "fridge",
             "twin-motor compressor, fridge, 2 work lamps"),
)  # fmt: skip

SWITCH_STUBS = (
    "S3: {rating: 20 A, type: relay}  # works a relay, which carries the load",
    "Reverse: {type: signal, signal: reverse lamp}  # the reverse lamp works a relay",
)
"""Lines under switches: to make them count, take away the # before them."""
WINCH_STUB = "- {name: Winch, kind: winch, length: 2 m, fed_from: battery, duty: 60 s in 10 min}"
PANEL_STUB = (
    "panels:",
    "  Cab panel: {place: cab, fed_from: battery, length: 2.5 m, ways: 8}",
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


def check_answer(key: str, answer: str) -> str:
    """``answer`` trimmed, or its default; raises ``InputError`` if the plan could not hold it."""
    question = next(q for q in QUESTIONS if q.key == key)
    given = answer.strip() or question.default
    troubles = Troubles()
    if given:
        _read_answer(key, given, Context(troubles))
    troubles.raise_if_any()
    return given


def starter_plan(answers: Mapping[str, str]) -> str:
    """A commented plan in YAML from answers by question key; missing ones take the default.

    Raises ``InputError`` with every answer that cannot be used. What it returns reads as a plan.
    """
    problems: list[Problem] = []
    given: dict[str, str] = {}
    unknown = sorted(set(answers) - {question.key for question in QUESTIONS})
    for key in unknown:
        allowed = ", ".join(question.key for question in QUESTIONS)
        problems.append(Problem("answers", f"the unknown answer '{key}'", allowed, "leave it out"))
    for question in QUESTIONS:
        try:
            given[question.key] = check_answer(question.key, answers.get(question.key, ""))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    text = _text(given, asked=bool(answers.get("accessories", "").strip()))
    read_text(text, "starter plan")
    return text


def _read_answer(key: str, given: str, context: Context) -> None:
    spot = Spot(f"answer '{key}'")
    if key == "switches":
        for _, rating in _switches(given, spot, context):
            _read(fields.SWITCH.find("rating"), rating, spot, context)
    elif key == "accessories":
        for count, words in _accessories(given):
            trade.kind().read(Node(spot, text=words), "an accessory", context)
            values.whole(1, 999).read(Node(spot, text=count), "a quantity", context)
    else:
        section, word = {
            "title": (fields.TOP, "title"),
            "system": (fields.TOP, "system"),
            "battery": (fields.BATTERY, "capacity"),
            "battery_type": (fields.BATTERY, "type"),
            "alternator": (fields.ALTERNATOR, "rated"),
        }[key]
        _read(section.find(word), given, spot, context)


def _read(field: Field | None, text: str, spot: Spot, context: Context) -> None:
    if field is not None and isinstance(field.value, Value):
        field.value.read(Node(spot, text=text), field.key, context)


def _switches(given: str, spot: Spot, context: Context) -> list[tuple[str, str]]:
    """ "S1: 30 A, S2: 20 A" as pairs."""
    pairs: dict[str, str] = {}
    for part in given.replace(";", ",").split(","):
        name, colon, rating = (piece.strip() for piece in part.partition(":"))
        if not colon or not name or name.casefold() in (known.casefold() for known in pairs):
            context.troubles.add(
                spot, f"'{part.strip()[:40]}'", "names and ratings as S1: 30 A, S2: 20 A",
                "give each switch once, with its rating",
            )  # fmt: skip
            continue
        values.name().read(Node(spot, text=name), "a switch", context)
        pairs[name] = rating
    return list(pairs.items())


def _accessories(given: str) -> list[tuple[str, str]]:
    """ "fridge, 2 work lamps" as (how many, kind)."""
    found = []
    for part in given.replace(";", ",").split(","):
        first, _, rest = part.strip().partition(" ")
        if first.isdecimal() and rest:
            found.append((first, rest.strip()))
        elif part.strip():
            found.append(("1", part.strip()))
    return found


def _quoted(text: str) -> str:
    """``text`` as YAML text: bare where every reader takes it alike, else in double quotes."""
    if _BARE.fullmatch(text) and text.casefold() not in ("yes", "no", "on", "off", "true", "false"):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def _text(given: Mapping[str, str], asked: bool) -> str:
    """``asked``: somebody said what is fitted."""
    switches = _switches(given["switches"], Spot("answers"), Context(Troubles()))
    battery = [f"type: {given['battery_type']}"] if given["battery_type"] else []
    battery += [f"capacity: {given['battery']}"] if given["battery"] else []
    supply = []
    if battery:
        supply.append(f"  battery: {{{', '.join(battery)}}}")
    else:
        supply.append("  # battery: {type: agm, capacity: 70 Ah, cranking: 700 A}")
    alternator = given["alternator"]
    supply.append(f"  {'' if alternator else '# '}alternator: {{rated: {alternator or '120 A'}}}"
                  "  # idle: its output at idle speed, if you know it")  # fmt: skip
    head = "supply:" if battery or alternator else "# supply:"
    lines = [
        "# A plan of circuitplan: what you give is kept and checked, what you leave out is chosen",
        "# or assumed, and every assumption is listed. Quantities carry a unit: 40 A, 2.5 mm2,",
        "# 14 AWG, 3 m, 7.5 ft. Lines that begin with # are not read.",
        "circuitplan: 1",
        f"title: {_quoted(given['title'])}",
        f"system: {given['system']}  # nominal: 12 V, 24 V or 48 V",
        "",
        head,
        *supply,
        "",
        *_switch_lines(switches),
        "",
        "# What feeds others: fuse panels, busbars, converters. Without any, one is assumed.",
        *_commented(PANEL_STUB),
        "",
        "# length: the wire one way, in m or ft; until it is given, a long way is assumed.",
        "# Power or current from the label is better than the kind's usual draw.",
        "accessories:",
    ]
    if not asked:
        lines.append("  # an example: put what is fitted in its place")
    names: dict[str, int] = {}
    first = ""
    for count, kind in _accessories(given["accessories"]):
        base = kind[0].upper() + kind[1:]
        names[base.casefold()] = number = names.get(base.casefold(), 0) + 1
        name = f"{base} {number}" if number > 1 else base
        first = first or _quoted(name)
        lines += [f"  - name: {_quoted(name)}", f"    kind: {_quoted(kind)}"]
        if count != "1":
            lines.append(f"    quantity: {count}")
        lines.append("    # length: 3 m")
        lines += [f"    # switch: {_quoted(switches[0][0])}"] if switches else []
    lines += ["  # A winch hangs on the battery; peak: from its label.", f"  # {WINCH_STUB}"]
    lines += ["", "# What runs together, and for how long: alternator margin and battery time."]
    lines += [line.replace("FIRST", first) for line in _commented(SCENARIO_STUB)]
    lines += ["", "# Scenarios in a row: does the battery last, does the engine start after it?"]
    lines += _commented(DAY_STUB)
    return "\n".join(lines) + "\n"


def _switch_lines(switches: list[tuple[str, str]]) -> list[str]:
    lines = ["# direct (the default) carries the load; relay: works a relay, carries only its coil"]
    if switches:
        lines.append("switches:")
        lines += [f"  {_quoted(name)}: {{rating: {rating}}}" for name, rating in switches]
        return [*lines, *(f"  # {stub}" for stub in SWITCH_STUBS)]
    stubs = ("S1: {rating: 20 A}", *SWITCH_STUBS)
    return [*lines, *_commented(("switches:", *(f"  {stub}" for stub in stubs)))]


def _commented(lines: tuple[str, ...]) -> list[str]:
    return [f"# {line}" for line in lines]
