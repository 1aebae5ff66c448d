"""Count the runs of three words in workshop talk, for `cleansheet.listen.phrasing`; the same text gives the same file.

usage: python tests/training/train_phrasing.py LABELS.jsonl [LABELS.jsonl ...] [--to FILE]

The text of labelled notes, as a recogniser would write it (sentence by sentence, no punctuation, numbers as one class), and
what the catalogue lets one expect: each of a component's names with its tests' names and units. No value is counted.
"""

from __future__ import annotations

import argparse
import gzip
import json
import re
from collections import Counter
from pathlib import Path

from num2words import num2words

from cleansheet.catalogue import load
from cleansheet.listen.alike import tokens
from cleansheet.listen.choice import UCUM
from cleansheet.listen.phrasing import END, START, symbols

OUT = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "listen" / "data" / "phrasing.json.gz"
SENTENCE = re.compile(r"[.;:?!](?=\s|$)|\n+")
GLUED = re.compile(r"(?<=\d)(?=[A-Za-z])")
# as the catalogue's names are met: what stands between the name and the number
FORMS = ("{name} {test} # {unit}", "{name} # {unit}", "{name} is # {unit}", "{test} # {unit}", "# {unit} {name}")


def sentences(text):
    """The sentences of a note as said: "12.6V" as "twelve point six V"."""
    text = GLUED.sub(" ", text)
    text = re.sub(
        r"\d+(?:\.\d+)?", lambda found: f" {num2words(float(found[0]) if '.' in found[0] else int(found[0]))} ", text
    )
    return [one for one in SENTENCE.split(text) if one.strip()]


def runs(text):
    run = [START, START, *symbols(tokens(text.lower().split())), END]
    return (" ".join(run[at - 2 : at + 1]) for at in range(2, len(run)))


def expected(catalogue):
    """What the catalogue lets one expect, as sentences with the number's place held by a one."""
    for component in catalogue.components.values():
        for name in (component.name, *component.also):
            yield name
            for test in catalogue.tests_of(component.id):
                for unit in UCUM.get(test.unit, (None, ()))[1]:
                    for form in FORMS:
                        yield form.format(name=name, test=test.name, unit=unit).replace("#", "one")


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("labels", type=Path, nargs="+")
    parser.add_argument("--to", type=Path, default=OUT)
    asked = parser.parse_args()
    counts = Counter()
    for path in asked.labels:
        for line in path.read_text(encoding="utf-8").splitlines():
            for sentence in sentences(json.loads(line)["text"]):
                counts.update(runs(sentence))
    said = sum(counts.values())
    counts.update(Counter(dict.fromkeys((run for text in expected(load()) for run in runs(text)), 1)))
    raw = json.dumps(dict(sorted(counts.items())), separators=(",", ":")).encode()
    asked.to.write_bytes(gzip.compress(raw, mtime=0))
    print(f"{said} words, {len(counts)} runs, {asked.to.stat().st_size / 1e3:.0f} kB")


if __name__ == "__main__":
    main()
