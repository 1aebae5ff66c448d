"""Check value 16 and the `check` values of the trade's formulas. CP: common practice, no source, unless a row says."""

from __future__ import annotations

import pytest

from cleansheet import units
from cleansheet.judge import derived
from cleansheet.judge.derived.pressure import ATMOSPHERE_BAR

# what, found, value, absolute tolerance (half a unit of the last digit printed)
CASES = [
    ("compression spread", derived.compression_spread_percent([150, 148, 152, 140]), 7.89, 0.005),
    ("lowest as a share of the highest", derived.lowest_share_percent([150, 148, 152, 110]), 72.4, 0.05),
    ("leak-down 100 and 88 psi", derived.leak_percent(100, 88), 12.0, 0.05),
    ("leak-down 80 and 60 psi", derived.leak_percent(80, 60), 25.0, 0.05),
    ("wet compression 90 and 125", derived.wet_rise_percent(90, 125), 38.9, 0.05),
    ("wet compression 90 and 93", derived.wet_rise_percent(90, 93), 3.3, 0.05),
    ("hold decay", derived.decay_per_minute(3.0, 2.3, 10), 0.070, 0.0005),
    ("voltage drop to resistance, mOhm (Ohm's law, P+C)", 1000 * derived.drop_resistance(0.5, 150), 3.33, 0.005),
    ("heat in the joint, W (P+C)", derived.drop_loss(0.5, 150), 75.0, 0.05),
    ("coil current (Ohm's law, P+C)", derived.coil_current(12.6, 3.2), 3.94, 0.005),
    ("relay current, mA (Ohm's law)", 1000 * derived.coil_current(12.6, 85), 148, 0.5),
    ("0.8 bar gauge, absolute (ISO 2533, P+C)", derived.absolute_bar(0.8), 1.813, 0.0005),
    ("18 inHg of vacuum, kPa absolute (P+C)", derived.absolute_from_vacuum_kpa(18), 40.37, 0.005),
    ("injector balance", derived.compression_spread_percent([186, 190, 181, 188]), 4.74, 0.005),
    ("flow at another pressure (orifice equation)", derived.flow_at_pressure(190, 2.5, 3.0), 208.1, 0.05),
    ("lambda of 12.5", derived.lambda_from_ratio(12.5), 0.850, 0.0005),
    ("lambda of 15.4", derived.lambda_from_ratio(15.4), 1.048, 0.0005),
    ("lambda of 14.7", derived.lambda_from_ratio(14.7), 1.0, 1e-12),
    ("ratio of lambda 1", derived.air_fuel_ratio(1.0), 14.7, 1e-12),
    ("toe, 0.20 degrees on 381 mm (geometry, P+C)", derived.toe_mm(0.20, 381), 1.33, 0.005),
    ("tread, 2/32 in (P+C)", derived.tread_mm(2), 1.5875, 1e-9),
    ("oil pressure at 3000 rpm, psi", derived.oil_pressure_minimum_psi(3000), 30.0, 1e-9),
    ("the same in bar", units.convert(derived.oil_pressure_minimum_psi(3000), "[psi]", "bar"), 2.07, 0.005),
    ("leads off", derived.leads_off(0.9, 0.3), 0.6, 1e-9),
]


@pytest.mark.parametrize(("what", "found", "value", "within"), CASES, ids=[case[0] for case in CASES])
def test_formula(what, found, value, within):
    assert found == pytest.approx(value, abs=within)


def test_the_spread_is_not_over_the_mean():
    """Over the mean 150, 148, 152, 140 psi would be 8.14 %: not used, do not mix."""
    readings = [150, 148, 152, 140]
    over_mean = 100 * (max(readings) - min(readings)) / (sum(readings) / 4)
    assert over_mean == pytest.approx(8.14, abs=0.005)
    assert derived.compression_spread_percent(readings) != pytest.approx(over_mean, abs=0.1)


def test_regulator_difference():
    """2.4 bar of rail over 18 inHg of vacuum is 3.01 bar; 3.6 over 0.6 bar of boost is 3.0."""
    vacuum = units.convert(18, "[in_i'Hg]", "bar")
    assert derived.regulator_difference(2.4, -vacuum) == pytest.approx(3.01, abs=0.005)
    assert derived.regulator_difference(3.6, 0.6) == pytest.approx(3.0, abs=0.05)


def test_current_cross_check():
    """3.94 A computed: "4 A" agrees, "8 A" does not (within 20 %)."""
    assert derived.currents_agree(3.94, 4)
    assert not derived.currents_agree(3.94, 8)


@pytest.mark.parametrize(("percent", "grade"), [(10, "good"), (20, "usable"), (26, "doubtful"), (31, "faulty")])
def test_leak_grade(percent, grade):
    assert derived.leak_grade(percent) == grade


def test_where_wet_compression_points():
    assert derived.wet_points_to(38.9) == "rings and bore"
    assert derived.wet_points_to(3.3) == "valves, gasket or head"


def test_refrigerant_saturation(catalogue):
    """R-134a, gauge bar over the standard atmosphere. Computed with CoolProp 8.0.0; its table, and 35 °C between."""
    table = catalogue.tables["refrigerant-saturation"]
    rows = {0: 1.92, 10: 3.13, 20: 4.70, 25: 5.64, 30: 6.69, 40: 9.15, 50: 12.17, 60: 15.80}
    found = {t: derived.refrigerant_saturation_bar(t, table) for t in rows}
    assert found == pytest.approx(rows, abs=0.005)
    # 8.870 bar absolute at 35 °C, tables of the refrigerant's properties generally (from memory)
    assert derived.refrigerant_saturation_bar(35, table) == pytest.approx(8.870 - ATMOSPHERE_BAR, abs=0.02)
    assert derived.refrigerant_saturation_bar(-10, table) is None
    assert derived.refrigerant_saturation_bar(70, table) is None


def test_gauge_and_absolute_agree_with_the_units(catalogue):
    assert derived.absolute_bar(0.8) == pytest.approx(units.absolute(0.8, "bar"), rel=1e-12)


def test_air_mass():
    assert derived.air_mass_band(2.0) == (1.0, 3.0)


def test_days_to_flat():
    """60 Ah, half of it, at 50 mA: 25 days. Charge is current times time."""
    assert derived.days_to_flat(50, 60) == pytest.approx(25.0)


def test_pressure_after_never_falls_below_nothing():
    assert derived.pressure_after(3.0, 0.07, 10) == pytest.approx(2.3)
    assert derived.pressure_after(1.0, 0.5, 10) == 0.0


# Voltage drop by path, 12 V circuits (CP).
DROPS = {
    "one clean joint or connector": 0.1, "ground path": 0.1, "relay contacts": 0.2, "wire or cable end to end": 0.2,
    "switch contacts": 0.3, "battery cable or ground strap while cranking": 0.2, "whole starter feed while cranking": 0.5,
    "alternator output to battery plus": 0.3, "sensor ground or sensor feed": 0.05,
}  # fmt: skip


def test_voltage_drop_table(catalogue):
    assert {row[0]: row[1] for row in catalogue.tables["voltage-drop"].rows} == DROPS
