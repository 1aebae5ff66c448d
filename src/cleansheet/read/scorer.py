"""A small trained scorer for where rules end: a linear model over named features.

Every feature is something the rules found (a cue, a part, a word at a place), so its weight is a reason that can be shown.
The weights are made by tests/training/train.py from the labelled notes in tests/data, and give the same answer every time.
"""

from __future__ import annotations

import gzip
import json
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
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

    def choose(self, features: Iterable[str]) -> Choice:
        """The label for a set of features."""
        names = [name for name in features if name in self.weights]
        rows = [self.weights[name] for name in names]
        totals = [bias + sum(column) for bias, column in zip(self.bias, zip(*rows, strict=True), strict=True)] if rows else list(self.bias)
        top = max(totals)
        powers = [math.exp(total - top) for total in totals]
        whole = sum(powers)
        best = totals.index(top)
        loudest = sorted(zip((row[best] for row in rows), names, strict=True), reverse=True)[:3]
        return Choice(
            self.labels[best],
            powers[best] / whole,
            {label: power / whole for label, power in zip(self.labels, powers, strict=True)},
            tuple(name for weight, name in loudest if weight > 0),
        )


FOLDER: Path | None = None  # other weights than the package's, for measuring on notes left out of the training


@cache
def scorer(name: str) -> Scorer:
    """The trained scorer of that name, from the package's data."""
    where = FOLDER if FOLDER is not None else resources.files("cleansheet.read").joinpath("data")
    packed = where.joinpath(f"{name}.json.gz").read_bytes()
    data = json.loads(gzip.decompress(packed))
    return Scorer(data["labels"], {key: tuple(row) for key, row in data["weights"].items()}, data["bias"])
