"""Which one of several."""

import pytest


@pytest.fixture(scope="session")
def shape(found):
    """The places of a text as the words do not matter: their values in order, None for several at once."""
    return lambda text: [place.value for place in found(text).places if place.kind != "axle"]


# fmt: off
PLACES = [
    ("cylinder 3 is down", ["3"]), ("cyl 3", ["3"]), ("#3 is wet", ["3"]), ("no. 3 is wet", ["3"]), ("number three is wet", ["3"]), ("injector 3 leaks", ["3"]),
    ("number 3 injector leaks", ["3"]), ("plug 2 is black", ["2"]), ("lead 4", ["4"]), ("cylinder twelve", ["12"]), ("pot 2", ["2"]),
    ("leakdown on 3 is bad", ["3"]), ("front left disc", ["front-left"]), ("left front disc", ["front-left"]), ("rear right pad", ["rear-right"]), ("NSF tyre", ["front-left"]),
    ("OSF tyre", ["front-right"]), ("NSR tyre", ["rear-left"]), ("OSR tyre", ["rear-right"]), ("nearside front tyre", ["front-left"]), ("offside rear tyre", ["rear-right"]),
    ("front n/s pad", ["front-left"]), ("rear o/s pad", ["rear-right"]), ("front nearside pad", ["front-left"]), ("FL 32 FR 31", ["front-left", "front-right"]),
    ("front discs, left 22, right 21", ["front-left", "front-right"]), ("passenger side front tyre", ["front-left"]), ("driver's side front tyre", ["front-right"]),
    ("inner pad", ["inner"]), ("outer pad", ["outer"]), ("inlet valve clearance 0.2", ["intake"]), ("exhaust valve clearance 0.3", ["exhaust"]),
    ("all four injectors are dry", ["all"]), ("all six injectors", ["all"]), ("32 psi all round", ["all"]), ("each one is dry", ["all"]), ("the lot are dry", ["all"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "values"), PLACES)
def test_places(shape, text, values):
    assert shape(text) == values


AFTER_AND_SHORT = [
    ("discs L 22.1, R 21.8 mm", ["front-left", "front-right"]), ("rear discs L 10.1 R 9.8", ["rear-left", "rear-right"]), ("runout: L 0.05, R 0.13 mm", ["front-left", "front-right"]),
    ("R disc has a lip on it", ["front-right"]), ("discs seventeen point three near and seventeen point two off", ["front-left", "front-right"]),
    ("plugs all sooty", ["all"]), ("injectors all dry", ["all"]), ("1.265 in all the cells", ["all"]), ("fat and blue both sides", ["all"]),
    ("valve clearances inlets all 0.25", ["intake"]), ("valve clearances 0.25 all inlets, 0.28 all exhausts", ["intake", "exhaust"]),
    ("plugs 1 tan, 2 a bit oily", ["1", "2"]), ("leads 1 6.2k, 2 OL, 3 6.0k", ["1", "2", "3"]), ("leakdown 7 45%, 6 5%", ["7", "6"]), ("injectors 1-4 15.3, 15.2, 15.4, 15.1", [None]),
    ("leads, one to four, 5.1, 4.8, 5.3 and 14", [None]), ("pins 1-15 of the coil 0.7 ohm", ["1-15"]), ("2 >> 188, good", ["2"]), ("rear left pad inner 6 mm", ["rear-left", "inner"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "values"), AFTER_AND_SHORT)
def test_places_said_short_or_after_their_value(shape, text, values):
    assert shape(text) == values


BY_THE_WAY = [
    ("12.2 on one, twelve point zero on two", ["1", "2"]), ("12.1 volts on number one and twelve point one on two", ["1", "2"]), ("comp 3 now 365", ["3"]), ("relay coil 72 ohm 85-86", ["85-86"]),
    ("brakes at the back, left drum 229.3, right drum 229.9", ["rear-left", "rear-right"]), ("left drum 229", ["rear-left"]), ("left disc 22", ["front-left"]), ("shoes L 4, R 0.8 mm", ["rear-left", "rear-right"]),
    ("camber L -0.2, R -0.4 deg", ["front-left", "front-right"]), ("RR disc 10. that corner again 10", ["rear-right", "rear-right"]), ("0.12 mil across the board", ["all"]),
    ("the same side again", []), ("at the back of the engine, left 3", ["front-left"]), ("comp 3 bar", []), ("30-40 wanted", []), ("all across the yard", []),
]  # fmt: skip


@pytest.mark.parametrize(("text", "values"), BY_THE_WAY)
def test_places_said_by_the_way(shape, text, values):
    assert shape(text) == values


NO_PLACES = [
    "2.5 L of oil",
    "L is for loser",
    "5 l of coolant, 3 r",
    "it went off near the end",
    "turned it off",
    "lists all in order",
    "tyre worn on the inside edge",
    "inner track rod end loose",
    "2) gaps checked at the bench today",
    "tread same order 5, 5, 3, 4 mm",
    "pads left to right",
    "plugs 1.5 turns",
    "2.5 bar",
    "no 2 mm gap",
    "on 2.5 volts",
    "right, next job",
    "all right then",
    "that's right",
    "three bolts missing",
    "in 2 hours",
    "one of them",
    "on one side",
    "at 3000 rpm",
    "15 ohms",
    "no leaks",
    "number of miles",
    "back from the shop",
    "right up to the top",
    "on three point five volts",
    "12 volts",
    "the exhaust is loud",
    "0.8 bar",
]


@pytest.mark.parametrize("text", NO_PLACES)
def test_what_is_no_place(shape, text):
    assert [value for value in shape(text) if value is not None] == []


SEVERAL = ["injectors 1 and 2 leak", "cylinders 2 and 3 are down", "cylinders 1 to 4"]


@pytest.mark.parametrize("text", SEVERAL)
def test_several_at_once_name_no_one_place(shape, text):
    assert shape(text)[:1] == [None]


# fmt: on
