"""Opens the journal's file and guards every access to it: one opener, one way to write, one set of messages."""

from __future__ import annotations

import os
import sqlite3
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Self

from cleansheet.terms import JournalError

from .schema import APPLICATION_ID, MIGRATIONS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from types import TracebackType

# How long a writer waits for another process to finish its own short transaction.
WAIT_S = 10.0
ENVIRONMENT = "CLEANSHEET_JOURNAL"


def default_path() -> Path:
    """Where the journal is when nobody says: `CLEANSHEET_JOURNAL`, else the user's data folder."""
    named = os.environ.get(ENVIRONMENT)
    if named:
        return Path(named).expanduser()
    from platformdirs import user_data_path

    return user_data_path("cleansheet", appauthor=False) / "journal.sqlite"


class Journal:
    """An open journal. `conn` reads; every write goes through `write()`.

    A context manager; `close()` leaves the file as one piece.
    """

    def __init__(self, path: Path, conn: sqlite3.Connection) -> None:
        self.path = path
        self.conn = conn

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, err: BaseException | None, tb: TracebackType | None) -> None:
        self.close()

    def close(self) -> None:
        self.conn.close()

    @contextmanager
    def write(self) -> Iterator[Any]:
        """One transaction, all or nothing; yields the sqlite-utils database. Raises JournalError in one plain line."""
        import sqlite_utils

        with plain_errors(self.path):
            db = sqlite_utils.Database(self.conn, execute_plugins=False)
            self.conn.execute("BEGIN IMMEDIATE")
            try:
                yield db
                self.conn.execute("COMMIT")
            except BaseException:
                if self.conn.in_transaction:
                    self.conn.execute("ROLLBACK")
                raise

    def rows(self, sql: str, values: Any = ()) -> list[sqlite3.Row]:
        """All rows of a query. Raises JournalError for a file that cannot be read."""
        with plain_errors(self.path):
            return self.conn.execute(sql, values).fetchall()

    def row(self, sql: str, values: Any = ()) -> sqlite3.Row | None:
        found = self.rows(sql, values)
        return found[0] if found else None

    @property
    def version(self) -> int:
        """How many migrations the file has been through."""
        return int(self.rows("PRAGMA user_version")[0][0])


def open_journal(path: Path | str | None = None, *, create: bool = True) -> Journal:
    """The journal at `path` (default: `default_path()`), made or brought to this version where needed.

    With `create` false a journal that is not there raises JournalError. Raises JournalError for a file that is no
    journal, is damaged, was made by a newer cleansheet, or cannot be written.
    """
    path = Path(path) if path is not None else default_path()
    there = _is_there(path)
    if not there:
        if not create:
            raise JournalError(f"{path}: no journal here yet; `cleansheet take` starts one")
        _make_folder(path)
    read_only = there and not _writable(path)
    with plain_errors(path):
        conn = connect_to_read(path) if read_only else connect(path)
    journal = Journal(path, conn)
    try:
        with plain_errors(path):
            _check_kind(path, conn)
            if read_only:
                _check_current(journal)
            else:
                migrate(journal)
                conn.execute("PRAGMA foreign_keys = ON")
    except BaseException:
        conn.close()
        raise
    return journal


def connect(path: Path | str) -> sqlite3.Connection:
    """A connection with our settings. The only place that opens the file: a bare connection would leave
    `recursive_triggers` off, and replaced rows would then stay in the search index.
    """
    conn = sqlite3.connect(str(path), timeout=WAIT_S, isolation_level=None, check_same_thread=False)
    conn.row_factory = sqlite3.Row
    conn.execute("PRAGMA recursive_triggers = ON")
    conn.execute("PRAGMA synchronous = FULL")
    return conn


def connect_to_read(path: Path) -> sqlite3.Connection:
    """A connection to a file that cannot be written, such as a backup on a locked stick."""
    waiting = path.with_name(f"{path.name}-wal")
    # Without a write-ahead file nobody can be writing; then SQLite needs no side files, which it could not make here.
    mode = "mode=ro" if waiting.exists() and waiting.stat().st_size else "immutable=1"
    conn = sqlite3.connect(f"{path.resolve().as_uri()}?{mode}", uri=True, timeout=WAIT_S, isolation_level=None)
    conn.row_factory = sqlite3.Row
    return conn


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except OSError as err:
        raise JournalError(f"{path}: cannot be reached: {(err.strerror or str(err)).lower()}") from err


def _writable(path: Path) -> bool:
    return os.access(path, os.W_OK) and os.access(path.parent, os.W_OK)


def _check_current(journal: Journal) -> None:
    if journal.version < len(MIGRATIONS):
        raise JournalError(
            f"{journal.path}: made by an earlier cleansheet, and cannot be brought forward where it cannot be written; "
            "copy it elsewhere first"
        )


def migrate(journal: Journal, upto: int | None = None) -> None:
    """Bring the file forward, each migration one transaction, so that a stop in between leaves a whole file."""
    target = len(MIGRATIONS) if upto is None else upto
    if journal.version >= target and journal.conn.execute("PRAGMA journal_mode").fetchone()[0] == "wal":
        return
    _write_ahead(journal.conn)
    # Off while tables may be rebuilt; the check below finds what does not hold before the transaction ends.
    journal.conn.execute("PRAGMA foreign_keys = OFF")
    while journal.version < target:
        with journal.write() as db:
            done = journal.version  # another process may have been quicker while we waited for the lock
            if done >= target:
                break
            MIGRATIONS[done](db)
            if journal.conn.execute("PRAGMA foreign_key_check").fetchone():
                raise JournalError(
                    f"{journal.path}: references do not hold after migration {done + 1}; restore a backup"
                )
            journal.conn.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            journal.conn.execute(f"PRAGMA user_version = {done + 1}")
    journal.conn.execute("PRAGMA foreign_keys = ON")


def _write_ahead(conn: sqlite3.Connection) -> None:
    """Switch to write-ahead logging. SQLite does not wait by itself for this switch while another process makes it."""
    import time

    until = time.monotonic() + WAIT_S
    while True:
        try:
            conn.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as err:
            if not _is_busy(err) or time.monotonic() > until:
                raise
            time.sleep(0.02)
        else:
            return


def _is_busy(err: sqlite3.Error) -> bool:
    return (getattr(err, "sqlite_errorname", "") or "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED"))


def _check_kind(path: Path, conn: sqlite3.Connection) -> None:
    kind = conn.execute("PRAGMA application_id").fetchone()[0]
    version = conn.execute("PRAGMA user_version").fetchone()[0]
    empty = conn.execute("SELECT count(*) FROM sqlite_master").fetchone()[0] == 0
    if kind != APPLICATION_ID and not empty:
        raise JournalError(f"{path}: a database, but no journal of cleansheet; name another file with --journal")
    if version > len(MIGRATIONS):
        raise JournalError(
            f"{path}: written by a newer cleansheet (version {version}; this one knows {len(MIGRATIONS)}): upgrade"
        )


def _make_folder(path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as err:
        raise JournalError(
            f"{path.parent}: cannot make the journal's folder: {(err.strerror or str(err)).lower()}"
        ) from err


@contextmanager
def plain_errors(path: Path) -> Iterator[None]:
    """SQLite's errors as one JournalError line that says what to do. Nothing stored is lost by any of them."""
    try:
        yield
    except sqlite3.Error as err:
        raise JournalError(f"{path}: {_plain(err)}") from err
    except UnicodeDecodeError as err:
        # the driver's own message cannot be read where it quotes what was damaged
        raise JournalError(f"{path}: {_DAMAGED}") from err


_DAMAGED = "damaged; run `cleansheet journal verify`, then restore a backup"


def _plain(err: sqlite3.Error) -> str:
    name = getattr(err, "sqlite_errorname", "") or ""
    said = str(err)
    if _is_busy(err):
        return f"in use by another process for more than {WAIT_S:.0f} s; nothing was changed; try again"
    if name.startswith("SQLITE_FULL"):
        return "the disk is full; nothing was changed; make room and try again"
    if name.startswith("SQLITE_READONLY"):
        return "cannot be written (read-only file or folder); nothing was changed"
    if name.startswith("SQLITE_CANTOPEN"):
        return "cannot be opened or made here; look at the folder's permissions"
    if name.startswith("SQLITE_NOTADB"):
        return "not a journal (the file is something else, or its head is damaged); restore a backup"
    if name.startswith("SQLITE_CORRUPT"):
        return _DAMAGED
    if name.startswith("SQLITE_IOERR"):
        return "the disk does not read or write as it should; nothing was changed"
    return f"{said}; nothing was changed"
