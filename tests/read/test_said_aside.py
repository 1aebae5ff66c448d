"""What stands in a note beside what was measured: supplies, sizes of hardware, others' values, hours; and which words a number,
a place or a step takes.
"""

import pytest

# fmt: off
ASIDE = [
    "Fed it twelve volts straight from the battery and the fan still doesn't turn.", "Gave the motor 12 V off a jump pack, it spins.", "Put 12 V on the pump and it hums.", "New switch to order, 14 mm nut behind the cowl.",
    "Order shells, 10 thou under.", "Pistons 20 thou over.", "Brakes booked 10 June 8.30", "Job's number sixty one eighteen.", "He measured a hundred and fifty psi on both last winter.",
    "Air con. Fifteen hundred revs, compressor in.", "Coolant sensor, engine stood at twenty degrees.", "Number is stamped 4471 on the head.",
    "The place he went to first had the crank sensor at nine hundred ohms.", "The last lot had it down as 900 ohms, the crank sensor.",
]
MEASURED = [
    ("The sensor gave 12 V with the key on.", "R"), ("Put the meter on it, 12.4 volts at the battery.", "R"), ("Crank bearing 10 thou under the limit.", "R"), ("Disc 14 mm, nut's tight.", "R"), ("I measured 150 psi on both.", "R"),
    ("Fed from the battery, the pump pulls 5.2 A.", "R"), ("Closed should be point five volts, give or take point one, reads .52.", "E R"), ("Legs point nine point nine and point nine ohms.", "R R R"),
    ("Runout nearside 0.13, no wait, I had the clock on the rust, 0.16 mm.", "- R"), ("Runout 0.13 nearside, the clock was on the rust there, offside 0.16 mm.", "R R"), ("Leakdown 8, 9, 8, 38 percent.", "R R R R"),
    ("Idle hunts up to fifteen hundred revs.", "R"), ("Reset 1 to 24.0 mm, floats.", "R"), ("Idle set to 2 to 3 % CO.", "R"),
]
PLACED = [
    ("Float heights 1 25.5, 2 24.0 mm. Reset 1 to 24.0.", "1 2 1"), ("Front tread inner 1.2 outer 5.5 mm.", "inner outer"), ("Compression 1 165, 2 160, 3 168, 4 110 psi. Leak-down 3 is 31 %.", "1 2 3 4 3"),
]


@pytest.mark.parametrize("text", ASIDE)
def test_told_aside_is_no_reading(shape, text):
    assert "R" not in shape(text)


@pytest.mark.parametrize(("text", "roles"), MEASURED)
def test_measured_all_the_same(shape, text, roles):
    assert shape(text) == roles


@pytest.mark.parametrize(("text", "places"), PLACED)
def test_which_one_it_is_of(drafted, text, places):
    readings = [item for item in drafted(text) if item.kind == "reading" and item.quantity is not None]
    assert " ".join(item.position or "-" for item in readings) == places


@pytest.mark.parametrize(("text", "kinds"), [
    ("Book wants at least one bar at tickover, oil pressure.", {"expected"}), ("Plugs fine. Order nothing yet.", set()), ("Tyre low. Do it again with a proper gauge, and why is the vac so high?", {"question", "todo"}),
])  # fmt: skip
def test_what_is_asked_for(drafted, text, kinds):
    asked = {"todo", "question", "expected"}
    assert {item.kind for item in drafted(text)} & asked == kinds


@pytest.mark.parametrize(("text", "position"), [("Compression down on 4. Inlet valve on 4 then.", "4"), ("Both inlets tight, I suspect the inlet valves.", "intake")])
def test_a_suspects_place(drafted, text, position):
    assert [item.position for item in drafted(text) if item.kind == "suspect"] == [position]


@pytest.mark.parametrize(("text", "test"), [("Front 28, rear 34 psi.", "tyre.pressure"), ("Front 150, rear 148 psi.", "cylinder.compression")])
def test_pressures_by_axle(drafted, text, test):
    assert {item.test for item in drafted(text)} == {test}


@pytest.mark.parametrize(("text", "speed"), [
    ("Oil 3000 hot 4.1 bar.", 3000), ("Oil changed. Three thousand hot, three point nine bar.", 3000), ("Oil pressure. Hot, three thousand, 2.6 bar.", 3000), ("Oil 4.1 bar hot.", None), ("Compression 150 psi hot.", None),
])  # fmt: skip
def test_a_speed_beside_hot(drafted, text, speed):
    (item,) = [item for item in drafted(text) if item.kind == "reading" and item.quantity.unit in ("bar", "[psi]")]
    assert item.condition.get("speed_rpm") == speed


@pytest.mark.parametrize(("text", "test"), [
    ("Front pads fine. Clutch 6 mm.", "clutch.free-play"), ("Servo hose perished. Holds 19 inHg with a new one on.", None), ("Rail holds 2.1 bar after ten minutes.", "fuel-rail.hold-pressure"), ("10.1 volts on the battery with it churning.", "battery.cranking-voltage"),
    ("Thermostat cracked open at 88 degrees.", "thermostat.opening-temperature"),
])  # fmt: skip
def test_which_test_a_reading_is_of(drafted, text, test):
    items = [item for item in drafted(text) if item.kind == "reading" and item.quantity is not None]
    assert [item.test for item in items] == [test]


def test_what_cracks_open_is_not_cracked(drafted):
    assert all(item.finding != "cracked" for item in drafted("Thermostat cracked open at 88 degrees."))
