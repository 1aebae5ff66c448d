"""`cleansheet journal`: the file itself."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from cleansheet.terms import InputError, JournalError

from .common import JournalOption, the_journal
from .paint import paint

app = typer.Typer(no_args_is_help=True)


@app.callback()
def journal() -> None:
    """Look after the journal: back up, restore, verify, export, import."""


@app.command()
def where(journal: JournalOption = None) -> None:
    """Print the journal's path.

    Example: cleansheet journal where
    """
    from cleansheet.journal import default_path

    typer.echo(str(journal or default_path()))


@app.command()
def backup(
    to: Annotated[Path, typer.Argument(help="The copy's path; it must not be there yet.")],
    journal: JournalOption = None,
) -> None:
    """Copy the journal, also while it is in use, and verify the copy.

    Example: cleansheet journal backup /media/stick/journal-2026-11.sqlite
    """
    from cleansheet.journal import backup as copy

    with the_journal(journal) as book:
        copy(book, to)
    typer.echo(f"{to}: copied and verified")


@app.command()
def restore(
    copy: Annotated[Path, typer.Argument(help="The backup to bring back.")],
    journal: JournalOption = None,
) -> None:
    """Put a verified backup in the journal's place; what was there is kept beside it.

    Example: cleansheet journal restore /media/stick/journal-2026-11.sqlite
    """
    from cleansheet.journal import default_path
    from cleansheet.journal import restore as bring_back

    kept = bring_back(copy, journal or default_path())
    typer.echo("restored" + (f"; the former journal is {kept}" if kept else ""))


@app.command()
def verify(
    recordings: Annotated[bool, typer.Option("--recordings", help="Check the recordings as well.")] = False,
    journal: JournalOption = None,
) -> None:
    """Check the whole journal: structure, references, search index, every row's seal, every note's hash.

    Ends with exit code 1 where something does not hold.

    Example: cleansheet journal verify
    """
    from cleansheet.journal import verify as check

    with the_journal(journal) as book:
        checks = check(book, sounds=recordings)
    for one in checks:
        typer.echo(f"{paint('holds', 'good') if one.holds else paint('FAULT', 'bad')}  {one.name}")
        for fault in one.faults:
            typer.echo(f"       {fault}")
    if not all(one.holds for one in checks):
        typer.echo("The journal is damaged. Keep this file, and restore a backup: cleansheet journal restore FILE")
        raise typer.Exit(1)


@app.command("export")
def export(
    to: Annotated[str, typer.Argument(help="The file to write, or - for standard output.")] = "-",
    journal: JournalOption = None,
) -> None:
    """Write the whole journal as JSON Lines.

    Example: cleansheet journal export journal.jsonl
    """
    from cleansheet.journal import export_lines

    with the_journal(journal) as book:
        if to == "-":
            for line in export_lines(book):
                sys.stdout.write(line + "\n")
            return
        part = Path(f"{to}.part")
        try:
            with part.open("w", encoding="utf-8") as out:
                for line in export_lines(book):
                    out.write(line + "\n")
                out.flush()
                os.fsync(out.fileno())
            part.replace(to)
        except OSError as err:
            part.unlink(missing_ok=True)
            raise JournalError(f"{to}: cannot be written: {(err.strerror or str(err)).lower()}") from err


@app.command("import")
def import_(
    source: Annotated[str, typer.Argument(help="An exported file, or - for standard input.")],
    journal: JournalOption = None,
) -> None:
    """Fill a new journal from an exported one; all of it or nothing.

    Example: cleansheet journal import journal.jsonl --journal copy.sqlite
    """
    from cleansheet.journal import import_lines

    with the_journal(journal, create=True) as book:
        if source == "-":
            count = import_lines(book, sys.stdin, "standard input")
        else:
            try:
                with Path(source).open(encoding="utf-8") as lines:
                    count = import_lines(book, lines, source)
            except UnicodeDecodeError as err:
                raise InputError(f"{source}: not UTF-8 text; nothing was imported") from err
            except OSError as err:
                raise InputError(f"{source}: {(err.strerror or str(err)).lower()}") from err
    typer.echo(f"{count} rows imported")
