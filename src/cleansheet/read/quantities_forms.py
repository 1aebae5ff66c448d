"""Numbers that measure nothing: clock times, dates, phone numbers, part codes; and "one" as a pronoun.

They are still found, with their `form`, so that no reader takes a piece of one for a reading.
"""

from __future__ import annotations

from .. import units
from .number_words import HYPHENS, LEX
from .quantities_units import UnitHit, unit_at
from .words import NUM, SIGN, WORD, Tok

_MONTHS = frozenset(
    ["january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december", "jan", "feb", "mar", "apr", "jun", "jul", "aug", "sep", "sept", "oct", "nov", "dec"]
)  # fmt: skip
_CLOCK_WORDS = frozenset(("am", "pm", "o'clock", "oclock", "a.m", "p.m"))
_POSITION_WORDS = frozenset(["cyl", "no", "pin", "cell", "carb", "inj", "coil", "number", "nr", "num", "bank", "pos", "bay", "fuse"])


def form_of(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    """End token, form and value of a clock time, date, phone number or code whose numeral stands at `i`; else None."""
    tok = toks[i]
    if tok.kind != NUM:
        return _past_the_hour(toks, i) if tok.low in _PARTS_OF_HOUR else None
    n = len(toks)
    text = tok.text
    if len(text) > 24:
        return i + 1, "code", 0.0
    after = toks[i + 1] if i + 1 < n else None
    if tok.glued and i > 0:
        code = _glued_before(toks, i)
        if code is not None:
            return code
    if text[0] == "0" and len(text) > 2 and text.isdigit():
        # "0791", "0142": no measure starts with a nought and no point
        return i + 1, "code", _value(text)
    if text.count(".") >= 2 and not _thousands(text):
        return i + 1, "date" if _is_date(text.split(".")) else "code", 0.0
    if after is None:
        return None
    if after.kind == NUM and not after.glued and text.isdigit():
        end = _phone(toks, i)
        if end:
            return end, "phone", 0.0
    if after.glued:
        if after.text == ":" and i + 2 < n and toks[i + 2].glued and toks[i + 2].kind == NUM:
            return _clock(toks, i)
        if after.text in "-–‐‑/" and i + 2 < n and toks[i + 2].glued and toks[i + 2].kind == NUM:
            return _date_or_phone(toks, i)
        if after.kind == WORD:
            return _code_after(toks, i)
    if after.low in _CLOCK_WORDS and text.isdigit() and int(text) <= 24:
        return i + 2, "clock", float(text)
    if (
        after.low in ("a", "p")
        and i + 3 < n
        and toks[i + 2].text == "."
        and toks[i + 3].low == "m"
        and toks[i + 3].glued
        and text.isdigit()
    ):
        return i + 4, "clock", float(text)
    return None


_PARTS_OF_HOUR = frozenset(("half", "quarter", "five", "ten", "twenty"))
_HOURS = frozenset(["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"])


def _past_the_hour(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    """ "half past nine", "a quarter to five", "ten past 8"."""
    if i + 2 >= len(toks) or toks[i + 1].low not in ("past", "to"):
        return None
    hour = toks[i + 2]
    if toks[i + 1].low == "to" and toks[i].low not in ("half", "quarter"):
        return None
    if not (hour.low in _HOURS or (hour.kind == NUM and hour.text.isdigit() and len(hour.text) <= 2)):
        return None
    return i + 3, "clock", LEX[hour.low][1] if hour.low in LEX else _value(hour.text)


def _phone(toks: list[Tok], i: int) -> int:
    """The end of a telephone number in groups ("555 0142", "+44 20 7946 0958"); 0 where it is none."""
    j = i
    n = len(toks)
    long = False
    while (
        j < n
        and toks[j].kind == NUM
        and toks[j].text.isdigit()
        and (j == i or (not toks[j].glued and not toks[j].line))
        and j - i < 8
    ):
        text = toks[j].text
        long = long or (text[0] == "0" and len(text) > 3)
        j += 1
    plus = i > 0 and toks[i - 1].text == "+" and toks[i].glued
    return j if j - i > 1 and (long or (plus and j - i > 2)) else 0


def _thousands(text: str) -> bool:
    groups = text.replace(",", ".").split(".")
    return all(len(group) == 3 for group in groups[1:]) or (
        len(groups) > 2 and all(len(g) == 3 for g in groups[1:-1]) and "," in text
    )


def _is_date(parts: list[str]) -> bool:
    if len(parts) != 3 or not all(part.isdigit() for part in parts):
        return False
    lengths = [len(part) for part in parts]
    if lengths[0] == 4:
        return lengths[1] <= 2 and lengths[2] <= 2 and 1 <= int(parts[1]) <= 12 and 1 <= int(parts[2]) <= 31
    return (
        lengths[0] <= 2
        and lengths[1] <= 2
        and lengths[2] in (2, 4)
        and 1 <= int(parts[0]) <= 31
        and 1 <= int(parts[1]) <= 31
    )


def _glued_before(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    """A numeral glued to letters before it is part of a code ("P0301", "KS-2207-4"), or of a label ("cyl1")."""
    before = toks[i - 1]
    if before.kind == WORD:
        if (
            before.text == "R"
            or (before.low in ("x", "e", "k", "m", "r", "g", "l")
            and i > 1
            and toks[i - 2].kind == NUM
            and before.glued)
        ):
            return None
        if before.low in LEX or before.low == "x":
            return None
        if before.low in _POSITION_WORDS:
            return i + 1, "label", _value(toks[i].text)
        if before.glued and i > 1 and toks[i - 2].kind == NUM and unit_at(toks, i - 1) is not None:
            return None
        return _run(toks, i), "code", 0.0
    if before.text in HYPHENS or before.text == "/":
        if before.glued and i > 1 and toks[i - 2].kind == WORD and before.text in HYPHENS:
            word = toks[i - 2]
            if word.low in LEX or word.low in ("plus", "sub", "under", "over", "mid", "pre", "post", "non", "to"):
                return None
            if word.text.isupper() or (
                word.glued and i > 2 and toks[i - 3].kind == NUM and unit_at(toks, i - 2) is None
            ):
                return _run(toks, i), "code", 0.0
            return (_run(toks, i), "code", 0.0) if word.text[0].isupper() else None
    return None


def _run(toks: list[Tok], i: int) -> int:
    """The end of the glued run of letters, digits and hyphens that token `i` is in."""
    j = i + 1
    n = len(toks)
    while (
        j < n
        and toks[j].glued
        and (
            toks[j].kind != SIGN
            or (toks[j].text in "-–/_." and j + 1 < n and toks[j + 1].glued and toks[j + 1].kind != SIGN)
        )
    ):
        j += 1
    return j


def _value(text: str) -> float:
    return float(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0.0


def _clock(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    hour, minute = toks[i].text, toks[i + 2].text
    if not (
        hour.isdigit()
        and len(hour) <= 2
        and minute[:2].isdigit()
        and len(minute.partition(".")[0]) == 2
        and int(hour) <= 24
    ):
        return None
    j = i + 3
    n = len(toks)
    if j + 1 < n and toks[j].text == ":" and toks[j].glued and toks[j + 1].kind == NUM and toks[j + 1].glued:
        j += 2
    if j < n and toks[j].low in _CLOCK_WORDS:
        j += 1
    return j, "clock", float(hour)


def _date_or_phone(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    """A chain of numerals with dashes or slashes: "2026-03-14", "14/03/2026", "555-0142"; a list or a range is neither."""
    mark = toks[i + 1].text
    parts = [toks[i].text]
    j = i
    n = len(toks)
    while (
        j + 2 < n
        and toks[j + 1].text == mark
        and toks[j + 1].glued
        and toks[j + 2].glued
        and toks[j + 2].kind == NUM
        and len(parts) < 8
    ):
        parts.append(toks[j + 2].text)
        j += 2
    end = j + 1
    if len(parts) == 3 and _is_date(parts):
        return end, "date", 0.0
    if mark == "/":
        return None
    digits = [len(part) for part in parts if part.isdigit()]
    if len(digits) != len(parts):
        return None
    if len(parts) >= 3 and (sum(digits) >= 7 and min(digits) >= 2):
        return end, "phone", 0.0
    if len(parts) == 2 and digits == [3, 4] and unit_at(toks, end) is None and parts[1][0] == "0":
        return end, "phone", 0.0
    if len(parts) >= 3:
        return end, "code", 0.0
    if len(parts) == 2 and len(parts[1]) > 1 and parts[1][0] == "0":
        return end, "code", 0.0
    return None


def _code_after(toks: list[Tok], i: int) -> tuple[int, str, float] | None:
    """ "5W30", "26B", "3D", "2nd", "9pm", "1990s": what letters glued to a numeral make of it."""
    after = toks[i + 1]
    text = toks[i].text
    low = after.low
    n = len(toks)
    if low in _CLOCK_WORDS and text.isdigit() and int(text[:4]) <= 24:
        return i + 2, "clock", _value(text)
    if (
        low == "s"
        and text.isdigit()
        and (len(text) == 4 or (len(text) == 2 and text[1] == "0"))
        and i > 0
        and toks[i - 1].low in ("the", "early", "late", "mid", "-")
    ):
        return i + 2, "date", _value(text)
    if low == "s" and text.isdigit() and len(text) == 4 and 1700 <= int(text) <= 2100:
        return i + 2, "date", _value(text)
    third = toks[i + 2] if i + 2 < n and toks[i + 2].glued else None
    if (
        third is not None
        and third.kind == NUM
        and len(low) <= 2
        and low not in ("x", "e", "k", "r", "m", "l", "g", "h", "ft", "to")
    ):
        return _run(toks, i), "code", 0.0
    if (
        low in LEX
        or low in ("st", "nd", "rd", "th", "ths", "nds", "rds", "x", "k", "e", "ish", "m", "r")
        or not low.isascii()
    ):
        return None
    if unit_at(toks, i + 1) is None and text.isdigit() and after.text[0].isupper():
        return _run(toks, i), "code", 0.0
    return None


_PRONOUN_BEFORE = frozenset(
    ["this", "that", "the", "which", "each", "every", "any", "no", "other", "another", "new", "old", "good", "bad", "last", "first", "next", "same", "only", "right", "left", "wrong", "big", "small", "second", "third", "either", "neither", "such", "whole", "red", "blue", "green", "black", "white", "yellow", "grey", "gray", "spare", "dud", "rear", "front", "worst", "best", "newer", "older", "bigger", "smaller", "cheap", "cheaper", "dead", "broken", "cracked", "original", "genuine", "lower", "upper", "top", "bottom", "middle", "outer", "inner", "far", "near", "long", "short", "hot", "cold", "some", "someone", "quiet", "matching", "similar", "different", "identical", "replacement", "used", "fresh", "genuine", "proper", "little", "big", "tiny", "huge", "nice", "brand", "former", "latter", "odd", "loved", "chosen", "few", "these", "those", "it's"]
)  # fmt: skip
_PRONOUN_AFTER = frozenset(
    ["of's", "is", "was", "has", "had", "who", "which", "that's", "side", "day", "time", "thing", "another", "way", "hand", "off", "can", "could", "should", "would", "must", "might", "may", "will", "who's", "else", "does", "do", "did", "person", "hopes", "knows", "sees", "thinks", "needs", "wants", "gets", "more", "more's", "where", "when"]
)  # fmt: skip
_NUMBER_BEFORE = frozenset(["number", "no", "cylinder", "cyl", "pin", "cell", "channel", "coil", "injector", "plug", "carb", "bank", "step", "stage", "phase", "part", "fuse", "bay", "unit", "item", "terminal", "line", "about", "at"])  # fmt: skip


_COUNTED_AFTER_NO = frozenset(
    ["cylinder", "cyl", "carb", "coil", "injector", "plug", "pin", "cell", "pot", "main", "bearing", "lead", "spark", "fuse", "bank"]
)


def is_pronoun_one(toks: list[Tok], i: int, hit: UnitHit | None) -> bool:
    """Whether the "one" at `i` stands for a thing and counts nothing: "this one", "the new one", "one of them".

    "number one", "one to two" and "one bar" count; `hit` is the unit that follows.
    """
    before = toks[i - 1].low if i else ""
    following = toks[i + 1] if i + 1 < len(toks) else None
    after = following.low if following is not None else ""
    if before == "no":
        # "no one knows", but "no one carb" and "no one 138"
        return not (following is None or following.kind != WORD or after in LEX or after in _COUNTED_AFTER_NO)
    if hit is not None:
        return before in ("this", "that", "which", "each", "every", "new", "old") or (
            hit.codes[0] == "d" and before not in ("for", "in", "about", "within", "than", "least")
        )
    if before in _NUMBER_BEFORE:
        return False
    if before in _PRONOUN_BEFORE or after in _PRONOUN_AFTER:
        return True
    third = toks[i + 2].low if i + 2 < len(toks) else ""
    if after == "of":
        return third in _OF_WHOM
    if (after == "by" and third == "one") or (before == "by" and i > 1 and toks[i - 2].low == "one"):
        return True
    if after == "and" and third in ("only", "all"):
        return True
    return before == "for" and after in (",", "i")


_OF_WHOM = frozenset(["them", "these", "those", "the", "my", "his", "our", "your", "their", "its", "us", "a", "you"])


def leading_unit(toks: list[Tok], i: int) -> UnitHit | None:
    """A unit said right before the number, only where it is sure: "psi: 140", "pressure (psi) = 140", "rpm 850"."""
    if i < 1 or toks[i].line:
        return None
    k = i - 1
    if toks[k].text in (":", "="):
        k -= 1
        if k >= 0 and toks[k].text in ")]":
            k -= 1
        if k < 0:
            return None
        before = toks[k - 1] if k > 0 else None
        if before is not None and before.kind == NUM:
            return None
        hit = unit_at(toks, k) if toks[k].kind == WORD or toks[k].text in "%°Ω" else None
        if hit is not None and hit.end == k + 1 and len(toks[k].text) > 1 and toks[k].low not in ("in", "min", "mins"):
            return hit if units.known(hit.codes[0]) else None
    return None
