"""A note cut into sentences, and sentences into pieces: the stretches that can each say one thing.

A sentence ends at a full stop, a question mark, a semicolon or a line's end. A piece also ends at a comma, a bracket, a
colon, a dash, and before a conjunction that opens a new statement. Speech without punctuation is cut where a new
statement plainly begins.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .words import NUM, SIGN, WORD, Tok

_ENDERS = frozenset(".!?;")
_BREAKERS = frozenset(",:()[]–—|→•*")
_JOINERS = frozenset("and but so because then though although which while whereas however plus cos cause or".split())
# after "and", "then" or "or" a new statement begins only with one of these, or with a verb or a part
_STATEMENT = frozenset(
    "i it it's he she we they that that's there there's the a an this now then you my his her their one's got no not is was".split()
)
_ABBREVIATED = frozenset("no nos cyl approx temp min max vs st inc pt ref ca i.e e.g e.g. fig mr mrs ms dr tel ext".split())
# words that open a new statement in speech without punctuation
_OPENERS = frozenset(
    "so then now okay ok right next but because and i it it's that's there's he she they we don't can't order get check pull "
    "replace fit tag number still also after with which where why what who once if anyway customer no battery".split()
)


@dataclass(frozen=True, slots=True)
class Piece:
    """Words `first` to `last` (exclusive) of sentence number `sentence`; `opened` is the word or sign before it."""

    first: int
    last: int
    sentence: int
    opened: str
    asked: bool = False


@dataclass(frozen=True, slots=True)
class Layout:
    """How a note is cut: `pieces`, and for every word the number of its piece and of its sentence."""

    pieces: tuple[Piece, ...]
    piece_of: tuple[int, ...]
    sentence_of: tuple[int, ...]
    sentences: tuple[tuple[int, int], ...]
    unpunctuated: bool


def _ends_sentence(toks: Sequence[Tok], i: int) -> bool:
    """Whether the sign at `i` ends a sentence: not in "no. 3", not in "i.e."."""
    tok = toks[i]
    if tok.low not in _ENDERS:
        return False
    if tok.low != ".":
        return True
    following = toks[i + 1] if i + 1 < len(toks) else None
    if following is None or following.line:
        return True
    if following.glued:
        return False
    before = toks[i - 1].low if i else ""
    if before in _ABBREVIATED:
        return following.kind == WORD and following.text[:1].isupper() and before not in {"no", "nos", "mr", "mrs", "dr"}
    return True


def layout(toks: Sequence[Tok], verbs: frozenset[str] = frozenset(), parts_at: frozenset[int] = frozenset(),
           figures_end: frozenset[int] = frozenset(), inside: frozenset[int] = frozenset()) -> Layout:
    """Cut a note. `verbs` are words that open a deed or a step, `parts_at` the words at which a part's name begins,
    `figures_end` the words right after a figure: the marks by which speech without punctuation is cut. No piece begins
    at a word in `inside`, the later words of a figure ("eleven and a half").
    """
    n = len(toks)
    sentence_of = [0] * n
    sentence = 0
    for i, tok in enumerate(toks):
        if i and (tok.line or _ends_sentence(toks, i - 1)) and not (tok.line and _continues(toks, i)):
            sentence += 1
        sentence_of[i] = sentence
    punctuation = sum(1 for tok in toks if tok.kind == SIGN and tok.low in ".,;:?!") + sum(tok.line for tok in toks)
    unpunctuated = n >= 25 and punctuation * 30 < n
    starts = [0] if n else []
    opened = {0: ""}
    for i in range(1, n):
        if sentence_of[i] != sentence_of[i - 1]:
            starts.append(i)
            opened[i] = "."
        elif i in inside:
            continue
        elif _breaks(toks, i, verbs, parts_at):
            starts.append(i)
            opened[i] = toks[i].low if toks[i].low in _JOINERS else toks[i - 1].low
        elif unpunctuated and _opens(toks, i, verbs, parts_at, figures_end):
            starts.append(i)
            opened[i] = "~"
    pieces: list[Piece] = []
    piece_of = [0] * n
    bounds = [*starts, n]
    for number in range(len(starts)):
        first, last = bounds[number], bounds[number + 1]
        for i in range(first, last):
            piece_of[i] = number
        pieces.append(Piece(first, last, sentence_of[first], opened[first]))
    spans: list[tuple[int, int]] = []
    for i in range(n):
        if not i or sentence_of[i] != sentence_of[i - 1]:
            spans.append((i, i + 1))
        else:
            spans[-1] = (spans[-1][0], i + 1)
    asked = {number for number, (first, last) in enumerate(spans) if any(toks[k].low == "?" for k in range(max(first, last - 2), last))}
    pieces = [Piece(p.first, p.last, p.sentence, p.opened, p.sentence in asked) for p in pieces]
    return Layout(tuple(pieces), tuple(piece_of), tuple(sentence_of), tuple(spans), unpunctuated)


def _continues(toks: Sequence[Tok], i: int) -> bool:
    """A line that goes on with the one before: the line ended in a comma or in "and"."""
    before = toks[i - 1]
    return before.low in {",", "and", "&", "+"}


def _breaks(toks: Sequence[Tok], i: int, verbs: frozenset[str], parts_at: frozenset[int]) -> bool:
    """Whether a new piece begins at word `i` of a sentence."""
    tok, before = toks[i], toks[i - 1]
    if before.kind == SIGN and before.low in _BREAKERS:
        return True
    if tok.kind == SIGN and tok.low in "([":
        return True
    if before.low == "-" and not before.glued and not tok.glued:
        return True
    if before.low == ">" and toks[i - 2].low == "-" if i > 1 else False:
        return True
    if tok.low not in _JOINERS or i + 1 >= len(toks):
        return False
    following = toks[i + 1]
    if tok.low in {"and", "or", "plus"}:
        return (following.low in _STATEMENT or following.low in verbs or i + 1 in parts_at) and following.kind != NUM
    return True


def _opens(toks: Sequence[Tok], i: int, verbs: frozenset[str], parts_at: frozenset[int], figures_end: frozenset[int]) -> bool:
    """Whether in speech without punctuation a new statement begins at word `i`."""
    tok, before = toks[i], toks[i - 1]
    if before.low in _OPENERS or before.low in {"the", "a", "to", "of", "and", "at", "on", "in", "for", "is", "it"}:
        return False
    if tok.low in _OPENERS or tok.low in verbs:
        return True
    return i in figures_end and i in parts_at
