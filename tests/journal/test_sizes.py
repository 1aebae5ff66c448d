"""Values in other units, for the journal: nothing instead of an error where units do not go together."""

from __future__ import annotations

import pytest

from cleansheet.journal import sizes


def test_different_kinds_are_not_converted():
    assert sizes.convert(1.0, "bar", "Ohm") is None
    assert sizes.convert(1.0, "bar", "furlong") is None
    assert sizes.convert(9.4, "kOhm", "Ohm") == pytest.approx(9400.0)
    assert sizes.convert(100.0, "Cel", "[degF]") == pytest.approx(212.0)


def test_the_same_unit_needs_no_table():
    assert sizes.convert(3.0, "furlong", "furlong") == 3.0
