"""What the numbers around a number prove of it, what is told by the way, and which one of several a value is of."""

import pytest

# fmt: off
ROLES = [
    # a limit, a pair or a deed makes a reading; two units as well
    ("Third fork worn, 45 thou in the groove, max 20.", "R E"), ("Dwell, ninety four degrees and ninety two.", "R R"), ("Clutch free play 7 mm. Took that out to three.", "R R"),
    ("Belt deflection 18 mm, pulled it up to ten.", "R R"), ("Clutch play 6 mm, set it to 3.", "R R"), ("Floats 21 mm and 21.5 mm. Bent the tangs, that's twenty four on the pair of them.", "R R R"),
    ("Cooling system pressure test 1.0 bar held 15 min.", "R -"), ("Pressure test, 15 psi, down to 11 psi / 0.76 bar after 5 min.", "- R - -"),
    ("Sticker says plug gap 1.1 mm, plugs have 0.85 all four.", "E R"), ("Tyres front 28, rear 30, placard 32 and 36 psi.", "R R E E"), ("Cap marked 1.1 bar, lets go at 0.9.", "E R"),
    ("Leak-down 8 and 10 %, I stop at 15.", "R R E"), ("Battery 12.1 V at rest, 12.6 would be full.", "R E"),
    # and what proves nothing
    ("Servo pulled to 20, 19 inHg after 5 min.", "- R -"), ("Took the van to 3 garages.", "-"), ("Boost 0.7 bar / 10 psi, spec 1.1 to 1.3.", "R - E"),
    ("It goes up and down like it should, CO 0.3 %.", "R"), ("Cap rated 0.9 bar, lifts at 0.85.", "- R"),
]
TOLD = [
    "The plug caps are five K each, printed on them.", "Plug caps say five K each on them.", "The coils are marked three ohms.", "Order a fog lamp bulb, they're about three pounds.",
    "Fitted a new hose, one hundred and four pounds.", "Drum to order, 95 in parts.", "The seals are ten pounds a set.", "Injector flow bench booked, bench flow at 3 bar.", "Leak-down at 100 psi.", "Leak down at 100 psi.",
    "The fridge runs on twelve volts.", "Workshop at 20.", "Which manual is it, the 500?", "The man at the club put coils on it and said they were three ohms.", "Terminal 30 is corroded.", "Relay 30 to 87.",
]
MEASURED = [
    ("Front tyres thirty two pounds each.", 1), ("Compression 140 pounds on one.", 1), ("Battery on 12.4 volts.", 1), ("Fuel pressure at 3.1 bar.", 1), ("Number three is down at 120 psi compression.", 1), ("The coil reads three ohms.", 1), ("Injector resistance 15.3 ohms each.", 1),
]


@pytest.mark.parametrize(("text", "roles"), ROLES)
def test_what_stands_beside_it_proves_a_role(shape, text, roles):
    assert shape(text) == roles


@pytest.mark.parametrize("text", TOLD)
def test_told_by_the_way_is_no_reading(shape, text):
    assert "R" not in shape(text)


@pytest.mark.parametrize(("text", "readings"), MEASURED)
def test_what_only_looks_told_by_the_way(drafted, text, readings):
    assert sum(item.kind == "reading" and item.quantity is not None for item in drafted(text)) == readings


@pytest.fixture(scope="session")
def placed(drafted):
    """The readings of a text, each with its place: "57.12@1"."""
    return lambda text, sheet=None: " ".join(
        f"{item.quantity.value:g}@{item.position or ''}" if item.quantity is not None else f"{item.finding}@{item.position or ''}"
        for item in drafted(text, sheet) if item.kind == "reading"
    )


PLACED = [
    ("Crank pins 1 to 4: 57.12, 57.15, 57.14, 56.98 mm.", "57.12@1 57.15@2 57.14@3 56.98@4"), ("Leak-down at 100 psi, 1 to 4: 9, 38, 35, 8 %.", "9@1 38@2 35@3 8@4"), ("Mains 1 to 5, mm: 0.05, 0.05, 0.06, 0.05, 0.11", "0.05@1 0.05@2 0.06@3 0.05@4 0.11@5"),
    ("Leads, king lead 2.1 k, then 4.6, 4.9, 38, 5.5.", "2.1@ 4.6@1 4.9@2 38@3 5.5@4"), ("Leads, number one first: 5.1, 4.8, 5.3, 12 k.", "5.1@1 4.8@2 5.3@3 12@4"),
    ("Glow plugs 1 0.8, 2 0.9, 3 OL, 4 0.8 ohm.", "0.8@1 0.9@2 open_circuit@3 0.8@4"), ("Injectors 1 14.2, 2 open, 3 14.1, 4 14.3 ohm.", "14.2@1 open_circuit@2 14.1@3 14.3@4"),
    ("Linings are two millimetres left and one and a half right, minimum's one.", "2@front-left 1.5@front-right"), ("Tyres 27 psi both and the placard says 30.", "27@all"), ("Coil primary 1 4.2 ohm, sec 1 12.4 k.", "4.2@1 12.4@1"),
    ("Cylinder 1 150 psi, leak-down 8 %, cylinder 2 148 psi, leak-down 9 %.", "150@1 8@1 148@2 9@2"), ("Air-cooled twin. Bores 95.02, 95.03 mm.", "95.02@1 95.03@2"), ("pin 1 11.8 volts, pin four zero volts", "11.8@1 0@4"),
    ("Front right tyre 19 psi. Tread on that one's 2.1 mm.", "19@front-right 2.1@front-right"), ("Relay coil, 85 and 86 read 82 ohms.", "82@85-86"),
    # after a repair it is the one that was out
    ("Earth RL 2400 mV, RR 35 mV. Cleaned the plug, now 30 mV.", "2400@rear-left 35@rear-right 30@rear-left"), ("Play in the nearside bearing 0.2 mm, offside 0.03. Tightened it, 0.04 now.", "0.2@front-left 0.03@front-right 0.04@front-left"),
    ("Hub bearing end play RL 0.4, RR 0.1 mm. Shimmed it, 0.1.", "0.4@rear-left 0.1@rear-right 0.1@rear-left"),
    # no places
    ("Twin carbs. Leads 5.1, 5.2 k.", "5.1@ 5.2@"), ("Timing 12 degrees, I'd left the vacuum pipe on, 8 degrees.", "12@ 8@"),
]


@pytest.mark.parametrize(("text", "values"), PLACED)
def test_which_one_of_several_a_value_is_of(placed, text, values):
    assert placed(text) == values


def test_primaries_by_number_and_secondaries_in_order(placed):
    text = "Coil primaries 1 4.1, 2 4.0 ohm, secondaries 12.3 and 11.9 k."
    assert placed(text, "brindle-twin") == "4.1@1 4@2 12.3@1 11.9@2"


DEEDS = [
    ("RR tyre valve leaking. Fitted a new valve.", "rear-right"), ("Main jet 2 was half blocked, cleaned it.", "2"), ("Injector 5 drips, resistance 15 ohm. Send 5 away for cleaning.", "5"), ("Plug 3 oily. Cleaned the plugs.", None),
    ("Disc left 18.2, right 16.1 mm. Order a pair of discs.", None),
]


@pytest.mark.parametrize(("text", "place"), DEEDS)
def test_a_deed_is_done_at_the_place_found_last(drafted, text, place):
    deeds = [item for item in drafted(text) if item.kind in {"action", "todo"}]
    assert deeds[-1].position == place


UNITS = [
    ("Exhaust back pressure 3.9 psi at 2500, should be under one and a half.", "expected", "[psi]"), ("Pump pulls nine amps. New filter in, now it's sixty psi and pulls five and a half.", "reading", "A"),
    ("Crank sensor gap is, um, two, no, one point nine millimetres. Signal 0.3 volts. Bolted it down and the gap's nought point nine.", "reading", "mm"),
    ("Alternator belt 22 mm of slack, and it wants eight to twelve. Tightened it up, so it's ten now.", "reading", "mm"), ("Valves, stone cold, thou. Inlet 5, exhaust 7.", "reading", "[mil_i]"),
    ("Front axle, a millimetre and a half of play.", "reading", "mm"),
]


@pytest.mark.parametrize(("text", "role", "unit"), UNITS)
def test_the_unit_of_the_last_one(drafted, text, role, unit):
    assert [item.quantity.unit for item in drafted(text) if item.kind == role and item.quantity is not None][-1] == unit


VERDICTS = [
    ("Coil pri 0.8 ohm, sec 9.2 k, spec 0.6-1.0 and 8-12 k.", "in_spec in_spec"), ("Coil primary 0.8 ohm, secondary 9.2 k, should be 0.6 to 1.0 and 8 to 12.", "in_spec in_spec"),
    ("Coil primary 1.8 ohm, secondary 9.2 k, should be 0.6 to 1.0 and 8 to 12.", "out_of_spec in_spec"), ("Oil pressure 1.1 bar hot idle and 3.2 at 3000, limits 0.8 and 2.5.", "in_spec in_spec"), ("Oil pressure hot 1.1 bar, limit 1.5.", "out_of_spec"),
    ("Charging 15.3 V, limit 14.8.", "out_of_spec"), ("Oil pressure 0.8 bar idle, 3.9 at 3000, spec 3 to 5.", "in_spec in_spec"), ("Injectors 15.6, 15.5, 15.7, 0.2 ohm.", "in_spec in_spec in_spec out_of_spec"),
    ("Exhausts should be 0.30 to 0.35 mm. Valve clearances cold I have 0.28, 0.27, 0.28, 0.24 mm there.", "out_of_spec out_of_spec out_of_spec out_of_spec"),
    ("Charging voltage 13.5 V exactly, spec 13.5 to 14.8.", "in_spec"), ("Charging voltage 13.5 V, spec 13.5 to 14.8.", "too_close"), ("The belt is 17.2 mm wide, service limit is 18.5.", "out_of_spec"),
]


@pytest.mark.parametrize(("text", "words"), VERDICTS)
def test_the_limit_that_a_verdict_goes_by(drafted, text, words):
    assert " ".join(item.verdict.word for item in drafted(text) if item.kind == "reading") == words
# fmt: on
