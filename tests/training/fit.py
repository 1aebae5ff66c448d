"""Fit a linear softmax model over named features: L2-regularised, deterministic, written as a small gzipped JSON."""

from __future__ import annotations

import gzip
import json
from collections import Counter
from typing import TYPE_CHECKING

import numpy as np
from scipy import sparse
from scipy.optimize import minimize

if TYPE_CHECKING:
    from pathlib import Path

# What a feature costs: single words and runs of words are many and say little, what the rules found says much.
_LEXICAL = (
    "s=",
    "hs=",
    "w=",
    "b=",
    "t=",
    "h2=",
    "p=",
    "-1",
    "-2",
    "-3",
    "+1",
    "+2",
    "0,1",
    "0=",
    "gap:",
    "head=",
    "end=",
)
_COST_OF_WORDS, _COST_OF_RULES = 1.0, 1.0


def costs(names):
    return np.array([_COST_OF_WORDS if name.startswith(_LEXICAL) else _COST_OF_RULES for name in names])


def fit(
    rows: list[tuple[list[str], str]],
    labels: list[str],
    *,
    least: int = 2,
    strength: float = 1.0,
    weight_of: dict[str, float] | None = None,
    given: list[float] | None = None,
) -> dict:
    """Weights for `rows` of (features, label). A feature seen fewer than `least` times is left out."""
    counts = Counter(name for features, _ in rows for name in set(features))
    names = sorted(name for name, count in counts.items() if count >= least)
    index = {name: i for i, name in enumerate(names)}
    data, columns, starts = [], [], [0]
    for features, _ in rows:
        cols = sorted({index[name] for name in features if name in index})
        columns += cols
        data += [1.0] * len(cols)
        starts.append(len(columns))
    x = sparse.csr_matrix((data, columns, starts), shape=(len(rows), len(names)))
    y = np.array([labels.index(label) for _, label in rows])
    hot = np.eye(len(labels))[y]
    weights = np.array([(weight_of or {}).get(label, 1.0) for _, label in rows])
    if given is not None:
        weights = weights * np.array(given)
    k, d = len(labels), len(names)
    cost = strength * costs(names)[:, None]

    def loss(flat):
        w = flat[: d * k].reshape(d, k)
        b = flat[d * k :]
        z = x @ w + b
        z -= z.max(axis=1, keepdims=True)
        e = np.exp(z)
        p = e / e.sum(axis=1, keepdims=True)
        value = -(weights * np.log(p[np.arange(len(y)), y] + 1e-12)).sum() + 0.5 * (cost * w**2).sum()
        g = (p - hot) * weights[:, None]
        return value, np.concatenate([((x.T @ g) + cost * w).ravel(), g.sum(axis=0)])

    best = minimize(loss, np.zeros(d * k + k), jac=True, method="L-BFGS-B", options={"maxiter": 300})
    w = best.x[: d * k].reshape(d, k)
    kept = {name: [round(float(v), 3) for v in w[i]] for name, i in index.items() if np.abs(w[i]).max() >= 0.02}
    return {"labels": labels, "weights": kept, "bias": [round(float(v), 4) for v in best.x[d * k :]]}


def write(model: dict, path: Path) -> int:
    """Write the model; the same weights give the same bytes."""
    packed = gzip.compress(json.dumps(model, sort_keys=True, separators=(",", ":")).encode(), mtime=0)
    path.write_bytes(packed)
    return len(packed)
