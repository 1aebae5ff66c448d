"""Whole notes: what held while measuring, each condition with the reading that it belongs to."""

import pytest

# fmt: off
CONDITIONS = [
    ("Static fuel pressure 2.9 bar, engine off.", [{"engine": "off"}]),
    ("With the engine off fuel pressure is 2.9 bar.", [{"engine": "off"}]),
    ("Fuel pressure at idle 2.4 bar.", [{"engine": "idle"}]),
    ("Fuel pressure 2.4 bar at idle.", [{"engine": "idle"}]),
    ("Charging 14.2 V with the engine running.", [{"engine": "running"}]),
    ("Battery 9.8 volts cranking.", [{"engine": "cranking"}]),
    ("Battery 9.8 volts while cranking.", [{"engine": "cranking"}]),
    ("Oil pressure 3.9 bar at 3000.", [{"speed_rpm": 3000}]),
    ("Oil pressure 3.9 bar @ 3000 rpm.", [{"speed_rpm": 3000}]),
    ("Oil pressure 3.9 bar at three thousand revs.", [{"speed_rpm": 3000}]),
    ("Oil pressure at 3000 rpm 3.9 bar.", [{"speed_rpm": 3000}]),
    ("Oil pressure 0.8 bar idle, 3.9 bar @ 3000.", [{"engine": "idle"}, {"speed_rpm": 3000}]),
    ("Oil pressure hot, 1.2 bar at idle.", [{"warm": "hot", "engine": "idle"}]),
    ("Coolant temp sensor 2.5 kilohms at 20 degrees.", [{"temperature_c": 20}]),
    ("Coolant temp sensor 2.5 kilohms at 20 C, 320 ohms at 80 C.", [{"temperature_c": 20}, {"temperature_c": 80}]),
    ("Fuel pressure held at 2.2 bar after ten minutes.", [{"elapsed_min": 10}]),
    ("After ten minutes fuel pressure is 2.2 bar.", [{"elapsed_min": 10}]),
    ("Fuel pressure 2.1 bar half an hour later.", [{"elapsed_min": 30}]),
    ("Valve clearance 0.25 mm cold.", [{"warm": "cold"}]),
    ("Crank sensor 850 ohms cold, 910 ohms hot.", [{"warm": "cold"}, {"warm": "hot"}]),
    ("Fuel pressure 2.9 bar with the vacuum line off.", [{"vacuum_line": "off"}]),
    ("TPS 4.5 V throttle open.", [{"throttle": "open"}]),
    ("TPS 0.48 V throttle closed.", [{"throttle": "closed"}]),
    ("Charging 13.9 V lights on.", [{"load": "on"}]),
    ("Charging 13.9 V under load.", [{"load": "on"}]),
    ("Charging 14.4 V no load.", [{"load": "off"}]),
]


@pytest.mark.parametrize(("text", "conditions"), CONDITIONS)
def test_conditions(drafted, text, conditions):
    assert [dict(item.condition) for item in drafted(text) if item.kind == "reading"] == conditions


NONE_SAID = [
    "Coil primary 0.7 ohms.",
    "Crank sensor 850 ohms.",
    "Injector 3 is 15.8 ohms.",
    "Plug gap 0.8 mm.",
    "Front left disc 22.1 mm.",
    "Boost 0.8 bar.",
    "Idle speed 850 rpm.",
    "Starter draws 140 amps.",
    "Air temp sensor 2.3 kilohms.",
    "Fan cuts in at 95 degrees C.",
]


@pytest.mark.parametrize("text", NONE_SAID)
def test_only_what_is_said_is_a_condition(drafted, text):
    (item,) = [item for item in drafted(text) if item.kind == "reading"]
    assert set(item.condition) <= ({"engine"} if text.startswith("Idle speed") else set())


BLUR = [
    ("Battery about 12.4 volts rested.", "~12.4 V battery.open-circuit-voltage"),
    ("Charging just under 14 volts.", "~14 V alternator.charging-voltage"),
    ("Charging roughly 14.2 volts.", "~14.2 V alternator.charging-voltage"),
    ("Fuel pressure at idle a hair over 2.4 bar.", "~2.4 bar fuel-rail.running-pressure"),
    ("Crank sensor is close to 850 ohms.", "~850 Ohm crank-sensor.resistance"),
    ("Charging nearly 14 volts.", "~14 V alternator.charging-voltage"),
    ("Crank sensor is exactly 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor is 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Charging 13.9 to 14.3 V.", "13.9..14.3 V alternator.charging-voltage"),
    ("Charging voltage wanders between 13.2 and 14.1 volts.", "13.2..14.1 V alternator.charging-voltage"),
    ("Coil insulation over 10 megohms.", ">10 MOhm ignition-coil"),
    ("Parasitic draw under 10 milliamps.", "<10 mA battery.parasitic-draw"),
    ("Meter leads less than 0.2 ohms.", "<0.2 Ohm test-meter.lead-resistance"),
]


@pytest.mark.parametrize(("text", "items"), BLUR)
def test_blurred_and_bounded_readings(said, text, items):
    assert said(text) == items
# fmt: on
