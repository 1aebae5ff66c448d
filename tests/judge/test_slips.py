"""Numbers that cannot be meant. Each slip has a neighbour that is merely bad, and must be judged."""

from __future__ import annotations

import pytest

# test, number, unit, flag, what the proposal holds
FLAGGED = [
    ("ignition-coil.secondary-resistance", "7.8", "Ohm", "unit_slip", "7.8 kΩ"),
    ("ignition-coil.secondary-resistance", "5-9", "Ohm", "unit_slip", "kΩ"),  # rule of thumb: 5 to almost 9 "ohms"
    ("brake-pad.thickness", "6", "cm", "unit_slip", "6 mm"),
    ("battery.parasitic-draw", "35", "A", "unit_slip", "35 mA"),
    ("engine-control-unit.supply-voltage", "12.1", "mV", "unit_slip", "12.1 V"),
    ("alternator.charging-voltage", "14.2", "mV", "unit_slip", "14.2 V"),
    ("battery.open-circuit-voltage", "126", "V", "unit_slip", "decimal point"),
    ("battery.open-circuit-voltage", "119", "V", "unit_slip", "decimal point"),  # 11.9, which is low as well
    ("tyre.pressure", "32", "bar", "unit_slip", "32 psi"),
    ("tyre.pressure", "220", "[psi]", "unit_slip", "220 kPa"),  # check-values 2: kPa read as psi
    ("fuel-rail.static-pressure", "43", "bar", "unit_slip", "43 psi"),  # check-values 2: psi read as bar
    ("cylinder.compression", "145", "bar", "unit_slip", "145 psi"),
    ("cylinder.compression", "1100", "[psi]", "unit_slip", "1100 kPa"),  # check-values 2: kPa read as bar
    ("intake-manifold.vacuum", "450", "[in_i'Hg]", "unit_slip", "450 mmHg"),  # check-values 2
    ("exhaust.lambda", "14.7", "1", "unit_slip", "air-fuel ratio"),  # check-values 2: a lambda of 14.7 is impossible
    ("crank-sensor.resistance", "690", "kOhm", "unit_slip", "690 Ω"),
    ("injector.resistance", "15", "kOhm", "unit_slip", "15 Ω"),
    ("coolant-temp-sensor.resistance", "2.45", "Ohm", "unit_slip", "2.45 kΩ"),
    ("valve-train.clearance", "8", "mm", "unit_slip", "8 thou"),
    ("intake-manifold.vacuum", "45", "[in_i'Hg]", "implausible", "29.92"),
    ("cylinder.leak-down", "140", "%", "implausible", "0 to 100"),
    ("cooling-system.temperature", "-300", "Cel", "implausible", "absolute zero"),
    ("turbocharger.boost", "-1.5", "bar", "implausible", "no pressure"),
    ("injector.resistance", "-2", "Ohm", "implausible", "below zero"),
    ("battery.specific-gravity", "0.7", "1", "implausible", "outside"),
]


@pytest.mark.parametrize(("test", "text", "unit", "flag", "holds"), FLAGGED)
def test_flagged_without_a_verdict(test, text, unit, flag, holds, reading, judged):
    number = reading(text, unit, test, condition={"temperature_c": 20.0} if "temp-sensor" in test else {})
    found = judged(number)[0]
    assert (found.flags, found.verdict) == ((flag,), None)
    assert holds in found.proposal
    assert "\n" not in found.proposal
    assert found.quantity == number.quantity


# What a broken part really shows is judged, not explained away.
JUDGED = [
    ("battery.parasitic-draw", "2.8", "A"),
    ("cylinder.compression", "11", "[psi]"),
    ("cylinder.compression", "0", "[psi]"),
    ("fuel-rail.static-pressure", "0", "bar"),
    ("fuel-pump.supply-voltage", "4.1", "V"),
    ("fuel-pump.supply-voltage", "0", "V"),
    ("ignition-coil.secondary-resistance", "60", "kOhm"),
    ("ground-strap.voltage-drop", "3.8", "V"),
    ("cylinder.leak-down", "100", "%"),
    ("intake-manifold.vacuum", "0", "[in_i'Hg]"),
    ("battery.cranking-voltage", "0.5", "V"),
    ("alternator.ripple", "2", "V"),
    ("ground-strap.voltage-drop", "12.4", "V"),  # an open ground drops it all
    ("wiring-harness.continuity", "400", "Ohm"),
    ("wiring-harness.continuity", "20", "kOhm"),
]


@pytest.mark.parametrize(("test", "text", "unit"), JUDGED)
def test_a_bad_part_is_called_bad(test, text, unit, reading, judged):
    found = judged(reading(text, unit, test))[0]
    assert (found.flags, found.verdict.word) == ((), "out_of_spec")


def test_limits_of_note_and_sheet_tell_a_slip(reading, expected, judged, sheet):
    vehicle = sheet("cylinder.compression: {low: 11, high: 14, unit: bar, source: invented}")
    assert judged(reading("12.1", "[psi]", "cylinder.compression"), sheet=vehicle)[0].verdict.word == "out_of_spec"
    assert judged(reading("150", "bar", "cylinder.compression"), sheet=vehicle)[0].flags == ("implausible",)
    limit = expected("50", "mA", "battery.parasitic-draw", sign="<=")
    assert judged(reading("25", "A", "battery.parasitic-draw"), limit)[0].flags == ("unit_slip",)
    assert judged(reading("25", "A", "battery.parasitic-draw"))[0].verdict.word == "out_of_spec"


# first, second, disagree. Pairs of check-values.md section 1 (NIST SP 811 factors).
PAIRS = [
    ("2.5", "bar", "36", "[psi]", False),
    ("3", "bar", "43.5", "[psi]", False),
    ("18", "[in_i'Hg]", "61", "kPa", False),
    ("95", "[ft_i].[lbf_av]", "129", "N.m", False),
    ("150", "[psi]", "10.3", "bar", False),
    ("2.5", "bar", "42", "[psi]", True),
    ("0.035", "[in_i]", "0.9", "mm", False),
    ("195", "[degF]", "90.6", "Cel", False),
    ("0.85", "bar", "9", "[psi]", True),
    ("3", "[mil_i]", "0.30", "mm", True),
    ("12.0", "bar", "147", "[psi]", True),
    ("61", "[degF]", "16", "Cel", False),
    ("2.5", "bar", "30", "V", False),  # not comparable: nothing is said about it
]


@pytest.mark.parametrize(("one", "unit", "two", "other", "disagree"), PAIRS)
def test_said_in_two_units(one, unit, two, other, disagree, reading, judged):
    second = reading(two, other).quantity
    found = judged(reading(one, unit, None, second=second))[0]
    assert ("units_disagree" in found.flags) is disagree
    assert (found.verdict is None) is disagree


def test_specific_gravity_said_in_points(reading, judged):
    """ "Twelve sixty-five" is 1.265 (common practice, no source); the value stays as said."""
    good, bad = judged(
        reading("1265", "1", "battery.specific-gravity"), reading("1140", "1", "battery.specific-gravity", 5)
    )
    assert (good.verdict.word, bad.verdict.word) == ("in_spec", "out_of_spec")
    assert good.verdict.reason.startswith("1265 taken as 1.265")
    assert good.quantity.value == 1265
    assert good.flags == ()
