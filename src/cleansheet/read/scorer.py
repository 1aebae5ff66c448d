"""A small trained scorer for where rules end: a linear model over named features.

Every feature is something the rules found (a cue, a part, a word at a place), so its weight is a reason that can be shown.
The weights are made by tests/training/train.py from the labelled notes in tests/data, and give the same answer every time.
"""

from __future__ import annotations

import gzip
import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Choice:
    """The likeliest label, its probability, all probabilities, and the features that spoke loudest for it."""

    label: str
    probability: float
    probabilities: dict[str, float]
    reasons: tuple[str, ...]


class Scorer:
    """Labels, and for each feature a weight per label."""

    def __init__(self, labels: Sequence[str], weights: dict[str, tuple[float, ...]], bias: Sequence[float]) -> None:
        self.labels = tuple(labels)
        self.weights = weights
        self.bias = tuple(bias)

    def totals(self, features: Iterable[str]) -> list[float]:
        """Log-odds of each label, not normalised."""
        rows = [row for row in map(self.weights.get, features) if row is not None]
        return [bias + sum(column) for bias, column in zip(self.bias, zip(*rows, strict=True), strict=True)] if rows else list(self.bias)

    def best_run(self, described: Sequence[Sequence[str]], link: str, first: str = "start", held: Mapping[int, str] | None = None) -> list[Choice]:
        """The likeliest run of labels for a row of things, where each thing's features may hold `link` + the label before it.

        Viterbi's algorithm over the labels' log-probabilities. `held` gives things whose label is settled already.
        """
        held = held or {}
        links = {label: self.weights.get(link + label, (0.0,) * len(self.labels)) for label in (*self.labels, first)}
        paths: dict[str, tuple[float, list[Choice]]] = {first: (0.0, [])}
        for number, features in enumerate(described):
            base = self.totals(features)
            settled = held.get(number)
            following: dict[str, tuple[float, list[Choice]]] = {}
            for before, (score, choices) in paths.items():
                chances = _softmax([total + extra for total, extra in zip(base, links[before], strict=True)])
                for k, label in enumerate(self.labels):
                    if settled is not None and label != settled:
                        continue
                    reached = score + (0.0 if settled is not None else math.log(chances[k] + 1e-12))
                    if label not in following or reached > following[label][0]:
                        chance = dict(zip(self.labels, chances, strict=True))
                        following[label] = (reached, [*choices, Choice(label, chance[label], chance, ())])
            paths = following
        best = max(paths.values(), key=lambda path: path[0])[1]
        return [
            replace(choice, reasons=self.reasons(features, choice.label)) for choice, features in zip(best, described, strict=True)
        ]

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
