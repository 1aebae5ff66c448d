"""What of a run arrives on the draft sheet: the transcripts of run.py taken through read, match and judge.

    python tests/bench/speech/drafts.py OUT [OUT ...]

*Part found*: an item carries the component that was named. *Wrong*: readings whose value and unit nobody said, as a share
of all pairs said; *unflagged* where the item carries no flag at all.
"""

from __future__ import annotations

import json
import sys
from collections import Counter, defaultdict
from pathlib import Path

import yaml

sys.path.insert(0, str(Path(__file__).parent))
from scoring import _same
from voices import NATURAL


def note_of(heard):
    from cleansheet.terms import Note, Word

    words = tuple(Word(one[0], one[1], one[2], 0.0, 0.0, one[3], tuple(one[4])) for one in heard.get("words", []))
    return Note(text=heard["text"], source="spoken", words=words)


def main(paths: list[Path]) -> None:
    from cleansheet.catalogue import load
    from cleansheet.flow import draft

    catalogue = load()
    labels = yaml.safe_load((Path(__file__).parent / "sentences.yaml").read_text(encoding="utf-8"))
    pairs = {one["say"]: one["pairs"] for half in labels.values() for one in half}
    rows = [json.loads(line) for file in paths for line in file.read_text().splitlines()]
    print(
        "| | sounds | part found % | wrong readings % | wrong, unflagged % | readings flagged % |\n|---|---|---|---|---|---|"
    )
    for way in ("plain", "ours"):
        tallies = defaultdict(Counter)
        for row in rows:
            items = draft(note_of(row[way]), catalogue).items if row[way]["text"] else ()
            said = pairs[row["say"]]
            level = "clean" if row["level"] is None else f"{row['level']} dB"
            for group in ("all", level, "natural voice" if row["voice"] == NATURAL else "other voices"):
                tally = tallies[group]
                tally["sounds"] += 1
                tally["said"] += len(said)
                tally["part"] += any(item.component == row["part"] for item in items)
                for item in items:
                    if item.kind != "reading" or item.quantity is None or item.quantity.value is None:
                        continue
                    tally["readings"] += 1
                    tally["flagged"] += bool(item.flags)
                    if not any(_same(value, unit, item.quantity) for value, unit in said):
                        tally["wrong"] += 1
                        tally["sure"] += not item.flags
        for group in ("all", "natural voice", "other voices", "clean", "20 dB", "10 dB", "5 dB"):
            one = tallies[group]
            print(
                f"| {way}, {group} | {one['sounds']} | {100 * one['part'] / max(1, one['sounds']):.0f} "
                f"| {100 * one['wrong'] / max(1, one['said']):.1f} | {100 * one['sure'] / max(1, one['said']):.1f} "
                f"| {100 * one['flagged'] / max(1, one['readings']):.0f} |"
            )


if __name__ == "__main__":
    main([Path(name) for name in sys.argv[1:]])
