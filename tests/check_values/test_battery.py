"""Check value 10: resting voltage against charge. CP: common practice, published tables differ by up to 0.1 V."""

from __future__ import annotations

import pytest

from cleansheet.judge.derived import charge_percent, gravity_at_80f, voltage_from_gravity

ROWS = [
    (100, 12.65, 1.265, 12.66),
    (75, 12.45, 1.225, 12.42),
    (50, 12.24, 1.190, 12.21),
    (25, 12.06, 1.155, 12.00),
    (0, 11.89, 1.120, 11.79),
]


@pytest.mark.parametrize(("percent", "volts", "gravity", "rough"), ROWS)
def test_table(percent, volts, gravity, rough, catalogue):
    table = catalogue.tables["battery-rest-voltage"]
    assert charge_percent(volts, table) == pytest.approx(percent)
    assert (float(percent), volts, gravity) in [tuple(map(float, row)) for row in table.rows]
    assert voltage_from_gravity(gravity) == pytest.approx(rough, abs=0.005 + 1e-9)


@pytest.mark.parametrize(
    ("volts", "percent"), [(12.35, 63.1), (12.50, 81.3), (12.00, 16.2), (12.9, 100.0), (10.5, 0.0)]
)
def test_between_rows(volts, percent, catalogue):
    assert charge_percent(volts, catalogue.tables["battery-rest-voltage"]) == pytest.approx(percent, abs=0.05)


def test_hydrometer_temperature():
    """1.250 read at 40 °F is 1.234: CP."""
    assert gravity_at_80f(1.250, 40) == pytest.approx(1.234)
    assert gravity_at_80f(1.250, 80) == 1.250
