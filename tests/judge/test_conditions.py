"""A limit holds under its conditions: said and contradicted is no verdict, not said is taken for granted and told."""

from __future__ import annotations

import pytest

from cleansheet.judge.conditions import contradicts, fit

# wanted, said, holds
FITS = [
    ({"engine": "running"}, {"engine": "idle"}, True),
    ({"engine": "running"}, {"engine": "off"}, False),
    ({"engine": "running"}, {"speed_rpm": 3000}, True),
    ({"engine": "idle"}, {"engine": "running"}, True),
    ({"engine": "idle"}, {"engine": "running", "speed_rpm": 3000}, False),
    ({"engine": "idle"}, {"speed_rpm": 3000}, False),
    ({"engine": "idle"}, {"speed_rpm": 850}, True),
    ({"engine": "off"}, {"engine": "cranking"}, False),
    ({"engine": "off"}, {"speed_rpm": 850}, False),
    ({"engine": "cranking"}, {"engine": "cranking"}, True),
    ({"speed_rpm": 3000}, {"speed_rpm": 2900}, True),
    ({"speed_rpm": 3000}, {"speed_rpm": 2000}, False),
    ({"speed_rpm": 3000}, {"engine": "idle"}, False),
    ({"speed_rpm_from": 2000}, {"speed_rpm": 3500}, True),
    ({"speed_rpm_from": 2000}, {"speed_rpm": 900}, False),
    ({"speed_rpm_from": 2000}, {"engine": "off"}, False),
    ({"temperature_c": 20}, {"temperature_c": 22}, True),
    ({"temperature_c": 20}, {"temperature_c": 80}, False),
    ({"temperature_c": 20}, {"warm": "hot"}, False),
    ({"temperature_c": 80}, {"warm": "cold"}, False),
    ({"temperature_c": 20}, {"warm": "cold"}, True),
    ({"warm": "hot"}, {"warm": "cold"}, False),
    ({"warm": "hot"}, {"temperature_c": 85}, True),
    ({"warm": "hot"}, {"temperature_c": 20}, False),
    ({"elapsed_min": 10}, {"elapsed_min": 10}, True),
    ({"elapsed_min": 10}, {"elapsed_min": 5}, False),
    ({"vacuum_line": "on"}, {"vacuum_line": "off"}, False),
    ({"throttle": "closed"}, {"throttle": "open"}, False),
    ({"load": "on"}, {"load": "off"}, False),
    ({"load": "on", "engine": "running"}, {"load": "on"}, True),
    ({"engine": "idle", "warm": "hot"}, {}, True),
    ({}, {"engine": "off"}, True),
]


@pytest.mark.parametrize(("want", "said", "holds"), FITS)
def test_what_is_said_decides(want, said, holds):
    state = fit(want, said)
    assert state.holds is holds
    assert (state.clash is None) is holds


def test_granted_conditions_are_told(reading, judged, sheet):
    vehicle = sheet("engine.idle-speed: {low: 820, high: 900, unit: '{rev}/min', when: {warm: hot}, source: invented}")
    said = judged(reading("860", "{rev}/min", "engine.idle-speed", condition={"warm": "hot"}), sheet=vehicle)[0].verdict
    unsaid = judged(reading("860", "{rev}/min", "engine.idle-speed"), sheet=vehicle)[0].verdict
    cold = judged(reading("860", "{rev}/min", "engine.idle-speed", condition={"warm": "cold"}), sheet=vehicle)[
        0
    ].verdict
    assert (said.word, unsaid.word, cold.word) == ("in_spec", "in_spec", "no_spec")
    assert "hot not said, taken for granted" in unsaid.reason
    assert "granted" not in said.reason
    assert "cold, the limit is for hot" in cold.reason


MUST_SAY = [
    ("coolant-temp-sensor.resistance", "2500", "Ohm", {"temperature_c": 20.0}),
    ("oil-system.pressure", "4", "bar", {"speed_rpm": 3000.0}),
    ("oil-system.pressure", "2", "bar", {"engine": "idle"}),
    ("fuel-rail.hold-pressure", "2.0", "bar", {"elapsed_min": 10.0}),
    ("throttle-position-sensor.voltage", "0.7", "V", {"throttle": "closed"}),
    ("distributor.timing", "10", "deg", {"engine": "idle"}),
]


@pytest.mark.parametrize(("test", "text", "unit", "condition"), MUST_SAY)
def test_some_tests_are_worth_nothing_without(test, text, unit, condition, reading, word):
    assert word(reading(text, unit, test)) == "no_spec"
    assert word(reading(text, unit, test, condition=condition)) == "in_spec"


def test_a_condition_holds_on_while_the_test_is_repeated(reading, judged, sheet):
    """ "At four thousand, thirty three degrees, so I moved the plate and got it to thirty eight"."""
    vehicle = sheet("distributor.timing: {low: 36, high: 40, unit: deg, when: {speed_rpm: 4000}, source: invented}")
    first = reading("33", "deg", "distributor.timing", 0, condition={"speed_rpm": 4000.0})
    again = reading("38", "deg", "distributor.timing", 9)
    idle = reading("10", "deg", "distributor.timing", 19, condition={"engine": "idle"})
    assert [one.verdict.word for one in judged(first, again, idle, sheet=vehicle)] == [
        "out_of_spec",
        "in_spec",
        "no_spec",
    ]


def test_conditions_that_cannot_both_hold():
    assert contradicts({"throttle": "closed"}, {"throttle": "open"})
    assert not contradicts({"throttle": "closed"}, {"engine": "off"})
    assert not contradicts({}, {"engine": "off"})
