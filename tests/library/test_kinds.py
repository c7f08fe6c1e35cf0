"""Kinds of accessories: found by many wordings, whole, on the safe side."""

from __future__ import annotations

import pytest

from circuitplan.library import cautions, colours, kinds, store
from circuitplan.rules import all_rules

WORDINGS = [
    ("fridge", "fridge"),
    ("Fridges", "fridge"),
    ("cool box", "fridge"),
    ("LED lamp", "led lamp"),
    ("led-lamps", "led lamp"),
    ("lamp, LED", "led lamp"),
    ("work lights", "led lamp"),
    ("scene lamp", "led lamp"),
    ("led bar", "led bar"),
    ("LED light bar", "led bar"),
    ("filament lamp", "filament lamp"),
    ("halogen", "filament lamp"),
    ("beacon", "beacon"),
    ("strobes", "beacon"),
    ("light bar", "light bar"),
    ("lightbar", "light bar"),
    ("rock lights", "under-body lamps"),
    ("under-body lamps", "under-body lamps"),
    ("reverse lamp", "reverse lamp"),
    ("compressor", "compressor"),
    ("air compressors", "compressor"),
    ("twin-motor compressor", "twin-motor compressor"),
    ("Twin Compressor", "twin-motor compressor"),
    ("dual motor air compressor", None),
    ("winch", "winch"),
    ("recovery winches", "winch"),
    ("locker", "locker"),
    ("diff locker", "locker"),
    ("locker air valve", "locker air valve"),
    ("radio", "radio"),
    ("two-way radio", "radio"),
    ("HF radio", "hf radio"),
    ("camera", "camera"),
    ("dashcam", "camera"),
    ("dash-cameras", "camera"),
    ("socket", "socket"),
    ("12 V socket", "socket"),
    ("usb", "usb socket"),
    ("USB-C outlet", "usb-c socket"),
    ("inverter", "inverter"),
    ("heater", "combustion heater"),
    ("diesel heater", "combustion heater"),
    ("PTC heater", "electric heater"),
    ("water pump", "water pump"),
    ("bilge pump", "bilge pump"),
    ("fan", "fan"),
    ("horn", "horn"),
    ("siren", "siren"),
    ("DC-DC charger", "dc-dc charger"),
    ("dcdc charger", "dc-dc charger"),
    ("charging ports", "charging port"),
    ("suction unit", "suction unit"),
    ("ventilator", "ventilator"),
    ("defibrillator", "patient monitor"),
    ("tracker", "tracker"),
    ("tyre inflator", "tyre inflator"),
    ("liftgate", "tail lift"),
]


@pytest.mark.parametrize(("words", "kind"), WORDINGS)
def test_kinds_are_found_by_any_wording(words: str, kind: str | None) -> None:
    found = kinds.find(words)
    assert (found.kind if found else None) == kind


def test_nearest_helps_the_misspelt() -> None:
    assert kinds.nearest("fridgee")[0] == "fridge"
    assert kinds.nearest("dual motor air compressor")[0] in ("compressor", "twin-motor compressor")
    assert "led lamp" in kinds.nearest("lamp")
    assert kinds.nearest("qqqq") == []
    assert kinds.find("") is None


def test_there_are_enough_kinds_and_each_is_found_by_its_own_words() -> None:
    assert len(kinds.all()) >= 70
    for kind in kinds.all():
        assert kinds.find(kind.kind) == kind
        assert kind.kind == kind.kind.lower()


def test_no_two_kinds_share_a_wording() -> None:
    owners: dict[tuple[str, ...], str] = {}
    for kind in kinds.all():
        for words in (kind.kind, *kind.aliases):
            key = tuple(sorted(words.lower().replace("-", " ").split()))
            assert owners.setdefault(key, kind.kind) == kind.kind, words
            found = kinds.find(words)
            assert found is not None
            assert found.kind == kind.kind, words


@pytest.mark.parametrize("kind", kinds.all(), ids=lambda kind: kind.kind)
def test_rows_make_sense(kind: kinds.Kind) -> None:
    assert 0 <= kind.low_a <= kind.typical_a <= kind.high_a
    assert kind.high_a > 0
    assert kind.inrush_multiple >= kind.inrush_low_multiple >= 1
    assert 0 < kind.duty <= 1
    assert (kind.on_s is None) == (kind.off_s is None)
    assert kind.letter in set("EPGMQTBKX")
    assert kind.stalls == (kind.load in ("motor", "torque motor", "fan motor"))
    assert kind.min_v is None or 9 <= kind.min_v < 12
    if kind.scaling == "power":
        assert kind.load == "constant power"
        assert kind.current_at(10.0, 24.0) == 5.0
    else:
        assert kind.current_at(10.0, 24.0) == 10.0
    if kind.contact_class == "contactor":
        assert kind.own_contactor
        assert kind.protection == "short-circuit"
    if kind.protection == "short-circuit":
        assert kind.on_s is not None, "short-circuit protection only goes with a stated duty"
    if kind.load == "filament":
        assert kind.contact_class == "lamp"
    if kind.run_on:
        assert kind.always_live


def test_medical_and_vital_kinds_are_critical() -> None:
    """ISO 10133 4.7/4.8 note (read) and ABYC E-11 (second-hand) name pumps, blowers, navigation."""
    for words in ("bilge pump", "bilge blower", "navigation lamp", "radio"):
        found = kinds.find(words)
        assert found is not None
        assert found.drop_class == "critical"
    for kind in kinds.all():
        if kind.family == "medical":
            assert kind.drop_class == "critical"
            assert not kind.chassis_return_ok


@pytest.mark.parametrize(
    ("words", "low", "typical", "high"),
    # Trade figures; horn pair, wiper and heated screen from an amperage guide of the trade (read).
    [("winch", 60, 250, 480), ("twin-motor compressor", 45, 55, 70), ("fridge", 2.5, 4, 6.5),
     ("horn", 6, 10, 20), ("wiper", 3, 5, 10), ("heated screen", 10, 18, 25),
     ("tail lift", 70, 150, 300), ("combustion heater", 0.7, 1.5, 12)],
)  # fmt: skip
def test_draws(words: str, low: float, typical: float, high: float) -> None:
    found = kinds.find(words)
    assert found is not None
    assert (found.low_a, found.typical_a, found.high_a) == (low, typical, high)


def test_least_volts() -> None:
    hf, mobile, inverter = (kinds.find(w) for w in ("hf radio", "radio", "inverter"))
    assert hf is not None
    assert mobile is not None
    assert inverter is not None
    assert hf.min_v == pytest.approx(13.8 * 0.85, abs=0.05)  # 13.8 V less 15 %
    assert mobile.min_v is None
    assert mobile.min_v_at(24.0) is None
    assert inverter.min_v_at(24.0) == pytest.approx(21.4)


def test_cautions_have_three_parts_and_a_legal_signal_word() -> None:
    words = [row.word for row in colours.signal_words()]
    assert words == ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    topics = {row.topic for row in cautions.general()}
    assert {"battery", "fuse", "vehicle", "wiring", "winch", "law", "scope"} <= topics
    for row in cautions.general():
        assert row.signal_word in words
        assert row.hazard
        assert row.consequence
        assert row.avoidance
    text = " ".join(row.hazard + row.avoidance for row in cautions.general()).lower()
    for needed in ("airbag", "local codes", "licensed", "isolate", "larger"):
        assert needed in text


def test_notice_never_carries_the_alert_symbol() -> None:
    """ANSI Z535.4-2007 4.14 (second-hand): NOTICE is not about injury."""
    assert [row.alert_symbol for row in colours.signal_words()] == [True, True, True, False]


def test_twenty_mishaps_are_each_said_by_a_rule() -> None:
    rules = {rule.id for rule in all_rules()}
    found = cautions.mishaps()
    assert [row.id for row in found] == [f"G{n:02d}" for n in range(1, 21)]
    for row in found:
        assert row.said_by
        assert set(row.said_by) <= rules


def test_rules_of_thumb_that_are_not_used_say_why() -> None:
    found = cautions.rules_of_thumb()
    assert {row.used for row in found} == {True, False}
    assert all(bool(row.why) != row.used for row in found)
    bundles = next(row for row in found if "bundles" in row.text)
    assert not bundles.used


def test_colours_and_letters() -> None:
    codes = [row.code for row in colours.wire_colours() if row.for_wires]
    # IEC 60446 3.1 (second-hand).
    assert codes == ["BK", "BN", "RD", "OG", "YE", "GN", "BU", "VT", "GY", "WH", "PK", "TQ"]
    for scheme in ("road vehicle", "small craft"):
        for use in colours.uses(scheme):
            assert use.base in codes
            assert use.tracer is None or use.tracer in codes
            assert use.tracer != use.base
        texts = [use.text for use in colours.uses(scheme)]
        for role in ("battery", "return", "switched", "ignition", "control", "signal"):
            assert colours.for_role(scheme, role) is not None
        assert texts.count(colours.uses(scheme)[1].text) == 1, "only the return wears its colour"
    # DIN 72551 (second-hand): brown is the return, red the battery.
    returned = colours.for_role("road vehicle", "return")
    assert returned is not None
    assert returned.text == "BN"
    brown = colours.wire_colour("brown")
    assert brown is not None
    assert brown.code == "BN"
    assert colours.wire_colour("bn") == brown
    assert colours.wire_colour("mauve") is None
    # DIN 72552 (read) and IEC 81346-2 (memory, relay and fuse second-hand).
    assert cautions.terminal("30") == "from battery positive direct"
    assert cautions.terminal("999") is None
    for name, letter in [("fuse", "F"), ("load relay", "Q"), ("control relay", "K"),
                         ("switch", "S"), ("lamp", "E"), ("motor", "M"), ("battery", "G"),
                         ("beacon", "P"), ("splice", "X"), ("wire", "W")]:  # fmt: skip
        assert cautions.reference_letter(name) == letter
    assert cautions.reference_letter("teapot") is None


def test_text_tables_name_no_path() -> None:
    for name in store.names():
        for row in store.rows(name):
            for cell in row.values():
                assert not cell.startswith(("/", "."))
                assert ".csv" not in cell
