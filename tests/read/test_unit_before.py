"""A bare reading's unit from those said before it."""

import pytest

from cleansheet.read.quantities import find_quantities
from cleansheet.read.row import Row
from cleansheet.read.unit_said import units_said
from cleansheet.read.words import words


@pytest.fixture(scope="session")
def units(drafted):
    """The readings' values with their units, in order."""
    return lambda text: "; ".join(
        f"{item.quantity.value:g} {item.quantity.unit}"
        for item in drafted(text)
        if item.kind == "reading" and item.quantity is not None
    )


# fmt: off
BEFORE = [
    ("Crank sensor gap 3.5 mm. Straightened the bracket, gap 1.1, 1.3 V cranking.", "3.5 mm; 1.1 mm; 1.3 V"),
    ("Coil 1 primary 4.2 ohm, secondary 11.8k, coil 2 4.0 and 12.1k.", "4.2 Ohm; 11.8 kOhm; 4 Ohm; 12.1 kOhm"),
    ("Coil 1 primary 4.2 ohm, secondary 11.8k. Coil 2 4.0 ohm and 12.1.", "4.2 Ohm; 11.8 kOhm; 4 Ohm; 12.1 kOhm"),
    ("Wheel nuts all at 160 Nm, rear left was at 90 Nm, redid it to 160.", "160 N.m; 90 N.m; 160 N.m"),
    ("Compression 150, 148, 152, 120 psi.", "150 [psi]; 148 [psi]; 152 [psi]; 120 [psi]"),
    ("Injectors 15.2, 15.1, 15.4 and 15.3 ohms.", "15.2 Ohm; 15.1 Ohm; 15.4 Ohm; 15.3 Ohm"),
    ("Charging wire drop 700 mV. Soldered in a new one. Now 14.2 and steady at the battery.", "700 mV; 14.2 V"),
    ("Battery rested 12.6 V, 9.8 cranking.", "12.6 V; 9.8 V"),
    ("Charging 14.9 V at 2000 rpm, 15.3 at 3000.", "14.9 V; 15.3 V"),
    ("Wheel speed sensors FL 1.12, FR 1.09, RL open, RR 1.15 kohm.", "1.12 kOhm; 1.09 kOhm; 1.15 kOhm"),
    ("Servo: 18 inHg applied, fell to 17.5 in five minutes.", "17.5 [in_i'Hg]"),
    ("Earth drop, lamps on, 1.9 volts. Cleaned it, now nought point four.", "1.9 V; 0.4 V"),
    ("Disc runout left nought point one eight, right nought point nought five.", "0.18 mm; 0.05 mm"),
    ("Charge 13.8 V at 3000, 13.1 at tickover.", "13.8 V; 13.1 V"),
    ("Cranking volts up from eight point nine to ten point three volts.", "8.9 V; 10.3 V"),
    ("Diff backlash at the flange I measured nought point two eight.", "0.28 mm"),
    ("Tyres thirty four left and thirty five right.", "34 [psi]; 35 [psi]"),
    ("CO 0.9 %, lambda 1.01.", "0.9 %; 1.01 1"),
    ("Oil pressure, hot, 2.8 bar at three thousand. At tickover it's 0.9.", "2.8 bar; 0.9 bar"),
    ("Oil pressure 2.8 bar at three thousand. Tickover 850.", "2.8 bar; 850 {rev}/min"),
    ("Jug test on the pump, 1.45 L in a minute.", "1.45 L/min"),
    ("28 psi low, 110 high, vent 17 C.", "28 [psi]; 110 [psi]; 17 Cel"),
    ("Plug drops thirty millivolts now, and 3000 gives 14.1 volts. Front tyre twenty four, rear twenty eight.", "30 mV; 14.1 V; 24 [psi]; 28 [psi]"),
    ("Starter draws eleven amps. The fan came on at ninety seven.", "11 A; 97 Cel"),
]


@pytest.mark.parametrize(("text", "readings"), BEFORE)
def test_a_bare_reading_takes_the_unit_that_is_meant(units, text, readings):
    assert units(text) == readings


def held(text):
    toks = words(text)
    figures = Row(find_quantities(toks, text))
    return [(text[toks[first].start : toks[last - 1].end], unit) for first, last, unit in units_said(toks, figures)]


SAID = [
    ("valve clearances all in millimetres one 0.25 two 0.28 and the belt deflection 6 thou", [("one 0.25 two 0.28 and the belt deflection", "mm")]),
    ("In kPa because of the gauge: 1 1240 2 1210", [("because of the gauge: 1 1240 2 1210", "kPa")]),
    ("everything in bar one 2.9 two 2.8", [("one 2.9 two 2.8", "bar")]),
]


@pytest.mark.parametrize(("text", "spans"), SAID)
def test_a_unit_said_for_what_follows(text, spans):
    assert held(text) == spans


NOT_SAID = ["put 5 in volts", "the crack in mm terms is 3", "all in one 2 3", "In bar 2", "found it in the yard 2 3", "all in all 2 and 3", ""]


@pytest.mark.parametrize("text", NOT_SAID)
def test_no_unit_said_for_what_follows(text):
    assert held(text) == []
# fmt: on
