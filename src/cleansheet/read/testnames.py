"""Where a note names a test by itself ("runout", "dwell", "static pressure"), whether or not its part stands beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.catalogue.test_words import test_words

from .lexicon import Phrases

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .words import Tok


@dataclass(frozen=True, slots=True)
class TestName:
    """The tests that the words `first` to `last` (exclusive) may name; `long` where more than one word says it."""

    __test__ = False

    first: int
    last: int
    tests: tuple[str, ...]
    long: bool


@cache
def _phrases() -> Phrases[tuple[str, ...]]:
    by_phrase: dict[str, list[str]] = {}
    for test, row in test_words().items():
        for phrase in (*row.says, *row.forms):
            by_phrase.setdefault(phrase, []).append(test)
    found: Phrases[tuple[str, ...]] = Phrases()
    for phrase, tests in by_phrase.items():
        found.add(phrase, tuple(tests))
    return found


def find_test_names(toks: Sequence[Tok]) -> list[TestName]:
    """Every test's name, the longest at each place; a shorter one inside a longer one is left out."""
    names: list[TestName] = []
    end = 0
    for hit in _phrases().everywhere(toks):
        if hit.last <= end:
            continue
        end = hit.last
        names.append(TestName(hit.first, hit.last, hit.found, hit.last - hit.first > 1))
    return names
