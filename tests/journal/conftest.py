from __future__ import annotations

import sys
from pathlib import Path

import pytest

from cleansheet import journal as book
from cleansheet.catalogue import load

sys.path.insert(0, str(Path(__file__).parent))  # for the builders in making.py


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.sqlite"


@pytest.fixture
def journal(path):
    with book.open_journal(path) as opened:
        yield opened


@pytest.fixture(scope="session")
def catalogue():
    return load()
