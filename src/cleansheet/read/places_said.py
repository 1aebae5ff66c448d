"""A place as it was said: what the modules that find places share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from .words import Tok

_SMALL = {
    word: str(i)
    for i, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), start=1)
} | {str(i): str(i) for i in range(1, 13)}
_SMALL |= {f"{word}'s": value for word, value in _SMALL.items()}


SEVERAL = frozenset(
    {"injector", "ignition-lead", "spark-plug", "cylinder", "ignition-coil", "valve-train", "carburettor"}
)


@dataclass(frozen=True, slots=True)
class Place:
    """A place said at words `first` to `last` (exclusive). `value` is None where several are named at once.

    `kind` is "cylinder", "corner", "side", "port", "all", "several" or "axle" (front or rear alone, no position).
    """

    first: int
    last: int
    value: str | None
    kind: str


def small(tok: Tok) -> str | None:
    """The position that a numeral from 1 to 12 names, or None: "three", "3" and "three's" give "3", "3.0" none."""
    return _SMALL.get(tok.low)
