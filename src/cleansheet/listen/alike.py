"""Whether two hearings of one stretch say the same, and where they differ.

Recognisers write "3.1 bar" or "three point one bar" as they please, so words are compared in a canonical form: numbers
by value, units by one spelling, the rest in lower case without punctuation. Only comparison happens here; what a number
means is read later, from the words themselves.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

ONES = {
    "zero": 0, "nought": 0, "naught": 0, "oh": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
    "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14,
    "fifteen": 15, "sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
SOUND_ALIKES = {"to": "2", "too": "2", "for": "4", "o": "0", "ate": "8"}  # written for a digit after "point"
TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
# spellings of one unit; the left one stands for all
UNITS = {
    "volt": "v volt volts", "millivolt": "mv millivolt millivolts", "amp": "amp amps ampere amperes",
    "milliamp": "milliamp milliamps", "ohm": "ohm ohms Ω ω", "bar": "bar bars", "psi": "psi", "thou": "thou",
    "kilohm": "kohm kohms kilohm kilohms kiloohm kiloohms kω", "rpm": "rpm", "percent": "% percent", "ppm": "ppm",
    "millimetre": "mm millimetre millimetres millimeter millimeters", "metre": "metre metres meter meters",
    "degree": "° degree degrees", "millisecond": "ms millisecond milliseconds", "minute": "min minute minutes",
    "litre": "litre litres liter liters", "millilitre": "ml millilitre millilitres milliliter milliliters",
    "newton": "newton newtons", "second": "second seconds", "inch": "inch inches",
}  # fmt: skip
# said and misheard for each other more than any other numbers
TEEN_AND_TEN = {
    "thirteen": "thirty", "fourteen": "forty", "fifteen": "fifty", "sixteen": "sixty", "seventeen": "seventy",
    "eighteen": "eighty", "nineteen": "ninety", "13": "30", "14": "40", "15": "50", "16": "60", "17": "70",
    "18": "80", "19": "90",
}  # fmt: skip
UNIT_OF = {spelling: unit for unit, spellings in UNITS.items() for spelling in spellings.split()}
PIECE = re.compile(r"\d+(?:,\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?|[^\W\d_]+(?:'[^\W\d_]+)?|[%°Ω]")


@dataclass(frozen=True, slots=True)
class Token:
    """A canonical token and the words it came from (`first` to `last`, end exclusive).

    `kind` is "number", "unit" or "word".
    """

    form: str
    kind: str
    first: int
    last: int


def tokens(words: Sequence[str]) -> list[Token]:
    """The canonical tokens of recognised words.

    ["three", "point", "one", "bar."] and ["3.1", "bar"] both give 3.1 and bar.
    """
    pieces = [(piece.lower(), at) for at, word in enumerate(words) for piece in PIECE.findall(word)]
    out: list[Token] = []
    at = 0
    while at < len(pieces):
        value, taken = _number(pieces, at)
        if taken:
            out.append(Token(f"{value:g}", "number", pieces[at][1], pieces[at + taken - 1][1] + 1))
            at += taken
            continue
        text, word = pieces[at]
        if text == "and" and out and out[-1].kind == "number":
            at += 1  # "one hundred and sixty" when the number before was written in figures
            continue
        unit = UNIT_OF.get(text)
        out.append(Token(unit or text, "unit" if unit else "word", word, word + 1))
        at += 1
    return out


def _number(pieces: list[tuple[str, int]], at: int) -> tuple[float, int]:
    """The number at a place and how many pieces it takes; (0, 0) where there is none."""
    text = pieces[at][0]
    if text[0].isdecimal():
        value, taken = float(text.replace(",", "")), 1
    else:
        whole, taken = _whole(pieces, at)
        value = float(whole)
    rest = [piece for piece, _ in pieces[at + taken : at + taken + 6]]
    if taken == 0 and not (text == "point" and len(rest) > 1 and _digit(rest[1])):
        if text == "half":
            return 0.5, 1
        return 0.0, 0
    if rest[:3] == ["and", "a", "half"] or rest[:2] == ["and", "half"]:
        return value + 0.5, taken + rest.index("half") + 1
    if rest and rest[0] == "point" and (taken == 0 or len(rest) > 1):
        digits = ""
        used = taken + 1
        while at + used < len(pieces) and (digit := _digit(pieces[at + used][0])):
            digits += digit
            used += 1
        if digits:
            return float(f"{int(value)}.{digits}"), used
    return (value, taken) if taken else (0.0, 0)


def _digit(text: str) -> str:
    """The digits a word adds after "point": five → 5, fifteen → 15, 25 → 25, to → 2; empty where it adds none."""
    if text.isdecimal():
        return text
    if text in SOUND_ALIKES:
        return SOUND_ALIKES[text]
    if text in ONES:
        return str(ONES[text])
    return str(TENS[text]) if text in TENS else ""


def _whole(pieces: list[tuple[str, int]], at: int) -> tuple[int, int]:
    """A whole number in words: "one hundred and sixty" → 160, "fourteen hundred" → 1400, "one forty five" → 145."""
    total, current, taken = 0, 0, 0
    last = "none"
    while at + taken < len(pieces):
        text = pieces[at + taken][0]
        if text in ONES:
            value = ONES[text]
            if (last == "tens" and 0 < value < 10) or last in ("none", "hundred", "thousand"):
                current += value
            elif last == "ones" and 0 < current < 20 and value >= 10:
                current = current * 100 + value  # "one fifteen"
            else:
                break
            last = "ones"
        elif text in TENS:
            if last == "ones" and 0 < current < 20:
                current = current * 100 + TENS[text]  # "one forty"
            elif last in ("none", "hundred", "thousand"):
                current += TENS[text]
            else:
                break
            last = "tens"
        elif text == "hundred" and last in ("ones", "tens", "none"):
            current = (current or 1) * 100
            last = "hundred"
        elif text == "thousand" and last != "none":
            total += current * 1000
            current, last = 0, "thousand"
        elif text == "and" and last in ("hundred", "thousand") and _continues(pieces, at + taken + 1):
            pass
        else:
            break
        taken += 1
    return total + current, taken


def _continues(pieces: list[tuple[str, int]], at: int) -> bool:
    return at < len(pieces) and (pieces[at][0] in ONES or pieces[at][0] in TENS)


@dataclass(frozen=True, slots=True)
class Difference:
    """Words `first` to `last` of one hearing against words `other_first` to `other_last` of another (ends exclusive).

    `matters` where a number or a unit is on either side.
    """

    first: int
    last: int
    other_first: int
    other_last: int
    matters: bool


def differences(words: Sequence[str], other: Sequence[str]) -> list[Difference]:
    """Where two hearings differ, in order of place.

    "gap is sixty thou" against "gap is 16 thou": "sixty" against "16".
    """
    mine, its = tokens(words), tokens(other)
    matcher = SequenceMatcher(None, [one.form for one in mine], [one.form for one in its], autojunk=False)
    out: list[Difference] = []
    for tag, start, end, other_start, other_end in matcher.get_opcodes():
        if tag == "equal":
            continue
        matters = any(one.kind != "word" for one in (*mine[start:end], *its[other_start:other_end]))
        out.append(Difference(*_span(mine, start, end), *_span(its, other_start, other_end), matters))
    return out


def _span(found: list[Token], start: int, end: int) -> tuple[int, int]:
    if start < end:
        return found[start].first, found[end - 1].last
    at = found[start].first if start < len(found) else (found[-1].last if found else 0)
    return at, at


def teen_for_ten(word: str) -> str | None:
    """The word with fifteen for fifty, or the other way round; None where it holds neither.

    "fifty" → "fifteen", "15," → "50,".
    """
    bare = word.strip(".,;:!?").lower()
    other = TEEN_AND_TEN.get(bare) or next((teen for teen, ten in TEEN_AND_TEN.items() if ten == bare), None)
    return None if other is None else word.lower().replace(bare, other)
