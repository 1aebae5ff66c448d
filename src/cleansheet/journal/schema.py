"""The journal's tables, and the migrations that made them, oldest first.

    jobs ─< visits ─< notes ─┬─ drafts        not reviewed: the draft sheet as drafted, and the review's steps so far
                             └─< items        signed: one row a line, its current revision
                                  └─< earlier  every revision before the current one
    renames: parts that a reviewer corrected, with the words they stood in; items_fts: the search index over the words

`PRAGMA user_version` counts the migrations a file has been through. A migration is never changed once released: a new
one is added, and tests/journal keeps a file made by each version. Triggers hold what must hold whoever writes: a note's
words never change, a signed line is never deleted, and no line changes without its former state being kept.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from .second import search_and_seals
from .third import recording_remarks

if TYPE_CHECKING:
    from collections.abc import Callable

# Marks the file as a journal of ours (PRAGMA application_id, a 32-bit number of our choice: "cljn").
APPLICATION_ID = 0x636C6A6E

_VERSION_1 = """
CREATE TABLE jobs (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL UNIQUE,
  vehicle TEXT,
  sheet TEXT,
  complaint TEXT,
  opened_at TEXT NOT NULL,
  closed_at TEXT,
  outcome TEXT,
  revision INTEGER NOT NULL DEFAULT 1
) STRICT;

CREATE TABLE visits (
  id INTEGER PRIMARY KEY,
  job_id INTEGER NOT NULL REFERENCES jobs(id),
  day TEXT NOT NULL,
  UNIQUE (job_id, day)
) STRICT;

CREATE TABLE notes (
  id INTEGER PRIMARY KEY,
  visit_id INTEGER NOT NULL REFERENCES visits(id),
  sha256 TEXT NOT NULL UNIQUE,
  source TEXT NOT NULL CHECK (source IN ('typed', 'spoken')),
  name TEXT,
  recorded_at TEXT,
  taken_at TEXT NOT NULL,
  taken_by TEXT NOT NULL,
  text TEXT NOT NULL,
  text_sha256 TEXT NOT NULL,
  words TEXT,
  sound TEXT
) STRICT;

CREATE TABLE drafts (
  note_id INTEGER PRIMARY KEY REFERENCES notes(id),
  draft TEXT NOT NULL,
  steps TEXT NOT NULL DEFAULT '[]',
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'done')),
  revision INTEGER NOT NULL DEFAULT 1
) STRICT;

CREATE TABLE items (
  id INTEGER PRIMARY KEY,
  note_id INTEGER NOT NULL REFERENCES notes(id),
  job_id INTEGER NOT NULL REFERENCES jobs(id),
  line INTEGER NOT NULL,
  happened_at TEXT NOT NULL,
  kind TEXT NOT NULL,
  start_at INTEGER NOT NULL,
  end_at INTEGER NOT NULL,
  quote TEXT NOT NULL,
  said TEXT NOT NULL,
  component TEXT,
  test TEXT,
  position TEXT,
  finding TEXT,
  value REAL,
  low REAL,
  high REAL,
  unit TEXT,
  comparator TEXT,
  approximate INTEGER,
  verdict TEXT,
  reason TEXT,
  flags TEXT,
  confidence REAL NOT NULL,
  rest TEXT NOT NULL,
  drafted TEXT,
  signed_by TEXT NOT NULL,
  signed_at TEXT NOT NULL,
  change TEXT,
  revision INTEGER NOT NULL DEFAULT 1,
  UNIQUE (note_id, line)
) STRICT;

CREATE TABLE earlier (
  item_id INTEGER NOT NULL REFERENCES items(id),
  revision INTEGER NOT NULL,
  row TEXT NOT NULL,
  PRIMARY KEY (item_id, revision)
) STRICT, WITHOUT ROWID;

CREATE INDEX items_by_component ON items (component, happened_at DESC);
CREATE INDEX items_by_job ON items (job_id, happened_at DESC);
CREATE INDEX notes_by_visit ON notes (visit_id);
CREATE INDEX drafts_open ON drafts (note_id) WHERE state = 'open';

CREATE TRIGGER notes_keep_words BEFORE UPDATE OF text, sha256, text_sha256, words, source ON notes
BEGIN SELECT RAISE(ABORT, 'a note''s own words are never changed'); END;

CREATE TRIGGER notes_never_go BEFORE DELETE ON notes
BEGIN SELECT RAISE(ABORT, 'a note is never deleted'); END;

CREATE TRIGGER items_never_go BEFORE DELETE ON items
BEGIN SELECT RAISE(ABORT, 'a signed line is never deleted'); END;

CREATE TRIGGER items_keep_words BEFORE UPDATE OF note_id, line, drafted ON items
BEGIN SELECT RAISE(ABORT, 'where a signed line came from is never changed'); END;

CREATE TRIGGER items_keep_history BEFORE UPDATE ON items
WHEN NOT EXISTS (SELECT 1 FROM earlier WHERE item_id = old.id AND revision = old.revision)
  OR new.revision <> old.revision + 1
BEGIN SELECT RAISE(ABORT, 'a signed line changes only as a new revision'); END;

CREATE TRIGGER earlier_stays BEFORE UPDATE ON earlier
BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;

CREATE TRIGGER earlier_never_goes BEFORE DELETE ON earlier
BEGIN SELECT RAISE(ABORT, 'history is never deleted'); END;
"""


def _first_tables(db: Any) -> None:
    db.executescript(_VERSION_1)


# One function a version; the file's version is how many of them it has been through.
MIGRATIONS: tuple[Callable[[Any], None], ...] = (_first_tables, search_and_seals, recording_remarks)
