"""When a thing was, or is due: "yesterday's readings", "Mon 12/1: ...", "14 March", "at 10:30", "head off tomorrow".

Narrow rules find the phrases, so that no bare number and no "may" goes to the date library. A phrase that heads a line
("Monday:") holds to the next such heading, one that opens a sentence for that sentence, any other for its own statement.
What is said of the note's own day is left open: a mention's `at` says only what the note's time does not.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache
from typing import TYPE_CHECKING

from cleansheet.dates import COUNT, DAY, MONTH, span_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from cleansheet.terms import Mention

    from .clauses import Layout
    from .words import Tok

_BY_WORD = {
    "the day before yesterday": -2, "day before yesterday": -2, "yesterday": -1, "yesterday morning": -1,
    "yesterday afternoon": -1, "yesterday evening": -1, "last night": -1, "today": 0, "this morning": 0,
    "this afternoon": 0, "this evening": 0, "tonight": 0, "tomorrow": 1, "tomorrow morning": 1,
    "tomorrow afternoon": 1, "the day after tomorrow": 2, "day after tomorrow": 2,
}  # fmt: skip
_SHORT_DAY = r"(?:Mon|Tues?|Weds?|Thur?s?|Fri|Sat|Sun)"
# "may" and "march" are words of their own, so as months they need a capital or "of"
_SURE_MONTH = rf"(?:(?-i:M(?:ay|ar(?:ch)?))|(?!may|mar){MONTH})(?![a-z])"
_PHRASE = re.compile(
    rf"""(?<![\w.'/-])(?:
        (?P<word>{"|".join(sorted((re.escape(word) for word in _BY_WORD), key=len, reverse=True))})
      | (?P<ago>{COUNT}\s+(?:day|week)s?\s+ago)
      | (?P<dated>
            \d{{4}}-\d{{2}}-\d{{2}}
          | \d{{1,2}}(?:st|nd|rd|th)?\s+{_SURE_MONTH}(?:,?\s+\d{{4}})? | \d{{1,2}}(?:st|nd|rd|th)?\s+of\s+{MONTH}(?:,?\s+\d{{4}})?
          | {_SURE_MONTH}\.?\s+\d{{1,2}}(?:st|nd|rd|th)?(?![\d.:])(?:,?\s+\d{{4}}(?!\d))?
          | \d{{1,2}}[./]\d{{1,2}}[./](?:20)?\d{{2}}(?![\d/.]\d)
        )
      | (?:(?:{DAY}|(?-i:{_SHORT_DAY})\.?),?\s+)(?P<numbered>\d{{1,2}}/\d{{1,2}})(?![\d/])
      | (?P<weekday>(?:(?:last|next|this)\s+)?{DAY})(?P<part>\s+(?:morning|afternoon|evening|night))?
      | (?P<short>(?-i:{_SHORT_DAY}))(?=\s*[:–—]|\s+-\s)
      | (?:at\s+)?(?P<clock>\d{{1,2}}:\d{{2}}(?:\s*[ap]m)?|\d{{1,2}}\s*[ap]m)(?![\w:])
    )(?:['’]s)?(?![\w'’])""",
    re.IGNORECASE | re.VERBOSE,
)
# A quick look whether there is anything to find: most notes have no such word.
_LIKELY = re.compile(
    rf"day|night|morrow|this\s+(?:morning|afternoon|evening)|ago|\d:\d|\d\s*[ap]m|\d[/.]\d+[/.]\d|\d{{4}}-\d|{MONTH}\W|{_SHORT_DAY}\b",
    re.IGNORECASE,
)
# After these a day bounds or compares; it is not when the thing was.
_NOT_AFTER = frozenset({"every", "each", "since", "until", "till", "from", "before", "after", "than", "like", "as", "most",
                        "to", "between", "except", "and"})  # fmt: skip
_OPENERS = frozenset({"so", "and", "then", "on", "right", "ok", "okay", "well", "back", "again", "at", "in", "for", "by", ",",
                      "-", "–", "—", "•", "*", "(", "now", "right,"})  # fmt: skip
_PAST = frozenset({"reading", "action", "symptom"})


@dataclass(frozen=True, slots=True)
class Said:
    """A day or an hour said at words `first` to `last` (exclusive); it holds from word `low` to `high`."""

    first: int
    last: int
    phrase: str
    is_clock: bool
    low: int
    high: int


def find_when(text: str, toks: Sequence[Tok], layout: Layout) -> list[Said]:
    """The days and hours said in a note, each with the words that it holds for."""
    if not _LIKELY.search(text):
        return []
    starts = [tok.start for tok in toks]
    found: list[tuple[int, int, str, bool, bool]] = []
    for match in _PHRASE.finditer(text):
        first, last = bisect_left(starts, match.start()), bisect_left(starts, match.end())
        if (
            first >= len(toks)
            or last <= first
            or (first and toks[first - 1].low in _NOT_AFTER and match["clock"] is None)
        ):
            continue
        found.append((first, last, _words_of(match), match["clock"] is not None, _heads_line(toks, first, last)))
    out: list[Said] = []
    next_heading = {False: len(toks), True: len(toks)}  # by `is_clock`: the hour of a heading ends at the next day too
    for first, last, phrase, is_clock, heading in reversed(found):
        piece = layout.pieces[layout.piece_of[first]]
        start, stop = layout.sentences[piece.sentence]
        if heading:
            low, high = first, next_heading[is_clock]
            next_heading[True] = first
            if not is_clock:
                next_heading[False] = first
        elif all(tok.low in _OPENERS for tok in toks[start:first]):
            low, high = start, stop
        else:
            low, high = piece.first, piece.last
        out.append(Said(first, last, phrase, is_clock, low, high))
    out.reverse()
    return out


class _Reaches:
    """What holds where: the stretches of words that days and hours reach over, cut so that a look is quick."""

    def __init__(self, said: Iterable[Said]) -> None:
        by_reach: dict[tuple[int, int], list[Said]] = {}
        for one in said:
            by_reach.setdefault((one.low, one.high), []).append(one)
        opened: dict[int, list[tuple[int, int]]] = {}
        for reach in by_reach:
            opened.setdefault(reach[0], []).append(reach)
        self._by_reach = by_reach
        self._edges = sorted({edge for reach in by_reach for edge in reach})
        self._over: list[list[tuple[int, int]]] = []  # from each edge on, the reaches that hold, the shortest first
        held: list[tuple[int, int]] = []
        for edge in self._edges:
            held = [reach for reach in held if reach[1] > edge] + opened.get(edge, [])
            held.sort(key=lambda reach: reach[1] - reach[0])
            self._over.append(held)

    def nearest(self, word: int) -> Said | None:
        """Of what holds for a word, the one with the shortest reach, then the nearest, then the first said."""
        at = bisect_right(self._edges, word) - 1
        if at < 0 or not self._over[at]:
            return None
        said = self._by_reach[self._over[at][0]]
        after = bisect_left(said, word, key=lambda one: one.first)
        return min(said[max(0, after - 1) : after + 1], key=lambda one: abs(one.first - word))


def _words_of(match: re.Match[str]) -> str:
    """The day or the hour itself in a match, without its "at" and what stands behind it."""
    return next(said for key in _FORMS if (said := match[key]))


_FORMS = ("word", "ago", "dated", "numbered", "weekday", "short", "clock")


def _heads_line(toks: Sequence[Tok], first: int, last: int) -> bool:
    """Whether a phrase stands at the head of a line or the note, with a sign behind it: "Monday: ...", "14 March."."""
    begin = first
    while begin and toks[begin - 1].low in _OPENERS and not toks[begin].line:
        begin -= 1
    if begin and not toks[begin].line:
        return False
    return (
        last < len(toks)
        and (toks[last].low in {":", ".", "-", "–", "—", ",", ")"} or toks[last].line)
        and (toks[last].low != "," or toks[last - 1].low.isdigit())
    )


def day_said(said: str, own_time: str | None, *, ahead: bool = False) -> str | None:
    """A day typed by a person, in words or figures, with an hour or without; None for what is no day.

    >>> day_said("yesterday 10:30", "2026-03-14T16:20:00"), day_said("2.5", None)
    ('2026-03-13T10:30', None)
    """
    words = re.sub(r"(?<=\d)T(?=\d)", " ", said.strip())
    found = list(_PHRASE.finditer(words))
    days = [_words_of(match) for match in found if match["clock"] is None]
    clocks = [match["clock"] for match in found if match["clock"] is not None]
    if len(days) != 1 or len(clocks) > 1:
        return None
    day = resolved(days[0], _date(own_time), ahead=ahead)
    clock = _hour(clocks[0]) if clocks else None
    if day is None or (clocks and clock is None):
        return None
    return f"{day}T{clock}" if clock else day


def with_when(
    mentions: Iterable[Mention], said: Sequence[Said], toks: Sequence[Tok], own_time: str | None
) -> list[Mention]:
    """The mentions with `at` where the note says another day or an hour: a past one for what was, a next one for steps.

    `own_time` is the note's own (ISO 8601); without it only a day with its year counts.
    """
    if not said:
        return list(mentions)
    base = _date(own_time)
    starts = [tok.start for tok in toks]
    days = _Reaches(one for one in said if not one.is_clock)
    hours = _Reaches(one for one in said if one.is_clock)
    return [_placed(mention, days, hours, bisect_right(starts, mention.start) - 1, base) for mention in mentions]


def _placed(mention: Mention, days: _Reaches, hours: _Reaches, word: int, base: date | None) -> Mention:
    if mention.kind not in _PAST and mention.kind != "todo":
        return mention
    day, hour = days.nearest(word), hours.nearest(word)
    when = resolved(day.phrase, base, ahead=mention.kind == "todo") if day is not None else None
    if day is not None and when is None:
        return mention
    clock = _hour(hour.phrase) if hour is not None and mention.kind in _PAST else None
    if when is None and clock is not None and base is not None:
        when = base.isoformat()
    if when is None or (clock is None and base is not None and when == base.isoformat()):
        return mention
    at = f"{when}T{clock}" if clock is not None else when
    words = " ".join(one.phrase for one in (day, hour) if one is not None)
    return replace(mention, at=at, why=(*mention.why, f"when: {words}"))


def _date(own_time: str | None) -> date | None:
    try:
        return date.fromisoformat(own_time[:10]) if own_time else None
    except ValueError:
        return None


@lru_cache(maxsize=1024)
def resolved(phrase: str, base: date | None, *, ahead: bool = False) -> str | None:
    """The day of a phrase as ISO 8601, None where it cannot be told; `ahead` looks forward for a day without a date.

    >>> resolved("yesterday", date(2026, 3, 14)), resolved("Monday", date(2026, 3, 14), ahead=True)
    ('2026-03-13', '2026-03-16')
    """
    words = " ".join(phrase.lower().replace(",", " ").split())
    if base is None:
        year = re.search(r"(?:19|20)\d{2}", words)
        if year is None:
            return None
        base, ahead = date(int(year.group()), 12, 31), True
    days = _BY_WORD.get(words)
    if days is None:
        day = _weekday(words, base, ahead=ahead)
        span = None if day else span_of(re.sub(r"\.(?=\s)", "", words), base)
        if span is not None and date.fromisoformat(span[1]) - date.fromisoformat(span[0]) == timedelta(days=1):
            day = date.fromisoformat(span[0])
    else:
        day = base + timedelta(days=days)
    if day is None or (day > base and not ahead):
        return None
    return day.isoformat()


_DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def _weekday(words: str, base: date, *, ahead: bool) -> date | None:
    named = re.fullmatch(rf"(?:(last|next|this) )?({DAY}|(?:mon|tues?|weds?|thur?s?|fri|sat|sun))", words)
    if named is None:
        return None
    away = (_DAYS.index(named[2][:3]) - base.weekday()) % 7
    if named[1] == "next" or (ahead and named[1] != "last"):
        return base + timedelta(days=away or 7)
    return base + timedelta(days=away - 7 if away or named[1] == "last" else 0)


def _hour(phrase: str) -> str | None:
    """`10:30`, "2:15pm", "9 am" as ISO 8601 hours and minutes; None where there is no such hour."""
    said = re.fullmatch(r"(\d{1,2})(?::(\d{2}))?\s*([ap]m)?", phrase.strip().lower())
    if said is None:
        return None
    hour, minute = int(said[1]), int(said[2] or 0)
    if said[3] and not 1 <= hour <= 12:
        return None
    if said[3]:
        hour = hour % 12 + (12 if said[3] == "pm" else 0)
    return f"{hour:02d}:{minute:02d}" if hour < 24 and minute < 60 else None
