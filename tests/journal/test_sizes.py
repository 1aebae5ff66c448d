"""Sizes remembered on the disk are those of `cleansheet.units`, and a damaged memory is only slower."""

from __future__ import annotations

import pytest

from cleansheet import units
from cleansheet.journal import sizes

CODES = ["bar", "[psi]", "kPa", "[in_i'Hg]", "kOhm", "mV", "mA", "[mil_i]", "[degF]", "Cel", "N.m", "[ft_i].[lbf_av]", "{rev}/min", "L/min", "%", "1", "deg"]  # fmt: skip


@pytest.fixture(autouse=True)
def fresh(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    for cached in (sizes.size_of, sizes._file, sizes._kept):
        cached.cache_clear()
    yield
    for cached in (sizes.size_of, sizes._file, sizes._kept):
        cached.cache_clear()


@pytest.mark.parametrize("code", CODES)
def test_a_size_is_that_of_the_unit_table(code):
    for value in (-3.5, 0.0, 1.0, 42.0, 9400.0):
        expected, kind = units.to_base(value, code)
        for _ in range(2):  # computed, then out of the memory
            base, kind_too = sizes.to_base(value, code)
            assert kind == kind_too
            assert base == pytest.approx(expected, rel=1e-12, abs=1e-12)
            sizes.size_of.cache_clear()
            sizes._kept.cache_clear()


def test_the_memory_spares_the_conversion_library(monkeypatch):
    sizes.size_of("kOhm")
    sizes.size_of.cache_clear()
    sizes._kept.cache_clear()
    monkeypatch.setattr(units, "to_base", None)
    assert sizes.to_base(9.4, "kOhm") == (9400.0, "resistance")


@pytest.mark.parametrize("content", ["", "not json", "[]", '{"kOhm": 3}', '{"kOhm": ["x", 0, "resistance"]}'])
def test_a_damaged_memory_is_computed_again(content):
    sizes._file().parent.mkdir(parents=True, exist_ok=True)
    sizes._file().write_text(content)
    assert sizes.to_base(9.4, "kOhm") == (9400.0, "resistance")


def test_different_kinds_are_not_converted():
    assert sizes.convert(1.0, "bar", "Ohm") is None
    assert sizes.convert(1.0, "bar", "furlong") is None
    assert sizes.convert(9.4, "kOhm", "Ohm") == pytest.approx(9400.0)
    assert sizes.convert(100.0, "Cel", "[degF]") == pytest.approx(212.0)
