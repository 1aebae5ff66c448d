"""Day phrases in English as calendar days, by narrow rules; only what the rules cannot count goes to the date library.

The library takes "may", "sat" and "1.5" for dates, so it never sees free text: who calls has found a day phrase. `base` is
the day that relative words count from; it is always given, never the clock.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

MONTH = (
    r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|"
    r"oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)"
)
DAY = r"(?:mon|tues|wednes|thurs|fri|satur|sun)day"
NUMBER_WORDS = {"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7,
                 "eight": 8, "nine": 9, "ten": 10, "twelve": 12}  # fmt: skip
COUNT = rf"(?:\d+|{'|'.join(NUMBER_WORDS)})"


def span_of(said: str, base: date) -> tuple[str, str] | None:
    """The days that a date phrase covers, first and one past the last, as ISO; None for what is no date.

    A month without a year is the latest one that has begun; a weekday the latest one, today included.
    """
    words = " ".join(said.lower().replace(",", " ").split())
    if re.fullmatch(r"(?:19|20)\d{2}", words):
        return f"{words}-01-01", f"{int(words) + 1}-01-01"
    if found := re.fullmatch(r"(\d{4})-(\d{2})", words):
        return _month(int(found[1]), int(found[2])) if 1 <= int(found[2]) <= 12 else None
    if words in ("today", "yesterday"):
        return _one_day(base - timedelta(days=1 if words == "yesterday" else 0))
    if words in ("this week", "last week"):
        monday = base - timedelta(days=base.weekday() + (7 if words.startswith("last") else 0))
        return monday.isoformat(), (monday + timedelta(days=7)).isoformat()
    if words in ("this month", "last month"):
        first = base.replace(day=1)
        first = (first - timedelta(days=1)).replace(day=1) if words.startswith("last") else first
        return _month(first.year, first.month)
    if words in ("this year", "last year"):
        year = base.year - (1 if words.startswith("last") else 0)
        return f"{year}-01-01", f"{year + 1}-01-01"
    if re.fullmatch(rf"(?:this |last )?{MONTH}(?: \d{{4}})?", words):
        return _named_month(words, base)
    if found := re.fullmatch(rf"({COUNT}) (day|week|month|year)s? ago", words):
        return _one_day(back(base, count(found[1]), found[2]))
    if words.startswith("last ") and re.fullmatch(DAY, words[5:]):
        return span_of(words[5:], base - timedelta(days=1))
    return _by_library(words, base)


def _named_month(words: str, base: date) -> tuple[str, str] | None:
    found = re.search(MONTH, words)
    if found is None:
        return None
    names = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
    month = names.index(found.group()[:3]) + 1
    year = re.search(r"\d{4}", words)
    if year:
        return _month(int(year.group()), month)
    this = base.year if month <= base.month else base.year - 1
    return _month(this, month)


def _by_library(words: str, base: date) -> tuple[str, str] | None:
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the library warns of its own use of the calendar
        import dateparser

        day = dateparser.parse(
            words,
            languages=["en"],
            settings={
                "RELATIVE_BASE": datetime(base.year, base.month, base.day, 12),  # noqa: DTZ001 - local days
                "PREFER_DATES_FROM": "past",
                "DATE_ORDER": "DMY",
                "RETURN_AS_TIMEZONE_AWARE": False,
            },
        )
    if day is None:
        return None
    found = day.date()
    if re.fullmatch(DAY, words) and (base - found).days == 7:
        found = base  # the library takes a weekday that is today for a week ago
    return _one_day(found)


def _month(year: int, month: int) -> tuple[str, str]:
    after = date(year + month // 12, month % 12 + 1, 1)
    return date(year, month, 1).isoformat(), after.isoformat()


def _one_day(day: date) -> tuple[str, str]:
    return day.isoformat(), (day + timedelta(days=1)).isoformat()


def count(word: str) -> int:
    return int(word) if word.isdigit() else NUMBER_WORDS[word.lower()]


def back(day: date, count: int, unit: str) -> date:
    if unit in ("day", "week"):
        return day - timedelta(days=count * (7 if unit == "week" else 1))
    months = day.year * 12 + day.month - 1 - count * (12 if unit == "year" else 1)
    year, month = divmod(months, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(year, month + 1, last)
        except ValueError:
            continue
    raise AssertionError("every month has 28 days")  # pragma: no cover
