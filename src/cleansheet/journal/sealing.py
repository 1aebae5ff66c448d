"""A seal on every row: eight bytes of a hash over its columns, so that `verify` sees a bit that flipped on the disk.

SQLite checks the shape of its pages, not the letters in them. Rows are therefore written only through `insert` and
`change`, which seal them.
"""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Mapping

# Row numbers that SQLite gives; every one of them stands in an index as well, which its own check compares.
_NOT_SEALED = frozenset({"id", "seal"})


def seal_of(row: Mapping[str, Any]) -> bytes:
    """The seal of a row, over its columns by name; the same whatever order they come in."""
    columns = sorted(key for key in row.keys() if key not in _NOT_SEALED)  # noqa: SIM118 - a row iterates over values
    plain = json.dumps([[key, row[key]] for key in columns], ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(plain.encode("utf-8", errors="surrogatepass")).digest()[:8]


def insert(db: Any, table: str, row: Mapping[str, Any]) -> int:
    """Insert a whole row (every column but its number), sealed; returns its number."""
    full = {**row, "seal": seal_of(row)}
    columns = ", ".join(full)
    marks = ", ".join("?" * len(full))
    done = db.conn.execute(f"INSERT INTO {table} ({columns}) VALUES ({marks})", tuple(full.values()))
    return int(done.lastrowid)


def change(db: Any, table: str, where: Mapping[str, Any], fields: Mapping[str, Any]) -> int:
    """Change fields of the rows where the columns are so, and seal them anew; returns how many there were."""
    test = " AND ".join(f"{key} = ?" for key in where)
    rows = db.conn.execute(f"SELECT rowid AS _row, * FROM {table} WHERE {test}", tuple(where.values())).fetchall()
    for old in rows:
        new = {key: old[key] for key in old.keys() if key != "_row"} | dict(fields)  # noqa: SIM118 - a row iterates over values
        values = {**fields, "seal": seal_of(new)}
        sets = ", ".join(f"{key} = ?" for key in values)
        db.conn.execute(f"UPDATE {table} SET {sets} WHERE rowid = ?", (*values.values(), old["_row"]))
    return len(rows)
