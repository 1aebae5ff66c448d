"""The draft under review: its lines, each with what a person has decided of it, as plain values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cleansheet.terms import Draft, Item

Step = Mapping[str, Any]

OPEN, KEPT, DROPPED, SIGNED = "open", "kept", "dropped", "signed"

# Below this a person looks first. On the project's held-back notes (tests/data/own-holdout.jsonl, 25 November 2026) half
# of the unflagged lines that score lower are not as labelled, and one in seven of those that score higher.
SURE = 0.8

_FLAG_WORDS = {
    "unit_slip": "unit or decimal point may have slipped",
    "spec_conflict": "the limit said here differs from the sheet",
    "implausible": "outside what such a part can show",
    "low_confidence_words": "not clearly heard",
    "two_tests_fit": "two tests fit",
    "unit_assumed": "no unit was said",
    "units_disagree": "said in two units that do not agree",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the review. `number` names it for good; `drafted` is the item as drafted, None for an added one.

    `state` is "open", "kept", "dropped" or "signed"; `changed` names the fields a person corrected.
    """

    number: int
    item: Item
    drafted: Item | None
    state: str = OPEN
    changed: tuple[str, ...] = ()
    signed_by: str | None = None

    @property
    def decided(self) -> bool:
        return self.state != OPEN


@dataclass(frozen=True, slots=True)
class Review:
    """A draft, its lines in the order of the words, and the steps that led here from the draft as drafted."""

    draft: Draft
    lines: tuple[Line, ...]
    steps: tuple[Step, ...] = ()

    def line(self, number: int) -> Line:
        """The line of that number. Raises KeyError where there is none."""
        for line in self.lines:
            if line.number == number:
                return line
        raise KeyError(number)

    @property
    def open(self) -> tuple[Line, ...]:
        return tuple(line for line in self.lines if line.state == OPEN)

    @property
    def kept(self) -> tuple[Line, ...]:
        return tuple(line for line in self.lines if line.state == KEPT)

    @property
    def finished(self) -> bool:
        """Nothing is left to decide or to sign."""
        return all(line.state in (SIGNED, DROPPED) for line in self.lines)


def start(draft: Draft) -> Review:
    """The review of a draft before any step: every line open, numbered from 1 in the order of the words."""
    ordered = sorted(draft.items, key=lambda item: (item.start, item.end))
    return Review(draft, tuple(Line(number, item, item) for number, item in enumerate(ordered, 1)))


def reasons_to_look(item: Item) -> tuple[str, ...]:
    """Why a person should look at an item before it is kept; empty for a clean one.

    >>> reasons_to_look(Item("reading", 0, 3, flags=("unit_assumed",)))
    ('no unit was said',)
    """
    reasons = [_FLAG_WORDS.get(flag, flag.replace("_", " ")) for flag in item.flags]
    verdict = item.verdict.word if item.verdict is not None else None
    if verdict == "out_of_spec":
        reasons.append("out of its limits" if item.quantity is not None else "found bad")
    elif verdict == "too_close":
        reasons.append("too close to a limit to call")
    if item.confidence < SURE:
        reasons.append(f"only {item.confidence:.0%} sure")
    if item.kind == "reading" and item.test is None:
        reasons.append("no test found for it")
    return tuple(reasons)


def is_clean(item: Item) -> bool:
    """Whether an item may be kept without being looked at: no flag, not bad, not close, sure, and with its test."""
    return not reasons_to_look(item)


def urgency(item: Item) -> tuple[int, float]:
    """What needs eyes first sorts first: flags, then out of limits, then too close, then unsure, then the rest."""
    verdict = item.verdict.word if item.verdict is not None else None
    if item.flags:
        rank = 0
    elif verdict == "out_of_spec":
        rank = 1
    elif verdict == "too_close":
        rank = 2
    elif not is_clean(item):
        rank = 3
    else:
        rank = 4
    return rank, item.confidence if rank == 3 else 1.0


def looking_order(review: Review) -> tuple[Line, ...]:
    """The open lines, those that need eyes first, each group in the order of the words."""
    return tuple(sorted(review.open, key=lambda line: (*urgency(line.item), line.item.start, line.number)))
