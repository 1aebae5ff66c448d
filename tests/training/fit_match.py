"""Fit the weights by which `match` chooses a test, on labelled notes; the same notes give the same weights.

usage: python tests/training/fit_match.py LABELS.jsonl [LABELS.jsonl ...] [--to FOLDER]

A conditional logit: for each labelled number, the labelled test against the other tests that its surroundings allow, with
what came before taken from the labels. Named signs have a prior at the weights in data/weights.yaml; words tied to a test
("block" to the ground strap's voltage drop) start from nothing.
"""

from __future__ import annotations

import argparse
from collections import Counter
from pathlib import Path

import numpy as np
from fit import write
from labels import _same, has_number, span
from scipy import sparse
from scipy.optimize import minimize
from train import read_labels

from cleansheet.catalogue import load, load_sheet
from cleansheet.match.candidates import candidates, prior_weights
from cleansheet.match.memory import Memory, as_item, before_for
from cleansheet.read.pipeline import read
from cleansheet.terms import Note

HERE = Path(__file__).resolve()
SHEETS = Path(__file__).resolve().parents[1] / "data" / "sheets"
DATA = HERE.parents[2] / "src" / "cleansheet" / "match" / "data"


def gold_of(note, mention):
    """The labelled number that a mention is, or None."""
    for item in note["items"]:
        if item["kind"] != mention.kind or not has_number(item):
            continue
        start, end = span(note["text"], item)
        if min(end, mention.end) > max(start, mention.start) and any(
            _same(item, q) for q in (mention.quantity, *mention.alternatives)
        ):
            return item
    return None


def rows_of(note, catalogue, sheet):
    """For each labelled number: the signs of every candidate and which one is right."""
    mentions = read(Note(note["text"]), catalogue)
    memory = Memory()
    for mention in mentions:
        if mention.quantity is None or mention.kind != "reading":
            continue
        gold = gold_of(note, mention)
        if gold is None or "test" not in gold:
            if gold is None and mention.tentative:
                yield candidates(mention, catalogue, sheet, before_for(mention, memory)), None
            continue
        group = mention.group
        known = group is not None and group in memory.by_group
        if not known:
            yield candidates(mention, catalogue, sheet, before_for(mention, memory)), gold["test"]
        item = as_item(mention, component=gold.get("component"), test=gold["test"], position=gold.get("position"))
        memory.last, memory.sentence = item, mention.sentence
        if group is not None:
            memory.by_group[group] = item


def fit(cases, prior, strength=1.0, strength_words=4.0, least=2):
    """Weights of every sign; `prior` holds where the named ones start."""
    counts = Counter(name for fits, _ in cases for fit in fits for name in fit.signs())
    names = sorted(name for name, count in counts.items() if count >= least or name in prior)
    index = {name: i for i, name in enumerate(names)}
    start = np.array([prior.get(name, 0.0) for name in names])
    pull = np.array([strength if name in prior else strength_words for name in names])
    data, columns, rows, group, right = [], [], [], [], []
    row = 0
    used = 0
    for fits, gold in cases:
        at = next((k for k, fit in enumerate(fits) if fit.test == gold), None)
        if at is None or len(fits) < 2:
            continue
        for k, fit in enumerate(fits):
            for name, amount in fit.signs().items():
                if name in index:
                    rows.append(row)
                    columns.append(index[name])
                    data.append(amount)
            group.append(used)
            right.append(k == at)
            row += 1
        used += 1
    x = sparse.csr_matrix((data, (rows, columns)), shape=(row, len(names)))
    group, right = np.array(group), np.array(right)

    def loss(w):
        z = x @ w
        top = np.full(used, -1e30)
        np.maximum.at(top, group, z)
        e = np.exp(z - top[group])
        total = np.bincount(group, e, used)
        p = e / total[group]
        value = -(z[right] - top - np.log(total)).sum() + 0.5 * (pull * (w - start) ** 2).sum()
        return value, x.T @ (p - right) + pull * (w - start)

    best = minimize(loss, start, jac=True, method="L-BFGS-B", options={"maxiter": 400})
    return {name: round(float(v), 3) for name, v in zip(names, best.x, strict=True) if abs(v) >= 0.02 or name in prior}


def train(labels, to):
    """Fit the weights on labelled notes and write them into the folder `to`."""
    catalogue = load()
    sheets = {path.stem: load_sheet(path) for path in SHEETS.glob("*.yaml")}
    cases = [case for note in labels for case in rows_of(note, catalogue, sheets.get(note["sheet"]))]
    unseen = Counter(gold for fits, gold in cases if all(fit.test != gold for fit in fits))
    weights = fit(cases, prior_weights())
    size = write({"weights": weights}, to / "tests.json.gz")
    print(f"{len(cases)} numbers, {sum(unseen.values())} with no candidate for the labelled test")
    print(f"tests: {len(weights)} weights, {size} bytes")


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument("labels", nargs="+", type=Path)
    ap.add_argument("--to", type=Path, default=DATA)
    a = ap.parse_args()
    train(read_labels(a.labels), a.to)


if __name__ == "__main__":
    main()
