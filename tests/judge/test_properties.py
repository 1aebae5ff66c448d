"""Laws of the verdict, whatever the numbers."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleansheet import units
from cleansheet.judge.bands import compare, reading_band, said_band
from cleansheet.terms import Quantity

UNITS = {
    "pressure": ["bar", "[psi]", "kPa", "[in_i'Hg]", "kgf/cm2"],
    "resistance": ["Ohm", "kOhm", "MOhm"],
    "length": ["mm", "[mil_i]", "[in_i]", "cm"],
    "torque": ["N.m", "[ft_i].[lbf_av]", "[in_i].[lbf_av]"],
    "temperature": ["Cel", "[degF]"],
    "voltage": ["V", "mV"],
}
number = st.floats(0.01, 1000).map(lambda value: float(f"{value:.4g}"))
gap = st.floats(0.001, 0.5).map(lambda value: float(f"{value:.3g}"))


@st.composite
def readings(draw):
    """A reading, its limits, and two units of one kind."""
    kind = draw(st.sampled_from(sorted(UNITS)))
    one, other = draw(st.sampled_from(UNITS[kind])), draw(st.sampled_from(UNITS[kind]))
    value, half = draw(number), draw(gap)
    low = draw(st.none() | number)
    high = draw(st.none() | number)
    if low is not None and high is not None and low > high:
        low, high = high, low
    return Quantity(value, value - half, value + half, one), (low, high), one, other


def based(ends, unit):
    low, high = ends
    low = -inf if low is None else units.to_base(low, unit)[0]
    high = inf if high is None else units.to_base(high, unit)[0]
    return low, high


def converted(quantity, unit):
    ends = (units.convert(end, quantity.unit, unit) for end in (quantity.value, quantity.low, quantity.high))
    return Quantity(*ends, unit)


@given(readings())
def test_a_verdict_does_not_depend_on_the_unit(case):
    quantity, ends, one, other = case
    limit = based(ends, one)
    assert compare(reading_band(quantity, one), limit) == compare(
        reading_band(converted(quantity, other), other), limit
    )


@given(readings(), st.floats(0, 10))
def test_a_wider_reading_is_never_surer(case, more):
    """Widening never turns too_close into in_spec, nor in_spec into out_of_spec or the other way."""
    quantity, ends, one, _ = case
    limit = based(ends, one)
    before = compare(reading_band(quantity, one), limit)
    after = compare(reading_band(quantity, one, slack=more), limit)
    assert after in (before, "too_close")


@given(readings(), st.floats(0.01, 100))
def test_reading_and_limit_scaled_together_keep_the_verdict(case, by):
    quantity, ends, _, _ = case
    low, high = (None if end is None else end * by for end in ends)
    scaled = Quantity(*(end * by for end in (quantity.value, quantity.low, quantity.high)), quantity.unit)
    plain = compare(said_band(quantity), (-inf if ends[0] is None else ends[0], inf if ends[1] is None else ends[1]))
    assert compare(said_band(scaled), (-inf if low is None else low, inf if high is None else high)) == plain


@given(number, gap, gap, gap)
def test_symmetric_limits_give_symmetric_verdicts(middle, tolerance, offset, half):
    limit = (middle - tolerance, middle + tolerance)
    above = (middle + offset - half, middle + offset + half)
    below = (2 * middle - above[1], 2 * middle - above[0])
    assert compare(above, limit) == compare(below, limit)


@given(readings())
def test_about_only_widens(case):
    quantity, _, _, _ = case
    about = Quantity(quantity.value, quantity.low, quantity.high, quantity.unit, approximate=True)
    plain, wide = said_band(quantity), said_band(about)
    assert wide[0] <= plain[0] + 1e-12
    assert wide[1] >= plain[1] - 1e-12


@given(readings())
def test_in_and_out_exclude_each_other(case):
    quantity, ends, one, _ = case
    low, high = reading_band(quantity, one)
    limit = based(ends, one)
    answer = compare((low, high), limit)
    middle = (low + high) / 2
    inside = limit[0] <= middle <= limit[1]
    if answer == "in_spec":
        assert inside or abs(middle - limit[0]) < 1e-6 * abs(middle) or abs(middle - limit[1]) < 1e-6 * abs(middle)
    if answer == "out_of_spec":
        assert not inside


@pytest.mark.parametrize("test_id", ["cylinder.compression", "brake-disc.runout", "cooling-system.temperature"])
@given(data=st.data())
def test_the_whole_judge_does_not_depend_on_the_unit(test_id, data, catalogue):
    from cleansheet.judge import judge
    from cleansheet.terms import Item, Note

    test = catalogue.tests[test_id]
    kind = units.kind(test.unit)
    other = data.draw(st.sampled_from([unit for unit in UNITS[kind] if unit != test.unit]))
    value = data.draw(st.floats(test.plausible.low, test.plausible.high).map(lambda one: round(one, 3)))
    exact = Quantity(value, value - 0.0005, value + 0.0005, test.unit)
    answers = [
        judge([Item("reading", 0, 1, quantity, None, test.component, test_id)], Note("x"), catalogue)
        .items[0]
        .verdict.word
        for quantity in (exact, converted(exact, other))
    ]
    assert answers[0] == answers[1]
