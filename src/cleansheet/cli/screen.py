"""How a draft and its lines look on a plain terminal: a mark, what was said, part and test, the verdict's reason."""

from __future__ import annotations

import re
from pathlib import PurePath
from typing import TYPE_CHECKING, Any

from .paint import coloured, fit, paint, width, wrap

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from cleansheet.catalogue import Catalogue
    from cleansheet.terms import Draft, Item, Quantity

MARKS = {"in_spec": "good", "out_of_spec": "BAD", "too_close": "close", "no_spec": "-", None: ""}
TONES = {"in_spec": "good", "out_of_spec": "bad", "too_close": "close"}
HEADINGS = {
    "reading": "Measured and inspected",
    "expected": "Limits said",
    "symptom": "Complaint and symptoms",
    "action": "Done",
    "suspect": "Suspected",
    "cleared": "Ruled out",
    "question": "Open questions",
    "todo": "To do and to order",
    "marking": "Markings",
}
_ORDER = ("symptom", "reading", "expected", "action", "suspect", "cleared", "question", "todo", "marking")
_CONDITION_WORDS = {
    "speed_rpm": "{} rpm",
    "temperature_c": "at {} °C",
    "elapsed_min": "after {} min",
    "engine": "engine {}",
    "warm": "{}",
    "vacuum_line": "vacuum line {}",
    "throttle": "throttle {}",
    "load": "load {}",
}


def number(value: float) -> str:
    """A figure without noise: 2.5, 940, 12000, 0.0003."""
    text = f"{value:.6g}"
    return f"{value:.0f}" if "e+" in text else text


def quantity_words(quantity: Quantity | None) -> str:
    """A quantity as the trade writes it: "2.5 bar", "about 1.2 kΩ", "under 50 mA", "14 to 17 Ω"."""
    if quantity is None:
        return ""
    unit = unit_words(quantity.unit)
    if quantity.value is not None:
        sign = "" if quantity.comparator == "=" else f"{quantity.comparator} "
        text = f"{sign}{number(quantity.value)}"
    elif quantity.low is not None and quantity.high is not None:
        text = f"{number(quantity.low)} to {number(quantity.high)}"
    elif quantity.low is not None:
        text = f"{quantity.comparator if quantity.comparator != '=' else '>='} {number(quantity.low)}"
    elif quantity.high is not None:
        text = f"{quantity.comparator if quantity.comparator != '=' else '<='} {number(quantity.high)}"
    else:
        return ""
    about = "about " if quantity.approximate else ""
    return f"{about}{text}{'' if unit in ('%', '°') else ' '}{unit}".strip()


def unit_words(code: str | None) -> str:
    if code is None:
        return ""
    from cleansheet.units import show

    return show(code)


def finding_words(finding: str | None) -> str:
    return (finding or "").replace("_", " ")


def place_words(item: Item, catalogue: Catalogue | None) -> str:
    """Part, test, which one and under which conditions, in words."""
    part = name_of(item.component, catalogue)
    if item.position:
        part = f"{part} {item.position}".strip()
    test = catalogue.tests.get(item.test) if catalogue is not None and item.test else None
    words = [part, test.name if test is not None else (item.test or "")]
    text = ": ".join(word for word in words if word)
    held = [condition_words(item.condition)] if item.condition else []
    if item.at is not None:
        held.append(f"{'for' if item.kind == 'todo' else 'on'} {item.at.replace('T', ' ')}")
    return f"{text} ({', '.join(held)})".strip() if held else text


def name_of(component: str | None, catalogue: Catalogue | None) -> str:
    if component is None:
        return ""
    known = catalogue.components.get(component) if catalogue is not None else None
    return known.name if known is not None else component


def condition_words(condition: Mapping[str, str | float]) -> str:
    said = []
    for key, value in condition.items():
        shown = number(value) if isinstance(value, (int, float)) else str(value)
        said.append(_CONDITION_WORDS.get(key, f"{key} {{}}").format(shown))
    return ", ".join(said)


def what_words(item: Item, text: str) -> str:
    """The short column: the value, the finding, or the words themselves."""
    if item.quantity is not None:
        return quantity_words(item.quantity)
    if item.kind == "reading" and item.finding:
        return finding_words(item.finding)
    return " ".join(text[item.start : item.end].split())


def line_lines(
    label: str, item: Item, text: str, catalogue: Catalogue | None, *, looks: Iterable[str] = (), state: str = ""
) -> list[str]:
    """One item as lines of the sheet: the line itself, its reason, and what to look at."""
    verdict = item.verdict.word if item.verdict is not None else None
    looks = tuple(looks)
    mark = MARKS.get(verdict, "") or ("?" if looks else "")
    tone = TONES.get(verdict or "", "look" if looks else "dim")
    head = f"{label:>4} {paint(fit(mark, 5), tone)} "
    indent = 11
    what, place = what_words(item, text), place_words(item, catalogue)
    if item.kind in ("reading", "expected", "marking") and len(what) <= 18:
        body = f"{fit(what, 18)} {place}".rstrip()
        lines = _after_head(head, body, indent)
    else:
        tail = f"  [{place}]" if place else ""
        lines = _after_head(head, f"{what}{tail}", indent)
    if state:
        lines[0] = f"{lines[0]}  {paint(state, 'dim')}"
    if item.verdict is not None and item.verdict.reason:
        lines += wrap(item.verdict.reason, indent).splitlines()
    if item.proposal:
        lines += wrap(item.proposal, indent).splitlines()
    if looks:
        lines += [paint(line, "look") for line in wrap("look: " + "; ".join(looks), indent).splitlines()]
    return lines


def _after_head(head: str, body: str, indent: int) -> list[str]:
    import textwrap

    rows = textwrap.wrap(body, width() - indent, break_long_words=False, break_on_hyphens=False) or [""]
    return [head + rows[0], *(" " * indent + row for row in rows[1:])]


def note_heading(draft: Draft, job: str = "", vehicle: str = "") -> str:
    """One line that says which note this is."""
    note = draft.note
    when = (note.recorded_at or "").replace("T", " ")[:16]
    parts = [PurePath(note.name).name if note.name else "note", when, note.source, vehicle, f"job {job}" if job else ""]
    return paint(" | ".join(part for part in parts if part), "strong")


def remark_lines(remarks: Iterable[str], *, indent: int = 4) -> list[str]:
    """What must be known of a recording, one remark a paragraph, in the tone of what needs a look."""
    lead = " " * (indent - 2)
    rows = [row for one in remarks for row in wrap(one, indent, first=f"{lead}! ").splitlines()]
    return [paint(row, "look") for row in rows]


def draft_lines(draft: Draft, catalogue: Catalogue | None, heading: str) -> list[str]:
    """The whole draft sheet for the screen, with its cautions and who has the last word."""
    from cleansheet.review import reasons_to_look, start

    lines = [heading]
    by_kind: dict[str, list[tuple[int, Item]]] = {}
    for line in start(draft).lines:
        by_kind.setdefault(line.item.kind, []).append((line.number, line.item))
    for kind in _ORDER:
        if kind in by_kind:
            lines.append(paint(HEADINGS[kind], "dim"))
            for place, item in by_kind[kind]:
                lines += line_lines(str(place), item, draft.note.text, catalogue, looks=reasons_to_look(item))
    if not draft.items:
        lines.append("  nothing to put on a sheet was found in these words")
    lines += derived_lines(draft)
    lines += [wrap(remark, 4, first="  - ") for remark in draft.remarks]
    lines += caution_lines(draft, catalogue)
    return lines


def derived_lines(draft: Draft) -> list[str]:
    if not draft.derived:
        return []
    lines = [paint("Worked out", "dim")]
    for figure in draft.derived:
        mark = MARKS.get(figure.verdict, "")
        value = f"{number(figure.value)} {unit_words(figure.unit)}".strip()
        tone = TONES.get(figure.verdict or "", "dim")
        lines += _after_head(
            f"     {paint(fit(mark, 5), tone)} ", f"{fit(value, 18)} {figure.name}: {figure.reason}", 11
        )
    return lines


def caution_lines(draft: Draft, catalogue: Catalogue | None) -> list[str]:
    """The cautions of the tests in the draft, and the reminder that stands under every sheet."""
    authority = catalogue.authority if catalogue is not None else ""
    cautions = [caution for caution in draft.cautions if caution != authority]
    lines = [paint("Take care", "look")] if cautions else []
    lines += [wrap(caution, 4, first="  ! ") for caution in cautions]
    lines.append(paint(wrap(f"A draft, not a diagnosis. {authority}".strip(), 0), "dim"))
    return lines


def why_lines(draft: Draft) -> list[str]:
    """Each item's rule and evidence, with the words marked under the text they stand in."""
    text = draft.note.text
    lines = []
    for place, item in enumerate(sorted(draft.items, key=lambda one: (one.start, one.end)), 1):
        lines.append(f"{place:>4} {item.kind}  confidence {item.confidence:.2f}")
        lines += sentence_lines(text, item.start, item.end)
        lines += [wrap(reason, 11, first="         - ") for reason in item.why]
        for other in item.runners_up:
            lines.append(
                wrap(f"not {other.test or other.component}: {other.why} ({other.score:.2f})", 11, first="         - ")
            )
    return lines


def sentence_lines(text: str, start: int, end: int, *, indent: int = 5) -> list[str]:
    """The sentence around a place, wrapped to the screen, the place marked: in reverse where the screen has colour,
    else underlined on a line of its own.
    """
    from cleansheet.journal.rows import sentence_around

    left, right = sentence_around(text, start, end)
    lines: list[str] = []
    for first, last in _rows(text, left, right, width() - indent):
        shown = "".join(" " if char.isspace() else char for char in text[first:last])
        low, high = max(start, first) - first, min(end, last) - first
        if low >= high:
            lines.append(" " * indent + shown)
        elif coloured():
            lines.append(" " * indent + shown[:low] + paint(shown[low:high], "mark") + shown[high:])
        else:
            lines += [" " * indent + shown, " " * (indent + low) + "^" * (high - low)]
    return lines


def _rows(text: str, left: int, right: int, room: int) -> list[tuple[int, int]]:
    """Where the rows of a stretch of text start and end, broken between words."""
    rows: list[tuple[int, int]] = []
    first = last = left
    for found in re.finditer(r"\S+", text[left:right]):
        word_end = left + found.end()
        if word_end - first > room and last > first:
            rows.append((first, last))
            first = left + found.start()
        last = word_end
    rows.append((first, last))
    return rows


def draft_json_line(draft: Draft, **beside: Any) -> dict[str, Any]:
    """The contract's form, with `beside` (such as `file`) next to it."""
    from cleansheet.terms.draft_json import draft_to_json

    return {**beside, **draft_to_json(draft)}
