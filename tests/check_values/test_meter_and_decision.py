"""Check values 5 and 6: what a meter may be off, and whether a reading is proven good, proven bad, or neither.

Mark of each row: P-M published, from memory (arithmetic computed); P+C published, checked by computation; CP common
practice, no source.
"""

from __future__ import annotations

from math import sqrt

import pytest

from cleansheet.judge import Accuracy, conformance_probability, decide, judge, parse_accuracy, zones
from cleansheet.judge.accuracy import limit_of_error, standard_uncertainty
from cleansheet.judge.zones import DEFAULT_2017, combined
from cleansheet.terms import InputError, Item, Note, Quantity

METER = Accuracy(0.5, 2)

# Section 5, "±(0.5 % of reading + 2 digits)": makers' data sheets generally; CP, arithmetic computed.
# shown, step, limit of error, low, high, standard uncertainty
METERS = [
    (12.60, 0.01, 0.083, 12.517, 12.683, 0.0479),
    (12.35, 0.01, 0.08175, 12.26825, 12.43175, 0.0472),
    (0.450, 0.001, 0.00425, 0.44575, 0.45425, 0.00245),
    (0.6, 0.1, 0.203, 0.397, 0.803, 0.117),
    (14.8, 0.1, 0.274, 14.526, 15.074, 0.158),
]


@pytest.mark.parametrize(("shown", "step", "error", "low", "high", "u"), METERS)
def test_meter_accuracy(shown, step, error, low, high, u):
    found = limit_of_error(shown, step, METER)
    assert found == pytest.approx(error, rel=1e-9)
    assert (shown - found, shown + found) == pytest.approx((low, high), rel=1e-9)
    assert standard_uncertainty(found) == pytest.approx(u, rel=3e-3)


@pytest.mark.parametrize(("shown", "step", "error", "low", "high", "u"), METERS)
def test_the_step_is_that_of_the_last_digit_said(shown, step, error, low, high, u):
    assert METER.error(Quantity(shown, shown - step / 2, shown + step / 2, "V")) == pytest.approx(error, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "accuracy"),
    [
        ("±(0.5 % of reading + 2 digits)", Accuracy(0.5, 2)),
        ("0.5% + 2", Accuracy(0.5, 2)),
        ("+/- 1 %", Accuracy(1, 0)),
        ("0,8 % + 5 dgt", Accuracy(0.8, 5)),
        ("(1.0% rdg + 3d)", Accuracy(1.0, 3)),
    ],
)
def test_accuracy_as_data_sheets_write_it(text, accuracy):
    assert parse_accuracy(text) == accuracy


@pytest.mark.parametrize("text", ["", "good", "2 digits", "0.5 V", "% + 2", "0.5 % + two"])
def test_what_is_no_accuracy(text):
    with pytest.raises(InputError, match=r"0\.5 % \+ 2 digits"):
        parse_accuracy(text)


def test_meter_accuracy_widens_the_reading(catalogue):
    """The lesson of section 5: "14.8" on a 0.1 V step cannot be told from 15.0."""
    item = Item("reading", 0, 1, Quantity(14.7, 14.65, 14.75, "V"), None, "alternator", "alternator.charging-voltage")
    note = Note("x")
    assert judge([item], note, catalogue).items[0].verdict.word == "in_spec"
    for key in ("V", "voltage"):
        found = judge([item], note, catalogue, accuracy={key: METER}).items[0].verdict
        assert found.word == "too_close"
        assert "14.7 V (14.377 to 15.023)" in found.reason
    assert judge([item], note, catalogue, accuracy={"resistance": METER}).items[0].verdict.word == "in_spec"


# Section 6. JCGM 106:2012, 7.3.3, figures from memory, arithmetic computed: P-M.
EXAMPLES = [
    ("a Zener diode's voltage", -5.47, 0.05, None, -5.40, 0.9192, 0.92),
    ("a container's burst pressure", 509.7, 8.6, 490.0, None, 0.9890, 0.99),
]


@pytest.mark.parametrize(("example", "y", "u", "low", "high", "p", "printed"), EXAMPLES)
def test_conformance_probability(example, y, u, low, high, p, printed):
    stats = pytest.importorskip("scipy.stats")
    found = conformance_probability(y, u, low, high)
    assert found == pytest.approx(p, abs=5e-5)
    assert round(found, 2) == printed
    by_scipy = stats.norm.cdf((high - y) / u) if high is not None else stats.norm.cdf((y - low) / u)
    assert found == pytest.approx(float(by_scipy), rel=1e-9)


def test_example_a_lower_limit():
    """Fuel pressure at least 2.40 bar, "2.5 bar" said, gauge of class 1.0 with 10 bar full scale. Computed: P+C."""
    u = combined(0.10 / sqrt(3), 0.05 / sqrt(3))
    assert (0.10 / sqrt(3), 0.05 / sqrt(3), u) == pytest.approx((0.0577, 0.0289, 0.0645), abs=6e-5)
    where = zones(2.40, None, u)
    assert (where.accept_low, where.low - where.guard) == pytest.approx((2.529, 2.271), abs=6e-4)
    assert decide(2.5, where) == "too_close"
    assert decide(2.6, where) == "in_spec"
    assert decide(2.2, where) == "out_of_spec"
    assert decide(2.5, zones(2.40, None, 0)) == "in_spec"  # simple acceptance, JCGM 106, 8.2
    assert conformance_probability(2.5, u, 2.40) == pytest.approx(0.939, abs=5e-4)


def test_example_b_upper_limit():
    """Disc run-out at most 0.10 mm, dial gauge with 0.01 mm steps and at most 0.012 mm error. Computed: P+C."""
    u = combined(0.012 / sqrt(3), 0.005 / sqrt(3))
    assert u == pytest.approx(0.00751, abs=5e-6)
    where = zones(None, 0.10, u)
    assert (where.guard, where.accept_high) == pytest.approx((0.0150, 0.0850), abs=5e-5)
    assert [decide(one, where) for one in (0.08, 0.09, 0.12)] == ["in_spec", "too_close", "out_of_spec"]
    assert [conformance_probability(one, u, None, 0.10) for one in (0.08, 0.09)] == pytest.approx(
        [0.9961, 0.909], abs=5e-4
    )
    assert zones(None, 0.10, u, factor=DEFAULT_2017).accept_high == pytest.approx(0.0876, abs=5e-5)


def test_an_instrument_too_coarse_proves_nothing():
    """T = 2.4 to 2.6 bar and U = 0.129 bar: A_L = 2.529 > A_U = 2.471. P+C."""
    where = zones(2.4, 2.6, 0.129 / 2)
    assert (where.accept_low, where.accept_high, where.too_coarse) == (pytest.approx(2.529), pytest.approx(2.471), True)
    assert not zones(2.4, 2.6, 0.01).too_coarse
    assert {decide(2.3 + step / 100, where) for step in range(40)} == {"too_close"}


@pytest.mark.parametrize(
    ("text", "half", "verdict"), [(2.5, 0.05, "in_spec"), (2.4, 0.05, "too_close"), (2.3, 0.05, "out_of_spec")]
)
def test_the_draft_sheets_rule_is_the_same_with_the_rounding_interval(text, half, verdict):
    """With the rounding interval alone 2.45 to 2.55 lies above 2.40, and "2.4 bar" straddles it. P+C."""
    from math import inf

    from cleansheet.judge.bands import compare

    assert compare((text - half, text + half), (2.40, inf)) == verdict
    assert decide(text, zones(2.40, None, half, factor=1)) == verdict
