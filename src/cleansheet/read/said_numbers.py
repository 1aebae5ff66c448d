"""Numbers as mentions: readings and limits with their unit, comparator, place, condition and evidence."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING

from cleansheet.terms import Mention, Quantity
from cleansheet.units import to_base

from .bearings import axle_said, condition_of, position_of
from .conditions import again_words
from .cues import LIMITS
from .reasons import in_words
from .role_rules import EXPECTED, NEITHER, READING, in_workshop, kind_of
from .said_lists import in_their_run, list_groups, share_units
from .unit_before import for_another, unit_from_before, unit_of_limit
from .words import SIGN
from .work import edges, parts_near, tests_near

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .places import Place
    from .quantities import Figure
    from .words import Tok
    from .work import Work


_HARDLY_APART = 2  # words between two units of one value where a guessed stop parts them
_WIDE = 150  # words around a number that may still speak of it
_FAR = 14


def said_numbers(work: Work, lists: dict[int, int]) -> list[Mention]:
    groups = list_groups(work, lists)
    out: list[Mention] = []
    k = 0
    while k < len(work.figures):
        _figure, role = work.figures[k], work.roles[k]
        if role.label == NEITHER:
            k += 1
            continue
        mention = _number(work, k, groups.get(k), work.columns.get(k, ""))
        second, skip = _second(work, k)
        if second is not None:
            mention = replace(mention, second=second)
        out.append(mention)
        k += 1 + skip
    return _same_elsewhere(work, in_their_run(work, share_units(out)))


def _same_elsewhere(work: Work, mentions: list[Mention]) -> list[Mention]:
    """ "same on two through six": the reading before it once more, at another place."""
    toks = work.toks
    out = list(mentions)
    ends = [mention.end for mention in mentions]
    for place in work.places:
        if place.kind not in {"several", "cylinder", "corner", "all"} or place.first < 1:
            continue
        at, end = _same_at(toks, place)
        if at is None:
            continue
        again = next((m for m in reversed(mentions[: bisect_right(ends, toks[at].start)]) if m.kind == READING), None)
        sentence = work.scene.layout.sentence_of[at]
        if again is None or sentence - again.sentence > 1 or work.figures.within(place.last, place.last + 3):
            continue
        if any(figure.last > at for figure in work.figures.within(max(0, at - _FAR), at + 1)):
            continue
        out.append(replace(
            again, start=toks[at].start, end=toks[end - 1].end, position=place.value, group=None, sentence=sentence,
            second=None, tentative=False, again=True, why=("reading: the same as before", f"position {place.value}"),
        ))  # fmt: skip
    return out


_ALIKE_WORDS = frozenset({"same", "ditto", "likewise", "identical"})
_BEFORE_SAME = frozenset("is 's was are the about much just exactly reads measures dead near all".split())


def _same_at(toks: Sequence[Tok], place: Place) -> tuple[int | None, int]:
    """Where "same" begins that is said of a place, and where it ends: "same on the OSF", "other rear the same"."""
    for i in range(place.first, max(-1, place.first - 4), -1):
        if toks[i].low in _ALIKE_WORDS:
            apart = any(toks[j].kind == SIGN for j in range(i, place.first))
            return (None, 0) if apart else (i, place.last)
    for i in range(place.last, min(len(toks), place.last + 4) if place.kind != "all" else place.last):
        if toks[i].low in _ALIKE_WORDS:
            ends = i + 1 == len(toks) or toks[i + 1].line or toks[i + 1].low in {".", ",", ";", "and", "so", "again"}
            return (place.first, i + 1) if ends else (None, 0)
        if toks[i].low not in _BEFORE_SAME:
            break
    return None, 0


def _second(work: Work, k: int) -> tuple[Quantity | None, int]:
    """The same result in another unit, said right after: its quantity and how many figures that takes.

    "2.5 bar, 36 psi"; "2.8 bar at 3000, that's 28 psi"; "2.5 bar, that's thirty six", where the number alone tells.
    """
    following = _said_again(work, k)
    if following is None:
        return None, 0
    one, two, skip = work.figures[k], work.figures[following], following - k
    apart = work.scene.layout.sentence_of[one.first] != work.scene.layout.sentence_of[two.first]
    if two.first - one.last > (_HARDLY_APART if apart and work.scene.layout.unpunctuated else 0 if apart else _NEAR):
        return None, 0
    role = work.roles[following].label
    told = two.first > 0 and work.toks[two.first - 1].low in _THAT_IS
    named = bool(work.parts.within(one.last, two.first)) or any(
        place.kind != "all" for place in work.places.within(one.last, two.first)
    )
    readings = [q for q in (two.quantity, *two.alternatives) if q.unit is not None and q.unit != one.quantity.unit]
    for quantity in readings:
        if one.quantity.unit is None:
            if not named and any(_same_size(one.quantity, unit, quantity) for unit in _others(quantity)):
                return quantity, skip
        elif (
            kind_of(quantity) == kind_of(one.quantity)
            and kind_of(quantity) != "none"
            and (
                (role == NEITHER and skip == 1 and (not named or _alike(one.quantity, quantity)))
                or (role != EXPECTED and told and skip > 1)
                or (role == READING and (two.same_as_previous or (not named and _alike(one.quantity, quantity))))
            )
        ):
            return quantity, skip
    if two.quantity.unit is None and told and not named:
        for unit in _others(one.quantity):
            quantity = replace(two.quantity, unit=unit)
            if _same_size(one.quantity, one.quantity.unit, quantity):
                return quantity, skip
    return None, 0


def _said_again(work: Work, k: int) -> int | None:
    """The figure that may say figure `k` again: the next, or the one after a speed or a time, "2.8 bar at 3000, that's ..."."""
    if k + 1 >= len(work.figures):
        return None
    between = work.figures[k + 1]
    stands = work.roles[k + 1].label == NEITHER and kind_of(between.quantity) in {"none", "rotation", "time"}
    if stands and k + 2 < len(work.figures) and work.toks[work.figures[k + 2].first - 1].low in _THAT_IS:
        return k + 2
    return k + 1


_NEAR = 6  # words between two units of one value
_THAT_IS = frozenset(["that's", "thats", "equals", "="])
_PAIRED_UNITS = {
    "bar": ("[psi]", "kPa"), "[psi]": ("bar", "kPa"), "kPa": ("bar", "[psi]"), "mm": ("[mil_i]", "[in_i]"), "[mil_i]": ("mm",),
    "[in_i]": ("mm",), "N.m": ("[ft_i].[lbf_av]",), "[ft_i].[lbf_av]": ("N.m",), "Cel": ("[degF]",), "[degF]": ("Cel",),
}  # fmt: skip


def _others(quantity: Quantity) -> tuple[str, ...]:
    """The units that a value in this one is said again in."""
    return _PAIRED_UNITS.get(quantity.unit or "", ())


_ROUNDED = 0.02  # how far two roundings of one value lie apart


def _same_size(one: Quantity, unit: str | None, two: Quantity) -> bool:
    """Whether a number in `unit` and another quantity are the same but for rounding."""
    if one.value is None or two.value is None or unit is None or two.unit is None:
        return False
    a, b = to_base(one.value, unit)[0], to_base(two.value, two.unit)[0]
    return a * b > 0 and abs(a - b) <= _ROUNDED * max(abs(a), abs(b))


def _alike(one: Quantity, two: Quantity) -> bool:
    """Whether two quantities in different units are about the same: within a tenth."""
    if one.number is None or two.number is None or one.unit is None or two.unit is None:
        return False
    a, b = to_base(one.number, one.unit)[0], to_base(two.number, two.unit)[0]
    return abs(a - b) <= 0.1 * max(abs(a), abs(b))


def _number(work: Work, k: int, group: int | None, side: str) -> Mention:
    figure, role = work.figures[k], work.roles[k]
    toks, layout = work.toks, work.scene.layout
    sentence = layout.sentence_of[figure.first]
    start, stop = layout.sentences[sentence]
    start, stop = max(start, figure.first - _WIDE), min(stop, figure.last + _WIDE)  # a sentence may have no end
    low_edge, high_edge = edges(work, k, start, stop)
    if role.label == EXPECTED and for_another(work, k):
        low_edge = figure.first  # "0.6 to 1 for the primary and 9 to 11 for the secondary"
    quantity, alternatives = _settle_unit(figure)
    quantity = _comparator(work, figure, quantity, role.label, low_edge, high_edge)
    if side and role.label == EXPECTED and quantity.value is not None and quantity.comparator == "=":
        quantity = _bound(quantity, side)
    taken = False  # whether a limit has its reading's unit
    if quantity.unit is None:
        for first, last, unit in work.headings:
            if first <= figure.first < last:
                quantity = replace(quantity, unit=unit)
    if quantity.unit is None and k:
        quantity = _unit_taken_over(work, work.figures[k - 1], figure, quantity)
    if quantity.unit is None and role.label == EXPECTED:
        meant = unit_of_limit(work, k)
        taken = meant is not None
        quantity = quantity if meant is None else replace(quantity, unit=meant)
    if quantity.unit is None and role.label == READING:
        meant = unit_from_before(work, k)
        quantity = quantity if meant is None else replace(quantity, unit=meant)
    if role.label == READING and _exact(toks, figure):
        quantity = replace(quantity, low=quantity.value, high=quantity.value)
    parts = parts_near(work, figure.first, figure.last, low_edge, high_edge, measured=True)
    tests = tests_near(work, figure.first, figure.last, low_edge, high_edge)
    context = tuple(toks[i].low for i in range(low_edge, high_edge) if toks[i].kind != SIGN)
    wider = tuple(toks[i].low for i in range(start, stop) if toks[i].kind != SIGN)
    position, place = position_of(work, figure, low_edge, high_edge, carried=role.label == READING)
    misheard = bool(parts) and parts[0].heard and parts[0].here
    return Mention(
        role.label, figure.start, figure.end, quantity,
        component=parts[0].id if parts else None, position=position,
        condition=condition_of(work, figure, low_edge, high_edge, start, limit=role.label == EXPECTED),
        context=context, wider=wider, alternatives=alternatives, misheard=figure.misheard, misheard_end=figure.misheard_end,
        flags=("low_confidence_words",) if misheard else (), confidence=role.probability * (0.6 if misheard else 1.0),
        why=(
            *([f"part: {parts[0].said!r} is how {parts[0].id} is misheard"] if misheard else []),
            f"{role.label}: {in_words(role.reasons) or 'nothing speaks against it'}",
            *([place] if place else []),
            *(["unit: that of its reading"] if taken else []),
            *([f"axle: {axle}"] if (axle := axle_said(context, wider)) else []),
            *(["position: same order"] if "order" in context and "same" in context else []),
        ),
        group=group, parts=parts, tests=tests, sentence=sentence,
        tentative=quantity.unit is None,
        again=bool(set(context) & again_words()),
    )  # fmt: skip


_EXACT_AFTER = (
    ("exactly",),
    ("dead",),
    ("dead", "on"),
    ("bang", "on"),
    ("spot", "on"),
    ("on", "the", "nose"),
    ("on", "the", "dot"),
)
_EXACT_BEFORE = (("exactly",), ("dead", "on"), ("bang", "on"), ("spot", "on"))
_EXACT_WORDS = frozenset({"exactly", "dead", "bang", "spot", "nose", "dot"})  # one of them is in every such run


def _exact(toks: Sequence[Tok], figure: Figure) -> bool:
    """Whether the speaker rounded nothing: "fourteen exactly", "bang on fourteen", "14.0 on the nose"."""
    if figure.quantity.value is None or figure.quantity.approximate or figure.quantity.comparator != "=":
        return False
    near = toks[max(0, figure.first - 2) : figure.last + 4]
    if not any(tok.low in _EXACT_WORDS for tok in near):
        return False  # nearly always
    after = [tok.low for tok in toks[figure.last : figure.last + 4]]
    before = [tok.low for tok in toks[max(0, figure.first - 2) : figure.first]]
    if any(tuple(before[-len(run) :]) == run for run in _EXACT_BEFORE):
        return True
    runs = [run for run in _EXACT_AFTER if tuple(after[: len(run)]) == run]
    ends = {"", ".", ",", ";", "and", "so", "now", "but", "at", "on", "both"}
    return any((after[len(run)] if len(after) > len(run) else "") in ends for run in runs) or after[:1] == ["exactly"]


def _unit_taken_over(work: Work, before: Figure, figure: Figure, quantity: Quantity) -> Quantity:
    """After a correction the new number keeps the unit of the one taken back: "2.9 bar, no, make that 2.3"."""
    if before.quantity.unit is None or figure.first - before.last > _FAR:
        return quantity
    if any(cue.family == "correction" for cue in work.scene.cues.within(before.last, figure.first)):
        return replace(quantity, unit=before.quantity.unit)
    return quantity


def _settle_unit(figure: Figure) -> tuple[Quantity, tuple[Quantity, ...]]:
    """In a workshop "2.5k" is kilohms sooner than thousands."""
    quantity = in_workshop(figure)
    others = [other for other in (figure.quantity, *figure.alternatives) if other is not quantity]
    return quantity, tuple(others)


def _comparator(work: Work, figure: Figure, quantity: Quantity, role: str, low_edge: int, high_edge: int) -> Quantity:
    """A limit's comparator from its cue; a reading keeps one only where "under", "over" or a sign says so."""
    if quantity.value is None:
        return quantity
    if role == READING:
        before = work.toks[figure.first - 1].low if figure.first else ""
        two = work.toks[figure.first - 2].low if figure.first > 1 else ""
        if quantity.comparator != "=" and (
            before in {">", "min", "mins", "to", "minimum", "max"} or (before == "to" and two == "up")
        ):
            half = _half_step(figure)
            return replace(
                quantity, comparator="=", low=round(quantity.value - half, 12), high=round(quantity.value + half, 12)
            )
        return quantity
    comparator = quantity.comparator
    told = False
    for cue in work.scene.cues.within(low_edge, min(high_edge, figure.last + 3)):
        if not cue.comparator:
            continue
        if cue.family == "limit_before" and cue.last <= figure.first:
            comparator, told = cue.comparator, cue.last == figure.first
        elif cue.family == "limit_after" and figure.last <= cue.first <= figure.last + 2 and not told:
            comparator = cue.comparator  # but "anything under 120 is no good" is the least
    if comparator == "=" and figure.last < len(work.toks) and work.toks[figure.last].low in {"up", "upwards", "plus"}:
        comparator = ">="  # "spec 11 up"
    if comparator == "=":
        comparator = _of_bracket_before(work, figure)
    if comparator == "=":
        comparator = _of_limits(work, figure)
    if comparator == "=":
        return quantity
    return _bound(quantity, comparator)


def _bound(quantity: Quantity, comparator: str) -> Quantity:
    low = quantity.value if comparator[0] == ">" else None
    high = quantity.value if comparator[0] == "<" else None
    return replace(quantity, comparator=comparator, low=low, high=high)


_PLURAL = frozenset({"limits", "maximums", "minimums", "maxima", "minima"})
_LISTED = 40  # words back in which "the limits are" holds for every number


def _of_limits(work: Work, figure: Figure) -> str:
    """The side that a cue in the plural gives to each of its numbers: "the limits are 0.5 for CO, 200 for HC"."""
    start, _ = work.scene.layout.sentences[work.scene.layout.sentence_of[figure.first]]
    for cue in work.scene.cues.within(max(start, figure.first - _LISTED), figure.first):
        if cue.family == "limit_before" and cue.comparator and work.toks[cue.first].low in _PLURAL:
            return cue.comparator
    return "="


_BRACKETED = 25  # words back in which a limit in brackets has the same side


def _of_bracket_before(work: Work, figure: Figure) -> str:
    """The side of a limit that stands alone in brackets: that of the one before it, "CO 0.9 % (max 0.3), HC 95 (200)"."""
    toks = work.toks
    if (
        figure.first == 0
        or toks[figure.first - 1].low != "("
        or figure.last >= len(toks)
        or toks[figure.last].low != ")"
    ):
        return "="
    for at in range(figure.first - 2, max(0, figure.first - _BRACKETED), -1):
        if toks[at].line:
            return "="
        if toks[at].low == "(":
            cues = work.scene.cues.within(at + 1, min(at + 4, figure.first))
            return next((cue.comparator for cue in cues if cue.comparator and cue.family in LIMITS), "=")
    return "="


def _half_step(figure: Figure) -> float:
    value = figure.quantity.value or 0.0
    text = f"{value:.10g}"
    return 0.5 * 10 ** -len(text.partition(".")[2]) if "." in text else 0.5
