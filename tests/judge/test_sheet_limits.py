"""Vehicle sheets: several limits of one test, one-sided ones, tables over a temperature."""

from __future__ import annotations

from math import exp, log

import pytest

from cleansheet.judge.derived import ntc_beta, ntc_resistance

TWO = "distributor.timing: [{low: 8, high: 12, unit: deg, when: {engine: idle}, source: invented}, {low: 36, high: 40, unit: deg, when: {speed_rpm: 4000}, source: invented}]"
TWO_CASES = [
    ("10", {"engine": "idle"}, "in_spec"),
    ("38", {"engine": "idle"}, "out_of_spec"),
    ("38", {"speed_rpm": 4000.0}, "in_spec"),
    ("10", {"speed_rpm": 4000.0}, "out_of_spec"),
    ("20", {"speed_rpm": 2000.0}, "no_spec"),
    ("20", {"engine": "off"}, "no_spec"),
]


@pytest.mark.parametrize(("text", "condition", "verdict"), TWO_CASES)
def test_the_limit_whose_condition_is_said(text, condition, verdict, reading, word, sheet):
    assert word(reading(text, "deg", "distributor.timing", condition=condition), sheet=sheet(TWO)) == verdict


def test_two_limits_that_both_could_hold_are_no_verdict(reading, judged, sheet):
    vehicle = sheet(
        "tyre.pressure: [{low: 2.0, high: 2.2, unit: bar, name: empty, source: invented}, {low: 2.6, high: 2.8, unit: bar, name: laden, source: invented}]"
    )
    verdict = judged(reading("2.1", "bar", "tyre.pressure"), sheet=vehicle)[0].verdict
    assert verdict.word == "no_spec"
    assert "empty or laden" in verdict.reason


def test_a_sheet_that_does_not_hold_is_not_replaced_by_the_catalogue(reading, judged, sheet):
    vehicle = sheet(
        "coolant-temp-sensor.resistance: {low: 2200, high: 2800, unit: Ohm, when: {temperature_c: 20}, source: invented}"
    )
    found = judged(
        reading("320", "Ohm", "coolant-temp-sensor.resistance", condition={"temperature_c": 80.0}), sheet=vehicle
    )[0]
    assert (found.verdict.word, found.expected) == ("no_spec", None)
    assert "80 °C, the limit is for 20 °C" in found.verdict.reason


def test_running_pressure_with_the_vacuum_line_off_is_another_condition(reading, word, sheet):
    vehicle = sheet(
        "fuel-rail.running-pressure: {low: 2.3, high: 2.7, unit: bar, when: {engine: idle}, source: invented}"
    )
    number = {"condition": {"engine": "idle", "vacuum_line": "off"}}
    assert word(reading("3.0", "bar", "fuel-rail.running-pressure", **number), sheet=vehicle) == "no_spec"


TABLE = (
    "coolant-temp-sensor.resistance: {unit: Ohm, over: temperature_c, between: %s, source: invented, points: "
    "[{at: 0, low: 5000, high: 7000}, {at: 20, low: 2200, high: 2800}, {at: 80, low: 290, high: 360}]}"
)
TABLE_CASES = [
    ("2.5", 20, "in_spec"),
    ("320", 80, "in_spec"),
    ("1.1", 40, "in_spec"),
    ("1.6", 40, "out_of_spec"),
    ("6.0", 0, "in_spec"),
    ("2.5", 90, "no_spec"),
    ("9.0", -5, "no_spec"),
]


@pytest.mark.parametrize(("text", "degrees", "verdict"), TABLE_CASES)
def test_table_of_a_sensor(text, degrees, verdict, reading, word, sheet):
    unit = "Ohm" if text == "320" else "kOhm"
    number = reading(text, unit, "coolant-temp-sensor.resistance", condition={"temperature_c": float(degrees)})
    assert word(number, sheet=sheet(TABLE % "log")) == verdict


def test_table_needs_its_temperature(reading, judged, sheet):
    verdict = judged(reading("2.5", "kOhm", "coolant-temp-sensor.resistance"), sheet=sheet(TABLE % "log"))[0].verdict
    assert verdict.word == "no_spec"
    assert "temperature is not said" in verdict.reason


def test_log_table_follows_the_beta_equation(reading, judged, sheet):
    """Between two points ln R runs straight over 1/T (T in kelvin): the beta equation, textbook physics."""
    number = reading("820", "Ohm", "coolant-temp-sensor.resistance", condition={"temperature_c": 50.0})
    limit = judged(number, sheet=sheet(TABLE % "log"))[0].expected
    for end, cold, hot in ((limit.low, 2200, 290), (limit.high, 2800, 360)):
        assert end == pytest.approx(ntc_resistance(cold, 20, ntc_beta(cold, 20, hot, 80), 50), rel=1e-12)
    assert limit.low == pytest.approx(
        exp(log(2200) + (1 / 323.15 - 1 / 293.15) / (1 / 353.15 - 1 / 293.15) * log(290 / 2200))
    )


def test_linear_table(reading, judged, sheet):
    number = reading("1000", "Ohm", "coolant-temp-sensor.resistance", condition={"temperature_c": 50.0})
    limit = judged(number, sheet=sheet(TABLE % "linear"))[0].expected
    assert (limit.low, limit.high) == (1245.0, 1580.0)


def test_a_spread_alone_leaves_the_single_reading_to_the_catalogue(reading, judged, sheet):
    vehicle = sheet("cylinder.compression: {unit: bar, max_spread_percent: 10, source: invented}")
    found = judged(reading("150", "[psi]", "cylinder.compression"), sheet=vehicle)[0]
    assert (found.verdict.word, found.expected.origin) == ("in_spec", "catalogue")
