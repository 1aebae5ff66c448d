"""Numbers, said or written, at their exact places.

`candidates_at` gives every way to take the pieces from a place on as one number, so that a reader of lists can cut
"one one eighty eight two one eighty six" into positions and values; `find_numbers` is the likeliest reading from left
to
right. A range, a comparator, "about" and a unit are the business of `quantities`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from .number_lexicon import MINUS, STARTS, VULGAR, Found, lex
from .number_words import in_words
from .number_written import MINUS_SIGNS, leading_letter, numerals
from .words import NUM, SIGN, WORD

if TYPE_CHECKING:
    from .words import Tok


@dataclass(frozen=True, slots=True)
class Number:
    """One number. `start`/`end` count code points, `first`/`last` tokens, both end exclusive.

    `value` ± `step`/2 is the interval that its rounding leaves open (`low`, `high`). `form` is how it was said:

    | form | example |
    |---|---|
    | `numeral` | "12.6", "3,1", "188,000" |
    | `words` | "two hundred and eighty", "nought point six" |
    | `short` | "one forty" 140, "eleven fifty" 1150, "one oh five" 105 |
    | `point-unsaid` | "fourteen two" 14.2, or 142 (`alternatives`) |
    | `spelt` | "six seven seven" 677 |
    | `fraction` | "2 1/2", "half", "seven eighths", "2½" |
    | `scaled` | "2.5 million", "3 hundred" |
    | `scientific` | "1e-3", "2.5 x 10^3" |
    | `resistance-code` | "4k7" with its `unit` (IEC 60062) |
    | `couple`, `dozen` | "a couple", "two dozen" |
    | `ordinal`, `code`, `clock`, `date`, `phone` | "5th", "P0301", "9:30", "2026-03-14", "555-0142" |
    """

    start: int
    end: int
    first: int
    last: int
    value: float
    step: float
    form: str
    alternatives: tuple[float, ...] = ()
    unit: str | None = None

    @property
    def low(self) -> float:
        return round(self.value - self.step / 2, 12)

    @property
    def high(self) -> float:
        return round(self.value + self.step / 2, 12)


def _unsigned(toks: list[Tok], i: int, text: str | None) -> list[Found]:
    tok = toks[i]
    if tok.kind == NUM:
        return numerals(toks, i, text)
    if tok.kind == WORD:
        if tok.low in STARTS or tok.low == "quarter" or tok.low in ("double", "triple", "treble"):
            return in_words(toks, i)
        if tok.text == "R":
            found = leading_letter(toks, i)
            return [found] if found else []
        vulgar = VULGAR.get(tok.low[0]) if not tok.low.isascii() else None
        if vulgar is not None:
            return [Found(i + 1, vulgar[0] / vulgar[1], 1 / vulgar[1], "fraction")] if len(tok.low) == 1 else []
    return []


def _sign_at(toks: list[Tok], i: int) -> bool:
    """Whether the minus sign at `i` is a sign of the number glued to it, and no hyphen, dash or bullet."""
    if i + 1 >= len(toks) or not toks[i + 1].glued:
        return False
    if toks[i].glued:
        before = toks[i - 1]
        return before.kind == SIGN and before.text in "([{=:~<>≈≤≥±,;|/\"'"
    return not (i > 0 and not toks[i].line and toks[i - 1].kind == NUM and toks[i].text == "–")


def candidates_at(toks: list[Tok], i: int, text: str | None = None) -> list[Number]:
    """Every way to take the pieces from `i` on as one number, longest first. Empty where none starts here.

    >>> from cleansheet.read.words import words
    >>> [number.value for number in candidates_at(words("one eighty eight two"), 0)]
    [188.0, 180.0, 1.0]

    `text` tells a thin space inside a number from a plain one; without it every space counts as plain.
    """
    tok = toks[i]
    founds: list[Found]
    if tok.kind == SIGN:
        if tok.text not in MINUS_SIGNS and tok.text != "+":
            return []
        if not _sign_at(toks, i):
            return []
        founds = _unsigned(toks, i + 1, text)
        if tok.text != "+":
            founds = [_negated(found) for found in founds]
    elif tok.low in ("minus", "negative"):
        if i and toks[i - 1].low in _POLES and not toks[i].line:
            return []  # "coil minus 12.4", "battery negative 0.2"
        if i + 1 >= len(toks) or lex(toks, i + 1)[0] == MINUS:
            return []
        founds = [_negated(found) for found in _unsigned(toks, i + 1, text)]
    else:
        founds = _unsigned(toks, i, text)
    if not founds:
        return []
    best: dict[int, Found] = {}
    for found in founds:
        known = best.get(found.end)
        if known is None:
            best[found.end] = found
        elif known.value != found.value:
            best[found.end] = _merged(known, found)
    return [_number(toks, i, best[end]) for end in sorted(best, reverse=True)]


# what has a minus of its own: a terminal, no sign of the number after it
_POLES = frozenset("coil coil's battery batt bat terminal term post lead cable clamp pole bus feed side".split())


def _merged(known: Found, other: Found) -> Found:
    """Two readings of the same words: the one in full wins, the other's value stays as an alternative."""
    others = (*known.alternatives, other.value, *other.alternatives)
    return known._replace(alternatives=tuple(dict.fromkeys(v for v in others if v != known.value)))


def _negated(found: Found) -> Found:
    return found._replace(value=-found.value, alternatives=tuple(-other for other in found.alternatives))


def _number(toks: list[Tok], i: int, found: Found) -> Number:
    return Number(
        toks[i].start,
        toks[found.end - 1].end,
        i,
        found.end,
        found.value,
        found.step,
        found.form,
        found.alternatives,
        found.unit,
    )
