"""A part's story on the screen: readings over time against their limits; what was done; what is open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cleansheet.terms import Quantity

from .paint import paint, width, wrap
from .screen import MARKS, TONES, name_of, number, quantity_words, unit_words, what_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from cleansheet.catalogue import Catalogue
    from cleansheet.journal import Record, Series

_SCALE = 34
_MOST_ROWS = 12


def story_lines(records: Sequence[Record], catalogue: Catalogue, replaced: Record | None = None) -> Iterator[str]:
    """The story in lines, fitted to the screen, newest first; `replaced` is the last replacement, if it is older."""
    from cleansheet.journal import story

    told = story(records)
    for series in sorted(told.series, key=lambda one: one.records[-1].happened_at, reverse=True):
        yield from _series_lines(series, catalogue)
    yield paint("Work done", "dim")
    last = told.replaced or replaced
    if last is None:
        yield "  no replacement on record"
    else:
        yield wrap(f"last replaced {_when(last)}: {' '.join(last.quote.split())}", 4, first="  ")
    for record in reversed(told.actions[-_MOST_ROWS:]):
        if record is not last:
            yield _row(record)
    for heading, found in (
        ("Open questions", told.questions),
        ("To do and to order", told.todos),
        ("Also said", told.others),
    ):
        if found:
            yield paint(heading, "dim")
            yield from (_row(record) for record in reversed(found[-_MOST_ROWS:]))


def _when(record: Record) -> str:
    return f"{record.happened_at[:10]} ({record.vehicle or 'no vehicle'}, job {record.job})"


def _row(record: Record) -> str:
    kind = (
        f"{record.item.kind}: " if record.item.kind in ("suspect", "cleared", "symptom", "marking", "expected") else ""
    )
    return wrap(f"{record.happened_at[:10]}  {kind}{' '.join(record.quote.split())} (job {record.job})", 14, first="  ")


def _series_lines(series: Series, catalogue: Catalogue) -> Iterator[str]:
    head = series.records[-1].item
    test = catalogue.tests.get(series.test or "")
    part = name_of(head.component, catalogue)
    named = f"{part} {series.position}" if series.position else part
    title = f"{named}: {test.name if test else 'no test named'}"
    low, high = series.limits
    if low is not None or high is not None:
        title += f", limit {quantity_words(Quantity(None, low, high, series.unit))}"
    yield paint(wrap(f"{title}  ({series.vehicle or 'no vehicle'})", 4, first=""), "strong")
    rows = list(zip(series.records, series.values, strict=True))[-_MOST_ROWS:]
    scale = _scale([value for _, value in rows if value is not None], low, high)
    for record, value in reversed(rows):
        word = record.item.verdict.word if record.item.verdict else None
        mark = paint(f"{MARKS[word] if word else '':<6}", TONES.get(word or "", "dim"))
        said = quantity_words(record.item.quantity) if record.item.quantity else what_words(record.item, record.quote)
        drawn = _bar(value, low, high, scale) if scale and value is not None else ""
        yield f"  {record.happened_at[:10]}  {mark}{said:<16} {drawn}".rstrip()
    if len(series.records) > len(rows):
        yield f"  ({len(series.records) - len(rows)} older ones not shown)"
    if series.per_year is not None and series.unit:
        change = abs(series.per_year * series.years)
        over = _span_words(series.years)
        if change <= series.rounding:
            yield f"  steady over {over}, as far as the readings' rounding tells"
        else:
            way = "rising" if series.per_year > 0 else "falling"
            yield f"  {way}: by {number(float(f'{change:.2g}'))} {unit_words(series.unit)} over {over}"


def _span_words(years: float) -> str:
    days = round(years * 365.25)
    return f"{days} days" if days < 100 else f"{days / 30.44:.0f} months" if days < 730 else f"{years:.1f} years"


def _scale(values: Sequence[float], low: float | None, high: float | None) -> tuple[float, float] | None:
    ends = [*values, *(end for end in (low, high) if end is not None)]
    if not values or len(ends) < 2 or max(ends) == min(ends):
        return None
    margin = (max(ends) - min(ends)) * 0.06
    return min(ends) - margin, max(ends) + margin


def _bar(value: float, low: float | None, high: float | None, scale: tuple[float, float]) -> str:
    """The limits as brackets on a line of dots, the reading as a diamond ('o' where the screen has none)."""
    import sys

    room = min(_SCALE, width() - 42)

    def place(number_: float) -> int:
        return round((number_ - scale[0]) / (scale[1] - scale[0]) * (room - 1))

    line = ["."] * room
    if low is not None:
        line[place(low)] = "["
    if high is not None:
        line[place(high)] = "]"
    wide = "utf" in (sys.stdout.encoding or "").lower()
    line[place(value)] = "◆" if wide else "o"
    return "".join(line)
