"""Lists by position, cut where the places count up."""

import pytest

from cleansheet.read.lists import cut_lists, pairs_at
from cleansheet.read.quantities import find_quantities
from cleansheet.read.words import words


def pairs(text):
    toks = words(text)
    return [(pair.place, pair.number.value) for pair in pairs_at(toks, 0)]


# fmt: off
LISTS = [
    ("1 12.4, 2 12.1, 3 12.6, 4 8.9 bar", [("1", 12.4), ("2", 12.1), ("3", 12.6), ("4", 8.9)]),
    ("1 - 150, 2 - 148, 3 - 152", [("1", 150), ("2", 148), ("3", 152)]),
    ("1: 150 2: 148 3: 152", [("1", 150), ("2", 148), ("3", 152)]),
    ("1=5.2k 2=5.9k", [("1", 5.2), ("2", 5.9)]),
    ("one 150 two 148 three 152", [("1", 150), ("2", 148), ("3", 152)]),
    ("one one eighty eight two one eighty six", [("1", 188), ("2", 186)]),
    ("one nine, two eleven", [("1", 9), ("2", 11)]),
    ("3 150, 4 148", [("3", 150), ("4", 148)]),
    ("1 at 150, 2 at 148", [("1", 150), ("2", 148)]),
    ("1 15.2 ohms, 2 15.4 ohms", [("1", 15.2), ("2", 15.4)]),
]


@pytest.mark.parametrize(("text", "cut"), LISTS)
def test_pairs_count_up(text, cut):
    assert pairs(text) == [(place, pytest.approx(value)) for place, value in cut]


NO_LISTS = ["150, 148, 152, 120", "2.5 bar, 36 psi", "13 mm spanner", "one point five bar", "bar", "", "1", "4k7", "15 ohms and 16 ohms"]


@pytest.mark.parametrize("text", NO_LISTS)
def test_no_pairs(text):
    assert len(pairs(text)) < 2


FIGURES = [
    ("1 12.4, 2 12.1, 3 12.6, 4 8.9 bar", [12.4, 12.1, 12.6, 8.9], ["1", "2", "3", "4"]),
    ("compression one fifty, one forty eight", [150, 148], []),
    ("coil 0.7 ohms, secondary 8.1 k", [0.7, 8100], []),
    ("150/148/152/120", [150, 148, 152, 120], []),
]


@pytest.mark.parametrize(("text", "values", "places"), FIGURES)
def test_figures_and_places_of_a_text(text, values, places):
    toks = words(text)
    figures, found, _ = cut_lists(toks, find_quantities(toks, text))[:3]
    assert [figure.quantity.value for figure in figures] == pytest.approx(values)
    assert [place.value for place in found] == places
# fmt: on
