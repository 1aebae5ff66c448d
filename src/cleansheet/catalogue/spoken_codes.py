"""Trouble codes as they are said: "P oh three oh one", "P zero three hundred one", "P three hundred"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

_ONES = {"oh": 0, "o": 0, "zero": 0, "nought": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6,
         "seven": 7, "eight": 8, "nine": 9}  # fmt: skip
_TEENS = {"ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
          "seventeen": 17, "eighteen": 18, "nineteen": 19}  # fmt: skip
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
_WORD = "|".join(sorted((*_ONES, *_TEENS, *_TENS, "hundred"), key=len, reverse=True))
_SAID = re.compile(rf"(?<![\w'])([pcbu])((?:[\s-]+(?:and\s+)?(?:{_WORD}))+)(?![\w'])", re.IGNORECASE)


def spoken_trouble_codes(text: str) -> Iterator[tuple[int, int, str]]:
    """(start, end, code) of every code that is spelt out in words and comes to three or four digits.

    Three digits stand for a code whose first is 0: "P three hundred" is P0300.
    """
    for match in _SAID.finditer(text):
        digits = _digits(match[2].lower().replace("-", " ").split())
        if digits is not None and len(digits) in (3, 4) and digits.zfill(4)[0] in "0123":
            yield match.start(), match.end(), f"{match[1].upper()}{digits.zfill(4)}"


def _digits(words: list[str]) -> str | None:
    """The digits that number words spell: ["zero", "three", "hundred", "one"] is "0301"; None where they make none."""
    out = ""
    at = 0
    while at < len(words):
        word = words[at]
        if word in _ONES and words[at + 1 : at + 2] == ["hundred"]:
            rest, used = _below_hundred([one for one in words[at + 2 :] if one != "and"])
            out += str(_ONES[word] * 100 + rest)
            at += 2 + used + words[at + 2 :].count("and")
        elif word in _ONES:
            out += str(_ONES[word])
            at += 1
        else:
            number, used = _below_hundred(words[at:])
            if not used:
                return None
            out += str(number)
            at += used
    return out or None


def _below_hundred(words: list[str]) -> tuple[int, int]:
    """(number, words used) of a number below a hundred at the start of `words`; (0, 0) where none stands there."""
    if not words:
        return 0, 0
    if words[0] in _TEENS:
        return _TEENS[words[0]], 1
    if words[0] in _TENS:
        one = _ONES.get(words[1], 0) if len(words) > 1 else 0
        return _TENS[words[0]] + one, 2 if one else 1
    if words[0] in ("oh", "o", "zero"):
        return (_ONES[words[1]], 2) if len(words) > 1 and words[1] in _ONES else (0, 0)
    return (_ONES[words[0]], 1) if words[0] in _ONES else (0, 0)
