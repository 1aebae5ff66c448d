"""A recording's remarks stay with its note: through the journal, an older file of it, and an export.

`files/made-by-version-2.sqlite` holds a real one: the sample note about the crank sensor, written as wav, cut off, heard
with the packaged weights and taken by the program as it was at version 2, which kept remarks with the draft alone.
"""

from __future__ import annotations

import json
import shutil
import sqlite3
from dataclasses import replace
from pathlib import Path

import pytest
from making import coil_draft, signed

from cleansheet import journal as book
from cleansheet.terms import JournalError

OLD = Path(__file__).parent / "files" / "made-by-version-2.sqlite"
CUT = "the recording is cut off: 15.9 s of 22.7 s"
REMARKS = ("the sound cannot be read from 3.2 s to 4.9 s", "doubtful at 9.0 s to 9.4 s: probably nobody spoke")


def remarked(**more):
    draft = coil_draft(**more)
    note = replace(draft.note, source="spoken", sha256="5" * 64, remarks=REMARKS)
    return replace(draft, note=note, remarks=(*REMARKS, "the judge's own remark"))


@pytest.fixture
def old(path):
    shutil.copy(OLD, path)
    with book.open_journal(path) as opened:
        yield opened


def test_a_note_keeps_its_remarks(journal):
    taken = signed(journal, remarked())
    assert book.note_of(journal, taken.note_id).remarks == REMARKS
    assert book.one_draft(journal, taken.note_id).draft.note.remarks == REMARKS
    assert book.one_draft(journal, taken.note_id).draft.remarks == (*REMARKS, "the judge's own remark")
    assert [check for check in book.verify(journal) if not check.holds] == []


def test_a_note_without_remarks_has_none(journal):
    taken = signed(journal, coil_draft())
    assert book.note_of(journal, taken.note_id).remarks == ()
    assert journal.rows("SELECT remarks FROM notes")[0][0] is None
    assert book.recordings(journal, [taken.note_id]) == ()


def test_remarks_are_never_changed(journal):
    signed(journal, remarked())
    with pytest.raises(sqlite3.IntegrityError, match="never changed"):
        journal.conn.execute("UPDATE notes SET remarks = NULL")


def test_a_changed_remark_is_noticed(journal):
    signed(journal, remarked())
    journal.conn.execute("DROP TRIGGER notes_keep_words")
    journal.conn.execute("""UPDATE notes SET remarks = '["all is well"]'""")
    assert "seal of every row" in [check.name for check in book.verify(journal) if not check.holds]


def test_the_remarks_of_several_notes_come_oldest_first(journal):
    late = signed(journal, remarked(at="2026-04-01T10:00:00"))
    early = remarked(at="2026-01-01T10:00:00")
    early = signed(journal, replace(early, note=replace(early.note, sha256="6" * 64, remarks=REMARKS[:1])))
    found = book.recordings(journal, [late.note_id, early.note_id, early.note_id, 99])
    assert [(one.note_id, one.when[:10], one.remarks) for one in found] == [
        (early.note_id, "2026-01-01", REMARKS[:1]), (late.note_id, "2026-04-01", REMARKS)]  # fmt: skip


def test_an_older_journal_opens_and_its_recording_has_its_remark(old):
    (spoken,) = old.rows("SELECT id, remarks FROM notes WHERE source = 'spoken'")
    assert json.loads(spoken["remarks"]) == [CUT]
    assert [row[0] for row in old.rows("SELECT remarks FROM notes WHERE source = 'typed'")] == [None] * 3
    waiting = {one.note_id: one.draft for one in book.waiting(old)}
    assert waiting[spoken["id"]].note.remarks == (CUT,)
    assert waiting[spoken["id"]].remarks == (CUT,)
    assert [check for check in book.verify(old) if not check.holds] == []


def test_an_older_journal_takes_and_signs_on(old):
    signed(old, remarked())
    found = book.recordings(old, [row[0] for row in old.rows("SELECT id FROM notes")])
    assert [one.remarks for one in found] == [REMARKS, (CUT,)]


def test_an_older_journal_that_cannot_be_written_says_so(path, monkeypatch):
    shutil.copy(OLD, path)
    monkeypatch.setattr("cleansheet.journal.store._writable", lambda _: False)
    with pytest.raises(JournalError, match="made by an earlier cleansheet"):
        book.open_journal(path)


def test_an_export_carries_the_remarks_as_a_list(journal, tmp_path):
    signed(journal, remarked())
    lines = list(book.export_lines(journal))
    (note,) = [one["row"] for one in map(json.loads, lines[1:]) if one["table"] == "notes"]
    assert note["remarks"] == list(REMARKS)
    with book.open_journal(tmp_path / "other.sqlite") as other:
        book.import_lines(other, lines)
        assert list(book.export_lines(other)) == lines
        assert book.note_of(other, 1).remarks == REMARKS
