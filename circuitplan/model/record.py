"""A frozen dataclass that is cheap to make.

``dataclasses.dataclass`` writes and compiles five methods a class: 1 to 2 ms each, and the models
hold a hundred classes, which every start of the program would pay. ``record`` gives the same
class with methods written once. ``dataclasses.fields``, ``replace`` and ``asdict`` work on it.
"""

from __future__ import annotations

import dataclasses
from dataclasses import MISSING, Field, FrozenInstanceError
from inspect import get_annotations
from typing import Any, TypeVar, dataclass_transform

Made = TypeVar("Made")


@dataclasses.dataclass(frozen=True)
class _Pattern:
    """One real dataclass, to take from it what marks a field and a class as such."""

    one: int


_PATTERN = dataclasses.fields(_Pattern)[0]
_PARAMS = _Pattern.__dataclass_params__  # type: ignore[attr-defined]


@dataclass_transform(frozen_default=True)
def record(cls: type[Made]) -> type[Made]:
    """Make ``cls`` a frozen dataclass: its annotated names are its fields, in order."""
    fields: dict[str, Field[Any]] = {}
    for name, hint in get_annotations(cls).items():
        made: Field[Any] = dataclasses.field(default=cls.__dict__.get(name, MISSING))
        made.name, made.type = name, hint
        made._field_type = _PATTERN._field_type  # type: ignore[attr-defined]
        fields[name] = made
    names = tuple(fields)
    defaults = {n: f.default for n, f in fields.items() if f.default is not MISSING}
    required = frozenset(names) - defaults.keys()

    def start(self: Any, *values: Any, **named: Any) -> None:
        inside = self.__dict__
        inside.update(defaults)
        inside.update(zip(names, values, strict=False))
        inside.update(named)
        if (
            len(values) > len(names)
            or len(inside) != len(names)
            or not required <= inside.keys()
            or not named.keys().isdisjoint(names[: len(values)])
        ):
            raise TypeError(f"{cls.__name__} takes {', '.join(names)}")

    def key(self: Any) -> tuple[Any, ...]:
        inside = self.__dict__
        return tuple(inside[name] for name in names)

    def equals(self: Any, other: object) -> bool:
        return key(self) == key(other) if other.__class__ is self.__class__ else NotImplemented

    def shown(self: Any) -> str:
        parts = ", ".join(f"{name}={self.__dict__[name]!r}" for name in names)
        return f"{cls.__name__}({parts})"

    written: dict[str, Any] = {
        "__init__": start,
        "__eq__": equals,
        "__hash__": lambda self: hash(key(self)),
        "__repr__": shown,
        "__setattr__": _refuse_set,
        "__delattr__": _refuse_delete,
        "__match_args__": names,
        "__dataclass_fields__": fields,
        "__dataclass_params__": _PARAMS,
    }
    for name, value in written.items():
        setattr(cls, name, value)
    return cls


def _refuse_set(self: Any, name: str, value: Any) -> None:
    raise FrozenInstanceError(f"cannot assign to field {name!r}")


def _refuse_delete(self: Any, name: str) -> None:
    raise FrozenInstanceError(f"cannot delete field {name!r}")
