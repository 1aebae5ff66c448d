"""`cleansheet job`: open, list, change and close jobs; change a signed line with a reason."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated

import typer

from .common import (
    JournalOption,
    JsonOption,
    VehicleOption,
    WhoOption,
    find_sheet,
    now,
    person,
    print_json,
    the_catalogue,
    the_journal,
)

app = typer.Typer(no_args_is_help=True)

CODE = Annotated[str, typer.Argument(help="The job's code.")]


@app.callback()
def job() -> None:
    """Open, list, change and close jobs."""


@app.command("open")
def open_(
    vehicle: VehicleOption = None,
    complaint: Annotated[str | None, typer.Option("--complaint", help="What the customer says.")] = None,
    code: Annotated[str | None, typer.Option("--code", help="Its code; by default the year's next number.")] = None,
    journal: JournalOption = None,
) -> None:
    """Open a job; notes on its vehicle go to it while it is open.

    Example: cleansheet job open --vehicle aldern-camper --complaint "cuts out hot"
    """
    from cleansheet.journal import open_job

    name, sheet, _ = find_sheet(vehicle, the_catalogue()) if vehicle else (None, None, None)
    with the_journal(journal, create=True) as book:
        opened = open_job(book, vehicle=name, sheet=sheet, complaint=complaint, code=code, at=now())
    typer.echo(f"job {opened.code} is open" + (f" for {opened.vehicle}" if opened.vehicle else ""))


@app.command("list")
def list_(
    open_only: Annotated[bool, typer.Option("--open", help="Only those not closed.")] = False,
    json_: JsonOption = False,
    journal: JournalOption = None,
) -> None:
    """List the jobs, newest first.

    Example: cleansheet job list --open
    """
    from cleansheet.journal import jobs

    with the_journal(journal) as book:
        found = jobs(book, open_only=open_only)
    for one in found:
        if json_:
            print_json(asdict(one))
            continue
        state = f"closed {one.closed_at[:10]}: {one.outcome}" if one.closed_at else "open"
        typer.echo(
            f"{one.code:<10} {one.opened_at[:10]}  {one.vehicle or '-':<24} {state}  {one.complaint or ''}".rstrip()
        )
    if not found and not json_:
        typer.echo("No jobs.")


@app.command("close")
def close(
    code: CODE,
    outcome: Annotated[str, typer.Option("--outcome", help="How it ended.")],
    journal: JournalOption = None,
) -> None:
    """Close a job with its outcome; everything of it must be reviewed.

    Example: cleansheet job close 2026-001 --outcome "coil replaced, road test good"
    """
    from cleansheet.journal import close_job

    with the_journal(journal) as book:
        closed = close_job(book, code, outcome, at=now())
    typer.echo(f"job {closed.code} is closed: {closed.outcome}")


@app.command("reopen")
def reopen(code: CODE, journal: JournalOption = None) -> None:
    """Open a closed job again; its outcome so far is kept until it is closed anew.

    Example: cleansheet job reopen 2026-001
    """
    from cleansheet.journal import reopen_job

    with the_journal(journal) as book:
        typer.echo(f"job {reopen_job(book, code).code} is open again")


@app.command("move")
def move(
    note: Annotated[int, typer.Argument(help="The note's number (`cleansheet review --json` tells it).")],
    code: CODE,
    journal: JournalOption = None,
) -> None:
    """Put a note that is not signed yet under another job.

    Example: cleansheet job move 12 2026-001
    """
    from cleansheet.journal import move_note

    with the_journal(journal) as book:
        move_note(book, note, code)
    typer.echo(f"note {note} goes to job {code}")


@app.command("amend")
def amend(
    line: Annotated[int, typer.Argument(help="The signed line's number (`cleansheet find --json` tells it).")],
    why: Annotated[str, typer.Option("--why", help="The reason; it is kept with the change.")],
    value: Annotated[str | None, typer.Option("--value", help="The right value, with its unit.")] = None,
    test: Annotated[str | None, typer.Option("--test", help="The right test's id.")] = None,
    component: Annotated[str | None, typer.Option("--component", help="The right part, by any name.")] = None,
    position: Annotated[str | None, typer.Option("--position", help="Which one it is.")] = None,
    finding: Annotated[str | None, typer.Option("--finding", help="What was found.")] = None,
    kind: Annotated[str | None, typer.Option("--kind", help="What kind of line it is.")] = None,
    who: WhoOption = None,
    journal: JournalOption = None,
) -> None:
    """Change a signed line, as a new revision with a reason; its earlier states stay.

    Example: cleansheet job amend 31 --value "9.4 kohm" --why "read the meter's range wrong"
    """
    from cleansheet.flow import amend_line
    from cleansheet.journal import need_job, record

    from .common import kept_sheet
    from .naming import component_of, quantity_fields

    catalogue = the_catalogue()
    with the_journal(journal) as book:
        old = record(book, line)
        fields = quantity_fields(value, old.item) if value else {}
        given = {
            "test": test,
            "component": component_of(component, catalogue) if component else None,
            "position": position,
            "finding": finding,
            "kind": kind,
        }
        fields.update({key: one for key, one in given.items() if one is not None})
        sheet = kept_sheet(need_job(book, old.job).sheet, catalogue)
        new = amend_line(book, old, fields, catalogue, sheet, who=person(who), at=now(), why=why)
    typer.echo(f"line {new.id} is now revision {new.revision}")


@app.command("history")
def history(
    line: Annotated[int, typer.Argument(help="The signed line's number.")],
    json_: JsonOption = False,
    journal: JournalOption = None,
) -> None:
    """Show every state of a signed line: who, when, why.

    Example: cleansheet job history 31
    """
    from cleansheet.journal import record, recordings, revisions

    from .records import recording_lines
    from .screen import number

    with the_journal(journal) as book:
        found = revisions(book, line)
        heard = recordings(book, [record(book, line).note_id])
    for one in found:
        if json_:
            print_json({"revision": one.number, "who": one.who, "at": one.at, "why": one.why, "row": dict(one.row)})
            continue
        value = one.row["value"]
        shown = f"{number(value)} {one.row['unit'] or ''}".strip() if value is not None else one.row["quote"]
        typer.echo(
            f"{one.number:>3}  {one.at[:16].replace('T', ' ')}  {one.who}: {shown}  "
            f"{one.row['test'] or one.row['component'] or ''}  {one.why or 'signed'}"
        )
    if not json_:
        for row in recording_lines(heard, most=None):
            typer.echo(row)
