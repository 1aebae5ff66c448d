"""The commands `tests`, `specs` and `judge`, as a user runs them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cleansheet.cli import main

SAMPLE = Path(__file__).parents[2] / "sample_notes" / "aldern-camper.yaml"


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    """Run the command line in this process: (exit code, standard output, standard error)."""
    monkeypatch.setenv("CLEANSHEET_SHOP", str(tmp_path / "shop"))
    monkeypatch.chdir(tmp_path)

    def run_it(*args):
        with pytest.raises(SystemExit) as stop:
            main([str(arg) for arg in args])
        out = capsys.readouterr()
        return stop.value.code or 0, out.out, out.err

    return run_it


@pytest.mark.parametrize("named", ["ignition-coil", "coil", "Coil Pack", "ignition coil"])
def test_tests_by_any_name(run, named, catalogue):
    code, out, err = run("tests", *named.split())
    assert (code, err) == (0, "")
    assert "ignition-coil.secondary-resistance" in out
    assert "5 to 20 kΩ; a general rule, it varies with the design" in out
    assert "tens of thousands of volts" in out
    assert out.rstrip().endswith(catalogue.authority)


def test_tests_with_the_vehicle(run):
    code, out, _ = run("tests", "coil", "--vehicle", SAMPLE)
    assert code == 0
    assert "this vehicle    6 to 10 kΩ (invented)" in out


def test_every_part_has_a_page(run, catalogue):
    for part in catalogue.components:
        code, out, _ = run("tests", part)
        assert code == (0 if catalogue.tests_of(part) else 1)
        assert catalogue.components[part].name in out
        assert "licensed practice" in " ".join(out.split())


def test_tests_as_json(run, catalogue):
    code, out, _ = run("tests", "fuse", "--json")
    (line,) = out.splitlines()
    found = json.loads(line)
    assert code == 0
    assert (found["test"], found["typical"]["high"], found["authority"]) == ("fuse.continuity", 1, catalogue.authority)
    assert found["cautions"][0].startswith("A 12 V battery")


def test_a_part_that_is_not_known(run):
    code, out, err = run("tests", "flux capacitor")
    assert (code, out) == (2, "")
    assert "no part goes by 'flux capacitor'" in err


def test_the_shops_own_test_is_shown(run, tmp_path):
    folder = tmp_path / "shop" / "catalogue"
    folder.mkdir(parents=True)
    (folder / "own.yaml").write_text("components:\n  radiator-fan: {also: [windmill]}\n", "utf-8")
    code, out, _ = run("tests", "windmill")
    assert code == 0
    assert "radiator-fan.switch-on-temperature" in out


def test_a_fault_in_the_shops_files_is_one_line(run, tmp_path):
    folder = tmp_path / "shop" / "catalogue"
    folder.mkdir(parents=True)
    (folder / "own.yaml").write_text("components:\n  fuse: {nam: x}\n", "utf-8")
    code, out, err = run("tests", "fuse")
    assert (code, out) == (3, "")
    assert "own.yaml:2: components.fuse.nam: is not a key known here" in err
    assert len(err.splitlines()) == 1


def test_specs_list(run, tmp_path):
    assert run("specs", "list")[0] == 1
    sheets = tmp_path / "sheets"
    sheets.mkdir()
    (sheets / "aldern-camper.yaml").write_text(SAMPLE.read_text("utf-8"), "utf-8")
    (sheets / "notes.yaml").write_text("just: notes\n", "utf-8")
    (sheets / "broken.yaml").write_text("vehicle: {nam: x}\nspecs: {}\n", "utf-8")
    code, out, err = run("specs", "list")
    assert code == 0
    assert "aldern-camper" in out
    assert "21 tests" in out
    assert "notes" not in out
    assert "broken.yaml:1: vehicle.name: is missing (and 1 more" in err


def test_specs_check(run, tmp_path):
    code, out, err = run("specs", "check", SAMPLE)
    assert (code, err) == (0, "")
    assert "21 tests, 0 warnings" in out
    for name, text in (
        ("a.yaml", "vehicle: {name: X}\nspecs:\n  tyre.pressure: {low: 30, unit: bar, source: x}\n"),
        (
            "b.yaml",
            "vehicle: {name: X}\nspecs:\n  tyre.pressure: {low: 30, unit: V, source: x}\n  x.y: {low: 1, unit: V, source: x}\n",
        ),
    ):
        (tmp_path / name).write_text(text, "utf-8")
    code, out, err = run("specs", "check", tmp_path)
    assert code == 3
    assert "warning: " in out
    assert "a.yaml: 1 tests, 1 warnings" in out
    assert len(err.splitlines()) == 2


@pytest.mark.parametrize("named", ["nowhere.yaml", "some/where"])
def test_specs_of_a_path_that_is_not_there(run, named):
    assert run("specs", "check", named)[0] == 2
    code, out, err = run("specs", "show", named)
    assert (code, out) == (2, "")
    assert "no such vehicle sheet" in err


def test_specs_show(run):
    code, out, _ = run("specs", "show", SAMPLE)
    assert code == 0
    assert "Aldern Camper 2.0, 1992" in out
    assert "pressure left after standing: at least 1.8 bar, 10 min (invented)" in out
    assert "at most 5 % between highest and lowest" in " ".join(out.split())


def test_specs_show_a_table(run, tmp_path):
    (tmp_path / "own.yaml").write_text(
        "vehicle: {name: X}\nspecs:\n  air-temp-sensor.resistance: {unit: Ohm, over: temperature_c, between: log, "
        "source: invented, points: [{at: 0, low: 5000, high: 7000}, {at: 20, low: 2200, high: 2800}]}\n",
        "utf-8",
    )
    code, out, _ = run("specs", "show", "own")
    assert code == 0
    assert "table over temperature in °C from 0 to 20" in out
    assert "at 20: 2200 to 2800 Ω" in out
