"""Groups of words that stand in like places of everyday English, so that a word no note has held is like one that has.

"stutters" was in no labelled note, "hesitates" and "misfires" were. The 990 groups are Brown clusters (Brown and others 1992,
Class-based n-gram models of natural language) as packed in spacy-lookups-data 1.0.5 (MIT licence), cut down to the 40,000
commonest lower-case words by tests/training/word_groups.py.
"""

from __future__ import annotations

import gzip
import json
from functools import cache
from importlib import resources

_WIDER = 0xFF  # the lowest bits of a group's number are its path's first branches: groups that share them are akin


@cache
def _features() -> dict[str, tuple[str, str]]:
    packed = resources.files("cleansheet.read").joinpath("data/word_groups.json.gz").read_bytes()
    groups: dict[str, str] = json.loads(gzip.decompress(packed))
    wider: dict[int, str] = {}
    made: dict[str, tuple[str, str]] = {}
    for number, words in groups.items():
        commonest, *rest = words.split()
        around = wider.setdefault(int(number) & _WIDER, commonest)
        made |= dict.fromkeys([commonest, *rest], (f"like={commonest}", f"akin={around}"))
    return made


def group_features(word: str) -> tuple[str, ...]:
    """The features of a lower-case word: its group and the wider one around it, each called by its commonest word.

    >>> group_features("rattles")
    ('like=works', 'akin=things')
    >>> group_features("ohms")
    ()
    """
    return _features().get(word, ())
