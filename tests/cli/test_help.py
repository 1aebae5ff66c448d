"""Help: what stands in the table stands in the command, and nothing heavy is loaded for it."""

from __future__ import annotations

import subprocess
import sys

import pytest

from cleansheet import __version__
from cleansheet.cli.app import COMMANDS
from cleansheet.cli.lazy import load


def test_version(run):
    assert run("--version") == (0, f"cleansheet {__version__}\n", "")


def test_help_names_every_command_and_the_exit_codes(run):
    code, out, _ = run("--help")
    assert code == 0
    assert all(f"  {name} " in out for name in COMMANDS)
    assert "Exit codes" in out
    assert "licensed practice" in out


@pytest.mark.parametrize("name", COMMANDS)
def test_the_table_s_line_is_the_command_s_own(name):
    where, line = COMMANDS[name]
    command = load(name, where)
    assert (command.help or "").strip().splitlines()[0] == line


def leaves():
    for name, (where, _) in COMMANDS.items():
        command = load(name, where)
        inner = getattr(command, "commands", {})
        if inner:
            yield from ((f"{name} {one}", inner[one]) for one in inner)
        else:
            yield name, command


@pytest.mark.parametrize(("name", "command"), list(leaves()), ids=[name for name, _ in leaves()])
def test_every_command_has_help_and_an_example(name, command):
    assert f"Example: cleansheet {name}" in (command.help or "")


def test_help_loads_nothing_heavy():
    code = "import sys; sys.argv = ['cleansheet', '--help']\nimport cleansheet.cli\ntry: cleansheet.cli.main()\nexcept SystemExit: pass\nprint(*sys.modules, file=sys.stderr)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stderr.split())
    heavy = {
        "rich",
        "pydantic",
        "yaml",
        "spacy",
        "pint",
        "numpy",
        "sqlite3",
        "sqlite_utils",
        "faster_whisper",
        "dateparser",
        "rapidfuzz",
    }
    assert loaded & heavy == set()
