"""The JSON Schemas in docs are made from the forms and are current; the package's own files keep to them."""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path

import pytest

DOCS = Path(__file__).parents[2] / "docs" / "schema"


@pytest.fixture(scope="module")
def maker():
    spec = importlib.util.spec_from_file_location("make_schema", DOCS / "make.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_schemas_are_current(maker):
    stale = [name for name in maker.FORMS if (DOCS / name).read_text("utf-8") != maker.text_of(name)]
    assert stale == [], "run: python docs/schema/make.py"


def test_schemas_are_json(maker):
    for name in maker.FORMS:
        schema = json.loads((DOCS / name).read_text("utf-8"))
        assert schema["type"] == "object"
        assert schema["additionalProperties"] is False
