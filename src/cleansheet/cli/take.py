"""`cleansheet take`: notes become drafts that wait for review."""

from __future__ import annotations

from pathlib import Path  # noqa: TC003 - read by the framework at run time
from typing import TYPE_CHECKING, Annotated, Any

import typer

from cleansheet.terms import CleansheetError, Draft, InputError

from .common import (
    JobOption,
    JournalOption,
    VehicleOption,
    WhoOption,
    complain,
    find_sheet,
    kept_sheet,
    now,
    person,
    the_catalogue,
    the_journal,
)

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue, Sheet
    from cleansheet.journal import Journal

WeightsOption = Annotated[
    str | None, typer.Option("--weights", help="Speech weights for recordings; see `cleansheet weights list`.")
]
AtOption = Annotated[
    str | None, typer.Option("--at", metavar="TIME", help="When it was said (2026-03-14 or 2026-03-14T16:20).")
]


def take(
    notes: Annotated[list[str], typer.Argument(help="Files, folders, or - for standard input; text or sound.")],
    vehicle: VehicleOption = None,
    job: JobOption = None,
    at: AtOption = None,
    weights: WeightsOption = None,
    who: WhoOption = None,
    journal: JournalOption = None,
) -> None:
    """Draft notes, typed or spoken, and lay them by for review.

    Each note's draft sheet is printed. Nothing is in the journal before it is reviewed and signed. A note that was
    taken before is told, and not taken again.

    Example: cleansheet take morning.txt bench.flac --vehicle aldern-camper
    """
    from cleansheet.flow import note_files

    paths = list(note_files(notes))
    name = person(who)
    when = said_at(at)
    catalogue = the_catalogue()
    given = find_sheet(vehicle, catalogue) if vehicle else None
    with the_journal(journal, create=True) as book:
        taker = _Taker(book, catalogue, given, job, name, when, weights)
        failed = taker.all(paths)
    if failed is not None:
        raise typer.Exit(failed)


class _Taker:
    """One run of the command: what is the same for each of its notes."""

    def __init__(
        self,
        book: Journal,
        catalogue: Catalogue,
        given: tuple[str, str | None, Sheet | None] | None,
        job: str | None,
        who: str,
        at: str | None,
        weights: str | None,
    ) -> None:
        self.book, self.catalogue, self.given, self.job = book, catalogue, given, job
        self.who, self.at, self.weights = who, at, weights
        self.taken = 0

    def all(self, paths: list[Path]) -> int | None:
        """Take each note; one that cannot be used is told and does not stop the rest. The first failure's exit code."""
        failed = None
        for path in paths:
            try:
                self.one(path)
            except CleansheetError as err:
                if isinstance(err, InputError) or len(paths) > 1:
                    for line in str(err).splitlines():
                        complain(line)
                    failed = failed or err.exit_code
                else:
                    raise
        if self.taken:
            plural = "note waits" if self.taken == 1 else "notes wait"
            typer.echo(f"\n{self.taken} {plural} for review: cleansheet review")
        return failed

    def one(self, path: Path) -> None:
        from cleansheet.flow import draft
        from cleansheet.journal import already_taken, foresee_job, take

        from .hearing import hear
        from .screen import draft_lines, note_heading

        note, known_hash, sound = hear(
            path,
            self.catalogue,
            at=self.at,
            weights=self.weights,
            vehicle=self.given[2] if self.given else None,
            known=self._known,
            keep_in=self.book.path.parent / "sound",
        )
        if note is None:
            known = already_taken(self.book, known_hash)
            if known is not None:
                self._tell_known(path, known)
            return
        home = foresee_job(self.book, note.text, job=self.job, vehicle=self.given[0] if self.given else None)
        sheet = self.given[2] if self.given else kept_sheet(home.sheet if home else None, self.catalogue)
        drafted: Draft = draft(note, self.catalogue, sheet)
        taken = take(
            self.book,
            drafted,
            who=self.who,
            at=now(),
            job=self.job,
            vehicle=self.given[0] if self.given else None,
            sheet=self.given[1] if self.given else None,
            sound=sound,
        )
        if not taken.new:
            self._tell_known(path, taken)
            return
        self.taken += 1
        heading = note_heading(drafted, taken.job.code, taken.job.vehicle or "")
        typer.echo("\n".join(draft_lines(drafted, self.catalogue, heading)) + "\n")

    def _known(self, sha256: str) -> bool:
        from cleansheet.journal import already_taken

        return already_taken(self.book, sha256) is not None

    def _tell_known(self, path: Path, taken: Any) -> None:
        state = "waits for review" if taken.state == "open" else "is reviewed"
        typer.echo(f"{path}: taken before, on {taken.when[:10]} for job {taken.job.code}; it {state}")


def said_at(given: str | None) -> str | None:
    """The time a note was said, as ISO 8601. Raises InputError for what is none."""
    if given is None:
        return None
    from datetime import datetime

    try:
        return datetime.fromisoformat(given).replace(tzinfo=None).isoformat(timespec="seconds")
    except ValueError:
        raise InputError(f"--at {given!r}: write the time as 2026-03-14 or 2026-03-14T16:20") from None
