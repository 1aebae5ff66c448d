"""Numbers said in words: every way that starts at a given word, each with its length.

The grammar works on word classes from one dictionary, moves forward only and looks a bounded way ahead, so its cost
grows
with the length of the text and no more. Each function yields `Found` tuples: where the number ends (a token index), its
value, what its last digit or fraction is worth, and how it was said.
"""

from __future__ import annotations

from typing import NamedTuple

from .words import NUM, SIGN, Tok


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
    "grand": (SCALE, 1e3), "thousands": (MANY, 1e3), "millions": (MANY, 1e6), "billions": (MANY, 1e9),
    "thousnad": (SCALE, 1e3), "milion": (SCALE, 1e6), "bn": (SCALE, 1e9), "mln": (SCALE, 1e6),
    "mn": (SCALE, 1e6), "tn": (SCALE, 1e12),
    "and": (AND, 0), "&": (AND, 0), "a": (ARTICLE, 1), "an": (ARTICLE, 1),
    "point": (POINT, 0), "dot": (POINT, 0), "decimal": (POINT, 0),
    "half": (HALF, 2), "halves": (PART, 2),
    "dozen": (DOZEN, 12), "couple": (COUPLE, 2), "minus": (MINUS, -1), "negative": (MINUS, -1),
}  # fmt: skip

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
_LONGEST_SPELT = 20
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


def _small(toks: list[Tok], j: int) -> list[tuple[int, float]]:
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
        lead = _small(toks, j) or _numeral_lead(toks, j)
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
    tail = _small(toks, m)
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
    for end, lead in _small(toks, i):
        if end < len(toks) and toks[end].line:
            continue
        cls, value = lex(toks, end)
        if lead < 10:
            if cls in (TEEN, TENS):
                out.extend(Found(stop, lead * 100 + rest, 1.0, "short") for stop, rest in _small(toks, end))
            elif cls == ZERO and lex(toks, end + 1)[0] == DIGIT:
                out.append(Found(end + 2, lead * 100 + lex(toks, end + 1)[1], 1.0, "short"))
        elif cls == TENS and (lead < 20 or lead == 20 or lead % 10):
            out.extend(Found(stop, lead * 100 + rest, 1.0, "short") for stop, rest in _small(toks, end))
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
        cls, value = _get(tok.low, _NOTHING)
        if cls in (DIGIT, ZERO):
            digits += str(int(max(value, 0)))
            j += 1
            out.append((j, digits))
            continue
        if cls in (TEEN, TENS) and not digits.strip("0"):
            out.extend((stop, digits + str(int(part))) for stop, part in _small(toks, j))
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
        if part is not None and (part[1] in (2, 4) or cls == DIGIT or _next_is(toks, part[0], "of")):
            out = [Found(part[0], 1 / part[1], 1 / part[1], "fraction")]
            if part[1] == 2:
                out.extend(_half_of(toks, k))
            return out
        return []
    if cls in (DIGIT, TEEN, TENS):
        out = []
        for end, top in _small(toks, i):
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


def _next_is(toks: list[Tok], j: int, low: str) -> bool:
    return j < len(toks) and toks[j].low == low


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


def _couple(toks: list[Tok], at: int) -> list[Found]:
    """`a couple`, "a couple hundred", "a couple of thousand"."""
    out = [Found(at + 1, 2.0, 1.0, "couple")]
    k = at + 2 if _next_is(toks, at + 1, "of") else at + 1
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
        elif cls_after == DOZEN:
            out.append(Found(end + 1, total * after_value, 1.0, "dozen"))
        else:
            k = after_hyphen(toks, end)
            if lex(toks, k)[0] == AND:
                out.extend(and_fraction(toks, total, end))
    if cls in (DIGIT, ZERO) or toks[i].low in _TIMES:
        out.extend(spelt(toks, i))
    out.extend(fraction(toks, i))
    if cls == TENS:
        out.extend(_ordinal(toks, i))
    return out
