"""Print the figures of a run as Markdown tables.

    python tests/bench/speech/figures.py OUT [OUT ...]

*Lost*: the (value, unit) pair is not in the transcript. *Lost, choices too*: neither there nor among the other hearings
that a reviewer is shown with it. *Wrong*: figures with a unit that nobody said, as a share of all pairs; *unflagged*
when no word of it has a probability below 0.5 and none a rival hearing with another number.
"""

from __future__ import annotations

import json
import re
import sys
from collections import defaultdict
from pathlib import Path

import yaml

sys.path.insert(0, str(Path(__file__).parent))
from scoring import figures, score
from voices import NATURAL


def choices(text, words):
    """The text with one run of words replaced by another hearing: (start, end, new text), each hearing once."""
    at = 0
    while at < len(words):
        for heard in words[at][4]:
            if at and heard in words[at - 1][4]:
                continue
            last = at
            while last + 1 < len(words) and heard in words[last + 1][4] and " " in heard:
                last += 1
            yield words[at][1], words[last][2], text[: words[at][1]] + heard + text[words[last][2] :]
        at += 1


def numbers(text):
    from cleansheet.listen.alike import tokens

    return [one.form for one in tokens(text.split()) if one.kind == "number"]


def flagged(text, words, start, end) -> bool:
    """A word of it is doubtful, or another hearing that touches it changes a number of the text."""
    if any(word[3] < 0.5 for word in words if word[1] < end and word[2] > start):
        return True
    return any(
        first < end and last > start and numbers(other) != numbers(text) for first, last, other in choices(text, words)
    )


def part_named(text: str, part: str, catalogue) -> bool:
    component = catalogue.components[part]
    names = "|".join(re.escape(name) for name in (component.name, *component.also))
    return re.search(rf"\b(?:{names})(?:s|es)?\b", text, re.IGNORECASE) is not None


class Tally:
    def __init__(self):
        self.said = self.found = self.shown = self.wrong = self.sure = self.clips = self.named = self.flags = 0

    def add(self, row, way, catalogue):
        heard = row[way]
        result = score(heard["text"], row["pairs"])
        self.clips += 1
        self.said += result.said
        self.found += result.found
        self.shown += result.found + result.repaired
        self.wrong += len(result.wrong)
        self.named += part_named(heard["text"], row["part"], catalogue)
        words = heard.get("words", [])
        self.sure += sum(not flagged(heard["text"], words, start, end) for _, _, start, end in result.wrong)
        places = [(one.start, one.end) for one in figures(heard["text"]) if one.quantity.unit]
        self.flags += sum(flagged(heard["text"], words, *place) for place in places)
        open_pairs = [list(pair) for pair in result.lost]
        for _, _, other in choices(heard["text"], words):
            still = [list(pair) for pair in score(other, row["pairs"]).lost]
            open_pairs = [pair for pair in open_pairs if pair in still]
        self.shown += len(result.lost) - len(open_pairs)

    def line(self, name):
        share = lambda count: f"{100 * count / max(1, self.said):.0f}"  # noqa: E731
        return (
            f"| {name} | {self.said} | {share(self.said - self.found)} | {share(self.said - self.shown)} "
            f"| {share(self.wrong)} | {100 * self.sure / max(1, self.said):.1f} | {share(self.flags)} "
            f"| {100 * self.named / max(1, self.clips):.0f} |"
        )


HEAD = (
    "| | pairs | lost % | lost, choices too % | wrong % | wrong, unflagged % | flagged % | part named % |\n"
    + "|---" * 8
    + "|"
)


def table(rows, way, by, catalogue):
    tallies = defaultdict(Tally)
    for row in rows:
        tallies[by(row)].add(row, way, catalogue)
    return [tallies[name].line(name) for name in tallies]


def main(paths: list[Path]) -> None:
    from cleansheet.catalogue import load

    catalogue = load()
    rows = [json.loads(line) for file in paths for line in file.read_text().splitlines()]
    labels = yaml.safe_load((Path(__file__).parent / "sentences.yaml").read_text(encoding="utf-8"))
    pairs = {one["say"]: one["pairs"] for half in labels.values() for one in half}
    for row in rows:
        row["pairs"] = pairs[row["say"]]  # a label put right counts for what was heard before as well
    ways = [way for way in ("plain", "ours") if way in rows[0]]
    level = lambda row: "clean" if row["level"] is None else f"{row['level']} dB"  # noqa: E731
    for title, by, chosen in (
        ("all", lambda row: "all", rows),
        ("natural voice", lambda row: "all levels", [row for row in rows if row["voice"] == NATURAL]),
        ("natural voice by level", level, [row for row in rows if row["voice"] == NATURAL]),
        ("level", level, rows),
        ("voice", lambda row: row["voice"], rows),
        ("noise", lambda row: row["noise"], rows),
    ):
        for way in ways if chosen else ():
            print(f"\n**{title}, {way}**\n\n{HEAD}")
            print("\n".join(table(chosen, way, by, catalogue)))
    for way in ways:
        used = sum(row[way]["cpu_s"] for row in rows)
        print(f"\n{way}: {used:.0f} s of CPU for {sum(row['seconds'] for row in rows):.0f} s of sound")


if __name__ == "__main__":
    main([Path(name) for name in sys.argv[1:]])
