"""`cleansheet find`: what the journal says of a part."""

from __future__ import annotations

from typing import Annotated

import typer

from .common import JournalOption, JsonOption, print_json, the_catalogue, the_journal


def find(
    words: Annotated[list[str], typer.Argument(help="The part, by any of its names.")],
    json_: JsonOption = False,
    journal: JournalOption = None,
) -> None:
    """Find what the journal says of a part, newest first.

    Example: cleansheet find ignition coil
    """
    from cleansheet.journal import find as search
    from cleansheet.terms.draft_json import item_to_json

    from .screen import line_lines, name_of

    catalogue = the_catalogue()
    named = " ".join(words).lower()
    component = next(
        (
            part.id
            for part in catalogue.components.values()
            if named in {part.id, part.name.lower(), *(name.lower() for name in part.also)}
        ),
        None,
    )
    with the_journal(journal) as book:
        records = search(book, component) if component else []
    if json_:
        for record in records:
            print_json({"job": record.job, "at": record.happened_at, **item_to_json(record.item, record.said)})
        raise typer.Exit(0 if records else 1)
    if not records:
        typer.echo(f"No record of {name_of(component, catalogue) or named!r} in the journal.")
        raise typer.Exit(1)
    for record in records:
        typer.echo(f"{record.happened_at[:16].replace('T', ' ')}  job {record.job}  {record.vehicle or ''}  signed by {record.signed_by}")
        typer.echo("\n".join(line_lines("", record.item, record.said, catalogue)))
        typer.echo(f"           \"{record.said}\"")
