"""How well notes are read that the scorers have not seen: each quarter of one file by scorers trained on the rest.

usage: python tests/training/unseen.py NOTES.jsonl [OTHERS.jsonl ...]

The figures are of NOTES; the others are in every training. Takes some minutes.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import fit_match  # noqa: E402
import train  # noqa: E402

from cleansheet.catalogue import load, load_sheet  # noqa: E402
from cleansheet.flow import draft  # noqa: E402
from cleansheet.match import candidates as choosing  # noqa: E402
from cleansheet.read import scorer as scoring  # noqa: E402
from cleansheet.terms import Note  # noqa: E402
from cleansheet.terms.draft_json import draft_to_json  # noqa: E402
from measure import lines, measure  # noqa: E402

FOLDS = 4


def main() -> None:
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    notes = train.read_labels([Path(sys.argv[1])])
    others = train.read_labels([Path(path) for path in sys.argv[2:]])
    catalogue = load()
    sheets = {path.stem: load_sheet(path) for path in fit_match.SHEETS.glob("*.yaml")}
    read = []
    for fold in range(FOLDS):
        with tempfile.TemporaryDirectory() as folder:
            rest = [note for k, note in enumerate(notes) if k % FOLDS != fold] + others
            train.train(rest, Path(folder))
            fit_match.train(rest, Path(folder))
            choosing.FOLDER = Path(folder)
            choosing.forget_weights()
            for note in notes[fold::FOLDS]:
                sheet = draft(Note(note["text"], recorded_at=note["date"]), catalogue, sheets.get(note["sheet"]))
                read.append((note, draft_to_json(sheet)["items"]))
            choosing.FOLDER, scoring.FOLDER = None, None
            choosing.forget_weights()
            scoring.scorer.cache_clear()
    print("\n".join(lines(measure(read))))


if __name__ == "__main__":
    main()
