"""What is measured on a part and yet by none of its tests: the springs of a clutch, a sensor's supply, a coil's minus side."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .told_apart import clause_start

if TYPE_CHECKING:
    from cleansheet.terms import Item

_SAID_BEFORE = 60  # characters back to what is measured
_WORD = re.compile(r"[a-z]+|[+-](?=\s)")


@cache
def _words_of(test: str) -> tuple[frozenset[str], frozenset[str]] | None:
    """The words that name a piece that the test does not measure, and those that name what it does (data/pieces.yaml)."""
    row = packaged("match", "pieces.yaml").get(test)
    return None if row is None else (frozenset(row["piece"]), frozenset(row["measures"]))


def not_of_its_test(items: list[Item], text: str) -> list[Item]:
    """Numbers taken from a test that does not measure what they are said of: "clutch springs 42 mm" is no free play."""
    out = list(items)
    freed: set[tuple[int, str]] = set()  # lists whose first number was
    before: str | None = None  # the test that the reading before was taken from
    end = 0
    for k, item in enumerate(items):
        if item.quantity is None or item.test is None:
            continue
        listed = item.group is not None and (item.group, item.test) in freed
        its_limit = item.kind == "expected" and item.test == before
        if (
            listed
            or its_limit
            or _of_a_piece(item.test, text[clause_start(text, item.start, end, _SAID_BEFORE) : item.start])
        ):
            if item.group is not None:
                freed.add((item.group, item.test))
            before = item.test
            out[k] = replace(item, test=None, why=(*item.why, f"test None: no {item.test} is read there"))
        elif item.kind == "reading":
            before = None
        end = item.end
    return out


def _of_a_piece(test: str, said: str) -> bool:
    words = _words_of(test)
    if words is None:
        return False
    pieces, measured = words
    for word in reversed(_WORD.findall(said.lower())):
        if word in measured:
            return False
        if word in pieces:
            return True
    return False
