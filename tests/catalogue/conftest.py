from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from cleansheet.catalogue import load


@pytest.fixture(scope="session")
def catalogue():
    return load()


@pytest.fixture(scope="session")
def facts():
    spec = importlib.util.spec_from_file_location("facts", Path(__file__).with_name("facts.py"))
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture
def shop(tmp_path, monkeypatch):
    """A folder of the shop's own files; gives a function that writes one and returns the folder. The cache is its own."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "shop"
    folder.mkdir()

    def write(text, name="own.yaml"):
        (folder / name).write_text(text, "utf-8")
        return folder

    return write
