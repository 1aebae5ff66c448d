"""The command line's entry point and its table of commands.

Exit codes: 0 done; 1 the answer is no (nothing found, a check failed); 2 a bad argument, note or recording; 3 a
catalogue file or vehicle sheet that does not hold together; 4 speech weights; 5 the journal; 130 stopped with Ctrl-C.
"""

from __future__ import annotations

import os
import sys
from typing import Annotated, ClassVar

import typer

from cleansheet import __version__
from cleansheet.terms import CleansheetError

from .lazy import LazyGroup, Table

COMMANDS: Table = {
    "take": ("cleansheet.cli.take:take", "Draft notes, typed or spoken, and lay them by for review."),
    "review": ("cleansheet.cli.review:review", "Go through what is not reviewed yet; then sign it into the journal."),
    "find": ("cleansheet.cli.find:find", "Find what the journal says of a part, newest first."),
    "show": ("cleansheet.cli.show:show", "Show a job: where each system stands, what is open, every signed line."),
    "tests": ("cleansheet.cli.tests_cmd:tests", "Show what is known of a part: its tests, limits and cautions."),
    "read": ("cleansheet.cli.read:read", "Draft notes and print them; nothing is stored."),
    "judge": ("cleansheet.cli.judge:judge", "Judge one reading against its limits."),
    "specs": ("cleansheet.cli.specs:app", "Check and list vehicle spec sheets."),
    "job": ("cleansheet.cli.job:app", "Open, list, change and close jobs."),
    "journal": ("cleansheet.cli.journal_cmd:app", "Look after the journal: back up, restore, verify, export, import."),
    "shopnames": ("cleansheet.cli.shopnames:app", "The shop's own names for parts, learned from corrections."),
    "microphones": (
        "cleansheet.cli.hearing_mic:microphones",
        "List the microphones of this computer, by number and name.",
    ),
    "weights": ("cleansheet.cli.weights:app", "Speech weights: list, put in place, verify."),
}


class Commands(LazyGroup):
    table: ClassVar[Table] = COMMANDS


app = typer.Typer(
    cls=Commands,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    epilog="Exit codes: 0 done, 1 the answer is no, 2 bad input, 3 bad sheet, 4 weights, 5 journal, 130 stopped.",
)


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"cleansheet {__version__}")
        raise typer.Exit


@app.callback()
def cleansheet(
    version: Annotated[
        bool, typer.Option("--version", help="Print the version.", callback=_print_version, is_eager=True)
    ] = False,
) -> None:
    """A technician's spoken and typed shop notes: drafted, reviewed, signed, found again.

    The maker's manual, local codes and licensed practice come first.
    """


def main(args: list[str] | None = None) -> None:
    """Run the command line and leave the process with its exit code; one line on standard error for what went wrong."""
    code = 0
    try:
        app(args, prog_name="cleansheet")
    except SystemExit as stop:
        code = stop.code if isinstance(stop.code, int) else 1
    except CleansheetError as err:
        _say(str(err))
        code = err.exit_code
    except KeyboardInterrupt:
        code = 130
    except BrokenPipeError:
        code = 0
    except OSError as err:
        # A full disk or a folder without leave to write, met outside the stages' own handling.
        _say(f"{err.filename or 'the system'}: {(err.strerror or str(err)).lower()}")
        code = 1
    sys.exit(_flush(code))


def _say(message: str) -> None:
    for line in message.splitlines():  # a sheet with several faults has a line for each
        sys.stderr.write(f"cleansheet: {line}\n")


def _flush(code: int) -> int:
    # Whoever read our output may be gone (`| head`): that is no fault, and the interpreter must not complain of it.
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as err:
        _say(f"cannot write the output: {(err.strerror or str(err)).lower()}")
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return code or 1
    return code
