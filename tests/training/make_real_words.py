"""Make read/data/real_words.yaml: English words that are a slip or two from a word in a part's name and are no slip.

usage: python tests/training/make_real_words.py WORDS [WORDS ...]

WORDS are plain lists, one word a line: Debian's packages wamerican and wbritish (public domain) put theirs in the folder
usr/share/dict. Run it again when names are added to the catalogue.
"""

from __future__ import annotations

import sys
from pathlib import Path

from rapidfuzz import process
from rapidfuzz.distance import OSA

from cleansheet.catalogue import load
from cleansheet.read.parts import _NEAR_LEAST, part_names

OUT = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "read" / "data" / "real_words.yaml"


def main() -> None:
    names = part_names(load())
    pool: dict[str, list[str]] = {}
    for word in sorted(names.words):
        if len(word) >= _NEAR_LEAST:
            pool.setdefault(word[0], []).append(word)
    kept = set()
    for path in sys.argv[1:]:
        for line in Path(path).read_text(encoding="utf-8").splitlines():
            word = line.strip()
            if (
                not (word.isalpha() and word.isascii() and word.islower())
                or len(word) < _NEAR_LEAST
                or word in names.words
            ):
                continue
            if process.extractOne(
                word, pool.get(word[0], []), scorer=OSA.distance, score_cutoff=1 if len(word) < 8 else 2
            ):
                kept.add(word)
    kept -= {"carburetter", "carburetters"}
    head = OUT.read_text(encoding="utf-8").split("words:")[0] if OUT.exists() else ""
    OUT.write_text(head + "words:\n" + "".join(f"  - {word}\n" for word in sorted(kept)), encoding="utf-8")
    print(len(kept), "words")


if __name__ == "__main__":
    main()
