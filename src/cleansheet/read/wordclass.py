"""A statement as a run of word classes: what it does shows in its make, even where its words are new.

"Linished the slide" and "Burped the header tank" are both PAST THE PART; "wants linishing" is NEED DOING.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .cues import cue_book
from .words import NUM, SIGN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .words import Tok

OTHER_WORD = "x"
_WHOLE = 6  # classes up to which the whole run is a sign too


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
    """Runs of two to four classes, the first and the last four, and a short run as a whole."""
    framed = ["<", *run, ">"]
    out = [f"c2={a}_{b}" for a, b in dict.fromkeys(pairwise(framed))]
    out += [f"c3={a}_{b}_{c}" for a, b, c in dict.fromkeys(zip(framed, framed[1:], framed[2:], strict=False))]
    out += [
        f"c4={a}_{b}_{c}_{d}"
        for a, b, c, d in dict.fromkeys(zip(framed, framed[1:], framed[2:], framed[3:], strict=False))
    ]
    if len(run) <= _WHOLE:
        out.append("cw=" + "_".join(run))
    out.append("ch=" + "_".join(framed[:4]))
    out.append("ct=" + "_".join(framed[-4:]))
    return out
