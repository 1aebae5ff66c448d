"""A number that is taken back counts no more; one that is measured again is a second reading."""

import pytest

# fmt: off
TAKEN_BACK = [
    ("Static fuel pressure 2.1 bar, no, make that 2.3 bar, engine off.", "2.3 bar fuel-rail.static-pressure"),
    ("Fuel pressure at idle 2.1, no 2.3 bar.", "2.3 bar fuel-rail.running-pressure"),
    ("Battery rested 12.2, sorry, 12.5 volts.", "12.5 V battery.open-circuit-voltage"),
    ("Crank sensor 850, correction, 830 ohms.", "830 Ohm crank-sensor.resistance"),
    ("Crank sensor is 850, wait, 830 ohms.", "830 Ohm crank-sensor.resistance"),
    ("Crank sensor reads 850, or rather 830 ohms.", "830 Ohm crank-sensor.resistance"),
    ("Plug gap 0.8, no, 0.9 mm.", "0.9 mm spark-plug.gap"),
    ("Compression on number two 120, make that 130 psi.", "130 [psi] cylinder.compression @2"),
    ("Charging at 13.2, oops, 14.2 volts.", "14.2 V alternator.charging-voltage"),
    ("Charging at fifteen volts, wrong scale, it's 14.2 volts.", "14.2 V alternator.charging-voltage"),
    ("Front left disc 22.1, strike that, 21.1 mm.", "21.1 mm brake-disc.thickness @front-left"),
    ("Battery 12.2 volts, scratch that, 12.5 volts.", "12.5 V battery.open-circuit-voltage"),
    ("Battery twelve two, I mean twelve five volts rested.", "12.5 V battery.open-circuit-voltage"),
    ("Crank sensor 850 ohms, hang on, 830 ohms.", "830 Ohm crank-sensor.resistance"),
    ("Coil primary 7 ohms, sorry, 0.7 ohms.", "0.7 Ohm ignition-coil.primary-resistance"),
    ("Leakdown 38 percent, no, 28 percent on cylinder four.", "28 % cylinder.leak-down @4"),
    ("Crank sensor 850 ohms, no, hang about, that was with the engine hot and all that, now it's 830 ohms.", "830 Ohm crank-sensor.resistance"),
    ("Injector 3 is 12.1 ohms, misread it, 15.1 ohms.", "15.1 Ohm injector.resistance @3"),
]


@pytest.mark.parametrize(("text", "items"), TAKEN_BACK)
def test_only_the_corrected_value_counts(said, text, items):
    assert said(text) == items


UNIT_TAKEN_BACK = [
    ("Coil secondary 8.1 ohms, sorry, kilohms.", "8.1 kOhm ignition-coil.secondary-resistance"),
    ("Coil secondary 8.1 ohms, I mean kilohms.", "8.1 kOhm ignition-coil.secondary-resistance"),
    ("Compression on 2 is 148 bar, no, psi.", "148 [psi] cylinder.compression @2"),
    ("Parasitic draw 280 amps, sorry, milliamps.", "280 mA battery.parasitic-draw"),
]


@pytest.mark.parametrize(("text", "items"), UNIT_TAKEN_BACK)
def test_a_unit_taken_back(said, text, items):
    assert said(text) == items


BOTH_STAY = [
    ("Battery 11.9 volts, charged it, now 12.7 volts.", "11.9 V battery.open-circuit-voltage; 12.7 V battery.open-circuit-voltage"),
    ("Charging 13.1 volts. Cleaned the strap, charging 14.2 volts now.", "13.1 V alternator.charging-voltage; 14.2 V alternator.charging-voltage"),
    ("Earth strap drop 350 mV, cleaned it, down to 40 mV.", "350 mV ground-strap.voltage-drop; 40 mV ground-strap.voltage-drop"),
    ("Crank sensor 850 ohms cold, 910 ohms hot.", "850 Ohm crank-sensor.resistance; 910 Ohm crank-sensor.resistance"),
    ("Injector 1 15.2 ohms, injector 2 15.4 ohms.", "15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2"),
    ("Crank sensor 850 ohms, no cracks in it.", "850 Ohm crank-sensor.resistance; ok crank-sensor.condition"),
]


@pytest.mark.parametrize(("text", "items"), BOTH_STAY)
def test_measured_again_or_elsewhere_both_stay(said, text, items):
    assert said(text) == items
# fmt: on
