"""A limit's ends in base units, and which numbers are said in a unit that is left out."""

from math import inf

import pytest

from cleansheet.units import UnitError, interval, sayable


@pytest.mark.parametrize(
    ("low", "high", "code", "expected"),
    [
        (2.8, 3.2, "bar", (280_000.0, 320_000.0)),
        (2.8, None, "bar", (280_000.0, inf)),
        (None, 40, "Cel", (-inf, 40.0)),
        (32, 212, "[degF]", (0.0, 100.0)),
        (None, None, "mm", (-inf, inf)),
    ],
)
def test_the_ends_of_a_limit(low, high, code, expected):
    assert interval(low, high, code) == pytest.approx(expected)


def test_a_limit_in_no_unit_of_ours_is_refused():
    with pytest.raises(UnitError):
        interval(1.0, 2.0, "furlong")


@pytest.mark.parametrize(
    ("number", "code", "expected"),
    [
        (40, "mV", True),
        (0.4, "mV", False),
        (850, "{rev}/min", True),
        (13.1, "{rev}/min", False),
        (2.5, "[mil_i]", True),
        (0.25, "[mil_i]", False),
        (0.25, "mm", True),
        (14.2, "V", True),
    ],
)
def test_numbers_that_are_said_without_their_unit(number, code, expected):
    assert sayable(number, code) is expected
