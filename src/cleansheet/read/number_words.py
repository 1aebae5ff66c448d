"""Numbers said in words: every way that starts at a given word, each with its length.

The grammar works on word classes from one dictionary, moves forward only and looks a bounded way ahead, so its cost
grows with the length of the text and no more. Each function yields `Found` tuples: where the number ends (a token
index), its value, what its last digit or fraction is worth, and how it was said.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .number_fractions import BEFORE_ONE, and_fraction, fraction
from .number_lexicon import (
    AND,
    ARTICLE,
    COUPLE,
    DIGIT,
    DOZEN,
    HALF,
    HUNDRED,
    MANY,
    POINT,
    SCALE,
    TEEN,
    TENS,
    ZERO,
    Found,
    after_hyphen,
    lex,
    next_is,
    small,
)  # fmt: skip
from .words import NUM, without_s

if TYPE_CHECKING:
    from .words import Tok

_LONGEST_SPELT = 20


def _numeral_lead(toks: list[Tok], j: int) -> list[tuple[int, float]]:
    """A numeral that a scale word follows ("1 million 200 thousand")."""
    if j >= len(toks) or toks[j].kind != NUM or len(toks[j].text) > 15:
        return []
    text = toks[j].text
    if not text.isascii() or not text.replace(",", "").isdigit():
        return []
    k = after_hyphen(toks, j + 1)
    return [(j + 1, float(text.replace(",", "")))] if lex(toks, k)[0] in (HUNDRED, SCALE) else []


def _group(toks: list[Tok], j: int) -> list[tuple[int, float]]:
    """Up to 9,999 as a group before a scale: "two hundred and five", "eleven hundred", "forty two"."""
    cls, _ = lex(toks, j)
    if cls == ARTICLE:
        k = after_hyphen(toks, j + 1)
        if lex(toks, k)[0] not in (HUNDRED, SCALE):
            return []
        lead = [(j + 1, 1.0)]
    elif cls == HUNDRED:
        lead = [(j, 1.0)]
    else:
        lead = small(toks, j) or _numeral_lead(toks, j)
    if not lead:
        return []
    end, value = lead[-1]
    k = after_hyphen(toks, end)
    if lex(toks, k)[0] != HUNDRED:
        return lead if cls in (DIGIT, TEEN, TENS) or toks[j].kind == NUM else []
    out = [(k + 1, value * 100)] if cls in (ARTICLE, HUNDRED) else [*lead, (k + 1, value * 100)]
    hundreds = value * 100
    m = after_hyphen(toks, k + 1)
    if lex(toks, m)[0] == AND:
        m = after_hyphen(toks, m + 1)
    tail = small(toks, m)
    if tail and lex(toks, after_hyphen(toks, tail[-1][0]))[0] != HUNDRED:
        out.extend((end, hundreds + rest) for end, rest in tail)
    return out


def cardinals(toks: list[Tok], i: int) -> list[tuple[int, float]]:
    """Whole numbers said in full from `i`, every place where one may stop, shortest first.

    "two hundred and eighty" stops at 2, 200, 280. "two hundred and three hundred" does not reach over the "and".
    """
    out: list[tuple[int, float]] = []
    total, limit, j = 0.0, float("inf"), i
    first = lex(toks, i)[0]
    if first in (ARTICLE, SCALE):
        k = after_hyphen(toks, i + 1) if first == ARTICLE else i
        if lex(toks, k)[0] == SCALE:
            total, limit, j = lex(toks, k)[1], lex(toks, k)[1], k + 1
            out.append((j, total))
            j = _past_and(toks, j)
    while True:
        stops = _group(toks, j)
        if not stops:
            return out
        end, value = stops[-1]
        k = after_hyphen(toks, end)
        cls, scale = lex(toks, k)
        if limit != float("inf") and (cls == HUNDRED or (cls == SCALE and scale >= limit) or value >= limit):
            return out
        if limit == float("inf") or cls != SCALE:
            out.extend((stop, total + part) for stop, part in stops if part < limit)
        if cls != SCALE:
            return out
        total += value * scale
        limit = scale
        # "two hundred thousand million" is not said; a second scale of the same breath only for "thousand million"
        out.append((k + 1, total))
        j = _past_and(toks, k + 1)


def _past_and(toks: list[Tok], j: int) -> int:
    k = after_hyphen(toks, j)
    if k + 1 < len(toks) and toks[k].text == "," and not toks[k + 1].line:
        k += 1
    return after_hyphen(toks, k + 1) if lex(toks, k)[0] == AND else k


def shorthand(toks: list[Tok], i: int) -> list[Found]:
    """Numbers with the hundreds unsaid: "one forty" 140, "one oh five" 105, "fourteen two" 14.2."""
    out: list[Found] = []
    for end, lead in small(toks, i):
        if end < len(toks) and toks[end].line:
            continue
        cls, value = lex(toks, end)
        if lead < 10:
            if cls in (TEEN, TENS):
                out.extend(Found(stop, lead * 100 + rest, 1.0, "short") for stop, rest in small(toks, end))
            elif cls == ZERO and lex(toks, end + 1)[0] == DIGIT:
                out.append(Found(end + 2, lead * 100 + lex(toks, end + 1)[1], 1.0, "short"))
        elif cls == TENS and (lead < 20 or lead == 20 or lead % 10):
            out.extend(Found(stop, lead * 100 + rest, 1.0, "short") for stop, rest in small(toks, end))
        elif cls == TEEN and lead in (18, 19, 20):
            out.append(Found(end + 1, lead * 100 + value, 1.0, "short"))
        elif cls == ZERO and lex(toks, end + 1)[0] == DIGIT:
            out.append(Found(end + 2, lead * 100 + lex(toks, end + 1)[1], 1.0, "short"))
        elif cls == DIGIT and (lead < 20 or lead % 10):
            out.append(Found(end + 1, lead + value / 10, 0.1, "point-unsaid", (lead * 10 + value,)))
    return out


def spelt(toks: list[Tok], i: int) -> list[Found]:
    """Digit by digit: "six seven seven" 677, "double five one" 551. Every stop from two digits on."""
    out: list[Found] = []
    text = ""
    j = i
    n = len(toks)
    while j < n and len(text) < _LONGEST_SPELT:
        low = toks[j].low
        times = _TIMES.get(low, 1)
        if times > 1:
            j += 1
        cls, value = lex(toks, j)
        if cls not in (DIGIT, ZERO) or (toks[j].line and j > i):
            break
        text += str(int(max(value, 0))) * times
        j += 1
        if len(text) > 1:
            out.append(Found(j, float(text), 1.0, "spelt"))
    return out


_THREE_DIGITS = 100
_TIMES = {"double": 2, "triple": 3, "treble": 3}


def decimals(toks: list[Tok], j: int) -> list[tuple[int, str]]:
    """The digits after a point said at `j - 1`: each stop with the digits so far ("five", "oh five", "sixty five")."""
    out: list[tuple[int, str]] = []
    digits = ""
    n = len(toks)
    while j < n and len(digits) < _LONGEST_SPELT:
        tok = toks[j]
        if tok.kind == NUM and not digits and tok.text.isascii() and tok.text.isdigit() and len(tok.text) < 16:
            return [(j + 1, tok.text)]
        cls, value = lex(toks, j)
        if cls in (DIGIT, ZERO):
            digits += str(int(max(value, 0)))
            j += 1
            out.append((j, digits))
            continue
        if cls in (TEEN, TENS) and not digits.strip("0"):
            out.extend((stop, digits + str(int(part))) for stop, part in small(toks, j))
        break
    return out


def with_point(toks: list[Tok], whole: float, at: int) -> list[Found]:
    """`whole` with the decimals said after the point at token `at`, and with a scale after those ("two point five
    million").
    """
    out: list[Found] = []
    for end, digits in decimals(toks, at + 1):
        value = float(f"{int(whole)}.{digits}")
        step = 10.0 ** -len(digits)
        out.append(Found(end, value, step, "words"))
    if out:
        last = out[-1]
        k = after_hyphen(toks, last.end)
        cls, scale = lex(toks, k)
        if cls in (SCALE, HUNDRED):
            out.append(Found(k + 1, round(last.value * scale, 6), last.step * scale, "words"))
    return out


def _couple(toks: list[Tok], at: int) -> list[Found]:
    """`a couple`, "a couple hundred", "a couple of thousand"."""
    out = [Found(at + 1, 2.0, 1.0, "couple")]
    k = at + 2 if next_is(toks, at + 1, "of") else at + 1
    cls, value = lex(toks, k)
    if cls in (HUNDRED, SCALE, DOZEN):
        out.append(Found(k + 1, 2.0 * value, value, "couple"))
    return out


# The last word of an ordinal in the tens; "second" counts only after a hyphen, else it is a time.
_ORDINALS = {
    "first": 1.0, "second": 2.0, "third": 3.0, "fourth": 4.0, "fifth": 5.0, "sixth": 6.0, "seventh": 7.0, "eighth": 8.0,
    "ninth": 9.0,
}  # fmt: skip


def _ordinal(toks: list[Tok], i: int) -> list[Found]:
    """`twenty-first`, "thirty third": no quantity, and no 20 or 30 either."""
    k = after_hyphen(toks, i + 1)
    last = _ORDINALS.get(toks[k].low) if k < len(toks) else None
    if last is None or (last == 2 and k == i + 1):
        return []
    return [Found(k + 1, lex(toks, i)[1] + last, 1.0, "ordinal")]


_UNITS = frozenset(
    "volt amp bar ohm kilohm millimetre millimeter mil thou degree psi percent millivolt milliamp newton inch".split()
)


def _bounded(toks: list[Tok], i: int) -> bool:
    """Whether the words before an "a" want a number after it: "at least a volt", "about a millimetre", "under a bar"."""
    return i > 0 and not toks[i].line and toks[i - 1].low in BEFORE_ONE


def in_words(toks: list[Tok], i: int) -> list[Found]:
    """Every number in words that starts at `i`; a sign is not looked at here. In no particular order."""
    cls, value = lex(toks, i)
    if cls == -1 and toks[i].low != "quarter" and toks[i].low not in _TIMES:
        return []
    out: list[Found] = []
    if cls == POINT:
        return with_point(toks, 0, i)
    if cls == COUPLE:
        return _couple(toks, i)
    if cls == DOZEN:
        return [Found(i + 1, 12.0, 1.0, "dozen")]
    if cls == ARTICLE:
        k = i + 1
        after = lex(toks, k)[0]
        if after == DOZEN:
            return [Found(k + 1, 12.0, 1.0, "dozen")]
        if after == COUPLE:
            return _couple(toks, k)
        if _bounded(toks, i) and k < len(toks) and (toks[k].low in _UNITS or without_s(toks[k].low) in _UNITS):
            return [Found(k, 1.0, 1.0, "words")]  # "at least a volt"
    if cls == ZERO:
        if value == 0:
            out.append(Found(i + 1, 0.0, 1.0, "words"))
        if lex(toks, i + 1)[0] == POINT:
            out.extend(with_point(toks, 0, i + 1))
    plain = cardinals(toks, i) if cls not in (ZERO, HALF) else []
    short = shorthand(toks, i) if cls in (DIGIT, TEEN, TENS) else []
    out.extend(Found(end, total, 1.0, "words") for end, total in plain)
    out.extend(short)
    for end, total in (*plain, *((found.end, found.value) for found in short if found.form == "short")):
        cls_after, after_value = lex(toks, end)
        if cls_after == POINT:
            out.extend(with_point(toks, total, end))
        elif cls_after == DOZEN or (cls_after == MANY and after_value == 12):
            out.append(Found(end + 1, total * after_value, 1.0, "dozen"))
        else:
            k = after_hyphen(toks, end)
            if lex(toks, k)[0] == AND:
                out.extend(and_fraction(toks, total, end))
    if cls in (DIGIT, ZERO) or toks[i].low in _TIMES:
        digits = spelt(toks, i)
        out.extend(digits)
        for found in digits:  # "two two nine point six"
            if found.value >= _THREE_DIGITS and lex(toks, found.end)[0] == POINT:
                out.extend(with_point(toks, found.value, found.end))
    out.extend(fraction(toks, i))
    if cls == TENS:
        out.extend(_ordinal(toks, i))
    return out
