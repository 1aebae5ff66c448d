"""Backup, restore, verify, export, import: the file over the years."""

from __future__ import annotations

import json
import random
import sqlite3

import pytest
from making import coil_draft, draft, item, signed

from cleansheet import journal as book
from cleansheet.terms import InputError, JournalError


@pytest.fixture
def filled(journal):
    """Two notes signed, one revised, one waiting with a step, a closed job, a correction remembered."""
    signed(journal, coil_draft(), vehicle="Aldern Camper 2.0")
    text = "Pads 3 mm. It's “hissing”, 5W-30 & naïve\nsecond line"
    signed(
        journal,
        draft(
            text,
            item(
                text,
                "3 mm",
                value=3,
                unit="mm",
                test="brake-pad.thickness",
                verdict="too_close",
                flags=("unit_assumed",),
            ),
        ),
        vehicle="Brindle Twin",
    )
    line = book.record(journal, 1)
    book.revise(journal, 1, line.item, revision=1, who="Kit", at="2026-04-01T09:00:00", why="looked again")
    text = "Rail 2.9 bar"
    taken = book.take(
        journal,
        draft(text, item(text, "2.9 bar", value=2.9, unit="bar", test="fuel-rail.static-pressure")),
        who="Sam",
        at="2026-03-02T18:00:00",
    )
    book.save_steps(journal, taken.note_id, [{"do": "keep", "lines": [1]}], revision=1)
    book.note_rename(journal, taken.note_id, "fuel-rail", text, at="2026-03-02T18:00:00")
    book.close_job(journal, "2026-002", "pads replaced", at="2026-05-01T09:00:00")
    return journal


def rows(journal):
    tables = ("jobs", "visits", "notes", "drafts", "items", "earlier", "renames")
    return {table: [tuple(row) for row in journal.rows(f"SELECT * FROM {table} ORDER BY 1, 2")] for table in tables}


def test_a_whole_journal_verifies(filled):
    assert [(check.name, check.faults) for check in book.verify(filled) if not check.holds] == []


def test_backup_and_restore_bring_every_row_back(filled, path, tmp_path):
    before = rows(filled)
    book.backup(filled, tmp_path / "copy.sqlite")
    signed(filled, draft("One more note", at="2026-06-01T10:00:00"))
    filled.close()
    kept = book.restore(tmp_path / "copy.sqlite", path)
    with book.open_journal(path) as back:
        assert rows(back) == before
        assert all(check.holds for check in book.verify(back))
    with book.open_journal(kept) as former:  # what was in place is kept, the later note with it
        assert len(former.rows("SELECT 1 FROM notes")) == 4


def test_a_backup_is_taken_while_another_writes(filled, path, tmp_path):
    with book.open_journal(path) as other, other.write():
        other.conn.execute("UPDATE jobs SET complaint = 'half done' WHERE id = 1")
        book.backup(filled, tmp_path / "copy.sqlite")
        other.conn.execute("UPDATE jobs SET complaint = NULL WHERE id = 1")
    checks = book.verify_file(tmp_path / "copy.sqlite")
    assert [check.faults for check in checks if not check.holds] == []


def test_a_backup_never_overwrites(filled, tmp_path):
    (tmp_path / "copy.sqlite").write_text("precious")
    with pytest.raises(JournalError, match="never overwrites"):
        book.backup(filled, tmp_path / "copy.sqlite")
    assert (tmp_path / "copy.sqlite").read_text() == "precious"


def test_a_damaged_backup_is_not_restored(filled, path, tmp_path):
    copy = book.backup(filled, tmp_path / "copy.sqlite")
    data = copy.read_bytes()
    copy.write_bytes(data.replace(b"Swapped the pump relay", b"Swapped the pump belay"))
    before = rows(filled)
    filled.close()
    with pytest.raises(JournalError, match="does not verify"):
        book.restore(copy, path)
    with book.open_journal(path) as still:
        assert rows(still) == before


@pytest.mark.parametrize("target", ["no/such/\0name", "/proc/nowhere/copy.sqlite"])
def test_a_backup_that_cannot_be_written_is_one_line(filled, target):
    from pathlib import Path

    with pytest.raises((JournalError, ValueError)):
        book.backup(filled, Path(target))


CHANGES = [
    ("a word of a note", "notes", "UPDATE notes SET text = replace(text, 'Coil', 'Foil') WHERE id = 1"),
    ("a signed value", "items", "UPDATE items SET value = 7.0 WHERE id = 1"),
    ("who signed", "items", "UPDATE items SET signed_by = 'Pat' WHERE id = 2"),
    ("a lost line", "items", "DELETE FROM items WHERE id = 3"),
    ("a state before", "earlier", "UPDATE earlier SET row = '{}'"),
    ("an outcome", "jobs", "UPDATE jobs SET outcome = 'none' WHERE id = 2"),
    ("a draft", "drafts", "UPDATE drafts SET draft = '{}' WHERE note_id = 3"),
    ("a reference", "visits", "UPDATE visits SET job_id = 77 WHERE id = 1"),
    ("a trigger", None, "DROP TRIGGER notes_keep_words"),
    ("an index", None, "DROP INDEX items_by_value"),
]


@pytest.mark.parametrize(("_name", "table", "statement"), CHANGES, ids=[row[0] for row in CHANGES])
def test_verify_sees_what_was_changed_behind_its_back(filled, path, _name, table, statement):
    filled.close()
    conn = sqlite3.connect(path)
    if table:  # as a tool without our guards would do it
        for (name,) in conn.execute(
            "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?", (table,)
        ).fetchall():
            conn.execute(f"DROP TRIGGER {name}")
    conn.execute(statement)
    conn.commit()
    conn.close()
    with book.open_journal(path) as opened:
        faults = [
            check
            for check in book.verify(opened)
            if not check.holds and (table is None or check.name != "form of the tables")
        ]
    assert faults or (table == "items" and "DELETE" in statement)


def test_flipped_bits_are_seen(filled, path):
    """A flip either changes nothing that can be read, or `verify` (or opening) says so."""
    before = rows(filled)
    filled.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    filled.close()
    whole = path.read_bytes()
    chance = random.Random(20261125)
    changed = 0
    for _ in range(60):
        place, bit = chance.randrange(len(whole)), chance.randrange(8)
        path.write_bytes(whole[:place] + bytes([whole[place] ^ (1 << bit)]) + whole[place + 1 :])
        try:
            with book.open_journal(path, create=False) as opened:
                seen = not all(check.holds for check in book.verify(opened))
                same = seen or rows(opened) == before
        except JournalError:
            seen, same = True, False
        changed += seen
        assert seen or same, f"bit {bit} of byte {place} changed something unseen"
    assert changed > 0


def test_export_and_import_round_trip_to_equality(filled, tmp_path):
    lines = list(book.export_lines(filled))
    with book.open_journal(tmp_path / "new.sqlite") as new:
        count = book.import_lines(new, lines)
        assert count == len(lines) - 1
        assert rows(new) == rows(filled)
        assert all(check.holds for check in book.verify(new))
        assert list(book.export_lines(new)) == lines
        assert new.rows("SELECT 1 FROM items_fts WHERE items_fts MATCH 'secondary'")


def test_export_is_one_moment(filled, path):
    lines = book.export_lines(filled)
    first = [next(lines)]
    with book.open_journal(path) as other:
        book.open_job(other, vehicle="Late comer", at="2026-09-01T08:00:00")
    assert not any("Late comer" in line for line in [*first, *lines])


@pytest.mark.parametrize(("change", "message"), [
    (lambda lines: ["{}", *lines[1:]], ":1: not an exported journal"),
    (lambda lines: [json.dumps({"format": "cleansheet-journal/1", "version": 1}), *lines[1:]], "another version"),
    (lambda lines: [*lines, "nonsense"], "not JSON"),
    (lambda lines: [*lines, "[1]"], "not an object"),
    (lambda lines: [*lines, '{"table": "sqlite_master", "row": {}}'], "no row of a known table"),
    (lambda lines: [*lines, '{"table": "jobs", "row": {"id": 9}}'], "has the columns"),
    (lambda lines: [*lines, lines[-1]], "UNIQUE"),
    (lambda lines: [line for line in lines if '"table":"visits"' not in line], "FOREIGN KEY|refer to rows"),
    (lambda lines: [line.replace('"value":0.7', '"value":"0.7x"') for line in lines], "cannot store TEXT"),
])  # fmt: skip
def test_an_import_that_does_not_hold_imports_nothing(filled, tmp_path, change, message):
    lines = change(list(book.export_lines(filled)))
    with book.open_journal(tmp_path / "new.sqlite") as new:
        with pytest.raises(InputError, match=message):
            book.import_lines(new, lines, "old.jsonl")
        assert new.rows("SELECT 1 FROM jobs") == []


def test_import_needs_an_empty_journal(filled):
    with pytest.raises(InputError, match="not empty"):
        book.import_lines(filled, book.export_lines(filled))


def test_recordings_are_checked_by_their_hash(journal, tmp_path):
    import hashlib
    from dataclasses import replace

    sound = tmp_path / "note.flac"
    sound.write_bytes(b"fLaC and so on")
    drafted = coil_draft()
    note = replace(drafted.note, source="spoken", sha256=hashlib.sha256(sound.read_bytes()).hexdigest())
    book.take(journal, replace(drafted, note=note), who="Sam", at="2026-03-02T18:00:00", sound=str(sound))
    assert all(check.holds for check in book.verify(journal, sounds=True))
    sound.write_bytes(b"fLaC and so forth")
    assert [check.name for check in book.verify(journal, sounds=True) if not check.holds] == ["recordings"]
    sound.unlink()
    assert "not there" in next(check.faults[0] for check in book.verify(journal, sounds=True) if not check.holds)
