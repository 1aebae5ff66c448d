"""`cleansheet find`: one question brings back what was signed."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path  # noqa: TC003 - read by the framework at run time
from typing import TYPE_CHECKING, Annotated

import typer

from cleansheet.terms import InputError

from .common import JournalOption, JsonOption, print_json, the_catalogue, the_journal

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Found, Query, Record, Span

Many = list[str] | None


def find(
    words: Annotated[Many, typer.Argument(help="What to find, in your own words.")] = None,
    component: Annotated[Many, typer.Option("--component", help="A part, by any of its names.")] = None,
    test: Annotated[
        Many, typer.Option("--test", help="A test's id, such as ignition-coil.secondary-resistance.")
    ] = None,
    value: Annotated[Many, typer.Option("--value", help="A value with its unit, such as 'above 9 kohm'.")] = None,
    verdict: Annotated[Many, typer.Option("--verdict", help="in_spec, out_of_spec, too_close or no_spec.")] = None,
    finding: Annotated[Many, typer.Option("--finding", help="A finding, such as leaking.")] = None,
    kind: Annotated[Many, typer.Option("--kind", help="reading, action, question and so on.")] = None,
    vehicle: Annotated[Many, typer.Option("--vehicle", help="A vehicle's name.")] = None,
    job: Annotated[Many, typer.Option("--job", metavar="CODE", help="A job's code.")] = None,
    signed_by: Annotated[Many, typer.Option("--signed-by", help="Who signed it.")] = None,
    since: Annotated[
        str | None, typer.Option("--since", metavar="DAY", help="From that day on, in date words.")
    ] = None,
    until: Annotated[str | None, typer.Option("--until", metavar="DAY", help="Up to that day.")] = None,
    text: Annotated[Many, typer.Option("--text", help="Words that were said.")] = None,
    latest: Annotated[bool, typer.Option("--latest", help="Only the newest of each test and position.")] = False,
    limit: Annotated[int, typer.Option("--limit", min=1, help="How many to show at most.")] = 50,
    every: Annotated[bool, typer.Option("--every", help="All of them.")] = False,
    words_too: Annotated[bool, typer.Option("--words", help="Show the words as said below each line.")] = False,
    rows: Annotated[
        bool | None,
        typer.Option("--rows/--story", help="Rows, or the story: readings over time, work done, what is open."),
    ] = None,
    plot: Annotated[
        Path | None, typer.Option("--plot", metavar="FILE", help="Draw the readings as .png or .svg.")
    ] = None,
    json_: JsonOption = False,
    csv_: Annotated[bool, typer.Option("--csv", help="Print CSV alone.")] = False,
    journal: JournalOption = None,
) -> None:
    """Find what the journal says of a part, newest first.

    A part alone gives its story: readings by test over time with their limits, work done, open questions. Words may
    name parts (misspelt or misheard as well), tests, values in any unit, verdicts, findings, vehicles, jobs, people,
    dates, and anything else that was said. Ends with exit code 1 where there is no record.

    Example: cleansheet find coil secondary above 9 kohm since March
    """
    catalogue = the_catalogue()
    with the_journal(journal) as book:
        query = _query(
            book, catalogue, " ".join(words or ()),
            component=component, test=test, value=value, verdict=verdict, finding=finding, kind=kind, vehicle=vehicle,
            job=job, signed_by=signed_by, since=since, until=until, text=text,
        )  # fmt: skip
        if latest:
            query = replace(query, latest=True)
        from cleansheet.journal import find as search
        from cleansheet.journal import last_replaced, recordings

        from .unreviewed import waiting_line, waiting_on

        found = search(book, query, catalogue, today=_today(), limit=None if every or plot else limit)
        as_story = query.only_parts if rows is None else not rows
        heard = recordings(book, (record.note_id for record in found.records))
        unreviewed = waiting_on(book, query) if not (json_ or csv_) else {}
        replaced = last_replaced(book, query, catalogue, today=_today()) if as_story and found.records else None
    if json_:
        from .records import record_json

        remarks = {one.note_id: one.remarks for one in heard}
        for record in found.records:
            print_json(record_json(record, remarks.get(record.note_id, ())))
    elif csv_:
        _print_csv(found)
    else:
        from .records import recording_lines

        _print(found, catalogue, words_too=words_too, as_story=as_story, replaced=replaced)
        for line in (*recording_lines(heard), waiting_line(unreviewed, catalogue)):
            if line:
                typer.echo(line)
    if plot is not None and found.records:
        from .plotting import plot_story

        typer.echo(f"drawn: {plot_story(found.records, catalogue, plot)}", err=json_ or csv_)
    if not found.records:
        raise typer.Exit(1)


def _today() -> date:
    return datetime.now().astimezone().date()


def _query(book: object, catalogue: Catalogue, said: str, **options: list[str] | str | None) -> Query:
    from cleansheet.journal import Journal, known, parse_query
    from cleansheet.terms import FINDINGS, KINDS, VERDICTS

    from .naming import component_of

    if not isinstance(book, Journal):  # pragma: no cover - for the type checker
        raise TypeError
    query = parse_query(said, catalogue, known(book), _today())
    many = {key: tuple(value or ()) for key, value in options.items() if not isinstance(value, str)}
    for name, choices in (
        ("verdict", VERDICTS),
        ("finding", FINDINGS),
        ("kind", KINDS),
        ("test", tuple(catalogue.tests)),
    ):
        for one in many[name]:
            if one not in choices:
                near = _near(one, choices)
                raise InputError(
                    f"--{name} {one!r}: " + (f"did you mean {near}?" if near else f"one of {', '.join(choices[:24])}")
                )
    spans = [span for one in many["value"] for span in _spans(one)]
    return replace(
        query,
        components=(*query.components, *(component_of(one, catalogue) for one in many["component"])),
        tests=(*query.tests, *many["test"]),
        values=(*query.values, *spans),
        verdicts=(*query.verdicts, *many["verdict"]),
        findings=(*query.findings, *many["finding"]),
        kinds=(*query.kinds, *many["kind"]),
        vehicles=(
            *query.vehicles,
            *(name for one in many["vehicle"] for name in _vehicles(one, known(book).vehicles_starting)),
        ),
        jobs=(*query.jobs, *many["job"]),
        who=(*query.who, *many["signed_by"]),
        since=_day(options["since"], 0) or query.since,
        until=_day(options["until"], 1) or query.until,
        text=(*query.text, *many["text"]),
    )


def _near(word: str, choices: tuple[str, ...]) -> str | None:
    import difflib

    return next(iter(difflib.get_close_matches(word.lower().replace(" ", "_"), choices, n=1, cutoff=0.6)), None)


def _spans(said: str) -> tuple[Span, ...]:
    from cleansheet.journal.values import take_values

    spans, rest = take_values(said)
    if not spans or rest.strip():
        raise InputError(f"--value {said!r}: write a value with its unit, such as 'above 9 kohm' or '2 to 3 bar'")
    return spans


def _vehicles(said: str, starting: Callable[[str], Sequence[str]]) -> tuple[str, ...]:
    """The vehicles of that name, or all whose names start so; what is asked where there are none."""
    names = tuple(starting(said))
    return tuple(name for name in names if name.lower() == said.lower()) or names or (said,)


def _day(said: list[str] | str | None, end: int) -> str | None:
    if not isinstance(said, str):
        return None
    from cleansheet.dates import span_of

    span = span_of(said, _today())
    if span is None:
        raise InputError(f"{said!r} is no date; such as 2026-03-14, 'March 2026' or 'last year'")
    return span[end]


def _print_csv(found: Found) -> None:
    import csv

    from .records import csv_rows

    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerows(csv_rows(found.records))


def _print(found: Found, catalogue: Catalogue, *, words_too: bool, as_story: bool, replaced: Record | None) -> None:
    from .records import said_line, table_lines

    for said, name in found.query.guessed:
        typer.echo(f"({said!r} taken for {name})")
    if found.query.unknown and found.records:
        typer.echo(f"(looked up as words said: {' '.join(found.query.unknown)})")
    if not found.records:
        typer.echo(f"No record of {found.query.said or 'this'}.")
        if found.nearest:
            names = dict.fromkeys(catalogue.components[one.component].name for one in found.nearest)
            typer.echo(f"Nearest names: {', '.join(names)}")
        return
    if as_story:
        from .storytelling import story_lines

        typer.echo("\n".join(story_lines(found.records, catalogue, replaced)))
        _print_foot(found)
        return
    lines = table_lines(found.records, catalogue)
    typer.echo(next(lines))
    for record, line in zip(found.records, lines, strict=True):
        typer.echo(line)
        if words_too:
            typer.echo(said_line(record))
    _print_foot(found)


def _print_foot(found: Found) -> None:
    shown = len(found.records)
    if found.counted_out:
        typer.echo(f"{shown} of more than {found.total} (newest first; --every for all)")
    elif found.total > shown and not found.query.latest:
        typer.echo(f"{shown} of {found.total} (newest first; --every for all)")
    else:
        typer.echo(f"{shown} record{'s' if shown != 1 else ''}")
