"""Limits that the note states: whose they are, which side they are on, and what a bare figure means."""

from __future__ import annotations

import pytest

from cleansheet.judge import judge
from cleansheet.terms import Item, Note, Quantity


def test_said_before_and_after(reading, expected, judged):
    """ "two hundred and eighty milliamps. We want less than fifty ... it drops to eighteen"."""
    test = "battery.parasitic-draw"
    items = reading("280", "mA", test, 0), expected("50", "mA", test, 10, sign="<"), reading("18", "mA", test, 20)
    assert [one.verdict.word for one in judged(*items)] == ["out_of_spec", "in_spec"]


def test_note_goes_before_sheet_and_catalogue(reading, expected, judged, sheet):
    vehicle = sheet("fuel-rail.static-pressure: {low: 2.8, high: 3.2, unit: bar, source: invented}")
    said = expected("3.4-3.8", "bar", "fuel-rail.static-pressure")
    found = judged(reading("3.0", "bar", "fuel-rail.static-pressure"), said, sheet=vehicle)[0]
    assert (found.verdict.word, found.flags, found.expected.origin) == ("out_of_spec", ("spec_conflict",), "note")
    assert "the vehicle sheet has 2.8 to 3.2 bar" in found.verdict.reason


CONFLICTS = [
    ("2.8-3.2", "=", False),  # the same
    ("2.9-3.1", "=", False),  # within
    ("2.9", ">=", False),  # stricter on one side
    ("2.8", ">=", False),
    ("3.2", "<=", False),
    ("2.5", ">=", True),  # looser
    ("3.4", ">=", True),
    ("2.7-3.1", "=", True),
    ("3.0", "=", False),  # a nominal figure within
    ("3.5", "=", True),
]


@pytest.mark.parametrize(("text", "sign", "conflict"), CONFLICTS)
def test_conflict_is_about_limits_not_verdicts(text, sign, conflict, reading, expected, judged, sheet):
    vehicle = sheet("fuel-rail.static-pressure: {low: 2.8, high: 3.2, unit: bar, source: invented}")
    said = expected(text, "bar", "fuel-rail.static-pressure", sign=sign)
    found = judged(reading("3.0", "bar", "fuel-rail.static-pressure"), said, sheet=vehicle)[0]
    assert ("spec_conflict" in found.flags) is conflict


@pytest.mark.parametrize(("text", "conflict"), [("40-46", False), ("41-46", False), ("36-42", True), ("49-55", True)])
def test_a_limit_said_in_another_unit_may_be_rounded(text, conflict, reading, expected, judged, sheet):
    """2.8 to 3.2 bar are 40.6 to 46.4 psi; whoever says "forty to forty six" means the same."""
    vehicle = sheet("fuel-rail.static-pressure: {low: 2.8, high: 3.2, unit: bar, source: invented}")
    said = expected(text, "[psi]", "fuel-rail.static-pressure")
    found = judged(reading("3.0", "bar", "fuel-rail.static-pressure"), said, sheet=vehicle)[0]
    assert ("spec_conflict" in found.flags) is conflict


def test_no_conflict_with_a_sheet_limit_under_other_conditions(reading, expected, judged, sheet):
    vehicle = sheet("fuel-rail.hold-pressure: {low: 1.8, unit: bar, when: {elapsed_min: 10}, source: invented}")
    said = expected("1.0", "bar", "fuel-rail.hold-pressure", sign=">=")
    found = judged(
        reading("1.4", "bar", "fuel-rail.hold-pressure", condition={"elapsed_min": 20.0}), said, sheet=vehicle
    )[0]
    assert (found.verdict.word, found.flags) == ("in_spec", ())


# A limit said as one bare figure is understood by what the test is. test, limit, unit, good reading, bad reading
BARE = [
    ("exhaust.carbon-monoxide", "0.5", "%", "0.2", "1.8"),
    ("battery.parasitic-draw", "50", "mA", "20", "280"),
    ("brake-disc.thickness", "0.905", "[in_i]", "0.921", "0.884"),
    ("wheel-bearing.end-play", "0.1", "mm", "0.04", "0.3"),
    ("brake-fluid.boiling-point", "180", "Cel", "210", "168"),
    ("tyre.tread-depth", "1.6", "mm", "6.1", "1.0"),
    ("cooling-system.freeze-point", "-25", "Cel", "-37", "-18"),
    ("wheel-nut.torque", "190", "N.m", "188", "160"),
    ("distributor.timing", "10", "deg", "10", "4"),
    ("radiator-cap.release-pressure", "1.1", "bar", "1.15", "0.7"),
    ("spark-plug.gap", "0.80", "mm", "0.80", "0.65"),
    ("coolant-temp-sensor.resistance", "300", "Ohm", "305", "40000"),
    ("thermostat.opening-temperature", "88", "Cel", "86", "96"),
    ("fuel-pump.supply-voltage", "12", "V", "12.1", "4.1"),
]


@pytest.mark.parametrize(("test", "limit", "unit", "good", "bad"), BARE)
def test_a_bare_figure(test, limit, unit, good, bad, reading, expected, word):
    said = expected(limit, unit, test)
    assert word(reading(good, unit, test), said) == "in_spec"
    assert word(reading(bad, unit, test), said) == "out_of_spec"


def test_a_nominal_figure_said_as_roughly_as_the_reading(reading, expected, word):
    said = expected("0.40", "mm", "contact-breaker.gap")
    assert word(reading("0.4", "mm", "contact-breaker.gap"), said) == "in_spec"
    assert word(reading("0.43", "mm", "contact-breaker.gap"), said) == "out_of_spec"


def test_limit_of_another_position_is_not_used(reading, expected, judged):
    test = "valve-train.clearance"
    items = (
        reading("0.20", "mm", test, 0, position="intake"),
        reading("0.20", "mm", test, 5, position="exhaust"),
        expected("0.15-0.25", "mm", test, 10, position="intake"),
        expected("0.25-0.35", "mm", test, 15, position="exhaust"),
    )
    assert [one.verdict.word for one in judged(*items)] == ["in_spec", "out_of_spec"]


def test_limit_of_another_condition_is_not_used(reading, expected, judged):
    """ "TPS closed 0.71 V, spec 0.45-0.55; full open 4.4 V"."""
    test = "throttle-position-sensor.voltage"
    items = (
        reading("0.71", "V", test, 0, condition={"throttle": "closed"}),
        expected("0.45-0.55", "V", test, 10, condition={"throttle": "closed"}),
        reading("4.4", "V", test, 20, condition={"throttle": "open"}),
    )
    assert [(one.verdict.word, one.expected.origin) for one in judged(*items)] == [
        ("out_of_spec", "note"),
        ("in_spec", "catalogue"),
    ]


def test_the_nearest_of_several(reading, expected, judged):
    words = "Idle 4 degrees, should be 10. At 4000 33 degrees, should be 38."
    test = "distributor.timing"
    items = (
        reading("4", "deg", test, words.index("4 deg")),
        expected("10", "deg", test, words.index("10.")),
        reading("33", "deg", test, words.index("33")),
        expected("38", "deg", test, words.index("38")),
    )
    assert [one.expected.low for one in judged(*items, words=words)] == [9.0, 37.0]


def test_two_sides_make_a_band(reading, expected, judged):
    test = "clutch.free-play"
    sides = expected("15", "mm", test, 20, sign=">="), expected("20", "mm", test, 30, sign="<=")
    answers = [judged(reading(text, "mm", test), *sides)[0] for text in ("18", "12", "30")]
    assert [one.verdict.word for one in answers] == ["in_spec", "out_of_spec", "out_of_spec"]
    assert (answers[0].expected.low, answers[0].expected.high) == (15, 20)


SHARED = "volt drops: battery to block 45 mV, relay contacts 0.35 volts, anything over 0.2 is too much. Pads 3 mm."


def test_one_limit_for_all(reading, expected, judged):
    at = SHARED.index
    items = (
        reading("45", "mV", "ground-strap.voltage-drop", at("45")),
        reading("0.35", "V", "main-relay.voltage-drop", at("0.35")),
        expected("0.2", "V", None, at("0.2 is"), sign="<="),
        reading("3", "mm", "brake-pad.thickness", at("3 mm")),
    )
    found = judged(*items, words=SHARED)
    assert [one.verdict.word for one in found] == ["in_spec", "out_of_spec", "in_spec"]
    assert [one.expected.origin for one in found] == ["note", "note", "catalogue"]


def test_a_loose_limit_is_not_for_every_reading(reading, expected, judged):
    words = "Drive chain slack 42 mm, should be 25 to 35. Pads 3 mm."
    items = (
        reading("42", "mm", None, words.index("42")),
        expected("25-35", "mm", None, words.index("25")),
        reading("3", "mm", "brake-pad.thickness", words.index("3 mm")),
    )
    found = judged(*items, words=words)
    assert [one.verdict.word for one in found] == ["out_of_spec", "in_spec"]
    assert found[1].expected.origin == "catalogue"


def test_the_same_list_shares_its_limit(reading, expected, word):
    first = reading("42", "V", None, 0, group=3)
    assert word(first, expected("40", "V", None, 300, sign="<=", group=3)) == "out_of_spec"
    assert word(first, expected("40", "V", None, 300, sign="<=", group=4), words=". ".ljust(301, ".")) == "no_spec"


def test_limit_of_another_kind_is_no_limit(reading, expected, judged):
    found = judged(
        reading("12.6", "V", "battery.open-circuit-voltage"), expected("50", "mA", "battery.open-circuit-voltage")
    )
    assert found[0].expected.origin == "catalogue"


AXLES = [
    ("Minimum 20.4 front and 8.0 rear.", "rear-left", 9.4, "in_spec"),
    ("Minimum 20.4 front and 8.0 rear.", "front-left", 9.4, "out_of_spec"),
    ("Minimum 8.0 rear, 20.4 front.", "rear-right", 7.8, "out_of_spec"),
    ("Minimum 20.4. Rear left is fine.", "rear-left", 9.4, "out_of_spec"),  # the axle is not the limit's
]


@pytest.mark.parametrize(("text", "place", "value", "verdict"), AXLES)
def test_a_limit_said_for_one_axle_holds_for_no_other(text, place, value, verdict, catalogue):
    """ "Discs minimum 20.4 front and 8.0 rear": two limits of one test, each with its axle behind it."""
    test = "brake-disc.thickness"
    read = Item("reading", 0, 3, Quantity(value, value - 0.05, value + 0.05, "mm"), None, "brake-disc", test, place)
    note = f"{value} {text}"
    limits = []
    for figure in ("20.4", "8.0"):
        at = note.find(figure, 3)
        if at > 0:
            low = float(figure)
            limits.append(
                Item("expected", at, at + len(figure), Quantity(None, low, None, "mm", ">="), None, "brake-disc", test)
            )
    found = judge((read, *limits), Note(note), catalogue).items[0]
    assert found.verdict.word == verdict


def test_a_bare_figure_far_from_all_that_a_test_can_show_is_no_limit(catalogue):
    """ "Float 24 mm ... the jets are stamped one eighty": 180 is no float height."""
    test = "carburettor.float-height"
    read = Item("reading", 0, 2, Quantity(24, 23.5, 24.5, "mm"), None, "carburettor", test)
    stamp = Item(
        "expected", 5, 8, Quantity(1800, 1799.5, 1800.5, "mm"), None, "carburettor", test, flags=("unit_assumed",)
    )
    found = judge((read, stamp), Note("24 / 1800"), catalogue).items[0]
    assert found.expected is None or found.expected.origin != "note"


@pytest.mark.parametrize(("finding", "verdict"), [("open_circuit", "out_of_spec"), ("ok", "in_spec")])
def test_an_open_circuit_fails_a_limit_in_ohms(finding, verdict, catalogue):
    test = "thermo-time-switch.resistance"
    seen = Item("reading", 0, 4, None, finding, "thermo-time-switch", test)
    limit = Item("expected", 5, 10, Quantity(None, 25, 40, "Ohm"), None, "thermo-time-switch", test)
    found = judge((seen, limit), Note("seen 25-40"), catalogue).items[0]
    assert found.verdict.word == verdict
