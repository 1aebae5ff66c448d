"""Several processes on one journal at once: nothing lost, nothing doubled, clear words when the wait is too long."""

from __future__ import annotations

import subprocess
import sys
import textwrap

import pytest

from cleansheet import journal as book
from cleansheet.journal import store
from cleansheet.terms import JournalError

WORKER = textwrap.dedent(
    """
    import sys
    sys.path.insert(0, sys.argv[3])
    from making import draft, item
    from cleansheet import journal as book

    path, who = sys.argv[1], sys.argv[2]
    for number in range(25):
        with book.open_journal(path) as journal:
            text = f"{who} read {number}.5 bar on the rail."
            one = item(text, f"{number}.5 bar", value=number + 0.5, unit="bar", test="fuel-rail.static-pressure")
            taken = book.take(journal, draft(text, one), who=who, at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
            shared = book.take(journal, draft(f"Shared note {number}."), who=who, at="2026-03-02T18:00:00")
            book.sign(journal, taken.note_id, [book.Line(1, one)], steps=[], revision=1, finished=True, who=who, at="x")
    """
)


def test_three_processes_take_and_sign_at_once(path):
    from pathlib import Path

    here = str(Path(__file__).parent)
    workers = [
        subprocess.Popen([sys.executable, "-c", WORKER, str(path), who, here], stderr=subprocess.PIPE, text=True)
        for who in ("Sam", "Kit", "Pat")
    ]
    for worker in workers:
        _, said = worker.communicate(timeout=120)
        assert worker.returncode == 0, said
    with book.open_journal(path) as journal:
        assert journal.row("SELECT count(*) AS n FROM items")["n"] == 75
        assert journal.row("SELECT count(*) AS n FROM notes")["n"] == 75 + 25  # the shared ones were taken once
        assert journal.row("SELECT count(*) AS n FROM jobs WHERE vehicle IS NOT NULL")["n"] == 1
        assert all(check.holds for check in book.verify(journal))


def test_a_wait_that_is_too_long_is_one_line(path, monkeypatch):
    monkeypatch.setattr(store, "WAIT_S", 0.1)
    with (
        book.open_journal(path) as first,
        book.open_journal(path) as second,
        first.write(),
        pytest.raises(
            JournalError, match="in use by another process for more than 0 s; nothing was changed; try again"
        ),
    ):
        book.open_job(second, vehicle="Aldern Camper 2.0", at="2026-03-02T18:00:00")


def test_reading_goes_on_while_another_writes(path):
    with book.open_journal(path) as first, book.open_journal(path) as second, first.write() as db:
        db.conn.execute("SELECT 1")
        assert book.jobs(second) == []
