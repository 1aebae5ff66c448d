"""A note as its statements are weighed: all that was found in it, and what each statement looks like."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from .cues import cue_book
from .parts import OTHER, Part
from .wordclass import classes
from .words import NUM, SIGN, Tok

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from .clauses import Layout, Piece
    from .cues import Cue
    from .findings import Finding
    from .places import Place
    from .row import Row

_FILLERS = frozenset(
    "so then now and but okay ok right well just also i we i've we've um er erm uh oh yeah still again anyway because "
    "plus or - – , . : ( then; alright though mind you".split()
)
GOOD = frozenset({"ok", "dry", "works", "strong", "steady"})
_SAYS_LITTLE = frozenset(["x", "#", "THE", "AND"])


@dataclass(frozen=True, slots=True)
class Scene:
    """All that is known of a note when its clauses are weighed."""

    toks: Sequence[Tok]
    layout: Layout
    parts: Row[Part]
    findings: Row[Finding]
    places: Row[Place]
    cues: Row[Cue]
    figures: Row[tuple[int, int]]
    looks: dict[int, Look] = field(default_factory=dict, compare=False)  # by the number of the piece


@dataclass(frozen=True, slots=True)
class Look:
    """What a statement looks like, found once.

    `lows` are its words with every part as PART (OTHER outside the catalogue) and every figure as #, `run` its word
    classes, `head` the first word that is no filler, `from_beside` what the statements beside it see of it.
    """

    head: int
    lows: list[str]
    run: list[str]
    parts: list[Part]
    findings: list[Finding]
    figures: int
    from_beside: list[str]


def head_of(toks: Sequence[Tok], piece: Piece) -> int:
    """The first word of a piece that is not a filler ("so then I just replaced" -> "replaced")."""
    i = piece.first
    while i < piece.last - 1 and (toks[i].low in _FILLERS or (toks[i].kind == SIGN)):
        i += 1
    return i


def look(scene: Scene, number: int) -> Look:
    """What statement `number` looks like."""
    found = scene.looks.get(number)
    if found is None:
        found = scene.looks[number] = _looked(scene, scene.layout.pieces[number])
    return found


def _looked(scene: Scene, piece: Piece) -> Look:
    first, last = piece.first, piece.last
    parts, findings = scene.parts.within(first, last), scene.findings.within(first, last)
    figures = scene.figures.within(first, last)
    stands_for = {start: (min(stop, last), "#") for start, stop in figures}
    for part in parts:  # a part goes before a number
        stands_for[part.first] = min(part.last, last), "OTHER" if part.how == OTHER else "PART"
    told = {one.first: (min(one.last, last), "GOOD" if one.word in GOOD else "BAD") for one in findings}
    run = classes(scene.toks, first, last, told | stands_for)
    at = head_of(scene.toks, piece)
    head = scene.toks[at].low
    shown = [f"figures={min(len(figures), 2)}", f"head={head}"]
    if findings:
        shown.append("finding")
    if head in cue_book().past:
        shown.append("past")
    shown += [f"c={one}" for one in dict.fromkeys(run) if one not in _SAYS_LITTLE]
    return Look(at, _normal(scene.toks, piece, stands_for), run, parts, findings, len(figures), shown)


def _normal(toks: Sequence[Tok], piece: Piece, stands_for: Mapping[int, tuple[int, str]]) -> list[str]:
    """A piece's words with what stands for some of them: first word -> (word after it, what stands for them)."""
    out: list[str] = []
    i = piece.first
    while i < piece.last:
        one = stands_for.get(i)
        if one is not None:
            i = one[0]
            out.append(one[1])
            continue
        tok = toks[i]
        if tok.kind == NUM:
            out.append("#")
        elif tok.kind != SIGN or tok.low == "?":
            out.append(tok.low)
        i += 1
    return out
