"""Fractions in words: "half", "three quarters", "two and a half", "seven sixteenths", "five thirty-seconds"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .number_lexicon import (
    AND,
    ARTICLE,
    DIGIT,
    DOZEN,
    HALF,
    HUNDRED,
    SCALE,
    TEEN,
    TENS,
    Found,
    after_hyphen,
    lex,
    next_is,
    small,
)  # fmt: skip
from .words import NUM

if TYPE_CHECKING:
    from .words import Tok

_PARTS = {
    "third": 3, "quarter": 4, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10,
    "eleventh": 11, "twelfth": 12, "sixteenth": 16, "twentieth": 20, "thirtieth": 30, "fortieth": 40, "fiftieth": 50,
    "hundredth": 100, "thousandth": 1000, "millionth": 1_000_000, "thirtysecond": 32, "sixtyfourth": 64,
}  # fmt: skip
# parts of one, in the plural: "three quarters"; the singular only after "a" or "one" (see `_fraction`)
PLURAL_PARTS = {f"{word}s": part for word, part in _PARTS.items()} | {"halves": 2}
SINGULAR_PARTS = dict(_PARTS)
_SPLIT_PARTS = {("thirty", "second"): 32, ("thirty", "seconds"): 32, ("sixty", "fourth"): 64, ("sixty", "fourths"): 64}
_NUMERAL_PARTS = {
    ("16", "ths"): 16, ("16", "th"): 16, ("32", "nds"): 32, ("32", "nd"): 32, ("64", "ths"): 64, ("64", "th"): 64,
    ("8", "ths"): 8, ("8", "th"): 8, ("10", "ths"): 10, ("10", "th"): 10, ("128", "ths"): 128,
}  # fmt: skip


def _part_at(toks: list[Tok], j: int, plural: bool) -> tuple[int, int] | None:
    """A denominator at `j`: its end and the number of parts."""
    if j >= len(toks):
        return None
    low = toks[j].low
    part = PLURAL_PARTS.get(low) if plural else SINGULAR_PARTS.get(low)
    if part is not None:
        return j + 1, part
    if low == "half" and not plural:
        return j + 1, 2
    if low in ("thirty", "sixty"):
        k = after_hyphen(toks, j + 1)
        if k < len(toks):
            part = _SPLIT_PARTS.get((low, toks[k].low))
            # "thirty seconds" is a time; the fraction is hyphenated or has its inch after it
            inch = k + 1 < len(toks) and toks[k + 1].low in ("inch", "inches", "of")
            if part is not None and (k > j + 1 or part == 64 or inch):
                return k + 1, part
    if toks[j].kind == NUM and j + 1 < len(toks) and toks[j + 1].glued:
        part = _NUMERAL_PARTS.get((toks[j].text, toks[j + 1].low))
        if part is not None:
            return j + 2, part
    return None


# What shows that "three quarter" is a fraction.
_AFTER_PART = frozenset({
    "inch", "inches", "mile", "miles", "cup", "cups", "teaspoon", "teaspoons", "tablespoon", "tablespoons", "ton",
    "tons", "of", "pound", "pounds", "hour", "hours", "drive", "turn", "turns",
})  # fmt: skip


_TENTH = 10
# words that want a number after them, so that "a tenth" or "a volt" there is one
BEFORE_ONE = frozenset(
    "under over below above than least most about around nearly almost roughly only within barely hardly beyond past".split()
)


def fraction(toks: list[Tok], i: int) -> list[Found]:
    """A fraction on its own: "half", "a half", "three quarters", "seven eighths", "a quarter", "one third"."""
    cls, value = lex(toks, i)
    if cls == HALF:
        return [Found(i + 1, 0.5, 0.5, "fraction"), *_half_of(toks, i)]
    if toks[i].low == "quarter":
        return [Found(i + 1, 0.25, 0.25, "fraction")]
    if cls == ARTICLE or (cls == DIGIT and value == 1):
        k = after_hyphen(toks, i + 1)
        part = _part_at(toks, k, plural=False)
        told = part is not None and part[1] >= _TENTH and i > 0 and toks[i - 1].low in BEFORE_ONE  # "under a tenth"
        if part is not None and (part[1] in (2, 4) or cls == DIGIT or told or next_is(toks, part[0], "of")):
            out = [Found(part[0], 1 / part[1], 1 / part[1], "fraction")]
            if part[1] == 2:
                out.extend(_half_of(toks, k))
            return out
        return []
    if cls in (DIGIT, TEEN, TENS):
        out = []
        for end, top in small(toks, i):
            k = after_hyphen(toks, end)
            part = _part_at(toks, k, plural=True)
            if part is None:
                # "three-quarter", "three quarter inch"
                part = _part_at(toks, k, plural=False)
                if part is not None and k == end and not (part[0] < len(toks) and toks[part[0]].low in _AFTER_PART):
                    part = None
            if part is not None and top < part[1]:
                out.append(Found(part[0], top / part[1], 1 / part[1], "fraction"))
        return out
    return []


def _half_of(toks: list[Tok], half_at: int) -> list[Found]:
    """`half a million`, "half a dozen", "half dozen"."""
    k = half_at + 1
    if lex(toks, k)[0] == ARTICLE:
        k += 1
    cls, value = lex(toks, k)
    if cls in (SCALE, HUNDRED, DOZEN):
        return [Found(k + 1, value / 2, value / 2 if cls != DOZEN else 1.0, "words" if cls != DOZEN else "dozen")]
    return []


def and_fraction(toks: list[Tok], whole: float, end: int) -> list[Found]:
    """`whole` with a fraction after it: "two and a half", "fourteen and three quarters", "two and a half million"."""
    k = after_hyphen(toks, end)
    if lex(toks, k)[0] != AND:
        return []
    k = after_hyphen(toks, k + 1)
    if k >= len(toks):
        return []
    cls, value = lex(toks, k)
    out: list[Found] = []
    if cls in (ARTICLE, HALF) or (cls == DIGIT and value == 1):
        m = k if cls == HALF else after_hyphen(toks, k + 1)
        part = _part_at(toks, m, plural=False)
        if part is not None:
            out.append(Found(part[0], whole + 1 / part[1], 1 / part[1], "fraction"))
    elif cls in (DIGIT, TEEN, TENS):
        out.extend(
            Found(part.end, whole + part.value, part.step, "fraction") for part in fraction(toks, k) if part.value < 1
        )
    scale_class, scale = lex(toks, end - 1)
    if out and scale_class == SCALE and whole >= scale:
        # "a million and a half" is half a million more
        return [f._replace(value=whole + (f.value - whole) * scale, step=f.step * scale, form="words") for f in out]
    if out:
        last = out[-1]
        m = after_hyphen(toks, last.end)
        cls, scale = lex(toks, m)
        if cls in (SCALE, HUNDRED):
            out.append(Found(m + 1, last.value * scale, last.step * scale, "words"))
    return out
