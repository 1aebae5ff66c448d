"""Lists by position: "1 12.4, 2 12.1, 3 12.6", "flow one one eighty eight two one eighty six", "1-150 2-148".

A run of numbers is a list of pairs where it can be cut into place, value, place, value, with the places counting up. A
recogniser's run of number words is cut the same way, whatever the longest number would be.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cleansheet.terms import Quantity
from cleansheet.units import same_kind

from .number_lexicon import LEX
from .numbers import Number, candidates_at
from .places import Place, small
from .quantities import Figure
from .quantities_units import unit_at
from .words import NUM, WORD, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

_TIES = frozenset({":", "-", "–", "=", ")", "at", "is", "was", "reads", "on", "gave", "@", "."})
_PARTED = frozenset({",", ";", "|", "/", "and", "then", ".", "&", "·", "•", "-", "cylinder", "number", "no"})
_ODD_FORMS = frozenset({"ordinal", "code", "clock", "date", "phone", "couple", "dozen"})
_DITTO = frozenset({'"', "”", "″", "〃", "ditto", "same"})
_MOST_PLACES = 12


@dataclass(frozen=True, slots=True)
class Pair:
    """A place at word `at` and the value that follows it."""

    at: int
    place: str
    number: Number
    last: int


def _values(toks: list[Tok], i: int) -> list[Number]:
    if i >= len(toks) or toks[i].line:
        return []
    found = candidates_at(toks, i)
    return [number for number in found if number.form not in _ODD_FORMS and number.form != "maybe-grouped"]


def _after_value(toks: list[Tok], number: Number) -> int:
    """The word after a value, its unit, the same in a second unit, and what parts it from the next pair."""
    j = number.last
    if j < len(toks) and toks[j].low == "k":
        j += 1
    hit = unit_at(toks, j)
    if hit is not None:
        j = hit.end
        if j + 1 < len(toks) and toks[j].low in {"/", "(", "="}:
            for second in candidates_at(toks, j + 1):
                other = unit_at(toks, second.last)
                if other is not None and other.codes[0] != hit.codes[0]:
                    j = other.end
                    if j < len(toks) and toks[j].low == ")":
                        j += 1
                    break
                if toks[j].low == "(" and second.last < len(toks) and toks[second.last].low == ")":
                    j = second.last + 1  # "12.0 bar (174), 2 12.3 bar (178)"
                    break
    while j < len(toks) and toks[j].low in _PARTED and not (toks[j].low == "-" and toks[j].glued is False):
        j += 1
    return j


def pairs_at(
    toks: list[Tok], i: int, place: int | None = None, depth: int = 0, before: Number | None = None
) -> list[Pair]:
    """The longest list of pairs that begins at word `i`, each place one more than the one before; [] where there is none."""
    if i >= len(toks) or depth > _MOST_PLACES:
        return []
    said = small(toks[i])
    if said is None or (place is not None and int(said) != place and not _goes_on(toks, i, int(said), place)):
        return []
    following = toks[i + 1] if i + 1 < len(toks) else None
    if following is not None and (
        following.low == "point" or (toks[i].kind == NUM and following.glued and following.kind == WORD)
    ):
        return []
    j = i + 1
    if j < len(toks) and toks[j].low in _TIES:
        j += 1
    best: list[Pair] = []
    for number in _values(toks, j) or _ditto(toks, j, before):
        after = _after_value(toks, number)
        rest = pairs_at(toks, after, int(said) + 1, depth + 1, number)
        # a run that goes on with bare number words was cut in the wrong place
        if (
            not rest
            and after < len(toks)
            and after == number.last
            and toks[after].kind == WORD
            and candidates_at(toks, after)
        ):
            continue
        chain = [Pair(i, said, number, number.last), *rest]
        if len(chain) > len(best) or (len(chain) == len(best) and _evenness(chain) < _evenness(best)):
            best = chain
    return best


def _goes_on(toks: list[Tok], i: int, said: int, place: int) -> bool:
    """Places in figures may skip ("1 150  3 148  5 152"), where a figure and no unit follows."""
    return (
        said > place and toks[i].kind == NUM and i + 1 < len(toks) and toks[i + 1].kind == NUM and not toks[i + 1].glued
    )


def _ditto(toks: list[Tok], i: int, before: Number | None) -> list[Number]:
    """A ditto mark stands for the value before it, at its own place."""
    if before is None or i >= len(toks) or toks[i].low not in _DITTO or toks[i].glued:
        return []
    return [replace(before, start=toks[i].start, end=toks[i].end, first=i, last=i + 1, alternatives=())]


def _evenness(chain: list[Pair]) -> float:
    """How unlike the values of a list are: 1 where all are equal."""
    values = [abs(pair.number.value) for pair in chain]
    low = min(values)
    return max(values) / low if low > 0 else 1e9


def _starts_pair(toks: list[Tok], i: int) -> bool:
    said = small(toks[i])
    if said is None or int(said) > 3:
        return False
    before = toks[i - 1].low if i else ""
    return before not in {"-", "–", "/", ".", "to", "and", "of", "no", "number", "#", "than", "x"} or not toks[i].glued


def _to_figure(toks: list[Tok], number: Number) -> Figure:
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
        if figure.form == "range" and figure.link == "to" and _changed(toks, figure):
            out += figure.parts
            continue
        figure = _other_unit(toks, _no_minutes(toks, figure))  # noqa: PLW2901
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
    if a.value is None or b.value is None or not 0 < a.value < b.value <= _WIDEST * a.value or a.unit not in {None, b.unit}:
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
        len(figure.parts) == 2  # noqa: PLR2004 - a range has two ends
        and at > 1
        and toks[at - 1].low == "from"
        and (toks[at - 2].low in _CHANGES or (at > 2 and toks[at - 2].low == "back" and toks[at - 3].low in _CHANGES))
    )


def heading_units(toks: list[Tok]) -> list[tuple[int, int, str]]:
    """Units said in a heading, each with the words it holds for: "clearances, thou: ...", "compression (psi): ...".

    A heading's unit holds to the end of its sentence or, over the lines of a table, to the next heading or full stop.
    """
    found: list[tuple[int, int, str]] = []
    for i, tok in enumerate(toks):
        if tok.low != ":" or i < 1:
            continue
        end = i - 1 if toks[i - 1].low == ")" else i
        for start in range(max(0, end - 3), end):
            hit = unit_at(toks, start)
            if (
                hit is not None
                and hit.end == end
                and start
                and toks[start - 1].kind != NUM
                and not toks[start].glued | (toks[start - 1].low == "(")
            ):
                found.append((i + 1, _heading_ends(toks, i + 1), hit.codes[0]))
                break
            if hit is not None and hit.end == end and start and toks[start - 1].low in {"(", ","}:
                found.append((i + 1, _heading_ends(toks, i + 1), hit.codes[0]))
                break
    return found


def _heading_ends(toks: list[Tok], i: int) -> int:
    for j in range(i, len(toks)):
        if toks[j].low == ":" or (toks[j].low == "." and (j + 1 == len(toks) or not toks[j + 1].glued) and j - i > 8):
            return j
    return len(toks)


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
    tails = [number for number in candidates_at(toks, after) if number.form not in _ODD_FORMS]
    if not heads or not tails:
        return None
    return [_to_figure(toks, heads[0]), _to_figure(toks, tails[0])]


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
    if not heads or not tails or heads[0].value < 500:
        return None
    return [_to_figure(toks, heads[0]), _to_figure(toks, tails[0])]


_NEVER_THOUSANDS = frozenset({"mV", "V", "A", "mA", "bar", "[psi]", "deg", "Ohm"})
_SPEED = 1000
_SIDES = frozenset({"inlet", "intake", "exhaust"})
_DIGITS = ("one", "two", "three", "four", "five", "six", "seven", "eight")


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
    return [_to_figure(toks, value), _to_figure(toks, counter)] if value is not None and counter is not None else None


@dataclass(slots=True)
class Counted:
    """The side that each place's first value is of ("one inlet ... two inlet ..."), and the place that comes next."""

    side: str | None
    place: int = 2


def _counted(toks: list[Tok]) -> Counted:
    for i in range(len(toks) - 1):
        if toks[i].low == "one" and toks[i + 1].low in _SIDES and (not i or toks[i - 1].low not in LEX):
            return Counted(toks[i + 1].low)
    return Counted(None)


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
        toks[i].low == toks[at - 1].low and toks[i + 1].low == _DIGITS[place - 1] for i in range(max(0, at - 14), at - 1)
    )
    value = next((number for number in candidates_at(toks, at + 1) if number.last == figure.last), None)
    counter = next((number for number in candidates_at(toks, at) if number.last == at + 1), None)
    return [_to_figure(toks, counter), _to_figure(toks, value)] if said and value and counter else None


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
    return replace(figure, quantity=bare, last=last, end=toks[last - 1].end, unit_start=None, unit_end=None, alternatives=())


def _even_run(toks: list[Tok], first: int, last: int) -> list[Number]:
    """A run of number words with nothing between, cut where its values are most alike: "one fifty one forty eight one fifty
    two" is 150, 148 and 152. [] where no cut gives three values that lie within a half of one another.
    """
    best: list[Number] = []
    spread, steps = _ALIKE, 0

    def cut(i: int, chain: list[Number]) -> None:
        nonlocal best, spread, steps
        steps += 1
        if steps > _MOST_STEPS:
            return
        if i == last:
            if len(chain) >= _LEAST_RUN and _spread(chain) < spread:
                best, spread = list(chain), _spread(chain)
            return
        for number in candidates_at(toks, i):
            if (
                number.last > last
                or (number.value < _SMALLEST and number.value == int(number.value))
                or number.form in _ODD_FORMS
            ):
                continue
            if chain and _spread([*chain, number]) >= spread:
                continue
            cut(number.last, [*chain, number])

    cut(first, [])
    return best


_ALIKE, _LEAST_RUN, _SMALLEST, _MOST_STEPS = 1.5, 3, 13.0, 2000


def _spread(chain: list[Number]) -> float:
    values = [abs(number.value) for number in chain]
    return max(values) / min(values) if min(values) > 0 else 1e9


def _word_run(toks: list[Tok], figures: Sequence[Figure], k: int) -> int:
    """The number of the figure after a run of bare number words that begins at figure `k`: each touches the one before."""
    j = k
    while (
        j + 1 < len(figures)
        and j - k < _LONGEST_RUN
        and figures[j + 1].first == figures[j].last
        and figures[j].unit_start is None
        and toks[figures[j].first].kind == WORD
    ):
        j += 1
    return j + 1


def cut_lists(toks: list[Tok], figures: Sequence[Figure]) -> tuple[list[Figure], list[Place], dict[int, int]]:
    """The figures with lists of pairs cut, the places that the lists gave, and for each value's first word its list's number.

    "one nine, two eleven" is 9 at place 1 and 11 at place 2, not 19 and 211.
    """
    out: list[Figure] = []
    places: list[Place] = []
    group_of: dict[int, int] = {}
    groups = 0
    k = tried = 0
    while k < len(figures):
        figure = figures[k]
        i = figure.first
        chain = pairs_at(toks, i) if _starts_pair(toks, i) and figure.form not in _ODD_FORMS else []
        if len(chain) >= 2 and _is_list(chain, figure):
            groups += 1
            last, at = i, k
            for pair in chain:
                while at < len(figures) and figures[at].first < pair.number.first:
                    at += 1
                known = figures[at] if at < len(figures) else None
                same = (
                    known is not None
                    and known.first == pair.number.first
                    and any(q.value == pair.number.value for q in (known.quantity, *known.alternatives))
                )
                made = known if known is not None and same else _to_figure(toks, pair.number)
                if made.quantity.unit is None and _headed(figure):  # "compression (psi): 1 150, 2 148"
                    made = replace(made, quantity=replace(made.quantity, unit=figure.quantity.unit))
                places.append(Place(pair.at, pair.at + 1, pair.place, "cylinder"))
                out.append(made)
                group_of[made.first] = groups
                last = made.last
                second = _again_in_another_unit(figures, at, made, pair)
                if second is not None:
                    out.append(second)
                    last = second.last
            last = _past_brackets(toks, last)
            while k < len(figures) and figures[k].first < last:
                k += 1
            continue
        end = _word_run(toks, figures, k) if k >= tried else k
        tried = max(tried, end)
        if end - k >= 2 and figures[end - 1].last - i <= _LONGEST_RUN:
            run = _even_run(toks, i, _without_unit(toks, figures[end - 1]))
            if run:
                groups += 1
                values = [_to_figure(toks, number) for number in run]
                group_of.update({one.first: groups for one in values})
                out += values
                k = end
                continue
        out.append(figure)
        k += 1
    return out, places, group_of


def _past_brackets(toks: list[Tok], i: int) -> int:
    """The word after a bare number in brackets at `i`, which says a list's last value again: "3 11.8 bar (171)"; else `i`."""
    if i + 2 < len(toks) and toks[i].low == "(" and toks[i + 1].kind == NUM and toks[i + 2].low == ")":
        return i + 3
    return i


_LONGEST_RUN = 30  # words of a run that is worth cutting


def _without_unit(toks: list[Tok], figure: Figure) -> int:
    """The word after a figure's number, before its unit."""
    if figure.unit_start is None:
        return figure.last
    return next((i for i in range(figure.first, figure.last) if toks[i].start >= figure.unit_start), figure.last)


def _headed(figure: Figure) -> bool:
    """Whether a figure has its unit from a heading before it."""
    return figure.quantity.unit is not None and figure.unit_start is None and figure.form != "resistance-code"


def _again_in_another_unit(figures: Sequence[Figure], at: int, made: Figure, pair: Pair) -> Figure | None:
    """The figure after a pair's value that says it again: "1 12.1 bar/175 psi, 2 11.8 bar/171 psi"."""
    following = next((figure for figure in figures[at : at + 3] if figure.first >= made.last), None)
    if following is None or following.first - made.last > 1 or following.quantity.unit in {None, made.quantity.unit}:
        return None
    unit = made.quantity.unit
    return (
        following
        if unit is not None and same_kind(following.quantity.unit or "", unit) and following.first > pair.at
        else None
    )


def _is_list(chain: list[Pair], figure: Figure) -> bool:
    """Two pairs are a list only where the values are alike and no unit stands behind the first place."""
    if chain[0].place not in {"1", "2"} and len(chain) < 3:
        return False
    if figure.quantity.unit is not None and figure.last <= chain[0].number.first and not _headed(figure):
        return False
    if figure.quantity.value is not None and figure.last > chain[0].at + 1 and figure.form == "numeral":
        return False
    return _evenness(chain) < 40 or len(chain) >= 4
