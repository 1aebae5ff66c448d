"""Opening, migrating, refusing: what stands between the file and everything else."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from making import coil_draft, draft, signed

from cleansheet import journal as book
from cleansheet.journal import store
from cleansheet.journal.schema import APPLICATION_ID, MIGRATIONS
from cleansheet.terms import JournalError

FILES = Path(__file__).parent / "files"


def test_settings_hold(journal):
    values = {name: journal.conn.execute(f"PRAGMA {name}").fetchone()[0] for name in (
        "journal_mode", "foreign_keys", "synchronous", "recursive_triggers", "application_id", "user_version")}  # fmt: skip
    # synchronous 2 is FULL (SQLite documentation, PRAGMA synchronous)
    assert values == {"journal_mode": "wal", "foreign_keys": 1, "synchronous": 2, "recursive_triggers": 1,
                      "application_id": APPLICATION_ID, "user_version": len(MIGRATIONS)}  # fmt: skip


def test_every_table_of_ours_is_strict(journal):
    names = [row[0] for row in journal.rows("SELECT name FROM sqlite_master WHERE type = 'table'")]
    ours = [name for name in names if not name.startswith(("sqlite_", "items_fts"))]
    strict = {row["name"]: row["strict"] for row in journal.rows("PRAGMA table_list")}
    assert set(ours) == {"jobs", "visits", "notes", "drafts", "items", "earlier", "renames"}
    assert all(strict[name] for name in ours)


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS)))
def test_a_file_of_an_earlier_version_comes_forward_whole(version, path):
    shutil.copy(FILES / f"made-by-version-{version}.sqlite", path)
    with sqlite3.connect(path) as old:
        before = old.execute("SELECT id, quote, value, unit, signed_by FROM items ORDER BY id").fetchall()
        words = old.execute("SELECT id, text FROM notes ORDER BY id").fetchall()
    old.close()
    with book.open_journal(path) as journal:
        assert journal.version == len(MIGRATIONS)
        rows = journal.rows("SELECT id, quote, value, unit, signed_by FROM items ORDER BY id")
        assert [tuple(row) for row in rows] == before
        assert [tuple(row) for row in journal.rows("SELECT id, text FROM notes ORDER BY id")] == words
        assert [check for check in book.verify(journal) if not check.holds] == []
        # one note half signed, one with a step kept; in version 2 a recording half signed as well
        assert len(book.waiting(journal)) == {1: 2, 2: 3}[version]
        # values got their base units, words their index: 9.4 kΩ and 9400 ohms are the same
        bases = journal.rows("SELECT base FROM items WHERE test = 'ignition-coil.secondary-resistance' ORDER BY id")
        assert [row[0] for row in bases] == [9400.0, 9400.0]
        assert journal.rows("SELECT rowid FROM items_fts WHERE items_fts MATCH 'secondary'")


def test_a_migrated_file_has_the_same_tables_as_a_new_one(path, tmp_path):
    shutil.copy(FILES / "made-by-version-1.sqlite", path)
    with book.open_journal(path) as old, book.open_journal(tmp_path / "new.sqlite") as new:
        form = [check for check in book.verify(old) if check.name == "form of the tables"]
        assert [check.faults for check in form] == [()]
        for table in ("items", "notes"):
            columns = f"SELECT name, type FROM pragma_table_info('{table}') ORDER BY name"
            assert [tuple(row) for row in old.rows(columns)] == [tuple(row) for row in new.rows(columns)]


def test_a_new_line_is_found_after_migration(path):
    shutil.copy(FILES / "made-by-version-1.sqlite", path)
    with book.open_journal(path) as journal:
        before = len(journal.rows("SELECT rowid FROM items_fts WHERE items_fts MATCH 'primary'"))
        signed(journal, coil_draft())
        assert len(journal.rows("SELECT rowid FROM items_fts WHERE items_fts MATCH 'primary'")) > before


def test_a_newer_file_is_refused(path):
    book.open_journal(path).close()
    with sqlite3.connect(path) as conn:
        conn.execute("PRAGMA user_version = 99")
    conn.close()
    with pytest.raises(JournalError, match="newer cleansheet"):
        book.open_journal(path)


def test_another_database_is_refused(path):
    with sqlite3.connect(path) as conn:
        conn.execute("CREATE TABLE other (x)")
    conn.close()
    with pytest.raises(JournalError, match="no journal of cleansheet"):
        book.open_journal(path)


@pytest.mark.parametrize(
    "content", [b"these are words, not a database at all, and more of them", bytes(range(256)) * 20]
)
def test_a_file_that_is_no_database_is_refused_and_left_alone(content, path):
    path.write_bytes(content)
    with pytest.raises(JournalError, match="not a journal"):
        book.open_journal(path)
    assert path.read_bytes() == content


def test_a_journal_that_is_not_there_is_made_only_when_asked(path):
    with pytest.raises(JournalError, match="no journal here yet"):
        book.open_journal(path, create=False)
    assert not path.exists()


def test_a_migration_that_fails_leaves_the_file_as_it_was(path, monkeypatch):
    shutil.copy(FILES / "made-by-version-1.sqlite", path)

    def half_done(db):
        MIGRATIONS[1](db)
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(store, "MIGRATIONS", (MIGRATIONS[0], half_done))
    with pytest.raises(JournalError):
        book.open_journal(path)
    monkeypatch.undo()
    with sqlite3.connect(path) as conn:
        assert conn.execute("PRAGMA user_version").fetchone()[0] == 1
        assert not conn.execute("SELECT 1 FROM sqlite_master WHERE name = 'items_fts'").fetchone()
    conn.close()
    with book.open_journal(path) as journal:
        assert all(check.holds for check in book.verify(journal))


def test_the_default_place_is_the_users_data_folder_or_what_the_environment_says(monkeypatch, tmp_path):
    monkeypatch.setenv("CLEANSHEET_JOURNAL", str(tmp_path / "elsewhere.sqlite"))
    assert book.default_path() == tmp_path / "elsewhere.sqlite"
    monkeypatch.delenv("CLEANSHEET_JOURNAL")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    assert book.default_path() == tmp_path / "cleansheet" / "journal.sqlite"


def test_full_disk_is_one_line_and_changes_nothing(journal):
    pages = journal.conn.execute("PRAGMA page_count").fetchone()[0]
    journal.conn.execute(f"PRAGMA max_page_count = {pages}")  # what a full disk looks like to SQLite: SQLITE_FULL
    with pytest.raises(JournalError, match="disk is full; nothing was changed"):  # noqa: PT012 - which one is the last is open
        for place in range(200):
            book.take(journal, draft(f"note {place}. " + "many words " * 400), who="Sam", at="2026-03-02T18:00:00")
    journal.conn.execute("PRAGMA max_page_count = 1000000")
    assert all(check.holds for check in book.verify(journal))
    assert book.take(journal, coil_draft(), who="Sam", at="2026-03-02T18:00:00").new


def as_nobody(code, *args):
    """Run code as a user who owns nothing; root writes wherever it likes. All is loaded before the user changes."""
    loads = "import difflib, os, sys, sqlite_utils\nfrom cleansheet import journal as book\nfrom cleansheet.terms import JournalError\n"
    drop = "if os.geteuid() == 0: os.setgroups([]); os.setgid(65534); os.setuid(65534)\n"
    return subprocess.run(
        [sys.executable, "-c", loads + drop + code, *map(str, args)], capture_output=True, text=True, check=False
    )


READ = """
with book.open_journal(sys.argv[1]) as journal:
    print(journal.rows("SELECT count(*) AS n FROM items")[0]["n"])
"""
WRITE = """
try:
    with book.open_journal(sys.argv[1]) as journal:
        book.open_job(journal, vehicle="Aldern Camper 2.0", at="2026-03-02T18:00:00")
except JournalError as err:
    print(err)
"""


def open_to_all(folder):
    """Let others through to a folder of this run; the runner keeps its folders for itself."""
    folder.chmod(0o755)
    for path in folder.parents:
        path.chmod(path.stat().st_mode | 0o055)
        if path.name.startswith("pytest-of-"):
            return


@pytest.fixture
def locked(tmp_path):
    """A journal with four lines in a folder that nobody can write."""
    folder = tmp_path / "locked"
    folder.mkdir()
    with book.open_journal(folder / "journal.sqlite") as journal:
        signed(journal, coil_draft())
    open_to_all(tmp_path)
    (folder / "journal.sqlite").chmod(0o444)
    folder.chmod(0o555)
    yield folder / "journal.sqlite"
    folder.chmod(0o755)


def test_a_read_only_journal_is_searched(locked):
    done = as_nobody(READ, locked)
    assert (done.stdout, done.stderr) == ("4\n", "")


def test_a_read_only_journal_is_not_written_and_says_so(locked):
    before = locked.read_bytes()
    done = as_nobody(WRITE, locked)
    assert "cannot be written (read-only file or folder); nothing was changed" in done.stdout
    assert done.stderr == ""
    assert locked.read_bytes() == before


def test_a_folder_without_leave_is_one_line(tmp_path):
    open_to_all(tmp_path)
    (tmp_path / "shut").mkdir(mode=0o555)
    done = as_nobody(WRITE, tmp_path / "shut" / "new" / "journal.sqlite")
    assert "cannot make the journal's folder: permission denied" in done.stdout
    assert done.stderr == ""


def test_a_folder_that_cannot_be_entered_is_one_line(tmp_path):
    open_to_all(tmp_path)
    (tmp_path / "shut").mkdir(mode=0o000)
    done = as_nobody(WRITE, tmp_path / "shut" / "journal.sqlite")
    assert "cannot be reached: permission denied" in done.stdout
    assert done.stderr == ""
