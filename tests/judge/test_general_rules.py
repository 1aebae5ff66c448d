"""The catalogue's rules: designs that must be named, conditions that must be said, designs that cannot be told apart."""

from __future__ import annotations

import pytest

# words of the note, test, number, unit, condition, verdict
CASES = [
    ("", "battery.open-circuit-voltage", "12.6", "V", {}, "in_spec"),
    ("24 V lorry", "battery.open-circuit-voltage", "25.2", "V", {}, "in_spec"),
    ("twenty-four volt lorry", "battery.open-circuit-voltage", "12.6", "V", {}, "out_of_spec"),
    ("", "battery.open-circuit-voltage", "25.2", "V", {}, "out_of_spec"),
    ("it read 24 V5", "battery.open-circuit-voltage", "25.2", "V", {}, "out_of_spec"),
    ("the diesel", "cylinder.compression", "400", "[psi]", {}, "in_spec"),
    ("a dieselling engine", "cylinder.compression", "400", "[psi]", {}, "out_of_spec"),
    ("", "fuel-rail.static-pressure", "0.9", "bar", {}, "no_spec"),
    ("", "fuel-rail.static-pressure", "2.1", "bar", {}, "out_of_spec"),
    ("", "ground-strap.voltage-drop", "150", "mV", {}, "out_of_spec"),
    ("", "ground-strap.voltage-drop", "150", "mV", {"engine": "cranking"}, "in_spec"),
    ("", "idle-valve.resistance", "11", "Ohm", {}, "no_spec"),
    ("", "idle-valve.resistance", "3", "Ohm", {}, "out_of_spec"),
    ("", "exhaust.carbon-monoxide", "0.02", "%", {}, "in_spec"),
    ("", "exhaust.carbon-monoxide", "0.4", "%", {}, "no_spec"),
    ("", "exhaust.carbon-monoxide", "6", "%", {}, "out_of_spec"),
    ("", "exhaust.carbon-monoxide", "0.25", "%", {"speed_rpm": 2500.0}, "no_spec"),
    ("", "exhaust.carbon-monoxide", "0.45", "%", {"speed_rpm": 2500.0}, "out_of_spec"),
    ("", "exhaust.lambda", "1.00", "1", {"speed_rpm": 2500.0}, "in_spec"),
    ("", "exhaust.lambda", "1.00", "1", {"engine": "idle"}, "no_spec"),
    ("", "alternator.charging-voltage", "14.2", "V", {"speed_rpm": 3000.0}, "in_spec"),
    ("", "alternator.charging-voltage", "14.2", "V", {"engine": "off"}, "no_spec"),
    ("", "oxygen-sensor.voltage", "0.45", "V", {}, "no_spec"),
    ("", "oxygen-sensor.voltage", "1.2", "V", {}, "out_of_spec"),
    ("", "injector.flow", "188", "mL/min", {}, "no_spec"),
    ("", "exhaust.back-pressure", "1.0", "[psi]", {}, "in_spec"),
    ("", "exhaust.back-pressure", "2.0", "[psi]", {"speed_rpm": 2500.0}, "in_spec"),
    ("", "exhaust.back-pressure", "2.0", "[psi]", {}, "out_of_spec"),
    ("", "fuse.continuity", "0.2", "Ohm", {}, "in_spec"),
    ("", "fuse.continuity", "20", "kOhm", {}, "out_of_spec"),
]


@pytest.mark.parametrize(("words", "test", "text", "unit", "condition", "verdict"), CASES)
def test_rule(words, test, text, unit, condition, verdict, reading, word):
    assert word(reading(text, unit, test, at=60, condition=condition), words=words) == verdict


def test_a_design_may_be_named_by_the_vehicle(reading, word, sheet):
    number = reading("400", "[psi]", "cylinder.compression")
    assert (
        word(number, sheet=sheet("tyre.pressure: {low: 3, unit: bar, source: invented}", engine="2.2 litre diesel"))
        == "in_spec"
    )
    assert word(number, sheet=sheet("tyre.pressure: {low: 3, unit: bar, source: invented}")) == "out_of_spec"


def test_too_close_to_the_deciding_limit(reading, judged):
    verdict = judged(reading("12.4", "V", "battery.open-circuit-voltage"))[0].verdict
    assert verdict.word == "too_close"
    assert "12.4 V lies in what the number leaves open" in verdict.reason


# after minutes, pressure, from, verdict. Common practice, no source: 0.35 bar (5 psi) in 5 min.
FALLS = [
    (5, "2.8", "3.0", "in_spec"),
    (5, "2.2", "3.0", "out_of_spec"),
    (2, "2.2", "3.0", "out_of_spec"),  # already too far
    (2, "2.9", "3.0", "no_spec"),  # too early to be sure, and the typical limit is for ten minutes
    (10, "2.9", "3.0", "in_spec"),  # held longer than asked
    (10, "2.2", "3.0", "in_spec"),  # by the typical limit: the rule says nothing of a fall in ten minutes
    (10, "1.2", "3.0", "out_of_spec"),
    (20, "1.1", "3.0", "in_spec"),  # rule of thumb: after 20 minutes at least 1 bar
    (20, "0.9", "3.0", "out_of_spec"),
]


@pytest.mark.parametrize(("minutes", "text", "start", "verdict"), FALLS)
def test_pressure_that_falls(minutes, text, start, verdict, reading, judged):
    begun = reading(start, "bar", "fuel-rail.static-pressure", 0)
    held = reading(text, "bar", "fuel-rail.hold-pressure", 9, condition={"elapsed_min": float(minutes)})
    assert judged(begun, held)[1].verdict.word == verdict


def test_the_fall_counts_from_the_reading_before(reading, judged):
    held = reading("2.8", "bar", "fuel-rail.hold-pressure", 0, condition={"elapsed_min": 5.0})
    later = reading("3.0", "bar", "fuel-rail.static-pressure", 9)
    assert judged(held, later)[0].verdict.word == "no_spec"
