"""What waits for review on a part: told beside what is signed, never counted with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .paint import paint, wrap
from .screen import name_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Journal, Query, Waiting


def lines_waiting(drafts: Sequence[Waiting]) -> dict[str, int]:
    """How many lines on each part are neither signed nor dropped yet."""
    from cleansheet import review

    count: dict[str, int] = {}
    for draft in drafts:
        for line in review.play(draft.draft, draft.steps).lines:
            part = line.item.component
            if part is not None and line.state in (review.OPEN, review.KEPT):
                count[part] = count.get(part, 0) + 1
    return count


def waiting_on(book: Journal, query: Query) -> dict[str, int]:
    """How many lines wait for review on each part that a question names, of the vehicles, jobs and days it names."""
    from cleansheet.journal import waiting

    parts = tuple(dict.fromkeys((*query.components, *(test.split(".")[0] for test in query.tests))))
    if not parts:
        return {}
    vehicles, jobs = ({name.casefold() for name in names} for names in (query.vehicles, query.jobs))
    drafts = []
    for one in waiting(book, parts=parts):
        day = one.draft.note.recorded_at or one.taken_at
        if (
            (not vehicles or (one.job.vehicle or "").casefold() in vehicles)
            and (not jobs or one.job.code.casefold() in jobs)
            and (query.since is None or day >= query.since)
            and (query.until is None or day < query.until)
        ):
            drafts.append(one)
    count = lines_waiting(drafts)
    return {part: count[part] for part in parts if part in count}


def waiting_line(count: dict[str, int], catalogue: Catalogue) -> str:
    """One line that says how much waits on which part, or nothing where nothing does."""
    if not count:
        return ""
    number = sum(count.values())
    named = " and ".join(name_of(part, catalogue) for part in count)
    said = f"{number} line{'s' if number != 1 else ''} on {named} wait{'' if number != 1 else 's'} for review: cleansheet review"
    return paint(wrap(said, 0), "look")
