"""Kills the journal's writers at random moments and looks whether anything signed is lost or half there.

`python tests/bench/journal/kill.py [KILLS]` (default 500). Each round a worker takes notes, reviews, signs, migrates an
old file or backs up, and gets SIGKILL somewhere in it. What it said was stored before must be there; what is there must be
whole: SQLite's integrity check and our own `verify`, every signed note with all of its lines, every note with its draft.
"""

from __future__ import annotations

import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from contextlib import suppress
from pathlib import Path

HERE = Path(__file__).parent
MAKING = HERE.parents[1] / "journal"
OLD_FILE = MAKING / "files" / "made-by-version-1.sqlite"
LINES = 6

WORKER = f"""
import sys
sys.path.insert(0, {str(MAKING)!r})
from pathlib import Path
from making import draft, item
from cleansheet import journal as book

def say(*words):
    print(*words, flush=True)

def note(name):
    text = " ".join(f"{{name}} reads {{place}}.5 bar on the rail." for place in range({LINES}))
    return draft(text, *[item(text, f"{{place}}.5 bar", value=f"{{place}}.5", unit="bar", test="fuel-rail.static-pressure")
                         for place in range({LINES})], name=name)

def take(journal, name):
    taken = book.take(journal, note(name), who="Sam", at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
    say("taken", name)
    return taken

def review(journal, taken, name):
    revision = 1
    for number in range(1, {LINES} + 1):
        steps = [{{"do": "keep", "lines": list(range(1, number + 1))}}]
        revision = book.save_steps(journal, taken.note_id, steps, revision=revision)
        say("kept", name, number)
    return revision

def sign(journal, taken, name, revision):
    lines = [book.Line(place, one) for place, one in enumerate(note(name).items, 1)]
    book.sign(journal, taken.note_id, lines, steps=[{{"do": "sign"}}], revision=revision, finished=True, who="Sam", at="x")
    say("signed", name)

import sqlite_utils  # loaded before the clock starts, and the unit library with it
from cleansheet.journal.second import base_columns
base_columns(1.0, None, None, "bar")
path, what, seed = Path(sys.argv[1]), sys.argv[2], sys.argv[3]
say("ready")
sys.stdin.readline()
if what == "migrate":
    book.open_journal(path).close()
    say("migrated")
else:
    with book.open_journal(path) as journal:
        for number in range(1000):
            name = f"note-{{seed}}-{{number}}"
            taken = take(journal, name)
            if what in ("review", "sign"):
                revision = review(journal, taken, name) if what == "review" else 1
                sign(journal, taken, name, revision)
            if what == "backup":
                book.backup(journal, path.with_name(f"copy-{{seed}}-{{number}}.sqlite"))
                say("copied", f"copy-{{seed}}-{{number}}.sqlite")
"""

# How long a round may run before it is killed, in seconds: a few transactions, or one migration.
SPANS = {"take": 0.04, "review": 0.08, "sign": 0.06, "migrate": 0.06, "backup": 0.25}


def one_round(folder: Path, what: str, seed: int, chance: random.Random) -> list[str]:
    """Run and kill one worker; what it had said by then."""
    path = folder / "journal.sqlite"
    if what == "migrate":
        for beside in folder.glob("journal.sqlite*"):
            beside.unlink()
        shutil.copy(OLD_FILE, path)
    worker = subprocess.Popen(
        [sys.executable, "-c", WORKER, str(path), what, str(seed)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert worker.stdin is not None
    assert worker.stdout is not None
    worker.stdout.readline()
    worker.stdin.write("go\n")
    worker.stdin.flush()
    time.sleep(chance.uniform(0, SPANS[what]))
    worker.send_signal(signal.SIGKILL)
    said = worker.stdout.read().splitlines()
    worker.wait()
    return said


def faults(folder: Path, what: str, said: list[str], known: dict[str, set[str]]) -> list[str]:
    """What is wrong with the file after a kill."""
    from cleansheet import journal as book

    for line in said:
        kind, *rest = line.split()
        if rest:
            known.setdefault(kind, set()).add(rest[0])
    found = []
    with book.open_journal(folder / "journal.sqlite") as journal:
        found += [f"{check.name}: {fault}" for check in book.verify(journal) for fault in check.faults]
        if what == "migrate":
            if journal.row("SELECT count(*) AS n FROM items")["n"] != 5:
                found.append("a line was lost by the migration")
            return found
        notes = {row["name"]: row["id"] for row in journal.rows("SELECT id, name FROM notes")}
        lines = {
            row["note_id"]: row["n"] for row in journal.rows("SELECT note_id, count(*) AS n FROM items GROUP BY 1")
        }
        drafts = {row["note_id"]: row["state"] for row in journal.rows("SELECT note_id, state FROM drafts")}
        found += [f"{name} was taken and is not there" for name in known.get("taken", set()) - set(notes)]
        found += [
            f"{name} was signed and has {lines.get(notes[name], 0)} lines"
            for name in known.get("signed", set()) & set(notes)
            if lines.get(notes[name]) != LINES
        ]
        found += [f"{name} is half signed" for name, number in notes.items() if lines.get(number, 0) not in (0, LINES)]
        found += [f"{name} has no draft" for name, number in notes.items() if number not in drafts]
        found += [
            f"{name}: lines and state disagree"
            for name, number in notes.items()
            if (lines.get(number, 0) == LINES) != (drafts.get(number) == "done")
        ]
    for copy in folder.glob("copy-*.sqlite"):
        found += [f"{copy.name}: {fault}" for check in book.verify_file(copy) for fault in check.faults]
    found += [
        f"{name} was copied and is not there" for name in known.get("copied", set()) if not (folder / name).exists()
    ]
    return found


def main(kills: int) -> int:
    chance = random.Random(20261125)
    count: Counter[str] = Counter()
    bad: list[str] = []
    stored: Counter[str] = Counter()
    whats = list(SPANS)
    number = 0
    while number < kills:
        with tempfile.TemporaryDirectory(prefix="cleansheet-kill-") as name:
            known: dict[str, set[str]] = {}
            for _ in range(20):  # then a fresh file, so that verifying stays quick
                what = whats[number % len(whats)]
                folder = Path(name) / ("old" if what == "migrate" else "same")
                folder.mkdir(exist_ok=True)
                said = one_round(folder, what, number, chance)
                bad += [
                    f"kill {number} in {what}: {fault}"
                    for fault in faults(folder, what, said, {} if what == "migrate" else known)
                ]
                count[what] += 1
                stored.update(line.split()[0] for line in said)
                number += 1
                if number >= kills:
                    break
            with suppress(OSError):
                shutil.rmtree(Path(name) / "same")
    print(f"{number} kills ({', '.join(f'{what} {n}' for what, n in count.items())})")
    print(f"said to be stored before a kill: {', '.join(f'{what} {n}' for what, n in stored.items())}")
    print(f"faults: {len(bad)}")
    print("\n".join(bad[:20]))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 500))
