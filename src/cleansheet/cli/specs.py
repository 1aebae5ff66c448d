"""`cleansheet specs`: the vehicle sheets that are at hand, whether they hold together, and what one says."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cleansheet.terms import InputError, SpecError

from .common import complain, find_sheet, shop_folder, the_catalogue

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from cleansheet.catalogue import Catalogue, Sheet

app = typer.Typer(no_args_is_help=True)


@app.callback()
def specs() -> None:
    """Check and list vehicle spec sheets."""


@app.command("list")
def list_sheets(
    folders: Annotated[
        list[Path] | None, typer.Argument(help="Folders to look in; else ., sheets and the shop's.")
    ] = None,
) -> None:
    """List the vehicle sheets at hand: name, vehicle, how many tests have a limit.

    Example: cleansheet specs list
    """
    catalogue = the_catalogue()
    found = list(_files(folders or (Path(), Path("sheets"), shop_folder() / "sheets"), strict=folders is not None))
    shown = 0
    for path in found:
        try:
            sheet = _load(path, catalogue)
        except SpecError as err:
            first, *rest = str(err).splitlines()
            more = f" (and {len(rest)} more; see: cleansheet specs check {path})" if rest else ""
            complain(f"{first}{more}")
            continue
        shown += 1
        year = f", {sheet.vehicle.year}" if sheet.vehicle.year else ""
        typer.echo(f"{path.stem:<24} {sheet.vehicle.name}{year}: {len(sheet.specs)} tests  {path}")
    if not shown:
        typer.echo("No vehicle sheet found.")
        raise typer.Exit(1)


@app.command()
def check(paths: Annotated[list[Path], typer.Argument(help="Sheets, or folders of them.")]) -> None:
    """Check vehicle sheets: every fault with its line, every limit that a test could not show.

    Example: cleansheet specs check sheets
    """
    catalogue = the_catalogue()
    faults: list[str] = []
    files = list(_given(paths))
    for path in files:
        try:
            sheet = _load(path, catalogue)
        except SpecError as err:
            faults += str(err).splitlines()
            continue
        for warning in sheet.warnings:
            typer.echo(f"warning: {warning}")
        typer.echo(f"{path}: {len(sheet.specs)} tests, {len(sheet.warnings)} warnings")
    if faults:
        raise SpecError("\n".join(faults))


@app.command()
def show(named: Annotated[str, typer.Argument(help="A sheet's name or path.")]) -> None:
    """Show what a vehicle sheet says, part by part.

    Example: cleansheet specs show aldern-camper
    """
    catalogue = the_catalogue()
    _, path, sheet = find_sheet(named, catalogue)
    if sheet is None:
        raise InputError(f"{named}: no such vehicle sheet; see: cleansheet specs list")
    typer.echo("\n".join(_page(sheet, path or named, catalogue)))


def _page(sheet: Sheet, path: str, catalogue: Catalogue) -> Iterator[str]:
    from cleansheet.judge import condition_text, limit_text

    from .paint import paint, wrap

    vehicle = sheet.vehicle
    facts = (
        str(vehicle.year) if vehicle.year else "",
        vehicle.engine,
        f"{vehicle.cylinders} cylinders" if vehicle.cylinders else "",
    )
    yield paint(vehicle.name, "strong") + "".join(f", {fact}" for fact in facts if fact)
    yield paint(path, "dim")
    part = ""
    for test_id, limits in sheet.specs.items():
        test = catalogue.tests[test_id]
        if test.component != part:
            part = test.component
            yield f"  {catalogue.components[part].name}"
        for limit in limits:
            when = condition_text(limit.when)
            text = f"{test.name}: {limit_text(limit, conditions=False)}{f', {when}' if when else ''} ({limit.source})"
            yield wrap(text, 8, first="    ")
            yield from (wrap(row, 12, first="        ") for row in _rows(limit_rows=limit.points, unit=limit.unit))
    yield from (wrap(warning, 4, first="  ! ") for warning in sheet.warnings)
    yield paint(wrap(catalogue.authority, 0), "dim")


def _rows(limit_rows: Iterable[object], unit: str) -> Iterator[str]:
    from cleansheet.catalogue import Point
    from cleansheet.judge import band_text

    for row in limit_rows:
        if isinstance(row, Point):
            yield f"at {row.at:g}: {band_text(row.low, row.high, unit)}"


def _load(path: Path, catalogue: Catalogue) -> Sheet:
    from cleansheet.catalogue import load_sheet

    return load_sheet(path, catalogue)


def _given(paths: Iterable[Path]) -> Iterator[Path]:
    for path in paths:
        if path.is_dir():
            inside = sorted(path.glob("*.yaml"))
            if not inside:
                raise InputError(f"{path}: no vehicle sheets (*.yaml) in this folder")
            yield from inside
        elif path.is_file():
            yield path
        else:
            raise InputError(f"{path}: no such file or folder")


def _files(folders: Iterable[Path], *, strict: bool) -> Iterator[Path]:
    """YAML files that look like vehicle sheets; with `strict` a folder must be there."""
    for folder in folders:
        if strict and not folder.is_dir():
            raise InputError(f"{folder}: no such folder")
        for path in sorted(folder.glob("*.yaml")) if folder.is_dir() else ():
            try:
                head = path.read_text(encoding="utf-8")
            except (OSError, UnicodeDecodeError):
                continue
            if any(line.startswith("vehicle:") for line in head.splitlines()):
                yield path
