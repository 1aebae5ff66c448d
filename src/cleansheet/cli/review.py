"""`cleansheet review`: from drafts to signed lines, at the terminal or in one step."""

from __future__ import annotations

from typing import Annotated

import typer

from .common import JobOption, JournalOption, JsonOption, WhoOption, person, print_json, the_catalogue, the_journal


def review(
    job: JobOption = None,
    sign_clean: Annotated[
        bool, typer.Option("--sign-clean", help="Sign every line that needs no eyes; leave the others waiting.")
    ] = False,
    list_: Annotated[bool, typer.Option("--list", help="Only list what waits, what needs eyes first.")] = False,
    json_: JsonOption = False,
    who: WhoOption = None,
    journal: JournalOption = None,
) -> None:
    """Go through what is not reviewed yet; then sign it into the journal.

    Each step is stored at once: stop at any moment, and the review goes on from there. A flagged, bad, close or unsure
    line is never signed by --sign-clean.

    Example: cleansheet review --who Sam
    """
    from .desk import Desk
    from .reviewing import list_waiting, sit, tell_signed, waiting_json

    with the_journal(journal) as book:
        desk = Desk(book, the_catalogue(), person(who), job)
        if json_:
            for line in waiting_json(desk):
                print_json(line)
        elif list_:
            list_waiting(desk)
        elif sign_clean:
            desk.keep_clean()
            signed = desk.sign(tell_signed, only_clean=True)
            left = desk.open()
            typer.echo(
                f"{signed} lines signed by {desk.who}; {left} still to look at"
                + (": cleansheet review" if left else "")
            )
        else:
            sit(desk)
