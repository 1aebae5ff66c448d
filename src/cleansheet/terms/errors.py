"""What can go wrong, as one tree. Every message is one line that says what, where, and what to do.

    CleansheetError
    ├── InputError     (ValueError)    a note, a recording or an argument that cannot be used
    ├── SpecError      (ValueError)    a catalogue file or a vehicle sheet that does not hold together
    ├── WeightsError   (RuntimeError)  speech weights missing, damaged, or impossible to put in place
    └── JournalError   (RuntimeError)  the journal's file cannot be opened, written or trusted

A front end prints the message and exits with the class's `exit_code`.
"""

from __future__ import annotations


class CleansheetError(Exception):
    """The base of all of them. `exit_code` is what a command ends with."""

    exit_code = 1


class InputError(CleansheetError, ValueError):
    exit_code = 2


class SpecError(CleansheetError, ValueError):
    exit_code = 3


class WeightsError(CleansheetError, RuntimeError):
    exit_code = 4


class JournalError(CleansheetError, RuntimeError):
    exit_code = 5
