"""A plan to start from: a few questions, and what their answers must be; starter_text writes it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import get_args

from circuitplan.errors import InputError, Problem
from circuitplan.model import plan as model
from circuitplan.model.record import record
from circuitplan.planfile import fields, spoken_kinds, values
from circuitplan.planfile.key_forms import Field
from circuitplan.planfile.reading import read_text
from circuitplan.planfile.starter_text import Answers, Charge, plan_lines
from circuitplan.planfile.tree import Node, Spot, Troubles
from circuitplan.planfile.values import Context, Value

_CHARGERS = {
    "dc dc": "dc-dc", "dcdc": "dc-dc", "dc to dc": "dc-dc", "b2b": "dc-dc",
    "battery to battery": "dc-dc", "voltage sensing relay": "voltage relay",
    "split charge relay": "voltage relay", "relay": "voltage relay", "solar panel": "solar",
    "mains": "shore", "": "dc-dc",
}  # fmt: skip
"""Other words for the sorts of chargers (common usage); no word: the usual one."""
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


@record
class Question:
    """One question. ``default`` holds where the answer is empty; "" means: leave it out.

    ``unit`` is the one that the question names: a bare number said to it is in that unit.
    ``after``: asked only where one of these was answered.
    """

    key: str
    ask: str
    default: str
    example: str
    unit: str = ""
    after: tuple[str, ...] = ()


QUESTIONS = (
    Question("title", "What is the plan called?", "My vehicle", "Ridge rescue pickup"),
    Question("system", "Nominal voltage: 12 V, 24 V or 48 V?", "12 V", "12 V", "V"),
    Question("battery", "Capacity of the battery, in Ah? (empty: not known)", "", "70 Ah", "Ah"),
    Question("battery_type", "Its type: flooded, agm, gel or lifepo4? (empty: not known)", "",
             "agm"),
    Question("second_battery", "Capacity of a second battery, in Ah? (empty: none)", "", "100 Ah",
             "Ah", ("battery", "battery_type")),
    Question("charger", "What charges the second one (dc-dc, voltage relay, diode, solar or "
             "shore), with how many A? (empty: not known)", "", "dc-dc 25 A", "A",
             ("second_battery",)),
    Question("alternator", "Rated output of the alternator, in A? (empty: not known)", "", "120 A",
             "A"),
    Question("switches", "Switches and their ratings, in A? (empty: none yet)", "",
             "S1: 30 A, S2: 20 A", "A"),
    Question("accessories", "What is fitted, in plain words?", "fridge",
             "twin-motor compressor, front LED bar, two rear work lamps"),
)  # fmt: skip


def said_to(key: str, answer: str) -> str:
    """An answer to the question as it is asked: a bare number gets the unit that it names."""
    question = next(q for q in QUESTIONS if q.key == key)
    if not question.unit:
        return answer
    parts = re.split(r"([,;])", answer) if key == "switches" else [answer]
    for at, part in enumerate(parts):
        before, colon, number = part.rpartition(":") if key == "switches" else ("", "", part)
        words, _, last = number.strip().rpartition(" ") if key == "charger" else ("", "", number)
        if _NUMBER.fullmatch(last.strip()):
            gap = " " if colon else ""
            number = f"{gap}{words} {last.strip()} {question.unit}".replace("  ", " ")
            parts[at] = f"{before}{colon}{number}"
    return "".join(parts).strip()


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
        said = answers.get(question.key, "").strip()
        if said and question.after and not any(answers.get(k, "").strip() for k in question.after):
            first = question.after[0].replace("_", " ")
            problems.append(Problem(
                f"answer '{question.key}'", f"nothing is said of the {first}", f"the {first} too",
                f"give the {first}, or leave this out",
            ))  # fmt: skip
    if problems:
        raise InputError(problems)
    text = "\n".join(plan_lines(_answers(given, answers))) + "\n"
    read_text(text, "starter plan")
    return text


def _answers(given: Mapping[str, str], answers: Mapping[str, str]) -> Answers:
    spot, quiet = Spot("answers"), Context(Troubles())
    found = [spoken_kinds.fitted(words) for words in spoken_kinds.all_fitted(given["accessories"])]
    return Answers(
        given, _switches(given["switches"], spot, quiet), [one for one in found if one is not None],
        _charger(given["charger"], spot, quiet) if given["charger"] else None,
        asked=bool(answers.get("accessories", "").strip()),
    )


def _read_answer(key: str, given: str, context: Context) -> None:
    spot = Spot(f"answer '{key}'")
    if key == "switches":
        for _, rating in _switches(given, spot, context):
            _read(fields.SWITCH.find("rating"), rating, spot, context)
    elif key == "accessories":
        for words in spoken_kinds.all_fitted(given):
            _accessory(words, spot, context)
    elif key == "charger":
        _charger(given, spot, context)
    else:
        section, word = {
            "title": (fields.TOP, "title"),
            "system": (fields.TOP, "system"),
            "battery": (fields.BATTERY, "capacity"),
            "battery_type": (fields.BATTERY, "type"),
            "second_battery": (fields.BATTERY, "capacity"),
            "alternator": (fields.ALTERNATOR, "rated"),
        }[key]
        _read(section.find(word), given, spot, context)


def _read(field: Field | None, text: str, spot: Spot, context: Context) -> None:
    if field is not None and isinstance(field.value, Value):
        field.value.read(Node(spot, text=text), field.key, context)


def _accessory(words: str, spot: Spot, context: Context) -> None:
    apart = spoken_kinds.elsewhere(words)
    if apart is not None:
        what, where, how = apart
        context.troubles.add(
            spot, f"'{words[:60]}': {what}", f"it belongs to {where}", f"leave it out here; {how}"
        )
        return
    one = spoken_kinds.fitted(words)
    if one is None:  # the reader of kinds says what is near
        _read(fields.ACCESSORY.find("kind"), words, spot, context)
        return
    for key, text in (("quantity", str(one.count or 1)), ("name", one.name), *one.figures):
        _read(fields.ACCESSORY.find(key), text, spot, context)


def _charger(given: str, spot: Spot, context: Context) -> Charge | None:
    """ "dc-dc 25 A" as its sort and its output."""
    match = re.fullmatch(r"(.*?)\s*((?<![A-Za-z])\d.*)?", " ".join(given.split()))
    words, output = (match[1], match[2] or "") if match else (given, "")
    plain = re.sub(r"[- ]+", " ", words.casefold()).removesuffix(" charger").strip(" ,:")
    sorts = {sort.replace("-", " "): sort for sort in get_args(model.ChargerKind)} | _CHARGERS
    if plain not in sorts:
        context.troubles.add(
            spot, f"'{given[:60]}'", f"{', '.join(get_args(model.ChargerKind))}; then its output",
            "say it as dc-dc 25 A",
        )  # fmt: skip
        return None
    if output:
        _read(fields.CHARGER.find("output"), output, spot, context)
    return Charge(sorts[plain], output)


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
