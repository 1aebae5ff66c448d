"""The words that numbers are said with, their classes and values, and the steps every number grammar takes."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from .words import SIGN

if TYPE_CHECKING:
    from .words import Tok


class Found(NamedTuple):
    """One way to take the words from a token on as a number; it ends before token `end`."""

    end: int
    value: float
    step: float
    form: str
    alternatives: tuple[float, ...] = ()
    unit: str | None = None


DIGIT, ZERO, TEEN, TENS, HUNDRED, SCALE, AND, ARTICLE, POINT, HALF, PART, DOZEN, COUPLE, MINUS, MANY = range(15)

_ONES = ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine"]
_TEENS = ["ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
_TENS = ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]

# word -> (class, value)
LEX: dict[str, tuple[int, float]] = {
    **{w: (DIGIT, float(i)) for i, w in enumerate(_ONES, 1)},
    **{w: (TEEN, float(i)) for i, w in enumerate(_TEENS, 10)},
    **{w: (TENS, 10.0 * i) for i, w in enumerate(_TENS, 2)},
    **dict.fromkeys(("zero", "nought", "naught", "nil", "aught", "ought"), (ZERO, 0)),
    "oh": (ZERO, -1),  # a nought only among other numbers
    "o": (ZERO, -1),
    # common slips of spelling
    "fourty": (TENS, 40), "fivety": (TENS, 50), "ninty": (TENS, 90), "eigth": (DIGIT, 8), "fourtteen": (TEEN, 14),
    "tweleve": (TEEN, 12), "twelv": (TEEN, 12), "fiveteen": (TEEN, 15), "niner": (DIGIT, 9), "thrity": (TENS, 30),
    "hundred": (HUNDRED, 100), "hundreds": (MANY, 100), "hunderd": (HUNDRED, 100), "hundered": (HUNDRED, 100),
    "thousand": (SCALE, 1e3), "million": (SCALE, 1e6), "billion": (SCALE, 1e9), "trillion": (SCALE, 1e12),
    "quadrillion": (SCALE, 1e15), "quintillion": (SCALE, 1e18), "lakh": (SCALE, 1e5), "crore": (SCALE, 1e7),
    "grand": (SCALE, 1e3), "thousands": (MANY, 1e3), "dozens": (MANY, 12), "millions": (MANY, 1e6), "billions": (MANY, 1e9),
    "thousnad": (SCALE, 1e3), "milion": (SCALE, 1e6), "bn": (SCALE, 1e9), "mln": (SCALE, 1e6),
    "mn": (SCALE, 1e6), "tn": (SCALE, 1e12),
    "and": (AND, 0), "&": (AND, 0), "a": (ARTICLE, 1), "an": (ARTICLE, 1),
    "point": (POINT, 0), "dot": (POINT, 0), "decimal": (POINT, 0),
    "half": (HALF, 2), "halves": (PART, 2),
    "dozen": (DOZEN, 12), "couple": (COUPLE, 2), "minus": (MINUS, -1), "negative": (MINUS, -1),
}  # fmt: skip

VULGAR = {
    "½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅓": (1, 3), "⅔": (2, 3), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8),
    "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5), "⅙": (1, 6),
    "⅚": (5, 6), "⅐": (1, 7), "⅑": (1, 9), "⅒": (1, 10),
}  # fmt: skip

HYPHENS = frozenset("-‐‑­")
STARTS = frozenset(
    word for word, (cls, _) in LEX.items() if cls in (DIGIT, ZERO, TEEN, TENS, ARTICLE, POINT, HALF, DOZEN, COUPLE,
    MINUS, HUNDRED, SCALE)
)  # fmt: skip
_NOTHING = (-1, 0.0)
_get = LEX.get


def lex(toks: list[Tok], j: int) -> tuple[int, float]:
    """Class and value of the word at `j`; class -1 where it is no number word or past the end."""
    return _get(toks[j].low, _NOTHING) if j < len(toks) else _NOTHING


def after_hyphen(toks: list[Tok], j: int) -> int:
    """`j`, or the token after a hyphen that joins the words around it ("forty-two")."""
    if j + 1 < len(toks):
        tok = toks[j]
        if tok.kind == SIGN and tok.glued and tok.text in HYPHENS and toks[j + 1].glued:
            return j + 1
    return j


def small(toks: list[Tok], j: int) -> list[tuple[int, float]]:
    """1 to 99 from `j`: every stop ("twenty" and "twenty five"), shortest first."""
    cls, value = lex(toks, j)
    if cls in (DIGIT, TEEN):
        return [(j + 1, value)]
    if cls == TENS:
        out = [(j + 1, value)]
        k = after_hyphen(toks, j + 1)
        cls, unit = lex(toks, k)
        if cls == DIGIT:
            out.append((k + 1, value + unit))
        return out
    return []


def next_is(toks: list[Tok], j: int, low: str) -> bool:
    return j < len(toks) and toks[j].low == low
