"""Numbers that measure nothing: clock times, dates, phone numbers, part codes; and "one" as a pronoun.

They are still found, with their `form`, so that no reader takes a piece of one for a reading.
"""

from __future__ import annotations

from .. import units
from .number_lexicon import HYPHENS, LEX
from .quantities_units import UnitHit, unit_at
from .words import NUM, SIGN, WORD, Tok

Form = tuple[int, str, float]  # end token, form, value

_LONGEST = 24
MONTHS = frozenset({
    "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
    "december", "jan", "feb", "mar", "apr", "jun", "jul", "aug", "sep", "sept", "oct", "nov", "dec",
})  # fmt: skip
_CLOCK = frozenset({"am", "pm", "o'clock", "oclock"})
_POSITIONS = frozenset({
    "cyl", "cylinder", "no", "pin", "cell", "carb", "inj", "injector", "coil", "number", "nr", "num", "bank", "pos",
    "bay", "fuse",
})  # fmt: skip
_DASHES = "-–‐‑"
_RESISTANCE = frozenset("RKMLGrk")
_ORDINALS = frozenset({"st", "nd", "rd", "th"})
_NO_CODE = frozenset(("x", "k", "e", "ish", "m", "r", "ths", "nds", "rds", *_ORDINALS))


def form_of(toks: list[Tok], i: int) -> Form | None:
    """What the numeral at `i` is if it is no plain number: its end, form and value; None for a plain one."""
    tok = toks[i]
    if tok.kind != NUM:
        return _hour_in_words(toks, i) if tok.low in _PARTS_OF_HOUR else None
    text = tok.text
    if len(text) > _LONGEST:
        return i + 1, "code", 0.0
    if tok.glued and i > 0:
        code = _after_letters(toks, i)
        if code is not None:
            return code
    if text[0] == "0" and len(text) > 2 and text.isdigit():
        return _nought_first(toks, i)
    if text.count(".") >= 2 and not _is_grouped(text):
        return i + 1, "date" if _is_date(text.split(".")) else "code", 0.0
    after = toks[i + 1] if i + 1 < len(toks) else None
    if not text.isdigit():
        timed = (
            after is not None and after.low in ("am", "pm") and text.replace(".", "", 1).isdigit() and float(text) < 13
        )
        return (i + 2, "clock", float(text)) if timed else None
    if after is None:
        return _day_or_year(toks, i)
    if (after.glued and after.kind == WORD) or (after.glued and after.text in ":-–‐‑/"):
        return _with_glued(toks, i, after)
    if after.kind == NUM:
        end = _phone(toks, i)
        if end:
            return end, "phone", 0.0
    return _clock_said(toks, i) or _day_or_year(toks, i)


def _value(text: str) -> float:
    return float(text) if text.isascii() and text.isdigit() and len(text) < 16 else 0.0


def _run(toks: list[Tok], i: int) -> int:
    """The end of the glued run of letters, digits and inner signs that token `i` is in."""
    j = i + 1
    n = len(toks)
    while j < n and toks[j].glued:
        if toks[j].kind == SIGN and not (
            toks[j].text in "-–/_." and j + 1 < n and toks[j + 1].glued and toks[j + 1].kind != SIGN
        ):
            break
        j += 1
    return j


def _after_letters(toks: list[Tok], i: int) -> Form | None:
    """A numeral glued to letters before it is part of a code ("P0301", "KS-2207-4", "V8") or names a place ("cyl1")."""
    before = toks[i - 1]
    if before.kind == WORD:
        if before.low == "x" or (before.low in LEX and len(before.low) > 1):
            return None
        if before.low in _POSITIONS:
            return i + 1, "label", _value(toks[i].text)
        if before.glued and i > 1 and toks[i - 2].kind == NUM and unit_at(toks, i - 1) is not None:
            return None  # "5ft10"
        if before.glued and i > 1 and toks[i - 2].text in "-–" and toks[i - 2].glued is False and before.low == "e":
            return None
        return _run(toks, i), "code", 0.0
    if before.text not in HYPHENS or not before.glued or i < 2 or toks[i - 2].kind != WORD:
        return None
    word = toks[i - 2]
    if (
        word.low in LEX
        or not word.text[0].isupper()
        or word.low in ("plus", "sub", "under", "over", "mid", "pre", "post")
    ):
        return None
    return _run(toks, i), "code", 0.0


def _nought_first(toks: list[Tok], i: int) -> Form | None:
    """No measure starts with a nought and has no point ("0791", "0142"), unless its unit is glued to it."""
    after = toks[i + 1] if i + 1 < len(toks) and toks[i + 1].glued else None
    if after is not None and after.kind == WORD and unit_at(toks, i + 1) is not None:
        return None
    return _run(toks, i), "code", _value(toks[i].text)


def _is_grouped(text: str) -> bool:
    """Whether the points of "1.234.567" part thousands."""
    groups = text.replace(",", ".").split(".")
    inner = groups[1:-1] if "," in text else groups[1:]
    return 0 < len(groups[0]) <= 3 and all(len(group) == 3 for group in inner)


def _is_date(parts: list[str]) -> bool:
    if len(parts) != 3 or not all(part.isdigit() for part in parts):
        return False
    lengths = [len(part) for part in parts]
    if lengths[0] == 4:
        return lengths[1] <= 2 and lengths[2] <= 2 and 1 <= int(parts[1]) <= 12 and 1 <= int(parts[2]) <= 31
    days = lengths[0] <= 2 and lengths[1] <= 2 and lengths[2] in (2, 4)
    return days and 1 <= int(parts[0]) <= 31 and 1 <= int(parts[1]) <= 31


def _with_glued(toks: list[Tok], i: int, after: Tok) -> Form | None:
    third = toks[i + 2] if i + 2 < len(toks) and toks[i + 2].glued else None
    if after.kind == WORD:
        return _before_letters(toks, i, after, third)
    if third is None or third.kind != NUM:
        return None
    if after.text == ":":
        return _clock(toks, i)
    if after.text in _DASHES or after.text == "/":
        return _chain(toks, i)
    return None


def _clock(toks: list[Tok], i: int) -> Form | None:
    """`9:30`, "09:30:15", "5:30 pm"."""
    hour, minute = toks[i].text, toks[i + 2].text
    if len(hour) > 2 or int(hour) > 24 or len(minute.partition(".")[0]) != 2 or not minute[:2].isdigit():
        return None
    j = i + 3
    n = len(toks)
    if j + 1 < n and toks[j].text == ":" and toks[j].glued and toks[j + 1].kind == NUM and toks[j + 1].glued:
        j += 2
    if j < n and toks[j].low in _CLOCK:
        j += 1
    return j, "clock", float(hour)


def _clock_said(toks: list[Tok], i: int) -> Form | None:
    """`5 pm`, "7 a.m.", "9 o'clock"."""
    text = toks[i].text
    if len(text) > 2 or int(text) > 24:
        return None
    n = len(toks)
    if toks[i + 1].low in _CLOCK:
        return i + 2, "clock", float(text)
    if (
        toks[i + 1].low in ("a", "p")
        and i + 3 < n
        and toks[i + 2].text == "."
        and toks[i + 3].low == "m"
        and toks[i + 3].glued
    ):
        return i + 4, "clock", float(text)
    return None


_PARTS_OF_HOUR = frozenset({
    "half", "quarter", "five", "ten", "twenty", "one", "two", "three", "four", "six", "seven", "eight", "nine",
    "eleven", "twelve",
})  # fmt: skip
_HOURS = frozenset({
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
})  # fmt: skip


def _hour_in_words(toks: list[Tok], i: int) -> Form | None:
    """`half past nine`, "quarter to five", "ten past eight", "nine o'clock", "five pm"."""
    n = len(toks)
    low = toks[i].low
    if i + 1 < n and low in _HOURS and toks[i + 1].low in _CLOCK:
        return i + 2, "clock", LEX[low][1]
    if i + 2 >= n or toks[i + 1].low not in ("past", "to"):
        return None
    if toks[i + 1].low == "to" and low != "quarter":
        return None
    hour = toks[i + 2]
    if hour.low in _HOURS:
        return i + 3, "clock", LEX[hour.low][1]
    if hour.kind == NUM and hour.text.isdigit() and len(hour.text) <= 2 and low in ("half", "quarter"):
        return i + 3, "clock", _value(hour.text)
    return None


def _phone(toks: list[Tok], i: int) -> int:
    """The end of a telephone number in groups ("555 0142", "+44 20 7946 0958"); 0 where it is none."""
    j = i
    long = False
    while j < len(toks) and toks[j].kind == NUM and toks[j].text.isdigit() and j - i < 8:
        if j > i and (toks[j].glued or toks[j].line):
            break
        long = long or (toks[j].text[0] == "0" and len(toks[j].text) > 3)
        j += 1
    plus = i > 0 and toks[i - 1].text == "+" and toks[i].glued
    return j if j - i > 1 and (long or (plus and j - i > 2)) else 0


def _chain(toks: list[Tok], i: int) -> Form | None:
    """Numerals joined by dashes or slashes: "2026-03-14", "14/03/2026", "555-0142"; no list, no range."""
    mark = toks[i + 1].text
    parts = [toks[i].text]
    j = i
    n = len(toks)
    while (
        j + 2 < n and toks[j + 1].text == mark and toks[j + 1].glued and toks[j + 2].glued and toks[j + 2].kind == NUM
    ):
        parts.append(toks[j + 2].text)
        j += 2
        if len(parts) == 8:
            break
    if _is_date(parts):
        return _past_time(toks, j + 1), "date", 0.0
    if mark == "/" or not all(part.isdigit() for part in parts):
        return None
    if len(parts) > 2:
        digits = [len(part) for part in parts]
        return j + 1, "phone" if sum(digits) >= 7 and min(digits) >= 2 else "code", 0.0
    if len(parts[1]) > 1 and parts[1][0] == "0":
        return j + 1, "phone" if len(parts[1]) == 4 else "code", 0.0
    return None


def _past_time(toks: list[Tok], j: int) -> int:
    """Past the time of an ISO 8601 date and time ("2026-03-14T16:20:00Z")."""
    n = len(toks)
    if j + 1 >= n or toks[j].low != "t" or not toks[j].glued or toks[j + 1].kind != NUM or not toks[j + 1].glued:
        return j
    while (
        j < n
        and toks[j].glued
        and (toks[j].kind != SIGN or (toks[j].text in ":+-." and j + 1 < n and toks[j + 1].glued))
    ):
        j += 1
    return j


def _day_or_year(toks: list[Tok], i: int) -> Form | None:
    """`14 March`, "March 14", "in 1992": the day or the year of a date."""
    text = toks[i].text
    after = toks[i + 1].low if i + 1 < len(toks) else ""
    before = toks[i - 1].low if i else ""
    if len(text) <= 2 and 1 <= int(text) <= 31:
        if after in MONTHS and after != "may" and (toks[i + 1].text[0].isupper() or len(after) > 4):
            return i + 1, "day", float(text)
        if before in MONTHS and toks[i - 1].text[0].isupper() and unit_at(toks, i + 1) is None:
            return i + 1, "day", float(text)
        return None
    dated = before in ("in", "since", "from", "year", "of", "circa") or before in MONTHS
    if dated and len(text) == 4 and 1900 <= int(text) <= 2099 and after != "k" and unit_at(toks, i + 1) is None:
        return i + 1, "year", float(text)
    return None


def _before_letters(toks: list[Tok], i: int, after: Tok, third: Tok | None) -> Form | None:
    """`5W30`, "26B", "3D", "2nd", "9pm", "1990s": what letters glued to a numeral make of it."""
    text, low = toks[i].text, after.low
    if low in _CLOCK and len(text) <= 2:
        return i + 2, "clock", _value(text)
    if low == "s":
        named = i > 0 and toks[i - 1].low in ("the", "early", "late", "mid", "-")
        if (len(text) == 4 and 1700 <= int(text) <= 2100) or (named and len(text) == 2 and text[1] == "0"):
            return i + 2, "date", _value(text)
    if third is not None and third.kind == NUM and after.text in _RESISTANCE and len(third.text) <= 3:
        return None
    if third is not None and low == "w" and third.text in _DASHES and i + 3 < len(toks) and toks[i + 3].kind == NUM:
        return _run(toks, i), "code", 0.0  # "5W-30"
    if third is not None and third.kind == NUM and len(low) <= 2 and low not in ("x", "e", "h", "ft", "to"):
        return _run(toks, i), "code", 0.0
    if low in LEX or low in _NO_CODE or not low.isascii():
        return None
    if after.text[0].isupper() and unit_at(toks, i + 1) is None:
        return _run(toks, i), "code", 0.0
    return None


_ONE_AFTER = frozenset({
    "this", "that", "the", "which", "each", "every", "any", "other", "another", "new", "old", "good", "bad", "last",
    "first", "next", "same", "only", "right", "left", "wrong", "big", "small", "second", "third", "either",
    "neither", "such", "whole", "red", "blue", "green", "black", "white", "yellow", "grey", "gray", "spare", "dud",
    "rear", "front", "worst", "best", "newer", "older", "bigger", "smaller", "cheap", "cheaper", "dead", "broken",
    "cracked", "original", "genuine", "lower", "upper", "top", "bottom", "middle", "outer", "inner", "far", "near",
    "long", "short", "hot", "cold", "some", "someone", "quiet", "matching", "similar", "different", "identical",
    "replacement", "used", "fresh", "proper", "little", "tiny", "huge", "nice", "brand", "former", "latter", "odd",
    "loved", "chosen", "few", "these", "those", "it's", "what",
})  # fmt: skip
_ONE_BEFORE = frozenset({
    "of's", "is", "was", "has", "had", "who", "which", "that's", "side", "day", "time", "thing", "another", "way",
    "hand", "off", "can", "could", "should", "would", "must", "might", "may", "will", "who's", "else", "does", "do",
    "did", "person", "hopes", "knows", "sees", "thinks", "needs", "wants", "gets", "more", "more's", "where", "when",
})  # fmt: skip
_NUMBERED = frozenset({
    "number", "cylinder", "cyl", "pin", "cell", "channel", "coil", "injector", "plug", "carb", "bank", "step",
    "stage", "phase", "part", "fuse", "bay", "unit", "item", "terminal", "line", "about",
})  # fmt: skip
_COUNTED_AFTER_NO = frozenset({
    "cylinder", "cyl", "carb", "coil", "injector", "plug", "pin", "cell", "pot", "main", "bearing", "lead", "spark",
    "fuse", "bank",
})  # fmt: skip
_OF_WHOM = frozenset({"them", "these", "those", "the", "my", "his", "our", "your", "their", "its", "us", "a", "you"})
_LASTING = frozenset({"for", "in", "about", "within", "than", "least", "after", "every"})


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
        if hit.codes[0] == "d":  # "one day he left"
            return before not in _LASTING
        return before in ("this", "that", "which", "new", "old")
    if before in _NUMBERED:
        return False
    if before in _ONE_AFTER or after in _ONE_BEFORE:
        return True
    third = toks[i + 2].low if i + 2 < len(toks) else ""
    if after == "of":
        return third in _OF_WHOM
    if (after == "by" and third == "one") or (before == "by" and i > 1 and toks[i - 2].low == "one"):
        return True
    if after == "and" and third in ("only", "all"):
        return True
    return before == "for" and after in (",", "i")


def leading_unit(toks: list[Tok], i: int) -> UnitHit | None:
    """A unit said right before the number, only where it is sure: "psi: 140", "pressure (psi) = 140"."""
    k = i - 2
    if k < 0 or toks[i].line or toks[i - 1].text not in (":", "="):
        return None
    if toks[k].text in ")]" and k > 0:
        k -= 1
    if (k > 0 and toks[k - 1].kind == NUM) or (len(toks[k].text) < 2 and toks[k].text not in "%°Ω"):
        return None
    if toks[k].low in ("in", "min", "mins", "second", "minute", "foot", "point"):
        return None
    hit = unit_at(toks, k)
    return hit if hit is not None and hit.end == k + 1 and units.known(hit.codes[0]) else None
