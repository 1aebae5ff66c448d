"""Colour and width of the terminal. Without a terminal, with NO_COLOR set, or TERM=dumb, everything is plain text."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap

_CODES = {"good": "32", "bad": "1;31", "close": "33", "look": "1;33", "dim": "2", "strong": "1", "mark": "7"}


def coloured() -> bool:
    # https://no-color.org: any value that is not empty asks for none.
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def paint(text: str, tone: str) -> str:
    """The text in a tone ("good", "bad", "close", "look", "dim", "strong", "mark") where the screen takes colour."""
    return f"\033[{_CODES[tone]}m{text}\033[0m" if text and tone in _CODES and coloured() else text


def width() -> int:
    """Columns to fill: the terminal's, between 60 and 110; 80 where there is none."""
    return min(max(shutil.get_terminal_size((80, 24)).columns, 60), 110)


def wrap(text: str, indent: int, *, first: str | None = None) -> str:
    """The text wrapped to the screen, indented; `first` stands in the first line's indent."""
    lead = " " * indent
    return textwrap.fill(
        text,
        width(),
        initial_indent=lead if first is None else first,
        subsequent_indent=lead,
        break_long_words=False,
        break_on_hyphens=False,
    )


def fit(text: str, room: int) -> str:
    """The text in exactly `room` columns, cut with '…' where it is longer."""
    return text.ljust(room) if len(text) <= room else text[: max(room - 1, 0)] + "…"
