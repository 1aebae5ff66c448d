"""`cleansheet judge`: one reading in, its verdict, reason and cautions out. Nothing is stored."""

from __future__ import annotations

from typing import Annotated

import typer

from .common import JsonOption, VehicleOption, find_sheet, print_json, the_catalogue


def judge(
    words: Annotated[list[str], typer.Argument(help="What was measured or found, in your own words.")],
    vehicle: VehicleOption = None,
    accuracy: Annotated[
        str | None,
        typer.Option("--accuracy", metavar="TEXT", help="The instrument's accuracy, such as '0.5 % + 2 digits'."),
    ] = None,
    json_: JsonOption = False,
) -> None:
    """Judge one reading against its limits.

    Example: cleansheet judge "coil secondary 7.2 ohms"
    """
    from cleansheet.flow import draft, typed_note
    from cleansheet.judge import judge as judge_items
    from cleansheet.judge import meter_for_all, parse_accuracy

    catalogue = the_catalogue()
    meter = parse_accuracy(accuracy) if accuracy else None
    sheet = find_sheet(vehicle, catalogue)[2] if vehicle else None
    note = typed_note(" ".join(words))
    drafted = draft(note, catalogue, sheet)
    if meter is not None:
        drafted = judge_items(drafted.items, note, catalogue, sheet, accuracy=meter_for_all(meter, drafted.items))
    readings = [item for item in drafted.items if item.kind == "reading"]
    if json_:
        from cleansheet.terms.draft_json import draft_to_json

        print_json(draft_to_json(drafted))
    else:
        from .screen import caution_lines, derived_lines, line_lines

        if not readings:
            typer.echo("No reading in these words.")
        for item in readings:
            for line in line_lines(
                "", item, note.text, catalogue, looks=[flag.replace("_", " ") for flag in item.flags]
            ):
                typer.echo(line)
        typer.echo("\n".join([*derived_lines(drafted), *caution_lines(drafted, catalogue)]))
    raise typer.Exit(0 if readings else 1)
