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
_LOUD = 3  # reasons shown


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
        self._linked: dict[tuple[str, str], tuple[NDArray[np.float64], NDArray[np.float64]]] = {}

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

        rows, starts = self._rows(described)
        links, powers = self._links(link, first)
        totals = self._summed(rows, starts)
        gains = totals - totals.max(axis=1, keepdims=True)
        mine = np.exp(gains)
        sums = mine @ powers.T  # per thing, by the label before it: what its chances are divided by
        steps = links + gains[:, None, :] - np.log(sums)[:, :, None]  # per thing, label before it and label
        for number, label in (held or {}).items():
            k = self.labels.index(label)
            steps[number] = _NEVER
            steps[number, :, k] = 0.0
        run = _likeliest(steps)
        chances = mine * powers[run[:-1]] / sums[range(len(run) - 1), run[:-1]][:, None]
        lengths = np.diff([*starts, len(rows)])
        weights = self._table[rows, np.repeat(run[1:], lengths)].tolist()
        out: list[Choice] = []
        for k, its, start, length in zip(run[1:], chances.tolist(), starts, lengths.tolist(), strict=True):
            reasons: tuple[str, ...] = ()
            if self.labels[k] != quiet:
                stop = start + length
                reasons = self._loudest(weights[start + 1 : stop], rows[start + 1 : stop])
            out.append(Choice(self.labels[k], its[k], dict(zip(self.labels, its, strict=True)), reasons))
        return out

    def _links(self, link: str, first: str) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """By the label before (`first` at the start, the last row) and a thing's own: the link's weight, and its power of e."""
        import numpy as np

        made = self._linked.get((link, first))
        if made is None:
            none = (0.0,) * len(self.labels)
            links = np.array([self.weights.get(link + label, none) for label in (*self.labels, first)])
            made = self._linked[link, first] = links, np.exp(links)
        return made

    def reasons(self, features: Iterable[str], label: str) -> tuple[str, ...]:
        """The features that speak loudest for a label."""
        rows = self._rows([features])[0][1:]
        return self._loudest(self._table[rows, self.labels.index(label)].tolist(), rows)

    def _loudest(self, weights: list[float], rows: Sequence[int]) -> tuple[str, ...]:
        loud = sorted(range(len(rows)), key=weights.__getitem__, reverse=True)[:_LOUD]
        return tuple(self._names[rows[k]] for k in loud if weights[k] > 0)

    def choose(self, features: Iterable[str]) -> Choice:
        """The label for a set of features."""
        rows, starts = self._rows([features])
        chances = _softmax(self._summed(rows, starts)[0].tolist())
        best = chances.index(max(chances))
        reasons = self._loudest(self._table[rows[1:], best].tolist(), rows[1:])
        return Choice(self.labels[best], chances[best], dict(zip(self.labels, chances, strict=True)), reasons)


def _likeliest(steps: NDArray[np.float64]) -> list[int]:
    """The likeliest run through `steps`, log-probabilities by thing, label before it and label (Viterbi's algorithm).

    Before the first thing stands a state of its own, the last of the labels before; the run begins with it.
    """
    import numpy as np

    every = np.arange(steps.shape[2])
    scores = steps[0, -1]
    backs: list[list[int]] = []  # per thing from the second on and label, the likeliest label before it
    for its in steps[1:, :-1]:
        sums = its + scores[:, None]
        back = sums.argmax(axis=0)
        scores = sums[back, every]
        backs.append(back.tolist())
    run = [int(scores.argmax())]
    for before in reversed(backs):
        run.append(before[run[-1]])
    run.append(steps.shape[1] - 1)
    run.reverse()
    return run


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
