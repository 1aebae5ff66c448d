"""Where a job stands, and a part's story."""

from __future__ import annotations

from datetime import datetime as when
from datetime import timedelta

import pytest
from making import draft, item, signed

from cleansheet import journal as book
from cleansheet.journal.standing import length_said
from cleansheet.journal.story import says_replaced

# (day, kind, part or test, verdict) in order -> the state of that part
STANDINGS = [
    ("good", [("reading", "ignition-coil.primary-resistance", "in_spec")]),
    ("failed", [("reading", "ignition-coil.primary-resistance", "out_of_spec")]),
    ("close", [("reading", "ignition-coil.primary-resistance", "too_close")]),
    ("measured", [("reading", "ignition-coil.primary-resistance", "no_spec")]),
    ("suspect", [("suspect", "ignition-coil", None)]),
    ("cleared", [("cleared", "ignition-coil", None)]),
    ("disturbed", [("action", "ignition-coil", None)]),
    # a bad reading weighs more than a good one of another test
    ("failed", [("reading", "ignition-coil.primary-resistance", "in_spec"), ("reading", "ignition-coil.secondary-resistance", "out_of_spec")]),
    ("failed", [("reading", "ignition-coil.secondary-resistance", "out_of_spec"), ("reading", "ignition-coil.primary-resistance", "in_spec")]),
    # measured again: the later one counts
    ("good", [("reading", "ignition-coil.primary-resistance", "out_of_spec"), ("reading", "ignition-coil.primary-resistance", "in_spec")]),
    ("failed", [("reading", "ignition-coil.primary-resistance", "in_spec"), ("reading", "ignition-coil.primary-resistance", "out_of_spec")]),
    # suspicion stands until proof or clearance
    ("good", [("suspect", "ignition-coil", None), ("reading", "ignition-coil.primary-resistance", "in_spec")]),
    ("cleared", [("suspect", "ignition-coil", None), ("cleared", "ignition-coil", None)]),
    ("suspect", [("reading", "ignition-coil.primary-resistance", "in_spec"), ("suspect", "ignition-coil", None)]),
    ("failed", [("suspect", "ignition-coil", None), ("reading", "ignition-coil.primary-resistance", "out_of_spec")]),
    # work takes the ground from what was known before it
    ("disturbed", [("reading", "ignition-coil.primary-resistance", "in_spec"), ("action", "ignition-coil", None)]),
    ("disturbed", [("reading", "ignition-coil.primary-resistance", "out_of_spec"), ("action", "ignition-coil", None)]),
    ("disturbed", [("suspect", "ignition-coil", None), ("action", "ignition-coil", None)]),
    ("good", [("action", "ignition-coil", None), ("reading", "ignition-coil.primary-resistance", "in_spec")]),
    ("failed", [("action", "ignition-coil", None), ("reading", "ignition-coil.primary-resistance", "out_of_spec")]),
    ("cleared", [("action", "ignition-coil", None), ("cleared", "ignition-coil", None)]),
    (None, [("todo", "ignition-coil", None)]),
]  # fmt: skip


LATER = when.fromisoformat("2026-06-01T00:00")


def stands(journal, catalogue, events, now=LATER):
    for day, (kind, part, verdict) in enumerate(events, 1):
        text = f"On day {day} this was said of it."
        where = {"test": part} if "." in part else {"component": part}
        signed(
            journal,
            draft(text, item(text, f"day {day}", kind, verdict=verdict, **where), at=f"2026-03-{day:02d}T10:00:00"),
            job=None,
            vehicle="Aldern Camper 2.0",
        )
    job = book.jobs(journal)[0]
    return book.standing(book.of_job(journal, job.id), catalogue, now)


@pytest.mark.parametrize(("state", "events"), STANDINGS)
def test_where_a_part_stands(journal, catalogue, state, events):
    found = stands(journal, catalogue, events)
    states = [part.state for system in found.systems for part in system.parts]
    assert states == ([] if state is None else [state])


@pytest.mark.parametrize(("events", "state"), [
    ([("reading", "ignition-coil.primary-resistance", "in_spec")], "unsettled"),
    ([("cleared", "ignition-coil", None)], "unsettled"),
    ([("reading", "ignition-coil.primary-resistance", "out_of_spec")], "failed"),
    ([("suspect", "ignition-coil", None)], "suspect"),
])  # fmt: skip
def test_a_part_with_lines_not_reviewed_is_never_called_good(journal, catalogue, events, state):
    stands(journal, catalogue, events)
    records = book.of_job(journal, book.jobs(journal)[0].id)
    found = book.standing(records, catalogue, LATER, waiting={"ignition-coil": 2, "spark-plug": 1})
    (part,) = found.systems[0].parts
    assert (part.state, part.waiting) == (state, 2)


def test_a_system_names_what_is_untested(journal, catalogue):
    found = stands(journal, catalogue, STANDINGS[0][1])
    (ignition,) = found.systems
    assert ignition.system == "ignition"
    assert {"spark-plug", "distributor-cap"} <= set(ignition.untested)
    assert "ignition-coil" not in ignition.untested


def test_a_question_shows_what_came_after_it(journal, catalogue):
    found = stands(
        journal,
        catalogue,
        [("question", "ignition-coil", None), ("reading", "ignition-coil.primary-resistance", "in_spec")],
    )
    (question,) = found.questions
    assert [record.happened_at[:10] for record in question.since] == ["2026-03-02"]


LENGTHS = [
    ("leave it twenty minutes and look again", 20),
    ("check again in half an hour", 30),
    ("let it stand for 10 min", 10),
    ("wait an hour", 60),
    ("after 24 hours read the gauge", 1440),
    ("left standing overnight", 720),
    ("give it two days", 2880),
    ("leave it on the charger for 1.5 hours", 90),
    ("order a coil", None),
    ("20 minutes of driving when hot", None),
    ("it took ten minutes", None),
]


@pytest.mark.parametrize(("said", "minutes"), LENGTHS)
def test_how_long_something_is_left(said, minutes):
    assert length_said(said) == (timedelta(minutes=minutes) if minutes is not None else None)


def test_a_timed_test_runs_until_it_is_read(journal, catalogue):
    text = "Rail at 3 bar, leave it for 20 minutes and read again."
    one = item(text, "leave it for 20 minutes and read again", "todo", component="fuel-rail")
    signed(journal, draft(text, one, at="2026-03-02T16:00:00"), vehicle="Aldern Camper 2.0")
    job = book.jobs(journal)[0]
    (timed,) = book.standing(book.of_job(journal, job.id), catalogue, when.fromisoformat("2026-03-02T16:12")).timed
    assert (timed.due, timed.left) == ("2026-03-02T16:20", timedelta(minutes=8))
    (over,) = book.standing(book.of_job(journal, job.id), catalogue, when.fromisoformat("2026-03-02T17:00")).timed
    assert over.left == timedelta(minutes=-40)
    text = "Still 2.9 bar."
    signed(
        journal,
        draft(
            text, item(text, "2.9 bar", value=2.9, unit="bar", test="fuel-rail.hold-pressure"), at="2026-03-02T16:25:00"
        ),
        vehicle="Aldern Camper 2.0",
    )
    assert book.standing(book.of_job(journal, job.id), catalogue, when.fromisoformat("2026-03-02T17:00")).timed == ()


@pytest.mark.parametrize(("said", "new"), [("Swapped the pump relay", True), ("replaced coil", True), ("fitted a new cap", True), ("renewed the hose", True),
                                           ("cleaned the plugs", False), ("adjusted the gap", False), ("refitted the cap", False), ("swapped the coils over", False)])  # fmt: skip
def test_what_says_that_a_part_is_new(said, new):
    assert says_replaced(said) == new


def test_a_story_has_one_unit_a_trend_and_the_last_replacement(journal):
    readings = [("2025-01-01", 9.0, "kOhm"), ("2025-07-02", 9500, "Ohm"), ("2026-01-01", 10.0, "kOhm")]
    for day, value, unit in readings:
        text = f"Secondary {value} {unit} today."
        signed(
            journal,
            draft(
                text,
                item(text, f"{value} {unit}", value=value, unit=unit, test="ignition-coil.secondary-resistance"),
                at=f"{day}T12:00:00",
            ),
            vehicle="Aldern Camper 2.0",
        )
    for day, text in (("2025-02-01", "Cleaned the coil."), ("2025-03-01", "Replaced the coil.")):
        signed(
            journal,
            draft(text, item(text, text[:-1], "action", component="ignition-coil"), at=f"{day}T12:00:00"),
            vehicle="Aldern Camper 2.0",
        )
    told = book.story(book.of_job(journal, 1))
    (series,) = told.series
    assert (series.unit, series.values) == ("kOhm", (9.0, 9.5, 10.0))
    assert series.per_year == pytest.approx(1.0, rel=0.01)
    assert told.replaced.happened_at[:10] == "2025-03-01"
    assert len(told.actions) == 2
