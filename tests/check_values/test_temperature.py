"""Check values 8 and 9: platinum thermometers, copper windings, thermistors. P+C: published, checked by computation."""

from __future__ import annotations

import pytest

from cleansheet.judge.derived import copper_at, copper_at_20, copper_temperature, ntc_beta, ntc_resistance, pt100

# IEC 60751 (coefficients and table read in secondary pages citing the standard): P+C.
PLATINUM = [
    (-50, 80.3063), (-20, 92.1599), (0, 100.0), (20, 107.7935), (25, 109.7347), (50, 119.3971), (80, 130.8968),
    (100, 138.5055), (150, 157.3251), (200, 175.8560),
]  # fmt: skip


@pytest.mark.parametrize(("t", "ohms"), PLATINUM)
def test_pt100(t, ohms):
    assert pt100(t) == pytest.approx(ohms, abs=5e-5)


def test_copper():
    """IEC 60028, 0.00393 per K at 20 °C: P+C."""
    assert copper_at_20(16.0, 80) == pytest.approx(12.947, abs=5e-4)
    assert copper_at(14.0, 90) == pytest.approx(17.851, abs=5e-4)
    assert copper_at(1, 90) == pytest.approx(1.2751, abs=5e-5)
    assert copper_temperature(0.84, 0.70) == pytest.approx(70.9, abs=0.05)
    assert copper_at_20(copper_at(3.2, 64), 64) == pytest.approx(3.2, rel=1e-12)


def test_thermistor():
    """B from two points (formula P+C, the points invented): 2500 ohms at 20 °C, 325 at 80. Kelvin is 273.15, not 273."""
    beta = ntc_beta(2500, 20, 325, 80)
    assert beta == pytest.approx(3520.3, abs=0.05)
    found = {t: ntc_resistance(2500, 20, beta, t) for t in (0, 40, 60, 100)}
    assert found == pytest.approx({0: 6023, 40: 1161, 60: 591, 100: 190}, abs=0.5)


def test_a_straight_line_between_two_points_is_wrong():
    """At 50 °C the straight line has 1412 ohms, the B formula 820: P+C."""
    beta = ntc_beta(2500, 20, 325, 80)
    straight = 2500 + (325 - 2500) * 30 / 60
    assert straight == pytest.approx(1412, abs=0.6)
    assert ntc_resistance(2500, 20, beta, 50) == pytest.approx(820, abs=0.5)
