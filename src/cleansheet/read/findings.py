"""What is seen, heard or felt: "weeping", "gone green", "fat and blue", "rock steady", each as a finding's word."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .focus import around
from .lexicon import Hit, Phrases, plural
from .words import NUM, SIGN, without_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Layout, Piece
    from .parts import Part
    from .row import Row
    from .words import Tok

_NEGATORS = frozenset(
    "not no never isn't wasn't aren't weren't without don't doesn't didn't nothing none neither nor hardly ain't".split()
)
_NOTHING = "nothing"  # what a phrase stands for that is no finding: "leak down", "good morning"
_SMALL = frozenset("one two three four five six seven eight nine ten eleven twelve".split())
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
    things: dict[str, Phrases[str]]
    bare: frozenset[str]
    seldom: frozenset[str]
    verdicts: frozenset[str]


@cache
def finding_book() -> _Book:
    data = packaged("read", "findings.yaml")
    anything = _phrases(data["any"])
    of = {component: _phrases(words_of) for component, words_of in data["of"].items()}
    things: dict[str, Phrases[str]] = {}
    for names, words_of in data["things"].items():
        own = _phrases(words_of)
        for name in names.split():
            things[name] = things[plural(name)] = own
    return _Book(anything, of, things, frozenset(data["bare"]), frozenset(data["seldom"]),
                 frozenset(data["verdicts"]))  # fmt: skip


def _phrases(words_of: dict[str, list[object]]) -> Phrases[str]:
    own: Phrases[str] = Phrases()
    for word, entries in words_of.items():
        for phrase in entries:
            own.add(str(phrase), word)
    return own


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
    own: tuple[Phrases[str], ...] = ()
    while i < len(toks):
        if layout.piece_of[i] != subject_piece:
            subject_piece = layout.piece_of[i]
            piece = layout.pieces[subject_piece]
            inside = parts.within(piece.first, piece.last)
            subject = inside[0] if inside else subject_of(i, i + 1, parts.things, starts, layout, toks)
            own = _books_of(book, toks, piece, subject)
        hit = _longest(own, book.any, toks, i)
        if hit is None:
            i += 1
            continue
        if hit.found == _NOTHING:
            i = hit.last
            continue
        phrase = " ".join(tok.low for tok in toks[hit.first : hit.last])
        opens = phrase == "cracked" and hit.last < len(toks) and toks[hit.last].low in {"open", "off"}
        if phrase in book.verdicts or opens:  # "stat cracked open at 88"
            i = hit.last
            continue
        if phrase in book.seldom and not _told(toks, hit, layout.pieces[layout.piece_of[i]], parts):
            i = hit.last
            continue
        negated = _negated(toks, max(0, hit.first - 3, layout.pieces[layout.piece_of[hit.first]].first), hit.first)
        word = _FLIP.get(hit.found, hit.found) if negated and not phrase.startswith(("no ", "not ")) else hit.found
        found.append(Finding(hit.first, hit.last, word, phrase in book.bare, negated, phrase))
        i = hit.last
    return found


_IS = frozenset(
    "is are was were be been isn't aren't wasn't weren't looks look looked feels felt seems seemed gone goes went got gets all both "
    "still now too very bit quite just rather really not so wide stuck half fully almost nearly dead stays stayed runs".split()
)


def _told(toks: Sequence[Tok], hit: Hit[str], piece: Piece, parts: Row[Part]) -> bool:
    """Whether words end their statement and stand right behind a part or "is": "the wire's open", "clutch cable slack"."""
    last = piece.last
    while last > hit.last and toks[last - 1].kind == SIGN:
        last -= 1
    if hit.last < last and toks[hit.last].low not in _LINKS:
        return False
    before = toks[hit.first - 1] if hit.first > piece.first else None
    if before is None:
        return False
    return (
        before.low in _IS
        or before.low[-2:] == "'s"
        or any(part.last == hit.first for part in parts.within(max(piece.first, hit.first - 8), hit.first))
    )


_LINKS = frozenset({"and", "or", "at", "in", "on", "when", "with", "from", "between", "too", "again", "now", "there"})


def _negated(toks: Sequence[Tok], first: int, last: int) -> bool:
    """Whether words `first` to `last` say no: "isn't", "never"; not the "no" of "no 2", which is a number's."""
    for k in range(first, last):
        low = toks[k].low
        if low in _NEGATORS and not (low == "no" and k + 1 < len(toks) and _counts(toks[k + 1])):
            return all(toks[j].low not in _ENDS for j in range(k + 1, last))
    return False


_ENDS = frozenset(
    ["stop", "stops", "stopped", "stopping", "quit", "quits", "cease", "ceases"]
)  # "never stops dripping"


def _counts(tok: Tok) -> bool:
    return tok.kind == NUM or tok.low == "." or tok.low in _SMALL


def _books_of(book: _Book, toks: Sequence[Tok], piece: Piece, subject: Part | None) -> tuple[Phrases[str], ...]:
    """The phrases that have a meaning of their own on what a statement speaks of: on its component, on the things that
    it names ("the filter is black"), else on the part in focus ("hums" after a pump).
    """
    books: list[Phrases[str]] = []
    component = book.of.get(subject.id or "") if subject is not None else None
    if component is not None:
        books.append(component)
    named = [book.things.get(without_s(toks[k].low)) for k in range(piece.first, piece.last)]
    if subject is not None and not any(named):
        named = [book.things.get(without_s(toks[k].low)) for k in range(subject.first, subject.last)]
        named.append(book.things.get((subject.id or "").rpartition("-")[2]))
    for one in named:
        if one is not None and one not in books:
            books.append(one)
    return tuple(books)


_SAYS_IS = frozenset(["is", "are", "was", "were", "'s", "looks", "looked", "gone", "turned", "goes", "went"])


def _longest(own: Sequence[Phrases[str]], general: Phrases[str], toks: Sequence[Tok], i: int) -> Hit[str] | None:
    """The longest phrase at word `i`; of two as long the one whose book comes first."""
    best: Hit[str] | None = None
    low = toks[i].low
    for phrases in (*own, general):
        hit = phrases.at(toks, i) if phrases.begins(low) else None
        if hit is not None and (best is None or hit.last > best.last):
            best = hit
    if best is not None and own and best.last > i + 1 and low in _SAYS_IS:
        for phrases in own:  # "coolant is brown": what brown is on a coolant, not on any part
            hit = phrases.at(toks, i + 1) if phrases.begins(toks[i + 1].low) else None
            if hit is not None and hit.last == best.last:
                return Hit(i, hit.last, hit.found)
    return best
