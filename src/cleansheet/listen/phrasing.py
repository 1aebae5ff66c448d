"""How likely a wording is in workshop talk: a small trigram model over words, units and "a number".

Every number is one class, `#`, so the model knows that a number of volts follows "the battery sits at", and not which:
a reading out of limits is as likely to it as a good one. Counts are made by tests/training/train_phrasing.py.
"""

from __future__ import annotations

import gzip
import json
import math
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from .alike import Token, tokens

if TYPE_CHECKING:
    from collections.abc import Sequence

NUMBER, START, END = "#", "<", ">"
DISCOUNT = 0.75  # absolute discounting, as usual for interpolated Kneser-Ney smoothing (Chen and Goodman 1999)
COMMON = 4
UNKNOWN_WORDS = 200_000  # how many words share what is left for those never seen


def symbols(found: Sequence[Token]) -> list[str]:
    """Canonical tokens as the model counts them: ["the", "gap", "is", "#", "thou"] of "The gap is 35 thou."."""
    return [NUMBER if token.kind == "number" else token.form for token in found]


class Phrasing:
    """Interpolated Kneser-Ney trigrams from counts of runs of three symbols."""

    def __init__(self, counts: dict[str, int]) -> None:
        three: dict[tuple[str, str, str], int] = {}
        for run, count in counts.items():
            a, b, c = run.split(" ")
            three[a, b, c] = count
        self._three = three
        self._of_two: dict[tuple[str, str], list[int]] = {}  # [all, kinds] behind two symbols
        self._two: dict[tuple[str, str], int] = {}  # in how many surroundings
        self._of_one: dict[str, list[int]] = {}
        self._one: dict[str, int] = {}
        for (a, b, c), count in three.items():
            _add(self._of_two, (a, b), count)
            self._two[b, c] = self._two.get((b, c), 0) + 1
        for (b, c), kinds in self._two.items():
            _add(self._of_one, b, kinds)
            self._one[c] = self._one.get(c, 0) + 1
        self._all = sum(self._one.values())
        self._kinds = len(self._one)

    def knows(self, word: str) -> bool:
        return word in self._one

    def common(self) -> list[str]:
        """The words met in at least `COMMON` surroundings, names of units and short words left out."""
        return [word for word, kinds in self._one.items() if kinds >= COMMON and len(word) > 3 and word.isalpha()]

    def log_probability(self, text: str) -> float:
        """The summed natural log probability of a wording, its end included."""
        return sum(self._logs(text))

    def per_word(self, text: str) -> float:
        """The mean natural log probability of a wording's symbols, its end included."""
        logs = self._logs(text)
        return sum(logs) / len(logs)

    def _logs(self, text: str) -> list[float]:
        run = [START, START, *symbols(tokens(text.split())), END]
        return [math.log(self._chance(*run[at - 2 : at + 1])) for at in range(2, len(run))]

    def _chance(self, a: str, b: str, c: str) -> float:
        left = DISCOUNT * self._kinds / self._all / UNKNOWN_WORDS
        chance = max(self._one.get(c, 0) - DISCOUNT, 0.0) / self._all + left
        total, kinds = self._of_one.get(b, (0, 0))
        if total:
            chance = (max(self._two.get((b, c), 0) - DISCOUNT, 0.0) + DISCOUNT * kinds * chance) / total
        total, kinds = self._of_two.get((a, b), (0, 0))
        if total:
            chance = (max(self._three.get((a, b, c), 0) - DISCOUNT, 0.0) + DISCOUNT * kinds * chance) / total
        return chance


def _add(table: dict, key: object, count: int) -> None:  # type: ignore[type-arg]
    entry = table.setdefault(key, [0, 0])
    entry[0] += count
    entry[1] += 1


@cache
def packaged_phrasing() -> Phrasing:
    path = Path(__file__).with_name("data") / "phrasing.json.gz"
    with gzip.open(path, "rt", encoding="utf-8") as file:
        return Phrasing(json.load(file))
