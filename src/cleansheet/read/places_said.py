"""A place as it was said: what the modules that find places share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .words import Tok

SMALL = {
    word: str(i)
    for i, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), start=1)
} | {str(i): str(i) for i in range(1, 13)}
SMALL |= {f"{word}'s": value for word, value in SMALL.items()}


WARMTH = frozenset({"cold", "hot", "warm", "dry", "wet"})  # how they were when a list of values by place was taken
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
    return SMALL.get(tok.low)


_SIDE_OF_TWO = frozenset({"side", "hand", "wheel", "corner", "hub", "disc", "drum"})
_ONE_OF_TWO = frozenset({"one", "one's", "pot", "cylinder", "carb", "coil", "plug"})
_ACROSS = {"left": "right", "right": "left"}
_REMEMBERED = 30  # words back to the place that "the other side" is across from


def other_of_two(toks: Sequence[Tok], i: int, places: Sequence[Place]) -> Place | None:
    """ "24 mm on carb one, 26.5 on the other one", "left 0.02, same on the other side": the place across from the last one."""
    if toks[i].low != "other" or i + 1 >= len(toks) or not places:
        return None
    word = toks[i + 1].low
    axle = {"front": "front", "rear": "rear", "back": "rear"}.get(word)
    if axle is None and word not in _SIDE_OF_TWO and word not in _ONE_OF_TWO:
        return None
    last = next((place for place in reversed(places) if place.kind in {"corner", "cylinder"} and place.value), None)
    if last is None or last.value is None or i - last.last > _REMEMBERED:
        return None
    if last.kind == "corner":
        its_axle, _, side = last.value.partition("-")
        if side not in _ACROSS or word in _ONE_OF_TWO - {"one", "one's"}:
            return None
        return Place(i, i + 2, f"{axle or its_axle}-{_ACROSS[side]}", "corner")
    several = any(place.kind == "cylinder" and place.value not in {"1", "2"} for place in places)
    if axle is not None or word not in _ONE_OF_TWO or several or last.value not in {"1", "2"}:
        return None
    return Place(i, i + 2, "2" if last.value == "1" else "1", "cylinder")


def said_after(toks: Sequence[Tok], i: int, unit_at: frozenset[int]) -> Place | None:
    """Places told after their values: "floats are 24 and 26 millimetres, one and two." names no more numbers."""
    if i < 2 or i + 2 >= len(toks) or toks[i - 1].low != "," or toks[i + 1].low not in {"and", "&"}:
        return None
    one, two = small(toks[i]), small(toks[i + 2])
    ends = i + 3 >= len(toks) or toks[i + 3].line or toks[i + 3].low in {".", ",", ";"}
    if one is None or two is None or int(two) != int(one) + 1 or not ends or i - 2 not in unit_at:
        return None
    return Place(i, i + 3, None, "several")


ORDINALS = {
    word: str(i) for i, word in enumerate("first second third fourth fifth sixth".split(), start=1)
}  # fmt: skip
_HELD_BY = frozenset({"that", "the", "on", "number", "this"})
_ONES = frozenset("one one's pot cylinder cyl injector plug lead coil hole carb cell".split())


def by_ordinal(toks: Sequence[Tok], i: int) -> Place | None:
    """ "leak-down on that third one's twenty six percent": one of several by its place in the row."""
    said = ORDINALS.get(toks[i].low)
    if said is None or not i or i + 1 >= len(toks) or toks[i + 1].low not in _ONES:
        return None
    if toks[i - 1].low not in _HELD_BY or (said == "1" and toks[i + 1].low in {"one", "one's"}):
        return None
    return Place(i, i + 2, said, "cylinder")


_OPENS = frozenset({"is", "was", "reads", "at", "came"})
_ROW = 14  # words from a row's first place to its second


def opened_row(toks: Sequence[Tok], places: list[Place]) -> list[Place]:
    """The places with the one that a row begins with, where it has no marker: "bores, one is 86.02, two 86.02"."""
    k = next((k for k, place in enumerate(places) if place.kind == "cylinder" and place.value == "2"), None)
    if k is None or any(place.kind == "cylinder" and place.value == "1" for place in places[:k]):
        return places
    start = max(places[k].first - _ROW, places[k - 1].last if k else 0, 0)
    for i in range(start, places[k].first - 1):
        low = toks[i].low
        if (low == "one" and toks[i + 1].low in _OPENS) or (low == "one's" and not (i and toks[i - 1].low in _HELD_BY)):
            return [*places[:k], Place(i, i + 1, "1", "cylinder"), *places[k:]]
    return places


def the_one_there(i: int, places: Sequence[Place]) -> Place | None:
    """ "it's number one lead. That one reads eighty K": the place spoken of last."""
    last = next((place for place in reversed(places) if place.kind in {"corner", "cylinder"}), None)
    if last is None or last.value is None or i - last.last > _SPOKEN_OF:
        return None
    return Place(i, i + 2, last.value, last.kind)


_SPOKEN_OF = 8
