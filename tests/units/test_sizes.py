"""The sizes that ship with the package are those of the conversion library."""

from __future__ import annotations

from cleansheet.units import table
from cleansheet.units.convert import _sizes, computed_size


def test_every_unit_of_the_table_has_its_size_in_the_package():
    assert set(_sizes()) == set(table().rows)


def test_shipped_sizes_are_those_of_the_conversion_library():
    assert {code: computed_size(code) for code in table().rows} == _sizes()
