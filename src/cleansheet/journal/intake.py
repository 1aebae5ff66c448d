"""Notes come in with their drafts, apart from what is signed; a draft keeps the review's steps until it is through."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cleansheet.terms import Draft, InputError, Item, JournalError, Note
from cleansheet.terms.draft_json import draft_from_json, draft_to_json, item_to_json, note_from_json, note_to_json

from .jobs import Job, job_of, need_job, place_note
from .rows import compact, row_of
from .sealing import change, insert

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .store import Journal


@dataclass(frozen=True, slots=True)
class Taken:
    """What became of a note: `new` is false where the journal had it already (`when` it was taken then)."""

    note_id: int
    job: Job
    new: bool
    when: str
    state: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """A draft not reviewed yet: its note, the draft as drafted, the review's `steps` so far, and its revision."""

    note_id: int
    job: Job
    draft: Draft
    steps: tuple[dict[str, Any], ...]
    revision: int
    taken_at: str
    taken_by: str
    sound: str | None
    state: str = "open"


@dataclass(frozen=True, slots=True)
class Line:
    """A line ready to be signed: its number in the draft, the item, and the item as drafted if a person changed it."""

    number: int
    item: Item
    drafted: Item | None = None


def take(
    journal: Journal,
    draft: Draft,
    *,
    who: str,
    at: str,
    job: str | None = None,
    vehicle: str | None = None,
    sheet: str | None = None,
    sound: str | None = None,
) -> Taken:
    """Lay a draft by as unreviewed. The same note (by its hash) is not taken twice: the first taking is told."""
    note = draft.note
    with journal.write() as db:
        known = _known(journal, note)
        if known is not None:
            return known
        home = place_note(db, journal, note.text, job=job, vehicle=vehicle, sheet=sheet, at=note.recorded_at or at)
        note_id = _insert_note(db, journal, note, home, who=who, at=at, sound=sound)
        body = draft_to_json(draft)
        del body["note"]  # kept once, in its own table
        insert(
            db, "drafts", {"note_id": note_id, "draft": compact(body), "steps": "[]", "state": "open", "revision": 1}
        )
    return Taken(note_id, home, new=True, when=at, state="open")


def already_taken(journal: Journal, sha256: str) -> Taken | None:
    """The earlier taking of a note with this hash, or None."""
    return _known(journal, Note(text="", sha256=sha256))


def _known(journal: Journal, note: Note) -> Taken | None:
    row = journal.row(
        "SELECT n.id AS note, n.taken_at, coalesce(d.state, 'done') AS state, j.* FROM notes n "
        "JOIN visits v ON v.id = n.visit_id JOIN jobs j ON j.id = v.job_id LEFT JOIN drafts d ON d.note_id = n.id "
        "WHERE n.sha256 = ?",
        (note.sha256,),
    )
    if row is None:
        return None
    return Taken(row["note"], job_of(row), new=False, when=row["taken_at"], state=row["state"])


def _insert_note(db: Any, journal: Journal, note: Note, job: Job, *, who: str, at: str, sound: str | None) -> int:
    words = note_to_json(note)["words"]
    row = {
        "visit_id": _visit(db, journal, job, (note.recorded_at or at)[:10]),
        "sha256": note.sha256,
        "source": note.source,
        "name": note.name,
        "recorded_at": note.recorded_at,
        "taken_at": at,
        "taken_by": who,
        "text": note.text,
        "text_sha256": text_hash(note.text),
        "words": compact(words) if words else None,
        "remarks": compact(list(note.remarks)) if note.remarks else None,
        "sound": sound,
    }
    return insert(db, "notes", row)


def text_hash(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", errors="surrogatepass")).hexdigest()


def _visit(db: Any, journal: Journal, job: Job, day: str) -> int:
    row = journal.row("SELECT id FROM visits WHERE job_id = ? AND day = ?", (job.id, day))
    return int(row["id"]) if row else insert(db, "visits", {"job_id": job.id, "day": day})


_WAITING = (
    "SELECT d.*, n.sha256, n.source, n.name, n.recorded_at, n.taken_at, n.taken_by, n.text, n.words, n.remarks, n.sound, "
    "v.job_id FROM drafts d JOIN notes n ON n.id = d.note_id JOIN visits v ON v.id = n.visit_id"
)


def waiting(journal: Journal, *, job: str | None = None, parts: Sequence[str] = ()) -> list[Waiting]:
    """Every draft not reviewed yet, oldest note first; of one job if its code is given.

    With `parts` only those in which the id of one of these components stands anywhere.
    """
    where = "WHERE d.state = 'open'"
    values: list[Any] = []
    if parts:
        # a quick look at the text, so that a thousand other drafts need not be opened
        where += f" AND ({' OR '.join(['instr(d.draft || d.steps, ?)'] * len(parts))})"
        values += [f'"{part}"' for part in parts]
    if job is not None:
        where += " AND v.job_id = ?"
        values.append(need_job(journal, job).id)
    rows = journal.rows(f"{_WAITING} {where} ORDER BY coalesce(n.recorded_at, n.taken_at), n.id", values)
    return [_waiting_of(journal, row) for row in rows]


def one_draft(journal: Journal, note_id: int) -> Waiting:
    """The draft of one note, reviewed or not. Raises InputError where there is no such note."""
    row = journal.row(f"{_WAITING} WHERE d.note_id = ?", (note_id,))
    if row is None:
        raise InputError(f"no note {note_id} with a draft in this journal")
    return _waiting_of(journal, row)


def _waiting_of(journal: Journal, row: Any) -> Waiting:
    body = json.loads(row["draft"])
    body["note"] = note_json(row)
    job = journal.row("SELECT * FROM jobs WHERE id = ?", (row["job_id"],))
    return Waiting(
        note_id=row["note_id"],
        job=job_of(job),
        draft=draft_from_json(body),
        steps=tuple(json.loads(row["steps"])),
        revision=row["revision"],
        taken_at=row["taken_at"],
        taken_by=row["taken_by"],
        sound=row["sound"],
        state=row["state"],
    )


def note_json(row: Any) -> dict[str, Any]:
    """A row of `notes` in the draft sheet's form."""
    lists = {key: json.loads(row[key]) if row[key] else [] for key in ("words", "remarks")}
    return {**{key: row[key] for key in ("text", "source", "recorded_at", "sha256", "name")}, **lists}


def note_of(journal: Journal, note_id: int) -> Note:
    """A note as it was taken. Raises InputError where there is none."""
    row = journal.row("SELECT * FROM notes WHERE id = ?", (note_id,))
    if row is None:
        raise InputError(f"no note {note_id} in this journal")
    return note_from_json(note_json(row))


def save_steps(journal: Journal, note_id: int, steps: Sequence[dict[str, Any]], *, revision: int) -> int:
    """Keep the review's steps so far; returns the draft's new revision.

    Raises JournalError where somebody else changed the draft since `revision` was read: nothing is overwritten.
    """
    with journal.write() as db:
        return _set_draft(db, note_id, steps, revision=revision, state="open")


def _set_draft(db: Any, note_id: int, steps: Sequence[dict[str, Any]], *, revision: int, state: str) -> int:
    where = {"note_id": note_id, "revision": revision, "state": "open"}
    if change(db, "drafts", where, {"steps": compact(list(steps)), "state": state, "revision": revision + 1}) != 1:
        raise JournalError(
            f"note {note_id} was reviewed by somebody else meanwhile; nothing was changed; open it again"
        )
    return revision + 1


def sign(
    journal: Journal,
    note_id: int,
    lines: Sequence[Line],
    *,
    steps: Sequence[dict[str, Any]],
    revision: int,
    finished: bool,
    who: str,
    at: str,
) -> int:
    """Sign lines into the journal, in one transaction with the review's state; returns the draft's new revision.

    `finished` ends the review of this note. Raises JournalError as `save_steps` does.
    """
    with journal.write() as db:
        new = _set_draft(db, note_id, steps, revision=revision, state="done" if finished else "open")
        row = journal.row(
            "SELECT n.text, coalesce(n.recorded_at, n.taken_at) AS at, v.job_id FROM notes n "
            "JOIN visits v ON v.id = n.visit_id WHERE n.id = ?",
            (note_id,),
        )
        if row is None:
            raise JournalError(f"{journal.path}: note {note_id} is not there")
        for line in lines:
            insert(db, "items", item_row(line, row, note_id=note_id, who=who, at=at))
    return new


def finish(journal: Journal, note_id: int, steps: Sequence[dict[str, Any]], *, revision: int) -> None:
    """End the review of a note of which nothing is left to sign. Raises JournalError as `save_steps` does."""
    with journal.write() as db:
        _set_draft(db, note_id, steps, revision=revision, state="done")


def _happened_at(item: Item, noted_at: str) -> str:
    """When a line's thing was: as the note says ("yesterday's readings"), else the note's own time; a step's day is ahead."""
    return noted_at if item.at is None or item.kind == "todo" else item.at


def item_row(line: Line, note: Any, *, note_id: int, who: str, at: str) -> dict[str, Any]:
    return {
        "note_id": note_id,
        "job_id": note["job_id"],
        "line": line.number,
        "happened_at": _happened_at(line.item, note["at"]),
        **row_of(line.item, note["text"]),
        "drafted": None if line.drafted is None else compact(item_to_json(line.drafted, note["text"])),
        "signed_by": who,
        "signed_at": at,
        "change": None,
        "revision": 1,
    }


def move_note(journal: Journal, note_id: int, job: str) -> None:
    """Put a note that is not signed yet under another job. Raises InputError where lines of it are signed."""
    with journal.write() as db:
        target = need_job(journal, job)
        if journal.row("SELECT 1 FROM items WHERE note_id = ?", (note_id,)):
            raise InputError(f"note {note_id} has signed lines under its job; they stay where they were signed")
        row = journal.row("SELECT coalesce(recorded_at, taken_at) AS at FROM notes WHERE id = ?", (note_id,))
        if row is None:
            raise InputError(f"no note {note_id} in this journal")
        change(db, "notes", {"id": note_id}, {"visit_id": _visit(db, journal, target, row["at"][:10])})
