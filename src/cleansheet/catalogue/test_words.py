"""The words that tell one test from another (`data/test_words.yaml`)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from cleansheet.units.data_files import packaged


@dataclass(frozen=True, slots=True)
class TestWords:
    """For one test: phrases that name it by themselves, words that hint at it, words that speak against it.

    `forms` are phrases too, written with "a|b" for either word and "x?" for one that may be left out.
    """

    __test__ = False  # not a test class for pytest

    says: tuple[str, ...]
    hints: tuple[str, ...]
    against: tuple[str, ...]
    forms: tuple[str, ...] = ()


@cache
def test_words() -> dict[str, TestWords]:
    """The words of every test, by its id."""
    data = packaged("catalogue", "test_words.yaml", texts=True)
    return {
        test: TestWords(
            tuple(row.get("says", ())),
            tuple(row.get("hints", ())),
            tuple(row.get("not", ())),
            tuple(row.get("forms", ())),
        )
        for test, row in data.items()
    }


test_words.__test__ = False  # type: ignore[attr-defined]
