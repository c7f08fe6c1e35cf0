"""Motors worked in two ways: what is read, and what a plan may not ask of them."""

from __future__ import annotations

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile import read_text

HEAD = """circuitplan: 1
system: 12 V
supply: {battery: 90 Ah}
switches:
  S1: {type: relay, rating: 2 A}
  S2: {type: direct, rating: 20 A}
  out: {type: output, rating: 20 A}
  rev: {signal: reverse lamp, rating: 0.5 A}
  neg: {type: direct, rating: 20 A, in_negative: yes}
  fet: {type: direct, rating: 20 A, solid_state: yes}
  far: {type: direct, rating: 20 A, split: bed}
  pig: {type: direct, rating: 20 A, lead: {size: 10 AWG, length: 0.3 m}}
places: {bed: 40 °C}
accessories:
"""


def entry(keys: str, name: str = "Vane") -> str:
    return f"  - {{name: {name}, current: 5 A, length: 2 m, {keys}}}\n"


def test_both_sorts_are_read() -> None:
    plan = read_text(
        HEAD + entry("motor: reversing, switch: S1")
        + entry("motor: two-speed, low_speed: 3 A, switch: S2", "Fan")
    )
    vane, fan = plan.accessories
    assert (vane.motor, vane.low_speed_a) == ("reversing", None)
    assert (fan.motor, fan.low_speed_a) == ("two-speed", 3.0)


# what is wrong: (keys of the motor, further entries, words in what was found, words in the remedy)
WRONG = {
    "unknown word": ("motor: reversable, switch: S1", "", "'reversable'", "did you mean reversing"),
    "without a hyphen": ("motor: two speed, switch: S1", "", "'two speed'", "two-speed"),
    "low speed alone": ("low_speed: 3 A, switch: S1", "", "no motor of two speeds", "two-speed"),
    "low speed of a reversing one": ("motor: reversing, low_speed: 3 A, switch: S1", "",
                                     "no motor of two speeds", "delete low_speed"),
    "low speed above full": ("motor: two-speed, low_speed: 6 A, switch: S1", "",
                             "low_speed 6 A above its current of 5 A", "larger of the two"),
    "chassis": ("motor: reversing, switch: S1, return: chassis", "", "return: chassis",
                "return: wire"),
    "no switch": ("motor: reversing", "", "no switch", "name the one switch"),
    "two switches": ("motor: reversing, switch: [S1, S2]", "", "2 switches", "the one switch"),
    "output": ("motor: two-speed, switch: out", "", "the vehicle's output", "of its own"),
    "signal": ("motor: reversing, switch: rev", "", "the vehicle's signal", "of its own"),
    "in the negative": ("motor: reversing, switch: neg", "", "breaks the negative", "in_negative"),
    "electronic": ("motor: reversing, switch: fet", "", "electronic", "relays"),
    "split": ("motor: two-speed, switch: far", "", "with split", "delete split"),
    "lead with a size": ("motor: two-speed, switch: pig", "", "lead of a size of its own",
                         "size of the motor"),
    "shared direct": ("motor: reversing, switch: S2", entry("switch: S2", "Lamp"),
                      "S2 works Lamp too", "another switch"),
    "shared relay": ("motor: reversing, switch: S1", entry("switch: [S1, S2]", "Lamp"),
                     "S1 works Lamp too", "another switch"),
    "shared number": ("motor: reversing, number: 7, switch: S1", entry("number: 7", "Lamp"),
                      "number 7 is shared with Lamp", "another number"),
    "tails": ("motor: two-speed, switch: S1, quantity: 2, tail: 0.5 m", "", "with tail",
              "leave tail out"),
    "parallel": ("motor: reversing, switch: S1, parallel: 2", "", "in parallel", "size be chosen"),
    "dimmed": ("motor: two-speed, switch: S1, dimmed: 40 %", "", "dimmed", "one of them out"),
    "winch": ("motor: reversing, switch: S1, kind: winch", "", "contactors of its own",
              "leave motor out"),
}


@pytest.mark.parametrize("case", WRONG, ids=list(WRONG))
def test_what_is_not_allowed_is_said_once_with_the_way_out(case: str) -> None:
    keys, more, found, remedy = WRONG[case]
    with pytest.raises(InputError) as caught:
        read_text(HEAD + entry(keys) + more)
    (problem,) = caught.value.problems
    assert problem.line == HEAD.count("\n") + 1
    assert found in problem.found
    assert remedy in problem.remedy
    assert problem.allowed


def test_low_speed_above_what_the_kind_draws_at_most() -> None:
    """Without a current the kind's largest draw sizes the wire: no lower speed draws more."""
    with pytest.raises(InputError, match="low_speed 40 A above its current"):
        read_text(HEAD + "  - {name: Fan, kind: fan, motor: two-speed, low_speed: 40 A, "
                  "switch: S1}\n")


def test_all_is_said_at_once() -> None:
    with pytest.raises(InputError) as caught:
        read_text(HEAD + entry("motor: reversing, switch: [S1, S2], return: chassis, dimmed: 9 %"))
    assert len(caught.value.problems) == 3
