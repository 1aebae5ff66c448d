"""Sizes and kinds of units. Factors: NIST SP 811 (2008), Appendix B.8, recomputed from the exact definitions."""

import math

import pytest

from cleansheet import units
from cleansheet.terms import CleansheetError, Quantity

# from, to, factor to as many digits as the definitions give
FACTORS = [
    ("[psi]", "kPa", 6.89475729317),
    ("[psi]", "bar", 0.0689475729317),
    ("bar", "[psi]", 14.503773773),
    ("bar", "kPa", 100),
    ("MPa", "bar", 10),
    ("[in_i'Hg]", "kPa", 3.38638864034),
    ("mm[Hg]", "kPa", 0.133322387415),
    ("bar", "[in_i'Hg]", 29.529983301),
    ("[psi]", "[in_i'Hg]", 2.03602067732),
    ("kgf/cm2", "kPa", 98.0665),
    ("kgf/cm2", "[psi]", 14.2233433071),
    ("kg/cm2", "kPa", 98.0665),
    ("atm", "kPa", 101.325),
    ("atm", "[psi]", 14.6959487755),
    ("atm", "[in_i'Hg]", 29.9212555797),
    ("[ft_i].[lbf_av]", "N.m", 1.35581794833),
    ("[in_i].[lbf_av]", "N.m", 0.112984829028),
    ("N.m", "[ft_i].[lbf_av]", 0.737562149277),
    ("kgf.m", "N.m", 9.80665),
    ("[mil_i]", "mm", 0.0254),
    ("[in_i]", "mm", 25.4),
    ("[gal_us]", "L", 3.785411784),
    ("[gal_br]", "L", 4.54609),
    ("[pt_us]", "L", 0.473176473),
    ("[gal_us]/h", "L/h", 3.785411784),
    ("L/h", "mL/min", 16.6666666667),
    ("kg/h", "g/s", 0.277777777778),
    ("[mi_i]/h", "km/h", 1.609344),
    ("[lb_av]", "kg", 0.45359237),
    # what is confused with what (check of ratios)
    ("kPa", "[psi]", 1 / 6.89475729317),
    ("Ah", "A.h", 1),
    ("kOhm", "Ohm", 1000),
    ("mOhm", "MOhm", 1e-9),
    ("{rev}/min", "{rev}/min", 1),
    ("cm3/min", "mL/min", 1),
    ("m3/h", "L/min", 1000 / 60),
    ("%", "[ppm]", 10_000),
]


@pytest.mark.parametrize(("source", "target", "factor"), FACTORS)
def test_one_unit_in_another(source, target, factor):
    assert units.convert(1, source, target) == pytest.approx(factor, rel=1e-6)
    assert units.convert(factor, target, source) == pytest.approx(1, rel=1e-6)


# t/degC = (t/degF - 32)/1.8, exactly
TEMPERATURES = [
    (-40, -40), (-34, -36.6667), (0, -17.7778), (32, 0), (68, 20), (80, 26.6667), (176, 80), (180, 82.2222),
    (190, 87.7778), (195, 90.5556), (212, 100),
]  # fmt: skip


@pytest.mark.parametrize(("fahrenheit", "celsius"), TEMPERATURES)
def test_temperatures(fahrenheit, celsius):
    assert units.convert(fahrenheit, "[degF]", "Cel") == pytest.approx(celsius, abs=5e-5)
    assert units.convert(units.convert(fahrenheit, "[degF]", "Cel"), "Cel", "[degF]") == pytest.approx(fahrenheit)


def test_kelvin_is_an_offset_scale_to_celsius():
    assert units.convert(0, "Cel", "K") == pytest.approx(273.15)
    assert units.to_base(293.15, "K") == (pytest.approx(20), "temperature")


def test_a_revolution_is_not_two_pi():
    # the conversion library takes a revolution as 2 pi rad, so 60 rpm would be 6.28 per second
    assert units.to_base(60, "{rev}/min") == (60.0, "rotation")


KINDS = [
    ("bar", "pressure"), ("[in_i'Hg]", "pressure"), ("kg/cm2", "pressure"), ("Ohm", "resistance"), ("mV", "voltage"),
    ("uA", "current"), ("Cel", "temperature"), ("K", "temperature"), ("[mil_i]", "length"), ("{rev}/min", "rotation"),
    ("deg", "angle"), ("N.m", "torque"), ("J", "energy"), ("mL/min", "volume-flow"), ("g/s", "mass-flow"), ("ms", "time"),
    ("%", "ratio"), ("[ppm]", "ratio"), ("1", "number"), ("A.h", "charge"), ("uF", "capacitance"), ("dB", "level"),
    ("Hz", "frequency"), ("kW", "power"), ("[lb_av]", "mass"), ("[sft_i]", "area"), ("m3", "volume"), ("km/h", "speed"),
    ("m/s2", "acceleration"), ("Mbit/s", "information-rate"), ("[gal_us]/wk", "volume-flow"), ("kg/m3", "density"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "kind"), KINDS)
def test_kinds(code, kind):
    assert units.kind(code) == kind
    assert units.known(code)


NOT_THE_SAME = [
    ("deg", "1"), ("deg", "{rev}/min"), ("%", "1"), ("{rev}/min", "Hz"), ("N.m", "J"), ("deg", "Cel"), ("kg", "kgf/cm2"),
    ("V", "A"), ("dB", "1"),
]  # fmt: skip


@pytest.mark.parametrize(("a", "b"), NOT_THE_SAME)
def test_kinds_that_have_no_dimension_are_kept_apart(a, b):
    assert not units.same_kind(a, b)
    with pytest.raises(units.UnitError):
        units.convert(1, a, b)


def test_unknown_codes():
    assert not units.known("furlongs")
    assert not units.known(None)
    assert not units.same_kind("bar", "nonsense")
    assert not units.same_kind("nonsense", "nonsense")
    for call in (units.kind, lambda code: units.to_base(1, code), lambda code: units.convert(1, "bar", code)):
        with pytest.raises(CleansheetError, match="nonsense"):
            call("nonsense")


@pytest.mark.parametrize("code", sorted(units.table().rows))
def test_every_unit_has_a_size_and_a_way_to_be_shown(code):
    value, kind = units.to_base(1.0, code)
    assert math.isfinite(value)
    assert kind == units.kind(code)
    assert units.convert(1.0, code, units.base_unit(kind)) == pytest.approx(value)
    assert isinstance(units.show(code), str)


SHOWN = [("kOhm", "kΩ"), ("[ft_i].[lbf_av]", "ft·lb"), ("{rev}/min", "rpm"), ("Cel", "°C"), ("[mil_i]", "thou"), ("L/min", "L/min"), ("uF", "µF"), ("mL/min", "mL/min"), ("1", ""), ("[gal_us]/wk", "gal/wk"), ("nonsense", "nonsense"), (None, "")]  # fmt: skip


@pytest.mark.parametrize(("code", "shown"), SHOWN)
def test_shown(code, shown):
    assert units.show(code) == shown


def test_quantities_of_the_library_are_made_from_offset_scales_too():
    assert units.quantity(80, "Cel").to("degF").magnitude == pytest.approx(176)


def said(text, unit):
    low, high = units.rounding(text)
    return Quantity(float(text), low, high, unit)


# Worked pairs that a technician says together: the two rounding intervals overlap after conversion, or do not.
PAIRS = [
    ("2.5", "bar", "36", "[psi]", True),
    ("3", "bar", "43.5", "[psi]", True),
    ("18", "[in_i'Hg]", "61", "kPa", True),
    ("95", "[ft_i].[lbf_av]", "129", "N.m", True),
    ("150", "[psi]", "10.3", "bar", True),
    ("2.5", "bar", "42", "[psi]", False),
    ("0.035", "[in_i]", "0.9", "mm", True),
    ("195", "[degF]", "90.6", "Cel", True),
    ("2.5", "bar", "2.5", "Ohm", None),
]


@pytest.mark.parametrize(("a", "a_unit", "b", "b_unit", "expected"), PAIRS)
def test_two_units_for_one_value(a, a_unit, b, b_unit, expected):
    assert units.agree(said(a, a_unit), said(b, b_unit)) is expected
    assert units.agree(said(b, b_unit), said(a, a_unit)) is expected


def test_nothing_agrees_without_a_unit():
    assert units.agree(said("2.5", None), said("2.5", "bar")) is None


# JCGM 100:2008, F.2.2.1: the resolution of an indication; whole numbers take the narrow reading
ROUNDED = [
    ("0.5", 0.45, 0.55), ("2.5", 2.45, 2.55), ("2.50", 2.495, 2.505), ("12", 11.5, 12.5), ("12.6", 12.55, 12.65),
    ("0.035", 0.0345, 0.0355), ("150", 149.5, 150.5), ("1.265", 1.2645, 1.2655), ("1200", 1199.5, 1200.5), ("-0.8", -0.85, -0.75),
]  # fmt: skip


@pytest.mark.parametrize(("text", "low", "high"), ROUNDED)
def test_rounding(text, low, high):
    assert units.rounding(text) == (low, high)
    half = (high - low) / 2
    # rectangular distribution: u = a / sqrt(3) = 0.289 q (JCGM 100:2008, 4.3.7)
    assert half / math.sqrt(3) == pytest.approx(0.2887 * (high - low), rel=1e-3)


def test_a_half_said_in_words_is_wide():
    assert units.spread(12.5, 0.5) == (12.25, 12.75)  # common practice, no source


def test_rounding_refuses_what_is_no_decimal():
    with pytest.raises(ValueError):
        units.rounding("about 5")


def test_gauge_and_absolute():
    assert units.absolute(0.8, "bar") == pytest.approx(1.81325)
    assert units.gauge(1.8, "bar") == pytest.approx(0.78675)
    assert units.absolute(units.gauge(3.3, "[psi]"), "[psi]") == pytest.approx(3.3)


def test_the_library_is_not_loaded_at_import():
    import subprocess
    import sys

    code = "import sys, cleansheet.units; sys.exit('pint' in sys.modules or 'yaml' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
