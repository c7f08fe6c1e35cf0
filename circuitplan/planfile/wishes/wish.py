"""One wish of ``try``, and several of them applied to a plan's text one after the other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from circuitplan.errors import InputError
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.planfile import changes
from circuitplan.planfile.edits import Change, Merge, apply
from circuitplan.planfile.reading import read_text
from circuitplan.planfile.scalars import Value

NOTHING: Mapping[str, Value] = MappingProxyType({})


@record
class Wish:
    """``verb``: add, change, swap, remove; ``words`` as that option of ``try`` takes them.

    ``options`` are keys of an added accessory; ``note`` says what was taken for granted.
    """

    verb: str
    words: str
    options: Mapping[str, Value] = NOTHING
    note: str = ""

    def said(self) -> str:
        """The wish as it was understood."""
        tail = ", ".join(f"{key} {_plain(value)}" for key, value in self.options.items())
        return f"{self.verb} {self.words}" + (f", {tail}" if tail else "")


def _plain(value: Value) -> str:
    return value if isinstance(value, str) else " or ".join(map(str, value))


def applied(plan: Plan, text: str, wishes: Sequence[Wish]) -> str:
    """The plan's text with the wishes in it, in order, each seeing those before.

    Raises InputError where a wish names nothing in the plan, or the text made cannot be read.
    """
    for number, wish in enumerate(wishes):
        if number:
            plan = read_text(text, plan.file)
        text = apply(text, edits(plan, wish))
    return text


def not_overruled(plan: Plan, wishes: Sequence[Wish], later: Sequence[str]) -> list[Wish]:
    """The wishes without those changes whose key one of the ``later`` changes sets again."""
    again = {key for words in later for key in _keys(plan, words)}
    return [
        w for w in wishes
        if w.verb != "change" or not (keys := _keys(plan, w.words)) or not keys <= again
    ]


def _keys(plan: Plan, words: str) -> set[tuple[str, ...]]:
    """Paths of the keys that a change sets or takes out; none where it names nothing."""
    found: set[tuple[str, ...]] = set()
    try:
        asked = changes.change(plan, words)
    except InputError:
        return found
    for edit in asked:
        if isinstance(edit, Merge):
            found |= {(*edit.path, key) for key in edit.values}
        else:
            found.add(edit.path)
    return found


def edits(plan: Plan, wish: Wish) -> list[Change]:
    """The edits of one wish."""
    if wish.verb == "add":
        return changes.add(plan, wish.words, dict(wish.options))
    if wish.verb == "change":
        return changes.change(plan, wish.words)
    if wish.verb == "swap":
        return changes.swap(plan, wish.words)
    return changes.remove(plan, wish.words)
