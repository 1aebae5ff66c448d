"""Things of a note in the order of their first word, so that those of a stretch are found without walking the note."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, Generic, TypeVar, overload

T = TypeVar("T")


def _first(thing: Any) -> int:
    return int(thing.first)


class Row(Sequence[T], Generic[T]):
    """A sequence sorted by first word; `firsts` holds those words."""

    __slots__ = ("firsts", "things")

    def __init__(self, things: Iterable[T], key: Callable[[T], int] = _first) -> None:
        self.things = list(things)
        self.firsts = [key(thing) for thing in self.things]

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> list[T]: ...
    def __getitem__(self, at: int | slice) -> T | list[T]:
        return self.things[at]

    def __len__(self) -> int:
        return len(self.things)

    def __iter__(self) -> Iterator[T]:
        return iter(self.things)

    def within(self, start: int, stop: int) -> list[T]:
        """The things that begin at `start` or after and before `stop`."""
        return self.things[bisect_left(self.firsts, start) : bisect_left(self.firsts, stop)]

    def before(self, start: int) -> T | None:
        """The last thing that begins before `start`, or None."""
        at = bisect_left(self.firsts, start)
        return self.things[at - 1] if at else None

    def count_before(self, start: int) -> int:
        """How many things begin before `start`."""
        return bisect_left(self.firsts, start)
