"""Whole notes, from text to draft: the plain core of what a technician measures. Left the words, right what they say."""

import pytest

# fmt: off
ONE = [
    ("Fuel rail static pressure 2.9 bar, engine off.", "2.9 bar fuel-rail.static-pressure"),
    ("Rail pressure at idle 2.4 bar.", "2.4 bar fuel-rail.running-pressure"),
    ("Fuel pressure with the engine running is 2.5 bar.", "2.5 bar fuel-rail.running-pressure"),
    ("Fuel pressure held at 2.2 bar after ten minutes.", "2.2 bar fuel-rail.hold-pressure"),
    ("Pump delivers 1.6 litres a minute.", "1.6 L/min fuel-pump.flow"),
    ("Fuel pump is drawing 5.2 amps.", "5.2 A fuel-pump.current"),
    ("Fuel pump supply voltage 12.1 V.", "12.1 V fuel-pump.supply-voltage"),
    ("Return line flow 0.9 L/min.", "0.9 L/min fuel-return-line.flow"),
    ("Injector 3 is 15.8 ohms.", "15.8 Ohm injector.resistance @3"),
    ("Injector pulse width 2.4 ms at idle.", "2.4 ms injector.pulse-width"),
    ("Crank sensor resistance 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor eight hundred and fifty ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor air gap 0.9 mm.", "0.9 mm crank-sensor.gap"),
    ("Crank sensor signal 1.2 volts cranking.", "1.2 V crank-sensor.signal"),
    ("Coolant temp sensor 2.5 kilohms at 20 degrees.", "2.5 kOhm coolant-temp-sensor.resistance"),
    ("Air temp sensor reads 2,3 kohm.", "2.3 kOhm air-temp-sensor.resistance"),
    ("Coil primary is 0.7 ohms.", "0.7 Ohm ignition-coil.primary-resistance"),
    ("Coil primary nought point seven ohms.", "0.7 Ohm ignition-coil.primary-resistance"),
    ("Coil secondary 8.1 kilohms.", "8.1 kOhm ignition-coil.secondary-resistance"),
    ("Coil secondary reads eight point one k.", "8.1 kOhm ignition-coil.secondary-resistance"),
    ("Secondary winding of the coil 8k1.", "8.1 kOhm ignition-coil.secondary-resistance"),
    ("Coil supply is 11.8 volts.", "11.8 V ignition-coil.supply-voltage"),
    ("Rotor arm 5 kilohms.", "5 kOhm rotor-arm.resistance"),
    ("Ballast resistor 1R6.", "1.6 Ohm ballast-resistor.resistance"),
    ("Idle valve reads 9.5 ohms.", "9.5 Ohm idle-valve.resistance"),
    ("Points gap 0.4 mm.", "0.4 mm contact-breaker.gap"),
    ("Dwell is 54 degrees.", "54 deg contact-breaker.dwell"),
    ("Ignition timing 10 degrees before top.", "10 deg distributor.timing"),
    ("Spark plug gap 0.8 mm.", "0.8 mm spark-plug.gap"),
    ("Plug gap thirty five thou.", "35 [mil_i] spark-plug.gap"),
    ("Ignition lead on 2 is 6.4 kilohms.", "6.4 kOhm ignition-lead.resistance @2"),
    ("Battery 12.6V rested.", "12.6 V battery.open-circuit-voltage"),
    ("Battery is twelve point four volts at rest.", "12.4 V battery.open-circuit-voltage"),
    ("Battery drops to 9.8 volts cranking.", "9.8 V battery.cranking-voltage"),
    ("Parasitic draw is 280 milliamps.", "280 mA battery.parasitic-draw"),
    ("Charging voltage 14.2 V at idle.", "14.2 V alternator.charging-voltage"),
    ("Alternator puts out fourteen point two volts.", "14.2 V alternator.charging-voltage"),
    ("Alternator output 65 amps.", "65 A alternator.output-current"),
    ("Alternator ripple 40 millivolts AC.", "40 mV alternator.ripple"),
    ("Starter draws 140 amps.", "140 A starter-motor.current"),
    ("Voltage drop across the earth strap 350 mV.", "350 mV ground-strap.voltage-drop"),
    ("Main relay volt drop 0.2 V.", "0.2 V main-relay.voltage-drop"),
    ("Relay coil is 85 ohms.", "85 Ohm relay.coil-resistance"),
    ("Ignition switch drops 0.6 volts.", "0.6 V ignition-switch.voltage-drop"),
    ("TPS 0.48 volts closed.", "0.48 V throttle-position-sensor.voltage"),
    ("Throttle position sensor 4.5 V wide open.", "4.5 V throttle-position-sensor.voltage"),
    ("MAP sensor 1.4 volts at idle.", "1.4 V map-sensor.voltage"),
    ("Air flow meter 3.4 grams a second.", "3.4 g/s air-flow-meter.flow"),
    ("Lambda sensor voltage 0.45 V.", "0.45 V oxygen-sensor.voltage"),
    ("Lambda is 0.98.", "0.98 1 exhaust.lambda !unit_assumed"),
    ("CO is 1.2 percent.", "1.2 % exhaust.carbon-monoxide"),
    ("HC 310 ppm at the tailpipe.", "310 [ppm] exhaust.hydrocarbons"),
    ("Exhaust back pressure 1.5 psi.", "1.5 [psi] exhaust.back-pressure"),
    ("Manifold vacuum eighteen inches of mercury.", "18 [in_i'Hg] intake-manifold.vacuum"),
    ("Idle vacuum 18 inHg.", "18 [in_i'Hg] intake-manifold.vacuum"),
    ("Boost 0.8 bar.", "0.8 bar turbocharger.boost"),
    ("Compression on cylinder 2 is 148 psi.", "148 [psi] cylinder.compression @2"),
    ("Leakdown on number four 38 percent.", "38 % cylinder.leak-down @4"),
    ("Hot idle oil pressure 1.2 bar.", "1.2 bar oil-system.pressure"),
    ("Oil pressure twelve psi at tickover.", "12 [psi] oil-system.pressure"),
    ("Idle speed 850 rpm.", "850 {rev}/min engine.idle-speed"),
    ("It idles at eleven hundred revs.", "1100 {rev}/min engine.idle-speed"),
    ("Crankshaft end float 0.15 mm.", "0.15 mm crankshaft.end-float"),
    ("Timing belt deflection 6 mm.", "6 mm timing-belt.deflection"),
    ("Fan belt deflects 10 mm.", "10 mm drive-belt.deflection"),
    ("Radiator cap releases at 0.9 bar.", "0.9 bar radiator-cap.release-pressure"),
    ("Fan cuts in at 95 degrees C.", "95 Cel radiator-fan.switch-on-temperature"),
    ("Cooling system holds 1.0 bar.", "1 bar cooling-system.pressure-hold"),
    ("Antifreeze good to minus twenty five C.", "-25 Cel cooling-system.freeze-point"),
    ("Brake fluid water content 3 percent.", "3 % brake-fluid.water-content"),
    ("Front left disc 22.1 mm.", "22.1 mm brake-disc.thickness @front-left"),
    ("Disc runout 0.05 mm front left.", "0.05 mm brake-disc.runout @front-left"),
    ("Rear right pads 3 mm.", "3 mm brake-pad.thickness @rear-right"),
    ("Rear drums 203.2 mm.", "203.2 mm brake-drum.diameter"),
    ("Tyre pressure front left 32 psi.", "32 [psi] tyre.pressure @front-left"),
    ("Tread depth 4 mm on the nearside front.", "4 mm tyre.tread-depth @front-left"),
    ("Wheel nuts torqued to 160 Nm.", "160 N.m wheel-nut.torque"),
    ("Wheel bearing play 0.05 mm offside rear.", "0.05 mm wheel-bearing.end-play @rear-right"),
    ("Toe is 2 mm in.", "2 mm wheel-alignment.toe"),
    ("Camber minus 0.5 degrees front left.", "-0.5 deg wheel-alignment.camber @front-left"),
    ("Clutch free play 3 mm.", "3 mm clutch.free-play"),
    ("AC low side 2.1 bar, high side 14 bar.", "2.1 bar air-conditioning.low-side-pressure; 14 bar air-conditioning.high-side-pressure"),
    ("Meter leads 0.2 ohms.", "0.2 Ohm test-meter.lead-resistance"),
    ("Carb float height 24 mm.", "24 mm carburettor.float-height"),
    ("ECU supply voltage 12.3 V.", "12.3 V engine-control-unit.supply-voltage"),
    ("Servo holds 18 inches of mercury.", "18 [in_i'Hg] brake-booster.vacuum-hold"),
    ("Head is warped, 0.12 mm by the straight edge.", "faulty cylinder-head; 0.12 mm cylinder-head.flatness"),
    ("Thermostat opens at 88 degrees.", "88 Cel thermostat.opening-temperature"),
    ("Brake fluid boils at 168 C.", "168 Cel brake-fluid.boiling-point"),
    ("Vent temperature 6 C.", "6 Cel air-conditioning.vent-temperature"),
]


@pytest.mark.parametrize(("text", "items"), ONE)
def test_one_measurement(said, text, items):
    assert said(text) == items


SEVERAL = [
    ("Coil primary 0.7 ohms, secondary 8.1k.", "0.7 Ohm ignition-coil.primary-resistance; 8.1 kOhm ignition-coil.secondary-resistance"),
    ("Dwell 54 degrees, points gap 0.4 mm.", "54 deg contact-breaker.dwell; 0.4 mm contact-breaker.gap"),
    ("Battery 12.5 volts, crank sensor 850 ohms, coil primary 0.7 ohms.", "12.5 V battery.open-circuit-voltage; 850 Ohm crank-sensor.resistance; 0.7 Ohm ignition-coil.primary-resistance"),
    ("Crank sensor 850 ohms and the gap is 0.9 mm.", "850 Ohm crank-sensor.resistance; 0.9 mm crank-sensor.gap"),
    ("CO 0.3%, HC 120 ppm, lambda 1.01.", "0.3 % exhaust.carbon-monoxide; 120 [ppm] exhaust.hydrocarbons; 1.01 1 exhaust.lambda !unit_assumed"),
    ("Toe 1 mm, camber -0.5 degrees.", "1 mm wheel-alignment.toe; -0.5 deg wheel-alignment.camber"),
    ("Injector 1 15.2 ohms. Injector 2 15.4 ohms.", "15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2"),
    ("Brake fluid 3 percent water. Front pads 6 mm.", "3 % brake-fluid.water-content; 6 mm brake-pad.thickness"),
    ("The coil. Primary reads 0.8 ohms. Secondary reads 9 kilohms.", "0.8 Ohm ignition-coil.primary-resistance; 9 kOhm ignition-coil.secondary-resistance"),
    ("Crank sensor first. It reads 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor unplugged, that one reads 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Battery 11.9 volts. Charged it overnight. Battery now 12.7 volts.", "11.9 V battery.open-circuit-voltage; 12.7 V battery.open-circuit-voltage"),
]


@pytest.mark.parametrize(("text", "items"), SEVERAL)
def test_several_in_a_breath(said, text, items):
    assert said(text) == items


MISSPELT = [
    ("Crank sensor resistence 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Fuel presure at idle 2.4 bar.", "2.4 bar fuel-rail.running-pressure"),
    ("Injecter 3 is 15.8 ohms.", "15.8 Ohm injector.resistance @3"),
    ("Alternater charging at 14.1 volts.", "14.1 V alternator.charging-voltage"),
    ("Compresion on cylinder 2 is 148 psi.", "148 [psi] cylinder.compression @2"),
    ("Battary 12.6V rested.", "12.6 V battery.open-circuit-voltage"),
    ("Thermostst opens at 88 C.", "88 Cel thermostat.opening-temperature"),
    ("crank censor eight hundred and fifty ohms", "850 Ohm crank-sensor.resistance !low_confidence_words"),
]


@pytest.mark.parametrize(("text", "items"), MISSPELT)
def test_misspelt_and_misheard_names(said, text, items):
    assert said(text) == items


VERDICTS = [
    ("Static fuel pressure 2.9 bar, engine off.", "aldern-camper", "in_spec"),
    ("Static fuel pressure 2.3 bar, engine off.", "aldern-camper", "out_of_spec"),
    ("Static fuel pressure 2.8 bar, engine off.", "aldern-camper", "too_close"),
    ("Coil primary 0.7 ohms, secondary 8.1k.", "aldern-camper", "in_spec in_spec"),
    ("Coil primary 1.4 ohms.", "aldern-camper", "out_of_spec"),
    ("Coil primary 1.4 ohms, spec is 0.5 to 0.9.", None, "out_of_spec"),
    ("Crank sensor 850 ohms, book says 480 to 1000.", None, "in_spec"),
    ("Crank sensor 300 ohms, book says 480 to 1000.", None, "out_of_spec"),
    ("Charging 14.2 volts, should be 13.8 to 14.6.", None, "in_spec"),
    ("Parasitic draw 280 mA, should be under 50.", None, "out_of_spec"),
    ("Parasitic draw 18 mA, should be under 50.", None, "in_spec"),
    ("Front left disc 22.1 mm, minimum 20.", None, "in_spec"),
    ("Front left disc 19.2 mm, minimum 20.", None, "out_of_spec"),
    ("Compression 12.4, 12.1, 12.6, 8.9 bar.", "aldern-camper", "in_spec in_spec in_spec out_of_spec"),
    ("Float height 24 mm.", "brindle-twin", "in_spec"),
    ("Points gap 0.50 mm.", "brindle-twin", "out_of_spec"),
    ("All four injectors are dry.", None, "in_spec"),
    ("The main relay clicks.", None, "in_spec"),
    ("Injector 2 is leaking.", None, "out_of_spec"),
]


@pytest.mark.parametrize(("text", "sheet", "verdicts"), VERDICTS)
def test_verdicts(judged, text, sheet, verdicts):
    assert judged(text, sheet) == verdicts
# fmt: on
