"""A note cut into sentences, and sentences into pieces: the stretches that can each say one thing.

A sentence ends at a full stop, a question mark, a semicolon or a line's end. A piece also ends at a comma, a bracket, a
colon, a dash, and before a conjunction that opens a new statement. Speech without punctuation is cut where a new
statement plainly begins.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .cues import cue_book
from .scorer import scorer
from .wordclass import class_of, sense_of
from .words import NUM, SIGN, WORD, Tok

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

_ENDERS = frozenset(".!?;")
_BREAKERS = frozenset(",:()[]–—|→•*")
_JOINERS = frozenset("and but so because then though although which while whereas however plus cos cause or".split())
# after "and", "then" or "or" a new statement begins only with one of these, or with a verb or a part
_STATEMENT = frozenset(
    "i it it's he she we they that that's there there's the a an this now then you my his her their one's got no not is was".split()
)
_ALSO = frozenset({"and", "or", "plus", "+", "&"})
# what opens one more thing to fit or order after "and", and one more step: "and both rings", "and do the gas test again"
_ONE_MORE = frozenset("its both one two three four new another some".split())
_DO = frozenset("do drive let give redo strobe".split())
_ABBREVIATED = frozenset(
    "no nos cyl approx temp min max vs st inc pt ref ca i.e e.g e.g. fig mr mrs ms dr tel ext".split()
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
        return (
            following.kind == WORD and following.text[:1].isupper() and before not in {"no", "nos", "mr", "mrs", "dr"}
        )
    return True


def layout(
    toks: Sequence[Tok],
    verbs: frozenset[str] = frozenset(),
    parts: Mapping[int, int] | None = None,
    figures: Mapping[int, int] | None = None,
) -> Layout:
    """Cut a note. `verbs` are words that open a deed or a step; `parts` and `figures` are first word -> word after the last
    one of each name and number. No piece begins inside a number ("eleven and a half"). Where there is no punctuation, the
    trained scorer "stops" says where it would have stood.
    """
    parts, figures = parts or {}, figures or {}
    n = len(toks)
    inside = {i for first, last in figures.items() for i in range(first + 1, last)}
    flat = is_flat(toks)
    stops = _guessed_stops(toks, verbs, parts, figures, inside) if flat else {}
    starts = [0] if n else []
    opened = {0: ""}
    sentence_of = [0] * n
    sentence = 0
    for i in range(1, n):
        tok = toks[i]
        stop = stops.get(i)
        if stop == STOP or ((tok.line or _ends_sentence(toks, i - 1)) and not (tok.line and _continues(toks, i))):
            sentence += 1
            starts.append(i)
            opened[i] = "."
        elif (
            i not in inside
            and (stop == COMMA or _breaks(toks, i, verbs, parts))
            and not (toks[i - 1].low in _LIGHT and _aside(toks, i, starts[-1]))
        ):
            starts.append(i)
            opened[i] = tok.low if tok.low in _JOINERS else "," if stop else toks[i - 1].low
        sentence_of[i] = sentence
    return _laid_out(toks, starts, opened, sentence_of, flat)


def _laid_out(
    toks: Sequence[Tok], starts: list[int], opened: dict[int, str], sentence_of: list[int], flat: bool
) -> Layout:
    n = len(toks)
    piece_of = [0] * n
    spans: list[tuple[int, int]] = []
    for i in range(n):
        if not i or sentence_of[i] != sentence_of[i - 1]:
            spans.append((i, i + 1))
        else:
            spans[-1] = (spans[-1][0], i + 1)
    asked = {
        number
        for number, (first, last) in enumerate(spans)
        if any(toks[k].low == "?" for k in range(max(first, last - 2), last))
    }
    pieces: list[Piece] = []
    bounds = [*starts, n]
    for number, first in enumerate(starts):
        last = bounds[number + 1]
        piece_of[first:last] = [number] * (last - first)
        pieces.append(Piece(first, last, sentence_of[first], opened[first], sentence_of[first] in asked))
    return Layout(tuple(pieces), tuple(piece_of), tuple(sentence_of), tuple(spans), flat)


def is_flat(toks: Sequence[Tok]) -> bool:
    """Whether a text is speech without punctuation: hardly a sign in thirty words."""
    signs = sum(1 for tok in toks if tok.kind == SIGN and tok.low in ".,;:?!") + sum(tok.line for tok in toks)
    return len(toks) >= 8 and signs * 30 < len(toks) + 30


GO_ON, COMMA, STOP = "", ",", "."


def stop_features(
    toks: Sequence[Tok],
    i: int,
    verbs: frozenset[str],
    parts: Mapping[int, int],
    figures: Mapping[int, int],
    ends: frozenset[int],
    part_ends: frozenset[int],
    since: int,
) -> list[str]:
    """The features by which a missing stop or comma before word `i` is guessed; `since` words follow the last stop."""

    def at(k: int) -> str:
        if not 0 <= k < len(toks):
            return "<>"
        return "#" if k in figures or toks[k].kind == NUM else toks[k].low

    one, two, here, after = at(i - 1), at(i - 2), at(i), at(i + 1)
    features = [
        f"-1={one}",
        f"0={here}",
        f"+1={after}",
        f"-1,0={one}_{here}",
        f"0,1={here}_{after}",
        f"-2,-1={two}_{one}",
    ]
    if i in ends:
        features += ["figure|", f"figure|{here}"]
    if i in part_ends:
        features += ["part|", f"part|{here}"]
    if i in parts:
        features += ["|part", f"{one}|part"]
    if i in figures:
        features += ["|figure", f"{one}|figure"]
    if i in parts and i in ends:
        features.append("figure|part")
    if i in figures and i in part_ends:
        features.append("part|figure")
    if here in verbs:
        features += ["|verb", f"{one}|verb"]
    if one in verbs:
        features.append("verb|")
    features.append(f"since={min(since, 12) // 3}")
    kinds = [
        "<>" if word == "<>" else "#" if word == "#" else "PART" if k in parts else class_of(word)
        for k, word in ((i - 2, two), (i - 1, one), (i, here), (i + 1, after))
    ]
    features += [
        f"c-1,0={kinds[1]}_{kinds[2]}",
        f"c0,1={kinds[2]}_{kinds[3]}",
        f"c-2,0={kinds[0]}_{kinds[1]}_{kinds[2]}",
        f"c-1,1={kinds[1]}_{kinds[2]}_{kinds[3]}",
    ]
    return features


# words that end no statement: "should be | twelve thou"
_GOES_ON = frozenset("be to of the a an than between from into onto my his her their should must our".split())


def _guessed_stops(
    toks: Sequence[Tok], verbs: frozenset[str], parts: Mapping[int, int], figures: Mapping[int, int], inside: set[int]
) -> dict[int, str]:
    model = scorer("stops")
    ends, part_ends = frozenset(figures.values()), frozenset(parts.values())
    out: dict[int, str] = {}
    since = 1
    for i in range(1, len(toks)):
        if i in inside or toks[i - 1].low in _GOES_ON:
            since += 1
            continue
        label = model.choose(stop_features(toks, i, verbs, parts, figures, ends, part_ends, since)).label
        if label:
            out[i] = label
        since = 1 if label else since + 1
    return out


_LIGHT = frozenset({",", "-", "–", "—", "..."})
_CLOSERS = frozenset(".!?;,:)")


def _aside(toks: Sequence[Tok], i: int, start: int) -> bool:
    """Whether what stands before or after a comma at word `i` only says how sure the speaker is of the rest: "head gasket,
    I fear", "plug cap, got to be", "my guess, the pump".
    """
    book = cue_book().asides
    hit = book.at(toks, i)
    if hit is not None and (hit.last == len(toks) or toks[hit.last].low in _CLOSERS or toks[hit.last].line):
        return True
    before = book.at(toks, start)
    return before is not None and before.last == i - 1


def _continues(toks: Sequence[Tok], i: int) -> bool:
    """A line that goes on with the one before: the line ended in a comma or in "and"."""
    before = toks[i - 1]
    return before.low in {",", "and", "&", "+"}


def _breaks(toks: Sequence[Tok], i: int, verbs: frozenset[str], parts_at: Mapping[int, int]) -> bool:
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
    if i + 1 >= len(toks):
        return False
    if tok.low in _ALSO:
        return _joins(toks, i, verbs, parts_at)
    if tok.low not in _JOINERS or toks[i + 1].low in _CLOSERS or toks[i + 1].line:
        return False  # "chain then."
    if tok.low == "cause" and before.low in _BEFORE_CAUSE:
        return False
    return not (tok.low == "which" and before.low in _BEFORE_WHICH)


_BEFORE_WHICH = frozenset("sure know idea of in see tell wonder".split())
_BEFORE_CAUSE = frozenset("the a an no any likely main real root other possible that's".split())
_FAR = 8  # words after "and" in which a deed may still name a part of its own


def _joins(toks: Sequence[Tok], i: int, verbs: frozenset[str], parts_at: Mapping[int, int]) -> bool:
    """Whether "and", "or", "plus", "+" or "&" at word `i` opens a new statement: with a statement's word, a verb, a part or one
    more thing, a second thing gone wrong ("whistles and smokes"); not a second deed upon the same part ("cleaned both faces
    and bolted up").
    """
    following = toks[i + 1]
    if following.kind in {NUM, SIGN}:
        return False
    low = following.low
    sign = toks[i].kind == SIGN
    if low in verbs:
        return not (toks[i].low == "and" and (_same_deed(toks, i, parts_at) or _same_step(toks, i)))
    if i + 1 in parts_at:
        return True
    if not sign and (low in _STATEMENT or (low in _DO and toks[i].low == "and")):
        return True
    sense = sense_of(low)
    if sense == "THING" or (sense == "ILL" and low[-1] == "s" and low not in {toks[i - 1].low, "misfires", "noises"}):
        return True
    return (
        low in _ONE_MORE and i + 2 < len(toks) and (i + 2 in parts_at or sense_of(toks[i + 2].low) in {"THING", "NEW"})
    )


def _same_deed(toks: Sequence[Tok], i: int, parts_at: Mapping[int, int]) -> bool:
    """Whether the deed after "and" is upon the part of the deed before it: neither a part nor a number follows."""
    past = cue_book().past
    if toks[i + 1].low not in past:
        return False
    if toks[i - 1].low in past and _opens(toks, i - 1):
        return True  # "cleaned and greased the pins"
    k = i - 1
    while k >= max(0, i - _FAR) and toks[k].kind != SIGN and toks[k].low not in past:
        k -= 1
    if k < 0 or toks[k].low not in past:
        return False
    for k in range(i + 2, min(i + _FAR, len(toks))):
        tok = toks[k]
        if k in parts_at or tok.kind == NUM:
            return False
        if tok.kind == SIGN or tok.low in _JOINERS:
            return True
    return True


_OPENERS = frozenset("i we i've we've so then just now".split())


def _opens(toks: Sequence[Tok], i: int) -> bool:
    """Whether word `i` is the first of its statement, but for "I", "so" and the like."""
    k = i - 1
    while k >= 0 and toks[k].low in _OPENERS:
        k -= 1
    return k < 0 or toks[k].kind == SIGN or toks[k + 1].line or toks[k].low in _JOINERS


_OUTCOME = {
    "see": frozenset("if whether what how which where who".split()),
    "try": frozenset("it again one that them".split()),
}
_FINDS_OUT = frozenset({"look", "find", "listen"})


def _same_step(toks: Sequence[Tok], i: int) -> bool:
    """Whether the step after "and" is but the end of the one before: "swap them and see if it moves", "unwrap it and find the
    break", "strip and check the head"; not "new shoes and find me a drum".
    """
    book = cue_book()
    low = toks[i + 1].low
    if low in _OUTCOME:
        return i + 2 >= len(toks) or toks[i + 2].kind == SIGN or toks[i + 2].low in _OUTCOME[low]
    if toks[i - 1].low in book.verbs and low in book.verbs and _opens(toks, i - 1):
        return toks[i - 1].low not in book.past
    if low not in _FINDS_OUT:
        return False
    k = i - 1
    while k > max(0, i - _FAR) and not _opens(toks, k):
        k -= 1
    return toks[k].low in book.base or toks[k].low in book.steps or toks[k].low == "have"
