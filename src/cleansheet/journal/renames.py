"""What corrections of parts teach: the same words corrected to the same part twice are likely the shop's own name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from .names import FILLER, folded, words_of
from .sealing import insert

if TYPE_CHECKING:
    from collections.abc import Iterable

    from .store import Journal

_MOST_WORDS = 3
# Words that stand in every second note and name no part; a name made only of such, of numbers or of units is none.
_COMMON = FILLER | frozenset({
    "now", "new", "old", "good", "bad", "ok", "okay", "still", "again", "then", "so", "but", "not", "no", "yes",
    "very", "about", "just", "only", "also", "if", "than", "more", "less", "checked", "measured", "got",
    "reads", "read", "is", "was", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "volts", "volt", "ohm", "ohms", "kohm", "bar", "psi", "mm", "amp", "amps", "degrees", "minutes", "min", "hot",
    "cold", "left", "right", "front", "rear", "inner", "outer", "side", "swapped", "replaced", "cleaned", "fitted",
    "order",
})  # fmt: skip
_PIECE = re.compile(r"[.,;:!?\n()]+")


def candidates(said: str, known: Iterable[tuple[str, ...]] = ()) -> list[str]:
    """Stretches of one to three words that could be a name, longest first; known names are none."""
    names = set(known)
    found: list[str] = []
    for piece in _PIECE.split(said):
        words = words_of(piece)
        for size in range(_MOST_WORDS, 0, -1):
            for place in range(len(words) - size + 1):
                stretch = words[place : place + size]
                if (
                    stretch[0] in _COMMON
                    or stretch[-1] in _COMMON
                    or any(char.isdigit() for word in stretch for char in word)
                ):
                    continue
                if len("".join(stretch)) < 4 or folded(stretch) in names:
                    continue
                found.append(" ".join(stretch))
    return sorted(dict.fromkeys(found), key=lambda one: (-len(one.split()), -len(one)))


def note_rename(journal: Journal, note_id: int, component: str, said: str, *, at: str) -> None:
    """Remember that a line which stood in these words was corrected to this part."""
    with journal.write() as db:
        row = {"note_id": note_id, "component": component, "said": said, "at": at}
        insert(db, "renames", row)


def said_twice(journal: Journal, component: str, said: str, known: Iterable[tuple[str, ...]] = ()) -> list[str]:
    """The stretches of `said` that also stood in an earlier correction to this part, in another note; longest first."""
    earlier = [row["said"] for row in journal.rows("SELECT said FROM renames WHERE component = ?", (component,))]
    seen: set[str] = set()
    for other in earlier:
        if other != said:
            seen.update(candidates(other, known))
    common = [one for one in candidates(said, known) if one in seen]
    # a stretch inside a longer common one adds nothing
    return [
        one for place, one in enumerate(common) if not any(f" {one} " in f" {longer} " for longer in common[:place])
    ]
