"""One key at a time from a terminal, or one letter a line where standard input is none."""

from __future__ import annotations

import sys

QUIT = "\x04"


def read_key() -> str:
    """The next key; `QUIT` at the end of the input. Ctrl-C raises KeyboardInterrupt as always."""
    if not sys.stdin.isatty():
        line = sys.stdin.readline()
        return QUIT if not line else (line.strip()[:1] or "\n")
    import termios
    import tty

    sys.stdout.flush()
    descriptor = sys.stdin.fileno()
    before = termios.tcgetattr(descriptor)
    try:
        # Keeps Ctrl-C a signal; TCSANOW so that keys typed ahead are not thrown away.
        tty.setcbreak(descriptor, termios.TCSANOW)
        key = _read_one(descriptor)
        if key == "\x1b":
            _swallow(descriptor)
        return key
    finally:
        termios.tcsetattr(descriptor, termios.TCSANOW, before)


def _read_one(descriptor: int) -> str:
    import os

    data = os.read(descriptor, 1)
    if not data:
        return QUIT
    if data[0] >= 0xC0:  # the rest of a UTF-8 character
        data += os.read(descriptor, 1 + (data[0] >= 0xE0) + (data[0] >= 0xF0))
    return data.decode("utf-8", errors="replace")


def _swallow(descriptor: int) -> None:
    """Take the rest of an arrow or function key, so that its letters are not taken for keys."""
    import os
    import select

    while select.select([descriptor], [], [], 0.02)[0]:
        os.read(descriptor, 16)


def ask(question: str) -> str:
    """A typed answer, stripped; empty at the end of the input."""
    sys.stdout.write(f"{question} ")
    sys.stdout.flush()
    if not sys.stdin.isatty():
        return sys.stdin.readline().strip()
    import os

    # Bytes by hand, not through sys.stdin's buffer: that would hide keys typed ahead from `read_key`.
    data = b""
    while not data.endswith(b"\n"):
        more = os.read(sys.stdin.fileno(), 1)
        if not more:
            break
        data += more
    return data.decode("utf-8", errors="replace").strip()
