"""The review at the bench: every open line of every waiting note, kept in the journal after each step."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet import review as rv
from cleansheet.flow import judge_for, sign_kept
from cleansheet.journal import Journal, Waiting, save_steps, waiting
from cleansheet.terms import InputError, Item

from .common import kept_sheet, now

if TYPE_CHECKING:
    from collections.abc import Callable

    from cleansheet.catalogue import Catalogue, Sheet


@dataclass(frozen=True, slots=True)
class Place:
    """A note on the desk: its draft in the journal, its vehicle's sheet, and its review as far as it got."""

    waiting: Waiting
    sheet: Sheet | None
    review: rv.Review
    judge: rv.Judge


class Desk:
    """What waits for review. Every step is stored before the next one is asked, so a stop loses nothing."""

    def __init__(self, book: Journal, catalogue: Catalogue, who: str, job: str | None = None) -> None:
        self.book, self.catalogue, self.who = book, catalogue, who
        self.places: dict[int, Place] = {}
        self.cautioned: set[str] = set()  # cautions shown in this sitting
        self.done: list[int] = []  # the notes of this sitting's steps, latest last
        for one in waiting(book, job=job):
            self.places[one.note_id] = self._place(one)

    def _place(self, one: Waiting) -> Place:
        sheet = kept_sheet(one.job.sheet, self.catalogue)
        judge = judge_for(self.catalogue, sheet)
        return Place(one, sheet, rv.play(one.draft, one.steps, judge), judge)

    def queue(self) -> list[tuple[int, rv.Line]]:
        """(note, line) for every open line: what needs eyes first, then by note, then in the order of the words."""
        places = list(self.places.items())
        lines = [(rank, note_id, line) for rank, (note_id, place) in enumerate(places) for line in place.review.open]
        lines.sort(key=lambda one: (rv.urgency(one[2].item)[0], one[0], one[2].item.start, one[2].number))
        return [(note_id, line) for _, note_id, line in lines]

    def step(self, note_id: int, step: rv.Step) -> None:
        """One more step on a note, stored at once."""
        place = self.places[note_id]
        self._store(note_id, rv.apply(place.review, step, place.judge))
        self.done.append(note_id)

    def undo(self) -> int:
        """Take the latest step back, of this sitting or of the one before; returns its note."""
        note_id = self.done.pop() if self.done else self._last_touched()
        place = self.places[note_id]
        self._store(note_id, rv.undo(place.review, place.judge))
        return note_id

    def _last_touched(self) -> int:
        touched = [note_id for note_id, place in self.places.items() if place.review.steps]
        if not touched:
            raise InputError("nothing to take back")
        return touched[-1]

    def _store(self, note_id: int, review: rv.Review) -> None:
        place = self.places[note_id]
        revision = save_steps(
            self.book, note_id, [dict(step) for step in review.steps], revision=place.waiting.revision
        )
        self.places[note_id] = replace(place, review=review, waiting=replace(place.waiting, revision=revision))

    def keep_clean(self) -> int:
        """Keep every open line that needs no eyes, in every note; returns how many."""
        count = 0
        for note_id, place in list(self.places.items()):
            step = rv.keep_clean(place.review)
            if step["lines"]:
                self.step(note_id, step)
                count += len(step["lines"])
        return count

    def kept(self) -> int:
        return sum(len(place.review.kept) for place in self.places.values())

    def open(self) -> int:
        return sum(len(place.review.open) for place in self.places.values())

    def sign(self, told: Callable[[Place, int], Any] = lambda *_: None, *, only_clean: bool = False) -> int:
        """Sign what is kept, note by note; notes with nothing left to decide leave the desk. Returns how many lines.

        With `only_clean` a line that was kept although it is flagged stays for the reviewer to sign.
        """
        count = 0
        for note_id in list(self.places):
            count += self._sign_one(note_id, told, only_clean=only_clean)
            if self.places[note_id].review.finished:
                del self.places[note_id]
        self.done.clear()
        return count

    def _sign_one(self, note_id: int, told: Callable[[Place, int], Any], *, only_clean: bool) -> int:
        place = self.places[note_id]
        lines = sum(1 for line in place.review.kept if not only_clean or rv.is_clean(line.item))
        if lines:
            after, revision = sign_kept(
                self.book,
                place.waiting,
                place.review,
                who=self.who,
                at=now(),
                judge=place.judge,
                only_clean=only_clean,
            )
            place = replace(place, review=after, waiting=replace(place.waiting, revision=revision))
            self.places[note_id] = place
            told(place, lines)
        elif place.review.finished:
            self._finish(place)
        return lines

    def _finish(self, place: Place) -> None:
        """End the review of a note of which nothing was worth keeping."""
        from cleansheet.journal import finish

        finish(
            self.book,
            place.waiting.note_id,
            [dict(step) for step in place.review.steps],
            revision=place.waiting.revision,
        )

    def proposals(self, note_id: int, start: int, end: int) -> Item | None:
        """What the note's words there say, for adding or splitting."""
        from cleansheet.flow import propose

        place = self.places[note_id]
        return propose(place.waiting.draft.note, start, end, self.catalogue, place.sheet)
