"""What is settled once every item has its test: limits, places and conditions."""

import pytest

from cleansheet.match.features import unit_for

# fmt: off
LIMITS = [
    # each text, then its limits as test, low, high
    ("AC low side 2.1 bar, high side 11.5 bar. Should be 2 to 3 bar low, 14 to 18 bar high.", [("air-conditioning.low-side-pressure", 2, 3), ("air-conditioning.high-side-pressure", 14, 18)]),
    ("CO 4.1 %, HC 880 ppm. Limits 0.3, 200.", [("exhaust.carbon-monoxide", 0.3, 0.3), ("exhaust.hydrocarbons", 200, 200)]),
]


@pytest.mark.parametrize(("text", "limits"), LIMITS)
def test_limits_go_to_the_tests_that_can_show_them(tied, text, limits):
    found = [item for item in tied(text) if item.kind == "expected"]
    assert [item.test for item in found] == [test for test, _, _ in limits]


PARTS = [
    ("Disc runout nearside fourteen hundredths of a millimetre, offside three hundredths, limit is eight.", 0.08),
    ("Disc runout nearside 0.14 mm, offside 0.03 mm, no more than 0.08 allowed.", 0.08),
]


@pytest.mark.parametrize(("text", "high"), PARTS)
def test_a_bare_limit_is_in_the_readings_own_parts(tied, text, high):
    (limit,) = [item for item in tied(text) if item.kind == "expected"]
    assert limit.quantity.high == pytest.approx(high) or limit.quantity.value == pytest.approx(high)


WORN = [
    ("Rear shoes 3.1 mm, limit 1.5.", (1.5, None)), ("Springs 498 mm, limit 490.", (490, None)), ("Selector fork 6.9 mm, wear limit 6.5.", (6.5, None)), ("Rocker end float 0.45 mm, limit 0.30.", (None, 0.3)),
    ("Selector shaft play 0.9 mm, limit 0.5.", (None, 0.5)), ("Earth strap drop 90 mV, ought to be under a tenth of a volt.", (None, 0.1)), ("Earth strap drop 90 mV, half a volt or less.", (None, 0.5)),
]


@pytest.mark.parametrize(("text", "ends"), WORN)
def test_a_limits_side_is_that_which_its_words_leave_good(tied, text, ends):
    (limit,) = [item for item in tied(text) if item.kind == "expected"]
    assert (limit.quantity.low, limit.quantity.high) == ends


ONE_SIDED = [
    ("Battery cranking 8.1 V, should be 9.5.", (9.5, None)), ("Freeze point -12 C, I want -25.", (None, -25)), ("Pump flow 0.9 L/min, should be 1.2.", (1.2, None)), ("Parasitic draw 90 mA, should be 50.", (None, 50)),
    ("Compression 90 psi. Anything under 120 is no good.", (120, None)), ("Thermostat opens at 95 C, should be 88.", (87.5, 88.5)), ("Plug gap 0.9 mm, should be 0.8.", (0.75, 0.85)),
]


@pytest.mark.parametrize(("text", "ends"), ONE_SIDED)
def test_a_bare_limit_has_the_side_of_its_test(tied, text, ends):
    (limit,) = [item for item in tied(text) if item.kind == "expected"]
    assert (limit.quantity.low, limit.quantity.high) == pytest.approx(ends)


THICK = [
    ("New front discs and pads going on. Old ones off: NS 16.5, OS 16.2 mm.", "brake-disc.thickness"), ("Front pads 12 mm.", "brake-pad.thickness"), ("Discs are fine. Front pads 6 mm.", "brake-pad.thickness"),
]


@pytest.mark.parametrize(("text", "test"), THICK)
def test_no_pad_is_as_thick_as_a_disc(tied, text, test):
    assert {item.test for item in tied(text) if item.kind == "reading" and item.quantity is not None} == {test}


TWICE = [
    ("Front tyre 2.5 bar, that's thirty six.", [(2.5, "bar", 36)]), ("Oil pressure 2.8 bar at three thousand, that's twenty eight psi.", [(2.8, "bar", 28)]),
    ("Coil 0.7 ohm / 7.9 kohm.", [(0.7, "Ohm", None), (7.9, "kOhm", None)]), ("Fuel pressure 2.5 bar, 36 psi.", [(2.5, "bar", 36)]), ("Front tyre 2.5 bar, rear thirty six psi.", [(2.5, "bar", None), (36, "[psi]", None)]),
]


@pytest.mark.parametrize(("text", "readings"), TWICE)
def test_a_value_said_again_in_another_unit_is_one_reading(tied, text, readings):
    found = [item for item in tied(text) if item.kind == "reading"]
    assert [(i.quantity.value, i.quantity.unit, i.second.value if i.second else None) for i in found] == readings


BARE = [
    # a bare number goes to no test that cannot show it
    ("Oil pressure 2.4 bar hot at 3000, hot idle 0.6.", "bar"), ("Earth strap drop 0.05.", "V"), ("Earth strap drop 60.", "mV"), ("Valve clearance exhaust nineteen.", "[mil_i]"), ("Valve clearance exhaust 0.25.", "mm"),
    ("Tyre pressure thirty one.", "[psi]"), ("Tyre pressure 2.3.", "bar"), ("Points gap fifteen.", "[mil_i]"), ("Lambda 14.7.", "1"),
]


@pytest.mark.parametrize(("text", "unit"), BARE)
def test_the_unit_of_a_bare_number_is_one_that_its_test_can_show(tied, text, unit):
    assert [item for item in tied(text) if item.kind == "reading"][-1].quantity.unit == unit


CONDITIONS = [
    ("Static 2.95 bar, idle 2.4 bar.", [{"engine": "off"}, {"engine": "idle"}]),
    ("Pump jumpered 2.9 bar, idling 2.5 bar.", [{"engine": "off"}, {"engine": "idle"}]),
    ("Fuel pressure at idle 2.4 bar, vacuum line off and it rises 0.4 bar.", [{"engine": "idle"}, {"engine": "idle", "vacuum_line": "off"}]),
    ("Charging no load 13.9 V, everything on 12.9 V.", [{"load": "off"}, {"load": "on"}]),
    ("Fuel pressure 2.4 bar idle.", [{"engine": "idle"}]),
    ("Fuel pressure 2.9 bar, engine off.", [{"engine": "off"}]),
]


@pytest.mark.parametrize(("text", "conditions"), CONDITIONS)
def test_a_condition_between_two_figures_is_the_next_ones(tied, text, conditions):
    found = [item for item in tied(text) if item.kind == "reading"]
    assert [dict(item.condition) for item in found] == conditions


SIDES = [
    ("Compression: left is number one. Left 134 psi, right 98 psi.", ["1", "2"]),
    ("Right hand, that's number two, compression 98 psi, left 134 psi.", ["2", "1"]),
    ("Compression left 134 psi, right 98 psi.", [None, None]),
    ("Tyres left front 32 psi, right front 31 psi.", ["front-left", "front-right"]),
]


@pytest.mark.parametrize(("text", "places"), SIDES)
def test_a_cylinder_is_no_wheels_corner(tied, text, places):
    assert [item.position for item in tied(text) if item.kind == "reading" and item.quantity] == places


WATCHED = [
    ("Fuel pump runs smooth.", "fuel-pump.runs"), ("Vacuum hoses all tight, no leaks.", "vacuum-hose.leaks"), ("Fuse beeps out fine.", "fuse.continuity"),
    ("Fan relay, coil clicks every time.", "relay.operates"),
    ("Airflow meter is clean.", None), ("Water pump is tight.", None),
]


@pytest.mark.parametrize(("text", "test"), WATCHED)
def test_what_is_heard_and_watched_goes_to_the_parts_test(tied, text, test):
    found = [item for item in tied(text) if item.kind == "reading"]
    assert [item.test for item in found][:1] == [test]
AT_REST = [
    ("Battery 12.6 V at rest.", "battery.open-circuit-voltage"), ("Battery 14.2 V.", "alternator.charging-voltage"), ("Battery 13.6 V resting.", "battery.open-circuit-voltage"),
    ("Battery 28.2 V.", "alternator.charging-voltage"), ("Battery 25.3 V.", "battery.open-circuit-voltage"), ("Battery 126 V.", "battery.open-circuit-voltage"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "test"), AT_REST)
def test_what_no_battery_shows_at_rest_is_what_it_is_charged_with(tied, text, test):
    (item,) = [item for item in tied(text) if item.quantity is not None]
    assert item.test == test


SAID_FOR = [
    # text, then test and unit of its last limit
    ("Coil primary 0.8 ohms, secondary 15 kilohms. Spec is 0.6 to 1 for the primary and 9 to 11 for the secondary.", ("ignition-coil.secondary-resistance", "kOhm")),
    ("Manifold vacuum 17 inches and the needle flickers. Should be 18 to 21.", ("intake-manifold.vacuum", "[in_i'Hg]")),
    ("Coil primary 0.8 ohms, spec is 0.6 to 1.", ("ignition-coil.primary-resistance", "Ohm")),
    ("Clutch free play 2 inches. Should be 1 inch.", ("clutch.free-play", "[in_i]")),
]


@pytest.mark.parametrize(("text", "limit"), SAID_FOR)
def test_a_limit_is_of_the_test_that_it_is_said_for(tied, text, limit):
    last = [item for item in tied(text) if item.kind == "expected"][-1]
    assert (last.test, last.quantity.unit) == limit


STATES = [
    ("Battery standing 12.6 V, and it falls to 8.4 V when you crank it.", ["battery.open-circuit-voltage", "battery.cranking-voltage"]),
    ("Batteries 12.5 V each, cranking 8.1 V.", ["battery.open-circuit-voltage", "battery.cranking-voltage"]),
    ("Starting volts at the battery 9.8 V, standing 12.6 V.", ["battery.cranking-voltage", "battery.open-circuit-voltage"]),
    ("Battery 12.4 V after a night stood, and with the key held over it stays at 11.9 V.", ["battery.open-circuit-voltage", "battery.cranking-voltage"]),
    ("Battery 12.6 V standing, 11.2 V the day after.", ["battery.open-circuit-voltage", "battery.open-circuit-voltage"]),
    ("Battery 12.6 V. Charged it, 12.9 V. Cranks well.", ["battery.open-circuit-voltage", "battery.open-circuit-voltage"]),
    ("Battery is 12.6 V and drops to 9.1 V cranking.", ["battery.open-circuit-voltage", "battery.cranking-voltage"]),
    ("battery twelve point one volts engine running fourteen point two volts", ["battery.open-circuit-voltage", "alternator.charging-voltage"]),
    ("Battery cranking 9.8 V, then 9.2 V hot.", ["battery.cranking-voltage", "battery.cranking-voltage"]),
]


@pytest.mark.parametrize(("text", "tests"), STATES)
def test_a_battery_at_rest_and_one_that_cranks_are_told_by_the_words_beside(tied, text, tests):
    assert [item.test for item in tied(text) if item.quantity is not None] == tests


RISES = [
    ("Fuel pressure 2.5 bar at idle. Vacuum hose off and pressure goes up 0.5 bar.", "fuel-pressure-regulator.vacuum-response", "bar"),
    ("Rail 2.4 bar idling, vacuum pipe off it goes up nought point four.", "fuel-pressure-regulator.vacuum-response", "bar"),
    ("Fuel pressure 2.5 bar at idle. Vacuum hose off and pressure goes up to 3.0 bar.", None, "bar"),
    ("Fuel pressure 0.5 bar at idle with the vacuum hose on.", None, "bar"),
]


@pytest.mark.parametrize(("text", "test", "unit"), RISES)
def test_what_a_pressure_rises_by_is_the_regulators(tied, text, test, unit):
    last = [item for item in tied(text) if item.quantity is not None][-1]
    assert last.quantity.unit == unit
    assert (last.test == "fuel-pressure-regulator.vacuum-response") == (test is not None)


OF_ANOTHER = [
    ("Pump plug drops 300 mV.", "connector.voltage-drop"), ("Pump plug 11.8 V.", "fuel-pump.supply-voltage"), ("New front discs and pads going on. Old ones off: NS 16.5 mm.", "brake-disc.thickness"),
    ("Front discs and pads off. Pads 4 mm.", "brake-pad.thickness"), ("Front discs 22 mm. Pads 31 mm.", "brake-pad.thickness"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "test"), OF_ANOTHER)
def test_a_number_that_only_another_part_shows(tied, text, test):
    assert [item.test for item in tied(text) if item.quantity is not None][-1] == test


NOT_ITS_OWN = [
    # text, then the tests of its readings
    ("Clutch friction plates 2.9 mm, min 3.2.", [None]), ("Clutch springs 42 mm, scrap under 41.", [None]), ("Clutch: frictions 2.8, 2.9, 2.8 mm.", [None, None, None]),
    ("Clutch plates fine. Free play 3 mm.", ["clutch.free-play"]), ("Clutch lever play 3 mm, springs 40 mm.", ["clutch.free-play", None]),
    ("Camber 0.5 degrees, castor 3.2 degrees.", ["wheel-alignment.camber", None]), ("Coil minus 0.2 V with the points shut.", [None]), ("Coil plus 12.1 V, coil minus 0.2 V.", ["ignition-coil.supply-voltage", None]),
    ("Thermostat starts to open at 82 C, fully open at 95 C.", ["thermostat.opening-temperature", None]), ("Airflow meter supply 12.2 V, signal 0.9 V at idle.", [None, "air-flow-meter.voltage"]),
    ("TPS reference 5.0 V, closed 0.5 V.", [None, "throttle-position-sensor.voltage"]), ("Head warp 0.05 mm. Liners 0.04 mm proud.", ["cylinder-head.flatness", None]),
    ("Crank end float 0.12 mm.", ["crankshaft.end-float"]), ("Coil feed 12.1 V.", ["ignition-coil.supply-voltage"]),
]


@pytest.mark.parametrize(("text", "tests"), NOT_ITS_OWN)
def test_what_is_measured_on_a_part_and_is_none_of_its_tests(tied, text, tests):
    assert [item.test for item in tied(text) if item.quantity is not None and item.kind == "reading"] == tests


FUEL_STATES = [
    ("Fuel static 3.0 bar. Idle 2.5 bar, vac line off it rises 0.4 bar. 10 min after stop 0.9 bar.", "fuel-rail.hold-pressure"),
    ("Fuel static 3.0 bar. Feed clamped, 10 min, 2.4 bar.", "fuel-rail.hold-pressure"), ("Fuel system pressure 2.6 bar idling.", "fuel-rail.running-pressure"),
    ("Fuel pump bridged, 2.95 bar. At idle 2.4 bar, and ten minutes after stopping, 2.1 bar.", "fuel-rail.hold-pressure"), ("Fuel idle 2.4 bar, static 3.0 bar.", "fuel-rail.static-pressure"),
    ("Fuel pressure at idle 2.4 bar, vac off it goes up 0.5 bar.", "fuel-pressure-regulator.vacuum-response"), ("Fuel pump bridged, 3.0 bar.", "fuel-rail.static-pressure"),
    ("Fuel lift pump 0.3 bar.", None), ("Fuel return flow with the pump on, 1.2 L/min.", "fuel-return-line.flow"), ("Fuel pump delivery 1.2 L/min.", "fuel-pump.flow"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "test"), FUEL_STATES)
def test_a_fuel_figure_goes_by_the_state_it_was_read_in(tied, text, test):
    assert [item.test for item in tied(text) if item.quantity is not None][-1] == test


PEDALS = [
    ("Brakes long. Pedal free play 35 mm.", None), ("Clutch drags. Pedal free play 35 mm.", "clutch.free-play"), ("Brakes fine. Clutch pedal free play 35 mm.", "clutch.free-play"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "test"), PEDALS)
def test_a_brake_pedals_play_is_no_clutchs(tied, text, test):
    assert [item.test for item in tied(text) if item.quantity is not None] == [test]


ELSEWHERE = [
    # text, then the component and the test of its last reading
    ("Charging 14.2 V, so charging's fine. At the headlamp I've only got 10.6 V.", None, None), ("Battery 12.6 V. The fridge pulls 7.5 A.", None, None),
    ("Fuel pump feed 6.8 V, at the relay in 12.4 V.", "fuel-pump-relay", None), ("Coil plus 11.2 V, and the ignition module's got 11.4 V.", "ignition-module", None),
    ("Alternator out. At the battery 14.2 V.", "alternator", "alternator.charging-voltage"), ("Charging 13.8 V at 3000, headlamp on 13.6 V.", "alternator", "alternator.charging-voltage"),
    ("Lighter socket has 12.1 V.", "connector", None), ("Lighter socket drops 0.4 V.", "connector", "connector.voltage-drop"), ("Plus lead drops 7.2 V.", "connector", "connector.voltage-drop"),
    ("Fuel pump gets 11.9 V.", "fuel-pump", "fuel-pump.supply-voltage"),
]


@pytest.mark.parametrize(("text", "component", "test"), ELSEWHERE)
def test_volts_read_at_another_part_are_none_of_this_ones(tied, text, component, test):
    last = [item for item in tied(text) if item.quantity is not None][-1]
    assert (last.component, last.test) == (component, test)


STEPS = [
    # text, then the component of its next step
    ("Compression 1 150, 2 120 psi. Tyres 32 psi all round. Redo no 2.", "cylinder"), ("Injector 1 15.2, 2 3.1 ohms. Fuel pump fine. Send 2 for test.", "injector"),
    ("Manifold vacuum 31 inHg at idle. Check it with the other gauge.", "intake-manifold"), ("Change the fuel filter, then measure delivery.", "fuel-pump"), ("Check the charging tomorrow.", "alternator"),
    ("Manifold vacuum 31 inHg at idle. Order a fuel filter.", "fuel-filter"), ("Battery 11.2 V. Put it on charge overnight.", "battery"), ("Toe 4 mm. Then align it again.", "wheel-alignment"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component"), STEPS)
def test_a_next_step_is_about_what_it_points_at(tied, text, component):
    assert [item.component for item in tied(text) if item.kind == "todo"][-1:] == [component]


JUDGED = [
    ("Points gap is spot on.", "contact-breaker.gap"), ("Tracking's spot on.", "wheel-alignment.toe"), ("Points are spot on.", None), ("Thermostat stuck open.", None),
    ("Number two injector spray is poor, good on the rest.", "injector.spray"),
    ("Number three injector doesn't spray at all.", "injector.spray"), ("Earth strap looks fine.", None), ("Plug three was loose.", None), ("Plug three was black.", "spark-plug.condition"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "test"), JUDGED)
def test_a_verdict_without_a_number_goes_to_the_test_that_it_names(tied, text, test):
    found = [item for item in tied(text) if item.kind == "reading"]
    assert [item.test for item in found][:1] == [test]


ABOUT = [
    # text, then the component of its last finding or remark
    ("The head's warped seven thou, it's cracked between the valves.", "reading", "cylinder-head"),
    ("Injectors I had out on the rail, all four bone dry.", "reading", "injector"), ("Rail is bone dry.", "reading", "fuel-rail"),
    ("Earth strap from engine to body missing. Made one up and fitted it.", "action", "ground-strap"),
    ("Ballast resistor 4.8 ohms hot. That's what's killing the spark.", "suspect", "ballast-resistor"),
    ("Exchange alternator is on. Order a seal for the unit.", "todo", "alternator"), ("Neutral switch wire open circuit at the footrest.", "reading", "wiring-harness"),
    ("Fan never comes on. Jumped it at the plug.", "action", "radiator-fan"), ("Fan never comes on. Cleaned the fuse holder.", "action", "connector"),
]


@pytest.mark.parametrize(("text", "kind", "component"), ABOUT)
def test_what_is_spoken_of_is_no_mere_place(tied, text, kind, component):
    found = [item for item in tied(text) if item.kind == kind and item.quantity is None]
    assert [item.component for item in found][-1:] == [component]


# common practice, no source: a drop along a cable is a tenth of a volt or so, said in either unit
DROPS = [(0.4, "V"), (0.05, "V"), (1.9, "V"), (2.2, "V"), (60, "mV"), (110, "mV"), (12, "mV"), (0, "mV"), (-3, "mV")]


@pytest.mark.parametrize(("number", "unit"), DROPS)
def test_a_bare_drop_is_in_the_unit_that_makes_it_usual(catalogue, number, unit):
    assert unit_for(catalogue.tests["ground-strap.voltage-drop"], None, number) == unit


DEEDS = [
    # text, then the component of its deed
    ("Ignition timing 46 degrees at 4000. Pulled it back to 38.", "distributor"), ("Idle speed 1400 rpm. Turned it down to 900 rpm.", "engine"),
    ("Plug gap 0.9 mm. Cleaned the points.", "contact-breaker"), ("Wheel bearing end play 0.12 mm. Adjusted it.", "wheel-bearing"),
    ("Water ran out of the crank sensor plug. Blew it out with the air line.", "connector"), ("Replaced it with a new fuel filter.", "fuel-filter"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "component"), DEEDS)
def test_a_deed_that_names_no_part_is_done_to_what_was_measured_last(tied, text, component):
    found = [item for item in tied(text) if item.kind == "action"]
    assert [item.component for item in found][:1] == [component]


NEXT = [
    ("Plus cable drop 1.9 V, earth side 0.8 V.", ["connector.voltage-drop", "ground-strap.voltage-drop"]),
    ("Fuel, idle 2.6 bar. Battery 12.6 V, cranking 9.8 V.", ["fuel-rail.running-pressure", "battery.open-circuit-voltage", "battery.cranking-voltage"]),
    ("Kill switch, 0.05 V across it.", [None]), ("Mainshaft end float 0.45 mm.", [None]), ("Crank end float 0.45 mm.", ["crankshaft.end-float"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "tests"), NEXT)
def test_a_name_belongs_to_the_number_that_it_is_said_of(tied, text, tests):
    assert [item.test for item in tied(text) if item.kind == "reading" and item.quantity] == tests
# fmt: on
