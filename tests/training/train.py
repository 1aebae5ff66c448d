"""Train the small scorers of `read` on labelled notes; the same notes give the same weights.

usage: python tests/training/train.py LABELS.jsonl [LABELS.jsonl ...] [--to FOLDER]

Four linear models (fit.py): where a stop is missing in speech without punctuation, what a statement is there for, what a
number is there for, and the word of a finding. Each note is also shown without its punctuation and capitals, as a
recogniser might write it; that is where the first model has its labels from.
"""

from __future__ import annotations

import argparse
import json
import re
from pathlib import Path

from fit import fit, write
from labels import piece_labels, role_labels, word_labels

from cleansheet.catalogue import load
from cleansheet.read import scorer as scoring
from cleansheet.read.clauses import COMMA, GO_ON, STOP, is_flat, stop_features
from cleansheet.read.cues import cue_book
from cleansheet.read.pipeline import scene_of
from cleansheet.read.remarks import LABELS, _questions, piece_features, word_features
from cleansheet.read.role_features import figure_features, normal_words
from cleansheet.read.role_rules import ROLES, never, taken_back
from cleansheet.read.words import SIGN, words
from cleansheet.terms import FINDINGS

DATA = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "read" / "data"
# "none" must be this much likelier (log-odds): a remark too many is dropped with one key, one too few is lost
EAGER = 0.3
OF_FLAT, OF_SHORT = 0.2, 0.6  # what a note counts without its punctuation, and a sentence on its own
LEAST_WEIGHT = 0.06  # of a remark's feature: the many below it change no label and cost a fifth of the time
OF_DRILL = 0.5  # the short notes of drill-*.jsonl hold far more doubts and deeds than a day's notes do
_STOPS = re.compile(r"[.,;:?!()](?=\s|$)|[\n|]|(?<=\s)[-–—](?=\s)")


def flattened(text):
    """The text as a recogniser might write it: same length, no capitals, blanks for stops and commas."""
    low = text.lower()
    return _STOPS.sub(" ", low if len(low) == len(text) else text)


class Note:
    """A labelled note with what the rules found in it and the labels as the scorers see them."""

    def __init__(self, label, catalogue, text=None):
        self.label, self.text = label, text if text is not None else label["text"]
        doc = scene_of(self.text, catalogue)
        own = doc._
        self.scene, self.figures, self.tests, self.lists = own.scene, own.figures, own.tests, own.lists
        self.normal = normal_words(own.toks, own.scene, own.figures, own.places)
        self.pieces = piece_labels(label, self.scene)
        self.roles = role_labels(label, self.figures)
        self.words = word_labels(label, self.scene)

    def piece_rows(self):
        before = "start"
        held = _questions(self.scene)
        for k, gold in enumerate(self.pieces):
            if k in held:
                before = held[k]
                continue
            yield piece_features(self.scene, k, before), gold
            before = gold

    def role_rows(self):
        before = "start"
        for k, gold in enumerate(self.roles):
            if gold != ROLES[2] or not self.settled(k):
                yield figure_features(self.scene, self.figures, k, self.tests, self.lists, before, self.normal), gold
            before = gold

    def settled(self, k):
        """Whether a rule settles the role of figure `k` before the scorer is asked."""
        following = self.figures[k + 1] if k + 1 < len(self.figures) else None
        return never(self.scene, self.figures[k]) is not None or (
            following is not None and taken_back(self.scene, self.figures[k], following)
        )

    def word_rows(self):
        for number, word in self.words:
            yield word_features(self.scene, number), word


def alone(note, catalogue):
    """Each sentence of a note as a note of its own, at its place: so a short note is no stranger."""
    toks, text = note.scene.toks, note.text
    if len(note.scene.layout.sentences) < 2:
        return
    for first, last in note.scene.layout.sentences:
        start, end = toks[first].start, toks[last - 1].end
        yield Note(note.label, catalogue, " " * start + text[start:end])


def stop_rows(label, catalogue):
    """Rows for the missing stops: the note without them, labelled with where they stood."""
    text = label["text"]
    if is_flat(words(text)):
        return
    own = scene_of(text, catalogue)._
    stood = {}
    for piece in own.layout.pieces:
        sign = own.toks[piece.first - 1] if piece.first else None
        if piece.opened == ".":
            stood[own.toks[piece.first].start] = STOP
        elif sign is not None and sign.kind == SIGN:
            stood[own.toks[piece.first].start] = COMMA
    flat = scene_of(flattened(text), catalogue, flat_ok=False)._
    toks = flat.toks
    parts = {part.first: part.last for part in flat.parts}
    figures = {figure.first: figure.last for figure in flat.figures}
    inside = {i for first, last in figures.items() for i in range(first + 1, last)}
    ends, part_ends = frozenset(figures.values()), frozenset(parts.values())
    since = 1
    for i in range(1, len(toks)):
        gold = stood.get(toks[i].start, GO_ON)
        if i not in inside:
            yield stop_features(toks, i, cue_book().verbs, parts, figures, ends, part_ends, since), gold
        since = 1 if gold else since + 1


def read_labels(paths):
    """The labelled notes of several files; those of a file drill-*.jsonl are marked `drill`."""
    notes = []
    for path in paths:
        drill = path.stem.startswith("drill")
        lines = path.read_text(encoding="utf-8").splitlines()
        notes += [{**json.loads(line), "drill": drill} for line in lines if line.strip()]
    return notes


def fit_stops(labels, catalogue):
    return fit([row for label in labels for row in stop_rows(label, catalogue)], [GO_ON, COMMA, STOP])


def flat_notes(labels, catalogue, to):
    """Each note without its punctuation, cut by stops learnt from the other half of the notes.

    Cut by stops learnt from themselves they would be cut nearly as they were punctuated, which speech never is.
    """
    out = []
    for half in (0, 1):
        write(fit_stops(labels[1 - half :: 2], catalogue), to / "stops.json.gz")
        scoring.scorer.cache_clear()
        out += [
            Note(label, catalogue, flattened(label["text"]))
            for label in labels[half::2]
            if not is_flat(words(label["text"]))
        ]
    return out


def train(labels, to):
    """Fit the four models on labelled notes and write them into the folder `to`."""
    catalogue = load()
    to.mkdir(parents=True, exist_ok=True)

    def keep(name, data):
        size = write(data, to / f"{name}.json.gz")
        print(f"{name}: {len(data['weights'])} features, {size} bytes")

    scoring.FOLDER = to
    flat = flat_notes(labels, catalogue, to)
    keep("stops", fit_stops(labels, catalogue))
    scoring.scorer.cache_clear()
    notes = [Note(label, catalogue) for label in labels]
    short = [one for note in notes if not note.label.get("drill") for one in alone(note, catalogue)]
    parts = ((notes, 1.0), (flat, OF_FLAT), (short, OF_SHORT))

    def gathered(rows_of):
        rows = [(row, weight * (OF_DRILL if note.label.get("drill") else 1.0))
                for part, weight in parts for note in part for row in rows_of(note)]  # fmt: skip
        return [row for row, _ in rows], [weight for _, weight in rows]

    rows, weights = gathered(Note.piece_rows)
    remarks = fit(rows, list(LABELS), given=weights)
    remarks["bias"][0] = round(remarks["bias"][0] - EAGER, 4)
    remarks["weights"] = {name: row for name, row in remarks["weights"].items() if max(map(abs, row)) >= LEAST_WEIGHT}
    keep("remarks", remarks)
    rows, weights = gathered(Note.role_rows)
    keep("roles", fit(rows, list(ROLES), given=weights))
    keep("findings", fit([row for note in notes for row in note.word_rows()], list(FINDINGS)))
    scoring.scorer.cache_clear()


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument("labels", nargs="+", type=Path)
    ap.add_argument("--to", type=Path, default=DATA)
    a = ap.parse_args()
    train(read_labels(a.labels), a.to)


if __name__ == "__main__":
    main()
