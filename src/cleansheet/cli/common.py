"""What the commands share: options, who and when, the shop's folder, the catalogue, sheets as the user names them."""

from __future__ import annotations

import os
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cleansheet.terms import InputError

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue, Sheet
    from cleansheet.journal import Journal

SHOP = "CLEANSHEET_SHOP"

JournalOption = Annotated[
    Path | None,
    typer.Option("--journal", metavar="PATH", help="The journal's file (or CLEANSHEET_JOURNAL).", show_default=False),
]
WhoOption = Annotated[
    str | None, typer.Option("--who", help="Who you are (or CLEANSHEET_WHO; else the login name).", show_default=False)
]
VehicleOption = Annotated[
    str | None,
    typer.Option("--vehicle", metavar="SHEET", help="The vehicle: its sheet's path or name, or just its name."),
]
JobOption = Annotated[str | None, typer.Option("--job", metavar="CODE", help="The job's code.")]
JsonOption = Annotated[bool, typer.Option("--json", help="Print JSON alone, for other programs.")]


def person(given: str | None) -> str:
    """Who works: as given, from CLEANSHEET_WHO, else the login name."""
    name = (given or os.environ.get("CLEANSHEET_WHO") or "").strip()
    if name:
        return name
    import getpass

    try:
        return getpass.getuser()
    except (KeyError, OSError):
        raise InputError("who are you? give a name with --who") from None


def now() -> str:
    """The bench computer's local time, to the second (ISO 8601)."""
    return datetime.now().astimezone().replace(tzinfo=None).isoformat(timespec="seconds")


def shop_folder() -> Path:
    """The user's own folder: `catalogue/` with names, tests and limits of the shop, `sheets/` with vehicle sheets."""
    named = os.environ.get(SHOP)
    if named:
        return Path(named).expanduser()
    from platformdirs import user_config_path

    return user_config_path("cleansheet", appauthor=False)


def the_catalogue() -> Catalogue:
    """The trade's catalogue with the shop's own files over it."""
    from cleansheet.catalogue import load

    own = shop_folder() / "catalogue"
    return load(own if own.is_dir() else None)


def the_journal(path: Path | None, *, create: bool = False) -> Journal:
    from cleansheet.journal import open_journal

    return open_journal(path, create=create)


def find_sheet(named: str, catalogue: Catalogue) -> tuple[str, str | None, Sheet | None]:
    """(vehicle's name, sheet's path, sheet) for what the user named: a path, a sheet's name, or only a vehicle's name.

    Raises InputError where a path was meant and nothing is there.
    """
    from cleansheet.catalogue import load_sheet

    path = sheet_path(named)
    if path is not None:
        sheet = load_sheet(path, catalogue)
        return sheet.vehicle.name, str(path.resolve()), sheet
    if "/" in named or named.endswith((".yaml", ".yml")):
        raise InputError(f"{named}: no such vehicle sheet")
    return named, None, None


def sheet_path(named: str) -> Path | None:
    """Where the sheet of that name or path is, or None."""
    given = Path(named).expanduser()
    if given.is_file():
        return given
    file = named if named.endswith((".yaml", ".yml")) else f"{named.strip().lower().replace(' ', '-')}.yaml"
    for folder in (Path(), Path("sheets"), shop_folder() / "sheets"):
        if (folder / file).is_file():
            return folder / file
    return None


def kept_sheet(path: str | None, catalogue: Catalogue) -> Sheet | None:
    """The sheet that a job was opened with, or None; says on standard error where it has gone."""
    if not path:
        return None
    from cleansheet.catalogue import load_sheet

    if not Path(path).is_file():
        complain(f"{path}: the job's vehicle sheet is not there any more; judging by general rules")
        return None
    return load_sheet(Path(path), catalogue)


def complain(message: str) -> None:
    """One line on standard error."""
    sys.stderr.write(f"cleansheet: {message}\n")


def print_json(value: Any) -> None:
    """One line of JSON on standard output, undecorated."""
    import json

    sys.stdout.write(json.dumps(value, ensure_ascii=False) + "\n")
