"""Search over what is signed: filters become one query over an index, newest first."""

# ruff: noqa: S608 - only our own table and column names go into statements; values never do

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError

from .asking import Query, Span
from .names import NameIndex, Near, words_of
from .query import NEW_PART, Known, parse_query
from .rows import RECORD_COLUMNS, RECORD_TABLES, Record, record_of
from .story import says_replaced

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from .store import Journal

# Counting stops here: "more than 10000" is as good an answer, and a million lines are not walked for it.
MOST_COUNTED = 10_000
# How many of the newest hits of a free-text search are ranked by how well they fit.
_RANKED = 2_000
_FEW_JOBS = 60


@dataclass(frozen=True, slots=True)
class Found:
    """What `find` gives: the records, how many there are in all (at most `MOST_COUNTED`), the question as understood,
    and, where there are none, the names nearest to what was asked.
    """

    records: tuple[Record, ...]
    total: int
    query: Query
    nearest: tuple[Near, ...] = ()

    @property
    def counted_out(self) -> bool:
        return self.total >= MOST_COUNTED


def find(
    journal: Journal,
    asked: str | Query,
    catalogue: Any,
    *,
    today: date,
    limit: int | None = 50,
    index: NameIndex | None = None,
) -> Found:
    """Signed lines that answer a question in words, or a `Query`; newest first, the best fit first for words alone.

    `today` is what "last year" counts from. Raises InputError for a question that asks nothing.
    """
    query = asked if isinstance(asked, Query) else parse_query(asked, catalogue, known(journal), today, index)
    if not query.asks_something:
        raise InputError("what to find? name a part, a test, a value, a date, or words that were said")
    where, values = _conditions(journal, query)
    records = _records(journal, query, where, values, limit)
    total = _count(journal, where, values) if limit is not None and len(records) >= limit else len(records)
    if query.latest:
        records = _latest(records)
    nearest = () if records else _nearest(journal, query, index or NameIndex(catalogue.components))
    return Found(tuple(records), total, query, nearest)


def _nearest(journal: Journal, query: Query, index: NameIndex) -> tuple[Near, ...]:
    """Names near to the part that was asked for, those on record before the others; none where no part was."""
    named = " ".join(index.names[component] for component in query.components or _parts_of(query.tests))
    words = query.unknown or words_of(named)
    near = [one for one in index.suggest(words, limit=12) if one.component not in query.components] if words else []
    on_record = [
        one for one in near if journal.row("SELECT 1 FROM items WHERE component = ? LIMIT 1", (one.component,))
    ]
    return tuple((on_record or near)[:4])


def _parts_of(tests: Sequence[str]) -> list[str]:
    return list(dict.fromkeys(test.split(".")[0] for test in tests))


def last_replaced(journal: Journal, query: Query, catalogue: Any, *, today: date) -> Record | None:
    """The newest action on the parts of a question that says the part is another one now; None where none does."""
    asked = replace(query, kinds=("action",), text=(NEW_PART,), latest=False)
    found = find(journal, asked, catalogue, today=today, limit=10)
    return next((record for record in found.records if says_replaced(record.quote)), None)


def known(journal: Journal) -> Known:
    """The vehicles and people that the journal knows by name."""
    return Known(
        tuple(row[0] for row in journal.rows(_PEOPLE)),
        lambda word: [
            row[0]
            for row in journal.rows(
                "SELECT DISTINCT vehicle FROM jobs "
                "WHERE vehicle COLLATE NOCASE >= ? AND vehicle COLLATE NOCASE < ? ORDER BY vehicle COLLATE NOCASE",
                (word, f"{word}\U0010ffff"),
            )
        ],
    )


# Hops from one name to the next over the index, instead of walking a million lines for a handful of people.
_PEOPLE = """
WITH RECURSIVE person(name) AS (
  SELECT min(signed_by) FROM items
  UNION ALL SELECT (SELECT min(signed_by) FROM items WHERE signed_by > name) FROM person WHERE name IS NOT NULL
) SELECT name FROM person WHERE name IS NOT NULL
"""


def of_job(journal: Journal, job_id: int) -> list[Record]:
    """Every signed line of a job, oldest first, in the order of its words."""
    rows = journal.rows(
        f"SELECT {RECORD_COLUMNS} FROM {RECORD_TABLES} WHERE i.job_id = ? "
        "ORDER BY i.happened_at, i.note_id, i.start_at, i.line",
        (job_id,),
    )
    return [record_of(row) for row in rows]


def _conditions(journal: Journal, query: Query) -> tuple[str, list[Any]]:
    parts: list[str] = []
    values: list[Any] = []

    def among(column: str, wanted: Sequence[Any]) -> None:
        if wanted:
            parts.append(f"{column} IN ({', '.join('?' * len(wanted))})")
            values.extend(wanted)

    # With a part named, the index over parts is the short way; the plus keeps the others out of the plan.
    plus = "+" if query.components or query.tests else ""
    _parts_and_tests(query, parts, values)
    among("i.position", query.positions)
    among(f"{plus}i.verdict", query.verdicts)
    among(f"{plus}i.finding", query.findings)
    among(f"{plus}i.kind", query.kinds)
    among(f"{plus}i.signed_by", query.who)
    if query.jobs or query.vehicles:
        ids = _job_ids(journal, query) or [-1]
        # Many jobs ("Aldern" is every Aldern): walked by time and looked up, instead of job by job and sorted.
        among("i.job_id" if len(ids) <= _FEW_JOBS else "+i.job_id", ids)
    if query.since is not None:
        parts.append("i.happened_at >= ?")
        values.append(query.since)
    if query.until is not None:
        parts.append("i.happened_at < ?")
        values.append(query.until)
    for span in query.values:
        _value(span, parts, values, plus)
    if query.text:
        parts.append(_TEXT)
        values.append(fts_words(query.text))
    return " AND ".join(parts), values


_TEXT = "i.id IN (SELECT rowid FROM items_fts WHERE items_fts MATCH ?)"


def _parts_and_tests(query: Query, parts: list[str], values: list[Any]) -> None:
    """A test's part is named too, so that the index over parts serves."""
    components = list(query.components)
    of_tests = sorted({test.split(".")[0] for test in query.tests})
    if not components and not of_tests:
        return
    marks = ", ".join("?" * (len(components) + len(of_tests)))
    parts.append(f"i.component IN ({marks})")
    values.extend([*components, *of_tests])
    if of_tests:
        tests = ", ".join("?" * len(query.tests))
        either = f"i.test IN ({tests})"
        if components:
            either = f"({either} OR i.component IN ({', '.join('?' * len(components))}))"
        parts.append(either)
        values.extend([*query.tests, *components])


def _value(span: Span, parts: list[str], values: list[Any], plus: str) -> None:
    parts.append(f"{plus}i.base_kind = ?")
    values.append(span.kind)
    # A hair wider than asked: 9.0 kΩ and 9000 Ω must not part ways over the last bit of a conversion.
    if not span.inside:
        low, high = span.low or 0.0, span.high or 0.0
        slack = 1e-9 * max(abs(low), abs(high))
        parts.append(
            f"{plus}i.base IS NOT NULL AND coalesce(i.base_high, i.base) > ? AND coalesce(i.base_low, i.base) < ?"
        )
        values.extend([low + slack, high - slack])
        return
    if span.low is not None:
        slack = 1e-9 * abs(span.low)
        parts.append(f"{plus}i.base > ?" if span.open_low else f"{plus}i.base >= ?")
        values.append(span.low + slack if span.open_low else span.low - slack)
    if span.high is not None:
        slack = 1e-9 * abs(span.high)
        parts.append(f"{plus}i.base < ?" if span.open_high else f"{plus}i.base <= ?")
        values.append(span.high - slack if span.open_high else span.high + slack)


def _job_ids(journal: Journal, query: Query) -> list[int]:
    parts, values = [], []
    if query.jobs:
        parts.append(f"code COLLATE NOCASE IN ({', '.join('?' * len(query.jobs))})")
        values += list(query.jobs)
    if query.vehicles:
        parts.append(f"vehicle COLLATE NOCASE IN ({', '.join('?' * len(query.vehicles))})")
        values += list(query.vehicles)
    return [row["id"] for row in journal.rows(f"SELECT id FROM jobs WHERE {' AND '.join(parts)}", values)]


def _records(journal: Journal, query: Query, where: str, values: list[Any], limit: int | None) -> list[Record]:
    top = "" if limit is None else f"LIMIT {int(limit)}"
    if query.text and where == _TEXT:
        return _by_rank(journal, values[0], limit)
    newest = "ORDER BY i.happened_at DESC, i.id DESC"
    # The inner query can run on an index alone; only the rows that are shown are then read.
    hits = f"SELECT i.id FROM items i WHERE {where} {newest} {top}"
    rows = journal.rows(f"SELECT {RECORD_COLUMNS} FROM {RECORD_TABLES} WHERE i.id IN ({hits}) {newest}", values)
    return [record_of(row) for row in rows]


def _by_rank(journal: Journal, match: str, limit: int | None) -> list[Record]:
    """Words alone: of the newest hits the best first (bm25)."""
    rows = journal.rows(
        f"SELECT {RECORD_COLUMNS}, hit.rank AS rank FROM "
        "(SELECT rowid AS id, bm25(items_fts) AS rank FROM items_fts WHERE items_fts MATCH ? "
        f"ORDER BY rowid DESC {'' if limit is None else f'LIMIT {_RANKED}'}) hit "
        "JOIN items i ON i.id = hit.id JOIN jobs j ON j.id = i.job_id "
        f"ORDER BY hit.rank, i.happened_at DESC {'' if limit is None else f'LIMIT {int(limit)}'}",
        (match,),
    )
    return [record_of(row) for row in rows]


def _count(journal: Journal, where: str, values: list[Any]) -> int:
    hits = f"SELECT 1 FROM items i WHERE {where}"
    if where == _TEXT:  # the index counts by itself; no line is looked up
        hits = "SELECT 1 FROM items_fts WHERE items_fts MATCH ?"
    row = journal.row(f"SELECT count(*) AS n FROM ({hits} LIMIT {MOST_COUNTED})", values)
    return int(row["n"]) if row else 0


def _latest(records: list[Record]) -> list[Record]:
    """The newest of each part, test and position."""
    seen: dict[tuple[Any, ...], Record] = {}
    for record in records:
        item = record.item
        seen.setdefault((item.component, item.test, item.position, item.kind, record.vehicle), record)
    return list(seen.values())


def fts_words(words: Sequence[str]) -> str:
    """Words and phrases as a full-text query, each quoted: what people type is full of its operators ("5W-30").

    A group in brackets is one of our own sets of alternatives and is left as it is.
    """
    said = [word if word.startswith("(") else '"' + re.sub(r'"', '""', word) + '"' for word in words if word.strip()]
    return " AND ".join(said)
