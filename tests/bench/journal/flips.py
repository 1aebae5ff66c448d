"""Flips single bits of a journal's file and counts what `verify` says: `python tests/bench/journal/flips.py [FLIPS]`.

A flip either hits bytes that hold nothing (free space inside pages), or it changes something, and then opening or
`verify` must say so. A change that nobody reports is a miss.
"""

from __future__ import annotations

import random
import sys
import tempfile
from pathlib import Path

from cleansheet import journal as book
from cleansheet.terms import CleansheetError

sys.path.insert(0, str(Path(__file__).parent))
from grow import grow


def everything(journal: book.Journal) -> list[str]:
    return list(book.export_lines(journal))


def main(flips: int) -> int:
    chance = random.Random(20261125)
    seen = silent = 0
    missed: list[str] = []
    with tempfile.TemporaryDirectory(prefix="cleansheet-flips-") as folder:
        path = Path(folder) / "journal.sqlite"
        grow(path, 200)
        with book.open_journal(path) as journal:
            before = everything(journal)
        whole = path.read_bytes()
        for _ in range(flips):
            place, bit = chance.randrange(len(whole)), chance.randrange(8)
            for beside in Path(folder).glob("journal.sqlite*"):
                beside.unlink()
            path.write_bytes(whole[:place] + bytes([whole[place] ^ (1 << bit)]) + whole[place + 1 :])
            try:
                with book.open_journal(path, create=False) as journal:
                    if not all(check.holds for check in book.verify(journal)):
                        seen += 1
                    elif everything(journal) == before:
                        silent += 1
                    else:
                        missed.append(f"bit {bit} of byte {place}")
            except CleansheetError:
                seen += 1
    print(
        f"{flips} flips in a file of {len(whole):,} bytes: {seen} reported, {silent} in bytes that hold nothing, {len(missed)} missed"
    )
    print("\n".join(missed[:20]))
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
