"""Gets a note out of what the user named: a typed file, a recording with a progress bar, or standard input."""

from __future__ import annotations

import hashlib
import sys
import tempfile
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cleansheet.files import sha256_of
from cleansheet.terms import InputError, Note

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

DEVICES = ("auto", "cpu", "cuda")


@dataclass(frozen=True, slots=True)
class Listening:
    """How recordings are listened to, as the user asked for it. Raises InputError for what cannot be meant.

    `device` is one of `DEVICES`; `threads` None leaves the number to the recogniser; `partial` takes a recording that
    is cut off, and its remarks then say how much is missing.
    """

    weights: str | None = None
    device: str = "auto"
    threads: int | None = None
    partial: bool = False

    def __post_init__(self) -> None:
        # Said here and not by the recogniser alone, so that a slip is told before anything is read or recorded.
        if self.device not in DEVICES:
            raise InputError(f"--device {self.device!r}: write one of {', '.join(DEVICES)}")
        if self.threads is not None and self.threads < 1:
            raise InputError(f"--threads {self.threads}: write 1 or more")

    def options(self) -> dict[str, Any]:
        """Keyword arguments of `listen`."""
        chosen = {"weights": self.weights, "threads": self.threads}
        told = {name: value for name, value in chosen.items() if value is not None}
        return {"device": self.device, "partial": self.partial, **told}


_PLAIN = Listening()


def hear(
    path: Path,
    catalogue: Any,
    *,
    at: str | None = None,
    listening: Listening = _PLAIN,
    vehicle: Any = None,
    expected: tuple[str, ...] = (),
    known: Callable[[str], bool] = lambda _: False,
    keep_in: Path | None = None,
) -> tuple[Note | None, str, str | None]:
    """(note, its hash, where its sound is). The note is None where `known` knows the hash: no need to listen again.

    `expected` are names that a recording is likely to hold. A recording from standard input is kept in the folder
    `keep_in`, so that it can be played at the review; without one it is gone afterwards.
    """
    from cleansheet.flow import decode_text, is_sound, is_sound_file, note_file, typed_note

    if str(path) == "-":
        data = sys.stdin.buffer.read()
        if is_sound(data):
            with _kept(data, keep_in) as file:
                note, digest, sound = hear(
                    file, catalogue, at=at, listening=listening, vehicle=vehicle, expected=expected, known=known
                )
            return note and replace(note, name="standard input"), digest, sound if keep_in is not None else None
        note, sound = typed_note(decode_text(data, "standard input"), "standard input", at), None
    elif is_sound_file(path):
        digest = sha256_of(path)
        if known(digest):
            return None, digest, None
        with listening_bar(path) as progress:
            note = note_file(path, catalogue, recorded_at=at, **_options(listening, vehicle, expected, progress))
        sound = str(path.resolve())
    else:
        note, sound = note_file(path, catalogue, recorded_at=at), None
    if known(note.sha256):
        return None, note.sha256, None
    return note, note.sha256, sound


@contextmanager
def _kept(data: bytes, keep_in: Path | None) -> Iterator[Path]:
    name = f"{hashlib.sha256(data).hexdigest()[:16]}.sound"
    if keep_in is None:
        with tempfile.TemporaryDirectory(prefix="cleansheet-") as folder:
            path = Path(folder) / name
            path.write_bytes(data)
            yield path
        return
    path = keep_in / name
    try:
        keep_in.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(".part")
        part.write_bytes(data)
        part.replace(path)
    except OSError as err:
        raise InputError(f"{path}: cannot keep the recording: {(err.strerror or str(err)).lower()}") from err
    try:
        yield path
    except BaseException:
        path.unlink(missing_ok=True)  # no note came of it
        raise


def _options(listening: Listening, vehicle: Any, expected: tuple[str, ...], progress: Any) -> dict[str, Any]:
    from .shopnames import learned

    names = tuple(name for also in learned().values() for name in also)
    return {"progress": progress, "vehicle": vehicle, "names": names, "expected": expected, **listening.options()}


@contextmanager
def listening_bar(path: Path) -> Iterator[Callable[[float, float | None], None] | None]:
    """One progress bar on standard error while a recording is heard; none where that is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    width = 28
    shown = [-1]

    def progress(done_s: float, all_s: float | None) -> None:
        filled = round(width * min(done_s / all_s, 1.0)) if all_s else 0
        whole = f" of {all_s:.0f}" if all_s else ""
        if filled != shown[0] or not all_s:
            shown[0] = filled
            sys.stderr.write(
                f"\rlistening [{'=' * filled}{' ' * (width - filled)}] {done_s:.0f}{whole} s  {path.name}\033[K"
            )
            sys.stderr.flush()

    try:
        yield progress
    finally:
        sys.stderr.write("\r\033[K")
        sys.stderr.flush()
