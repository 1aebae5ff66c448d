"""The interval rule: ISO 14253-1 with the interval of the reading for the uncertainty."""

from __future__ import annotations

import pytest

PRESSURE = "cylinder.compression"

# value, unit, said about, limit, verdict
CASES = [
    ("2.5", False, {"low": 2.4}, "in_spec"),
    ("2.4", False, {"low": 2.4}, "too_close"),
    ("2.3", False, {"low": 2.4}, "out_of_spec"),
    ("2.40", False, {"low": 2.4}, "too_close"),
    ("2.45", False, {"low": 2.4}, "in_spec"),
    ("2.5", False, {"high": 2.6}, "in_spec"),
    ("2.6", False, {"high": 2.6}, "too_close"),
    ("2.7", False, {"high": 2.6}, "out_of_spec"),
    ("2.5", False, {"low": 2.4, "high": 2.6}, "in_spec"),
    ("2.5", False, {"low": 2.5, "high": 2.5}, "too_close"),
    ("2.5", True, {"low": 2.4}, "in_spec"),
    ("2.5", True, {"low": 2.44}, "too_close"),
    ("2.5", False, {"low": 2.44}, "in_spec"),
    ("3", True, {"low": 3.0, "high": 5.0}, "too_close"),
    ("2.0-2.9", False, {"low": 2.0, "high": 3.0}, "in_spec"),
    ("2.0-3.1", False, {"low": 2.0, "high": 3.0}, "too_close"),
    ("1.0-4.0", False, {"low": 2.0, "high": 3.0}, "too_close"),
    ("3.1-4.0", False, {"low": 2.0, "high": 3.0}, "out_of_spec"),
]


@pytest.mark.parametrize(("text", "about", "ends", "verdict"), CASES)
def test_interval_against_sheet(text, about, ends, verdict, reading, word, sheet):
    band = ", ".join(f"{key}: {value}" for key, value in ends.items())
    vehicle = sheet(f"fuel-rail.static-pressure: {{{band}, unit: bar, source: invented}}")
    assert word(reading(text, "bar", "fuel-rail.static-pressure", about=about), sheet=vehicle) == verdict


ONE_SIDED = [
    ("<", "40", "mV", "ground-strap.voltage-drop", "in_spec"),
    ("<", "250", "mV", "ground-strap.voltage-drop", "too_close"),
    (">", "120", "mV", "ground-strap.voltage-drop", "out_of_spec"),
    (">", "40", "mV", "ground-strap.voltage-drop", "too_close"),
    (">=", "10", "V", "battery.cranking-voltage", "in_spec"),
    ("<", "9", "V", "battery.cranking-voltage", "out_of_spec"),
    ("<=", "0.05", "mm", "brake-disc.runout", "in_spec"),
]


@pytest.mark.parametrize(("sign", "text", "unit", "test", "verdict"), ONE_SIDED)
def test_reading_said_as_one_side(sign, text, unit, test, verdict, reading, word):
    """ "Under forty" reaches down to what the test can show at all, not to minus infinity."""
    assert word(reading(text, unit, test, sign=sign)) == verdict


def test_units_are_converted(reading, word, sheet):
    vehicle = sheet("valve-train.clearance: {low: 0.10, high: 0.15, unit: mm, source: invented}")
    answers = {
        thou: word(reading(thou, "[mil_i]", "valve-train.clearance"), sheet=vehicle) for thou in ("2", "4", "5", "8")
    }
    assert answers == {"2": "out_of_spec", "4": "too_close", "5": "in_spec", "8": "out_of_spec"}


REASONS = [
    ("2.3", "2.3 bar (2.25 to 2.35) against 2.8 to 3.2 bar: 0.45 bar too low (vehicle sheet: invented)"),
    ("3.0", "3 bar (2.95 to 3.05) against 2.8 to 3.2 bar: 0.15 bar to spare (vehicle sheet: invented)"),
    ("3.4", "3.4 bar (3.35 to 3.45) against 2.8 to 3.2 bar: 0.15 bar too high (vehicle sheet: invented)"),
    (
        "3.2",
        (
            "3.2 bar (3.15 to 3.25) against 2.8 to 3.2 bar: "
            "the limit 3.2 bar lies in what the number leaves open (vehicle sheet: invented)"
        ),
    ),
]


@pytest.mark.parametrize(("text", "reason"), REASONS)
def test_reason_holds_limit_source_and_arithmetic(text, reason, reading, judged, sheet):
    vehicle = sheet("fuel-rail.static-pressure: {low: 2.8, high: 3.2, unit: bar, source: invented}")
    verdict = judged(reading(text, "bar", "fuel-rail.static-pressure"), sheet=vehicle)[0].verdict
    assert verdict.reason == reason
    assert "\n" not in verdict.reason


NO_VERDICT = [
    ("5", None, "brake-pad.thickness", "no unit"),
    ("5", "furlongs", "brake-pad.thickness", "no unit"),
    ("5", "V", "brake-pad.thickness", "does not measure"),
    ("5", "V", None, "no limit"),
    ("0.2", "mm", "valve-train.clearance", "depends on the vehicle"),
    ("90", "deg", "contact-breaker.dwell", "say which it is"),
]


@pytest.mark.parametrize(("text", "unit", "test", "why"), NO_VERDICT)
def test_unknown_is_a_value(text, unit, test, why, reading, judged):
    verdict = judged(reading(text, unit, test))[0].verdict
    assert verdict.word == "no_spec"
    assert why in verdict.reason


def test_soft_limits_say_so(reading, judged):
    soft = judged(reading("3.0", "bar", "fuel-rail.static-pressure"))[0]
    firm = judged(reading("14.2", "V", "alternator.charging-voltage"))[0]
    assert "it varies with the design" in soft.verdict.reason
    assert "varies" not in firm.verdict.reason
    assert soft.expected.origin == firm.expected.origin == "catalogue"


def test_catalogue_can_be_left_out(reading, word):
    assert word(reading("14.2", "V", "alternator.charging-voltage"), use_catalogue=False) == "no_spec"


def test_judging_twice_is_judging_once(reading, drafted, catalogue):
    from cleansheet.judge import judge

    items = (
        reading("7.8", "Ohm", "ignition-coil.secondary-resistance", 0, flags=("unit_assumed",)),
        reading("45", "[in_i'Hg]", "intake-manifold.vacuum", 5),
        reading("14.2", "V", "alternator.charging-voltage", 9),
    )
    once = drafted(*items)
    assert judge(once.items, once.note, catalogue) == once
    assert once.items[0].flags == ("unit_assumed", "unit_slip")
