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
from importlib import resources
from operator import add, sub
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    import numpy as np
    from numpy.typing import NDArray


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
        self._columns = np.ascontiguousarray(self._table.T)

    def totals(self, features: Iterable[str]) -> list[float]:
        """Log-odds of each label, not normalised."""
        return self.totals_of([features])[0]

    def totals_of(self, described: Sequence[Iterable[str]]) -> list[list[float]]:
        """Log-odds of each label for each of several things, in one sum over the table of weights."""
        totals: list[list[float]] = self._summed(*self._rows(described)).tolist() if described else []
        return totals

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

    def _summed(self, rows: list[int], starts: list[int]) -> NDArray[np.float64]:
        import numpy as np

        totals: NDArray[np.float64] = np.add.reduceat(self._table.take(rows, axis=0), starts, axis=0)
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
        import numpy as np

        held = held or {}
        rows, starts = self._rows(described)
        size = len(self.labels)
        links = np.array([self.weights.get(link + label, (0.0,) * size) for label in (*self.labels, first)])
        totals = self._summed(rows, starts)
        gains = totals - totals.max(axis=1, keepdims=True)
        mine, powers = np.exp(gains), np.exp(links)
        sums = mine @ powers.T  # per thing, by the label before it: what its chances are divided by
        to_label = links.T.tolist()
        scores = [_NEVER] * size + [0.0]
        backs: list[list[int]] = []  # per thing and label, the likeliest label before it
        for number, (gain, log) in enumerate(zip(gains.tolist(), np.log(sums).tolist(), strict=True)):
            settled = held.get(number)
            following, back = [_NEVER] * (size + 1), [0] * size
            if settled is not None:
                k = self.labels.index(settled)
                back[k] = scores.index(max(scores))
                following[k] = scores[back[k]]
            else:
                offsets = list(map(sub, scores, log))
                for k, weights in enumerate(to_label):
                    values = list(map(add, offsets, weights))
                    best = max(values)
                    following[k], back[k] = best + gain[k], values.index(best)
            scores = following
            backs.append(back)
        run = [scores.index(max(scores))]
        for back in reversed(backs):
            run.append(back[run[-1]])
        run.reverse()  # the state before the first thing, then each thing's label
        chances = mine * powers[run[:-1]] / sums[range(len(described)), run[:-1]][:, None]
        out: list[Choice] = []
        for number, (k, its) in enumerate(zip(run[1:], chances.tolist(), strict=True)):
            stop = starts[number + 1] if number + 1 < len(starts) else len(rows)
            reasons = self._loudest(rows[starts[number] + 1 : stop], k) if self.labels[k] != quiet else ()
            out.append(Choice(self.labels[k], its[k], dict(zip(self.labels, its, strict=True)), reasons))
        return out

    def reasons(self, features: Iterable[str], label: str) -> tuple[str, ...]:
        """The features that speak loudest for a label."""
        return self._loudest(self._rows([features])[0][1:], self.labels.index(label))

    def _loudest(self, rows: Sequence[int], at: int) -> tuple[str, ...]:
        weights = self._columns[at].take(rows).tolist()
        loud = sorted(zip(weights, map(self._names.__getitem__, rows), strict=True), reverse=True)[:3]
        return tuple(name for weight, name in loud if weight > 0)

    def choose(self, features: Iterable[str]) -> Choice:
        """The label for a set of features."""
        rows, starts = self._rows([features])
        chances = _softmax(self._summed(rows, starts)[0].tolist())
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
