"""Migration to version 3: what must be known of a recording is kept with its note."""

from __future__ import annotations

import json
import re
from typing import Any

from .sealing import seal_of

_BEFORE = """
DROP TRIGGER notes_keep_words;
ALTER TABLE notes ADD COLUMN remarks TEXT;
"""

_AFTER = """
CREATE TRIGGER notes_keep_words BEFORE UPDATE OF text, sha256, text_sha256, words, source, remarks ON notes
BEGIN SELECT RAISE(ABORT, 'a note''s own words are never changed'); END;
"""

# Version 2 kept a recording's remarks only among its draft's, together with the judge's; these are how they began.
_OF_A_RECORDING = re.compile(
    r"the sound cannot be read from \d|damaged at about \d|the recording is cut off: \d|doubtful at \d"
)


def recording_remarks(db: Any) -> None:
    """Add the column `remarks` to `notes`, filled from the draft where one was kept, and seal every note anew."""
    db.executescript(_BEFORE)
    drafts = db.conn.execute(
        "SELECT d.note_id, d.draft FROM drafts d JOIN notes n ON n.id = d.note_id WHERE n.source = 'spoken'"
    ).fetchall()
    for draft in drafts:
        remarks = [one for one in json.loads(draft["draft"]).get("remarks", ()) if _OF_A_RECORDING.match(one)]
        if remarks:
            kept = json.dumps(remarks, ensure_ascii=False, separators=(",", ":"))
            db.conn.execute("UPDATE notes SET remarks = ? WHERE id = ?", (kept, draft["note_id"]))
    for note in db.conn.execute("SELECT * FROM notes").fetchall():
        db.conn.execute("UPDATE notes SET seal = ? WHERE id = ?", (seal_of(note), note["id"]))
    db.executescript(_AFTER)
