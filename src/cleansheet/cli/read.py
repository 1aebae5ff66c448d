"""`cleansheet read`: drafts on the screen or as JSON, nothing stored."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cleansheet.terms import CleansheetError, InputError

from .common import JsonOption, VehicleOption, complain, find_sheet, print_json, the_catalogue
from .take import AtOption, DeviceOption, PartialOption, ThreadsOption, WeightsOption, said_at

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cleansheet.catalogue import Catalogue, Sheet

    from .hearing import Listening


def read(
    notes: Annotated[list[str] | None, typer.Argument(help="Files, folders, or - for standard input.")] = None,
    vehicle: VehicleOption = None,
    at: AtOption = None,
    json_: JsonOption = False,
    why: Annotated[bool, typer.Option("--why", help="Say which rule and which words made each line.")] = False,
    jsonl: Annotated[
        Path | None, typer.Option("--jsonl", metavar="FILE", help="Read many notes, one JSON object a line.")
    ] = None,
    specs: Annotated[
        Path | None, typer.Option("--specs", metavar="DIR", help="With --jsonl: the folder of the sheets it names.")
    ] = None,
    mentions: Annotated[
        bool, typer.Option("--mentions", help="With --jsonl: only the quantities of each line's `text`.")
    ] = False,
    weights: WeightsOption = None,
    device: DeviceOption = "auto",
    threads: ThreadsOption = None,
    partial: PartialOption = False,
) -> None:
    """Draft notes and print them; nothing is stored.

    With --json the draft sheet's JSON form, one draft a line; `file` stands beside it where several files are given.
    With --jsonl each line's `text`, `date` and `sheet` (DIR/<sheet>.yaml) are read, whatever else it holds is not,
    and {"id", "draft"} lines come out; with --mentions {"id", "found"} lines.

    Example: cleansheet read morning.txt --why
    """
    from .hearing import Listening

    listening = Listening(weights, device, threads, partial)
    catalogue = the_catalogue()
    if jsonl is not None:
        if notes:
            raise InputError("give notes or --jsonl, not both")
        for out in _mention_lines(jsonl) if mentions else _draft_lines(jsonl, specs, catalogue):
            print_json(out)
        return
    if mentions or specs is not None:
        raise InputError("--mentions and --specs go with --jsonl")
    if not notes:
        raise InputError("no note given; name a file, a folder, or - for standard input")
    sheet = find_sheet(vehicle, catalogue)[2] if vehicle else None
    failed = _print_all(notes, catalogue, sheet, at=said_at(at), as_json=json_, why=why, listening=listening)
    if failed:
        raise typer.Exit(failed)


def _print_all(
    notes: list[str],
    catalogue: Catalogue,
    sheet: Sheet | None,
    *,
    at: str | None,
    as_json: bool,
    why: bool,
    listening: Listening,
) -> int:
    from cleansheet.flow import draft, note_files

    from .hearing import hear
    from .screen import draft_json_line, draft_lines, note_heading, why_lines

    paths = list(note_files(notes))
    several = len(paths) > 1 or any(Path(name).is_dir() for name in notes)
    failed = 0
    for path in paths:
        try:
            note, _, _ = hear(path, catalogue, at=at, listening=listening, vehicle=sheet)
            if note is None:
                continue
            drafted = draft(note, catalogue, sheet)
        except CleansheetError as err:
            if not several:
                raise
            complain(str(err))
            failed = failed or err.exit_code
            continue
        if as_json:
            print_json(draft_json_line(drafted, **({"file": str(path)} if several else {})))
            continue
        typer.echo("\n".join(draft_lines(drafted, catalogue, note_heading(drafted))))
        if why:
            typer.echo("\n".join(["", "Why each line", *why_lines(drafted)]))
        if several:
            typer.echo()
    return failed


def _lines_of(path: Path) -> Iterator[dict[str, Any]]:
    from cleansheet.flow import decode_text

    try:
        data = sys.stdin.buffer.read() if str(path) == "-" else path.read_bytes()
    except OSError as err:
        raise InputError(f"{path}: {(err.strerror or str(err)).lower()}") from err
    for place, line in enumerate(decode_text(data, str(path)).split("\n"), 1):
        if not line.strip():
            continue
        try:
            found = json.loads(line)
        except ValueError as err:
            raise InputError(f"{path}:{place}: not JSON ({err}); one object a line is needed") from err
        if not isinstance(found, dict) or not isinstance(found.get("text"), str) or "id" not in found:
            raise InputError(f"{path}:{place}: each line needs an id and a text")
        yield found


def _draft_lines(path: Path, specs: Path | None, catalogue: Catalogue) -> Iterator[dict[str, Any]]:
    from cleansheet.flow import draft, typed_note
    from cleansheet.terms import Draft, Note
    from cleansheet.terms.draft_json import draft_to_json

    sheets: dict[str, Sheet | None] = {}
    for line in _lines_of(path):
        named = line.get("sheet")
        if named and named not in sheets:
            sheets[named] = _sheet_in(specs, named, catalogue)
        if not line["text"].strip():
            drafted = Draft(Note(text=line["text"], recorded_at=line.get("date")))
        else:
            note = typed_note(line["text"], str(line["id"]), line.get("date"))
            drafted = draft(note, catalogue, sheets[named] if named else None)
        yield {"id": line["id"], "draft": draft_to_json(drafted)}


def _sheet_in(specs: Path | None, named: str, catalogue: Catalogue) -> Sheet:
    from cleansheet.catalogue import load_sheet

    if specs is None:
        raise InputError(f"the notes name the sheet {named!r}; say where sheets are with --specs DIR")
    path = specs / f"{named}.yaml"
    if not path.is_file():
        raise InputError(f"{path}: no such vehicle sheet")
    return load_sheet(path, catalogue)


def _mention_lines(path: Path) -> Iterator[dict[str, Any]]:
    from cleansheet.read.quantities import mentions

    for line in _lines_of(path):
        yield {"id": line["id"], "found": mentions(line["text"])}
