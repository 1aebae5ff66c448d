"""Changes to what is signed: a new revision with who, when and why; every earlier state stays."""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError, Item, JournalError

from .rows import RECORD_COLUMNS, RECORD_TABLES, Record, compact, record_of, row_of
from .sealing import change, insert

if TYPE_CHECKING:
    from collections.abc import Mapping

    from .store import Journal


@dataclass(frozen=True, slots=True)
class Revision:
    """One state of a signed line: its number, who made it when, why (None for the first), and the columns then."""

    number: int
    who: str
    at: str
    why: str | None
    row: Mapping[str, Any]


def revise(journal: Journal, item_id: int, item: Item, *, revision: int, who: str, at: str, why: str) -> Record:
    """Change a signed line. Raises InputError without a reason, JournalError where it was changed since `revision`."""
    if not why.strip():
        raise InputError("why is it changed? a signed line changes only with a reason")
    with journal.write() as db:
        old = _row(journal, item_id)
        if old["revision"] != revision:
            raise JournalError(
                f"line {item_id} was changed by {old['signed_by']} meanwhile; nothing was changed; look again"
            )
        note = journal.row("SELECT text FROM notes WHERE id = ?", (old["note_id"],))
        if note is None:
            raise JournalError(
                f"{journal.path}: the note of line {item_id} is not there; run `cleansheet journal verify`"
            )
        insert(db, "earlier", {"item_id": item_id, "revision": revision, "row": compact(_plain(old))})
        fields = {
            **row_of(item, note["text"]),
            "signed_by": who,
            "signed_at": at,
            "change": why.strip(),
            "revision": revision + 1,
        }
        change(db, "items", {"id": item_id}, fields)
    return record(journal, item_id)


def record(journal: Journal, item_id: int) -> Record:
    """One signed line. Raises InputError where there is none."""
    row = journal.row(f"SELECT {RECORD_COLUMNS} FROM {RECORD_TABLES} WHERE i.id = ?", (item_id,))
    if row is None:
        raise InputError(f"no signed line {item_id} in this journal")
    return record_of(row)


def revisions(journal: Journal, item_id: int) -> list[Revision]:
    """Every state of a signed line, the first one first."""
    rows = [json.loads(row["row"]) for row in journal.rows(
        "SELECT row FROM earlier WHERE item_id = ? ORDER BY revision", (item_id,)
    )]  # fmt: skip
    rows.append(_plain(_row(journal, item_id)))
    return [Revision(row["revision"], row["signed_by"], row["signed_at"], row["change"], row) for row in rows]


def _row(journal: Journal, item_id: int) -> Any:
    row = journal.row("SELECT * FROM items WHERE id = ?", (item_id,))
    if row is None:
        raise InputError(f"no signed line {item_id} in this journal")
    return row


def _plain(row: Any) -> dict[str, Any]:
    return {key: row[key] for key in row.keys() if key not in ("seal", "id")}  # noqa: SIM118 - a row iterates over values
