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


NO_PLACES = [
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
