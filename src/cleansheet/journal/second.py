"""Migration to version 2: values in base units, the search index, seals on every row, and what corrections teach."""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

from typing import Any

from .sealing import seal_of

_TABLES = ("jobs", "visits", "notes", "drafts", "items", "earlier")

_BEFORE = """
DROP TRIGGER notes_keep_words;
DROP TRIGGER items_keep_history;
DROP TRIGGER earlier_stays;
DROP INDEX items_by_component;
DROP INDEX items_by_job;
ALTER TABLE items ADD COLUMN base_kind TEXT;
ALTER TABLE items ADD COLUMN base REAL;
ALTER TABLE items ADD COLUMN base_low REAL;
ALTER TABLE items ADD COLUMN base_high REAL;
"""

_AFTER = """
CREATE TABLE renames (
  id INTEGER PRIMARY KEY,
  note_id INTEGER NOT NULL REFERENCES notes(id),
  component TEXT NOT NULL,
  said TEXT NOT NULL,
  at TEXT NOT NULL,
  seal BLOB
) STRICT;

CREATE INDEX renames_by_component ON renames (component);
CREATE INDEX jobs_by_vehicle ON jobs (vehicle COLLATE NOCASE);
CREATE INDEX items_by_component ON items
  (component, happened_at DESC, test, kind, verdict, finding, base_kind, base, job_id);
CREATE INDEX items_by_value ON items (base_kind, base, happened_at DESC) WHERE base IS NOT NULL;
CREATE INDEX items_by_verdict ON items (verdict, happened_at DESC);
CREATE INDEX items_by_kind ON items (kind, happened_at DESC);
CREATE INDEX items_by_person ON items (signed_by, happened_at DESC);
CREATE INDEX items_by_time ON items (happened_at DESC);
CREATE INDEX items_by_job ON items (job_id, happened_at DESC);

CREATE TRIGGER notes_keep_words BEFORE UPDATE OF text, sha256, text_sha256, words, source ON notes
BEGIN SELECT RAISE(ABORT, 'a note''s own words are never changed'); END;

CREATE TRIGGER items_keep_history BEFORE UPDATE ON items
WHEN NOT EXISTS (SELECT 1 FROM earlier WHERE item_id = old.id AND revision = old.revision)
  OR new.revision <> old.revision + 1
BEGIN SELECT RAISE(ABORT, 'a signed line changes only as a new revision'); END;

CREATE TRIGGER earlier_stays BEFORE UPDATE ON earlier
BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
"""


def base_columns(value: float | None, low: float | None, high: float | None, unit: str | None) -> dict[str, Any]:
    """A quantity in the base unit of its kind: the columns `base_kind`, `base`, `base_low`, `base_high`.

    All None without a unit or with one that is not known; such a value is found by its words only. `base` is the
    value, or a range's middle, or the one end there is.
    """
    empty = {"base_kind": None, "base": None, "base_low": None, "base_high": None}
    if unit is None:
        return empty
    from cleansheet.units import known, to_base

    middle = value
    if middle is None:
        middle = (low + high) / 2 if low is not None and high is not None else low if low is not None else high
    if middle is None or not known(unit):
        return empty
    base, kind = to_base(middle, unit)
    ends = [None if end is None else to_base(end, unit)[0] for end in (low, high)]
    return {"base_kind": kind, "base": base, "base_low": ends[0], "base_high": ends[1]}


def search_and_seals(db: Any) -> None:
    db.executescript(_BEFORE)
    rows = db.conn.execute("SELECT id, value, low, high, unit FROM items WHERE unit IS NOT NULL").fetchall()
    for row in rows:
        base = base_columns(row["value"], row["low"], row["high"], row["unit"])
        db.conn.execute(
            "UPDATE items SET base_kind = :base_kind, base = :base, base_low = :base_low, base_high = :base_high "
            "WHERE id = :id",
            {**base, "id": row["id"]},
        )
    for table in _TABLES:
        db.executescript(f"ALTER TABLE {table} ADD COLUMN seal BLOB;")
        # 'earlier' has no row numbers of its own.
        keys = ("item_id", "revision") if table == "earlier" else ("rowid",)
        rows = db.conn.execute(f"SELECT {', '.join(keys)}, * FROM {table}").fetchall()
        test = " AND ".join(f"{key} = ?" for key in keys)
        for row in rows:
            place = tuple(row)[: len(keys)]
            columns = [one[1] for one in db.conn.execute(f"PRAGMA table_info({table})")]
            seal = seal_of({key: row[key] for key in columns})
            db.conn.execute(f"UPDATE {table} SET seal = ? WHERE {test}", (seal, *place))
    db.executescript(_AFTER)
    # Triggers keep the index in step; "porter" finds a word in the plural or with an ending.
    db["items"].enable_fts(["said"], create_triggers=True, replace=True, tokenize="porter unicode61")
