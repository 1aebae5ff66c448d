"""`cleansheet judge`: one line in; verdict, reason and cautions out. Goes through reading and matching for real."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cleansheet.cli import main

SAMPLE = Path(__file__).parents[2] / "sample_notes" / "aldern-camper.yaml"


@pytest.fixture
def run(tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("CLEANSHEET_SHOP", str(tmp_path / "shop"))
    monkeypatch.chdir(tmp_path)

    def run_it(*args):
        with pytest.raises(SystemExit) as stop:
            main([str(arg) for arg in args])
        out = capsys.readouterr()
        return stop.value.code or 0, " ".join(out.out.split()), out.err

    return run_it


def test_a_slip_of_the_unit(run, catalogue):
    code, out, err = run("judge", "coil secondary 7.2 ohms")
    assert (code, err) == (0, "")
    assert "7.2 Ω does not fit; 7.2 kΩ would" in out
    assert "unit slip" in out
    assert "tens of thousands of volts" in out
    assert out.endswith(catalogue.authority)


def test_by_the_vehicles_sheet(run):
    code, out, _ = run("judge", "coil secondary 7.2 k", "--vehicle", SAMPLE)
    assert code == 0
    assert "7.2 kΩ (7.15 to 7.25) against 6 to 10 kΩ: 1.15 kΩ to spare (vehicle sheet: invented)" in out


def test_words_need_no_quotes(run):
    code, out, _ = run("judge", "charging", "14.2", "volts")
    assert code == 0
    assert "14.2 V (14.15 to 14.25) against 13.5 to 14.8 V" in out


def test_with_a_meters_accuracy(run):
    plain = run("judge", "charging 14.7 volts")[1]
    unsure = run("judge", "charging 14.7 volts", "--accuracy", "0.5 % + 2 digits")[1]
    assert "14.7 V (14.65 to 14.75)" in plain
    assert "lies in what the number leaves open" in unsure


def test_as_json(run, capsys):
    code, out, _ = run("judge", "charging 14.2 volts", "--json")
    draft = json.loads(out)
    assert code == 0
    assert draft["format"] == "cleansheet-draft/1"
    assert draft["items"][0]["verdict"] == "in_spec"


def test_nothing_to_judge(run):
    code, out, _ = run("judge", "went for lunch")
    assert code == 1
    assert "No reading in these words." in out


@pytest.mark.parametrize(
    ("args", "code"),
    [
        (["charging 14.2 volts", "--vehicle", "nowhere.yaml"], 2),
        (["charging 14.2 volts", "--accuracy", "good"], 2),
        ([" "], 2),
    ],
)
def test_bad_input_is_one_line(run, args, code):
    found, out, err = run("judge", *args)
    assert (found, out) == (code, "")
    assert len(err.splitlines()) == 1
