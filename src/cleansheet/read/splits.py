"""Figures that hold more than one value, taken apart: a place or an engine speed before the value, what was before and after."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cleansheet.terms import Quantity
from cleansheet.units import same_kind

from .number_lexicon import LEX
from .numbers import Number, candidates_at
from .places import small
from .quantities import Figure
from .quantities_units import unit_at
from .words import NUM, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

ODD_FORMS = frozenset({"ordinal", "code", "clock", "date", "phone", "couple", "dozen"})


def to_figure(toks: list[Tok], number: Number) -> Figure:
    hit = unit_at(toks, number.last)
    unit = number.unit
    last = number.last
    others: tuple[str, ...] = ()
    end = number.end
    if hit is not None and unit is None:
        unit, last, end = hit.codes[0], hit.end, toks[hit.end - 1].end
        others = hit.codes[1:]
    quantity = Quantity(number.value, number.low, number.high, unit)
    return Figure(
        number.start, end, number.first, last, quantity, number.form,
        toks[number.last].start if last > number.last else None, end if last > number.last else None,
        tuple(replace(quantity, unit=code) for code in others), (), None, number.start, end,
    )  # fmt: skip


_NUMBERED = frozenset(["no", "number", "cyl", "cylinder", "#", "on", "in", "pot"])
_DIGITS = ("one", "two", "three", "four", "five", "six", "seven", "eight")


@dataclass(slots=True)
class Counted:
    """The side that each place's first value is of ("one inlet ... two inlet ..."), and the place that comes next."""

    side: str | None
    place: int = 2


def split_figures(toks: list[Tok], figures: Sequence[Figure]) -> list[Figure]:
    """Figures that hold a place or an engine speed before the value, taken apart.

    "no 2 to 5 thou" is 5 thou at place 2, no range; "at three thousand fourteen point four volts" is a speed and a voltage.
    """
    out: list[Figure] = []
    counted = _counted(toks)
    for figure in figures:
        before = toks[figure.first - 1].low if figure.first else ""
        if (
            figure.form == "range"
            and figure.link == "to"
            and figure.parts
            and before in _NUMBERED
            and small(toks[figure.first])
        ):
            out.append(figure.parts[1])
            continue
        if figure.form == "range" and figure.link in {"to", "from"} and _changed(toks, figure):
            out += figure.parts
            continue
        figure = _other_unit(toks, _no_minutes(toks, figure))  # noqa: PLW2901
        if out and figure.first < out[-1].last:
            continue  # it went into the one before
        cut = _at_comma(toks, figure) or _next_place(toks, figure, counted) or _place_before(toks, figure)
        if cut is None and before in {"at", "@"}:
            cut = _after_thousand(toks, figure)
        out += cut if cut is not None else [figure]
        if len(out) > 1:
            both = _both_limits(toks, out[-2], out[-1])
            if both is not None:
                out[-2:] = [both]
    return out


_WIDEST = 3.0  # how far the two limits of one measure lie apart, as a factor


def _both_limits(toks: list[Tok], low: Figure, high: Figure) -> Figure | None:
    """The range that two limits of one measure make: "clutch play 22 mm, limits 15 and 25"; not "limits 3.5 and 1200"."""
    at = low.first - 1
    if at > 0 and toks[at].low in {"are", "of", ":", "being"}:
        at -= 1
    a, b = low.quantity, high.quantity
    if at < 0 or toks[at].low != "limits" or [tok.low for tok in toks[low.last : high.first]] != ["and"]:
        return None
    if (
        a.value is None
        or b.value is None
        or not 0 < a.value < b.value <= _WIDEST * a.value
        or a.unit not in {None, b.unit}
    ):
        return None
    return replace(
        high, start=low.start, first=low.first, quantity=Quantity(None, a.value, b.value, b.unit), form="range",
        alternatives=(), wide_start=low.wide_start, link="and", parts=(low, high),
    )  # fmt: skip


_CHANGES = frozenset(
    "up went gone rose risen raised improved climbed came come brought taken took lifted increased recovered".split()
)


def _changed(toks: list[Tok], figure: Figure) -> bool:
    """Whether a range tells what was before and after: "cranking volts up from 8.9 to 10.3" is two readings."""
    at = figure.first
    return (
        len(figure.parts) == 2
        and at > 1
        and toks[at - 1].low == "from"
        and (toks[at - 2].low in _CHANGES or (at > 2 and toks[at - 2].low == "back" and toks[at - 3].low in _CHANGES))
    )


_TAKEN_BACK = frozenset(["sorry", "no", "rather", "correction", "wait"])
_SMALL_WORDS = frozenset({",", "i", "mean", "make", "that", "er", "um", "erm", "-"})


def _other_unit(toks: list[Tok], figure: Figure) -> Figure:
    """A unit taken back: "8.1 ohms, sorry, kilohms" is 8.1 kΩ."""
    if figure.quantity.unit is None or figure.last + 1 >= len(toks):
        return figure
    taken = False
    for i in range(figure.last, min(len(toks), figure.last + 7)):
        low = toks[i].low
        if low in _TAKEN_BACK or (low == "mean" and toks[i - 1].low == "i"):
            taken = True
        elif low not in _SMALL_WORDS:
            hit = unit_at(toks, i) if taken else None
            if hit is not None and same_kind(hit.codes[0], figure.quantity.unit) and not _number_near(toks, i, hit.end):
                return replace(figure, quantity=replace(figure.quantity, unit=hit.codes[0]), alternatives=())
            return figure
    return figure


def _number_near(toks: list[Tok], first: int, last: int) -> bool:
    return toks[first - 1].kind == NUM or (last < len(toks) and toks[last].kind == NUM)


def _at_comma(toks: list[Tok], figure: Figure) -> list[Figure] | None:
    """ "at four thousand, thirty one degrees" is two numbers; "two thousand, three hundred" is one."""
    if figure.last - figure.first < 4 or figure.quantity.value is None:
        return None
    comma = next((i for i in range(figure.first + 1, figure.last - 1) if toks[i].low == ","), None)
    if comma is None or toks[figure.first].kind == NUM:
        return None
    after = comma + 2 if toks[comma + 1].low == "and" else comma + 1
    if any(tok.low == "hundred" for tok in toks[after : after + 3]):
        return None
    heads = [number for number in candidates_at(toks, figure.first) if number.last == comma]
    tails = [number for number in candidates_at(toks, after) if number.form not in ODD_FORMS]
    if not heads or not tails:
        return None
    return [to_figure(toks, heads[0]), to_figure(toks, tails[0])]


_NEVER_THOUSANDS = frozenset({"mV", "V", "A", "mA", "bar", "[psi]", "deg", "Ohm"})
_SPEED = 1000


def _after_thousand(toks: list[Tok], figure: Figure) -> list[Figure] | None:
    at = next((i for i in range(figure.first, figure.last - 1) if toks[i].low in {"thousand", "hundred"}), None)
    if at is None or figure.quantity.unit == "{rev}/min" or figure.quantity.value is None:
        return None
    if toks[at + 1].low == "and":
        return None
    if toks[at].low == "hundred" and figure.quantity.value == int(figure.quantity.value):
        spoken = figure.quantity.unit in _NEVER_THOUSANDS and figure.quantity.value > _SPEED
        if not spoken:
            return None  # "at fifteen hundred twenty five millivolts" is no 1525 mV
    heads = [number for number in candidates_at(toks, figure.first) if number.last == at + 1]
    tails = [number for number in candidates_at(toks, at + 1) if unit_at(toks, number.last) is not None]
    if not tails and toks[at].low == "thousand":  # "hot at two thousand three point one"
        tails = [
            number for number in candidates_at(toks, at + 1)
            if number.value != int(number.value) and number.last == figure.last
        ]  # fmt: skip
    if not heads or not tails or heads[0].value < 500:
        return None
    return [to_figure(toks, heads[0]), to_figure(toks, tails[0])]


_SIDES = frozenset({"inlet", "intake", "exhaust"})


def _counted(toks: list[Tok]) -> Counted:
    for i in range(len(toks) - 1):
        if toks[i].low == "one" and toks[i + 1].low in _SIDES and (not i or toks[i - 1].low not in LEX):
            return Counted(toks[i + 1].low)
    return Counted(None)


def _next_place(toks: list[Tok], figure: Figure, counted: Counted) -> list[Figure] | None:
    """A last digit that is the next one's place: "one inlet .22 exhaust nought point two six two inlet ..." is 0.26."""
    last = figure.last - 1
    if counted.side is None or figure.last >= len(toks) or toks[figure.last].low != counted.side:
        return None
    if counted.place > len(_DIGITS) or toks[last].low != _DIGITS[counted.place - 1]:
        return None
    counted.place += 1
    if last == figure.first:
        return None
    value = next((number for number in candidates_at(toks, figure.first) if number.last == last), None)
    counter = next((number for number in candidates_at(toks, last) if number.last == figure.last), None)
    return [to_figure(toks, value), to_figure(toks, counter)] if value is not None and counter is not None else None


def _place_before(toks: list[Tok], figure: Figure) -> list[Figure] | None:
    """A place that the words run into its value: "on one was point three six, on two point three five" is 0.35 on two."""
    at = figure.first
    if at < 1 or toks[at - 1].low not in _NUMBERED or at + 1 >= len(toks) or toks[at + 1].low != "point":
        return None
    word = toks[at].low
    place = _DIGITS.index(word) if word in _DIGITS else 0
    if not place:
        return None
    said = any(
        toks[i].low == toks[at - 1].low and toks[i + 1].low == _DIGITS[place - 1]
        for i in range(max(0, at - 14), at - 1)
    )
    value = next((number for number in candidates_at(toks, at + 1) if number.last == figure.last), None)
    counter = next((number for number in candidates_at(toks, at) if number.last == at + 1), None)
    return [to_figure(toks, counter), to_figure(toks, value)] if said and value and counter else None


_ASKS = frozenset("book spec specs limit says say wants want be minimum sheet manual plate".split())


def _no_minutes(toks: list[Tok], figure: Figure) -> Figure:
    """ "Book: 10 min at idle" asks for ten at least and tells no time."""
    quantity = figure.quantity
    if quantity.unit != "min" or quantity.value is None or toks[figure.last - 1].low != "min" or not figure.first:
        return figure
    before = toks[figure.first - 1].low
    if before in {":", "is", "for"} and figure.first > 1:
        before = toks[figure.first - 2].low
    if before not in _ASKS or figure.unit_start is None:
        return figure
    last = figure.last - 1
    bare = Quantity(quantity.value, quantity.value, None, None, ">=")
    return replace(
        figure, quantity=bare, last=last, end=toks[last - 1].end, unit_start=None, unit_end=None, alternatives=()
    )
