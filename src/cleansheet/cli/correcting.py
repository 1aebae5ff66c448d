"""What the reviewer types to correct, add, split and join: small questions, answers checked, choices by number."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import typer

from cleansheet import review as rv
from cleansheet.terms import FINDINGS, KINDS, InputError, Item

from .keys import ask, read_key
from .naming import component_of, condition_of, day_of, quantity_fields, test_of, unit_of
from .paint import paint
from .screen import HEADINGS, finding_words, place_words, what_words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from .desk import Desk

_FIELDS = (
    ("v", "value"),
    ("u", "unit"),
    ("p", "part"),
    ("t", "test"),
    ("w", "which one"),
    ("o", "conditions"),
    ("k", "kind"),
    ("f", "finding"),
    ("d", "day"),
)


def ask_correct(desk: Desk, note_id: int, line: rv.Line) -> None:
    """One field of the line corrected; the line is then kept, unless the new value is flagged again."""
    typer.echo("  correct: " + "  ".join(f"{key} {name}" for key, name in _FIELDS) + "   any other key: nothing")
    key = read_key()
    fields = _ASK[key](desk, note_id, line) if key in _ASK else {}
    if not fields:
        typer.echo("  as it was")
        return
    desk.step(note_id, rv.correct(line.number, **fields))
    after = desk.places[note_id].review.line(line.number)
    state = "corrected and kept" if after.state == rv.KEPT else "corrected; look again: it is flagged"
    typer.echo(f"  {state}")
    if "component" in fields or "test" in fields:
        offer_name(desk, note_id, line, after.item.component)


def _ask_value(_desk: Desk, _note_id: int, line: rv.Line) -> dict[str, Any]:
    answer = ask("  value (such as 2.4, 2.4 bar, 14-17 ohm, < 50 mA):")
    return quantity_fields(answer, line.item) if answer else {}


def _ask_unit(desk: Desk, _note_id: int, line: rv.Line) -> dict[str, Any]:
    answer = ask("  unit (such as bar, kohm, ft lb):")
    return {"unit": unit_of(answer, line.item, desk.catalogue)} if answer else {}


def _ask_part(desk: Desk, _note_id: int, line: rv.Line) -> dict[str, Any]:
    answer = ask("  part, by any name (- for none):")
    if answer == "-":
        return {"component": None, "test": None}
    if not answer:
        return {}
    component = component_of(answer, desk.catalogue, choose=_choose)
    tests = desk.catalogue.tests_of(component)
    fitting = [test for test in tests if _fits(line.item, test)]
    if line.item.kind in ("reading", "expected") and fitting:
        place = _choose("which test?", [test.name for test in fitting] + ["none of these"])
        if place < len(fitting):
            return {"test": fitting[place].id}
    return {"component": component}


def _fits(item: Item, test: Any) -> bool:
    if item.quantity is None:
        return bool(test.takes_finding)
    if test.unit == "finding":
        return False
    from cleansheet.units import same_kind

    return item.quantity.unit is None or same_kind(item.quantity.unit, test.unit)


def _ask_test(desk: Desk, _note_id: int, line: rv.Line) -> dict[str, Any]:
    component = line.item.component
    tests = list(desk.catalogue.tests_of(component)) if component else []
    if not tests:
        answer = ask("  test, by part and name:")
        return {"test": test_of(answer, desk.catalogue)} if answer else {}
    place = _choose("which test?", [test.name for test in tests] + ["none of these"])
    return {"test": tests[place].id if place < len(tests) else None}


def _ask_position(_desk: Desk, _note_id: int, _line: rv.Line) -> dict[str, Any]:
    answer = ask("  which one (such as 3, front-left, all; - for none):")
    return {"position": None if answer == "-" else answer.lower().replace(" ", "-")} if answer else {}


def _ask_condition(_desk: Desk, _note_id: int, _line: rv.Line) -> dict[str, Any]:
    answer = ask("  conditions (such as engine=idle temperature_c=20; - for none):")
    if not answer:
        return {}
    return {"condition": {} if answer == "-" else condition_of(answer)}


def _ask_kind(_desk: Desk, _note_id: int, _line: rv.Line) -> dict[str, Any]:
    return {"kind": KINDS[_choose("what is it?", [HEADINGS[kind].lower() for kind in KINDS])]}


def _ask_finding(_desk: Desk, _note_id: int, _line: rv.Line) -> dict[str, Any]:
    place = _choose("what was found?", [finding_words(one) for one in FINDINGS] + ["none"])
    return {"finding": FINDINGS[place] if place < len(FINDINGS) else None}


def _ask_day(desk: Desk, note_id: int, line: rv.Line) -> dict[str, Any]:
    answer = ask("  day (such as yesterday, 14 March, 2026-03-14 10:30; - for the note's own):")
    if not answer:
        return {}
    noted = desk.places[note_id].waiting.draft.note.recorded_at
    return {"at": None if answer == "-" else day_of(answer, noted, ahead=line.item.kind == "todo")}


_ASK: dict[str, Callable[[Desk, int, rv.Line], dict[str, Any]]] = {
    "v": _ask_value,
    "u": _ask_unit,
    "p": _ask_part,
    "t": _ask_test,
    "w": _ask_position,
    "o": _ask_condition,
    "k": _ask_kind,
    "f": _ask_finding,
    "d": _ask_day,
}


def _choose(question: str, options: Sequence[str]) -> int:
    """The place of the option that was chosen by number or by the start of its words. Raises InputError for none."""
    for place, option in enumerate(options, 1):
        typer.echo(f"  {place:>3}  {option}")
    answer = ask(f"  {question} (number):").lower()
    if answer.isdigit() and 1 <= int(answer) <= len(options):
        return int(answer) - 1
    hits = [place for place, option in enumerate(options) if answer and option.lower().startswith(answer)]
    if len(hits) == 1:
        return hits[0]
    raise InputError("nothing was chosen; as it was")


def choose_other(desk: Desk, note_id: int, line: rv.Line, place: int) -> None:
    """Take the runner-up of that number instead."""
    others = line.item.runners_up
    if place > len(others):
        raise InputError(f"there is no other test {place}")
    other = others[place - 1]
    fields = {"test": other.test} if other.test else {"component": other.component}
    desk.step(note_id, rv.correct(line.number, **fields))
    typer.echo("  taken instead, and kept")
    offer_name(desk, note_id, line, other.component)


def ask_hearing(desk: Desk, note_id: int, line: rv.Line) -> None:
    """Choose another hearing of a spoken line; the note's words stay as they were taken."""
    from .hearings import fields_of, hearings

    place = desk.places[note_id]
    note = place.waiting.draft.note
    if not note.words:
        raise InputError("a typed line: there are no other hearings")
    found = hearings(note, line.item, desk.catalogue, place.sheet)
    if not found:
        raise InputError("no other hearing makes anything else of this line")
    options = [
        f"'{one.heard}' for '{one.word.text}': {what_words(one.item, '')} {place_words(one.item, desk.catalogue)}"
        for one in found
    ]
    at = _choose("which hearing?", [*options, "as it is"])
    if at == len(found):
        return
    chosen = found[at]
    desk.step(note_id, rv.correct(line.number, **fields_of(line.item, chosen.item)))
    typer.echo("  taken as heard so")


def ask_add(desk: Desk, note_id: int, _line: rv.Line) -> None:
    """Something was missed: point at its words, by number, in the note."""
    text = desk.places[note_id].waiting.draft.note.text
    start, end = _ask_words(text)
    item = desk.proposals(note_id, start, end)
    if item is None:
        typer.echo("  nothing is understood in these words; what are they?")
        kind = KINDS[_choose("what is it?", [HEADINGS[kind].lower() for kind in KINDS])]
        item = Item(kind, start, end)
        answer = ask("  part, by any name (empty for none):")
        if answer:
            item = replace(item, component=component_of(answer, desk.catalogue, choose=_choose))
    desk.step(note_id, rv.add(item, text))
    typer.echo("  added and kept")


def _ask_words(text: str) -> tuple[int, int]:
    """The place of words pointed at: by their numbers ("7-9") or by typing them."""
    spans = [found.span() for found in re.finditer(r"\S+", text)]
    row = ""
    from .paint import width

    for number, (start, end) in enumerate(spans, 1):
        word = f"{paint(str(number), 'dim')} {text[start:end]}"
        plain = f"{number} {text[start:end]}"
        if len(re.sub(r"\033\[[0-9;]*m", "", row)) + len(plain) + 3 > width():
            typer.echo(f"  {row}")
            row = ""
        row += ("   " if row else "") + word
    typer.echo(f"  {row}")
    answer = ask("  which words (such as 7-9, or type them):")
    found = re.fullmatch(r"(\d+)(?:\s*(?:-|to)\s*(\d+))?", answer)
    if found:
        first, last = int(found.group(1)), int(found.group(2) or found.group(1))
        if 1 <= first <= last <= len(spans):
            return spans[first - 1][0], spans[last - 1][1]
    place = text.lower().find(answer.lower()) if answer else -1
    if place < 0:
        raise InputError("these words are not in the note; nothing was added")
    return place, place + len(answer)


def ask_split(desk: Desk, note_id: int, line: rv.Line) -> None:
    """One line is two: say before which of its words the second one starts."""
    text = desk.places[note_id].waiting.draft.note.text
    quote = text[line.item.start : line.item.end]
    spans = [found.span() for found in re.finditer(r"\S+", quote)]
    if len(spans) < 2:
        raise InputError("one word is not split; correct it, or add the other line")
    typer.echo("  " + "   ".join(f"{number} {quote[a:b]}" for number, (a, b) in enumerate(spans, 1)))
    answer = ask("  the second part starts at word:")
    if not answer.isdigit() or not 2 <= int(answer) <= len(spans):
        raise InputError("nothing was split")
    cut = line.item.start + spans[int(answer) - 1][0]
    ends = line.item.start + spans[int(answer) - 2][1]
    parts = []
    for start, end in ((line.item.start, ends), (cut, line.item.end)):
        found = desk.proposals(note_id, start, end)
        parts.append(found or replace(line.item, start=start, end=end, verdict=None, expected=None))
    desk.step(note_id, rv.split(line.number, parts, text))
    typer.echo("  split; both parts are to be decided")


def ask_join(desk: Desk, note_id: int, line: rv.Line) -> None:
    """Join the line to another that says the same result; the earlier of the two stays."""
    place = desk.places[note_id]
    others = [one for one in place.review.lines if one.number != line.number and one.state in (rv.OPEN, rv.KEPT)]
    if not others:
        raise InputError("there is no other line in this note to join it to")
    text = place.waiting.draft.note.text
    chosen = others[_choose("same result as?", [text[one.item.start : one.item.end] for one in others])]
    first, second = sorted((line, chosen), key=lambda one: one.item.start)
    desk.step(note_id, rv.join(second.number, first.number))
    typer.echo("  joined")


def offer_name(desk: Desk, note_id: int, line: rv.Line, component: str | None) -> None:
    """After the same words were corrected to the same part twice: offer them as the shop's own name."""
    from .shopnames import offer

    offer(desk, note_id, line, component)
