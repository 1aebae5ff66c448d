"""Numbers that are said as one list: which go together, whose place each is of, the unit that they share."""

from __future__ import annotations

import itertools
from bisect import bisect_left, bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING

from .places_said import WARMTH, small
from .role_rules import READING, kind_of
from .words import NUM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.terms import Mention

    from .places import Place
    from .quantities import Figure
    from .words import Tok
    from .work import Work

_LIST_TIES = frozenset({",", "/", "|", "and", "then", "&", "-", "—", "–", "·", ";", "+", "x"})


_HEAD_ENDS = frozenset({":", "=", ",", "-", "–"})


_AFTER_HEAD = 6  # words from "1 to 4" to the first value, as in "1 to 4, in mm: ..."


def in_their_run(work: Work, mentions: list[Mention]) -> list[Mention]:
    """A list as long as the run of places that heads it is one reading a place: "crank pins 1 to 4: 57.12, 57.15, ..."."""
    toks = work.toks
    out = list(mentions)
    starts = [mention.start for mention in mentions]  # in the order of the words
    members: dict[int | None, list[int]] = {}
    for k, mention in enumerate(mentions):
        members.setdefault(mention.group, []).append(k)
    for place in work.places:
        if place.kind not in {"several", "terminal"}:
            continue
        ends = _run_of(toks, place)
        head = place.last + (place.last < len(toks) and toks[place.last].low in WARMTH)
        if ends is None or head >= len(toks) or toks[head].low not in _HEAD_ENDS:
            continue
        low, high = toks[place.last].start, toks[min(place.last + _AFTER_HEAD, len(toks) - 1)].start
        near = range(bisect_left(starts, low), bisect_right(starts, high))
        first = next((k for k in near if out[k].quantity is not None), None)
        if first is None or out[first].group is None or out[first].kind != READING:
            continue
        run = [k for k in members[out[first].group] if k >= first]
        if len(run) != ends[1] - ends[0] + 1:
            continue
        for number, k in enumerate(run, start=ends[0]):
            out[k] = replace(out[k], position=str(number), why=(*out[k].why, "position: its place in the run"))
    return out


def _run_of(toks: Sequence[Tok], place: Place) -> tuple[int, int] | None:
    """The first and last place of "1 to 4", "pins 1-4"."""
    said = [small(toks[i]) for i in range(place.first, place.last)]
    numbers = [int(one) for one in said if one is not None]
    if len(numbers) != 2 or numbers[1] - numbers[0] < 1:
        return None
    at = next(i for i in range(place.first, place.last) if small(toks[i]) is not None)
    return (numbers[0], numbers[1]) if at + 1 < place.last and toks[at + 1].low in _THROUGH else None


_THROUGH = frozenset({"to", "through", "-", "–", "thru"})


def list_groups(work: Work, lists: dict[int, int]) -> dict[int, int]:
    """Figure number -> list number: cut lists, and readings that only commas, "and" and places part."""
    out: dict[int, int] = {}
    number = 1000
    placed = {i for place in work.places for i in range(place.first, place.last)}
    for k, figure in enumerate(work.figures):
        if figure.first in lists:
            out[k] = lists[figure.first]
            continue
        if k == 0 or work.roles[k].label != READING or work.roles[k - 1].label != READING:
            continue
        before = work.figures[k - 1]
        gap = range(before.last, figure.first)
        if len(gap) > 6 or (not gap and (work.toks[figure.first].kind != NUM or work.toks[figure.first].line)):
            decimals = any(tok.low == "point" for tok in work.toks[figure.first : figure.last])
            if gap or not decimals or not any(tok.low == "point" for tok in work.toks[before.first : before.last]):
                continue  # as spoken, "one point two three one point two three five" is a list
        if not all(
            work.toks[i].low in _LIST_TIES or i in placed or work.toks[i].low in {":", "the", "one", "about"}
            for i in gap
        ):
            continue
        one, two = kind_of(before.quantity), kind_of(figure.quantity)
        if one != two and "none" not in (one, two):
            continue
        if _of_king_lead(work, before):
            continue
        if (
            before.quantity.unit is not None
            and figure.quantity.unit is not None
            and before.quantity.unit != figure.quantity.unit
        ):
            continue
        if any(work.toks[i].line for i in range(before.last, figure.first + 1)):
            continue
        if k - 1 not in out:
            number += 1
            out[k - 1] = number
        out[k] = out[k - 1]
    return out


_KING, _LEAD = frozenset("king centre center main coil".split()), frozenset("lead lead's cable wire ht".split())


_JUST_NAMED = 4  # words from the king lead's name to its value


def _of_king_lead(work: Work, figure: Figure) -> bool:
    """Whether a value is that of the one lead that goes to no cylinder: "king lead 2.1, then 4.6, 4.9 ..."."""
    low = [tok.low for tok in work.toks[max(0, figure.first - _JUST_NAMED) : figure.first]]
    return any(one in _KING and two in _LEAD for one, two in itertools.pairwise(low))


def share_units(mentions: list[Mention]) -> list[Mention]:
    """One unit for a whole list: members that have none take that of the list."""
    unit_of: dict[int, str] = {}
    mentions = _without_mixed(mentions)
    for mention in mentions:
        if (
            mention.group is not None
            and mention.quantity is not None
            and mention.quantity.unit is not None
            and mention.kind == READING
        ):
            unit_of[mention.group] = mention.quantity.unit
    out: list[Mention] = []
    for mention in mentions:
        quantity = mention.quantity
        if quantity is not None and quantity.unit is None and mention.group in unit_of:
            shared = replace(quantity, unit=unit_of[mention.group])
            out.append(replace(mention, quantity=shared, tentative=False, why=(*mention.why, "unit: the list's")))
        else:
            out.append(mention)
    return out


def _without_mixed(mentions: list[Mention]) -> list[Mention]:
    """Lists whose members have several units are none: "coil 2 4.0 and 12.1k" is a primary and a secondary."""
    units: dict[int, set[str]] = {}
    for mention in mentions:
        if mention.group is not None and mention.quantity is not None and mention.quantity.unit is not None:
            units.setdefault(mention.group, set()).add(mention.quantity.unit)
    mixed = {group for group, said in units.items() if len(said) > 1}
    return [replace(mention, group=None) if mention.group in mixed else mention for mention in mentions]
