"""The whole journal as JSON Lines, and back: exported and imported again, it is equal row for row.

The first line is a header; every other line is {"table": ..., "row": {...}}, in an order that holds references. The
form carries everything that is kept, history and reviews under way included; the search index is made anew.
"""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, TextIO

from cleansheet.terms import InputError

from .schema import MIGRATIONS
from .sealing import insert

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from .store import Journal

FORMAT = "cleansheet-journal/1"
_TABLES = {
    "jobs": "id",
    "visits": "id",
    "notes": "id",
    "drafts": "note_id",
    "items": "id",
    "earlier": "item_id, revision",
    "renames": "id",
}
# Kept as text in the table, written as what it is.
_JSON = {
    "notes": ("words", "remarks"),
    "drafts": ("draft", "steps"),
    "items": ("flags", "rest", "drafted"),
    "earlier": ("row",),
}


def export_lines(journal: Journal) -> Iterator[str]:
    """The journal's lines, one consistent moment of it, whoever writes meanwhile."""
    journal.rows("BEGIN")
    try:
        yield _line({"format": FORMAT, "version": journal.version})
        for table, order in _TABLES.items():
            for row in journal.conn.execute(f"SELECT * FROM {table} ORDER BY {order}"):
                plain = {key: row[key] for key in row.keys() if key != "seal"}  # noqa: SIM118 - a row iterates over values
                for key in _JSON.get(table, ()):
                    plain[key] = json.loads(plain[key]) if plain[key] is not None else None
                yield _line({"table": table, "row": plain})
    finally:
        journal.conn.execute("ROLLBACK")


def _line(value: dict[str, Any]) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def import_lines(journal: Journal, lines: Iterable[str] | TextIO, name: str = "the file") -> int:
    """Fill an empty journal from exported lines, all or nothing; returns how many rows.

    Raises InputError with the line's number for what is not such a line, and where the journal is not empty.
    """
    if journal.rows("SELECT 1 FROM notes LIMIT 1") or journal.rows("SELECT 1 FROM jobs LIMIT 1"):
        raise InputError(f"{journal.path}: not empty; import into a new journal (--journal PATH)")
    count = 0
    with journal.write() as db:
        for number, line in enumerate(lines, 1):
            if not line.strip():
                continue
            data = _parsed(line, name, number)
            if number == 1:
                _check_header(data, name)
                continue
            _insert_line(db, data, name, number)
            count += 1
        if journal.conn.execute("PRAGMA foreign_key_check").fetchone():
            raise InputError(f"{name}: rows refer to rows that are not in it; nothing was imported")
    return count


def _parsed(line: str, name: str, number: int) -> dict[str, Any]:
    try:
        data = json.loads(line)
    except ValueError as err:
        raise InputError(f"{name}:{number}: not JSON ({err}); nothing was imported") from err
    if not isinstance(data, dict):
        raise InputError(f"{name}:{number}: not an object; nothing was imported")
    return data


def _check_header(data: dict[str, Any], name: str) -> None:
    if data.get("format") != FORMAT:
        raise InputError(f"{name}:1: not an exported journal (no {FORMAT!r} header); nothing was imported")
    if data.get("version") != len(MIGRATIONS):
        raise InputError(
            f"{name}:1: exported by another version ({data.get('version')}, this is {len(MIGRATIONS)}); "
            "open the journal with this version and export again"
        )


def _insert_line(db: Any, data: dict[str, Any], name: str, number: int) -> None:
    import sqlite3

    table, row = data.get("table"), data.get("row")
    if table not in _TABLES or not isinstance(row, dict):
        raise InputError(f"{name}:{number}: no row of a known table; nothing was imported")
    columns = [one[1] for one in db.conn.execute(f"PRAGMA table_info({table})") if one[1] != "seal"]
    if set(row) != set(columns):
        raise InputError(
            f"{name}:{number}: a row of {table} has the columns {', '.join(columns)}; nothing was imported"
        )
    plain = dict(row)
    for key in _JSON.get(table, ()):
        plain[key] = _line(plain[key]) if plain[key] is not None else None
    try:
        insert(db, table, plain)
    except (sqlite3.IntegrityError, sqlite3.InterfaceError, sqlite3.ProgrammingError) as err:
        raise InputError(f"{name}:{number}: {err}; nothing was imported") from err
