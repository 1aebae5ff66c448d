"""Where a note names a test by itself ("runout", "dwell", "static pressure"), whether or not its part stands beside it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.catalogue.test_words import test_words

from .lexicon import Phrases
from .parts import SHARED

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from .parts import Part
    from .row import Row
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


def find_test_names(toks: Sequence[Tok], parts: Iterable[Part] = ()) -> list[TestName]:
    """Every test's name, the longest at each place; a shorter one inside a longer one is left out, and so is one that is said
    of a part outside the catalogue: "mainshaft end float", "wiper motor draw".
    """
    names: list[TestName] = []
    of_others = {part.last for part in parts if not part.ids}
    end = 0
    for hit in _phrases().everywhere(toks):
        if hit.last <= end:
            continue
        if hit.first in of_others and all(toks[i].low != "to" for i in range(hit.first, hit.last)):
            end = hit.last
            continue
        end = hit.last
        names.append(TestName(hit.first, hit.last, hit.found, hit.last - hit.first > 1))
    return names


def without_test_words(parts: Row[Part], tests: Row[TestName]) -> list[Part]:
    """The parts but for words that several parts share where they are of the name of another part's test: the "pressure" of a
    "pressure test" is no fuel rail.
    """
    kept: list[Part] = []
    for part in parts:
        over = tests.before(part.first + 1) if part.how == SHARED else None
        inside = over is not None and over.long and part.last <= over.last
        if not inside or over is None or any(test.partition(".")[0] in part.ids for test in over.tests):
            kept.append(part)
    return kept
