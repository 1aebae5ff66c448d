"""What a person does to a draft, as steps: plain data that can be kept, played again and taken back.

    {"do": "keep", "lines": [1, 4]}                      the lines are right
    {"do": "drop", "lines": [2]}                         they are nothing
    {"do": "reopen", "lines": [2]}                       decide again
    {"do": "correct", "line": 3, "set": {"unit": "kPa"}} right but for these fields
    {"do": "add", "item": {...}}                         something was missed; its place in the words is in it
    {"do": "split", "line": 3, "items": [{...}, {...}]}  one line is two
    {"do": "join", "line": 3, "into": 2}                 two lines are the same result said twice
    {"do": "sign", "lines": [1, 4], "who": ..., "at": ...}

A review is its draft with its steps played over it, so undo is to leave out the last one, and a review that was
interrupted goes on from the steps that were kept.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

from cleansheet.terms import Draft, InputError, Item, Note
from cleansheet.terms.draft_json import item_from_json, item_to_json

from .corrections import corrected
from .lines import DROPPED, KEPT, OPEN, SIGNED, Line, Review, Step, is_clean, start

# Judges items anew after a correction: the same items, in the same order, with fresh verdicts.
Judge = Callable[[Sequence[Item], Note], Sequence[Item]]


def play(draft: Draft, steps: Iterable[Step], judge: Judge | None = None) -> Review:
    """The review that these steps make of a draft."""
    review = start(draft)
    for step in steps:
        review = apply(review, step, judge)
    return review


def apply(review: Review, step: Step, judge: Judge | None = None) -> Review:
    """The review after one more step. Raises InputError for a step that does not fit; the review is then as before."""
    try:
        act = _ACTS[step["do"]]
    except KeyError:
        raise InputError(f"no such review step: {step.get('do')!r}") from None
    try:
        lines = act(review, step)
    except KeyError as err:
        raise InputError(f"this note has no line {err}") from None
    changed = step["do"] in {"correct", "add", "split", "join", "drop", "reopen"}
    if changed and judge is not None:
        lines = _judged(lines, review.draft.note, judge)
    return replace(review, lines=lines, steps=(*review.steps, dict(step)))


def undo(review: Review, judge: Judge | None = None) -> Review:
    """The review without its last step. Raises InputError where there is none, or where it was signed."""
    if not review.steps:
        raise InputError("nothing to take back")
    if review.steps[-1]["do"] == "sign":
        raise InputError("what is signed is not taken back here; a signed line is changed with a reason")
    return play(review.draft, review.steps[:-1], judge)


def keep(*lines: int) -> Step:
    """The lines are right as they stand."""
    return {"do": "keep", "lines": list(lines)}


def drop(*lines: int) -> Step:
    """The lines are nothing; they stay in the note's words."""
    return {"do": "drop", "lines": list(lines)}


def reopen(*lines: int) -> Step:
    """The lines are to be decided again."""
    return {"do": "reopen", "lines": list(lines)}


def correct(line: int, **fields: Any) -> Step:
    """Fields: kind, component, test, position, finding, condition, value, low, high, unit, comparator."""
    return {"do": "correct", "line": line, "set": fields}


def add(item: Item, text: str) -> Step:
    """An item that was missed, with its place in the note's words."""
    return {"do": "add", "item": item_to_json(item, text)}


def split(line: int, items: Sequence[Item], text: str) -> Step:
    """One line is several: the first part keeps its number, the others get new ones."""
    return {"do": "split", "line": line, "items": [item_to_json(item, text) for item in items]}


def join(line: int, into: int) -> Step:
    """Two lines are the same result said twice: `line` goes into `into`."""
    return {"do": "join", "line": line, "into": into}


def keep_clean(review: Review) -> Step:
    """Keep every open line that needs no eyes; a flagged, bad, close or unsure one is never among them."""
    return keep(*(line.number for line in review.open if is_clean(line.item)))


def sign(review: Review, who: str, at: str, *, only_clean: bool = False) -> Step:
    """Sign the kept lines. Raises InputError where nothing is kept or nobody signs."""
    if not who.strip():
        raise InputError("who signs? give a name with --who")
    lines = [line.number for line in review.kept if not only_clean or is_clean(line.item)]
    if not lines:
        raise InputError("nothing is kept yet, so there is nothing to sign")
    return {"do": "sign", "lines": lines, "who": who.strip(), "at": at}


def _set_state(review: Review, numbers: Iterable[int], state: str, **more: Any) -> tuple[Line, ...]:
    wanted = set(numbers)
    for number in wanted:
        if review.line(number).state == SIGNED:
            raise InputError(f"line {number} is signed; it is not changed here")
    return tuple(replace(line, state=state, **more) if line.number in wanted else line for line in review.lines)


def _keep(review: Review, step: Step) -> tuple[Line, ...]:
    return _set_state(review, step["lines"], KEPT)


def _drop(review: Review, step: Step) -> tuple[Line, ...]:
    return _set_state(review, step["lines"], DROPPED)


def _reopen(review: Review, step: Step) -> tuple[Line, ...]:
    return _set_state(review, step["lines"], OPEN)


def _sign(review: Review, step: Step) -> tuple[Line, ...]:
    for number in step["lines"]:
        if review.line(number).state != KEPT:
            raise InputError(f"line {number} is not kept; only kept lines are signed")
    return _set_state(review, step["lines"], SIGNED, signed_by=step["who"])


def _correct(review: Review, step: Step) -> tuple[Line, ...]:
    line = review.line(step["line"])
    if line.state == SIGNED:
        raise InputError(f"line {line.number} is signed; it is not changed here")
    item = corrected(line.item, step["set"])
    changed = tuple(dict.fromkeys((*line.changed, *step["set"])))
    return tuple(
        replace(line, item=item, state=KEPT, changed=changed) if other.number == line.number else other
        for other in review.lines
    )


def _add(review: Review, step: Step) -> tuple[Line, ...]:
    item = _by_hand(item_from_json(step["item"]))
    _check_place(item, review.draft.note)
    return _with(review.lines, Line(_next_number(review), item, None, KEPT, ("added",)))


def _split(review: Review, step: Step) -> tuple[Line, ...]:
    line = review.line(step["line"])
    if line.state == SIGNED:
        raise InputError(f"line {line.number} is signed; it is not changed here")
    parts = [item_from_json(item) for item in step["items"]]
    if len(parts) < 2:
        raise InputError("a split needs two parts")
    for part in parts:
        _check_place(part, review.draft.note)
    lines = tuple(
        replace(line, item=parts[0], state=OPEN, changed=(*line.changed, "split")) if other is line else other
        for other in review.lines
    )
    number = _next_number(review)
    for part in parts[1:]:
        lines = _with(lines, Line(number, part, line.drafted, OPEN, ("split",)))
        number += 1
    return lines


def _join(review: Review, step: Step) -> tuple[Line, ...]:
    gone, line = review.line(step["line"]), review.line(step["into"])
    if gone.number == line.number:
        raise InputError("a line is not joined to itself")
    if SIGNED in (gone.state, line.state):
        raise InputError("a signed line is not joined")
    item = replace(
        line.item,
        start=min(line.item.start, gone.item.start),
        end=max(line.item.end, gone.item.end),
        second=line.item.second or gone.item.quantity,
        component=line.item.component or gone.item.component,
        test=line.item.test or gone.item.test,
        position=line.item.position or gone.item.position,
        finding=line.item.finding or gone.item.finding,
        quantity=line.item.quantity or gone.item.quantity,
        condition={**gone.item.condition, **line.item.condition},
    )
    if item.second == item.quantity:
        item = replace(item, second=None)
    kept = (other for other in review.lines if other.number != gone.number)
    return tuple(
        replace(line, item=item, changed=(*line.changed, "joined")) if other.number == line.number else other
        for other in kept
    )


_ACTS: dict[str, Callable[[Review, Step], tuple[Line, ...]]] = {
    "keep": _keep,
    "drop": _drop,
    "reopen": _reopen,
    "correct": _correct,
    "add": _add,
    "split": _split,
    "join": _join,
    "sign": _sign,
}


def _by_hand(item: Item) -> Item:
    return replace(item, confidence=1.0, flags=(), why=(*item.why, "pointed at by a person"))


def _check_place(item: Item, note: Note) -> None:
    if not 0 <= item.start < item.end <= len(note.text):
        raise InputError(f"no words at {item.start} to {item.end} of this note")


def _next_number(review: Review) -> int:
    # A joined line's number is never given again: it may stand in a step that was kept.
    numbers = [line.number for line in start(review.draft).lines] + [line.number for line in review.lines]
    added = sum(
        1 if step["do"] == "add" else len(step["items"]) - 1 for step in review.steps if step["do"] in ("add", "split")
    )
    return max([len(review.draft.items) + added, *numbers], default=0) + 1


def _with(lines: tuple[Line, ...], line: Line) -> tuple[Line, ...]:
    return tuple(sorted((*lines, line), key=lambda one: (one.item.start, one.item.end, one.number)))


def _judged(lines: tuple[Line, ...], note: Note, judge: Judge) -> tuple[Line, ...]:
    """Fresh verdicts for what is not signed; a line that gets a new flag after being kept is open again."""
    alive = [line for line in lines if line.state != DROPPED]
    fresh = dict(zip((line.number for line in alive), judge([line.item for line in alive], note), strict=True))
    return tuple(_with_verdict(line, fresh.get(line.number)) for line in lines)


def _with_verdict(line: Line, item: Item | None) -> Line:
    if item is None or line.state == SIGNED:
        return line
    new = set(item.flags) - set(line.item.flags)
    return replace(line, item=item, state=OPEN if new and line.state == KEPT else line.state)
