"""Lists by position, cut where the places count up."""

import pytest

from cleansheet.read.lists import cut_lists, pairs_at
from cleansheet.read.quantities import find_quantities
from cleansheet.read.splits import split_figures
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

SPLIT = [
    ("one inlet nought point two two exhaust nought point two six two inlet nought point two four", [1, 0.22, 0.26, 2, 0.24]),
    ("points gap on one was point three six, on two point three five", [0.36, 2, 0.35]),
    ("cranking volts up from 8.9 to 10.3", [8.9, 10.3]), ("at fifteen hundred twenty five millivolts", [1500, 25]),
    ("Book: 10 min at idle", [10]), ("clutch play 22 mm, limits 15 and 25", [22, None]), ("limits 3.5 and 1200", [3.5, 1200]),
    # and what stays whole
    ("idle bounces from 650 to 1100", [None]), ("exhaust nought point two six two inlet", [0.262]), ("on two point three five", [2.35]),
    ("held for 10 min at idle", [10]), ("fifteen hundred and twenty five ohms", [1525]),
]


@pytest.mark.parametrize(("text", "values"), SPLIT)
def test_figures_that_hold_a_place_or_two_values_are_parted(text, values):
    toks = words(text)
    found = [figure.quantity.value for figure in split_figures(toks, find_quantities(toks, text))]
    assert found == [value if value is None else pytest.approx(value) for value in values]


def test_a_books_least_is_no_time():
    toks = words("Book: 10 min at idle")
    (figure,) = split_figures(toks, find_quantities(toks, "Book: 10 min at idle"))
    assert (figure.quantity.unit, figure.quantity.comparator, figure.end) == (None, ">=", 8)




@pytest.mark.parametrize(("text", "values", "places"), FIGURES)
def test_figures_and_places_of_a_text(text, values, places):
    toks = words(text)
    figures, found, _ = cut_lists(toks, find_quantities(toks, text))[:3]
    assert [figure.quantity.value for figure in figures] == pytest.approx(values)
    assert [place.value for place in found] == places
# fmt: on
