"""What the talk is about at a place in the note: the parts and the tests named around it, each with a weight.

Weights fall with the distance in statements, not in words: a name in the same piece counts full, one in an earlier piece
of the sentence less, one in an earlier sentence less again, and what the note named first stays faintly in mind.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol, TypeVar

from .words import SIGN

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Layout
    from .words import Tok

SAME_PIECE, LINKED, SAME_PIECE_AFTER, SAME_SENTENCE, EARLIER, OPENING = 1.0, 1.0, 0.62, 0.78, 0.55, 0.22
_FADE_PIECE, _FADE_SENTENCE, _LEAST = 0.9, 0.82, 0.12
_LINKS = frozenset("at on for of across from in through to over into with between down under left".split())
_PARTS, _CLOSE = frozenset({",", ";", "/", "|", "then"}), 2
_REACH = 16  # names further back than this many are out of mind
_FADED = tuple(0.93**order for order in range(_REACH + 1))
_FADED_LESS = tuple(0.95**order for order in range(_REACH + 1))
_STEPS = 64  # statements or sentences away at which a name counts no less than at any farther
_BY_PIECE = tuple(SAME_SENTENCE * _FADE_PIECE**steps for steps in range(_STEPS))
_BY_SENTENCE = tuple(EARLIER * _FADE_SENTENCE**steps for steps in range(_STEPS))


_FAR_OFF = 9  # words: no more close


def _said_for(toks: Sequence[Tok], stop: int, first: int) -> bool:
    """Whether a name at word `first` is what the figure that ends at word `stop` is for."""
    if not 0 < stop < first <= stop + 2 or toks[stop].low != "for":
        return False
    return toks[stop - 1].kind != SIGN and not toks[stop].line


class Placed(Protocol):
    """Anything at words `first` to `last` (exclusive)."""

    @property
    def first(self) -> int: ...
    @property
    def last(self) -> int: ...


T = TypeVar("T", bound=Placed)


@dataclass(slots=True, unsafe_hash=True)  # made so often that freezing it would cost a hundredth of the time
class Weight:
    """How near a name is: its weight, and whether it stands in the same piece, before or after the place."""

    value: float
    same_piece: bool
    before: bool
    linked: bool = False
    distance: int = 0


def around(
    first: int,
    last: int,
    named: Sequence[T],
    starts: Sequence[int],
    layout: Layout,
    toks: Sequence[Tok],
    stop_before: int = -1,
    stop_after: int = 1 << 30,
) -> list[tuple[T, Weight]]:
    """Names in reach of the words `first` to `last`, each with its weight, nearest first.

    `named` is sorted by first word and `starts` holds those first words. Between `stop_before` and `stop_after` lie no
    other figures: a name beyond them in the same piece belongs to another figure.
    """
    if not named:
        return []
    piece = layout.piece_of[first]
    sentence = layout.sentence_of[first]
    at = bisect_left(starts, first)
    out: list[tuple[T, Weight]] = []
    order = 0
    for k in range(at - 1, max(-1, at - 1 - _REACH), -1):
        name = named[k]
        if name.last > last:
            continue
        its_piece = layout.piece_of[name.first]
        its_sentence = layout.sentence_of[name.first]
        distance = first - name.last
        if its_piece == piece:
            beyond = name.first < stop_before
            if not beyond and _said_for(toks, stop_before, name.first):
                beyond, distance = True, _FAR_OFF  # "0.6 to 1 for the primary and 9 to 11 for the secondary"
            value = SAME_PIECE * _FADED[order] * (0.7 if beyond else 1.0)
            out.append((name, Weight(value, True, True, distance <= 1, distance)))
        elif its_sentence == sentence:
            value = _BY_PIECE[min(piece - its_piece, _STEPS) - 1] * _FADED_LESS[order]
            out.append((name, Weight(max(_LEAST, value), False, True, False, distance)))
        else:
            value = _BY_SENTENCE[min(sentence - its_sentence, _STEPS) - 1] * _FADED[order]
            out.append((name, Weight(max(_LEAST, value), False, True, False, distance)))
        order += 1
    for k in range(at, min(len(named), at + 6)):
        name = named[k]
        if name.first < last:
            if name.first >= first:
                out.append((name, Weight(SAME_PIECE, True, True, True, 0)))
            continue
        distance = name.first - last
        if layout.sentence_of[name.first] != sentence or name.first > stop_after:
            break
        if (
            toks[last].low in _PARTS
            and stop_after < layout.sentences[sentence][1]
            and 0 <= stop_after - name.last <= _CLOSE
        ):
            break  # "1.9 V, earth side 0.8": it is said of the next figure
        if layout.piece_of[name.first] == piece or distance <= 1:
            gap = toks[last : name.first]
            linked = bool(gap) and len(gap) <= 4 and gap[0].low in _LINKS
            value = LINKED if linked else SAME_PIECE_AFTER
            out.append((name, Weight(value * (0.9 ** (k - at)), True, False, linked, distance)))
    if at and named[0].first < first and len(out) < _REACH:
        opening = named[0]
        if all(name is not opening for name, _ in out):
            out.append((opening, Weight(OPENING, False, True, False, first - opening.last)))
    out.sort(key=lambda pair: -pair[1].value)
    return out
