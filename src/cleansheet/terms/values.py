"""The values themselves. Field meanings follow the draft sheet's JSON form (docs/draft-sheet.md)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

KINDS = ("reading", "expected", "symptom", "action", "suspect", "cleared", "question", "todo", "marking")
VERDICTS = ("in_spec", "out_of_spec", "too_close", "no_spec")
FINDINGS = (
    "ok", "faulty", "open_circuit", "short_circuit", "dry", "leaking", "stuck_open", "stuck_closed", "worn", "cracked",
    "corroded", "loose", "fouled", "weak", "strong", "works", "does_not_work", "rises", "falls", "steady", "unsteady",
)  # fmt: skip
GOOD_FINDINGS = frozenset({"ok", "dry", "works", "strong", "steady"})
FLAGS = (
    "unit_slip", "spec_conflict", "implausible", "low_confidence_words", "two_tests_fit", "unit_assumed",
    "units_disagree",
)  # fmt: skip

# Condition keys of the draft sheet: engine, speed_rpm, temperature_c, warm, elapsed_min, vacuum_line, throttle, load.
Condition = Mapping[str, str | float]


@dataclass(frozen=True, slots=True)
class Word:
    """A recognised word: `start`/`end` in the note's text, `start_s`/`end_s` seconds into the sound.

    `heard` keeps other hearings of the same stretch, best first. One that would replace a run of words stands beside each of
    them: "150" beside both words of "one fifteen".
    """

    text: str
    start: int
    end: int
    start_s: float
    end_s: float
    probability: float
    heard: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Note:
    """The technician's words. `source` is "typed" or "spoken"; `recorded_at` is ISO 8601 local time or None.

    `sha256` is that of the text's UTF-8 bytes for a typed note, of the sound file for a spoken one.
    `words` is empty for a typed note. `name` is where it came from, as the user gave it. `remarks` say what a person must
    know of a recording: a gap that could not be read, a stretch that may be made up.
    """

    text: str
    source: str = "typed"
    recorded_at: str | None = None
    sha256: str = ""
    words: tuple[Word, ...] = ()
    name: str | None = None
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Audio:
    """A stretch of the recording, in seconds."""

    start_s: float
    end_s: float


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number as said, in the unit as said (a UCUM code, or None where none was said or could be told).

    One number: `value` is it, `low`/`high` the interval that its rounding leaves open.
    A range: `value` is None, `low`/`high` are its ends. One-sided (`comparator` is not "="): `value` is the number and
    `low`/`high` hold the bound on its side, None on the open one.
    """

    value: float | None
    low: float | None
    high: float | None
    unit: str | None = None
    comparator: str = "="
    approximate: bool = False

    @property
    def is_range(self) -> bool:
        return self.value is None

    @property
    def number(self) -> float | None:
        """One figure that stands for the quantity: its value, or the middle of its range."""
        if self.value is not None:
            return self.value
        if self.low is not None and self.high is not None:
            return (self.low + self.high) / 2
        return self.low if self.low is not None else self.high


@dataclass(frozen=True, slots=True)
class Evidence:
    """A component or a test named near a mention: its id (None outside the catalogue) and how near, 0 to 1.

    `here` is true where it stands in the same statement, `close` where hardly a word lies between; `said` are the words.
    `heard` marks a name as a recogniser wrote it for another: it must be looked at.
    """

    id: str | None
    weight: float
    here: bool
    said: str
    close: bool = False
    heard: bool = False


@dataclass(frozen=True, slots=True)
class Mention:
    """Something said, before it is tied to a test.

    `kind` is one of `KINDS`. `start`/`end` is its place, of the number with its unit or of the shortest clause.
    `component` and `position` are what the words say; `parts` and `tests` are those named near it, nearest first.
    `context` holds the words of its statement, `wider` those of its sentence, lower case: they tell one test of a component
    from another. `alternatives` are other ways to take the same number, likelier ones first; `misheard` those in which the
    word after it, to `misheard_end`, is a unit that a recogniser wrote as another word. `second` is the same result
    said in another unit. `group` is shared by the readings of one list. `sentence` counts the note's sentences.
    `tentative` marks a bare number that is a reading only if a test wants it, `again` a measurement repeated. `at` is the day
    (ISO 8601, with the hour where it is said) that the note says it was or is due, None for the note's own time. `why`
    names each rule that made it.
    """

    kind: str
    start: int
    end: int
    quantity: Quantity | None = None
    finding: str | None = None
    component: str | None = None
    position: str | None = None
    condition: Condition = field(default_factory=dict)
    context: tuple[str, ...] = ()
    alternatives: tuple[Quantity, ...] = ()
    misheard: tuple[Quantity, ...] = ()
    misheard_end: int | None = None
    second: Quantity | None = None
    flags: tuple[str, ...] = ()
    confidence: float = 1.0
    why: tuple[str, ...] = ()
    group: int | None = None
    parts: tuple[Evidence, ...] = ()
    tests: tuple[Evidence, ...] = ()
    wider: tuple[str, ...] = ()
    sentence: int = 0
    tentative: bool = False
    again: bool = False
    at: str | None = None


@dataclass(frozen=True, slots=True)
class RunnerUp:
    """A test that also could have been meant, with the reason it lost."""

    component: str | None
    test: str | None
    score: float
    why: str


@dataclass(frozen=True, slots=True)
class Expected:
    """A limit that a reading is judged against. `origin` is "note", "sheet" or "catalogue"; a side may be None."""

    low: float | None
    high: float | None
    unit: str
    origin: str
    source: str
    when: Condition = field(default_factory=dict)
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Verdict:
    """`word` is one of `VERDICTS`; `reason` is one line: the limit, its source, the arithmetic."""

    word: str
    reason: str


@dataclass(frozen=True, slots=True)
class Item:
    """A mention tied to a component and a test; `judge` adds `expected`, `verdict` and flags.

    `proposal` says, for a unit slip, which unit was likely meant; the value itself is never changed. `at` is that of the
    mention: the day that the note says it was, or for a next step is due, where that is not the note's own.
    """

    kind: str
    start: int
    end: int
    quantity: Quantity | None = None
    finding: str | None = None
    component: str | None = None
    test: str | None = None
    position: str | None = None
    condition: Condition = field(default_factory=dict)
    expected: Expected | None = None
    verdict: Verdict | None = None
    flags: tuple[str, ...] = ()
    confidence: float = 1.0
    why: tuple[str, ...] = ()
    runners_up: tuple[RunnerUp, ...] = ()
    second: Quantity | None = None
    proposal: str | None = None
    audio: Audio | None = None
    group: int | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class Derived:
    """A figure computed from the note's readings: what it is, its value, its unit, how it came about, what it says."""

    name: str
    value: float
    unit: str
    reason: str
    verdict: str | None = None
    component: str | None = None
    test: str | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """One note's draft sheet. `derived`, `cautions` and `remarks` are additions to the contract's fields."""

    note: Note
    items: tuple[Item, ...] = ()
    derived: tuple[Derived, ...] = ()
    cautions: tuple[str, ...] = ()
    remarks: tuple[str, ...] = field(default=())
