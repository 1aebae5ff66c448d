"""Values of a question, in any unit. Conversions are checked in tests/units; here it is what is taken for a value."""

from __future__ import annotations

import pytest

from cleansheet.journal.values import take_values

VALUES = [
    ("above 9 kohm", "resistance", 9000, None, True, ""),
    ("over 9,400 ohms", "resistance", 9400, None, True, ""),
    ("more than 9k ohm", "resistance", 9000, None, True, ""),
    (">= 140 psi", "pressure", 965266.0, None, False, ""),
    ("below 2 bar", "pressure", None, 200000, True, ""),
    ("under 0.5 V", "voltage", None, 0.5, True, ""),
    ("at most 50 mA", "current", None, 0.05, False, ""),
    ("between 2 and 3 bar", "pressure", 200000, 300000, False, ""),
    ("from 2 bar to 3 bar", "pressure", 200000, 300000, False, ""),
    ("2-3 bar", "pressure", 200000, 300000, False, ""),
    ("14 to 17 ohms", "resistance", 14, 17, False, ""),
    ("0.5 ohm", "resistance", 0.45, 0.55, None, ""),
    ("coil 0.5 ohm", "resistance", 0.45, 0.55, None, "coil"),
    ("5 thou", "length", 4.5 * 25.4e-6, 5.5 * 25.4e-6, None, ""),
    ("hotter than 90 degrees C", "temperature", 89.5, 90.5, None, "hotter than"),
    ("torque above 100 ft lb", "torque", 135.5818, None, True, "torque"),
    ("at 850 rpm", "rotation", 849.5, 850.5, None, ""),
    ("compression under 10 bar", "pressure", None, 1000000, True, "compression"),
]


@pytest.mark.parametrize(("asked", "kind", "low", "high", "is_open", "rest"), VALUES)
def test_a_value_with_its_unit(asked, kind, low, high, is_open, rest):
    spans, left = take_values(asked)
    assert len(spans) == 1
    (span,) = spans
    assert span.kind == kind
    assert span.low == pytest.approx(low, rel=1e-4) if low is not None else span.low is None
    assert span.high == pytest.approx(high, rel=1e-4) if high is not None else span.high is None
    if is_open is not None:
        assert (span.open_low or span.open_high) == is_open
    assert " ".join(left.split()) == rest


@pytest.mark.parametrize(
    "asked",
    [
        "injector 3",
        "coil 12",
        "job 2026-014",
        "5W-30",
        "A-12/4",
        "cylinder 3 plug",
        "T012A",
        "size 17 socket",
        "4 plugs",
    ],
)
def test_what_is_no_value(asked):
    spans, left = take_values(asked)
    assert spans == ()
    assert left == asked


def test_two_values_are_both_taken():
    spans, left = take_values("above 9 kohm below 12 kohm")
    assert [(span.low, span.high) for span in spans] == [(9000, None), (None, 12000)]
    assert left.strip() == ""
