"""Whole notes: what a reading should be, told apart from what it is."""

import pytest

# fmt: off
LIMITS = [
    ("Coil primary 0.7 ohms, should be 0.5 to 0.9.", "0.7 Ohm ignition-coil.primary-resistance; expected 0.5..0.9 Ohm ignition-coil.primary-resistance"),
    ("Coil primary 0.7 ohms, spec is 0.5 to 0.9 ohms.", "0.7 Ohm ignition-coil.primary-resistance; expected 0.5..0.9 Ohm ignition-coil.primary-resistance"),
    ("Crank sensor 850 ohms, book says 480 to 1000.", "850 Ohm crank-sensor.resistance; expected 480..1000 Ohm crank-sensor.resistance"),
    ("Crank sensor 850 ohms. Spec four eighty to a thousand.", "850 Ohm crank-sensor.resistance; expected 480..1000 Ohm crank-sensor.resistance"),
    ("Crank sensor 850 ohms (480-1000).", "850 Ohm crank-sensor.resistance; expected 480..1000 Ohm crank-sensor.resistance"),
    ("Crank sensor 850 ohms [spec 480-1000].", "850 Ohm crank-sensor.resistance; expected 480..1000 Ohm crank-sensor.resistance"),
    ("Charging 14.2 volts, supposed to be at least 13.8.", "14.2 V alternator.charging-voltage; expected >=13.8 V alternator.charging-voltage"),
    ("Front left disc 22.1 mm, minimum 20 mm.", "22.1 mm brake-disc.thickness @front-left; expected >=20 mm brake-disc.thickness"),
    ("Front left disc 22.1 mm, min is 20.", "22.1 mm brake-disc.thickness @front-left; expected >=20 mm brake-disc.thickness"),
    ("Disc runout 0.05 mm, max 0.10.", "0.05 mm brake-disc.runout; expected <=0.1 mm brake-disc.runout"),
    ("Disc runout 0.05 mm, limit is 0.1 mm.", "0.05 mm brake-disc.runout; expected <=0.1 mm brake-disc.runout"),
    ("Exhaust gas: the limits are 0.5 percent for CO, 200 ppm for hydrocarbons.", "expected <=0.5 % exhaust.carbon-monoxide; expected <=200 [ppm] exhaust.hydrocarbons"),
    ("Thermostat opens at 88 degrees, the spec for that is 86 to 90.", "88 Cel thermostat.opening-temperature; expected 86..90 Cel thermostat.opening-temperature"),
    ("Rear drum 203.2 mm, maximum 204.", "203.2 mm brake-drum.diameter; expected <=204 mm brake-drum.diameter"),
    ("Leakdown 38 percent on 4, anything over 20 is too much.", "38 % cylinder.leak-down @4; expected <=20 % cylinder.leak-down"),
    ("Fuel pump flow 1.1 L/min, needs at least 1.4.", "1.1 L/min fuel-pump.flow; expected >=1.4 L/min fuel-pump.flow"),
    ("Toe 1 mm, nominal 0 to 2.", "1 mm wheel-alignment.toe; expected 0..2 mm wheel-alignment.toe"),
    ("Plug gap should be 0.8 mm.", "expected 0.8 mm spark-plug.gap"),
    ("Valve clearance spec 0.20 to 0.30 mm cold.", "expected 0.2..0.3 mm valve-train.clearance"),
    ("Thermostat opens at 95 C, it is stamped 88.", "95 Cel thermostat.opening-temperature; expected 88 Cel thermostat.opening-temperature"),
    ("Earth strap drop 350 mV, less than 200 is what we want.", "350 mV ground-strap.voltage-drop; expected <200 mV ground-strap.voltage-drop"),
    ("Oil pressure 3.9 bar at 3000 rpm, handbook says 3 to 5.", "3.9 bar oil-system.pressure; expected 3..5 bar oil-system.pressure"),
    ("Tread depth 1.4 mm rear left, legal minimum 1.6.", "1.4 mm tyre.tread-depth @rear-left; expected >=1.6 mm tyre.tread-depth"),
    ("Charging voltage is 14.2, we want 13.8 to 14.6 volts.", "14.2 V alternator.charging-voltage; expected 13.8..14.6 V alternator.charging-voltage"),
    ("Parasitic draw 280 milliamps, no more than 50 allowed.", "280 mA battery.parasitic-draw; expected <=50 mA battery.parasitic-draw"),
    ("Injector resistance spec 14 to 17 ohms: 15.2, 15.4, 15.1, 15.3.", "expected 14..17 Ohm injector.resistance; 15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2; 15.1 Ohm injector.resistance @3; 15.3 Ohm injector.resistance @4"),
    ("Brake fluid boils at 168 C, scrap under 155.", "168 Cel brake-fluid.boiling-point; expected >=155 Cel brake-fluid.boiling-point"),
]


@pytest.mark.parametrize(("text", "items"), LIMITS)
def test_limits(said, text, items):
    assert said(text) == items


NO_LIMITS = [
    # a range, a minimum or a "should" that gives no limit
    ("Voltage drifts between 13.9 and 14.3 V charging.", "13.9..14.3 V alternator.charging-voltage"),
    ("Charging voltage 13.9 to 14.3 V, wanders a bit.", "13.9..14.3 V alternator.charging-voltage"),
    ("Compression 148 psi on number two, that should do.", "148 [psi] cylinder.compression @2"),
    ("Leakdown 8 percent on 1, book work done later.", "8 % cylinder.leak-down @1"),
    ("Spec sheet is lost. Coil primary 0.7 ohms.", "0.7 Ohm ignition-coil.primary-resistance"),
    ("Should be quick. Battery 12.6 volts rested.", "12.6 V battery.open-circuit-voltage"),
    ("Max needs his van back. Battery 12.6 volts rested.", "12.6 V battery.open-circuit-voltage"),
    ("Booked in for noon. Crank sensor 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Owner wants it back Friday. Crank sensor 850 ohms.", "850 Ohm crank-sensor.resistance"),
]


@pytest.mark.parametrize(("text", "items"), NO_LIMITS)
def test_what_is_no_limit(said, text, items):
    assert said(text) == items


CONFLICTS = [
    ("Static fuel pressure 2.5 bar engine off, book says 2.4 to 2.6.", "aldern-camper", "2.5 bar fuel-rail.static-pressure !spec_conflict", "in_spec"),
    ("Coil primary 1.2 ohms, spec 1.0 to 1.4.", "aldern-camper", "1.2 Ohm ignition-coil.primary-resistance !spec_conflict", "in_spec"),
    ("Coil primary 0.7 ohms, spec 0.5 to 0.9.", "aldern-camper", "0.7 Ohm ignition-coil.primary-resistance", "in_spec"),
]


@pytest.mark.parametrize(("text", "sheet", "reading", "verdict"), CONFLICTS)
def test_what_is_said_wins_and_the_conflict_is_flagged(said, judged, text, sheet, reading, verdict):
    assert said(text, sheet).split("; ")[0] == reading
    assert judged(text, sheet) == verdict
# fmt: on
