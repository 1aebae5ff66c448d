"""`cleansheet shopnames`: the shop's own names for parts, learned from corrections, kept as YAML, taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from cleansheet.terms import InputError, SpecError

from .common import JsonOption, now, print_json, shop_folder, the_catalogue
from .keys import read_key

if TYPE_CHECKING:
    from pathlib import Path

    from cleansheet import review as rv

    from .desk import Desk

FILE = "learned-names.yaml"
_HEAD = (
    "# The shop's own names for parts. Learned at the review, read by every take. Take one back with\n"
    "# `cleansheet shopnames forget NAME`, or edit this file: it has the form of the catalogue's own files.\n"
)

app = typer.Typer(no_args_is_help=True)


@app.callback()
def shopnames() -> None:
    """The shop's own names for parts, learned from corrections."""


@app.command("list")
def list_(json_: JsonOption = False) -> None:
    """List the shop's own names.

    Example: cleansheet shopnames list
    """
    names = learned()
    for component, also in sorted(names.items()):
        for name in also:
            if json_:
                print_json({"name": name, "component": component})
            else:
                typer.echo(f"{name:<28} {component}")
    if not names and not json_:
        typer.echo("No names of the shop's own yet.")


@app.command()
def teach(
    name: Annotated[str, typer.Argument(help="The name, as it is said.")],
    component: Annotated[str, typer.Argument(help="The part, by any name.")],
) -> None:
    """Give a part one more name; every later take knows it.

    Example: cleansheet shopnames teach "coal pack" "ignition coil"
    """
    from .naming import component_of

    part = component_of(component, the_catalogue())
    remember(name, part)
    typer.echo(f"{name!r} is {part} from now on")


@app.command()
def forget(name: Annotated[str, typer.Argument(help="The name to take back.")]) -> None:
    """Take a name back; later takes do not know it any more. What is signed stays.

    Example: cleansheet shopnames forget "coal pack"
    """
    names = learned()
    kept = {part: [one for one in also if one.lower() != name.lower()] for part, also in names.items()}
    if kept == names:
        raise InputError(f"{name!r} is no name of the shop's own; `cleansheet shopnames list` shows them")
    _write({part: also for part, also in kept.items() if also})
    typer.echo(f"{name!r} is forgotten")


def path() -> Path:
    return shop_folder() / "catalogue" / FILE


def learned() -> dict[str, list[str]]:
    """Names by part, from the user's folder. Raises SpecError for a file that is not of that form."""
    file = path()
    if not file.is_file():
        return {}
    import yaml

    try:
        data = yaml.safe_load(file.read_text(encoding="utf-8")) or {}
    except (OSError, UnicodeDecodeError, yaml.YAMLError) as err:
        raise SpecError(f"{file}: cannot be read: {' '.join(str(err).split())}") from err
    parts = data.get("components") if isinstance(data, dict) else None
    if not isinstance(parts, dict):
        raise SpecError(f"{file}: holds no `components:`")
    return {str(part): [str(name) for name in (form or {}).get("also", ())] for part, form in parts.items()}


def remember(name: str, component: str) -> None:
    """Add a name. Raises InputError where it is another part's name of the shop's own."""
    plain = " ".join(name.split())
    if not plain:
        raise InputError("a name needs at least one word")
    names = learned()
    for part, also in names.items():
        if plain.lower() in (one.lower() for one in also):
            if part == component:
                return
            raise InputError(f"{plain!r} is the shop's name for {part} already; take it back first")
    names.setdefault(component, []).append(plain)
    _write(names)


def _write(names: dict[str, list[str]]) -> None:
    import yaml

    file = path()
    body: dict[str, Any] = {"components": {part: {"also": also} for part, also in sorted(names.items())}}
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        part = file.with_suffix(".part")
        part.write_text(_HEAD + yaml.safe_dump(body, allow_unicode=True, sort_keys=False), encoding="utf-8")
        part.replace(file)
    except OSError as err:
        raise InputError(f"{file}: cannot be written: {(err.strerror or str(err)).lower()}") from err


def offer(desk: Desk, note_id: int, line: rv.Line, component: str | None) -> None:
    """After a part was corrected: remember the words, and offer what stood in them twice as the shop's own name."""
    if component is None:
        return
    from cleansheet.journal import note_rename, said_twice
    from cleansheet.journal.names import NameIndex
    from cleansheet.journal.rows import sentence_around

    text = desk.places[note_id].waiting.draft.note.text
    left, right = sentence_around(text, line.item.start, line.item.end)
    said = text[left:right]
    known = NameIndex(desk.catalogue.components).by_words
    twice = said_twice(desk.book, component, said, known)
    note_rename(desk.book, note_id, component, said, at=now())
    if not twice:
        return
    name = desk.catalogue.components[component].name if component in desk.catalogue.components else component
    typer.echo(
        f"  {twice[0]!r} was corrected to {name} before. Is it what the shop calls it? y yes   any other key: no"
    )
    if read_key() == "y":
        remember(twice[0], component)
        typer.echo("  learned; taken back with: cleansheet shopnames forget")
