"""Search over what is signed."""

from __future__ import annotations

from .rows import RECORD_COLUMNS, RECORD_TABLES, Record, record_of
from .store import Journal


def find(journal: Journal, component: str, *, limit: int = 50) -> list[Record]:
    """Signed lines of one component, newest first."""
    rows = journal.rows(
        f"SELECT {RECORD_COLUMNS} FROM {RECORD_TABLES} WHERE i.component = ? ORDER BY i.happened_at DESC, i.id DESC LIMIT ?",
        (component, limit),
    )
    return [record_of(row) for row in rows]


def of_job(journal: Journal, job_id: int) -> list[Record]:
    """Every signed line of a job, oldest first, in the order of its words."""
    rows = journal.rows(
        f"SELECT {RECORD_COLUMNS} FROM {RECORD_TABLES} WHERE i.job_id = ? ORDER BY i.happened_at, i.note_id, i.start_at, i.line",
        (job_id,),
    )
    return [record_of(row) for row in rows]
