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


def story_lines(records: Sequence[Record], catalogue: Catalogue) -> Iterator[str]:
    """The story in lines, fitted to the screen."""
    from cleansheet.journal import story

    told = story(records)
    for series in told.series:
        yield from _series_lines(series, catalogue)
        yield ""
    yield paint("Work done", "dim")
    if told.replaced is not None:
        one = told.replaced
        yield f"  last replaced {one.happened_at[:10]} (job {one.job}, {one.vehicle or 'no vehicle'}): {one.quote}"
    else:
        yield "  no replacement on record"
    for record in reversed(told.actions[-_MOST_ROWS:]):
        if record is not told.replaced:
            yield wrap(f"{record.happened_at[:10]}  {record.quote} (job {record.job})", 14, first="  ")
    for heading, found in (("Open questions", told.questions), ("To do and to order", told.todos)):
        if found:
            yield paint(heading, "dim")
            for record in reversed(found[-_MOST_ROWS:]):
                yield wrap(f"{record.happened_at[:10]}  {record.quote} (job {record.job})", 14, first="  ")


def _series_lines(series: Series, catalogue: Catalogue) -> Iterator[str]:
    head = series.records[-1].item
    test = catalogue.tests.get(series.test or "")
    part = name_of(head.component, catalogue)
    named = f"{part} {series.position}" if series.position else part
    title = f"{named}: {test.name if test else 'no test named'}"
    low, high = series.limits
    if low is not None or high is not None:
        title += f", limit {quantity_words(Quantity(None, low, high, series.unit))}"
    yield paint(f"{title}  ({series.vehicle or 'no vehicle'})", "strong")
    rows = list(zip(series.records, series.values, strict=True))
    if len(rows) > _MOST_ROWS:
        yield f"  ({len(rows) - _MOST_ROWS} older ones not shown)"
        rows = rows[-_MOST_ROWS:]
    scale = _scale([value for _, value in rows if value is not None], low, high)
    for record, value in rows:
        word = record.item.verdict.word if record.item.verdict else None
        mark = paint(f"{MARKS[word] if word else '':<6}", TONES.get(word or "", "dim"))
        said = quantity_words(record.item.quantity) if record.item.quantity else what_words(record.item, record.quote)
        drawn = _bar(value, low, high, scale) if scale and value is not None else ""
        yield f"  {record.happened_at[:10]}  {mark}{said:<16} {drawn}".rstrip()
    if series.per_year is not None and series.unit:
        way = "rising" if series.per_year > 0 else "falling"
        yield f"  {way} by {number(float(f'{abs(series.per_year):.3g}'))} {unit_words(series.unit)} a year"


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
