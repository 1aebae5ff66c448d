"""Every unit of ours against an independent reader of UCUM codes (ucumvert): the same dimension and the same size."""

import warnings

import pytest

from cleansheet import units

# What the other reader takes otherwise, each with its reason.
DIFFERENT = {
    # it maps the inch of mercury to the 60 degF inch (3376.849 Pa); SP 811's conventional one is 3386.389 Pa
    "[in_i'Hg]": "of another density",
    # an annotation in braces has no weight there, so it is 1/60 per second; a rotation is a kind of its own here
    "{rev}/min": "no dimension",
    # UCUM's metre of water is 9.80665 kPa, so its inch is 249.08891 Pa, as here; the other reader takes water at 60 degF
    "[in_i'H2O]": "of another density",
    # 1e-4 T in UCUM; the other reader takes the unit of another system, of another dimension
    "G": "another system",
    # minutes and seconds of arc; the other reader takes them for time
    "'": "time",
    "''": "time",
    # [ft_i]3, [yd_i]3; the other reader takes the hundredth of the length
    "[cft_i]": "a length",
    "[cyd_i]": "a length",
    "[cft_i]/min": "a length",
}


@pytest.fixture(scope="module")
def other():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from ucumvert import PintUcumRegistry

        return PintUcumRegistry()


@pytest.mark.slow
def test_every_unit_is_what_ucum_says(other):
    ours = units.registry()
    faults = []
    for code in units.table().rows:
        if code in DIFFERENT:
            continue
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                theirs = other.from_ucum(code)
        except Exception as error:  # noqa: BLE001 - every code that it cannot read is a fault of ours
            faults.append(f"{code}: not read ({type(error).__name__}: {error})")
            continue
        unit = ours.Unit(units.table().rows[code].pint)
        if units.kind(code) == "temperature":
            here = ours.Quantity(50.0, unit).to("kelvin").magnitude
            there = other.Quantity(50.0, theirs.units).to("kelvin").magnitude
        elif units.kind(code) == "level":
            continue
        else:
            mine = ours.Quantity(1.0, unit).to_base_units()
            other_base = theirs.to_base_units()
            if str(mine.dimensionality) != str(other_base.dimensionality):
                faults.append(f"{code}: {mine.dimensionality} here, {other_base.dimensionality} there")
                continue
            here, there = mine.magnitude, other_base.magnitude
        if here != pytest.approx(there, rel=1e-6):
            faults.append(f"{code}: {here} here, {there} there")
    assert faults == []


@pytest.mark.parametrize(("code", "base", "size"), [
    ("[cft_i]", "m3", 0.3048**3), ("[cyd_i]", "m3", 0.9144**3), ("[in_i'H2O]", "Pa", 0.0254 * 9806.65), ("G", "T", 1e-4),
    ("'", "deg", 1 / 60), ("''", "deg", 1 / 3600), ("{rev}/min", "{rev}/min", 1),
])  # fmt: skip
def test_the_ones_it_takes_otherwise_are_what_ucum_defines(code, base, size):
    assert units.convert(1, code, base) == pytest.approx(size, rel=1e-6)


def test_the_inch_of_mercury_is_the_conventional_one():
    # NIST SP 811 (2008), Appendix B.8: 3.386389 E+03 Pa
    assert units.to_base(1, "[in_i'Hg]") == (pytest.approx(3386.389, rel=1e-6), "pressure")


def test_the_horsepower_is_550_foot_pounds_a_second():
    # UCUM: [HP] = 550 [ft_i].[lbf_av]/s
    assert units.to_base(1, "[HP]")[0] == pytest.approx(550 * 1.3558179483314, rel=1e-6)
