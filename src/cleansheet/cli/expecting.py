"""What a job's next recording is likely to name: the tests and parts that are still open on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Journal, Record, Standing

MOST = 12  # names; the recogniser's window is small, and the usual ones give way
_OPEN = ("failed", "suspect", "disturbed", "close")


def open_names(book: Journal, catalogue: Catalogue, *, job: str | None, vehicle: str | None) -> tuple[str, ...]:
    """Names of tests and parts open on the job, or on the vehicle's open job, the likeliest first; at most `MOST`.

    What is to be done or asked comes first, then parts that failed, are suspected, or were worked on and not tested since,
    then parts of the same systems that nobody looked at. Empty where neither is given or no job is open.
    """
    from datetime import datetime

    from cleansheet.journal import foresee_job, of_job, standing

    from .common import now

    if job is None and vehicle is None:
        return ()
    home = foresee_job(book, "", job=job, vehicle=vehicle)
    if home is None:
        return ()
    stands = standing(of_job(book, home.id), catalogue, datetime.fromisoformat(now()))
    return tuple(dict.fromkeys(_names(stands, catalogue)))[:MOST]


def _names(stands: Standing, catalogue: Catalogue) -> Iterator[str]:
    for one in (*stands.todos, *stands.questions):
        if not one.since:  # nothing was measured or done on it since
            yield from _of_record(one.record, catalogue)
    parts = [part for system in stands.systems for part in system.parts if part.state in _OPEN]
    for part in sorted(parts, key=lambda one: _OPEN.index(one.state)):
        yield from _of_parts([part.component], catalogue)
    for system in stands.systems:
        yield from _of_parts(system.untested, catalogue)


def _of_record(record: Record, catalogue: Catalogue) -> Iterator[str]:
    if record.item.component is not None:
        yield from _of_parts([record.item.component], catalogue)
    test = catalogue.tests.get(record.item.test or "")
    if test is not None:
        yield test.name


def _of_parts(components: Iterable[str], catalogue: Catalogue) -> Iterator[str]:
    for component in components:
        known = catalogue.components.get(component)
        if known is not None:
            yield known.name
