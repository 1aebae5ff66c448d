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

    from .hearing import Listening

WeightsOption = Annotated[
    str | None, typer.Option("--weights", help="Speech weights for recordings; see `cleansheet weights list`.")
]
DeviceOption = Annotated[
    str, typer.Option("--device", metavar="WHICH", help="What listens to recordings: auto, cpu or cuda.")
]
ThreadsOption = Annotated[
    int | None, typer.Option("--threads", metavar="N", help="Processor threads for listening.", show_default=False)
]
PartialOption = Annotated[
    bool, typer.Option("--partial", help="Take a recording that is cut off; the draft says what is missing.")
]
AtOption = Annotated[
    str | None, typer.Option("--at", metavar="TIME", help="When it was said (2026-03-14 or 2026-03-14T16:20).")
]


def take(
    notes: Annotated[
        list[str] | None, typer.Argument(help="Files, folders, or - for standard input; text or sound.")
    ] = None,
    mic: Annotated[bool, typer.Option("--mic", help="Record a note from the microphone and take it.")] = False,
    microphone: Annotated[
        str | None,
        typer.Option(
            "--microphone",
            metavar="WHICH",
            help="Record from this one: its number or name, see `cleansheet microphones`.",
        ),
    ] = None,
    vehicle: VehicleOption = None,
    job: JobOption = None,
    at: AtOption = None,
    weights: WeightsOption = None,
    device: DeviceOption = "auto",
    threads: ThreadsOption = None,
    partial: PartialOption = False,
    who: WhoOption = None,
    journal: JournalOption = None,
) -> None:
    """Draft notes, typed or spoken, and lay them by for review.

    Each note's draft sheet is printed. Nothing is in the journal before it is reviewed and signed. A note that was
    taken before is told, and not taken again.

    With --mic a note is recorded until a key is pressed, or until 8 s of silence after speech, an hour at most. What was heard is read
    back above the draft, and the recording is kept in `recordings` beside the journal.

    Example: cleansheet take morning.txt bench.flac --vehicle aldern-camper
    """
    from cleansheet.flow import note_files

    from .hearing import Listening

    if microphone is not None and not microphone.strip():
        raise InputError("--microphone: name one, by its number or name; see: cleansheet microphones")
    mic = mic or microphone is not None
    if mic and notes:
        raise InputError("give notes or --mic, not both")
    if not mic and not notes:
        raise InputError("no note given; name a file, a folder, - for standard input, or --mic to record one")
    paths = list(note_files(notes or ()))
    listening = Listening(weights, device, threads, partial)
    name = person(who)
    when = said_at(at)
    catalogue = the_catalogue()
    given = find_sheet(vehicle, catalogue) if vehicle else None
    if mic:
        paths = [_recorded(journal, microphone)]
    try:
        with the_journal(journal, create=True) as book:
            failed = _Taker(book, catalogue, given, job, name, when, listening, read_back=mic).all(paths)
    except (CleansheetError, KeyboardInterrupt) as stop:
        if mic:
            from .hearing_mic import tell_kept

            tell_kept(paths[0], stop)
        raise
    if failed is not None:
        raise typer.Exit(failed)


def _recorded(journal: Path | None, microphone: str | None) -> Path:
    """A new recording in the folder beside the journal; the journal itself is not opened while somebody speaks."""
    from cleansheet.journal import default_path

    from .hearing_mic import record_note

    return record_note((journal or default_path()).parent / "recordings", microphone)


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
        listening: Listening,
        *,
        read_back: bool = False,
    ) -> None:
        self.book, self.catalogue, self.given, self.job = book, catalogue, given, job
        self.who, self.at, self.listening, self.read_back = who, at, listening, read_back
        self.taken = 0
        self.names: tuple[str, ...] | None = None

    def all(self, paths: list[Path]) -> int | None:
        """Take each note; one that cannot be used is told and does not stop the rest. The first failure's exit code."""
        failed = None
        for path in paths:
            try:
                self.one(path)
            except CleansheetError as err:
                if len(paths) == 1:
                    raise
                for line in str(err).splitlines():
                    complain(line)
                failed = failed or err.exit_code
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
            listening=self.listening,
            vehicle=self.given[2] if self.given else None,
            expected=self._expected(),
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
        if self.read_back:
            from .paint import wrap

            heading += "\n" + wrap(f'"{note.text}"', 2)
        typer.echo("\n".join(draft_lines(drafted, self.catalogue, heading)) + "\n")

    def _expected(self) -> tuple[str, ...]:
        """What is open on the job that is given, asked once: nothing that is taken here is signed meanwhile."""
        if self.names is None:
            from .expecting import open_names

            vehicle = self.given[0] if self.given else None
            self.names = open_names(self.book, self.catalogue, job=self.job, vehicle=vehicle)
        return self.names

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
