"""The pages on the catalogue and on sheets say what the program does: their examples load, every key has its row."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cleansheet.catalogue import load, load_sheet
from cleansheet.catalogue.schema import SpecForm, TestForm, WhenForm
from cleansheet.judge.conditions import _WORDS

DOCS = Path(__file__).parents[2] / "docs"


def blocks(page):
    return re.findall(r"```yaml\n(.*?)```", (DOCS / page).read_text("utf-8"), re.DOTALL)


def test_the_example_of_own_files_loads(shop):
    (example,) = blocks("catalogue.md")
    catalogue = load(shop(example))
    assert "windmill" in catalogue.components["radiator-fan"].also
    assert catalogue.tests["brake-pad.thickness"].typical.low == 3
    assert catalogue.tests["drive-chain.slack"].when == {"engine": "off"}


def test_the_example_sheet_loads(tmp_path):
    (example,) = blocks("vehicle-sheets.md")
    path = tmp_path / "sheet.yaml"
    path.write_text(example, "utf-8")
    sheet = load_sheet(path)
    assert sheet.warnings == ()
    assert len(sheet.specs["distributor.timing"]) == 2
    assert len(sheet.specs["coolant-temp-sensor.resistance"][0].points) == 3


@pytest.mark.parametrize("name", [field.alias or name for name, field in TestForm.model_fields.items()])
def test_every_key_of_a_test_is_explained(name):
    assert f"`{name}`" in (DOCS / "catalogue.md").read_text("utf-8") or f"`{name}:" in (
        DOCS / "catalogue.md"
    ).read_text("utf-8")


@pytest.mark.parametrize("name", [*WhenForm.model_fields, *SpecForm.model_fields])
def test_every_key_of_a_sheet_is_shown(name):
    assert re.search(rf"\b{name}\b", (DOCS / "vehicle-sheets.md").read_text("utf-8"))


def test_every_condition_has_its_words():
    assert set(_WORDS) == set(WhenForm.model_fields)
