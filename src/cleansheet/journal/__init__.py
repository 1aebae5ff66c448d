"""What was signed, kept for ever: the journal, a SQLite file of its own, and the search over it.

Not reviewed and signed never share a table. A signed line changes only as a new revision; its former state, the words
as said and who changed what when stay.
"""

from .find import find, of_job
from .intake import (
    Line,
    Taken,
    Waiting,
    already_taken,
    move_note,
    one_draft,
    save_steps,
    sign,
    take,
    waiting,
)
from .jobs import (
    UNSORTED,
    Job,
    change_job,
    close_job,
    job_by_code,
    jobs,
    need_job,
    open_job,
    reopen_job,
    vehicle_named_in,
    vehicles,
)
from .rows import Record
from .store import Journal, default_path, open_journal

__all__ = [
    "UNSORTED",
    "Job",
    "Journal",
    "Line",
    "Record",
    "Taken",
    "Waiting",
    "already_taken",
    "change_job",
    "close_job",
    "default_path",
    "find",
    "job_by_code",
    "jobs",
    "move_note",
    "need_job",
    "of_job",
    "one_draft",
    "open_job",
    "open_journal",
    "reopen_job",
    "save_steps",
    "sign",
    "take",
    "vehicle_named_in",
    "vehicles",
    "waiting",
]
