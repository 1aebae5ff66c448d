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
from operator import mul
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


class Scorer:
    """Labels, and for each feature a weight per label."""

    def __init__(self, labels: Sequence[str], weights: dict[str, tuple[float, ...]], bias: Sequence[float]) -> None:
        self.labels = tuple(labels)
        self.weights = weights
        self.bias = tuple(bias)

    def totals(self, features: Iterable[str]) -> list[float]:
        """Log-odds of each label, not normalised."""
        rows = [row for row in map(self.weights.get, features) if row is not None]
        return list(map(sum, zip(self.bias, *rows, strict=True)))

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
        held = held or {}
        size = len(self.labels)
        links = [self.weights.get(link + label, (0.0,) * size) for label in (*self.labels, first)]
        powers = [tuple(math.exp(weight) for weight in row) for row in links]
        scores = [_NEVER] * size + [0.0]
        steps: list[tuple[list[int], list[float], list[float]]] = []  # per thing: label before, base powers, their sums
        for number, features in enumerate(described):
            base = self.totals(features)
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
                gain = base[k] - top
                best, at = _NEVER, 0
                for j, offset in enumerate(offsets):
                    if offset + links[j][k] > best:
                        best, at = offset + links[j][k], j
                following[k], backs[k] = best + gain, at
            scores = following
            steps.append((backs, mine, sums))
        return self._traced(described, scores, steps, powers, quiet)

    def _traced(
        self,
        described: Sequence[Sequence[str]],
        scores: list[float],
        steps: list[tuple[list[int], list[float], list[float]]],
        powers: list[tuple[float, ...]],
        quiet: str,
    ) -> list[Choice]:
        """The run of labels read back from its end, each with its probabilities given the label before it."""
        out: list[Choice] = []
        k = max(range(len(scores)), key=scores.__getitem__)
        for features, (backs, mine, sums) in zip(reversed(described), reversed(steps), strict=True):
            before = backs[k]
            chances = [power * factor / sums[before] for power, factor in zip(mine, powers[before], strict=True)]
            label = self.labels[k]
            reasons = self.reasons(features, label) if label != quiet else ()
            out.append(Choice(label, chances[k], dict(zip(self.labels, chances, strict=True)), reasons))
            k = before
        out.reverse()
        return out

    def reasons(self, features: Iterable[str], label: str) -> tuple[str, ...]:
        """The features that speak loudest for a label."""
        at = self.labels.index(label)
        loud = sorted(((self.weights[name][at], name) for name in features if name in self.weights), reverse=True)[:3]
        return tuple(name for weight, name in loud if weight > 0)

    def choose(self, features: Iterable[str]) -> Choice:
        """The label for a set of features."""
        names = list(features)
        chances = _softmax(self.totals(names))
        best = chances.index(max(chances))
        label = self.labels[best]
        return Choice(label, chances[best], dict(zip(self.labels, chances, strict=True)), self.reasons(names, label))


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
