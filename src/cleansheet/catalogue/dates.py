"""Calendar dates and durations of ISO 8601. Anything that could mean two days is None: ask, never guess."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

_ORDINAL = re.compile(r"(\d{4})-?(\d{3})\Z")
_DURATION = re.compile(
    r"P(?!\Z)(?:(?P<days>\d+)D)?(?:T(?!\Z)(?:(?P<hours>\d+)H)?(?:(?P<minutes>\d+)M)?(?:(?P<seconds>\d+)S)?)?\Z"
)


def iso_date(text: str) -> date | None:
    """A calendar, week or ordinal date, extended or basic; None for what is not one or is no such day.

    >>> iso_date("2026-W11-6"), iso_date("2026-073"), iso_date("03/04/26")
    (datetime.date(2026, 3, 14), datetime.date(2026, 3, 14), None)
    """
    ordinal = _ORDINAL.match(text)
    try:
        if ordinal is not None:
            day = datetime.strptime(f"{ordinal[1]}-{ordinal[2]}", "%Y-%j").date()  # noqa: DTZ007  (a day has no zone)
            return day if day.year == int(ordinal[1]) else None  # day 366 of a year that has none
        return date.fromisoformat(text)
    except ValueError:
        return None


def iso_duration(text: str) -> timedelta | None:
    """A duration of days, hours, minutes and seconds: "PT10M" is ten minutes. Months and years have no fixed length."""
    found = _DURATION.match(text)
    if found is None:
        return None
    return timedelta(**{unit: int(value) for unit, value in found.groupdict(default="0").items()})
