"""What a finding without a subject is said of: "fires up" of the engine, "she cranks" of the starter."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .lexicon import Phrases

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .parts import Part
    from .words import Tok

_FILLERS = frozenset(
    "it she he they and but so now then still just that again both always only also yes well right oh the bike van car truck "
    "camper tractor thing old lump it's she's , ( - : * • did does would will".split()
)
_ANYTHING = "runs"  # phrases that are said of anything that turns, too


@cache
def _phrases() -> Phrases[tuple[str, bool]]:
    """Phrase -> component, and whether it is said of anything that turns."""
    made: Phrases[tuple[str, bool]] = Phrases()
    data = packaged("read", "findings.yaml")["unnamed"]
    for component, rows in data["of"].items():
        for sort, phrases in rows.items():
            for phrase in phrases:
                made.add(str(phrase), (component, sort == _ANYTHING))
    return made


@cache
def _turning() -> frozenset[str]:
    return frozenset(packaged("read", "findings.yaml")["unnamed"]["turning"].split())


def unnamed_subject(toks: Sequence[Tok], first: int, last: int, before: Part | None) -> str | None:
    """The component that words `first` to `last` speak of without naming it; `before` is the part named last.

    "Fires up" after talk of a sensor is the engine; "runs" after talk of a pump is the pump.
    """
    at = first
    while at < last and toks[at].low in _FILLERS:
        at += 1
    hit = _phrases().at(toks, at) if at < last else None
    if hit is None or hit.last > last:
        return None
    component, of_anything = hit.found
    if (
        of_anything
        and before is not None
        and not _turning().isdisjoint((before.id or before.name).replace("-", " ").split())
    ):
        return None
    return component
