"""Cut the Brown clusters of spacy-lookups-data down to the commonest words, for `cleansheet.read.word_groups`.

usage: pip download --no-deps spacy-lookups-data==1.0.5; python tests/training/word_groups.py WHEEL [--to FILE]
"""

import argparse
import gzip
import json
import re
import zipfile
from collections import defaultdict
from pathlib import Path

DATA = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "read" / "data" / "word_groups.json.gz"
MOST = 40_000  # words; more of them cover no more of the labelled notes' words
WORD = re.compile(r"[a-z][a-z'-]*")


def table(wheel, name):
    """One of the wheel's packed tables, word -> number."""
    with zipfile.ZipFile(wheel) as archive:
        return json.loads(gzip.decompress(archive.read(f"spacy_lookups_data/data/en_lexeme_{name}.json.gz")))


def groups(wheel):
    """Group number -> its words, the commonest first, the rest in order of the alphabet; the commonest word's group first."""
    group_of, often = table(wheel, "cluster"), table(wheel, "prob")
    words = [word for word, group in group_of.items() if group and WORD.fullmatch(word)]
    words.sort(key=lambda word: (-often.get(word, -99.0), word))
    found = defaultdict(list)
    for word in words[:MOST]:
        found[group_of[word]].append(word)
    return {str(number): " ".join([its[0], *sorted(its[1:])]) for number, its in found.items()}


def main():
    ap = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    ap.add_argument("wheel", type=Path)
    ap.add_argument("--to", type=Path, default=DATA)
    a = ap.parse_args()
    a.to.write_bytes(gzip.compress(json.dumps(groups(a.wheel)).encode(), 9, mtime=0))
    print(f"{a.to}: {a.to.stat().st_size} bytes")


if __name__ == "__main__":
    main()
