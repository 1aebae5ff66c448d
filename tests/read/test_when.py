"""When things were or are due: day phrases, how far each holds, and what only looks like one."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleansheet.flow import draft
from cleansheet.read import day_said
from cleansheet.read.when import Said, _Reaches, resolved
from cleansheet.terms import Note
from cleansheet.terms.draft_json import item_from_json, item_to_json

NOTED = "2026-03-18T16:00:00"  # a Wednesday


@pytest.mark.parametrize(
    ("phrase", "past", "ahead"),
    [
        ("yesterday", "2026-03-17", "2026-03-17"),
        ("the day before yesterday", "2026-03-16", "2026-03-16"),
        ("last night", "2026-03-17", "2026-03-17"),
        ("today", "2026-03-18", "2026-03-18"),
        ("tomorrow", None, "2026-03-19"),
        ("Monday", "2026-03-16", "2026-03-23"),
        ("Wednesday", "2026-03-18", "2026-03-25"),
        ("Weds", "2026-03-18", "2026-03-25"),
        ("last Wednesday", "2026-03-11", "2026-03-11"),
        ("next Friday", None, "2026-03-20"),
        ("three days ago", "2026-03-15", "2026-03-15"),
        ("a week ago", "2026-03-11", "2026-03-11"),
        ("14 March", "2026-03-14", "2026-03-14"),
        ("14th of March", "2026-03-14", "2026-03-14"),
        ("March 14th, 2025", "2025-03-14", "2025-03-14"),
        ("2026-03-01", "2026-03-01", "2026-03-01"),
        ("14.3.2026", "2026-03-14", "2026-03-14"),
        ("14/3/26", "2026-03-14", "2026-03-14"),
        ("rubbish", None, None),
    ],
)
def test_a_phrase_counts_from_the_notes_own_day(phrase, past, ahead):
    assert resolved(phrase, date(2026, 3, 18)) == past
    assert resolved(phrase, date(2026, 3, 18), ahead=True) == ahead


HOLDS = [
    ("Yesterday's readings: coil primary 0.7 ohms, coil secondary 8.2k. Today the primary is 1.4 ohms.",
     {"0.7 ohms": "2026-03-17", "8.2k": "2026-03-17", "1.4 ohms": None}),
    ("Monday: battery 12.4 volts. Replaced the earth strap.\nTuesday: battery 12.6 volts, charging 14.2 volts.",
     {"12.4 volts": "2026-03-16", "Replaced the earth strap": "2026-03-16", "12.6 volts": "2026-03-17",
      "14.2 volts": "2026-03-17"}),
    ("Battery read 12.4 volts yesterday, 12.1 today.", {"12.4 volts": "2026-03-17", "12.1": None}),
    ("12 March. Compression 150, 148, 152, 120 psi.\n15 March. Coil primary 0.7 ohms.",
     {"150": "2026-03-12", "120 psi": "2026-03-12", "0.7 ohms": "2026-03-15"}),
    ("Wed 14/1 - static pressure 2.9 bar", {"2.9 bar": "2026-01-14"}),
    ("Fuel pressure 2.5 bar at 10:30, 2.1 bar at 2:15 pm.",
     {"2.5 bar": "2026-03-18T10:30", "2.1 bar": "2026-03-18T14:15"}),
    ("Battery 12.4 volts. Head off tomorrow.", {"12.4 volts": None, "Head off tomorrow": "2026-03-19"}),
    ("Order a gasket by Friday. Battery 12.4 volts.",
     {"Order a gasket by Friday": "2026-03-20", "12.4 volts": None}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "when"), HOLDS, ids=[text[:40] for text, _ in HOLDS])
def test_how_far_a_day_holds(text, when, catalogue):
    items = {text[item.start : item.end]: item for item in draft(Note(text, recorded_at=NOTED), catalogue).items}
    assert {quote: items[quote].at for quote in when} == when
    for item in items.values():
        assert (item.at is not None) == any(reason.startswith("when: ") for reason in item.why)
        assert item_from_json(item_to_json(item, text)).at == item.at


@pytest.mark.parametrize(
    "text",
    [
        "It dies every Monday. Battery 12.4 volts.",
        "No start since Friday, battery 12.4 volts.",
        "Left on charge until Tuesday. Battery 12.4 volts.",
        "Battery 12.4 volts, lower than yesterday.",
        "Battery 12.4 volts, same as yesterday.",
        "Cylinder 3 may be low, 120 psi. The sun was out, he sat in the car.",
        "Fuel pressure 2.30 bar at idle, 3/4 of a tank, feelers 12/14 thou.",
        "Battery 12.4 volts today.",
        "Mark it. Battery 12.4 volts at 20 degrees.",
        "Part no. 12-03-14. Battery 12.4 volts.",
        "Battery 12.4 volts at 25:70.",
    ],
)
def test_what_only_looks_like_a_day(text, catalogue):
    items = draft(Note(text, recorded_at=NOTED), catalogue).items
    assert any(item.kind == "reading" for item in items)
    assert [item.at for item in items if item.kind == "reading"] == [None] * sum(i.kind == "reading" for i in items)


def test_without_the_notes_own_time_only_a_whole_date_counts(catalogue):
    text = "Yesterday: battery 12.4 volts.\n14 March 2026: battery 12.6 volts."
    items = {text[item.start : item.end]: item.at for item in draft(Note(text), catalogue).items}
    assert items == {"12.4 volts": None, "12.6 volts": "2026-03-14"}


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("yesterday", "2026-03-17"),
        ("yesterday 10:30", "2026-03-17T10:30"),
        ("14 March at 9 am", "2026-03-14T09:00"),
        ("2026-03-14T10:30", "2026-03-14T10:30"),
        ("2026-03-14", "2026-03-14"),
        ("2.5", None),
        ("", None),
        ("10:30", None),
        ("Monday or Tuesday", None),
    ],
)
def test_a_day_typed_by_a_person(said, day):
    assert day_said(said, NOTED) == day


SPANS = st.lists(st.tuples(st.integers(0, 30), st.integers(1, 12), st.integers(0, 11)), max_size=12)


@given(SPANS, st.integers(0, 45))
def test_what_holds_for_a_word_is_the_nearest_of_the_shortest_reach(spans, word):
    said = sorted(
        (Said(low + min(into, size - 1), low + size, "today", False, low, low + size) for low, size, into in spans),
        key=lambda one: one.first,
    )
    holding = [one for one in said if one.low <= word < one.high]
    found = _Reaches(said).nearest(word)
    assert (found is None) == (not holding)
    if found is not None:
        assert found in holding
        assert found.high - found.low == min(one.high - one.low for one in holding)
        same = [one for one in holding if (one.low, one.high) == (found.low, found.high)]
        assert abs(found.first - word) == min(abs(one.first - word) for one in same)
