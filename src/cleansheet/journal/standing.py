"""Where a job stands: per system what is proven good, failed, suspect, cleared, disturbed, untested; what is open."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from .rows import Record

FAILED, SUSPECT, DISTURBED, UNSETTLED, CLOSE, GOOD, CLEARED, MEASURED = (
    "failed",
    "suspect",
    "disturbed",
    "unsettled",
    "close",
    "good",
    "cleared",
    "measured",
)
STATES = (FAILED, SUSPECT, DISTURBED, UNSETTLED, CLOSE, GOOD, CLEARED, MEASURED)


@dataclass(frozen=True, slots=True)
class PartStanding:
    """Where one part stands: one of `STATES`, since when, and the records that say so.

    `waiting` counts its lines that are not reviewed yet; with any of them a part is not called good or ruled out.
    """

    component: str
    state: str
    since: str
    because: tuple[Record, ...]
    waiting: int = 0


@dataclass(frozen=True, slots=True)
class SystemStanding:
    """One system: its parts that were met, and the parts with tests of which nothing is signed in this job."""

    system: str
    parts: tuple[PartStanding, ...]
    untested: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Waiting:
    """A question, a next step or an order that nothing signed later has visibly answered.

    `since` holds the records on the same part that came after it, for a person to judge.
    """

    record: Record
    since: tuple[Record, ...]


@dataclass(frozen=True, slots=True)
class Timed:
    """A test that was left to stand: when it is due, and how long that is from now (negative when it is over)."""

    record: Record
    due: str
    left: timedelta


@dataclass(frozen=True, slots=True)
class Standing:
    systems: tuple[SystemStanding, ...]
    questions: tuple[Waiting, ...]
    todos: tuple[Waiting, ...]
    timed: tuple[Timed, ...]
    elsewhere: tuple[Record, ...]


def standing(
    records: Sequence[Record], catalogue: Any, now: datetime, *, waiting: Mapping[str, int] | None = None
) -> Standing:
    """The standing by the signed lines of a job, oldest first.

    `now` only tells how long timed tests have left. `waiting` counts the lines on each part that are not reviewed yet:
    such a part is `unsettled` where what is signed alone would make it good or ruled out.
    """
    unsigned = waiting or {}
    by_part: dict[str, list[Record]] = {}
    for record in records:
        if record.item.component is not None:
            by_part.setdefault(record.item.component, []).append(record)
    parts = {
        component: _settled(part_standing(component, lines), unsigned.get(component, 0))
        for component, lines in by_part.items()
    }
    systems: dict[str, list[PartStanding]] = {}
    for component, part in parts.items():
        if part is not None:
            systems.setdefault(_system(component, catalogue), []).append(part)
    return Standing(
        systems=tuple(
            SystemStanding(system, _sorted(found), _untested(system, parts, catalogue))
            for system, found in sorted(systems.items())
        ),
        questions=_waiting(records, "question"),
        todos=_waiting(records, "todo"),
        timed=_timed(records, now),
        elsewhere=tuple(
            record for record in records if record.item.component is None and record.item.kind == "reading"
        ),
    )


def _settled(part: PartStanding | None, waiting: int) -> PartStanding | None:
    if part is None or not waiting:
        return part
    return replace(part, waiting=waiting, state=UNSETTLED if part.state in (GOOD, CLEARED) else part.state)


def part_standing(component: str, lines: Sequence[Record]) -> PartStanding | None:
    """Where one part stands by its lines, oldest first.

    Work on a part takes the ground from readings before it: "failed, then replaced" is disturbed until it is tested
    again. A bad reading weighs more than a good one of another test, and a suspicion stands until proof or clearance.
    """
    work = _last(lines, "action")
    after = lines[lines.index(work) + 1 :] if work is not None else list(lines)
    latest: dict[tuple[str | None, str | None], Record] = {}
    for line in after:
        if line.item.kind == "reading" and line.item.verdict is not None:
            latest[(line.item.test, line.item.position)] = line
    verdicts: dict[str, list[Record]] = {}
    for line in latest.values():
        if line.item.verdict is not None:
            verdicts.setdefault(line.item.verdict.word, []).append(line)
    good, bad, close = (verdicts.get(word, []) for word in ("in_spec", "out_of_spec", "too_close"))
    cleared, suspect = _last(after, "cleared"), _last(lines, "suspect")
    if suspect is not None and any(
        lines.index(one) > lines.index(suspect) for one in (*good, *([cleared] if cleared else []))
    ):
        suspect = None
    choices: tuple[tuple[str, Iterable[Record]], ...] = (
        (FAILED, bad),
        (SUSPECT, [suspect] if suspect is not None and suspect in after else []),
        (DISTURBED, [work] if work is not None and not good and cleared is None else []),
        (SUSPECT, [suspect] if suspect is not None and work is None else []),
        (CLOSE, close),
        (GOOD, good),
        (CLEARED, [cleared] if cleared is not None else []),
        (MEASURED, [line for line in after if line.item.kind == "reading"]),
    )
    for state, because in choices:
        ground = tuple(because)
        if ground:
            return PartStanding(component, state, ground[-1].happened_at, ground)
    return None


def _last(lines: Sequence[Record], kind: str) -> Record | None:
    return next((line for line in reversed(lines) if line.item.kind == kind), None)


def _system(component: str, catalogue: Any) -> str:
    known = catalogue.components.get(component)
    return (known.system if known else "") or "other"


def _sorted(parts: list[PartStanding]) -> tuple[PartStanding, ...]:
    return tuple(sorted(parts, key=lambda part: (STATES.index(part.state), part.component)))


def _untested(system: str, parts: Mapping[str, PartStanding | None], catalogue: Any) -> tuple[str, ...]:
    return tuple(
        part.id
        for part in catalogue.components.values()
        if part.system == system and catalogue.tests_of(part.id) and parts.get(part.id) is None
    )


def _waiting(records: Sequence[Record], kind: str) -> tuple[Waiting, ...]:
    found = []
    for place, record in enumerate(records):
        if record.item.kind != kind:
            continue
        later = tuple(
            other
            for other in records[place + 1 :]
            if other.item.component is not None
            and other.item.component == record.item.component
            and other.note_id != record.note_id
            and other.item.kind in ("reading", "action", "cleared")
        )
        found.append(Waiting(record, later))
    return tuple(found)


_COUNTS = {"a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0,
           "eight": 8.0, "ten": 10.0, "twelve": 12.0, "fifteen": 15.0, "twenty": 20.0, "thirty": 30.0, "forty": 40.0,
           "forty five": 45.0, "forty-five": 45.0, "sixty": 60.0, "half an": 0.5, "half a": 0.5, "a couple of": 2.0,
           "twenty four": 24.0}  # fmt: skip
_LENGTH = re.compile(
    r"\b(?:in|for|after|leave|left|wait|give|let|stand|sit|standing|hold|holding|back)\b(?:\s+(?:it|them|the|that|this|to|stand|sit|about|another|for|in|again))*\s+"
    rf"(?P<count>\d+(?:[.,]\d+)?|{'|'.join(sorted(_COUNTS, key=len, reverse=True))})\s*[- ]?"
    r"(?P<unit>min(?:ute)?s?|h(?:ou)?rs?|h|days?)\b",
    re.IGNORECASE,
)
_OVERNIGHT = re.compile(r"\b(?:overnight|over\s+night)\b", re.IGNORECASE)
_OVERNIGHT_H = 12.0


def length_said(text: str) -> timedelta | None:
    """How long something is left to stand, out of the words.

    >>> length_said("leave it twenty minutes and look again")
    datetime.timedelta(seconds=1200)
    """
    found = _LENGTH.search(text)
    if found:
        said = " ".join(found["count"].lower().split())
        count = _COUNTS.get(said)
        number = count if count is not None else float(said.replace(",", "."))
        unit = found["unit"].lower()
        return timedelta(minutes=number * (1 if unit.startswith("m") else 60 if unit.startswith("h") else 1440))
    return timedelta(hours=_OVERNIGHT_H) if _OVERNIGHT.search(text) else None


def _timed(records: Sequence[Record], now: datetime) -> tuple[Timed, ...]:
    found = []
    for place, record in enumerate(records):
        if record.item.kind != "todo":
            continue
        length = length_said(record.said)
        if length is None:
            continue
        due = datetime.fromisoformat(record.happened_at) + length
        done = any(
            other.item.component == record.item.component
            and other.item.kind == "reading"
            and other.note_id != record.note_id
            for other in records[place + 1 :]
        )
        if not done:
            found.append(Timed(record, due.isoformat(timespec="minutes"), due - now))
    return tuple(found)
