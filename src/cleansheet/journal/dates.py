"""Date words of a query, found by narrow rules of our own; only such a span goes to the date library.

The library takes "may", "sat" and "1.5" for dates, so it never sees free text. `base` is the day that relative words
count from; it is always given, never the clock.
"""

from __future__ import annotations

import re
from datetime import date, timedelta

from cleansheet.dates import COUNT, DAY, MONTH, back, count, span_of

_ONE = rf"""(?:
    \d{{4}}-\d{{2}}-\d{{2}} | \d{{4}}-\d{{2}}(?!-?\d)
  | (?:\d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?)?{MONTH}(?:\s+\d{{1,2}}(?:st|nd|rd|th)?(?!\d))?(?:,?\s+\d{{4}})?
  | today | yesterday | (?:this|last)\s+(?:week|month|year|{MONTH}|{DAY}) | {DAY}
  | {COUNT}\s+(?:day|week|month|year)s?\s+ago
  | (?:19|20)\d{{2}}
)"""
# A bare month or year is a date only after a word that says so ("in may", "since 2024"); the others stand alone.
_ALONE = rf"""(?:
    \d{{4}}-\d{{2}}-\d{{2}} | \d{{4}}-\d{{2}}(?!-?\d)
  | \d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?{MONTH}(?:,?\s+\d{{4}})? | {MONTH}\s+\d{{4}}
  | {MONTH}\s+\d{{1,2}}(?:st|nd|rd|th)?(?!\d)(?:,?\s+\d{{4}})?
  | today | yesterday | (?:this|last)\s+(?:week|month|year|{MONTH}|{DAY})
  | {COUNT}\s+(?:day|week|month|year)s?\s+ago
)"""
_FLAGS = re.IGNORECASE | re.VERBOSE
_RANGE = re.compile(rf"\b(?:between|from)\s+(?P<a>{_ONE})\s+(?:and|to|until|till)\s+(?P<b>{_ONE})\b", _FLAGS)
_SINCE = re.compile(
    rf"\b(?P<word>since|from|after|before|until|till|up\s+to|in|on|during|of|this|last)\s+(?P<a>{_ONE})\b", _FLAGS
)
_LAST_N = re.compile(
    rf"\b(?:in\s+|over\s+|within\s+)?(?:the\s+)?(?:last|past)\s+(?P<n>{COUNT})\s+(?P<unit>day|week|month|year)s?\b",
    _FLAGS,
)
_BARE = re.compile(rf"(?<![\w.-])(?P<a>{_ALONE})(?![\w-])", _FLAGS)


def take_dates(text: str, base: date) -> tuple[str | None, str | None, str]:
    """(since, until, rest): the dates of a query as ISO days, `until` exclusive, and the text without them.

    >>> take_dates("coil since March", date(2026, 11, 25))
    ('2026-03-01', None, 'coil ')
    """
    found = _RANGE.search(text)
    if found:
        first, last = span_of(found["a"], base), span_of(found["b"], base)
        if first and last:
            return first[0], last[1], _without(text, found)
    found = _LAST_N.search(text)
    if found:
        start = back(base, count(found["n"]), found["unit"].lower())
        return start.isoformat(), (base + timedelta(days=1)).isoformat(), _without(text, found)
    since = until = None
    while found := _SINCE.search(text):
        word = " ".join(found["word"].lower().split())
        said = f"{word} {found['a']}" if word in ("this", "last") else found["a"]
        span = span_of(said, base)
        if span is None:
            break
        if word in ("since", "from"):
            since = span[0]
        elif word == "after":
            since = span[1]
        elif word == "before":
            until = span[0]
        elif word in ("until", "till", "up to"):
            until = span[1]
        else:
            since, until = span
        text = _without(text, found)
    if since is None and until is None and (found := _BARE.search(text)):
        span = span_of(found["a"], base)
        if span is not None:
            return span[0], span[1], _without(text, found)
    return since, until, text


def _without(text: str, found: re.Match[str]) -> str:
    return text[: found.start()] + text[found.end() :]
