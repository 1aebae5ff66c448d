"""Makes a journal of many signed lines, for the search to be timed on: `python tests/bench/journal/grow.py FILE LINES`.

Invented throughout and the same for the same seed: fifty lines a job, five a note, parts and tests of the catalogue with
values inside and around what each can plausibly show. Rows are built and sealed as the journal builds them; only the
review is left out.
"""

from __future__ import annotations

import random
import sys
import time
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from cleansheet import journal as book
from cleansheet.catalogue import Catalogue, load
from cleansheet.flow import typed_note
from cleansheet.journal.intake import Line, item_row, text_hash
from cleansheet.journal.sealing import insert
from cleansheet.terms import Item, Quantity, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterator

LINES_A_NOTE, LINES_A_JOB, YEARS = 5, 50, 10
PEOPLE = ("Sam", "Kit", "Pat", "Lou", "Ash")
MAKES = ("Aldern", "Brindle", "Tolver", "Marrow", "Quillon", "Ostery", "Fenwick", "Hallam")
MODELS = ("Camper", "Twin", "Estate", "Pickup", "Saloon", "Tractor", "Van", "Coupe")
AROUND = (
    "cold",
    "after the road test",
    "with the lights on",
    "second try",
    "as found",
    "by the book",
    "on the bench",
    "hot",
)
DEEDS = ("Replaced the {}", "Cleaned the {}", "Swapped the {}", "Refitted the {}", "Adjusted the {}")
ASKED = ("Why does the {} do that?", "Is the {} the right one?", "Not sure of the {} yet")
KINDS = ("reading",) * 16 + ("action", "action", "question", "todo", "suspect", "cleared")


def grow(path: Path, lines: int, seed: int = 20261125) -> None:
    """Write a journal of that many signed lines."""
    catalogue, chance = load(), random.Random(seed)
    with book.open_journal(path) as journal:
        journal.conn.execute("PRAGMA synchronous = OFF")  # only while it is made
        done = 0
        while done < lines:
            with journal.write() as db:
                for _ in range(40):
                    if done >= lines:
                        break
                    done += _job(
                        db,
                        catalogue,
                        chance,
                        done // LINES_A_JOB,
                        min(LINES_A_JOB, lines - done),
                        -(-lines // LINES_A_JOB),
                    )
        journal.conn.execute("PRAGMA optimize = 0x10002")
        journal.conn.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _job(db: object, catalogue: Catalogue, chance: random.Random, number: int, lines: int, jobs: int) -> int:
    opened = datetime.fromisoformat("2016-01-04T08:00") + timedelta(hours=number * YEARS * 8766 / jobs)
    vehicle = f"{chance.choice(MAKES)} {chance.choice(MODELS)} {chance.randrange(1, 60)}"
    row = {"code": f"{opened.year}-{number + 1:05d}", "vehicle": vehicle, "sheet": None, "complaint": None}
    job = insert(
        db, "jobs", {**row, "opened_at": opened.isoformat(), "closed_at": None, "outcome": None, "revision": 1}
    )
    for start in range(0, lines, LINES_A_NOTE):
        at = opened + timedelta(hours=start // LINES_A_NOTE * 7)
        visit = db.conn.execute(
            "SELECT id FROM visits WHERE job_id = ? AND day = ?", (job, at.date().isoformat())
        ).fetchone()
        home = visit[0] if visit else insert(db, "visits", {"job_id": job, "day": at.date().isoformat()})
        _note(db, catalogue, chance, job, home, at, min(LINES_A_NOTE, lines - start), f"{number}-{start}")
    return lines


def _note(
    db: object, catalogue: Catalogue, chance: random.Random, job: int, visit: int, at: datetime, lines: int, name: str
) -> None:
    text, items = "", []
    for sentence, make in _sentences(catalogue, chance, lines):
        left = len(text)
        text += f"{sentence} "
        items.append(make(left))
    text += f"Note {name}."
    note = typed_note(text, f"{name}.txt", at.isoformat())
    who = chance.choice(PEOPLE)
    row = {
        "visit_id": visit,
        "sha256": note.sha256,
        "source": "typed",
        "name": note.name,
        "recorded_at": note.recorded_at,
    }
    more = {
        "taken_at": at.isoformat(),
        "taken_by": who,
        "text": text,
        "text_sha256": text_hash(text),
        "words": None,
        "sound": None,
    }
    note_id = insert(db, "notes", {**row, **more})
    insert(db, "drafts", {"note_id": note_id, "draft": "{}", "steps": "[]", "state": "done", "revision": 2})
    for place, one in enumerate(items, 1):
        insert(
            db,
            "items",
            item_row(
                Line(place, one),
                {"text": text, "job_id": job, "at": at.isoformat()},
                note_id=note_id,
                who=who,
                at=at.isoformat(),
            ),
        )


def _sentences(catalogue: Catalogue, chance: random.Random, count: int) -> Iterator[tuple[str, object]]:
    tests = list(catalogue.tests.values())
    for _ in range(count):
        test, kind = chance.choice(tests), chance.choice(KINDS)
        part = catalogue.components[test.component].name
        if kind == "reading" and test.unit != "finding":
            band = test.plausible
            low, high = (
                (band.low, band.high) if band and band.low is not None and band.high is not None else (0.0, 10.0)
            )
            value = float(f"{chance.uniform(low, low + (high - low) * 0.6):.3g}")
            quote = f"{value:g} {test.unit}"
            sentence = f"{part.capitalize()}, {test.name}: {quote} {chance.choice(AROUND)}."
            quantity = Quantity(value, value * 0.995, value * 1.005, test.unit)
            verdict = Verdict(
                chance.choice(("in_spec",) * 6 + ("out_of_spec", "too_close")),
                f"{value:g} against the limit of the sheet",
            )
            yield sentence, _maker(sentence, quote, kind, test, quantity=quantity, verdict=verdict)
        elif kind == "reading":
            quote = chance.choice(("looks fine", "is worn", "is corroded", "is loose", "leaks"))
            finding = {
                "looks fine": "ok",
                "is worn": "worn",
                "is corroded": "corroded",
                "is loose": "loose",
                "leaks": "leaking",
            }[quote]
            sentence = f"The {part} {quote}, {chance.choice(AROUND)}."
            verdict = Verdict("in_spec" if finding == "ok" else "out_of_spec", f"{finding} by the rule of the test")
            yield sentence, _maker(sentence, quote, kind, test, finding=finding, verdict=verdict)
        else:
            quote = chance.choice(DEEDS if kind == "action" else ASKED).format(part)
            yield f"{quote}, {chance.choice(AROUND)}.", _maker(f"{quote}, x", quote, kind, test)


def _maker(sentence: str, quote: str, kind: str, test: object, **more: object) -> object:
    place = sentence.index(quote)

    def make(left: int) -> Item:
        component, name = test.component, test.id if kind == "reading" else None
        return Item(
            kind, left + place, left + place + len(quote), component=component, test=name, why=("made",), **more
        )

    return make


if __name__ == "__main__":
    began = time.perf_counter()
    file, count = Path(sys.argv[1]), int(sys.argv[2])
    grow(file, count)
    size = file.stat().st_size
    print(f"{count} lines in {time.perf_counter() - began:.0f} s, {size / 1e6:.0f} MB, {size / count:.0f} bytes a line")
