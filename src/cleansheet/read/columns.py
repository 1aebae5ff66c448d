"""Limits by column: a table whose heading says "min", "max" or "spec" over some of its numbers."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from .words import NUM

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from .quantities import Figure
    from .words import Tok

_SIDES = {
    "min": ">=", "minimum": ">=", "max": "<=", "maximum": "<=", "limit": "<=", "spec": "", "book": "", "sheet": "", "should": "",
    "want": "", "wants": "", "wanted": "", "nominal": "", "ref": "", "target": "",
}  # fmt: skip
_PARTED_BY = ("|", "/", ";")


def column_limits(toks: Sequence[Tok], figures: Sequence[Figure]) -> dict[int, str]:
    """For each figure number in a column of limits its side: ">=", "<=", or "" where the heading names none.

    "| item | left | right | min |" over "| disc mm | 24.8 | 24.6 | 24.0 |" makes 24.0 a least.
    """
    if not any(tok.low in _PARTED_BY for tok in toks):
        return {}
    starts = [figure.first for figure in figures]
    out: dict[int, str] = {}
    columns: dict[int, str] = {}
    parted = ""
    for first, last in _lines(toks):
        begin, end = bisect_left(starts, first), bisect_left(starts, last)
        headed = _heading(toks, first, last)
        if headed is not None:
            parted, columns = headed
            continue
        if not any(toks[i].low == parted for i in range(first, last)):
            columns = {}
            continue
        for k in range(begin, end):
            column = sum(toks[i].low == parted for i in range(first, figures[k].first))
            if column in columns:
                out[k] = columns[column]
    return out


def _lines(toks: Sequence[Tok]) -> Iterator[tuple[int, int]]:
    first = 0
    for i in range(1, len(toks) + 1):
        if i == len(toks) or toks[i].line:
            yield first, i
            first = i


def _heading(toks: Sequence[Tok], first: int, last: int) -> tuple[str, dict[int, str]] | None:
    """What parts the columns of a heading and which of them are limits; None where the line is no such heading."""
    stops = [
        i
        for i in range(first, last - 1)
        if toks[i].low == "." and not toks[i + 1].glued and toks[i + 1].low not in _PARTED_BY
    ]
    start = stops[-1] + 1 if stops else first  # "ALIGNMENT, minibus. Before / spec / after"
    for mark in _PARTED_BY:
        marks = [i for i in range(start, last) if toks[i].low == mark]
        if len(marks) < _TWO or any(toks[i].kind == NUM for i in range(start, last)):
            continue
        columns: dict[int, str] = {}
        for i in range(start, last):
            side = _SIDES.get(toks[i].low)
            column = sum(at < i for at in marks)
            before = toks[i - 1].low if i > start else mark
            after = toks[i + 1].low if i + 1 < last else mark
            if side is not None and {before, after} <= {mark, "."}:
                columns[column] = side
        if columns and (mark == "|" or len(marks) == _TWO):
            return mark, columns
    return None


_TWO = 2
