"""A statement as a run of word classes: what it does shows in its make, even where its words are new.

"Linished the slide" and "Burped the header tank" are both PAST THE PART; "wants linishing" is NEED DOING.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .cues import cue_book
from .words import NUM, SIGN, without_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .words import Tok

OTHER_WORD = "x"
_SMALL = frozenset(["THE", "AT", "AND", "HOW", "IT", OTHER_WORD, "-ed", "-ly"])  # left out of the short run


@cache
def _senses() -> dict[str, str]:
    """Each word form of data/word_senses.yaml, with its sense."""
    out: dict[str, str] = {}
    for sense, words in packaged("read", "word_senses.yaml").items():
        for entry in words:
            root, _, past = str(entry).removesuffix("+").partition("/")
            for form in verb_forms(root, past) if str(entry).endswith("+") else (root,):
                out.setdefault(form, sense)
    return out


def verb_forms(root: str, past: str = "") -> tuple[str, ...]:
    """A verb's forms, its past as given or regular.

    >>> verb_forms("grab"), verb_forms("shake", "shook"), verb_forms("hiss")
    (('grab', 'grabs', 'grabbed', 'grabbing'), ('shake', 'shakes', 'shook', 'shaking'), ('hiss', 'hisses', 'hissed', 'hissing'))
    """
    if root.endswith("y") and root[-2] not in "aeiou":
        return root, root[:-1] + "ies", past or root[:-1] + "ied", root + "ing"
    stem = root[:-1] if root.endswith("e") else root + root[-1] if _doubles(root) else root
    third = root + ("es" if root.endswith(("s", "sh", "ch", "x", "z")) else "s")
    return root, third, past or stem + "ed", stem + "ing"


def _doubles(root: str) -> bool:
    """Whether a short verb doubles its last letter: "grab", "hum"; not "shake", "flow", "squeal"."""
    return 2 < len(root) <= 4 and root[-1] not in "aeiouwxyh" and root[-2] in "aeiou" and root[-3] not in "aeiou"


def sense_of(word: str) -> str | None:
    """What a word means at a bench, or None.

    >>> sense_of("stalls"), sense_of("frayed"), sense_of("culprit"), sense_of("the")
    ('ILL', 'BAD', 'BLAME', None)
    """
    found = _senses().get(word)
    return _senses().get(without_s(word)) if found is None else found


@cache
def _closed() -> dict[str, str]:
    return {str(word): name for name, words in packaged("read", "word_classes.yaml").items() for word in words}


@cache
def class_of(word: str) -> str:
    """The class of one lower-case word.

    >>> class_of("fitted"), class_of("linished"), class_of("the"), class_of("piston")
    ('PAST', '-ed', 'THE', 'x')
    """
    closed = _closed().get(word)
    if closed is not None:
        return closed
    book = cue_book()
    if word in book.past:
        return "PAST"
    if word in book.base:
        return "DEED"
    if word in book.steps:
        return "STEP"
    sense = sense_of(word)
    if sense is not None:
        return sense
    for ending, least in (("ed", 5), ("ing", 6), ("ly", 5)):
        if len(word) >= least and word.endswith(ending):
            return f"-{ending}"
    return OTHER_WORD


def classes(toks: Sequence[Tok], first: int, last: int, named: dict[int, tuple[int, str]]) -> list[str]:
    """The classes of words `first` to `last`; `named` gives (word after it, class) for parts, numbers and findings."""
    out: list[str] = []
    i = first
    while i < last:
        one = named.get(i)
        if one is not None:
            out.append(one[1])
            i = max(i + 1, one[0])
            continue
        tok = toks[i]
        if tok.kind == NUM:
            out.append("#")
        elif tok.kind != SIGN:
            out.append(class_of(tok.low))
        elif tok.low == "?":
            out.append("?")
        i += 1
    return out


def class_features(run: Sequence[str]) -> list[str]:
    """Runs of three classes, and without the small words runs of two and the head."""
    framed = ["<", *run, ">"]
    out = [f"c3={a}_{b}_{c}" for a, b, c in dict.fromkeys(zip(framed, framed[1:], framed[2:], strict=False))]
    short = ["<", *(one for one in run if one not in _SMALL), ">"]
    out += [f"r2={a}_{b}" for a, b in dict.fromkeys(pairwise(short))]
    out.append("rw=" + "_".join(short[:8]))
    return out
