"""The cue words of a note: what shows that a number is a limit, an older one, a correction; that a clause is a deed or a step."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .lexicon import Phrases, spellings
from .lexicon import phrases as phrases_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from .words import Tok

LIMITS = ("limit_before", "limit_after")
FAMILIES = (
    "hearsay", "hypothesis", "instrument", "correction", "forget", "second", "sized", "swing", "applied",
    "question", "puzzled", "blames", "suspect", "acquits", "cleared", "symptom", "todo",
)  # fmt: skip
_ALSO = {"blames": "suspect", "acquits": "cleared"}  # the plainer ones of a family of their own


@dataclass(frozen=True, slots=True)
class Cue:
    """A cue at words `first` to `last` (exclusive). `comparator` is what a limit's cue brings along, else ""."""

    first: int
    last: int
    family: str
    comparator: str = ""


@dataclass(frozen=True, slots=True)
class CueBook:
    """Every cue phrase with its families and their comparators, and the verbs of deeds and steps by form."""

    phrases: Phrases[dict[str, str]]
    past: frozenset[str]
    base: frozenset[str]
    steps: frozenset[str]
    looks: frozenset[str]
    measures: frozenset[str]
    verbs: frozenset[str]
    asides: Phrases[bool]
    felt: frozenset[str]


def _past(base: str) -> str:
    """The regular past: "clean" -> "cleaned", "free" -> "freed", "tidy" -> "tidied"."""
    if base.endswith("e"):
        return base + "d"
    if base.endswith("y") and base[-2] not in "aeiou":
        return base[:-1] + "ied"
    return base + "ed"


@cache
def cue_book() -> CueBook:
    """The cues and the verbs, from data/cues.yaml."""
    data = packaged("read", "cues.yaml")
    phrases: Phrases[dict[str, str]] = Phrases()

    def add(family: str, comparator: str, entries: Iterable[object]) -> None:
        for entry in entries:
            for run in spellings(str(entry)):
                phrases.meaning(run, {}).setdefault(family, comparator)  # the first meaning given to a phrase stays

    for family in LIMITS:
        for comparator in (">=", "<=", ">", "<", ""):  # the plain cue last
            add(family, comparator, data[family].get(comparator, ()))
    for family in FAMILIES:
        add(family, "", data[family])
        if family in _ALSO:
            add(_ALSO[family], "", data[family])
    past, base, steps = set[str](), set[str](), set[str]()
    for entry in data["deeds"]:
        root, _, irregular = str(entry).partition("/")
        past.add(irregular or _past(root))
        base.add(root)
    for entry in data["steps"]:
        root, _, irregular = str(entry).partition("/")
        steps.add(root)
        past.add(irregular or _past(root))
    return CueBook(
        phrases,
        frozenset(past),
        frozenset(base),
        frozenset(steps),
        frozenset(data["looks"]),
        frozenset(data["measures"]),
        frozenset(past | base | steps),
        phrases_of(data["asides"], True),
        frozenset(data["felt"]),
    )


_OUGHT, _AS = frozenset({"should", "ought"}), frozenset({"like", "as"})


def find_cues(toks: Sequence[Tok]) -> list[Cue]:
    """Every cue of the note, in the order of its first word; of one family the longest at each place, none overlapping.

    "the book says 480 to 1000" has one of family `limit_before`; "max 203.2" one with the comparator "<=".
    """
    phrases = cue_book().phrases
    cues: list[Cue] = []
    reached: dict[str, int] = {}
    limit_to = 0  # words up to here belong to a limit's cue of several words
    for i, tok in enumerate(toks):
        if not phrases.begins(tok.low):
            continue
        if tok.low in _OUGHT and i > 1 and toks[i - 2].low in _AS:
            continue  # "it goes up like it should, CO 0.3"
        longest: dict[str, Cue] = {}
        for hit in phrases.ends_at(toks, i):
            for family, comparator in hit.found.items():
                if reached.get(family, 0) <= i:
                    longest[family] = Cue(i, hit.last, family, comparator)
        limit = longest.get("limit_before")
        if limit is not None and limit.last - i > 1:
            limit_to = max(limit_to, limit.last)
        if i < limit_to and "todo" in longest and longest["todo"].last <= limit_to:
            del longest["todo"]  # "book wants" asks nobody for anything
        for cue in longest.values():
            reached[cue.family] = cue.last
            cues.append(cue)
    return cues
