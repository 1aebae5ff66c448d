"""What is seen, heard or felt: "weeping", "gone green", "fat and blue", "rock steady", each as a finding's word."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .focus import around
from .lexicon import Phrases

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Layout
    from .parts import Part
    from .row import Row
    from .words import Tok

_NEGATORS = frozenset(
    "not no never isn't wasn't aren't weren't without don't doesn't didn't nothing none neither nor hardly ain't".split()
)
_FLIP = {
    "leaking": "dry", "worn": "ok", "cracked": "ok", "corroded": "ok", "loose": "ok", "fouled": "ok", "faulty": "ok",
    "weak": "ok", "ok": "faulty", "works": "does_not_work", "dry": "leaking", "strong": "weak", "steady": "unsteady",
    "unsteady": "steady", "open_circuit": "ok", "short_circuit": "ok", "does_not_work": "works", "rises": "steady",
    "falls": "steady", "stuck_open": "ok", "stuck_closed": "ok",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Finding:
    """A finding said at words `first` to `last` (exclusive). `bare` words count only beside a part."""

    first: int
    last: int
    word: str
    bare: bool
    negated: bool
    phrase: str


@dataclass(frozen=True, slots=True)
class _Book:
    any: Phrases[str]
    of: dict[str, Phrases[str]]
    bare: frozenset[str]


@cache
def finding_book() -> _Book:
    data = packaged("read", "findings.yaml")
    anything: Phrases[str] = Phrases()
    for word, entries in data["any"].items():
        for phrase in entries:
            anything.add(str(phrase), word)
    of: dict[str, Phrases[str]] = {}
    for component, words_of in data["of"].items():
        own: Phrases[str] = Phrases()
        for word, entries in words_of.items():
            for phrase in entries:
                own.add(str(phrase), word)
        of[component] = own
    return _Book(anything, of, frozenset(data["bare"]))


def subject_of(
    first: int, last: int, parts: Sequence[Part], starts: Sequence[int], layout: Layout, toks: Sequence[Tok]
) -> Part | None:
    """The part that something said at `first` to `last` is said of: the nearest named one."""
    near = around(first, last, parts, starts, layout, toks)
    return near[0][0] if near else None


def find_findings(toks: Sequence[Tok], parts: Row[Part], layout: Layout) -> list[Finding]:
    """Every finding of the note, from left to right, overlapping none.

    "Plugs: 1, 2, 4 light brown, 3 wet and black" holds `ok` and `fouled`, for the plugs' colours are known to mean that.
    """
    book = finding_book()
    starts = parts.firsts
    found: list[Finding] = []
    i = 0
    subject: Part | None = None
    subject_piece = -1
    while i < len(toks):
        if layout.piece_of[i] != subject_piece:
            subject_piece = layout.piece_of[i]
            piece = layout.pieces[subject_piece]
            inside = parts.within(piece.first, piece.last)
            subject = inside[0] if inside else subject_of(i, i + 1, parts.things, starts, layout, toks)
        own = book.of.get(subject.id or "") if subject is not None else None
        hit = own.at(toks, i) if own is not None else None
        general = book.any.at(toks, i)
        if hit is None or (general is not None and general.last > hit.last):
            hit = general
        if hit is None:
            i += 1
            continue
        phrase = " ".join(tok.low for tok in toks[hit.first : hit.last])
        negated = any(
            toks[k].low in _NEGATORS
            for k in range(max(0, hit.first - 3, layout.pieces[layout.piece_of[hit.first]].first), hit.first)
        )
        word = _FLIP.get(hit.found, hit.found) if negated and not phrase.startswith(("no ", "not ")) else hit.found
        found.append(Finding(hit.first, hit.last, word, phrase in book.bare, negated, phrase))
        i = hit.last
    return found
