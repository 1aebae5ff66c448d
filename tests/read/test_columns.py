"""Limits by the column of a table that they stand in."""

import pytest

from cleansheet.read.columns import column_limits
from cleansheet.read.quantities import find_quantities
from cleansheet.read.words import words


def limits(text):
    toks = words(text)
    figures = find_quantities(toks, text)
    return [(text[figures[k].start : figures[k].end], side) for k, side in sorted(column_limits(toks, figures).items())]


# fmt: off
TABLES = [
    ("| item | NS | OS | min |\n| front disc mm | 24.8 | 24.6 | 24.0 |\n| front pad mm | 9 | 4 | 3 |", [("24.0", ">="), ("3", ">=")]),
    ("part | spec | found\nfloat | 24.0 | 21.8\ngap | 0.35 | 0.4", [("24.0", ""), ("0.35", "")]),
    ("Alignment, minibus. Before / spec / after\ntoe +5.5 mm / 0..2 / +1.0", [("0..2", "")]),
    ("item | max | got\nrunout | 0.1 | 0.05\nRoad test 12 miles.", [("0.1", "<=")]),
    ("| a | max. |\n| runout | 0.1 |", [("0.1", "<=")]),
]


@pytest.mark.parametrize(("text", "found"), TABLES)
def test_numbers_under_a_limits_heading(text, found):
    assert limits(text) == found


NONE = [
    "", "Disc 22.1 mm, min 20", "| item | left | right |\n| disc | 22 | 23 |", "front / rear / spare\n1 / 2 / 3", "2.5 / 2.6 / 2.7 bar, spec 2.5", "N/S / O/S\n12 / 13",
    "max 5 | min 3 | 4\n1 | 2 | 3", "the spec / book is lost\n1 / 2",
]


@pytest.mark.parametrize("text", NONE)
def test_no_limits_heading(text):
    assert limits(text) == []
# fmt: on
