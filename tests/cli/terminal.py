"""The review in a real pseudo-terminal of 80 columns, for the tests that press its keys."""

from __future__ import annotations

import os
import sys
import termios
import time

import pexpect

PROMPT = r"\? keys"


class Screen:
    """A terminal of 80 columns with the review in it."""

    def __init__(self, *args, colour=False):
        env = {**os.environ, "TERM": "xterm" if colour else "dumb", "PYTHONIOENCODING": "utf-8"}
        env.pop("COLUMNS", None)
        self.shown = ""
        self.child = pexpect.spawn(
            sys.executable,
            ["-m", "cleansheet.cli", "review", *args],
            dimensions=(40, 80),
            encoding="utf-8",
            env=env,
            timeout=120,  # a loaded machine is slow, not wrong
        )

    def until(self, pattern):
        self.child.expect(pattern)
        seen = self.child.before + self.child.after
        self.shown += seen
        return seen

    def key(self, key, pattern=PROMPT):
        self.child.send(key)
        return self.until(pattern)

    def until_it_reads_a_key(self):
        """Wait until the review sits at `read_key`: only there is the terminal without line editing."""
        until = time.monotonic() + self.child.timeout
        while termios.tcgetattr(self.child.child_fd)[3] & termios.ICANON:
            assert time.monotonic() < until, "the review never waited for a key"
            time.sleep(0.01)

    def end(self):
        self.child.expect(pexpect.EOF)
        self.shown += self.child.before
        self.child.wait()  # first: closing hangs up a process that is slow to end, and its exit code is lost
        self.child.close()
        return self.child.exitstatus
