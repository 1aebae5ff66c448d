"""Places by number: "cyl 3", "on 2", "leads 1 to 4", "plugs 1 tan, 2 oily", rows of a table, terminals."""

from __future__ import annotations

import itertools
from typing import TYPE_CHECKING

from .cues import cue_book
from .numbers import candidates_at
from .places_said import SEVERAL, WARMTH, Place, small
from .quantities_units import unit_at as find_unit
from .words import NUM, WORD

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .parts import Part
    from .words import Tok

_MARKERS = frozenset(
    "cyl cylinder cylinders cyls number no nos # nr pot cell cells pin pins terminal terminals".split()
)


_ONE_OF = frozenset(
    "side of bank end hand occasion more that which go test wheel corner drop day or hour minute litre bar".split()
)


# the parts that a number after them tells apart: "injector 3", not "leakdown 8"
_ONE_OF_SEVERAL = frozenset(
    "injector injectors inj injs lead leads plug plugs cylinder cylinders cyl coil coils carb carbs carburettor pot barrel bore "
    "bores wire valve valves rocker piston float floats spark".split()
)


_TENS = frozenset(
    "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
) | frozenset("twenty thirty forty fifty sixty seventy eighty ninety oh nought".split())


def _tells_more(toks: Sequence[Tok], i: int) -> bool:
    """Whether a number word begins a longer number or a statement of its own: "one thirty seven", "two is the same"."""
    after = toks[i + 1]
    return toks[i].kind == WORD and not after.line and (after.low in _TENS or after.low in _IS)


_TERMINALS = frozenset({"pins", "pin", "terminals", "terminal"})
_AFTER_A_DEED = frozenset(
    ["away", "off", "back", ",", ".", ";", "through", "with", "and", "again", "to", "in", "for", "out", "&", "then"]
)


def row_heads(toks: Sequence[Tok], decimals: frozenset[int]) -> dict[int, Place]:
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


def _begins_row(toks: Sequence[Tok], i: int) -> bool:
    """Whether two more numbers follow from the comma at `i` on: "got 8, 9, 8 and 7 on the inlets", not "reset 2, 24"."""
    numbers = (k for k in (i + 1, i + 3) if k < len(toks))
    parted = i + 2 < len(toks) and toks[i].low == "," and toks[i + 2].low in {",", "and"}
    return parted and all(toks[k].kind == NUM or candidates_at(list(toks[k : k + 1]), 0) for k in numbers)


_RELAY = frozenset({"30", "85", "86", "87"})  # the terminals of a relay, as printed on it (DIN 72552)

_SAID_RELAY = (["85", "and", "86"], ["85", "to", "86"], ["30", "to", "87"])


def terminals(toks: Sequence[Tok], i: int, part_end: dict[int, Part]) -> Place | None:
    """ "coil 1-15 1.5 ohm", "pins 2-3: 850 ohms": the terminals between which it was measured."""
    spoken = _pins(toks, i, part_end)
    if spoken is not None:
        return spoken
    if i + 2 >= len(toks) or toks[i].kind != NUM or toks[i + 1].low not in {"-", "–"} or not toks[i + 1].glued:
        return None
    one, two = toks[i].text, toks[i + 2].text
    if one in _RELAY and two in _RELAY and toks[i + 2].glued:
        return Place(i, i + 3, f"{one}-{two}", "terminal")
    if i + 3 >= len(toks):
        return None
    if not (one.isdigit() and two.isdigit() and len(one) <= 2 and len(two) <= 2 and toks[i + 2].glued):
        return None
    before = toks[i - 1].low if i else ""
    if i in part_end and one == "1" and part_end[i].id in SEVERAL and part_end[i].id != "ignition-coil":
        return Place(i, i + 3, None, "several")  # "injectors 1-4 15.3, 15.2, ...": all of them
    named = before in _TERMINALS
    if i in part_end and toks[i + 3].low in {"pins", "terminals"}:
        return Place(i, i + 4, f"{one}-{two}", "terminal")
    if (i in part_end or named) and (toks[i + 3].kind == NUM or named):
        return Place(i, i + 3, f"{one}-{two}", "terminal")
    return None


_PIN = {"fifteen": "15", "thirty": "30", "eighty-five": "85", "eighty-six": "86", "eighty-seven": "87"}


def _pins(toks: Sequence[Tok], i: int, part_end: dict[int, Part]) -> Place | None:
    """ "across pins one and three", "pins 1 and 2: 1.62k", "coil primary, 1 to 15: 0.75 ohm"."""
    if toks[i].low in _TERMINALS and i + 3 < len(toks) and toks[i + 2].low in {"and", "to", "&"}:
        one, two = _pin(toks[i + 1]), _pin(toks[i + 3])
        return Place(i, i + 4, f"{one}-{two}", "terminal") if one and two and one != two else None
    if toks[i].low in _RELAY and [tok.low for tok in toks[i : i + 3]] in _SAID_RELAY:
        return Place(i, i + 3, f"{toks[i].low}-{toks[i + 2].low}", "terminal")  # "85 and 86 read 82 ohms"
    if toks[i].low not in {"1", "one"} or i + 2 >= len(toks) or toks[i + 1].low not in {"to", "and"}:
        return None
    if toks[i + 2].low not in {"15", "fifteen"} or toks[i + 2].glued:
        return None
    of_coil = any(part_end[k].id == "ignition-coil" for k in range(max(0, i - _SEQUEL), i + 1) if k in part_end)
    return Place(i, i + 3, "1-15", "terminal") if of_coil else None


def _pin(tok: Tok) -> str | None:
    if tok.kind == NUM:
        return tok.text if tok.text.isdigit() and len(tok.text) <= 2 else None
    return small(tok) or _PIN.get(tok.low)


def heading_run(toks: Sequence[Tok], i: int, part_end: dict[int, Part]) -> Place | None:
    """ "leads today, one to four, 5.1, 4.8 ...": the places that a list of values is for, said once before it."""
    if i + 4 >= len(toks) or toks[i + 1].low not in {"to", "through", "-", "–"}:
        return None
    one, many = small(toks[i]), small(toks[i + 2])
    if one != "1" or many is None or int(many) < 3:
        return None
    at = next((k for k in range(i + 3, min(i + 7, len(toks))) if toks[k].low in {",", ":"}), None)
    warm = at == i + 4 and toks[i + 3].low in WARMTH  # "ohms 1-4 cold: 15.6 15.5 15.7 15.6"
    if at is not None and at > i + 3 and not warm and find_unit(list(toks[i + 3 : at]), 0) is None:
        at = None
    if toks[i + 3].low == ",":  # "1 to 6, ohms: 14.2, 14.3"
        hit = find_unit(list(toks[i + 4 : i + 8]), 0)
        at = i + 4 + hit.end if hit is not None and i + 4 + hit.end < len(toks) else i + 3
    if at is None and toks[i + 3].low in {"one", "nought", "point"}:
        at = i + 2  # as spoken: "specific gravity one to six one point two three ..."
    if at is None or at + 1 >= len(toks):
        return None
    if toks[at + 1].kind != NUM and not candidates_at(list(toks[at + 1 : at + 3]), 0):
        return None
    named = toks[at].low == ":" or any(
        (k in part_end and part_end[k].id in SEVERAL) or toks[k].low in _TAKEN_IN_TURN
        for k in range(max(0, i - 6), i + 1)
    )
    return Place(i, i + 3, None, "several") if named else None


_WRITTEN = frozenset({"book", "list", "card", "sheet", "quote", "price"})
_TAKEN_IN_TURN = frozenset(
    "cells cell gravity gravities sg comp compression compressions leakdown leads injectors plugs cylinders clearances bores".split()
)


_NOT_OF_A_PLACE = frozenset(
    "of in off x to or out more less times turns turn new sets set days weeks hours minutes mins min seconds secs years k "
    "point hundred thousand and half dozen bolts screws wires clicks threads teeth tooth strands corners sides others jobs "
    "things miles times visits stroke hand up on at side cylinders cylinder way ways hole holes pin pins".split()
)


def sequel(
    toks: Sequence[Tok], i: int, places: Sequence[Place], unit_at: frozenset[int], decimals: frozenset[int]
) -> Place | None:
    """ "plugs 1 tan, 2 a bit oily", "number one is fine, two is black": the next place of a list that has begun."""
    said = small(toks[i])
    if said is None or i + 1 >= len(toks) or not places or i in unit_at or i in decimals:
        return None
    last = next((place for place in reversed(places) if place.kind != "axle"), None)
    if last is not None and last.kind == "several" and i - last.last == 1 and toks[i - 1].low in {",", ";"}:
        ones = {small(toks[k]) for k in range(last.first, last.last)} - {None}
        word = toks[i + 1].kind == WORD and not toks[i + 1].glued and toks[i + 1].low not in _NOT_OF_A_PLACE
        return Place(i, i + 1, said, "cylinder") if ones and said not in ones and word else None
    if last is None or last.kind != "cylinder" or last.value is None or i - last.last > _SEQUEL:
        return None
    told = toks[i + 1].low in _IS and int(said) != int(last.value)  # "carb 2 float 25.8 mm, 1 is 24.1"
    if not last.value.isdigit() or (int(said) <= int(last.value) and not told):
        return None
    before, after = toks[i - 1].low, toks[i + 1]
    starts = toks[i].line or before in {",", ";", "|", "/"} or (before == "and" and after.low in _IS)
    starts = starts or (after.low in _IS and int(said) == int(last.value) + 1 and toks[i].kind == WORD)
    if not starts or after.glued or after.kind != WORD or after.low in _NOT_OF_A_PLACE or i + 1 in unit_at:
        return None
    if toks[i].kind != NUM and int(said) != int(last.value) + 1 and after.low not in _IS:
        return None
    return Place(i, i + 1, said, "cylinder")


_SEQUEL = 12  # words within which a list goes on


_IS = frozenset({"is", "was", "reads", "looks", "isn't", "came"})


_TAKEN_ONE_BY_ONE = frozenset({*SEVERAL, "contact-breaker"})


def before_value(
    toks: Sequence[Tok],
    i: int,
    parts: Sequence[Part],
    unit_at: frozenset[int],
    decimals: frozenset[int],
    places: Sequence[Place] = (),
) -> Place | None:
    """ "leakdown 7 45%, 6 5%": a bare numeral straight before a number with its unit, where the talk is about one of several."""
    if toks[i].kind != NUM or small(toks[i]) is None or not 0 < i < len(toks) - 2:
        return None
    value = toks[i + 1]
    if value.kind != NUM or value.glued or value.line or i in decimals or i in unit_at:
        return None
    if toks[i - 1].kind == NUM or toks[i - 1].low in {"to", "-", "x", "of", "after", "at", "@", "/"}:
        return None
    if i + 2 not in unit_at and not _goes_on(toks, i, places):
        return None
    if toks[i - 1].low in _WINDINGS:
        return Place(i, i + 1, small(toks[i]), "cylinder")  # "sec 1 12.4 ohm"
    named = next((part for part in reversed(parts) if part.first < i), None)
    if named is None or named.id not in _TAKEN_ONE_BY_ONE or i - named.last > _SEQUEL:
        return None
    return Place(i, i + 1, small(toks[i]), "cylinder")


_CLOSE_BY = 6
# what there is of each coil and each carburettor, by number: "pri 1 4.2, sec 1 OL", "main jet 2 was blocked"
_WINDINGS = frozenset("pri sec prim primary secondary jet needle slide diaphragm bowl".split())
_STATED = frozenset(
    "ol o/l open infinite short shorted dead was is blocked bent worn split stuck sticking out ok good".split()
)


def _goes_on(toks: Sequence[Tok], i: int, places: Sequence[Place]) -> bool:
    """Whether a bare numeral after a comma is the next place of a row: "cyl 4 55 %, 3 9"."""
    if toks[i - 1].low not in {",", ";"} or not places:
        return False
    last = places[-1]
    ends = i + 2 >= len(toks) or toks[i + 2].line or toks[i + 2].low in {".", ",", ";", "and"}
    return ends and last.kind == "cylinder" and last.value not in {None, small(toks[i])} and i - last.last <= _CLOSE_BY


# "comp 3 now 165": a test that is taken cylinder by cylinder, and what follows its place
_TESTED = frozenset({"comp", "compression", "leakdown", "leak-down"})
_TESTED_NOW = frozenset("now still up down is was then back only came again".split())
_BEFORE_ONE = frozenset({"on", "in", "of", "from", "into", "between"})
NUMBERED_FROM = (
    _TESTED | {"leak"} | _WINDINGS | _MARKERS | _BEFORE_ONE | _TERMINALS
)  # words, besides small numbers, at which a numbered place can begin


def _past_tested(toks: Sequence[Tok], i: int) -> int:
    """The word after a test of cylinders that begins at word `i`, "compression" or "leak-down"; 0 where none does."""
    if toks[i].low in _TESTED:
        return i + 1
    return i + 3 if [tok.low for tok in toks[i : i + 3]] == ["leak", "-", "down"] else 0


def numbered(
    toks: Sequence[Tok], i: int, part_end: dict[int, Part], unit_at: frozenset[int], decimals: frozenset[int]
) -> Place | None:
    """A numbered place that begins at word `i`, with its marker: "#3", "no. 3", "cyl 2", "on 2"; lists give `several`."""
    low = toks[i].low
    j = i
    again = low != "one" and i + 1 < len(toks) and toks[i + 1].low in {"again", "retested"}
    if again and small(toks[i]) and i and toks[i - 1].low in {".", ",", ";"} and i not in decimals:
        return Place(i, i + 1, small(toks[i]), "cylinder")  # "comp 1 175, 2 178, 3 149. 3 again wet, 172"
    tested = _past_tested(toks, i)
    if tested and tested + 1 < len(toks) and small(toks[tested]) and toks[tested + 1].low in _TESTED_NOW:
        return None if tested in decimals else Place(tested, tested + 1, small(toks[tested]), "cylinder")
    if low in _WINDINGS and i + 2 < len(toks) and small(toks[i + 1]) and toks[i + 2].low in _STATED:
        return None if i + 1 in decimals else Place(i + 1, i + 2, small(toks[i + 1]), "cylinder")
    if low in _MARKERS:
        j = i + 1
        while j < len(toks) and (toks[j].low in {".", "#"} or toks[j].low in _MARKERS) and j - i < 3:
            j += 1
    elif low in _BEFORE_ONE and i + 1 < len(toks) and small(toks[i + 1]):
        if i + 2 < len(toks) and (
            i + 2 in unit_at or toks[i + 2].low in {"of", "side", "point", "hundred", "bar", "volts", "psi", "to"}
        ):
            return None
        j = i + 1
        if toks[j].low == "one" and i + 2 < len(toks) and toks[i + 2].low in _ONE_OF:
            return None
    elif (
        i in part_end
        and part_end[i].id in SEVERAL
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
            and toks[i - 1].low not in _WRITTEN  # "at idle, book 10."
            and not (i > 1 and toks[i - 1].low == "order" and toks[i - 2].low in {"same", "in", "firing", "that"})
            and i + 1 < len(toks)
            and toks[i + 1].low in _AFTER_A_DEED
            and not _begins_row(toks, i + 1)
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
    if (
        low in _TERMINALS
        and j + 2 < len(toks)
        and toks[j + 1].low in {"-", "–"}
        and toks[j + 2].kind == NUM
        and toks[j + 2].glued
    ):
        return None  # "pins 1-15": a pair of terminals
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
        if after < len(toks) and toks[after].low == "point" and toks[last].low in {",", "and"}:
            break  # "12.2 on one, twelve point zero on two"
        if toks[last].low in {",", "to"} and low not in _MARKERS | {"on"}:
            break
        if toks[last].low == "," and int(small(toks[last + 1]) or 0) < int(small(toks[last - 1]) or 0):
            break  # "good cone on 1, 3, 4, 2 one-sided": the two begins what is said of it
        if toks[last].low == "," and after < len(toks) and toks[after].low in {"on", "at", "in", "%", "percent"}:
            break  # "8 on 1, 9 on 2": the nine is a value
        if toks[last].low == "," and after < len(toks) and _tells_more(toks, last + 1):
            break  # "141 on number one, one thirty seven on number two", "24 on one, two is the same"
        several = True
        last = after
    if last < len(toks) and toks[last].kind == NUM and toks[last].glued:
        return None
    if last < len(toks) and toks[last].low == "first" and first_value == "1" and not several:
        return Place(i, last + 1, None, "several")  # "leads in order, number one first: 5.1, 4.8, ..."
    return Place(i, last, None if several else first_value, "several" if several else "cylinder")
