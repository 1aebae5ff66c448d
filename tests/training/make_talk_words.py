"""Make read/data/talk_words.yaml: the words of workshop talk, so that a word outside it may be a misheard one.

usage: python tests/training/make_talk_words.py LABELS.jsonl [LABELS.jsonl ...] [--to FILE]

The words of labelled notes that are written in small letters at least once: names of people and places are left out.
"""

from __future__ import annotations

import argparse
import json
import re
import textwrap
from pathlib import Path

OUT = Path(__file__).resolve().parents[2] / "src" / "cleansheet" / "read" / "data" / "talk_words.yaml"
HEAD = """\
# Words of workshop talk out of the labelled notes, made by tests/training/make_talk_words.py. A word that is not among them
# may be a part's name misheard (read/misheard.py).
words:
"""


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("labels", type=Path, nargs="+")
    parser.add_argument("--to", type=Path, default=OUT)
    asked = parser.parse_args()
    seen = set()
    for path in asked.labels:
        for line in path.read_text(encoding="utf-8").splitlines():
            seen.update(
                re.findall(r"(?<![\w'])[a-z]{3,}(?:'[a-z]+)?(?![\w'])", json.loads(line)["text"].replace("’", "'"))
            )
    lines = textwrap.wrap(" ".join(sorted(seen)), 118)
    asked.to.write_text(HEAD + "".join(f'- "{line}"\n' for line in lines), encoding="utf-8")
    print(len(seen), "words")


if __name__ == "__main__":
    main()
