"""Which one of several: cylinders, corners, inner and outer, inlet and exhaust, terminals, all.

A number is a place only where something says so: "cyl 3", "#3", "number three", "no. 3", "on 3", a part that there are
several of before it ("injector 3", "lead 3") or after it ("number 3 injector"). A side alone takes its axle from what
was said before: "front discs, left 16.5".
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .places_numbered import NUMBERED_FROM, before_value, heading_run, numbered, row_heads, sequel, terminals
from .places_said import (
    ORDINALS,
    SEVERAL,
    SMALL,
    Place,
    by_ordinal,
    opened_row,
    other_of_two,
    said_after,
    small,
    the_one_there,
)
from .places_sides import (
    AT_THE_REAR,
    AXLE,
    CORNERS,
    LEFT,
    RIGHT,
    after_a_value,
    at_the_back,
    beside_side,
    corner,
    lettered,
    side_at,
    side_letters,
    side_word,
    slashed_at,
    with_axle,
)
from .words import NUM, WORD

__all__ = ["Place", "find_places", "opened_row", "small"]

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .parts import Part
    from .words import Tok

_CORNERED = frozenset({"tyre", "brake-disc", "brake-pad", "brake-drum", "wheel-bearing", "wheel-nut"})


_SIDES = {
    "inner": "inner",
    "outer": "outer",
    "inboard": "inner",
    "outboard": "outer",
    "inside": "inner",
    "outside": "outer",
}


_PORTS = {
    "inlet": "intake", "inlets": "intake", "intake": "intake", "intakes": "intake",
    "exhaust": "exhaust", "exhausts": "exhaust", "exh": "exhaust", "in": "intake", "ex": "exhaust",
}  # fmt: skip


_MANY_PORTS = frozenset({"inlets", "exhausts", "intakes"})


_ALL = (
    ("all", "four"), ("all", "six"), ("all", "three"), ("all", "eight"), ("all", "five"), ("all", "twelve"),
    ("all", "two"), ("all", "4"), ("all", "6"), ("all", "3"), ("all", "8"), ("all", "round"), ("all", "around"),
    ("all", "of", "them"), ("the", "lot"), ("any", "of", "them"), ("each", "one"), ("every", "one"), ("all", "the", "way", "round"),
    ("the", "four"), ("across", "the", "board"), ("the", "whole", "set"), ("every", "hole"), ("on", "every", "one"),
    ("the", "pair", "of", "them"), ("the", "lot", "of", "them"), ("either", "one"),
    ("right", "round"), ("each",), ("both",), ("apiece",), ("throughout",), ("every", "cylinder"),
)  # fmt: skip


_UNITS = frozenset("mm psi bar thou ohm ohms volts v degrees percent millimetres pounds".split())


_ALL_BY_FIRST = {run[0]: tuple(other for other in _ALL if other[0] == run[0]) for run in _ALL}


def find_places(
    toks: Sequence[Tok],
    parts: Sequence[Part],
    unit_at: frozenset[int] = frozenset(),
    decimals: frozenset[int] = frozenset(),
) -> list[Place]:
    """Every place said in the note, from left to right.

    `unit_at` are the words at which the unit of a figure stands: "no 2 mm" names no second cylinder. `decimals` are those
    at which a figure with a fraction begins: "on two point five" names none either.
    """
    part_end = {part.last: part for part in parts}
    part_start = {part.first: part for part in parts}
    part_last = frozenset(part.last - 1 for part in parts if part.id in SEVERAL or part.id in _CORNERED)
    valves = [part.first for part in parts if part.id == "valve-train"]
    places: list[Place] = []
    rows = row_heads(toks, decimals)
    letters = side_letters(toks, unit_at)
    first_pad = next((part.first for part in parts if part.id in _PAIRED), 1 << 30)
    first_tread = next((part.first for part in parts if part.id == "tyre"), 1 << 30)  # "tread inner 1.2 outer 5.5 mm"
    axle: str | None = None
    n = len(toks)
    i = 0
    while i < n:
        tok = toks[i]
        low = tok.low
        if low not in _TELLS_A_PLACE and tok.kind != NUM and i not in rows and i not in letters:
            i += 1  # most words say nothing of a place
            continue
        found: Place | None = None
        if (axle is None and low in AT_THE_REAR) or (low == "back" and i + 1 < n and toks[i + 1].low in _BACK_OF_IT):
            axle = "rear"
        if low in AXLE and not (low == "back" and not (beside_side(toks, i) or at_the_back(toks, i))):
            found = with_axle(toks, i)
            axle = AXLE[low]
            if found is None:
                found = Place(i, i + 1, None, "axle")
        elif CORNERS.get(low):
            found = Place(i, i + 1, CORNERS[low], "corner")
            axle = CORNERS[low].split("-")[0]
        elif low in {"n", "o"} and (spelt := slashed_at(toks, i)) is not None:
            found = spelt
            axle = (spelt.value or "front").split("-")[0]
        elif low in {"left", "l", "lh"} and i + 2 < n and toks[i + 1].low == "to" and toks[i + 2].low in RIGHT:
            found = Place(i, i + 3, None, "axle")  # "left to right" is an order, no place
        elif low in _THAT and i + 1 < n and toks[i + 1].low in _ONE_THERE:
            there = next((place for place in reversed(places) if place.kind == "corner" and place.value), None)
            found = Place(i, i + 2, there.value, "corner") if there is not None else None
        elif low == "that" and (
            (i + 2 < n and toks[i + 1].low == "one" and toks[i + 2].low in _TELLS)
            or (i + 1 < n and toks[i + 1].low == "one's")
        ):
            found = the_one_there(i, places)
        elif i in letters:
            found = lettered(toks, i, axle)
        elif low in {"near", "off"} and after_a_value(toks, i):
            found = Place(i, i + 1, corner(axle or "front", "ns" if low == "near" else "os"), "corner")
        elif low in LEFT or low in RIGHT or (low in {"n", "o", "near", "off"} and side_word(toks, i)[0]):
            found = side_at(toks, i, axle)
            if found is not None and found.kind == "corner" and found.value:
                axle = found.value.split("-")[0] if found.last - found.first > 1 else axle
        elif low in _SIDES and not (
            low == "outside" and i + 1 < n and toks[i + 1].low in {"is", "temp", "temperature"}
        ):
            if first_pad <= i + 2 or (first_tread <= i + 2 and i + 1 < n and toks[i + 1].kind == NUM):
                found = Place(i, i + 1, _SIDES[low], "side")
        elif low in _PORTS and valves and any(at <= i + 2 for at in valves):
            if low not in {"in", "ex"} or (i + 1 < n and toks[i + 1].kind == NUM):
                found = Place(
                    i, i + (2 if i + 1 < n and toks[i + 1].low in {"all", "both"} else 1), _PORTS[low], "port"
                )
        elif tok.kind == NUM or low in _MAY_BEGIN or small(tok) or i in rows:
            found = (
                other_of_two(toks, i, places)
                or said_after(toks, i, unit_at)
                or by_ordinal(toks, i)
                or _all_of(toks, i, part_start, part_last)
                or terminals(toks, i, part_end)
                or heading_run(toks, i, part_end)
                or rows.get(i)
                or numbered(toks, i, part_end, unit_at, decimals)
                or sequel(toks, i, places, unit_at, decimals)
                or before_value(toks, i, parts, unit_at, decimals, places)
            )
        if found is not None:
            places.append(found)
            i = found.last
        else:
            i += 1
    return places


_MAY_BEGIN = frozenset((*_ALL_BY_FIRST, *ORDINALS)) | NUMBERED_FROM | {"other", "others", "rest", "all", "both"}
_TELLS_A_PLACE = (
    _MAY_BEGIN | SMALL.keys() | AT_THE_REAR | AXLE.keys() | CORNERS.keys() | LEFT | RIGHT | _SIDES.keys() | _PORTS.keys()
    | {"back", "n", "o", "near", "off", "left", "l", "lh", "that", "same", "this"}
)  # fmt: skip
_TELLS = frozenset({"reads", "read", "is", "was", "measures", "measured", "gives", "gave", "shows", "came"})
_BACK_OF_IT = frozenset({"axle", "end", "brakes"})
_THAT, _ONE_THERE = frozenset({"that", "same", "this"}), frozenset({"corner", "side", "wheel", "hub"})
_PAIRED = frozenset({"brake-pad"})  # parts of which each wheel has an inner and an outer one


_LOOK = frozenset(
    "dry wet sooty black tan grey gray brown oily fouled white even equal the alike leaking dripping worn burnt straw biscuit".split()
)
_OF_THEM = 30  # words back to the part that they are all of
_ALREADY = frozenset({"them", "'em", "they're", "they"})
_COUNTED_ONES = frozenset(
    "cells cylinders injectors plugs leads coils cylinders pots wheels corners tyres tires valves lot clearances".split()
)


_NOT_ALL = frozenset("the day right over along that this it of in been done round i he she you they we a at".split())


def _is_plural(word: str) -> bool:
    return word.endswith("s") and not word.endswith("ss")


def _ends_or_tells(toks: Sequence[Tok], i: int) -> bool:
    """Whether what follows "all" says how they all are ("plugs all sooty"), or nothing does."""
    return i >= len(toks) or toks[i].line or (toks[i].kind == WORD and toks[i].low not in _NOT_ALL)


def _all_of(
    toks: Sequence[Tok], i: int, part_start: dict[int, Part], part_last: frozenset[int] = frozenset()
) -> Place | None:
    if toks[i].low in {"other", "others", "rest"} and i and toks[i - 1].low == "the":
        last = i + 2 if toks[i].low == "other" and i + 1 < len(toks) and small(toks[i + 1]) else i + 1
        return Place(i - 1, last, None, "several") if toks[i].low != "other" or last > i + 1 else None
    said_of = toks[i].low == "all" and i + 1 < len(toks) and toks[i + 1].low in _LOOK and not toks[i + 1].line
    begins = said_of and (not i or toks[i].line or toks[i - 1].low in {".", ",", ";", "are", "were"})
    if begins and any(k in part_last for k in range(max(0, i - _OF_THEM), i)):
        return Place(i, i + 1, "all", "all")  # "All dry at 3 bar", "plugs are all sooty"
    if toks[i].low == "all" and i and toks[i - 1].low in _ALREADY:
        return Place(i, i + 1, "all", "all")  # "blew them all up to 3.2"
    port = i + 1 < len(toks) and toks[i + 1].low in _MANY_PORTS  # "all inlets" are the inlet ones
    if toks[i].low == "all" and not port and i + 1 in part_start and part_start[i + 1].id in SEVERAL:
        return Place(i, i + 1, "all", "all")
    if toks[i].low in {"all", "both"} and i + 1 < len(toks) and toks[i + 1].low in _MANY_PORTS:
        return Place(i, i + 2, _PORTS[toks[i + 1].low], "port")
    if (
        toks[i].low == "all"
        and i
        and i - 1 in part_last
        and _is_plural(toks[i - 1].low)
        and _ends_or_tells(toks, i + 1)
    ):
        return Place(i, i + 1, "all", "all")
    if toks[i].low == "all" and i + 2 < len(toks) and toks[i + 1].low in {"the", "of", "cells", "cylinders"}:
        noun = next((k for k in range(i + 1, min(i + 4, len(toks))) if toks[k].low in _COUNTED_ONES), None)
        if noun is not None:
            return Place(i, noun + 1, "all", "all")
    if toks[i].low == "all" and i + 1 < len(toks) and (toks[i + 1].kind == NUM or toks[i + 1].low == "at"):
        return Place(i, i + 1, "all", "all")
    for run in _ALL_BY_FIRST.get(toks[i].low, ()):
        if len(toks) >= i + len(run) and all(toks[i + k].low == word for k, word in enumerate(run)):
            after = toks[i + len(run)].low if i + len(run) < len(toks) else ""
            joins = after == "and" and not (
                i
                and (
                    toks[i - 1].low in {"in", "on", "for", "at"} or toks[i - 1].kind == NUM or toks[i - 1].low in _UNITS
                )
            )  # "0.65 in both and ...", "27 both and the book says 30"
            if run == ("both",) and (joins or after in {"ways", "ends"}):
                return Place(i, i + 1, None, "several")
            return Place(i, i + len(run), "all", "all")
    return None
