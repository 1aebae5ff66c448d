"""The review's screens: one open line at a time, keys for what to do with it, and the signing."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import typer

from cleansheet import review as rv
from cleansheet.terms import InputError, Item, Note
from cleansheet.terms.draft_json import item_to_json

from .correcting import ask_add, ask_correct, ask_hearing, ask_join, ask_split, choose_other
from .keys import QUIT, read_key
from .paint import paint, width, wrap
from .screen import (
    HEADINGS,
    MARKS,
    TONES,
    line_lines,
    note_heading,
    place_words,
    quantity_words,
    remark_lines,
    sentence_lines,
    what_words,
)

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from cleansheet.terms import Word

    from .desk import Desk, Place

_DOUBTFUL = 0.6  # below this share of certainty a word is shown with it

_HELP = """
  k  keep        the line is right
  c  correct     value, unit, part, test, which, conditions, kind, finding, day
  d  drop        it is nothing; it stays in the note's words
  1-9            take that other test instead
  a  add         point at words that were missed
  s  split       this line is two
  j  join        this line and another are the same result
  p  play        hear exactly that moment (spoken notes)
  h  hearings    what else was heard there (spoken notes)
  w  why         which rule and which words made it
  r  remarks     what must be known of the recording (spoken notes)
  u  undo        take the last step back
  n  next        decide later
  A  all clean   keep every line that needs no eyes; never a flagged one
  S  sign        sign what is kept
  q  stop        goes on from here next time
"""


def sit(desk: Desk) -> None:
    """The sitting: until nothing is open, or the reviewer stops."""
    if not desk.places:
        typer.echo("Nothing waits for review.")
        return
    typer.echo(paint(wrap(f"You sign, nobody else. {desk.catalogue.authority}", 0), "dim"))
    if told := list(recordings_first(desk)):
        typer.echo("\n".join(["", *told]))
    later: set[tuple[int, int]] = set()
    while True:
        queue = desk.queue()
        rest = [one for one in queue if (one[0], one[1].number) not in later]
        if not rest:
            if not _at_the_end(desk, later_count=len(queue)):
                return
            later.clear()
            continue
        note_id, line = rest[0]
        _show_line(desk, note_id, line, left=len(queue))
        if not _one_key(desk, note_id, line, later):
            _farewell(desk)
            return


def recordings_first(desk: Desk) -> Iterator[str]:
    """What must be known of the recordings on the desk before their lines are looked at; nothing where there is nothing."""
    told = [place for place in desk.places.values() if place.waiting.draft.note.remarks]
    if told:
        yield paint("Know this of the recordings first", "strong")
    for place in told:
        yield "  " + note_heading(place.waiting.draft, place.waiting.job.code)
        yield from remark_lines(place.waiting.draft.note.remarks, indent=6)


def _one_key(desk: Desk, note_id: int, line: rv.Line, later: set[tuple[int, int]]) -> bool:
    """Act on one key; false to stop."""
    key = read_key()
    if key in ("q", QUIT):
        return False
    try:
        if key == "n":
            later.add((note_id, line.number))
        elif key == "S":
            _sign(desk)
        elif key == "A":
            typer.echo(f"  {desk.keep_clean()} clean lines kept")
        elif key == "u":
            desk.undo()
            typer.echo("  taken back")
        elif key.isdigit() and key != "0":
            choose_other(desk, note_id, line, int(key))
        elif key in _ACTS:
            _ACTS[key](desk, note_id, line)
        elif key not in ("\n", "\r", " "):
            typer.echo(_HELP)
    except InputError as err:
        typer.echo(paint(f"  {err}", "bad"))
    return True


def _keep(desk: Desk, note_id: int, line: rv.Line) -> None:
    desk.step(note_id, rv.keep(line.number))
    typer.echo(f"  kept: {_short(desk, note_id, line)}")


def _drop(desk: Desk, note_id: int, line: rv.Line) -> None:
    desk.step(note_id, rv.drop(line.number))
    typer.echo(f"  dropped: {_short(desk, note_id, line)}")


def _play(desk: Desk, note_id: int, line: rv.Line) -> None:
    from .playing import play

    place = desk.places[note_id]
    typer.echo(f"  {play(place.waiting.sound, line.item.audio)}")


def _remarks(desk: Desk, note_id: int, _line: rv.Line) -> None:
    remarks = desk.places[note_id].waiting.draft.note.remarks
    typer.echo("\n".join(remark_lines(remarks)) if remarks else "  no remarks on this note")


def _why(_desk: Desk, _note_id: int, line: rv.Line) -> None:
    for reason in line.item.why or ("no rule is named",):
        typer.echo(wrap(reason, 4, first="  - "))


_ACTS: dict[str, Callable[[Desk, int, rv.Line], None]] = {
    "k": _keep,
    "d": _drop,
    "c": ask_correct,
    "a": ask_add,
    "s": ask_split,
    "j": ask_join,
    "p": _play,
    "h": ask_hearing,
    "w": _why,
    "r": _remarks,
}


def _short(desk: Desk, note_id: int, line: rv.Line) -> str:
    text = desk.places[note_id].waiting.draft.note.text
    return f"{what_words(line.item, text)} {place_words(line.item, desk.catalogue)}".strip()


def _show_line(desk: Desk, note_id: int, line: rv.Line, *, left: int) -> None:
    place = desk.places[note_id]
    draft = place.waiting.draft
    typer.echo()
    typer.echo(paint("-" * width(), "dim"))
    typer.echo(note_heading(draft, place.waiting.job.code, place.waiting.job.vehicle or ""))
    typer.echo(paint(f"line {line.number} of {len(place.review.lines)}; {left} to decide in all", "dim"))
    if remarks := len(draft.note.remarks):
        counted = "1 remark" if remarks == 1 else f"{remarks} remarks"
        typer.echo(paint(f"{counted} on this recording (r shows {'it' if remarks == 1 else 'them'})", "look"))
    typer.echo()
    typer.echo("\n".join(sentence_lines(draft.note.text, line.item.start, line.item.end)))
    typer.echo()
    for row in item_rows(line.item, draft.note, desk):
        typer.echo(row)
    keys = (
        "k keep  c correct  d drop  a add  s split  j join  p play  u undo  n next  A all clean  S sign  q stop  ? keys"
    )
    typer.echo(paint(wrap(keys, 0), "dim"))


def item_rows(item: Item, note: Note, desk: Desk) -> Iterator[str]:
    """What the line says, its limit with source, the verdict and its reason, what to look at, and other tests."""
    verdict = item.verdict.word if item.verdict is not None else None
    yield _row("is", HEADINGS[item.kind].lower())
    yield _row("says", what_words(item, note.text))
    if item.second is not None:
        yield _row("also", quantity_words(item.second))
    yield _row("part", place_words(item, desk.catalogue) or "none found")
    if item.expected is not None:
        limit = _limit_words(item)
        yield _row("limit", limit)
    if verdict is not None:
        reason = item.verdict.reason if item.verdict is not None else ""
        mark = MARKS[verdict] if verdict != "no_spec" else "no limit"
        yield _row("judged", f"{mark}  {reason}", tone=TONES.get(verdict, "dim"))
    if item.proposal:
        yield _row("maybe", item.proposal, tone="look")
    heard = heard_words(note, item)
    if heard:
        yield _row("heard", f"{heard}  (h chooses)")
    looks = rv.reasons_to_look(item)
    if looks:
        yield _row("look", "; ".join(looks), tone="look")
    for place, other in enumerate(item.runners_up[:9], 1):
        test = desk.catalogue.tests.get(other.test or "")
        part = desk.catalogue.components.get(other.component or "")
        named = ": ".join(word for word in (part.name if part else "", test.name if test else "") if word)
        yield _row(f"or {place}", f"{named} ({other.why})")
    for caution in _cautions(item, desk):
        yield _row("care", caution, tone="look")


def heard_words(note: Note, item: Item) -> str:
    """Words of the line that were not clearly heard, each with how sure the recogniser was and what else it heard.

    Words that another hearing would replace together stand together.
    """
    from .hearings import runs

    said: dict[tuple[int, int], tuple[Word, list[str]]] = {}
    for first, last, word, heard in runs(note):
        said.setdefault((first, last), (word, []))[1].append(heard)
    covered = {at for first, last in said for at in range(first, last + 1)}
    for at, word in enumerate(note.words):
        if at not in covered and word.probability < _DOUBTFUL:
            said[at, at] = (word, [])
    return "; ".join(
        f"'{word.text}' {word.probability:.0%}" + (f", or '{', '.join(others)}'" if others else "")
        for _, (word, others) in sorted(said.items(), key=lambda one: one[0])
        if word.start < item.end and item.start < word.end
    )


def _cautions(item: Item, desk: Desk) -> list[str]:
    """The cautions of the line's test that were not shown yet in this sitting; who has the last word stands above."""
    test = desk.catalogue.tests.get(item.test or "")
    fresh = [one for one in (test.cautions if test else ()) if one not in desk.cautioned]
    desk.cautioned.update(fresh)
    return [desk.catalogue.cautions.get(one, one).replace(desk.catalogue.authority, "").strip() for one in fresh]


def _row(name: str, text: str, tone: str | None = None) -> str:
    shown = wrap(text, 9, first=f"  {name:<7}")
    return paint(shown, tone) if tone else shown


def _limit_words(item: Item) -> str:
    from cleansheet.terms import Quantity

    limit = item.expected
    if limit is None:
        return ""
    words = quantity_words(Quantity(None, limit.low, limit.high, limit.unit))
    where = {"note": "said in this note", "sheet": "the vehicle's sheet", "catalogue": "general rule of the trade"}
    source = f", {limit.source}" if limit.source and limit.source != limit.origin else ""
    return f"{words} ({where.get(limit.origin, limit.origin)}{source})"


def _at_the_end(desk: Desk, *, later_count: int) -> bool:
    """Nothing is left to decide now: sign? False ends the sitting."""
    kept = desk.kept()
    typer.echo()
    if later_count:
        typer.echo(f"{later_count} put off, {kept} kept and not signed.")
        typer.echo("S sign what is kept   n go through the rest   q stop")
    elif kept:
        typer.echo(f"All decided: {kept} kept.")
        for place in desk.places.values():
            typer.echo("\n".join(_kept_lines(desk, place)))
        typer.echo(f"S sign as {desk.who}   u undo   q stop and sign later")
    else:
        desk.sign(tell_signed)
        typer.echo("All decided; nothing was kept.")
        return False
    while True:
        key = read_key()
        if key == "S":
            _sign(desk)
            return bool(desk.places)
        if key == "u":
            try:
                desk.undo()
            except InputError as err:
                typer.echo(f"  {err}")
                continue
            return True
        if key == "n" and later_count:
            return True
        if key in ("q", QUIT):
            _farewell(desk)
            return False


def _kept_lines(desk: Desk, place: Place) -> list[str]:
    text = place.waiting.draft.note.text
    lines = [note_heading(place.waiting.draft, place.waiting.job.code, place.waiting.job.vehicle or "")]
    for line in place.review.kept:
        changed = f"(you: {', '.join(line.changed)})" if line.changed else ""
        lines += line_lines(str(line.number), line.item, text, desk.catalogue, state=changed)
    return lines


def _sign(desk: Desk) -> None:
    if not desk.kept():
        raise InputError("nothing is kept yet, so there is nothing to sign")
    count = desk.sign(tell_signed)
    typer.echo(f"  {count} lines signed by {desk.who}")


def tell_signed(place: Place, lines: int) -> None:
    note = place.waiting.draft.note
    typer.echo(f"  {lines} signed: {note.name or 'note'}, job {place.waiting.job.code}")
    for row in remark_lines(note.remarks, indent=6):
        typer.echo(row)


def _farewell(desk: Desk) -> None:
    left, kept = desk.open(), desk.kept()
    if left or kept:
        typer.echo(f"Stopped: {left} to decide, {kept} kept and not signed.")
        typer.echo("Goes on from here: cleansheet review")


def list_waiting(desk: Desk) -> None:
    """What waits, one row a line, what needs eyes first, below what must be known of the recordings."""
    for row in recordings_first(desk):
        typer.echo(row)
    for note_id, line in desk.queue():
        place = desk.places[note_id]
        looks = "; ".join(rv.reasons_to_look(line.item))
        name = place.waiting.draft.note.name or f"note {note_id}"
        typer.echo(f"{name}: {_short(desk, note_id, line)}" + (paint(f"  look: {looks}", "look") if looks else ""))
    notes = "1 note" if len(desk.places) == 1 else f"{len(desk.places)} notes"
    typer.echo(f"{desk.open()} to decide in {notes}; {desk.kept()} kept and not signed")


def waiting_json(desk: Desk) -> Iterator[dict[str, Any]]:
    """The open lines as dicts: the note, the job, the line's number, why to look, and the item."""
    for note_id, line in desk.queue():
        place = desk.places[note_id]
        note = place.waiting.draft.note
        yield {
            "note": note_id,
            "file": note.name,
            "job": place.waiting.job.code,
            "line": line.number,
            "look": list(rv.reasons_to_look(line.item)),
            "remarks": list(note.remarks),
            "item": item_to_json(line.item, note.text),
        }
