"""Which one of several, where it is told by another one, by its row, after it, or by what was said before."""

import pytest


@pytest.fixture(scope="session")
def shape(found):
    return lambda text: [place.value for place in found(text).places if place.kind != "axle"]


# fmt: off
PLACES = [
    ("camber left -0.5 deg, -0.4 other side", ["front-left", "front-right"]), ("floats 24 mm on carb one, 26.5 on the other one", ["1", "2"]), ("nearside rear 1.2, other rear the same", ["rear-left", "rear-right"]),
    ("leak-down on that third one's 26 percent", ["3"]), ("floats are 24 and 26 millimetres, one and two.", [None]), ("bores, one is 86.02, two 86.02, three 86.03", ["1", "2", "3"]), ("comp 1 175, 2 178, 3 149, 4 176. 3 again wet, 172", ["1", "2", "3", "4", "3"]),
    ("number one 141, one thirty seven on number two", ["1", "2"]), ("24 mm on one, two is the same", ["1", "2"]), ("shoes oil soaked on the right.", ["rear-right"]), ("discs, the left's 26.2 and the right's 26.3", ["front-left", "front-right"]),
    ("coil primary, 1 to 15: 0.75 ohm", ["1-15"]), ("crank sensor pins 1 and 2: 1.62k", ["1-2"]), ("nine ohms across pins one and three", ["1-3"]), ("injectors 1 to 6, ohms: 14.2, 14.3, 14.1", [None]),
    ("specific gravity one to six one point two three one point two four", [None]), ("plug one's black, that one reads eighty K", ["1", "1"]), ("blew them all up to 3.2 bar", ["all"]), ("gap's 0.65 on the pair of them", ["all"]), ("plugs are all sooty", ["all"]),
    ("compression one's 12.4 bar, two twelve point five", ["1", "2"]), ("leak down two thirty percent", ["2"]), ("carb 2 float 25.8 mm, 1 is 24.1", ["2", "1"]), ("back axle, hub seal weeping on the left", ["rear-left"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "values"), PLACES)
def test_places_told(shape, text, values):
    assert shape(text) == values


NO_PLACES = [
    "some other side of the story",
    "the first thing to do",
    "third time this month",
    "one is enough",
    "it is all right",
    "all the way home",
    "one to six weeks",
    "on the one hand it is fine",
    "the wires are all there",
    "that one is fine",
    "the back end of the shed",
    "two and a half bar",
    "one or two",
]


@pytest.mark.parametrize("text", NO_PLACES)
def test_no_places_told(shape, text):
    assert shape(text) == []


AGAIN = [
    ("NSF pads 6 mm, same on the OSF.", [(6, "front-left"), (6, "front-right")]),
    ("Front nearside pad's got eight mil on it, same the other side.", [(8, "front-left"), (8, "front-right")]),
    ("Tread nearside rear 1.2 mm, other rear the same.", [(1.2, "rear-left"), (1.2, "rear-right")]),
    ("Float's 24 mm on one, two is the same.", [(24, "1"), (24, "2")]),
    ("Disc runout on the left 0.02 mm, same other side.", [(0.02, "front-left"), (0.02, "front-right")]),
    # nothing is told again
    ("NSF pads 6 mm. Same customer as last week.", [(6, "front-left")]),
    ("AC low 0.4 bar, both the same.", [(0.4, None)]),
    ("Front left tyre 2.1 bar. The right one is the same make.", [(2.1, "front-left")]),
    ("NSF pads 6 mm, other side not looked at.", [(6, "front-left")]),
]


@pytest.mark.parametrize(("text", "readings"), AGAIN)
def test_a_value_told_again_of_another_place(drafted, text, readings):
    found = [item for item in drafted(text) if item.kind == "reading" and item.quantity is not None]
    assert [(item.quantity.value, item.position) for item in found] == readings


ROWS = [
    (
        "Compression 1 12.0 bar 174 psi, 2 12.3 bar 178 psi, 3 12.1 bar 176 psi.",
        [(12.0, "1"), (12.3, "2"), (12.1, "3")],
    ),
    ("Leakdown on four thirty one percent.", [(31, "4")]),
    (
        "Okay, front brakes. Left disc 24.1 mm, the other one twenty four point three millimetres.",
        [(24.1, "front-left"), (24.3, "front-right")],
    ),
    ("Discs 0.744 NS, 0.740 in OS.", [(0.744, "front-left"), (0.74, "front-right")]),
    ("Oil pressure hot at two thousand three point one bar.", [(3.1, None)]),
    ("Boost 0.9 bar in third, 0.7 in fourth.", [(0.9, None), (0.7, None)]),
    ("Front tyre 3.2 bar (46 psi) all round.", [(3.2, "all")]),
    ("Coil one primary 4.1 ohms, secondary 11.6 k, coil two 4.2 ohms.", [(4.1, "1"), (11.6, "1"), (4.2, "2")]),
]


@pytest.mark.parametrize(("text", "readings"), ROWS)
def test_rows(drafted, text, readings):
    found = [item for item in drafted(text) if item.kind == "reading" and item.quantity is not None]
    assert [(item.quantity.value, item.position) for item in found] == readings


# fmt: on
