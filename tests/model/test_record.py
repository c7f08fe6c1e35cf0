"""A record behaves as the frozen dataclass of the same fields."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from dataclasses import FrozenInstanceError, dataclass

import pytest

from circuitplan.model import plan, result
from circuitplan.model.record import record


@record
class Wire:
    size: str
    length_m: float
    pieces: int = 1


@dataclass(frozen=True)
class Plain:
    size: str
    length_m: float
    pieces: int = 1


def test_same_fields_values_and_text() -> None:
    ours, theirs = Wire("2.5", 3.0), Plain("2.5", 3.0)
    names = [[f.name for f in dataclasses.fields(made)] for made in (ours, theirs)]
    assert names[0] == names[1]
    assert dataclasses.asdict(ours) == dataclasses.asdict(theirs)
    assert repr(ours).replace("Wire", "") == repr(theirs).replace("Plain", "")
    assert dataclasses.is_dataclass(Wire)


def test_equality_hash_replace_and_copies() -> None:
    one = Wire("2.5", length_m=3.0)
    assert one == Wire("2.5", 3.0, 1)
    assert one != Wire("2.5", 3.0, 2)
    assert one != Plain("2.5", 3.0)
    assert hash(one) == hash(Wire("2.5", 3.0))
    assert dataclasses.replace(one, pieces=2) == Wire("2.5", 3.0, 2)
    assert copy.deepcopy(one) == one
    assert pickle.loads(pickle.dumps(one)) == one


def test_frozen() -> None:
    one = Wire("2.5", 3.0)
    with pytest.raises(FrozenInstanceError):
        one.size = "4"  # type: ignore[misc]
    with pytest.raises(FrozenInstanceError):
        del one.size  # type: ignore[misc]


@pytest.mark.parametrize(
    ("values", "named"),
    [((), {}), (("2.5",), {}), (("2.5", 3.0, 1, 4), {}), (("2.5", 3.0), {"size": "4"}),
     (("2.5", 3.0), {"weight": 1})],
)  # fmt: skip
def test_wrong_fields_are_refused(values: tuple[object, ...], named: dict[str, object]) -> None:
    with pytest.raises(TypeError):
        Wire(*values, **named)  # type: ignore[arg-type]
    with pytest.raises(TypeError):
        Plain(*values, **named)  # type: ignore[arg-type]


def test_the_models_are_made_of_it() -> None:
    for made in (plan.Plan, plan.Accessory, result.Result, result.Run):
        assert dataclasses.is_dataclass(made)
        with pytest.raises(TypeError):
            made(1, 2, 3, nothing=4)  # type: ignore[call-arg]
