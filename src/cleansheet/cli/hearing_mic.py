"""Records a note from the microphone: the level on standard error, a key or silence ends it."""

from __future__ import annotations

import shlex
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING

from cleansheet.terms import InputError

from .common import complain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

SILENCE_S = 8.0
_WAV_HEAD = 44  # bytes
_QUIETEST_DB = -60.0  # the bar's left end, dB below full scale; its right end is full scale
_WIDTH = 28


def record_note(folder: Path, which: str | None = None) -> Path:
    """One note recorded into `folder` from the microphone of that number or name; the file stays there whatever happens next.

    Raises InputError where the package for it, a microphone or the folder is missing. What was recorded before an error
    or Ctrl-C is kept and told (see `tell_kept`).
    """
    from cleansheet.listen import record

    before = _recordings(folder)
    losses: list[int] = []
    try:
        with _key_pressed() as stop, _level_bar(can_stop=stop is not None) as level:
            path = record(
                folder, level=level, stop=stop, silence_s=SILENCE_S, which=which, lost=lambda: losses.append(1)
            )
    except (InputError, KeyboardInterrupt) as stop:
        for path in _recordings(folder) - before:
            tell_kept(path, stop)
        raise
    if losses:
        complain(f"{path.name}: the computer was too busy, and sound was lost {len(losses)} times; say it again")
    return path


def microphones() -> None:
    """List the microphones of this computer, by number and name.

    Either goes with `take --microphone`; of the name a part is enough.

    Example: cleansheet microphones
    """
    import typer

    from cleansheet.listen import microphones as there

    found = there()
    if not found:
        raise InputError("no microphone is found on this computer; plug one in, and allow the program to use it")
    for one in found:
        typer.echo(f"{'*' if one.is_default else ' '} {one.number:>3}  {one.name}")
    if any(one.is_default for one in found):
        typer.echo("* is used where no other is named")


def tell_kept(path: Path, stop: BaseException) -> None:
    """Say where what was said is kept: in the error's own line, or in one of its own after Ctrl-C."""
    how = f"the recording is kept; to take it: cleansheet take {shlex.quote(str(path))}"
    if isinstance(stop, KeyboardInterrupt):
        complain(f"stopped; {how}")
    else:
        stop.args = (f"{stop}; {how}",)


def _recordings(folder: Path) -> set[Path]:
    """The recordings that hold more than a wav file's head."""
    return {path for path in folder.glob("*.wav") if path.stat().st_size > _WAV_HEAD}


def level_bar(loudness_db: float) -> str:
    """A level between -60 and 0 dB below full scale as a bar.

    >>> level_bar(-30.0)
    '[==============              ]'
    """
    part = min(max(1 - loudness_db / _QUIETEST_DB, 0.0), 1.0)
    filled = round(_WIDTH * part)
    return f"[{'=' * filled}{' ' * (_WIDTH - filled)}]"


@contextmanager
def _level_bar(*, can_stop: bool) -> Iterator[Callable[[float, float], None]]:
    """What ends the recording, then time and level while somebody speaks where standard error is a terminal."""
    key = "a key or " if can_stop else ""
    started = False

    def level(seconds: float, loudness_db: float) -> None:
        nonlocal started
        if not started:  # said once the microphone gives sound, not before
            started = True
            sys.stderr.write(f"recording; {key}{SILENCE_S:.0f} s of silence after speech ends it\n")
        if sys.stderr.isatty():
            sys.stderr.write(f"\r  {level_bar(loudness_db)} {loudness_db:4.0f} dB  {int(seconds)} s\033[K")
        sys.stderr.flush()

    try:
        yield level
    finally:
        if sys.stderr.isatty() and started:
            sys.stderr.write("\r\033[K")
            sys.stderr.flush()


@contextmanager
def _key_pressed() -> Iterator[Callable[[], bool] | None]:
    """Asks whether a key was pressed, and takes it; None where standard input is no terminal to press one on."""
    if not sys.stdin.isatty():
        yield None
        return
    import select
    import termios
    import tty

    descriptor = sys.stdin.fileno()
    before = termios.tcgetattr(descriptor)
    try:
        tty.setcbreak(descriptor, termios.TCSANOW)  # Ctrl-C stays a signal
        # The line that started the command may have left keys behind; they must not end the recording at once.
        termios.tcflush(descriptor, termios.TCIFLUSH)
        yield lambda: bool(select.select([descriptor], [], [], 0)[0])
        termios.tcflush(descriptor, termios.TCIFLUSH)  # the key itself is no answer to what comes next
    finally:
        termios.tcsetattr(descriptor, termios.TCSANOW, before)
