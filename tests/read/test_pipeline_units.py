"""Whole notes: units said twice, once for all, not at all, or misheard."""

import pytest

# fmt: off
TWO_UNITS = [
    ("Static fuel pressure 2.5 bar, 36 psi, engine off.", 2.5, "bar", 36, "[psi]"),
    ("Static fuel pressure 2.5 bar, that's 36 psi.", 2.5, "bar", 36, "[psi]"),
    ("Static fuel pressure 2.5 bar (36 psi).", 2.5, "bar", 36, "[psi]"),
    ("Static fuel pressure 36 psi / 2.5 bar.", 36, "[psi]", 2.5, "bar"),
    ("Static fuel pressure 43 psi which is 3 bar.", 43, "[psi]", 3, "bar"),
    ("Front left disc 0.87 inches, 22.1 mm.", 0.87, "[in_i]", 22.1, "mm"),
    ("Wheel nuts torqued to 118 lb ft, 160 Nm.", 118, "[ft_i].[lbf_av]", 160, "N.m"),
    ("Plug gap 35 thou, 0.9 mm.", 35, "[mil_i]", 0.9, "mm"),
    ("Thermostat opens at 88 C, that's 190 F.", 88, "Cel", 190, "[degF]"),
]


@pytest.mark.parametrize(("text", "value", "unit", "other", "other_unit"), TWO_UNITS)
def test_two_units_are_one_reading(drafted, text, value, unit, other, other_unit):
    (item,) = [item for item in drafted(text) if item.kind == "reading"]
    assert (item.quantity.value, item.quantity.unit) == (value, unit)
    assert item.second is not None
    assert (item.second.value, item.second.unit) == (other, other_unit)
    assert "units_disagree" not in item.flags


DISAGREE = [
    "Static fuel pressure 2.5 bar, 60 psi, engine off.",
    "Static fuel pressure 2.5 bar, that's 46 psi.",
    "Static fuel pressure 2.5 bar (26 psi).",
    "Wheel nuts torqued to 118 lb ft, that's 190 Nm.",
]


@pytest.mark.parametrize("text", DISAGREE)
def test_two_units_that_do_not_match_are_flagged_and_not_judged(drafted, text):
    (item,) = [item for item in drafted(text) if item.kind == "reading"]
    assert "units_disagree" in item.flags
    assert item.verdict is None or item.verdict.word == "no_spec"


ASSUMED = [
    ("Coil primary 0.7.", "0.7 Ohm ignition-coil.primary-resistance !unit_assumed"),
    ("Crank sensor resistance 850.", "850 Ohm crank-sensor.resistance !unit_assumed"),
    ("Battery 12.6 rested.", "12.6 V battery.open-circuit-voltage !unit_assumed"),
    ("Charging voltage 14.2.", "14.2 V alternator.charging-voltage !unit_assumed"),
    ("Plug gap 0.8.", "0.8 mm spark-plug.gap !unit_assumed"),
    ("Compression 148 on number two.", "148 [psi] cylinder.compression @2 !unit_assumed"),
    ("Lambda 0.98.", "0.98 1 exhaust.lambda !unit_assumed"),
    ("Dwell 54.", "54 deg contact-breaker.dwell !unit_assumed"),
    ("Idle speed 850.", "850 {rev}/min engine.idle-speed !unit_assumed"),
    ("Brake disc runout 0.05.", "0.05 mm brake-disc.runout !unit_assumed"),
    ("Manifold vacuum 18.", "18 [in_i'Hg] intake-manifold.vacuum !unit_assumed"),
    ("Battery reads twelve six rested.", "12.6 V battery.open-circuit-voltage !unit_assumed"),
    ("Leakdown 38 on number 4.", "38 % cylinder.leak-down @4 !unit_assumed"),
]


@pytest.mark.parametrize(("text", "items"), ASSUMED)
def test_a_unit_left_out_is_the_tests_and_flagged(said, text, items):
    assert said(text) == items


SHARED = [
    ("Injectors 15.2, 15.4, 15.1, 15.3 ohms.", "Ohm"),
    ("Resistance of the injectors in ohms: 15.2, 15.4, 15.1, 15.3", "Ohm"),
    ("Injector resistance (ohms): 15.2 15.4 15.1 15.3", "Ohm"),
    ("Injector 1 15.2 ohms, 2 15.4, 3 15.1, 4 15.3", "Ohm"),
    ("Compression (bar): 12.4, 12.1, 12.6, 8.9", "bar"),
    ("Compression 12.4, 12.1, 12.6, 8.9 bar", "bar"),
]


@pytest.mark.parametrize(("text", "unit"), SHARED)
def test_one_unit_for_a_list_is_not_assumed(drafted, text, unit):
    items = [item for item in drafted(text) if item.kind == "reading"]
    assert [item.quantity.unit for item in items] == [unit] * 4
    assert all("unit_assumed" not in item.flags for item in items)


MISHEARD = [
    ("crank sensor eight hundred and fifty homes", "850 Ohm crank-sensor.resistance !low_confidence_words"),
    ("battery rested twelve point six bolts", "12.6 V battery.open-circuit-voltage !low_confidence_words"),
    ("coil secondary eight point one killer ohms", "8.1 kOhm ignition-coil.secondary-resistance !low_confidence_words"),
    ("charging voltage fourteen point two bolts", "14.2 V alternator.charging-voltage !low_confidence_words"),
]


@pytest.mark.parametrize(("text", "items"), MISHEARD)
def test_a_misheard_unit_is_taken_where_the_test_wants_it_and_flagged(said, text, items):
    assert said(text) == items


NOT_MISHEARD = ["Replaced the bolts on the bracket.", "Undid four bolts on the cover.", "Drove past two homes.", "Snapped 2 bolts."]


@pytest.mark.parametrize("text", NOT_MISHEARD)
def test_plain_words_are_no_units(said, text):
    assert said(text) == ""


SLIPS = [
    ("Coil secondary 8.1 ohms.", "aldern-camper", "unit_slip"),
    ("Fuel rail static pressure 43 bar, engine off.", "aldern-camper", "unit_slip"),
    ("Plug gap 0.8 inches.", "aldern-camper", "unit_slip"),
    ("Charging voltage 14.2 mV.", "aldern-camper", "unit_slip"),
]


@pytest.mark.parametrize(("text", "sheet", "flag"), SLIPS)
def test_a_slipped_unit_is_flagged_and_the_value_kept(drafted, text, sheet, flag):
    (item,) = [item for item in drafted(text, sheet) if item.kind == "reading"]
    assert flag in item.flags
    assert item.verdict is None
    assert f"{item.quantity.value:g}" in text


NO_SLIPS = [
    ("Coil secondary 8.1 kilohms.", "aldern-camper"),
    ("Static fuel pressure 2.3 bar, engine off.", "aldern-camper"),
    ("Coil primary 1.4 ohms.", "aldern-camper"),
    ("Compression 8.9 bar on number four.", "aldern-camper"),
    ("Charging voltage 12.9 V.", "aldern-camper"),
    ("Crank sensor 300 ohms.", "aldern-camper"),
    ("Plug gap 35 thou.", "aldern-camper"),
]


@pytest.mark.parametrize(("text", "sheet"), NO_SLIPS)
def test_a_plain_reading_raises_no_alarm(drafted, text, sheet):
    (item,) = [item for item in drafted(text, sheet) if item.kind == "reading"]
    assert not {"unit_slip", "units_disagree", "spec_conflict", "implausible"} & set(item.flags)
# fmt: on
