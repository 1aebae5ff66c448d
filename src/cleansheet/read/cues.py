"""The cue words of a note: what shows that a number is a limit, an older one, a correction; that a clause is a deed or a step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from .data_files import packaged
from .lexicon import Phrases
from .words import Tok

LIMITS = ("limit_before", "limit_after")
FAMILIES = (
    "hearsay", "hypothesis", "instrument", "correction", "forget", "second", "sized",
    "question", "suspect", "cleared", "symptom", "todo",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Cue:
    """A cue at words `first` to `last` (exclusive). `comparator` is what a limit's cue brings along, else ""."""

    first: int
    last: int
    family: str
    comparator: str = ""


@dataclass(frozen=True, slots=True)
class CueBook:
    """Every cue phrase by family, and the verbs of deeds and steps: word -> (base form, form)."""

    families: dict[str, Phrases[str]]
    past: frozenset[str]
    base: frozenset[str]
    steps: frozenset[str]
    verbs: frozenset[str]


def _past(base: str) -> str:
    """The regular past: "clean" -> "cleaned", "free" -> "freed", "tidy" -> "tidied"."""
    if base.endswith("e"):
        return base + "d"
    if base.endswith("y") and base[-2] not in "aeiou":
        return base[:-1] + "ied"
    return base + "ed"


@cache
def cue_book() -> CueBook:
    data = packaged("read", "cues.yaml")
    families: dict[str, Phrases[str]] = {}
    for family in LIMITS:
        found: Phrases[str] = Phrases()
        for comparator in (">=", "<=", ">", "<", ""):  # the plain cue last: the first meaning of a phrase stays
            for phrase in data[family].get(comparator, ()):
                found.add(str(phrase), comparator)
        families[family] = found
    for family in FAMILIES:
        found = Phrases()
        for phrase in data[family]:
            found.add(str(phrase), "")
        families[family] = found
    past, base, steps = set[str](), set[str](), set[str]()
    for entry in data["deeds"]:
        root, _, irregular = str(entry).partition("/")
        past.add(irregular or _past(root))
        base.add(root)
    for entry in data["steps"]:
        root, _, irregular = str(entry).partition("/")
        steps.add(root)
        past.add(irregular or _past(root))
    return CueBook(families, frozenset(past), frozenset(base), frozenset(steps), frozenset(past | base | steps))


def find_cues(toks: Sequence[Tok]) -> list[Cue]:
    """Every cue of the note, in the order of its first word.

    "the book says 480 to 1000" has one of family `limit_before`; "max 203.2" one with the comparator "<=".
    """
    cues = [
        Cue(hit.first, hit.last, family, hit.found)
        for family, found in cue_book().families.items()
        for hit in found.scan(toks)
    ]
    cues.sort(key=lambda cue: cue.first)
    return cues
