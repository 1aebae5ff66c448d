"""Looking after the file: a copy while it is in use, bringing one back, and finding out whether it still holds."""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from cleansheet.files import sha256_of
from cleansheet.terms import InputError, JournalError

from .intake import text_hash
from .sealing import seal_of
from .store import Journal, connect, migrate, plain_errors

if TYPE_CHECKING:
    from collections.abc import Iterator

_SEALED = ("jobs", "visits", "notes", "drafts", "items", "earlier", "renames")


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that `verify` looked at: what, whether it holds, and what is wrong in at most a few lines."""

    name: str
    holds: bool
    faults: tuple[str, ...] = ()


def backup(journal: Journal, to: Path) -> Path:
    """Copy the journal while it may be in use, verify the copy, and only then put it in place.

    Raises JournalError where the target is there already, cannot be written, or the copy does not verify.
    """
    if to.exists():
        raise JournalError(f"{to}: is there already; a backup never overwrites; choose another name")
    part = to.with_name(f"{to.name}.part")
    try:
        part.unlink(missing_ok=True)
        to.parent.mkdir(parents=True, exist_ok=True)
        _copy(journal.conn, part)
        faults = [fault for check in verify_file(part) for fault in check.faults]
        if faults:
            raise JournalError(f"{to}: the copy does not verify ({faults[0]}); nothing was put in place")
        _settle(part, to)
    except OSError as err:
        raise JournalError(f"{to}: cannot be written: {(err.strerror or str(err)).lower()}") from err
    finally:
        part.unlink(missing_ok=True)
    return to


def restore(backup_file: Path, to: Path) -> Path | None:
    """Put a verified backup in the journal's place; what was there is kept beside it, and its new name is returned.

    Raises JournalError where the backup does not verify; the journal in place is then untouched.
    """
    if not backup_file.is_file():
        raise InputError(f"{backup_file}: no such backup")
    faults = [fault for check in verify_file(backup_file) for fault in check.faults]
    if faults:
        raise JournalError(f"{backup_file}: does not verify ({faults[0]}); the journal was left as it is")
    part = to.with_name(f"{to.name}.part")
    kept = None
    try:
        part.unlink(missing_ok=True)
        to.parent.mkdir(parents=True, exist_ok=True)
        with plain_errors(backup_file), closing(connect(backup_file)) as source:
            _copy(source, part)
        if to.exists():
            kept = _set_aside(to)
        _settle(part, to)
    except OSError as err:
        raise JournalError(f"{to}: cannot be written: {(err.strerror or str(err)).lower()}") from err
    finally:
        part.unlink(missing_ok=True)
    return kept


def _copy(source: sqlite3.Connection, part: Path) -> None:
    with plain_errors(part), closing(sqlite3.connect(str(part))) as target:
        source.backup(target, pages=4096)
        target.execute("PRAGMA journal_mode = DELETE")  # one file, to be carried away


def _settle(part: Path, to: Path) -> None:
    with part.open("rb+") as file:
        os.fsync(file.fileno())
    part.replace(to)
    folder = os.open(to.parent, os.O_RDONLY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


def _set_aside(path: Path) -> Path:
    """Move a journal out of the way with everything that belongs to it, under a name not taken yet."""
    # What is in the write-ahead file belongs to the old journal; folded in first, so that one file is the whole.
    try:
        with closing(connect(path)) as conn:
            conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except sqlite3.Error:
        pass  # damaged: it is kept as it is, write-ahead file and all
    number = 1
    while (kept := path.with_name(f"{path.name}.before-restore-{number}")).exists():
        number += 1
    for ending in ("-wal", "-shm"):
        beside = path.with_name(path.name + ending)
        if beside.exists():
            beside.rename(kept.with_name(kept.name + ending))
    path.rename(kept)
    return kept


def verify_file(path: Path) -> list[Check]:
    """`verify` for a file at rest, such as a backup, without changing it."""
    uri = f"{path.resolve().as_uri()}?mode=ro"
    try:
        with closing(sqlite3.connect(uri, uri=True)) as conn:
            conn.row_factory = sqlite3.Row
            return verify(Journal(path, conn))
    except sqlite3.Error as err:
        return [Check("opens", holds=False, faults=(f"cannot be read: {err}",))]


def verify(journal: Journal, *, sounds: bool = False) -> list[Check]:
    """Everything that can be checked: structure, form of the tables, references, search index, every row's seal.

    With `sounds` the recordings as well, by their hash. Never raises for a damaged file: it says what is wrong.
    """
    checks = []
    for name, look in (
        ("structure of the file", _structure),
        ("form of the tables", _form),
        ("references", _references),
        ("search index", _search_index),
        ("seal of every row", _seals),
        ("words and hashes of the notes", _hashes),
        ("every line's place in its note", _places),
        *([("recordings", _sounds)] if sounds else []),
    ):
        try:
            faults = [fault for _, fault in zip(range(20), look(journal), strict=False)]
        except (sqlite3.Error, JournalError, ValueError, TypeError, KeyError, IndexError, OverflowError) as err:
            faults = [f"cannot be read: {err}"]
        checks.append(Check(name, not faults, tuple(faults)))
    return checks


def _structure(journal: Journal) -> Iterator[str]:
    for row in journal.conn.execute("PRAGMA integrity_check(20)"):
        if row[0] != "ok":
            yield str(row[0])


def _form(journal: Journal) -> Iterator[str]:
    """The tables, indexes and triggers as this version makes them: one that is missing would guard nothing."""
    version = journal.conn.execute("PRAGMA user_version").fetchone()[0]
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as conn:
        conn.row_factory = sqlite3.Row
        fresh = Journal(Path(":memory:"), conn)
        migrate(fresh, upto=version)
        wanted = _schema(conn)
    found = _schema(journal.conn)
    for name in sorted(wanted.keys() | found.keys()):
        if wanted.get(name) != found.get(name):
            yield f"{name} is {'missing' if name not in found else 'not as it should be'}"


def _schema(conn: sqlite3.Connection) -> dict[str, str]:
    rows = conn.execute("SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_stat%'")
    return {f"{row[0]} {row[1]}": " ".join((row[2] or "").split()) for row in rows}


def _references(journal: Journal) -> Iterator[str]:
    for row in journal.conn.execute("PRAGMA foreign_key_check"):
        yield f"{row[0]} row {row[1]} refers to a {row[2]} that is not there"


def _search_index(journal: Journal) -> Iterator[str]:
    # The index's own check needs to write; a copy in memory would be the whole file, so a journal that is open
    # for reading only is compared by what can be read.
    try:
        journal.conn.execute("INSERT INTO items_fts(items_fts, rank) VALUES ('integrity-check', 1)")
    except sqlite3.OperationalError as err:
        if "readonly" not in str(err):
            yield f"the index does not fit the words: {err}"
            return
        rows = journal.conn.execute("SELECT count(*) FROM items").fetchone()[0]
        indexed = journal.conn.execute("SELECT count(*) FROM items_fts_docsize").fetchone()[0]
        if rows != indexed:
            yield f"{rows} lines, {indexed} of them in the index"
    except sqlite3.DatabaseError as err:
        yield f"the index does not fit the words: {err}"


def _seals(journal: Journal) -> Iterator[str]:
    for table in _SEALED:
        for row in journal.conn.execute(f"SELECT * FROM {table}"):
            if row["seal"] != seal_of(row):
                yield f"{table}: row {next(iter(row))} is not as it was written"


def _hashes(journal: Journal) -> Iterator[str]:
    for row in journal.conn.execute("SELECT id, source, text, text_sha256, sha256 FROM notes"):
        if text_hash(row["text"]) != row["text_sha256"]:
            yield f"note {row['id']}: its words are not those that were taken"
        elif row["source"] == "typed" and row["sha256"] != row["text_sha256"]:
            yield f"note {row['id']}: its two hashes differ"


def _places(journal: Journal) -> Iterator[str]:
    rows = journal.conn.execute(
        "SELECT i.id, i.start_at, i.end_at, i.quote, n.text FROM items i JOIN notes n ON n.id = i.note_id"
    )
    for row in rows:
        if row["text"][row["start_at"] : row["end_at"]] != row["quote"]:
            yield f"line {row['id']}: its words are not at their place in the note"


def _sounds(journal: Journal) -> Iterator[str]:
    for row in journal.conn.execute("SELECT id, sound, sha256 FROM notes WHERE sound IS NOT NULL"):
        path = Path(row["sound"])
        if not path.is_file():
            yield f"note {row['id']}: its recording is not there ({path})"
            continue
        try:
            digest = sha256_of(path)
        except InputError as err:
            yield f"note {row['id']}: its recording {err}"
            continue
        if digest != row["sha256"]:
            yield f"note {row['id']}: its recording is not the one that was taken ({path})"
