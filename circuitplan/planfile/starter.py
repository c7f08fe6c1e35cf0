"""A plan to start from: a few questions, and a commented YAML plan made of the answers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from circuitplan.errors import InputError, Problem
from circuitplan.planfile import fields, trade, values
from circuitplan.planfile.reading import read_text
from circuitplan.planfile.tree import Node, Spot, Troubles
from circuitplan.planfile.values import Context, Value

_BARE = re.compile(r"[A-Za-z][A-Za-z0-9_-]*( [A-Za-z0-9_-]+)*")


@dataclass(frozen=True, slots=True)
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
    Question("switches", "Switches and their ratings?", "S1: 20 A, S2: 20 A",
             "S1: 30 A, S2: 20 A"),
    Question("accessories", "What is fitted, in plain words?", "fridge, led bar",
             "twin-motor compressor, fridge, 2 work lamps"),
)  # fmt: skip


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
    text = _text(given)
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


def _read(field: fields.Field | None, text: str, spot: Spot, context: Context) -> None:
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


def _text(given: Mapping[str, str]) -> str:
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
        "# direct (the default) carries the load; relay: works a relay, and carries only its coil",
        "switches:",
        *(f"  {_quoted(name)}: {{rating: {rating}}}" for name, rating in switches),
        "",
        "# length: the wire one way, in m or ft; until it is given, a long way is assumed.",
        "# Power or current from the label is better than the kind's usual draw.",
        "accessories:",
    ]
    names: dict[str, int] = {}
    for count, kind in _accessories(given["accessories"]):
        name = kind[0].upper() + kind[1:]
        names[name.casefold()] = names.get(name.casefold(), 0) + 1
        number = names[name.casefold()]
        name = f"{name} {number}" if number > 1 else name
        lines += [f"  - name: {_quoted(name)}", f"    kind: {_quoted(kind)}"]
        if count != "1":
            lines.append(f"    quantity: {count}")
        lines += ["    # length: 3 m", f"    # switch: {switches[0][0]}"]
    return "\n".join(lines) + "\n"
