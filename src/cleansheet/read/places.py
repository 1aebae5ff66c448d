"""Which one of several: cylinders, corners, inner and outer, inlet and exhaust, terminals, all.

A number is a place only where something says so: "cyl 3", "#3", "number three", "no. 3", "on 3", a part that there are
several of before it ("injector 3", "lead 3") or after it ("number 3 injector"). A side alone takes its axle from what
was said before: "front discs, left 16.5".
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .cues import cue_book
from .numbers import candidates_at
from .words import NUM, WORD, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .parts import Part

_SMALL = {
    word: str(i)
    for i, word in enumerate("one two three four five six seven eight nine ten eleven twelve".split(), start=1)
} | {str(i): str(i) for i in range(1, 13)}
_MARKERS = frozenset(
    "cyl cylinder cylinders cyls number no nos # nr pot cell cells pin pins terminal terminals".split()
)
_SEVERAL = frozenset(
    {"injector", "ignition-lead", "spark-plug", "cylinder", "ignition-coil", "valve-train", "carburettor"}
)
_CORNERED = frozenset({"tyre", "brake-disc", "brake-pad", "brake-drum", "wheel-bearing", "wheel-nut"})
_ONE_OF = frozenset(
    "side of bank end hand occasion more that which go test wheel corner drop day or hour minute litre bar".split()
)
# the parts that a number after them tells apart: "injector 3", not "leakdown 8"
_ONE_OF_SEVERAL = frozenset(
    "injector injectors inj injs lead leads plug plugs cylinder cylinders cyl coil coils carb carbs carburettor pot barrel bore "
    "bores wire valve valves rocker piston float floats spark".split()
)
_AFTER_A_DEED = frozenset([",", ".", ";", "through", "with", "and", "again", "to", "in", "for", "out", "&", "then"])
_CORNERS = {
    "nsf": "front-left", "osf": "front-right", "nsr": "rear-left", "osr": "rear-right",
    "fl": "front-left", "fr": "front-right", "rl": "rear-left", "rr": "rear-right",
    "lf": "front-left", "rf": "front-right", "lr": "rear-left",
    "lhf": "front-left", "rhf": "front-right", "lhr": "rear-left", "rhr": "rear-right",
    "nf": "front-left", "of": "", "flh": "front-left", "frh": "front-right",
}  # fmt: skip
_LEFT = frozenset(["ns", "nearside", "left", "lh", "near-side", "passenger", "n/s", "nside", "l"])
_RIGHT = frozenset(["os", "offside", "right", "rh", "off-side", "driver's", "drivers", "driver", "o/s", "oside"])
_SIDE_LETTERS = frozenset({"l", "r"})
_OF_A_CORNER = frozenset(
    "disc discs rotor rotors pad pads drum drums caliper flexi hose hub bearing tyre tyres tire wheel shoe shoes".split()
)
_AXLE = {
    "front": "front", "fronts": "front", "rear": "rear", "rears": "rear", "back": "rear",
}  # fmt: skip
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
    ("the", "four"), ("right", "round"), ("each",), ("both",), ("apiece",), ("throughout",), ("every", "cylinder"),
)  # fmt: skip


_ALL_BY_FIRST = {run[0]: tuple(other for other in _ALL if other[0] == run[0]) for run in _ALL}


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
    return _SMALL.get(tok.low.removesuffix("'s"))


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
    part_last = frozenset(part.last - 1 for part in parts if part.id in _SEVERAL or part.id in _CORNERED)
    valves = [part.first for part in parts if part.id == "valve-train"]
    places: list[Place] = []
    rows = _row_heads(toks, decimals)
    letters = _side_letters(toks, unit_at)
    first_pad = next((part.first for part in parts if part.id in _PAIRED), len(toks))
    axle: str | None = None
    n = len(toks)
    i = 0
    while i < n:
        tok = toks[i]
        low = tok.low
        found: Place | None = None
        if low in _AXLE and not (low == "back" and not _beside_side(toks, i)):
            found = _with_axle(toks, i)
            axle = _AXLE[low]
            if found is None:
                found = Place(i, i + 1, None, "axle")
        elif _CORNERS.get(low):
            found = Place(i, i + 1, _CORNERS[low], "corner")
            axle = _CORNERS[low].split("-")[0]
        elif low in {"n", "o"} and (spelt := _slashed(toks, i)) is not None:
            found = spelt
            axle = (spelt.value or "front").split("-")[0]
        elif low in {"left", "l", "lh"} and i + 2 < n and toks[i + 1].low == "to" and toks[i + 2].low in _RIGHT:
            found = Place(i, i + 3, None, "axle")  # "left to right" is an order, no place
        elif i in letters:
            found = _lettered(toks, i, axle)
        elif low in {"near", "off"} and _after_a_value(toks, i):
            found = Place(i, i + 1, _corner(axle or "front", "ns" if low == "near" else "os"), "corner")
        elif low in _LEFT or low in _RIGHT or (low in {"n", "o", "near", "off"} and _side_word(toks, i)[0]):
            found = _side(toks, i, axle)
            if found is not None and found.kind == "corner" and found.value:
                axle = found.value.split("-")[0] if found.last - found.first > 1 else axle
        elif low in _SIDES and not (
            low == "outside" and i + 1 < n and toks[i + 1].low in {"is", "temp", "temperature"}
        ):
            if first_pad <= i + 2:
                found = Place(i, i + 1, _SIDES[low], "side")
        elif low in _PORTS and valves and any(at <= i + 2 for at in valves):
            if low not in {"in", "ex"} or (i + 1 < n and toks[i + 1].kind == NUM):
                found = Place(i, i + (2 if i + 1 < n and toks[i + 1].low in {"all", "both"} else 1), _PORTS[low], "port")
        else:
            found = (
                _all_of(toks, i, part_start, part_last)
                or _terminals(toks, i, part_end)
                or _heading_run(toks, i, part_end)
                or rows.get(i)
                or _numbered(toks, i, part_end, unit_at, decimals)
                or _sequel(toks, i, places, unit_at, decimals)
                or _before_value(toks, i, parts, unit_at, decimals)
            )
        if found is not None:
            places.append(found)
            i = found.last
        else:
            i += 1
    return places


_PAIRED = frozenset({"brake-pad"})  # parts of which each wheel has an inner and an outer one


def _side_letters(toks: Sequence[Tok], unit_at: frozenset[int]) -> frozenset[int]:
    """Where L and R alone name a side: "L 0.05, R 0.13", "R disc". One letter alone is none, unless its part or axle says so."""
    found: dict[str, list[int]] = {}
    sure = False
    for i, tok in enumerate(toks):
        if tok.low not in _SIDE_LETTERS or i in unit_at or i + 1 >= len(toks) or toks[i + 1].line:
            continue
        if i and not tok.line and ((toks[i - 1].kind == NUM and toks[i + 1].kind != NUM) or (tok.glued and toks[i - 1].low not in {"(", "|"})):
            continue
        after = toks[i + 1]
        named = after.low in _OF_A_CORNER
        if named or after.low in {":", "="} or (after.kind == NUM and not after.glued):
            found.setdefault(tok.low, []).append(i)
            sure = sure or named or (i > 0 and toks[i - 1].low in _AXLE)
    if len(found) < 2 and not sure:
        return frozenset()
    return frozenset(i for ats in found.values() for i in ats)


def _lettered(toks: Sequence[Tok], i: int, axle: str | None) -> Place:
    return Place(i, i + 1, _corner(axle or "front", toks[i].low), "corner")


def _after_a_value(toks: Sequence[Tok], i: int) -> bool:
    """ "seventeen point three near and seventeen point two off": a side said short, after its value, beside the other."""
    if not i or (i + 1 < len(toks) and toks[i + 1].low == "side"):
        return False
    if toks[i - 1].kind != NUM and not candidates_at(list(toks[i - 1 : i]), 0) and toks[i - 1].low not in _MEASURED_IN:
        return False
    if toks[i].low == "off":
        return any(tok.low == "near" for tok in toks[max(0, i - _APART) : i])
    ends = i + 1 == len(toks) or toks[i + 1].line or toks[i + 1].low in {",", ".", ";", "and", "&", "/", "both", "then"}
    return ends and any(tok.low == "off" for tok in toks[i + 1 : i + _APART])


_MEASURED_IN = frozenset("mm mil mils millimetres millimeters thou bar psi pounds degrees percent".split())
_APART = 12  # words within which the other side is said


def _row_heads(toks: Sequence[Tok], decimals: frozenset[int]) -> dict[int, Place]:
    """Lines that begin with 1, 2, 3 ... as the rows of a table do: "1 | 164 | 171"."""
    heads: list[tuple[int, int]] = []
    for i, tok in enumerate(toks):
        if tok.line and tok.kind == NUM and i not in decimals and i + 1 < len(toks) and not toks[i + 1].line:
            said = small(tok)
            if said is not None and toks[i + 1].low in {")", "."} and not _row_value(toks, i + 2):
                continue  # "1) plugs out": a line of an enumeration
            if said is not None and not (toks[i + 1].glued and toks[i + 1].low not in {"|", ":", ")", "."}):
                heads.append((i, int(said)))
    found: dict[int, Place] = {}
    for (i, one), (j, two) in itertools.pairwise(heads):
        if two == one + 1:
            found[i] = Place(i, i + 1, str(one), "cylinder")
            found[j] = Place(j, j + 1, str(two), "cylinder")
    return found


def _row_value(toks: Sequence[Tok], i: int) -> bool:
    """Whether a row goes on with its value: a number, or at most two words."""
    if i >= len(toks) or toks[i].line:
        return False
    ends = next((k for k in range(i, min(i + 4, len(toks))) if toks[k].line or toks[k].low in {",", ";"}), None)
    return toks[i].kind == NUM or ends is not None or i + 3 >= len(toks)


def _terminals(toks: Sequence[Tok], i: int, part_end: dict[int, Part]) -> Place | None:
    """ "coil 1-15 1.5 ohm", "pins 2-3: 850 ohms": the terminals between which it was measured."""
    if i + 3 >= len(toks) or toks[i].kind != NUM or toks[i + 1].low not in {"-", "–"} or not toks[i + 1].glued:
        return None
    one, two = toks[i].text, toks[i + 2].text
    if not (one.isdigit() and two.isdigit() and len(one) <= 2 and len(two) <= 2 and toks[i + 2].glued):
        return None
    before = toks[i - 1].low if i else ""
    if i in part_end and one == "1" and part_end[i].id in _SEVERAL and part_end[i].id != "ignition-coil":
        return Place(i, i + 3, None, "several")  # "injectors 1-4 15.3, 15.2, ...": all of them
    named = before in {"pins", "pin", "terminals", "terminal"}
    if i in part_end and toks[i + 3].low in {"pins", "terminals"}:
        return Place(i, i + 4, f"{one}-{two}", "terminal")
    if (i in part_end or named) and (
        toks[i + 3].kind == NUM or named
    ):
        return Place(i, i + 3, f"{one}-{two}", "terminal")
    return None


def _heading_run(toks: Sequence[Tok], i: int, part_end: dict[int, Part]) -> Place | None:
    """ "leads today, one to four, 5.1, 4.8 ...": the places that a list of values is for, said once before it."""
    if i + 4 >= len(toks) or toks[i + 1].low not in {"to", "through", "-", "–"} or toks[i + 3].low not in {",", ":"}:
        return None
    one, many = small(toks[i]), small(toks[i + 2])
    if one != "1" or many is None or int(many) < 3:  # noqa: PLR2004
        return None
    if toks[i + 4].kind != NUM and not candidates_at(list(toks[i + 4 : i + 6]), 0):
        return None
    named = any(k in part_end and part_end[k].id in _SEVERAL for k in range(max(0, i - 6), i + 1))
    return Place(i, i + 3, None, "several") if named else None


def _beside_side(toks: Sequence[Tok], i: int) -> bool:
    near = [toks[k].low for k in (i - 1, i + 1) if 0 <= k < len(toks)]
    return any(word in _LEFT or word in _RIGHT for word in near)


def _corner(axle: str, word: str) -> str:
    return f"{axle}-{'left' if word in _LEFT else 'right'}"


def _with_axle(toks: Sequence[Tok], i: int) -> Place | None:
    """ "front left", "rear nearside", "front N/S"."""
    j = i + 1
    if j < len(toks) and toks[j].low == "-" and toks[j].glued:
        j += 1
    if j < len(toks):
        word, last = _side_word(toks, j)
        if word:
            return Place(i, last, _corner(_AXLE[toks[i].low], word), "corner")
    return None


def _side_word(toks: Sequence[Tok], i: int) -> tuple[str, int]:
    """The side named at `i` ("n/s" is three pieces) and the word after it, or ("", i)."""
    low = toks[i].low
    if (
        low in {"n", "o"}
        and i + 4 < len(toks)
        and toks[i + 1].low == "/"
        and toks[i + 2].low == "s"
        and toks[i + 3].low == "/"
        and toks[i + 4].low in {"f", "r"}
    ):
        return "", i
    if low in {"n", "o"} and i + 2 < len(toks) and toks[i + 1].low == "/" and toks[i + 2].low == "s":
        return ("ns" if low == "n" else "os"), i + 3
    if low in {"near", "off"} and i + 1 < len(toks) and toks[i + 1].low == "side":
        return ("ns" if low == "near" else "os"), i + 2
    if (low in _LEFT or low in _RIGHT) and low not in {"l", "r"}:
        last = i + 1
        if last < len(toks) and toks[last].low in {"hand", "side"}:
            last += 1
        return low, last
    return "", i


def _side(toks: Sequence[Tok], i: int, axle: str | None) -> Place | None:
    """A side: with its axle said after it ("left front"), else with the axle in focus."""
    if toks[i].low == "right" and not _is_side(toks, i):
        return None
    word, last = _side_word(toks, i)
    if not word:
        return None
    j = last + 1 if last < len(toks) and toks[last].low == "-" else last
    if j < len(toks) and toks[j].low in _AXLE:
        return Place(i, j + 1, _corner(_AXLE[toks[j].low], word), "corner")
    return Place(i, last, _corner(axle or "front", word), "corner")


def _slashed(toks: Sequence[Tok], i: int) -> Place | None:
    """ "n/s/f", "o/s/r"."""
    run = [tok.low for tok in toks[i : i + 5]]
    if len(run) == 5 and run[1] == run[3] == "/" and run[2] == "s" and run[4] in {"f", "r"}:
        return Place(
            i, i + 5, f"{'front' if run[4] == 'f' else 'rear'}-{'left' if run[0] == 'n' else 'right'}", "corner"
        )
    return None


def _is_side(toks: Sequence[Tok], i: int) -> bool:
    """ "right" is a side, not "right, ..." or "right up to" or "all right"."""
    before = toks[i - 1].low if i else ""
    after = toks[i + 1].low if i + 1 < len(toks) else ""
    if i and (toks[i - 1].kind == NUM or before in {"mm", "bar", "psi", "thou", "mil", "degrees", "in"}):
        return True
    if before in {"all", "was", "came", "come", "went", "is", "that's", "it's"} or after in {
        ",",
        ".",
        "up",
        "round",
        "down",
        "then",
        "so",
        "on",
        "in",
        "at",
        "away",
        "through",
        "back",
    }:
        return False
    return bool(before) or after in {"front", "rear", "side", "hand"} or after.isalpha()


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
    if toks[i].low == "all" and i + 1 < len(toks) and i + 1 in part_start and part_start[i + 1].id in _SEVERAL:
        return Place(i, i + 1, "all", "all")
    if toks[i].low in {"all", "both"} and i + 1 < len(toks) and toks[i + 1].low in _MANY_PORTS:
        return Place(i, i + 2, _PORTS[toks[i + 1].low], "port")
    if toks[i].low == "all" and i and i - 1 in part_last and _is_plural(toks[i - 1].low) and _ends_or_tells(toks, i + 1):
        return Place(i, i + 1, "all", "all")
    if toks[i].low == "all" and i + 2 < len(toks) and toks[i + 1].low in {"the", "of", "cells", "cylinders"}:
        last = next((k for k in range(i + 1, min(i + 4, len(toks))) if toks[k].low in _COUNTED_ONES), None)
        if last is not None:
            return Place(i, last + 1, "all", "all")
    if toks[i].low == "all" and i + 1 < len(toks) and (toks[i + 1].kind == NUM or toks[i + 1].low == "at"):
        return Place(i, i + 1, "all", "all")
    for run in _ALL_BY_FIRST.get(toks[i].low, ()):
        if len(toks) >= i + len(run) and all(toks[i + k].low == word for k, word in enumerate(run)):
            after = toks[i + len(run)].low if i + len(run) < len(toks) else ""
            if run == ("both",) and after in {"ways", "and", "ends"}:
                return Place(i, i + 1, None, "several")
            return Place(i, i + len(run), "all", "all")
    return None


_NOT_OF_A_PLACE = frozenset(
    "of in off x to or out more less times turns turn new sets set days weeks hours minutes mins min seconds secs years k "
    "point hundred thousand and half dozen bolts screws wires clicks threads teeth tooth strands corners sides others jobs "
    "things miles times visits stroke hand up on at side cylinders cylinder way ways hole holes pin pins".split()
)


def _sequel(
    toks: Sequence[Tok], i: int, places: Sequence[Place], unit_at: frozenset[int], decimals: frozenset[int]
) -> Place | None:
    """ "plugs 1 tan, 2 a bit oily", "number one is fine, two is black": the next place of a list that has begun."""
    said = small(toks[i])
    if said is None or i + 1 >= len(toks) or not places or i in unit_at or i in decimals:
        return None
    last = next((place for place in reversed(places) if place.kind != "axle"), None)
    if last is None or last.kind != "cylinder" or last.value is None or i - last.last > _SEQUEL:
        return None
    if not last.value.isdigit() or int(said) <= int(last.value):
        return None
    before, after = toks[i - 1].low, toks[i + 1]
    starts = toks[i].line or before in {",", ";", "|", "/"} or (before == "and" and after.low in _IS)
    if not starts or after.glued or after.kind != WORD or after.low in _NOT_OF_A_PLACE or i + 1 in unit_at:
        return None
    if toks[i].kind != NUM and int(said) != int(last.value) + 1 and after.low not in _IS:
        return None
    return Place(i, i + 1, said, "cylinder")


_SEQUEL = 12  # words within which a list goes on
_IS = frozenset({"is", "was", "reads", "looks", "isn't", "came"})
_TAKEN_ONE_BY_ONE = frozenset({*_SEVERAL, "contact-breaker"})


def _before_value(
    toks: Sequence[Tok], i: int, parts: Sequence[Part], unit_at: frozenset[int], decimals: frozenset[int]
) -> Place | None:
    """ "leakdown 7 45%, 6 5%": a bare numeral straight before a number with its unit, where the talk is about one of several."""
    if toks[i].kind != NUM or small(toks[i]) is None or not 0 < i < len(toks) - 2:
        return None
    value = toks[i + 1]
    if value.kind != NUM or value.glued or value.line or i in decimals or i in unit_at:
        return None
    if toks[i - 1].kind == NUM or toks[i - 1].low in {"to", "-", "x", "of", "after", "at", "@", "/"} or i + 2 not in unit_at:
        return None
    named = next((part for part in reversed(parts) if part.first < i), None)
    if named is None or named.id not in _TAKEN_ONE_BY_ONE or i - named.last > _SEQUEL:
        return None
    return Place(i, i + 1, small(toks[i]), "cylinder")


def _numbered(
    toks: Sequence[Tok], i: int, part_end: dict[int, Part], unit_at: frozenset[int], decimals: frozenset[int]
) -> Place | None:
    """A numbered place that begins at word `i`, with its marker: "#3", "no. 3", "cyl 2", "on 2"; lists give `several`."""
    low = toks[i].low
    j = i
    if low in _MARKERS:
        j = i + 1
        while j < len(toks) and (toks[j].low in {".", "#"} or toks[j].low in _MARKERS) and j - i < 3:
            j += 1
    elif low in {"on", "in", "of", "from", "into", "between"} and i + 1 < len(toks) and small(toks[i + 1]):
        if i + 2 < len(toks) and (
            i + 2 in unit_at or toks[i + 2].low in {"of", "side", "point", "hundred", "bar", "volts", "psi", "to"}
        ):
            return None
        j = i + 1
        if toks[j].low == "one" and i + 2 < len(toks) and toks[i + 2].low in _ONE_OF:
            return None
    elif (
        i in part_end
        and part_end[i].id in _SEVERAL
        and small(toks[i])
        and part_end[i].name.split()[-1] in _ONE_OF_SEVERAL
    ):
        if i + 1 in unit_at or i in decimals:
            return None
        j = i
    elif (
        (
            i
            and small(toks[i])
            and toks[i - 1].low in cue_book().verbs
            and not (i > 1 and toks[i - 1].low == "order" and toks[i - 2].low in {"same", "in", "firing", "that"})
            and i + 1 < len(toks)
            and toks[i + 1].low in _AFTER_A_DEED
        )
        or (
            small(toks[i])
            and i + 1 < len(toks)
            and toks[i + 1].low in {"→", "->", "-"}
            and i + 2 < len(toks)
            and toks[i + 1].low != "-"
        )
        or (
            small(toks[i])
            and i + 3 < len(toks)
            and toks[i + 1].low in {"-", "=", ">"}
            and toks[i + 2].low == ">"
            and not toks[i + 1].glued
        )
    ):
        j = i
    else:
        return None
    if j >= len(toks) or not small(toks[j]) or j in unit_at or j + 1 in unit_at or j in decimals:
        return None
    first_value = small(toks[j])
    last = j + 1
    several = False
    while (
        last + 1 < len(toks)
        and toks[last].low in {"and", "&", ",", "to", "through", "-", "–", "+"}
        and small(toks[last + 1])
    ):
        after = last + 2
        if after in unit_at or (after < len(toks) and toks[after].low in {".", "point"} and toks[after].glued):
            break
        if toks[last].low in {",", "to"} and low not in _MARKERS | {"on"}:
            break
        if toks[last].low == "," and after < len(toks) and toks[after].low in {"on", "at", "in", "%", "percent"}:
            break  # "8 on 1, 9 on 2": the nine is a value
        several = True
        last = after
    if last < len(toks) and toks[last].kind == NUM and toks[last].glued:
        return None
    return Place(i, last, None if several else first_value, "several" if several else "cylinder")
