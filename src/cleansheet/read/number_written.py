"""Numbers written in digits: decimals with point or comma, thousands, fractions, powers of ten, resistance codes."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

from .number_fractions import PLURAL_PARTS, and_fraction
from .number_lexicon import AND, DIGIT, DOZEN, HUNDRED, POINT, SCALE, VULGAR, Found, after_hyphen, lex
from .number_words import cardinals, decimals
from .words import NUM, SIGN, WORD

if TYPE_CHECKING:
    from collections.abc import Iterator

    from .words import Tok

# Written numerals longer than this are no measure of anything ("9999…" a megabyte long).
_LONGEST = 24
MINUS_SIGNS = frozenset("-−–")
_SLASHES = frozenset("/⁄∕")
_FRACTION_PARTS = frozenset((2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16, 32, 64, 100, 128))
_RESISTANCE_LETTERS = {"L": "mOhm", "R": "Ohm", "r": "Ohm", "K": "kOhm", "k": "kOhm", "M": "MOhm", "G": "GOhm"}
_TOLERANCES = frozenset("FGJKM")
_THIN = frozenset("\u2009\u202f\u00a0\u2007\u2008'’")
_SUPERSCRIPTS = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹⁻", "0123456789-")
_ORDINAL_ENDS = frozenset({"st", "nd", "rd", "th", "ths", "nds", "rds", "sts"})
_FAR = frozenset({
    "km", "kms", "mile", "miles", "mi", "kilometre", "kilometres", "kilometer", "kilometers", "rpm", "pa", "people",
    "euros", "dollars", "pounds", "ohm", "ohms", "hz",
})  # fmt: skip


_PLAIN = re.compile(r"\d+(?:\.\d+)?|\.\d+")
_COMMA_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:,\d{3})+(?:\.\d+)?")
_INDIAN_THOUSANDS = re.compile(r"[1-9]\d?(?:,\d{2})+,\d{3}(?:\.\d+)?")
_POINT_THOUSANDS = re.compile(r"[1-9]\d{0,2}(?:\.\d{3}){2,}(?:,\d+)?|[1-9]\d{0,2}(?:\.\d{3})+,\d+")
_COMMA_DECIMAL = re.compile(r"\d+,\d+")


@lru_cache(maxsize=8192)
def _decimal(text: str) -> tuple[float, float, tuple[float, ...]] | None:
    """Value, worth of the last digit and other readings of a written numeral; None where it is no single number.

    "3,1" is 3.1 and "23,410" is 23410; "3,100" may also be 3.1.
    """
    if len(text) > _LONGEST:
        return None
    if _PLAIN.fullmatch(text):
        whole, _, digits = text.partition(".")
        # "12.000 km" may be twelve thousand
        other = (float(whole + digits),) if digits == "000" and 0 < len(whole) < 4 and whole[0] != "0" else ()
        return float(text), 10.0 ** -len(digits), other
    if _COMMA_THOUSANDS.fullmatch(text):
        plain = text.replace(",", "")
        other = (float(text.replace(",", ".")),) if text.count(",") == 1 and "." not in text else ()
        return float(plain), 10.0 ** -len(plain.partition(".")[2]), other
    if _POINT_THOUSANDS.fullmatch(text):
        plain = text.replace(".", "").replace(",", ".")
        return float(plain), 10.0 ** -len(plain.partition(".")[2]), ()
    if _COMMA_DECIMAL.fullmatch(text):
        plain = text.replace(",", ".")
        return float(plain), 10.0 ** -len(plain.partition(".")[2]), ()
    if _INDIAN_THOUSANDS.fullmatch(text):
        plain = text.replace(",", "")
        return float(plain), 10.0 ** -len(plain.partition(".")[2]), ()
    return None


def numerals(toks: list[Tok], i: int, text: str | None) -> list[Found]:
    """Every number that starts with the written numeral at `i`, longest first."""
    tok = toks[i]
    read = _decimal(tok.text)
    if read is None:
        return []
    value, step, others = read
    n = len(toks)
    out = [Found(i + 1, value, step, "numeral", others)]
    if i + 1 >= n:
        return out
    after = toks[i + 1]
    if after.glued:
        out.extend(_glued(toks, i, value, step))
    elif after.kind == NUM:
        out.extend(_spaced(toks, i, value, text))
    whole = step == 1.0
    joined = after_hyphen(toks, i + 1)
    cls, scale = lex(toks, joined)
    if cls in (SCALE, HUNDRED, DOZEN):
        form = "dozen" if cls == DOZEN else "scaled"
        out.append(Found(joined + 1, round(value * scale, 9), step * scale, form))
        if whole and cls != DOZEN:
            out.extend(Found(end, total, 1.0, "scaled") for end, total in cardinals(toks, i) if end > joined + 1)
    elif cls == POINT and whole and not after.glued:
        for end, digits in decimals(toks, joined + 1):
            out.append(Found(end, float(f"{int(value)}.{digits}"), 10.0 ** -len(digits), "words"))
    elif cls == AND and whole:
        out.extend(and_fraction(toks, value, i + 1))
        written = _written_fraction(toks, joined + 1)
        if written is not None:
            out.append(Found(joined + 4, value + written[0] / written[1], 1 / written[1], "fraction"))
    elif whole and after.kind == WORD:
        part = _numeral_part(toks, joined, value)
        if part is not None:
            out.append(part)
    if after.kind in (WORD, SIGN):
        out.extend(_power_of_ten(toks, i, value, step))
        if after.glued and (tok.text == "10" or after.low in ("^", "*")):
            power = _power(toks, i + 1)
            if power is not None and tok.text == "10":
                out.extend(_scientific(power[0], 1.0, 1.0, power[1]))
            elif power is not None and 0 < value <= 1000:
                out.append(Found(power[0], value ** power[1], step, "scientific"))
    return out


def _numeral_part(toks: list[Tok], j: int, top: float) -> Found | None:
    """`3 quarters`, "5 sixteenths": the denominator at `j`."""
    part = PLURAL_PARTS.get(toks[j].low) if j < len(toks) else None
    if part is None or top >= part or toks[j].low == "seconds":
        return None
    return Found(j + 1, top / part, 1 / part, "fraction")


def _glued(toks: list[Tok], i: int, value: float, step: float) -> list[Found]:
    """What may be glued to a numeral: "4k7", "2½", "1/2", "1e-3", "2-1/2", "5th"."""
    after = toks[i + 1]
    n = len(toks)
    out: list[Found] = []
    low = after.low
    if after.kind == WORD:
        vulgar = VULGAR.get(low[0]) if not low[0].isascii() else None
        if vulgar is not None and len(low) == 1:
            out.append(Found(i + 2, value + vulgar[0] / vulgar[1], 1 / vulgar[1], "fraction"))
        third = toks[i + 2] if i + 2 < n and toks[i + 2].glued else None
        if third is not None and len(after.text) == 1:
            if (
                after.text in _RESISTANCE_LETTERS
                and third.kind == NUM
                and third.text.isdigit()
                and len(third.text) <= 3
            ):
                out.extend(_resistance(toks, i, value, after.text, third.text))
            elif low == "e":
                out.extend(_exponent(toks, i, value, step))
        if low in _ORDINAL_ENDS and step == 1.0:
            out.append(Found(i + 2, value, 1.0, "ordinal"))
    elif low in _SLASHES and i + 2 < n:
        top_bottom = _written_fraction(toks, i)
        if top_bottom is not None:
            top, bottom = top_bottom
            out.append(Found(i + 3, top / bottom, 1 / bottom, "fraction"))
    elif low in MINUS_SIGNS and step == 1.0 and i + 2 < n and toks[i + 2].glued and toks[i + 2].kind == NUM:
        top_bottom = _written_fraction(toks, i + 2)
        if top_bottom is not None and value < 1000:
            top, bottom = top_bottom
            out.append(Found(i + 5, value + top / bottom, 1 / bottom, "fraction"))
    return out


def _written_fraction(toks: list[Tok], i: int) -> tuple[int, int] | None:
    """Numerator and denominator of "3/8" at `i`; None for a date ("19/2"), a list ("150/148/152") or a rate."""
    if i + 2 >= len(toks):
        return None
    top, slash, bottom = toks[i], toks[i + 1], toks[i + 2]
    if slash.low not in _SLASHES or not slash.glued or not bottom.glued or top.kind != NUM or bottom.kind != NUM:
        return None
    if not (top.text.isdigit() and bottom.text.isdigit() and len(top.text) <= 3 and len(bottom.text) <= 3):
        return None
    if i + 3 < len(toks) and toks[i + 3].glued and toks[i + 3].low in _SLASHES:
        return None
    if i > 0 and top.glued and toks[i - 1].low in _SLASHES:
        return None
    a, b = int(top.text), int(bottom.text)
    return (a, b) if 0 < a < b and b in _FRACTION_PARTS else None


def _resistance(toks: list[Tok], i: int, value: float, letter: str, after: str) -> Iterator[Found]:
    """Letter at the decimal point (IEC 60062): "4k7" 4.7 kΩ, with a tolerance letter or without."""
    if not toks[i].text.isdigit() or (toks[i].glued and toks[i - 1].text in "/-.,"):
        return  # "215/70R15" is a tyre
    end = i + 3
    if end < len(toks) and toks[end].glued and toks[end].kind == WORD:
        if toks[end].text not in _TOLERANCES:
            return
        end += 1
    if end < len(toks) and toks[end].glued and (toks[end].kind == NUM or toks[end].text in MINUS_SIGNS):
        return
    step = 10.0 ** -len(after)
    yield Found(end, float(f"{int(value)}.{after}"), step, "resistance-code", (), _RESISTANCE_LETTERS[letter])


def _exponent(toks: list[Tok], i: int, value: float, step: float) -> Iterator[Found]:
    """`1e-3`, "2.5E3"."""
    j = i + 2
    sign = ""
    if toks[j].kind == SIGN and toks[j].text in "+-−":
        sign = "-" if toks[j].text != "+" else ""
        j += 1
    if j < len(toks) and toks[j].glued and toks[j].kind == NUM and toks[j].text.isdigit() and len(toks[j].text) <= 3:
        yield from _scientific(j + 1, value, step, int(sign + toks[j].text))


def _scientific(end: int, value: float, step: float, power: int) -> Iterator[Found]:
    if abs(power) > 60:
        return
    yield Found(end, float(f"{value!r}e{power}"), step * 10.0**power, "scientific")


def _power_of_ten(toks: list[Tok], i: int, value: float, step: float) -> Iterator[Found]:
    """`2.5 x 10^3`, "2.5×10⁻³", "2.5 times ten to the three"."""
    j = i + 1
    if toks[j].low not in ("x", "×", "*", "·", "times") or j + 2 >= len(toks):
        return
    j += 1
    if toks[j].text != "10" and toks[j].low != "ten":
        return
    power = _power(toks, j + 1)
    if power is not None:
        yield from _scientific(power[0], value, step, power[1])


def _power(toks: list[Tok], j: int) -> tuple[int, int] | None:
    """A power at `j`: "^3", "**-3", "⁻³", "to the minus three", "to the power of six"; its end and the power."""
    n = len(toks)
    if j >= n:
        return None
    if toks[j].glued and not toks[j].text.isascii():
        marks = ""
        while j < n and toks[j].glued and len(marks) < 4 and toks[j].text.translate(_SUPERSCRIPTS) != toks[j].text:
            marks += toks[j].text.translate(_SUPERSCRIPTS)
            j += 1
        return (j, int(marks)) if marks.lstrip("-").isdigit() and marks.isascii() and marks.rfind("-") <= 0 else None
    if toks[j].text == "^":
        j += 1
    elif toks[j].text == "*" and j + 1 < n and toks[j + 1].text == "*":
        j += 2
    elif toks[j].low == "to" and j + 1 < n and toks[j + 1].low == "the":
        j += 2
        if j + 1 < n and toks[j].low == "power" and toks[j + 1].low == "of":
            j += 2
    else:
        return None
    sign = 1
    if j < n and toks[j].text == "+" and toks[j].glued:
        j += 1
    elif j < n and (toks[j].text in MINUS_SIGNS or toks[j].low in ("minus", "negative")):
        sign, j = -1, j + 1
    if j < n and toks[j].kind == NUM and toks[j].text.isdigit() and len(toks[j].text) <= 2:
        return j + 1, sign * int(toks[j].text)

    cls, value = lex(toks, j)
    return (j + 1, sign * int(value)) if cls == DIGIT else None


def _spaced(toks: list[Tok], i: int, value: float, text: str | None) -> Iterator[Found]:
    """A numeral with another after a space: "2 1/2", "142 300 km"."""
    tok, after = toks[i], toks[i + 1]
    if after.line:
        return
    top_bottom = _written_fraction(toks, i + 1)
    if top_bottom is not None and tok.text.isdigit():
        top, bottom = top_bottom
        yield Found(i + 4, value + top / bottom, 1 / bottom, "fraction")
    if len(tok.text) > 3 or not tok.text.isdigit() or tok.text[0] == "0":
        return
    j = i + 1
    digits = tok.text
    thin = sure = False
    while j < len(toks) and j - i < 6:
        part = toks[j]
        if part.kind != NUM or part.start - toks[j - 1].end != 1 or part.line:
            break
        head, _, tail = part.text.partition(".")
        if len(head) != 3 or not head.isdigit() or (tail and not tail.isdigit()):
            break
        gap = text[part.start - 1] if text is not None else " "
        thin = thin or gap in _THIN
        sure = sure or head == "000"
        digits += part.text
        j += 1
        if tail:
            break
    if j == i + 1:
        return
    lone = not (i > 0 and toks[i - 1].kind == NUM) and not (j < len(toks) and toks[j].kind == NUM)
    sure = sure or thin or (lone and j < len(toks) and toks[j].low in _FAR)
    found = Found(j, float(digits), 10.0 ** -len(digits.partition(".")[2]), "numeral" if sure else "maybe-grouped")
    yield found


def leading_letter(toks: list[Tok], i: int) -> Found | None:
    """`R47` is 0.47 Ω (IEC 60062): the letter R, then two or three digits and nothing else glued."""
    if toks[i].text != "R" or toks[i].glued or i + 1 >= len(toks):
        return None
    digits = toks[i + 1]
    if digits.kind != NUM or not digits.glued or not digits.text.isdigit() or not 2 <= len(digits.text) <= 3:
        return None
    if i + 2 < len(toks) and toks[i + 2].glued and (toks[i + 2].kind != SIGN or toks[i + 2].text in MINUS_SIGNS):
        return None
    # "215/70 R15" is a tyre
    if i > 0 and toks[i - 1].kind == NUM and not toks[i].line:
        return None
    step = 10.0 ** -len(digits.text)
    return Found(i + 2, float("0." + digits.text), step, "resistance-code", (), "Ohm")
