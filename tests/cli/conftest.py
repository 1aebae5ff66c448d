from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from cleansheet.cli import main

sys.path.insert(0, str(Path(__file__).parents[1] / "journal"))  # for the builders in making.py
sys.path.insert(0, str(Path(__file__).parent))  # for terminal.py
SAMPLES = Path(__file__).parents[2] / "sample_notes"


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A shop of its own: an empty home folder, nobody else's journal or names."""
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "home"))
    monkeypatch.setenv("CLEANSHEET_WHO", "Sam")
    for name in ("CLEANSHEET_JOURNAL", "CLEANSHEET_SHOP", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(home, capsys):
    """Run the command line in this process: (exit code, standard output, standard error)."""

    def run_it(*args):
        with pytest.raises(SystemExit) as stop:
            main([str(arg) for arg in args])
        out = capsys.readouterr()
        return stop.value.code or 0, out.out, out.err

    return run_it


@pytest.fixture
def sheet():
    return SAMPLES / "aldern-camper.yaml"


@pytest.fixture
def stored(home):
    """The journal's file, where the default puts it."""
    return Path(os.environ["XDG_DATA_HOME"]) / "cleansheet" / "journal.sqlite"
