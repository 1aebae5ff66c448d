"""Jobs: a vehicle with a complaint, opened, worked on over visits, closed with its outcome."""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError, JournalError

from .sealing import change, insert

if TYPE_CHECKING:
    from collections.abc import Iterable

    from .store import Journal

# Where notes wait that name no job and no vehicle; a reviewer moves them.
UNSORTED = "unsorted"
_JOB_SAID = re.compile(
    r"\b(?:job|job card|job number)\s*(?:no\.?|number|#)?\s*:?\s*#?([A-Za-z]?\d[\w/-]*|unsorted)\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Job:
    """`code` is how people name it; `sheet` is the path or name of the vehicle's spec sheet; times are ISO 8601."""

    id: int
    code: str
    vehicle: str | None
    sheet: str | None
    complaint: str | None
    opened_at: str
    closed_at: str | None
    outcome: str | None
    revision: int


def job_of(row: Any) -> Job:
    return Job(**{key: row[key] for key in Job.__slots__})


def job_by_code(journal: Journal, code: str) -> Job | None:
    """The job of that code, capitals or not; None where there is none."""
    row = journal.row("SELECT * FROM jobs WHERE code = ? COLLATE NOCASE", (code.strip(),))
    return job_of(row) if row else None


def need_job(journal: Journal, code: str) -> Job:
    """The job of that code. Raises InputError that names the near ones where there is none."""
    job = job_by_code(journal, code)
    if job is not None:
        return job
    import difflib

    codes = [row["code"] for row in journal.rows("SELECT code FROM jobs ORDER BY id DESC LIMIT 5000")]
    near = difflib.get_close_matches(code, codes, n=3, cutoff=0.5)
    raise InputError(
        f"no job {code!r}" + (f"; near it: {', '.join(near)}" if near else "; `cleansheet job list` shows all")
    )


def jobs(journal: Journal, *, open_only: bool = False) -> list[Job]:
    """All jobs, the newest first; with `open_only` those that are not closed."""
    where = "WHERE closed_at IS NULL" if open_only else ""
    return [job_of(row) for row in journal.rows(f"SELECT * FROM jobs {where} ORDER BY opened_at DESC, id DESC")]


def open_job(
    journal: Journal,
    *,
    vehicle: str | None = None,
    sheet: str | None = None,
    complaint: str | None = None,
    code: str | None = None,
    at: str,
) -> Job:
    """A new job; without a code it gets the year's next running number. Raises InputError where the code is taken."""
    with journal.write() as db:
        return _insert(db, journal, vehicle=vehicle, sheet=sheet, complaint=complaint, code=code, at=at)


def _insert(
    db: Any,
    journal: Journal,
    *,
    vehicle: str | None,
    sheet: str | None = None,
    complaint: str | None = None,
    code: str | None = None,
    at: str,
) -> Job:
    code = code or _next_code(journal, at)
    if job_by_code(journal, code) is not None:
        raise InputError(f"job {code!r} is there already; choose another code")
    row = {"code": code, "vehicle": vehicle, "sheet": sheet, "complaint": complaint, "opened_at": at}
    insert(db, "jobs", {**row, "closed_at": None, "outcome": None, "revision": 1})
    job = job_by_code(journal, code)
    if job is None:  # pragma: no cover - the row was written in this very transaction
        raise JournalError(f"{journal.path}: job {code!r} was not kept")
    return job


def _next_code(journal: Journal, at: str) -> str:
    year = at[:4]
    row = journal.row(
        "SELECT max(CAST(substr(code, 6) AS INTEGER)) AS last FROM jobs WHERE code GLOB ?", (f"{year}-[0-9]*",)
    )
    return f"{year}-{((row['last'] if row else None) or 0) + 1:03d}"


def place_note(
    db: Any,
    journal: Journal,
    text: str,
    *,
    job: str | None,
    vehicle: str | None,
    sheet: str | None,
    at: str,
) -> Job:
    """The job a note goes to: the one given, the one its words name, the open one of its vehicle, else a new one.

    A note with no job and no vehicle waits under 'unsorted'. Runs inside the taker's transaction.
    """
    home = foresee_job(journal, text, job=job, vehicle=vehicle)
    if home is not None:
        return home
    vehicle = vehicle or vehicle_named_in(journal, text)
    if vehicle is not None:
        return _insert(db, journal, vehicle=vehicle, sheet=sheet, at=at)
    return job_by_code(journal, UNSORTED) or _insert(db, journal, vehicle=None, code=UNSORTED, at=at)


def foresee_job(journal: Journal, text: str, *, job: str | None = None, vehicle: str | None = None) -> Job | None:
    """The job there is for such a note, or None where taking it would open one. Raises InputError as taking does."""
    if job is not None:
        given = need_job(journal, job)
        if given.closed_at is not None:
            raise InputError(f"job {given.code} was closed on {given.closed_at[:10]}; open it again or give another")
        return given
    named = _named_in(journal, text)
    if named is not None:
        return named
    vehicle = vehicle or vehicle_named_in(journal, text)
    if vehicle is None:
        return None
    row = journal.row(
        "SELECT * FROM jobs WHERE vehicle = ? COLLATE NOCASE AND closed_at IS NULL ORDER BY opened_at DESC, id DESC",
        (vehicle,),
    )
    return job_of(row) if row else None


def _named_in(journal: Journal, text: str) -> Job | None:
    for found in _JOB_SAID.finditer(text):
        job = job_by_code(journal, found.group(1))
        if job is not None and job.closed_at is None:
            return job
    return None


def vehicles(journal: Journal) -> list[str]:
    """The names of all vehicles that a job was opened for."""
    return [row[0] for row in journal.rows("SELECT DISTINCT vehicle FROM jobs WHERE vehicle IS NOT NULL")]


def vehicle_named_in(journal: Journal, text: str, among: Iterable[str] | None = None) -> str | None:
    """The one known vehicle whose name, or its first two words, stands in the text; None where several do."""
    low = f" {' '.join(re.findall(r'[a-z0-9.]+', text.lower()))} "
    hits = []
    for name in vehicles(journal) if among is None else among:
        words = re.findall(r"[a-z0-9.]+", name.lower())
        short = " ".join(words[:2])
        if f" {' '.join(words)} " in low or (len(words) >= 2 and f" {short} " in low):
            hits.append(name)
    return hits[0] if len(set(hits)) == 1 else None


def change_job(journal: Journal, code: str, *, revision: int | None = None, **fields: str | None) -> Job:
    """Set fields of a job (vehicle, sheet, complaint, closed_at, outcome); an optimistic check on `revision`."""
    with journal.write() as db:
        job = need_job(journal, code)
        if revision is not None and revision != job.revision:
            raise JournalError(f"job {job.code} was changed meanwhile by somebody else; look again and repeat")
        change(db, "jobs", {"id": job.id}, {**fields, "revision": job.revision + 1})
        return need_job(journal, code)


def close_job(journal: Journal, code: str, outcome: str, *, at: str) -> Job:
    """Close a job with its outcome. Raises InputError where it is closed already or has notes not reviewed."""
    job = need_job(journal, code)
    if job.closed_at is not None:
        raise InputError(f"job {job.code} was closed on {job.closed_at[:10]} already")
    waiting = journal.row(
        "SELECT count(*) AS n FROM drafts d JOIN notes n ON n.id = d.note_id JOIN visits v ON v.id = n.visit_id "
        "WHERE v.job_id = ? AND d.state = 'open'",
        (job.id,),
    )
    if waiting and waiting["n"]:
        raise InputError(f"job {job.code} has {waiting['n']} note(s) not reviewed yet; review them first")
    return change_job(journal, code, revision=job.revision, closed_at=at, outcome=outcome)


def reopen_job(journal: Journal, code: str) -> Job:
    """Open a closed job again; its outcome so far stays until it is closed anew. Raises InputError for no such job."""
    job = need_job(journal, code)
    return change_job(journal, code, revision=job.revision, closed_at=None)
