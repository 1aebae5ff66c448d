"""`cleansheet weights`: what speech weights are here, whether they are whole, which are used, and how to get others."""

from __future__ import annotations

from contextlib import contextmanager
from pathlib import Path  # noqa: TC003 - typer reads the annotations when it runs
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

app = typer.Typer(no_args_is_help=True)

NAME = Annotated[str | None, typer.Argument(help="A set of speech weights; the default set where left out.")]


@app.callback()
def weights() -> None:
    """Speech weights: list, put in place, verify."""


@app.command("list")
def list_sets() -> None:
    """List the sets of speech weights and where each of them is.

    Example: cleansheet weights list
    """
    from cleansheet.listen import states

    for one in states():
        mark = "*" if one.is_default else " "
        if one.folder is not None:
            where = f"in place: {one.folder}"
        elif one.from_packages:
            where = "ready: put together at first use from the installed packages"
        else:
            where = "not here; see: cleansheet weights fetch --help"
        typer.echo(f"{mark} {one.name:<16} {one.size_bytes / 1e6:>6.0f} MB  {where}")
        typer.echo(f"  {'':<16} {'':>6}     {one.summary}")
    typer.echo("* is used where no other set is named")


@app.command()
def verify(name: NAME = None) -> None:
    """Hash every file of a set and compare it with its description.

    Example: cleansheet weights verify base
    """
    from cleansheet.listen import default_weights, ready_weights, verify_weights

    with _bar("checking") as progress:
        ready_weights(name)
        folder = verify_weights(name, progress=progress)
    typer.echo(f"{name or default_weights()}: every file is as described ({folder})")


@app.command()
def default(name: Annotated[str, typer.Argument(help="The set to use from now on.")]) -> None:
    """Choose the set that is used where no other is named.

    Example: cleansheet weights default small.en
    """
    from cleansheet.listen import set_default_weights, states

    set_default_weights(name)
    here = any(one.name == name and (one.folder or one.from_packages) for one in states())
    typer.echo(
        f"{name} is used from now on" + ("" if here else f"; it is not here yet: cleansheet weights fetch {name}")
    )


@app.command()
def fetch(
    name: NAME = None,
    source: Annotated[
        Path | None, typer.Option("--from", help="A folder that holds the set's files.", show_default=False)
    ] = None,
    hub: Annotated[
        bool, typer.Option("--hub", help="Use the network: ask the model hub that the description names.")
    ] = False,
) -> None:
    """Put a set in place: from installed packages, from a folder, or, only with --hub, from the network.

    Example: cleansheet weights fetch small.en --from /media/stick/small.en
    """
    from cleansheet.listen import default_weights, fetch_weights

    with _bar("copying") as progress:
        folder = fetch_weights(name, folder=source, hub=hub, progress=progress)
    typer.echo(f"{name or default_weights()}: in place and checked ({folder})")


@contextmanager
def _bar(label: str) -> Iterator[Callable[[float, float], None] | None]:
    """One progress bar on a terminal's standard error, nothing elsewhere."""
    import sys

    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, DownloadColumn, Progress, TextColumn

    columns = (TextColumn(label), BarColumn(), DownloadColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task(label, total=None)

        def progress(done: float, total: float) -> None:
            shown.update(task, completed=done, total=total)

        yield progress
