"""Vehicle sheets: what they may say, what is wrong with them, and what is only worth a look."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleansheet.catalogue import load_sheet
from cleansheet.terms import SpecError

HEAD = "vehicle: {name: Aldern Camper, year: 1992, engine: 2.0 litre, cylinders: 4}\nspecs:\n"
SAMPLE = Path(__file__).parents[2] / "sample_notes" / "aldern-camper.yaml"


@pytest.fixture
def sheet(tmp_path, catalogue):
    def make(text, head=HEAD):
        path = tmp_path / "sheet.yaml"
        path.write_text(head + text, "utf-8")
        return load_sheet(path, catalogue)

    return make


def test_the_sample_sheet():
    found = load_sheet(SAMPLE)
    assert (found.vehicle.name, found.vehicle.year, found.vehicle.cylinders) == ("Aldern Camper 2.0", 1992, 4)
    (static,) = found.specs["fuel-rail.static-pressure"]
    assert (static.low, static.high, static.unit, static.when, static.source) == (
        2.8,
        3.2,
        "bar",
        {"engine": "off"},
        "invented",
    )
    assert found.specs["injector.flow"][0].max_spread_percent == 5
    assert found.warnings == ()


def test_one_sided_and_several(sheet):
    found = sheet(
        "  brake-disc.thickness: {low: 16.5, unit: mm, source: invented}\n"
        "  tyre.pressure:\n"
        "    - {low: 2.0, unit: bar, name: empty, source: invented}\n"
        "    - {low: 2.6, unit: bar, name: laden, source: invented}\n"
    )
    assert found.specs["brake-disc.thickness"][0].high is None
    assert [limit.name for limit in found.specs["tyre.pressure"]] == ["empty", "laden"]


def test_a_table(sheet):
    found = sheet(
        "  coolant-temp-sensor.resistance:\n"
        "    unit: Ohm\n"
        "    over: temperature_c\n"
        "    between: log\n"
        "    source: invented\n"
        "    points: [{at: 20, low: 2200, high: 2800}, {at: 80, low: 290, high: 360}]\n"
    )
    (limit,) = found.specs["coolant-temp-sensor.resistance"]
    assert (limit.over, limit.between) == ("temperature_c", "log")
    assert [(point.at, point.low, point.high) for point in limit.points] == [(20, 2200, 2800), (80, 290, 360)]


# spec line, line number, what the message holds
FAULTS = [
    ("  brake-pad.wobble: {low: 2, unit: mm, source: x}\n", 3, "no test 'brake-pad.wobble'"),
    ("  brake-pad.thickness: {low: 2, unit: V, source: x}\n", 3, "cannot measure"),
    ("  brake-pad.thickness: {low: 2, unit: mmm, source: x}\n", 3, "not a known UCUM code"),
    ("  brake-pad.thickness: {low: 2, source: x}\n", 3, "unit: is missing"),
    ("  brake-pad.thickness: {low: 2, unit: mm}\n", 3, "source: is missing"),
    ("  brake-pad.thickness: {unit: mm, source: x}\n", 3, "neither low nor high"),
    ("  brake-pad.thickness: {low: 3, high: 2, unit: mm, source: x}\n", 3, "low 3 is above high 2"),
    ("  brake-pad.thickness: {low: two, unit: mm, source: x}\n", 3, "valid number"),
    ("  brake-pad.thickness: {low: .inf, unit: mm, source: x}\n", 3, "number"),
    ("  brake-pad.thickness: {lo: 2, unit: mm, source: x}\n", 3, "lo: is not a key known here"),
    ("  brake-pad.thickness: {low: 2, unit: mm, source: x, when: {engine: hot}}\n", 3, "Input should be"),
    ("  fuel-rail.leaks: {low: 2, unit: bar, source: x}\n", 3, "seen, heard or felt"),
    ("  tyre.pressure:\n    - {low: 2, unit: bar, source: x}\n    - {low: 2, unit: Ohm, source: x}\n", 5, "cannot measure"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, points: [{at: 1, low: 2}, {at: 2, low: 3}]}\n", 3, "needs `over`"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, over: speed_rpm}\n", 3, "needs `points`"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, over: temperature_c, points: [{at: 2, low: 2}, {at: 1, low: 3}]}\n", 3, "each `at` above"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, over: temperature_c, points: [{at: 1, low: 2}, {at: 2, high: 3}]}\n", 3, "same ends"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, over: temperature_c, low: 1, points: [{at: 1, low: 2}, {at: 2, low: 3}]}\n", 3, "in `points`"),
    ("  engine.idle-speed: {unit: '{rev}/min', source: x, over: speed_rpm, between: log, points: [{at: 1, low: 2}, {at: 2, low: 3}]}\n", 3, "is for a table over temperature_c"),
    ("  air-temp-sensor.resistance: {unit: Ohm, source: x, over: temperature_c, between: log, points: [{at: 1, low: 0}, {at: 2, low: 3}]}\n", 3, "values above 0"),
    ("  brake-pad.thickness: {low: 2, unit: mm, source: x}\n  brake-pad.thickness: {low: 3, unit: mm, source: x}\n", 4, "written twice"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "line", "holds"), FAULTS)
def test_a_fault_names_file_line_and_key(text, line, holds, sheet):
    with pytest.raises(SpecError) as caught:
        sheet(text)
    message = str(caught.value)
    assert holds in message
    assert f"sheet.yaml:{line}: specs." in message


def test_all_faults_at_once(sheet):
    text = "".join(line for line, _, _ in FAULTS[:2]) + "  tyre.pressure: {low: 2, unit: bar, source: x}\n"
    with pytest.raises(SpecError) as caught:
        sheet(text)
    assert len(str(caught.value).splitlines()) == 2


@pytest.mark.parametrize(
    ("head", "holds"),
    [
        ("specs:\n", "vehicle: is missing"),
        ("vehicle: {name: X}\nspec:\n", "spec"),
        ("vehicle: {name: X, year: 18}\nspecs:\n", "year"),
        ("vehicle: {name: X, colour: blue}\nspecs:\n", "colour: is not a key"),
        ("just words\n", "a vehicle sheet holds"),
    ],
)
def test_a_sheet_needs_a_vehicle_and_specs(head, holds, sheet):
    with pytest.raises(SpecError, match=holds):
        sheet("  brake-pad.thickness: {low: 2, unit: mm, source: x}\n" if head.endswith("specs:\n") else "", head)


def test_a_limit_no_part_can_show_is_a_warning(sheet):
    found = sheet(
        "  tyre.pressure: {low: 30, high: 34, unit: bar, source: x}\n  brake-pad.thickness: {low: 2, unit: cm, source: x}\n"
    )
    assert len(found.warnings) == 2
    assert "sheet.yaml:3: specs.tyre.pressure.low: 30 bar is outside" in found.warnings[0]
    assert "check the unit" in found.warnings[0]


@pytest.mark.parametrize("make", [lambda path: path / "nowhere.yaml", lambda path: path])
def test_a_path_that_is_no_file(make, tmp_path):
    with pytest.raises(SpecError, match="cannot be read"):
        load_sheet(make(tmp_path))
