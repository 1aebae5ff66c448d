"""Date words of a question. The base is a Wednesday, 25 November 2026; it is given, never the clock."""

from __future__ import annotations

from datetime import date

import pytest

from cleansheet.dates import span_of
from cleansheet.journal.dates import take_dates

BASE = date(2026, 11, 25)

QUESTIONS = [
    ("coil since March", "2026-03-01", None, "coil"),
    ("coil since december", "2025-12-01", None, "coil"),
    ("coil last year", "2025-01-01", "2026-01-01", "coil"),
    ("coil this year", "2026-01-01", "2027-01-01", "coil"),
    ("coil last month", "2026-10-01", "2026-11-01", "coil"),
    ("coil this month", "2026-11-01", "2026-12-01", "coil"),
    ("coil last week", "2026-11-16", "2026-11-23", "coil"),
    ("coil this week", "2026-11-23", "2026-11-30", "coil"),
    ("coil today", "2026-11-25", "2026-11-26", "coil"),
    ("coil yesterday", "2026-11-24", "2026-11-25", "coil"),
    ("coil on wednesday", "2026-11-25", "2026-11-26", "coil"),
    ("coil on thursday", "2026-11-19", "2026-11-20", "coil"),
    ("coil last wednesday", "2026-11-18", "2026-11-19", "coil"),
    ("coil in 2024", "2024-01-01", "2025-01-01", "coil"),
    ("coil before 2024", None, "2024-01-01", "coil"),
    ("coil after 2024", "2025-01-01", None, "coil"),
    ("coil until March 2025", None, "2025-04-01", "coil"),
    ("coil March 2025", "2025-03-01", "2025-04-01", "coil"),
    ("coil 2026-03-14", "2026-03-14", "2026-03-15", "coil"),
    ("coil 2026-03", "2026-03-01", "2026-04-01", "coil"),
    ("coil on 12 March", "2026-03-12", "2026-03-13", "coil"),
    ("coil on 12th of December", "2025-12-12", "2025-12-13", "coil"),
    ("coil 3 April 2024", "2024-04-03", "2024-04-04", "coil"),
    ("coil between March and May", "2026-03-01", "2026-06-01", "coil"),
    ("coil from 2024-01-05 to 2024-02-10", "2024-01-05", "2024-02-11", "coil"),
    ("coil in the last two weeks", "2026-11-11", "2026-11-26", "coil"),
    ("coil over the past 3 months", "2026-08-25", "2026-11-26", "coil"),
    ("coil 6 months ago", "2026-05-25", "2026-05-26", "coil"),
    ("coil since last summer", None, None, "coil since last summer"),
    ("coil in may", "2026-05-01", "2026-06-01", "coil"),
    # what a date library takes for dates, and is none here
    ("may be the coil", None, None, "may be the coil"),
    ("coil 1.5 ohm", None, None, "coil 1.5 ohm"),
    ("12 V at the coil", None, None, "12 V at the coil"),
    ("hold pressure 10 min", None, None, "hold pressure 10 min"),
    ("5w30 oil", None, None, "5w30 oil"),
    ("pad 2025", None, None, "pad 2025"),
    ("second opinion", None, None, "second opinion"),
    ("sat all night", None, None, "sat all night"),
    ("the last reading", None, None, "the last reading"),
    ("from 2 to 3 bar", None, None, "from 2 to 3 bar"),
    ("march", None, None, "march"),
]


@pytest.mark.parametrize(("asked", "since", "until", "rest"), QUESTIONS)
def test_date_words(asked, since, until, rest):
    found = take_dates(asked, BASE)
    assert (found[0], found[1], " ".join(found[2].split())) == (since, until, rest)


@pytest.mark.parametrize("said", ["2026-13", "31 February", "nonsense", ""])
def test_what_is_no_date_has_no_span(said):
    assert span_of(said, BASE) is None


@pytest.mark.parametrize(("base", "said", "first"), [
    (date(2024, 2, 29), "a year ago", "2023-02-28"),
    (date(2026, 3, 31), "one month ago", "2026-02-28"),
    (date(2026, 1, 15), "last month", "2025-12-01"),
])  # fmt: skip
def test_the_calendar_s_edges(base, said, first):
    assert span_of(said, base)[0] == first
