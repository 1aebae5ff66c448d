"""A small trained scorer for where rules end: a linear model over named features.

Every feature is something the rules found (a cue, a part, a word at a place), so its weight is a reason that can be shown.
The weights are made by tests/training/train.py from the labelled notes in tests/data, and give the same answer every time.
"""

from __future__ import annotations

import gzip
import json
import math
from dataclasses import dataclass
from functools import cache
from heapq import nlargest
from importlib import resources
from operator import add, mul
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Choice:
    """The likeliest label, its probability, all probabilities, and the features that spoke loudest for it."""

    label: str
    probability: float
    probabilities: dict[str, float]
    reasons: tuple[str, ...]


_NEVER = -1e30
_BIAS = 0  # row of the table


class Scorer:
    """Labels, and for each feature a weight per label."""

    def __init__(self, labels: Sequence[str], weights: dict[str, tuple[float, ...]], bias: Sequence[float]) -> None:
        import numpy as np

        self.labels = tuple(labels)
        self.weights = weights
        self.bias = tuple(bias)
        self._names = ("bias", *weights)
        self._row_of = {name: row for row, name in enumerate(self._names)}
        self._table = np.array([self.bias, *weights.values()])

    def totals(self, features: Iterable[str]) -> list[float]:
        """Log-odds of each label, not normalised."""
        return self.totals_of([features])[0]

    def totals_of(self, described: Sequence[Iterable[str]]) -> list[list[float]]:
        """Log-odds of each label for each of several things, in one sum over the table of weights."""
        return self._summed(*self._rows(described)) if described else []

    def _rows(self, described: Iterable[Iterable[str]]) -> tuple[list[int], list[int]]:
        """The rows of the table for several things one after the other, and where each thing's begin."""
        rows: list[int] = []
        starts: list[int] = []
        row_of = self._row_of.get
        for features in described:
            starts.append(len(rows))
            rows.append(_BIAS)
            rows += filter(None, map(row_of, features))
        return rows, starts

    def _summed(self, rows: list[int], starts: list[int]) -> list[list[float]]:
        import numpy as np

        totals: list[list[float]] = np.add.reduceat(self._table.take(rows, axis=0), starts, axis=0).tolist()
        return totals

    def best_run(
        self,
        described: Sequence[Sequence[str]],
        link: str,
        first: str = "start",
        held: Mapping[int, str] | None = None,
        quiet: str = "",
    ) -> list[Choice]:
        """The likeliest run of labels for a row of things, where each thing's features may hold `link` + the label before it.

        Viterbi's algorithm over the labels' log-probabilities. `held` gives things whose label is settled already;
        no reasons are made for the label `quiet`.
        """
        if not described:
            return []
        held = held or {}
        rows, starts = self._rows(described)
        size = len(self.labels)
        links = [self.weights.get(link + label, (0.0,) * size) for label in (*self.labels, first)]
        powers = [tuple(math.exp(weight) for weight in row) for row in links]
        scores = [_NEVER] * size + [0.0]
        steps: list[tuple[list[int], list[float], list[float]]] = []  # per thing: label before, base powers, their sums
        to_label = list(zip(*links, strict=True))  # per label, the weight of each label before it
        for number, base in enumerate(self._summed(rows, starts)):
            top = max(base)
            mine = [math.exp(total - top) for total in base]
            settled = held.get(number)
            sums = [sum(map(mul, mine, row)) if scores[k] > _NEVER else 1.0 for k, row in enumerate(powers)]
            offsets = [
                score - math.log(total) if score > _NEVER else _NEVER for score, total in zip(scores, sums, strict=True)
            ]
            following, backs = [_NEVER] * (size + 1), [0] * size
            for k in range(size):
                if settled is not None:
                    if self.labels[k] == settled:
                        backs[k] = max(range(size + 1), key=scores.__getitem__)
                        following[k] = scores[backs[k]]
                    continue
                gains = list(map(add, offsets, to_label[k]))
                best = max(gains)
                following[k], backs[k] = best + base[k] - top, gains.index(best)
            scores = following
            steps.append((backs, mine, sums))
        parts = [rows[start + 1 : stop] for start, stop in zip(starts, [*starts[1:], len(rows)], strict=True)]
        return self._traced(parts, scores, steps, powers, quiet)

    def _traced(
        self,
        rows: Sequence[Sequence[int]],
        scores: list[float],
        steps: list[tuple[list[int], list[float], list[float]]],
        powers: list[tuple[float, ...]],
        quiet: str,
    ) -> list[Choice]:
        """The run of labels read back from its end, each with its probabilities given the label before it."""
        out: list[Choice] = []
        k = max(range(len(scores)), key=scores.__getitem__)
        for own, (backs, mine, sums) in zip(reversed(rows), reversed(steps), strict=True):
            before = backs[k]
            chances = [power * factor / sums[before] for power, factor in zip(mine, powers[before], strict=True)]
            label = self.labels[k]
            reasons = self._loudest(own, k) if label != quiet else ()
            out.append(Choice(label, chances[k], dict(zip(self.labels, chances, strict=True)), reasons))
            k = before
        out.reverse()
        return out

    def reasons(self, features: Iterable[str], label: str) -> tuple[str, ...]:
        """The features that speak loudest for a label."""
        return self._loudest(self._rows([features])[0][1:], self.labels.index(label))

    def _loudest(self, rows: Sequence[int], at: int) -> tuple[str, ...]:
        loud = nlargest(3, zip(self._table[:, at].take(rows).tolist(), map(self._names.__getitem__, rows), strict=True))
        return tuple(name for weight, name in loud if weight > 0)

    def choose(self, features: Iterable[str]) -> Choice:
        """The label for a set of features."""
        rows, starts = self._rows([features])
        chances = _softmax(self._summed(rows, starts)[0])
        best = chances.index(max(chances))
        reasons = self._loudest(rows[1:], best)
        return Choice(self.labels[best], chances[best], dict(zip(self.labels, chances, strict=True)), reasons)


def _softmax(totals: Sequence[float]) -> list[float]:
    top = max(totals)
    powers = [math.exp(total - top) for total in totals]
    whole = sum(powers)
    return [power / whole for power in powers]


FOLDER: Path | None = None  # other weights than the package's, for measuring on notes left out of the training


@cache
def scorer(name: str) -> Scorer:
    """The trained scorer of that name, from the package's data."""
    where = FOLDER if FOLDER is not None else resources.files("cleansheet.read").joinpath("data")
    packed = where.joinpath(f"{name}.json.gz").read_bytes()
    data = json.loads(gzip.decompress(packed))
    return Scorer(data["labels"], {key: tuple(row) for key, row in data["weights"].items()}, data["bias"])
