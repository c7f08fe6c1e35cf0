"""Text to plain floats and back. Conversion factors are checked against published ones."""

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan import units
from circuitplan.units import UnitError


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("40 A", "current", 40.0),
        ("40A", "current", 40.0),
        ("10 Amps", "current", 10.0),
        ("35 mA", "current", 0.035),
        ("2.5 mm2", "area", 2.5),
        ("2.5 mm²", "area", 2.5),
        ("85 °C", "temperature", 85.0),
        ("85 C", "temperature", 85.0),
        ("85 degC", "temperature", 85.0),
        ("185 F", "temperature", 85.0),
        ("185 °F", "temperature", 85.0),
        ("-18 °C", "temperature", -18.0),
        ("7' 6\"", "length", 2.286),
        ("7’ 6”", "length", 2.286),
        ("7ft6in", "length", 2.286),
        ("7 ft 6 in", "length", 2.286),
        ("7.5 ft", "length", 2.286),
        ("7 1/2 ft", "length", 2.286),
        ("15'", "length", 4.572),
        ("25ft", "length", 7.62),
        ("14in", "length", 0.3556),
        ("1/2 in", "length", 0.0127),
        ("5 mΩ", "resistance", 0.005),
        ("5 m\u2126", "resistance", 0.005),  # the ohm sign, not the Greek letter
        ("5 mohm", "resistance", 0.005),
        ("95 Ah", "charge", 95.0),
        ("1.2 kW", "power", 1200.0),
        ("3 h", "time", 10800.0),
        ("1 h 30 min", "time", 5400.0),
        ("3 %", "percent", 3.0),
        ("1500 r/min", "speed", 1500.0),
        ("1500 rpm", "speed", 1500.0),
        ("0.125 in", "diameter", 3.175),
    ],
)
def test_reads_what_people_write(text: str, dimension: str, value: float) -> None:
    assert units.parse(text, dimension) == value


# NIST SP 811 (2008), appendix B.8: foot 0.3048 m, inch 0.0254 m (exact), horsepower
# (550 ft.lbf/s) 745.6999 W, hour 3600 s, ampere hour 3600 C; B.9: t/°C = (t/°F - 32)/1.8.
@pytest.mark.parametrize(
    ("text", "dimension", "printed"),
    [
        ("1 ft", "length", "0.3048"),
        ("1 in", "length", "0.0254"),
        ("1 hp", "power", "745.6999"),
        ("1 h", "time", "3600"),
        ("212 °F", "temperature", "100"),
        ("32 °F", "temperature", "0"),
        ("-40 °F", "temperature", "-40"),
    ],
)
def test_factors_are_the_published_ones(text: str, dimension: str, printed: str) -> None:
    digits = len(printed.partition(".")[2])
    assert f"{units.parse(text, dimension):.{digits}f}" == printed


def test_own_registry_agrees_with_the_full_one_of_pint() -> None:
    full = pint.UnitRegistry()
    names = {"A·h": "ampere*hour", "r/min": "turn/minute"}
    compared = 0
    for dimension in units.DIMENSIONS.values():
        for word, unit in dimension.words.items():
            if dimension.name in ("percent", "temperature") or "turn" in unit:
                continue
            own = units.parse(f"0.05 {word}", dimension.name)
            expected = full.Quantity(0.05, names.get(word, unit)).to(dimension.unit).magnitude
            assert own == pytest.approx(expected, rel=1e-12), word
            compared += 1
    assert compared > 50


@pytest.mark.parametrize(
    ("text", "dimension", "says"),
    [
        ("40", "current", "without a unit"),
        ("40 W", "current", "a power"),
        ("3 mm2", "length", "an area"),
        ("2,5 A", "current", "comma"),
        ("1,500 W", "power", "comma"),
        ("NaN A", "current", "no number"),
        ("nan", "current", "no number"),
        ("inf A", "current", "no number"),
        ("-3 A", "current", "negative"),
        ("1e400 A", "current", "beyond"),
        ("9e99 A", "current", "beyond"),
        ("-300 °C", "temperature", "too cold"),
        ("abc", "current", "does not begin with a number"),
        ("", "current", "nothing"),
        ("40 Q", "current", "unknown unit"),
        ("40 MA", "current", "unknown unit"),
        ("3-4 m", "length", "range"),
        ("7' 6", "length", "unknown unit"),
        ("6 in 7 ft", "length", "unknown unit"),
        ("1.2.3 A", "current", "unknown unit"),
    ],
)
def test_refuses_what_could_be_misread(text: str, dimension: str, says: str) -> None:
    with pytest.raises(UnitError) as caught:
        units.parse(text, dimension)
    assert says in caught.value.found
    assert caught.value.allowed
    assert caught.value.remedy


def test_a_comma_is_answered_with_the_point() -> None:
    with pytest.raises(UnitError) as caught:
        units.parse("2,5 A", "current")
    assert "2.5 A" in caught.value.remedy


@pytest.mark.parametrize(
    ("text", "gauge", "expected"),
    [
        ("2.5 mm2", "metric", ("metric", "2.5")),
        ("2.50 mm²", "awg", ("metric", "2.5")),
        ("10 mm2", "metric", ("metric", "10")),
        ("6 mm2", "iec", ("iec", "6")),
        ("14 AWG", "metric", ("awg", "14")),
        ("AWG 14", "metric", ("awg", "14")),
        ("10 SAE", "metric", ("sae", "10")),
        ("4/0 AWG", "metric", ("awg", "4/0")),
        ("0000", "metric", ("awg", "4/0")),
        ("0000", "sae", ("sae", "4/0")),
        ("0 AWG", "metric", ("awg", "1/0")),
        ("14 ga", "sae", ("sae", "14")),
        ("unknown", "metric", ("metric", None)),
    ],
)
def test_wire_sizes(text: str, gauge: str, expected: tuple[str, str | None]) -> None:
    assert units.parse_wire(text, gauge) == expected


@pytest.mark.parametrize("text", ["14", "2.5", "2,5 mm2", "2.5 mm", "", "14 ga", "thick"])
def test_wire_sizes_that_could_be_misread(text: str) -> None:
    with pytest.raises(UnitError):
        units.parse_wire(text, "metric")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("40 A", (40.0, None, False, False)),
        ("40 A E", (40.0, "E", False, False)),
        ("E 40A", (40.0, "E", False, False)),
        ("40 A type C", (40.0, "C", False, False)),
        ("125 A class T", (125.0, "class T", False, False)),
        ("50 A SF 30", (50.0, "SF30", False, False)),
        ("100 A bolt-in", (100.0, "bolt-in", False, False)),
        ("40 A breaker", (40.0, "breaker", False, False)),
        ("breaker", (None, "breaker", False, False)),
        ("20 A self-resetting breaker", (20.0, "breaker", False, True)),
        ("none", (None, None, True, False)),
    ],
)
def test_fuses(text: str, expected: tuple[float | None, str | None, bool, bool]) -> None:
    assert units.parse_fuse(text) == expected


@pytest.mark.parametrize("text", ["40", "40 W", "40,5 A", "", "0 A", "40 A 50 A", "-5 A", "big"])
def test_fuses_that_could_be_misread(text: str) -> None:
    with pytest.raises(UnitError):
        units.parse_fuse(text)


def test_duty() -> None:
    assert units.parse_duty("60 s in 10 min") == (60.0, 600.0)
    assert units.parse_duty("1 min on, 9 min off") == (60.0, 600.0)
    for text in ("10 min in 60 s", "20 %", "60 in 10 min", "0 s in 1 min"):
        with pytest.raises(UnitError):
            units.parse_duty(text)


def test_showing() -> None:
    assert units.show(0.035, "A") == "35 mA"
    assert units.show(12.345, "A") == "12.3 A"
    assert units.show(1234.5, "W") == "1234 W"
    assert units.show(None, "A") == "unknown"
    assert units.show(30.000000000000004, "A", toward="up") == "30 A"
    assert units.show(9.996, "A", toward="down") == "9.99 A"
    assert [units.show_drain(a) for a in (0.0, 0.0201, 0.06, 0.9991, 1.0, 5.884, 56.0)] == [
        "0 mA", "21 mA", "60 mA", "1000 mA", "1 A", "5.89 A", "56 A"
    ]
    assert [units.show_days(d) for d in (0.0256, 0.349, 1.99, 2.0, 33.9)] == [
        "36 min", "8.3 h", "47.7 h", "2 days", "33 days"
    ]
    assert units.show_time(33_700) == "9 h 21 min"
    assert units.show_time(59.9) == "59 s"
    assert units.knows("mA", "current")
    assert not units.knows("mA", "power")


@given(st.floats(1e-6, 4e4), st.integers(1, 6))
@settings(deadline=None)
def test_rounding_keeps_to_its_side(value: float, digits: int) -> None:
    slack = 1 + 1e-11
    assert units.round_up(value, digits) * slack >= value
    assert units.round_down(value, digits) <= value * slack
    assert units.round_up(value, digits) >= units.round_down(value, digits)


@given(st.floats(1e-3, 4e4))
@settings(deadline=None)
def test_round_trip_of_currents(value: float) -> None:
    assert units.parse(units.show(value, "A", 12), "current") == pytest.approx(value, rel=1e-11)


@pytest.mark.parametrize("dimension", list(units.DIMENSIONS))
@given(st.floats(0.1, 90.0))
@settings(deadline=None)
def test_round_trip_in_every_dimension(dimension: str, value: float) -> None:
    text = units.show(value, units.DIMENSIONS[dimension].symbol, 12)
    assert units.parse(text, dimension) == pytest.approx(value, rel=1e-11)


def assert_clear(error: UnitError) -> None:
    assert error.found
    assert error.allowed
    assert error.remedy


@given(st.text(max_size=20), st.sampled_from(sorted(units.DIMENSIONS)))
@settings(deadline=None)
def test_any_text_is_a_number_or_a_clear_error(text: str, dimension: str) -> None:
    kind = units.DIMENSIONS[dimension]
    try:
        value = units.parse(text, dimension)
    except UnitError as error:
        assert_clear(error)
    else:
        assert kind.least <= value <= kind.most


@given(st.text(max_size=20))
@settings(deadline=None)
def test_any_text_is_a_wire_a_fuse_a_duty_or_a_clear_error(text: str) -> None:
    for parse in (units.parse_wire, units.parse_fuse, units.parse_duty):
        try:
            parse(text)
        except UnitError as error:
            assert_clear(error)


def test_a_battery_time_is_said_as_people_say_it() -> None:
    said = {0.5: "30 min", 2.46: "2.4 h", 29.9: "29.9 h", 47.99: "47.9 h", 80.0: "3 days",
            336.0: "14 days", 337.0: "more than two weeks", 2376.0: "more than two weeks"}
    assert {hours: units.show_hours(hours) for hours in said} == said
    assert units.show_hours(2376.0, "> 2 weeks") == "> 2 weeks"
