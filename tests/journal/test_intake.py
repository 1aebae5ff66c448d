"""Taking, reviewing, signing: the two sides of the journal and what crosses between them."""

from __future__ import annotations

import json
import sqlite3
from datetime import date

import pytest
from making import COIL_TEXT, coil_draft, draft, item, signed

from cleansheet import journal as book
from cleansheet.terms import InputError, JournalError


def test_a_note_waits_and_is_not_in_the_signed_lines(journal):
    taken = book.take(journal, coil_draft(), who="Sam", at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
    assert taken.new
    assert taken.job.code == "2026-001"
    assert [one.note_id for one in book.waiting(journal)] == [taken.note_id]
    assert journal.rows("SELECT * FROM items") == []


def test_a_draft_comes_back_equal(journal):
    drafted = coil_draft()
    book.take(journal, drafted, who="Sam", at="2026-03-02T18:00:00")
    (one,) = book.waiting(journal)
    assert one.draft == drafted


def test_the_same_note_is_noticed_by_its_hash(journal):
    first = book.take(journal, coil_draft(name="a.txt"), who="Sam", at="2026-03-02T18:00:00")
    second = book.take(journal, coil_draft(name="copy of a.txt"), who="Kit", at="2026-03-03T08:00:00", job="unsorted")
    assert (second.new, second.note_id, second.when) == (False, first.note_id, "2026-03-02T18:00:00")
    assert len(book.waiting(journal)) == 1
    other = book.take(journal, draft(COIL_TEXT + " More."), who="Sam", at="2026-03-02T18:00:00")
    assert other.new


def test_signing_keeps_who_when_and_the_line_as_drafted(journal):
    drafted = coil_draft()
    taken = book.take(journal, drafted, who="Sam", at="2026-03-02T18:00:00")
    changed = book.Line(1, drafted.items[1], drafted.items[0])
    book.sign(
        journal,
        taken.note_id,
        [changed],
        steps=[{"do": "keep", "lines": [1]}],
        revision=1,
        finished=False,
        who="Kit",
        at="2026-03-02T19:00:00",
    )
    row = journal.row("SELECT * FROM items")
    assert (row["signed_by"], row["signed_at"], row["revision"]) == ("Kit", "2026-03-02T19:00:00", 1)
    assert (row["quote"], row["said"]) == ("9.4 kohm", "Coil primary 0.7 ohm, secondary 9.4 kohm.")
    assert (row["base"], row["base_kind"]) == (9400.0, "resistance")
    assert json.loads(row["drafted"])["quantity"]["value"] == 0.7
    assert len(book.waiting(journal)) == 1  # the rest of the note still waits


def test_an_item_comes_back_equal(journal):
    drafted = coil_draft()
    signed(journal, drafted)
    jobs = book.jobs(journal)
    records = book.of_job(journal, jobs[0].id)
    assert [record.item for record in records] == list(drafted.items)


def test_a_finished_note_waits_no_more(journal):
    taken = signed(journal, coil_draft())
    assert book.waiting(journal) == []
    assert book.one_draft(journal, taken.note_id).state == "done"
    with pytest.raises(JournalError, match="somebody else"):
        book.save_steps(journal, taken.note_id, [], revision=2)


def test_a_lost_update_is_refused(journal, path):
    taken = book.take(journal, coil_draft(), who="Sam", at="2026-03-02T18:00:00")
    with book.open_journal(path) as other:
        assert book.save_steps(other, taken.note_id, [{"do": "keep", "lines": [1]}], revision=1) == 2
    with pytest.raises(JournalError, match="reviewed by somebody else meanwhile; nothing was changed"):
        book.save_steps(journal, taken.note_id, [{"do": "drop", "lines": [1]}], revision=1)
    assert book.one_draft(journal, taken.note_id).steps == ({"do": "keep", "lines": [1]},)


def test_signing_on_a_stale_draft_signs_nothing(journal):
    drafted = coil_draft()
    taken = book.take(journal, drafted, who="Sam", at="2026-03-02T18:00:00")
    book.save_steps(journal, taken.note_id, [{"do": "drop", "lines": [1]}], revision=1)
    with pytest.raises(JournalError):
        book.sign(
            journal,
            taken.note_id,
            [book.Line(1, drafted.items[0])],
            steps=[],
            revision=1,
            finished=True,
            who="Sam",
            at="x",
        )
    assert journal.rows("SELECT * FROM items") == []


@pytest.mark.parametrize(
    ("statement", "message"),
    [
        ("UPDATE notes SET text = 'other words'", "never changed"),
        ("DELETE FROM notes", "never deleted"),
        ("DELETE FROM items", "never deleted"),
        ("UPDATE items SET value = 1", "only as a new revision"),
        ("UPDATE items SET value = 1, revision = revision + 1", "only as a new revision"),
        ("UPDATE items SET note_id = 7, revision = 1", "never changed|new revision"),
        ("INSERT INTO drafts SELECT note_id + 100, draft, steps, state, revision, seal FROM drafts", "FOREIGN KEY"),
        ("UPDATE items SET value = 'nine', revision = 2", "cannot store TEXT value in REAL"),
    ],
)
def test_the_file_itself_refuses_what_must_not_be(journal, statement, message):
    signed(journal, coil_draft())
    with pytest.raises(sqlite3.IntegrityError, match=message):
        journal.conn.execute(statement)


def test_a_revision_keeps_every_earlier_state(journal):
    signed(journal, coil_draft())
    line = book.record(journal, 1)
    second = book.revise(journal, 1, item(COIL_TEXT, "0.7 ohm", value=0.8, unit="Ohm", test="ignition-coil.primary-resistance"),
                         revision=1, who="Kit", at="2026-04-01T09:00:00", why="meter leads not taken off")  # fmt: skip
    assert (second.revision, second.item.quantity.value, second.change) == (2, 0.8, "meter leads not taken off")
    third = book.revise(journal, 1, line.item, revision=2, who="Sam", at="2026-04-02T09:00:00", why="they were")
    assert third.item == line.item
    states = book.revisions(journal, 1)
    assert [(one.number, one.who, one.why, one.row["value"]) for one in states] == [
        (1, "Sam", None, 0.7), (2, "Kit", "meter leads not taken off", 0.8), (3, "Sam", "they were", 0.7)]  # fmt: skip
    assert all(check.holds for check in book.verify(journal))
    for statement in ("UPDATE earlier SET row = '{}'", "DELETE FROM earlier"):
        with pytest.raises(sqlite3.IntegrityError):
            journal.conn.execute(statement)


def test_a_revision_needs_a_reason_and_the_latest_state(journal):
    signed(journal, coil_draft())
    line = book.record(journal, 1)
    with pytest.raises(InputError, match="why"):
        book.revise(journal, 1, line.item, revision=1, who="Kit", at="x", why="  ")
    book.revise(journal, 1, line.item, revision=1, who="Kit", at="x", why="once")
    with pytest.raises(JournalError, match="changed by Kit meanwhile"):
        book.revise(journal, 1, line.item, revision=1, who="Sam", at="x", why="twice")
    with pytest.raises(InputError, match="no signed line 99"):
        book.record(journal, 99)


PLACES = [
    ("given", {"job": "J7"}, "nothing named here", "J7"),
    ("named in the words", {}, "this is for job J7, rail holds", "J7"),
    ("named, though a vehicle is given", {"vehicle": "Brindle Twin"}, "job J7 again", "J7"),
    ("open job of the vehicle", {"vehicle": "aldern camper 2.0"}, "cold start", "2026-001"),
    ("vehicle named in the words", {}, "The Aldern camper cuts out", "2026-001"),
    ("new vehicle", {"vehicle": "Tolver estate"}, "flat again", "2026-002"),
    ("nothing known", {}, "pump is dead", "unsorted"),
    ("a job number that is not there", {}, "job 99 is what I heard", "unsorted"),
]


@pytest.mark.parametrize(("_why", "given", "text", "code"), PLACES, ids=[row[0] for row in PLACES])
def test_a_note_goes_to_its_job(journal, _why, given, text, code):
    book.open_job(journal, code="J7", vehicle=None, at="2026-01-02T08:00:00")
    book.open_job(journal, vehicle="Aldern Camper 2.0", at="2026-01-02T08:00:00")
    taken = book.take(journal, draft(text), who="Sam", at="2026-03-02T18:00:00", **given)
    assert taken.job.code == code


def test_a_closed_job_takes_no_more_notes(journal):
    book.open_job(journal, code="J7", vehicle="Aldern Camper 2.0", at="2026-01-02T08:00:00")
    closed = book.close_job(journal, "J7", "coil replaced", at="2026-02-01T08:00:00")
    assert (closed.outcome, closed.revision) == ("coil replaced", 2)
    with pytest.raises(InputError, match="was closed on 2026-02-01"):
        book.take(journal, draft("one more"), who="Sam", at="2026-03-02T18:00:00", job="J7")
    again = book.take(journal, draft("cuts out"), who="Sam", at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
    assert again.job.code == "2026-001"
    assert book.reopen_job(journal, "J7").closed_at is None


def test_a_job_with_notes_not_reviewed_is_not_closed(journal):
    taken = book.take(journal, draft("cuts out"), who="Sam", at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
    with pytest.raises(InputError, match="not reviewed yet"):
        book.close_job(journal, taken.job.code, "done", at="2026-03-03T08:00:00")


def test_an_unknown_job_names_the_near_ones(journal):
    book.open_job(journal, code="2026-014", vehicle=None, at="2026-01-02T08:00:00")
    with pytest.raises(InputError, match="near it: 2026-014"):
        book.need_job(journal, "2026-041")


def test_a_note_moves_until_a_line_of_it_is_signed(journal):
    book.open_job(journal, code="J7", vehicle=None, at="2026-01-02T08:00:00")
    taken = book.take(journal, coil_draft(), who="Sam", at="2026-03-02T18:00:00")
    book.move_note(journal, taken.note_id, "J7")
    assert book.waiting(journal)[0].job.code == "J7"
    line = book.Line(1, coil_draft().items[0])
    book.sign(journal, taken.note_id, [line], steps=[], revision=1, finished=False, who="Sam", at="x")
    with pytest.raises(InputError, match="stay where they were signed"):
        book.move_note(journal, taken.note_id, "unsorted")


def test_visits_are_days(journal):
    for text, at in (("one", "2026-03-02T09:00:00"), ("two", "2026-03-02T17:00:00"), ("three", "2026-03-09T09:00:00")):
        book.take(journal, draft(text, at=at), who="Sam", at="2026-03-10T18:00:00", vehicle="Aldern Camper 2.0")
    assert [row["day"] for row in journal.rows("SELECT day FROM visits ORDER BY day")] == ["2026-03-02", "2026-03-09"]


def test_a_line_stands_at_the_day_that_the_note_says_and_a_step_at_the_notes_own(journal, catalogue):
    text = "Yesterday the coil primary was 0.7 ohm. Today it is 1.4 ohm. New coil tomorrow."
    drafted = draft(
        text,
        item(text, "0.7 ohm", value=0.7, unit="Ohm", test="ignition-coil.primary-resistance", at="2026-03-01"),
        item(text, "1.4 ohm", value=1.4, unit="Ohm", test="ignition-coil.primary-resistance"),
        item(text, "New coil tomorrow", "todo", component="ignition-coil", at="2026-03-03"),
    )
    signed(journal, drafted)
    days = [(row["quote"], row["happened_at"]) for row in journal.rows("SELECT * FROM items ORDER BY line")]
    assert days == [
        ("0.7 ohm", "2026-03-01"),
        ("1.4 ohm", "2026-03-02T16:20:00"),
        ("New coil tomorrow", "2026-03-02T16:20:00"),
    ]
    found = book.find(journal, "coil primary before 2 March", catalogue, today=date(2026, 3, 10)).records
    assert [(record.quote, record.item.at) for record in found] == [("0.7 ohm", "2026-03-01")]
