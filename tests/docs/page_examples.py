"""Runs the examples of a Markdown page: every line "$ command" in a block marked `console`, with what it prints after it.

The blocks of a page run one after the other in one folder with one home, as a reader would type them. In what is expected,
a line "..." stands for any number of lines, and "..." inside a line for any characters.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import cleansheet

_FENCE = re.compile(r"^```(\w*)\s*$")


@dataclass(frozen=True)
class Example:
    """A command and the lines it should print; `line` is where it stands in the page."""

    line: int
    command: str
    expected: tuple[str, ...]


def blocks(page: str, language: str):
    """(first line's number, lines) of every fenced block of that language."""
    inside, start, held = None, 0, []
    for number, line in enumerate(page.splitlines(), 1):
        fence = _FENCE.match(line)
        if fence and inside is None:
            inside, start, held = fence[1], number + 1, []
        elif fence:
            if inside == language:
                yield start, held
            inside = None
        else:
            held.append(line)
    assert inside is None, f"the block before line {start} is not closed"


def examples(page: str) -> list[Example]:
    """The page's examples in order. A block's first line must be a command."""
    found: list[Example] = []
    for start, lines in blocks(page, "console"):
        assert lines, f"line {start}: an empty console block"
        assert lines[0].startswith("$ "), f"line {start}: a console block starts with a command"
        at = [place for place, line in enumerate(lines) if line.startswith("$ ")] + [len(lines)]
        found += [
            Example(start + first, lines[first][2:], tuple(lines[first + 1 : last])) for first, last in pairwise(at)
        ]
    return found


def agrees(expected: tuple[str, ...], got: str) -> bool:
    """Whether the output is the expected one; blanks at line ends and empty lines at the end are of no matter."""
    pattern = "".join(r"(?:.*\n)*?" if line.strip() == "..." else _line(line) for line in _trimmed(expected))
    text = "".join(f"{line}\n" for line in _trimmed(tuple(got.splitlines())))
    return re.fullmatch(pattern, text) is not None


def _line(line: str) -> str:
    return ".*".join(re.escape(part) for part in line.split("...")) + r"\n"


def _trimmed(lines: tuple[str, ...]) -> list[str]:
    kept = [line.rstrip() for line in lines]
    while kept and not kept[-1]:
        kept.pop()
    return kept


def run(command: str, folder: Path, environment: dict[str, str]) -> tuple[int, str]:
    """Exit code and everything printed, on either stream."""
    done = subprocess.run(
        ["bash", "-c", command], cwd=folder, env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT, text=True, encoding="utf-8", timeout=300, check=False,
    )  # fmt: skip
    return done.returncode, done.stdout


def environment(home: Path, cache: Path) -> dict[str, str]:
    """A new user's: an empty home, this Python's commands first on the path, a terminal of 80 columns, no colour."""
    passed = {name: os.environ[name] for name in ("LD_LIBRARY_PATH", "TMPDIR") if name in os.environ}
    return {
        **passed,
        "PYTHONPATH": str(Path(cleansheet.__file__).parents[1]),  # the tree under test, wherever it lies
        "PATH": os.pathsep.join([str(Path(sys.executable).parent), "/usr/local/bin", "/usr/bin", "/bin"]),
        "HOME": str(home),
        "XDG_CACHE_HOME": str(cache),
        "LANG": "C.UTF-8",
        "COLUMNS": "80",
        "CLEANSHEET_WHO": "Sam",
    }
