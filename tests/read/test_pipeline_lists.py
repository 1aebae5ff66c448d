"""Whole notes: one reading a position, however the list is said or written."""

import pytest

# fmt: off
FOUR = "150 [psi] cylinder.compression @1{0}; 148 [psi] cylinder.compression @2{0}; 152 [psi] cylinder.compression @3{0}; 120 [psi] cylinder.compression @4{0}"
SAID = FOUR.format("")
ASSUMED = FOUR.format(" !unit_assumed")
COMPRESSION = [
    ("Compression 150/148/152/120 psi.", SAID),
    ("Compression 150, 148, 152, 120 psi.", SAID),
    ("Compression 150, 148, 152 and 120 psi.", SAID),
    ("Compression 150 148 152 120 psi.", SAID),
    ("Compression (psi): 150, 148, 152, 120", SAID),
    ("Compression psi: 150 148 152 120", SAID),
    ("Compression: 150 psi, 148 psi, 152 psi, 120 psi.", SAID),
    ("Compression 1-150 2-148 3-152 4-120 psi", SAID),
    ("Compression: 1: 150, 2: 148, 3: 152, 4: 120 psi", SAID),
    ("Compression 1=150 2=148 3=152 4=120 psi", SAID),
    ("Compression #1 150 #2 148 #3 152 #4 120 psi", SAID),
    ("Compression one 150, two 148, three 152, four 120 psi.", SAID),
    ("Compression number one 150, number two 148, number three 152, number four 120 psi.", SAID),
    ("Compression cyl 1 150 psi, cyl 2 148, cyl 3 152, cyl 4 120.", SAID),
    ("Compression 150 psi on 1, 148 on 2, 152 on 3, 120 on 4.", SAID),
    ("Compression one fifty, one forty eight, one fifty two, one twenty psi.", SAID),
    ("Compression psi:\n1 150\n2 148\n3 152\n4 120", SAID),
    ("Compression 150, 148, 152, 120.", ASSUMED),
    ("Compression: 1-150 2-148 3-152 4-120", ASSUMED),
    ("Compression 150/148/152/120.", ASSUMED),
    ("compression one fifty one forty eight one fifty two one twenty", ASSUMED),
    ("Compression one fifty, one forty eight, one fifty two, one twenty.", ASSUMED),
    ("compression one one fifty two one forty eight three one fifty two four one twenty psi", SAID),
]


@pytest.mark.parametrize(("text", "items"), COMPRESSION)
def test_four_cylinders(said, text, items):
    assert said(text) == items


OTHER_LISTS = [
    ("Tyres 32 psi front left, 31 front right, 36 rear left and 35 rear right.", "32 [psi] tyre.pressure @front-left; 31 [psi] tyre.pressure @front-right; 36 [psi] tyre.pressure @rear-left; 35 [psi] tyre.pressure @rear-right"),
    ("Compression 150 psi on 1, 148 on 2 and 120 on 3.", "150 [psi] cylinder.compression @1; 148 [psi] cylinder.compression @2; 120 [psi] cylinder.compression @3"),
    ("Points gap fifteen thou number one fourteen number two.", "15 [mil_i] contact-breaker.gap @1; 14 [mil_i] contact-breaker.gap @2"),
    ("Discs L 22.1, R 21.8 mm.", "22.1 mm brake-disc.thickness @front-left; 21.8 mm brake-disc.thickness @front-right"),
    ("Rear discs: nearside 10.1, offside 9.8 mm. Pads 6 and 5 mm.", "10.1 mm brake-disc.thickness @rear-left; 9.8 mm brake-disc.thickness @rear-right; 6 mm brake-pad.thickness @rear-left; 5 mm brake-pad.thickness @rear-right"),
    ("Compression 1 12.0 bar (174), 2 12.3 bar (178), 3 11.8 bar (171).", "12 bar cylinder.compression @1; 12.3 bar cylinder.compression @2; 11.8 bar cylinder.compression @3"),
    ("Plug leads today, 1 to 4: 5.1, 4.8, 5.3, 6.0 kohm.", "5.1 kOhm ignition-lead.resistance @1; 4.8 kOhm ignition-lead.resistance @2; 5.3 kOhm ignition-lead.resistance @3; 6 kOhm ignition-lead.resistance @4"),
    ("Injector resistance 15.2, 15.4, 15.1, 15.3 ohms.", "15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2; 15.1 Ohm injector.resistance @3; 15.3 Ohm injector.resistance @4"),
    ("Injectors 15.2 ohms, 15.4, 15.1 and 15.3.", "15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2; 15.1 Ohm injector.resistance @3; 15.3 Ohm injector.resistance @4"),
    ("Injector flow 188, 186, 190, 171 cc a minute.", "188 mL/min injector.flow @1; 186 mL/min injector.flow @2; 190 mL/min injector.flow @3; 171 mL/min injector.flow @4"),
    ("Plug gaps 0.8, 0.8, 0.9, 0.8 mm.", "0.8 mm spark-plug.gap @1; 0.8 mm spark-plug.gap @2; 0.9 mm spark-plug.gap @3; 0.8 mm spark-plug.gap @4"),
    ("HT leads: 1 5.2k, 2 5.9k, 3 6.4k, 4 7.1k.", "5.2 kOhm ignition-lead.resistance @1; 5.9 kOhm ignition-lead.resistance @2; 6.4 kOhm ignition-lead.resistance @3; 7.1 kOhm ignition-lead.resistance @4"),
    ("Leakdown 8, 9, 8, 38 percent.", "8 % cylinder.leak-down @1; 9 % cylinder.leak-down @2; 8 % cylinder.leak-down @3; 38 % cylinder.leak-down @4"),
    ("Tyre pressures: FL 32, FR 31, RL 36, RR 35 psi.", "32 [psi] tyre.pressure @front-left; 31 [psi] tyre.pressure @front-right; 36 [psi] tyre.pressure @rear-left; 35 [psi] tyre.pressure @rear-right"),
    ("Tyres: front left 32 psi, front right 31, rear left 36, rear right 35.", "32 [psi] tyre.pressure @front-left; 31 [psi] tyre.pressure @front-right; 36 [psi] tyre.pressure @rear-left; 35 [psi] tyre.pressure @rear-right"),
    ("Pads: nearside front 6 mm, offside front 5 mm.", "6 mm brake-pad.thickness @front-left; 5 mm brake-pad.thickness @front-right"),
    ("Front discs, left 22.1 mm, right 21.8 mm.", "22.1 mm brake-disc.thickness @front-left; 21.8 mm brake-disc.thickness @front-right"),
    ("Pads on the front left: inner 6 mm, outer 5 mm.", "6 mm brake-pad.thickness @inner; 5 mm brake-pad.thickness @outer"),
    ("Valve clearances inlet 0.20 mm, exhaust 0.25 mm.", "0.2 mm valve-train.clearance @intake; 0.25 mm valve-train.clearance @exhaust"),
    ("Fuel pressure 2.9 bar static, 2.4 bar idle.", "2.9 bar fuel-rail.static-pressure; 2.4 bar fuel-rail.running-pressure"),
]


@pytest.mark.parametrize(("text", "items"), OTHER_LISTS)
def test_other_lists(said, text, items):
    assert said(text) == items


ALL = [
    ("All four injectors are dry.", "dry injector.leaks @all"),
    ("All six injectors are dry.", "dry injector.leaks @all"),
    ("All injectors read 15.2 ohms.", "15.2 Ohm injector.resistance @all"),
    ("All four plugs gapped at 0.8 mm.", "0.8 mm spark-plug.gap @all"),
    ("Tyre pressure 32 psi all round.", "32 [psi] tyre.pressure @all"),
    ("Compression is 150 psi on all four.", "150 [psi] cylinder.compression @all"),
    ("Plug gap 0.8 mm on each one.", "0.8 mm spark-plug.gap @all"),
]


@pytest.mark.parametrize(("text", "items"), ALL)
def test_all_of_them_is_one_reading(said, text, items):
    assert said(text) == items


NO_LIST = [
    ("Coil primary 0.7 ohms, secondary 8.1 kilohms.", "0.7 Ohm ignition-coil.primary-resistance; 8.1 kOhm ignition-coil.secondary-resistance"),
    ("Oil pressure 1.2 bar, 3.5 bar at 3000 rpm.", "1.2 bar oil-system.pressure; 3.5 bar oil-system.pressure"),
    ("Compression 150 to 152 psi on number two.", "150..152 [psi] cylinder.compression @2"),
    ("Tyre is a 215/70 R15, pressure 32 psi front left.", "32 [psi] tyre.pressure @front-left"),
    ("Injector 2 is 15.2 ohms.", "15.2 Ohm injector.resistance @2"),
    ("Number two injector 15.2 ohms.", "15.2 Ohm injector.resistance @2"),
    ("Two injectors out, crank sensor 850 ohms.", "850 Ohm crank-sensor.resistance"),
    ("Crank sensor 1-2 pins 850 ohms.", "850 Ohm crank-sensor.resistance @1-2"),
]


@pytest.mark.parametrize(("text", "items"), NO_LIST)
def test_what_is_no_list(said, text, items):
    assert said(text) == items


DITTO = [
    ('Injector 1 15.2 ohms\n  "   2 15.4\n  "   3 15.1', "15.2 Ohm injector.resistance @1; 15.4 Ohm injector.resistance @2; 15.1 Ohm injector.resistance @3"),
    ("Compression on one 150 psi. Two the same.", "150 [psi] cylinder.compression @1"),
    ("Compression number three is 120 psi. Number four 148.", "120 [psi] cylinder.compression @3; 148 [psi] cylinder.compression @4"),
    ("Number three is down at 120 psi compression.", "120 [psi] cylinder.compression @3"),
    ("Compression: 150 psi on the first three, 120 on number four.", "150 [psi] cylinder.compression; 120 [psi] cylinder.compression @4"),
]


@pytest.mark.parametrize(("text", "items"), DITTO)
def test_carried_over(said, text, items):
    assert said(text) == items
# fmt: on
