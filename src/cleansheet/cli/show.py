"""`cleansheet show`: a job as it stands."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Annotated, Any

import typer

from .common import JournalOption, JsonOption, print_json, the_catalogue, the_journal
from .paint import paint, wrap
from .records import MOST_REMARKS, record_json, recording_lines, said_line, table_lines
from .screen import name_of, quantity_words
from .unreviewed import lines_waiting

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Job, Record, Recording, Standing

_WORDS = {
    "failed": ("FAILED", "bad"),
    "suspect": ("suspect", "look"),
    "disturbed": ("worked on, not tested since", "look"),
    "unsettled": ("not settled, lines on it wait for review", "look"),
    "close": ("too close to call", "close"),
    "good": ("proven good", "good"),
    "cleared": ("ruled out", "good"),
    "measured": ("measured, no limit known", "dim"),
}


def show(
    job: Annotated[str, typer.Argument(help="The job's code.")],
    words: Annotated[bool, typer.Option("--words", help="Show the words as said below each line.")] = False,
    lines: Annotated[bool, typer.Option("--lines/--no-lines", help="Show every signed line.")] = True,
    json_: JsonOption = False,
    journal: JournalOption = None,
) -> None:
    """Show a job: where each system stands, what is open, every signed line.

    Example: cleansheet show 2026-001
    """
    from cleansheet.journal import need_job, of_job, recordings, standing, waiting

    catalogue = the_catalogue()
    with the_journal(journal) as book:
        found = need_job(book, job)
        records = of_job(book, found.id)
        drafts = waiting(book, job=found.code)
        heard = recordings(book, (record.note_id for record in records))
    unreviewed = len(drafts)
    now = datetime.now().astimezone().replace(tzinfo=None)
    stands = standing(records, catalogue, now, waiting=lines_waiting(drafts))
    if json_:
        print_json(job_json(found, records, stands, unreviewed, heard))
        return
    typer.echo("\n".join(job_lines(found, records, stands, unreviewed, catalogue)))
    if lines and records:
        typer.echo()
        rows = table_lines(records, catalogue)
        typer.echo(next(rows))
        for record, row in zip(records, rows, strict=True):
            typer.echo(row)
            if words:
                typer.echo(said_line(record))
    for row in recording_lines(heard, most=None if words else MOST_REMARKS):
        typer.echo(row)
    typer.echo(paint(wrap(catalogue.authority, 0), "dim"))


def job_lines(
    job: Job, records: list[Record], stands: Standing, unreviewed: int, catalogue: Catalogue
) -> Iterator[str]:
    """The head of a job's page and its standing."""
    state = f"closed {job.closed_at[:10]}: {job.outcome}" if job.closed_at else "open"
    yield paint(f"Job {job.code}, {job.vehicle or 'no vehicle named'}, opened {job.opened_at[:10]}, {state}", "strong")
    if job.complaint:
        yield wrap(f"Complaint: {job.complaint}", 2)
    visits = len({record.happened_at[:10] for record in records})
    yield f"{len(records)} signed lines over {visits} day{'s' if visits != 1 else ''}"
    if unreviewed:
        yield paint(f"{unreviewed} note{'s' if unreviewed != 1 else ''} not reviewed, and not counted below", "look")
    yield ""
    yield from _system_lines(stands, catalogue)
    for heading, found in (("Open questions", stands.questions), ("To do and to order", stands.todos)):
        if found:
            yield paint(heading, "dim")
            for one in found:
                since = f" (since then: {len(one.since)} on this part)" if one.since else ""
                yield wrap(f"{one.record.happened_at[:10]}  {one.record.quote}{since}", 14, first="  ")
    if stands.timed:
        yield paint("Left to stand", "dim")
        for timed in stands.timed:
            yield wrap(
                f"{timed.record.quote}: {left_words(timed.left)}, at {timed.due.replace('T', ' ')}", 14, first="  "
            )


def left_words(left: timedelta) -> str:
    """How long is left, or how long it is over: "12 min left", "over by 2 h 5 min"."""
    minutes = round(abs(left.total_seconds()) / 60)
    days, rest = divmod(minutes, 1440)
    hours, mins = divmod(rest, 60)
    text = " ".join(f"{count} {unit}" for count, unit in ((days, "d"), (hours, "h"), (mins, "min")) if count) or "0 min"
    return f"{text} left" if left.total_seconds() > 0 else f"over by {text}"


def _system_lines(stands: Standing, catalogue: Catalogue) -> Iterator[str]:
    for system in stands.systems:
        yield paint(system.system.capitalize(), "strong")
        for part in system.parts:
            words, tone = _WORDS[part.state]
            last = part.because[-1]
            what = quantity_words(last.item.quantity) or last.quote
            yield wrap(
                f"{name_of(part.component, catalogue)}: {words} ({' '.join(what.split())}, {part.since[:10]})", 6,
                first=f"  {paint('*', tone)} ",
            )  # fmt: skip
        if system.untested:
            names = ", ".join(name_of(one, catalogue) for one in system.untested)
            yield wrap(f"untested: {names}", 6, first="  - ")


def job_json(
    job: Job, records: list[Record], stands: Standing, unreviewed: int, heard: Sequence[Recording] = ()
) -> dict[str, Any]:
    """The job for other programs: its head, its standing, its lines."""
    remarks = {one.note_id: one.remarks for one in heard}
    return {
        "job": asdict(job),
        "not_reviewed": unreviewed,
        "systems": [
            {
                "system": system.system,
                "parts": [
                    {
                        "component": part.component,
                        "state": part.state,
                        "since": part.since,
                        "waiting": part.waiting,
                        "because": [one.id for one in part.because],
                    }
                    for part in system.parts
                ],
                "untested": list(system.untested),
            }
            for system in stands.systems
        ],
        "questions": [
            {"id": one.record.id, "quote": one.record.quote, "since": [r.id for r in one.since]}
            for one in stands.questions
        ],
        "todos": [
            {"id": one.record.id, "quote": one.record.quote, "since": [r.id for r in one.since]} for one in stands.todos
        ],
        "timed": [
            {
                "id": one.record.id,
                "quote": one.record.quote,
                "due": one.due,
                "left_min": round(one.left.total_seconds() / 60),
            }
            for one in stands.timed
        ],
        "lines": [record_json(record, remarks.get(record.note_id, ())) for record in records],
    }
