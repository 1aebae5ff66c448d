"""Recordings of which something must be known: a gap that could not be read, a stretch that may be made up."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from .store import Journal


@dataclass(frozen=True, slots=True)
class Recording:
    """A note's recording with its remarks: `when` is the note's own time (ISO 8601), `name` where it came from."""

    note_id: int
    name: str | None
    when: str
    remarks: tuple[str, ...]


def recordings(journal: Journal, note_ids: Iterable[int]) -> tuple[Recording, ...]:
    """The notes of these numbers that carry remarks, the oldest first."""
    rows = journal.rows(
        "SELECT id, name, coalesce(recorded_at, taken_at) AS at, remarks FROM notes "
        "WHERE remarks IS NOT NULL AND id IN (SELECT value FROM json_each(?)) ORDER BY at, id",
        (json.dumps(sorted(set(note_ids))),),
    )
    return tuple(Recording(row["id"], row["name"], row["at"], tuple(json.loads(row["remarks"]))) for row in rows)
