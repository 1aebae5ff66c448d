"""Train the small scorers of `read` on labelled notes; the same notes give the same weights.

usage: python tests/training/train.py LABELS.jsonl [LABELS.jsonl ...] [--to FOLDER]

Three linear models (fit.py): what a statement is there for, what a number is there for, which findings are results. The
third is trained on what the first two say of notes they have not seen (six folds), for that is what it meets in use.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from fit import fit, write
from labels import finding_labels, piece_labels, role_labels

from cleansheet.catalogue import load
from cleansheet.read.kept import DROP, KEEP, finding_features
from cleansheet.read.pipeline import scene_of
from cleansheet.read.remarks import NONE, REMARKS, _ENOUGH, piece_features
from cleansheet.read.roles import ROLES, figure_features, normal_words
from cleansheet.read.scorer import Scorer

DATA = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "read" / "data"
FOLDS = 6


def model_of(data):
    return Scorer(data["labels"], {k: tuple(v) for k, v in data["weights"].items()}, data["bias"])


class Note:
    """A labelled note with what the rules found in it and the labels as the scorers see them."""

    def __init__(self, label, catalogue):
        self.label = label
        doc = scene_of(label["text"], catalogue)
        own = doc._
        self.scene, self.figures, self.tests, self.lists = own.scene, own.figures, own.tests, own.lists
        self.normal = normal_words(own.toks, own.scene, own.figures, own.places)
        self.pieces = piece_labels(label, self.scene)
        self.roles = role_labels(label, self.figures)
        self.findings = finding_labels(label, self.scene)

    def piece_rows(self):
        before = "start"
        for k, gold in enumerate(self.pieces):
            yield piece_features(self.scene, k, before), gold
            before = gold

    def role_rows(self):
        before = "start"
        for k, gold in enumerate(self.roles):
            yield figure_features(self.scene, self.figures, k, self.tests, self.lists, before, self.normal), gold
            before = gold

    def guess(self, remarks, roles):
        labels, before = [], "start"
        for k in range(len(self.pieces)):
            choice = remarks.choose(piece_features(self.scene, k, before))
            best = max(REMARKS, key=lambda label: choice.probabilities[label])
            before = best if choice.probabilities[best] >= _ENOUGH else NONE
            labels.append(before)
        said, before = [], "start"
        for k in range(len(self.roles)):
            before = roles.choose(figure_features(self.scene, self.figures, k, self.tests, self.lists, before, self.normal)).label
            said.append(before)
        return labels, said

    def finding_rows(self, labels, roles):
        before = "start"
        for k, gold in enumerate(self.findings):
            yield finding_features(self.scene, k, labels, self.figures, roles, before), gold
            before = gold


def train(notes, strength=1.0):
    """The three models, as plain data."""
    def both(part):
        remarks = fit([row for note in part for row in note.piece_rows()], [NONE, *REMARKS], strength=strength)
        roles = fit([row for note in part for row in note.role_rows()], list(ROLES), strength=strength)
        return remarks, roles

    rows = []
    for fold in range(FOLDS):
        held = notes[fold::FOLDS]
        rest = [note for k, note in enumerate(notes) if k % FOLDS != fold]
        remarks, roles = (model_of(data) for data in both(rest))
        for note in held:
            rows += list(note.finding_rows(*note.guess(remarks, roles)))
    remarks, roles = both(notes)
    return {"remarks": remarks, "roles": roles, "findings": fit(rows, [DROP, KEEP], strength=strength)}


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument("labels", nargs="+", type=Path)
    ap.add_argument("--to", type=Path, default=DATA)
    a = ap.parse_args()
    catalogue = load()
    notes = [Note(json.loads(line), catalogue) for path in a.labels for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]
    a.to.mkdir(parents=True, exist_ok=True)
    for name, data in train(notes).items():
        size = write(data, a.to / f"{name}.json.gz")
        print(f"{name}: {len(data['weights'])} features, {size} bytes")


if __name__ == "__main__":
    main()
