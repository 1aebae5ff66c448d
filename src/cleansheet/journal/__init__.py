"""What was signed, kept for ever: the journal, a SQLite file of its own, and the search over it.

Not reviewed and signed never share a table. A signed line changes only as a new revision; its former state, the words
as said and who changed what when stay.
"""

from .asking import Query, Span
from .exchange import export_lines, import_lines
from .find import Found, find, known, last_replaced, of_job
from .history import Revision, record, revise, revisions
from .intake import (
    Line,
    Taken,
    Waiting,
    already_taken,
    finish,
    move_note,
    note_of,
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
    foresee_job,
    job_by_code,
    jobs,
    need_job,
    open_job,
    reopen_job,
    vehicle_named_in,
    vehicles,
)
from .query import Known, parse_query
from .recordings import Recording, recordings
from .renames import note_rename, said_twice
from .rows import Record
from .standing import Standing, standing
from .store import Journal, default_path, open_journal
from .story import Series, Story, story
from .upkeep import Check, backup, restore, verify, verify_file

__all__ = [
    "UNSORTED",
    "Check",
    "Found",
    "Job",
    "Journal",
    "Known",
    "Line",
    "Query",
    "Record",
    "Recording",
    "Revision",
    "Series",
    "Span",
    "Standing",
    "Story",
    "Taken",
    "Waiting",
    "already_taken",
    "backup",
    "change_job",
    "close_job",
    "default_path",
    "export_lines",
    "find",
    "finish",
    "foresee_job",
    "import_lines",
    "job_by_code",
    "jobs",
    "known",
    "last_replaced",
    "move_note",
    "need_job",
    "note_of",
    "note_rename",
    "of_job",
    "one_draft",
    "open_job",
    "open_journal",
    "parse_query",
    "record",
    "recordings",
    "reopen_job",
    "restore",
    "revise",
    "revisions",
    "said_twice",
    "save_steps",
    "sign",
    "standing",
    "story",
    "take",
    "vehicle_named_in",
    "vehicles",
    "verify",
    "verify_file",
    "waiting",
]
