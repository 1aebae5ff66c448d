"""Lists by position: "1 12.4, 2 12.1, 3 12.6", "flow one one eighty eight two one eighty six", "1-150 2-148".

A run of numbers is a list of pairs where it can be cut into place, value, place, value, with the places counting up. A
recogniser's run of number words is cut the same way, whatever the longest number would be.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from cleansheet.units import same_kind

from .numbers import Number, candidates_at
from .places import Place, small
from .quantities_units import unit_at
from .splits import ODD_FORMS, to_figure
from .words import NUM, WORD, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .quantities import Figure

_TIES = frozenset({":", "-", "–", "=", ")", "at", "is", "was", "reads", "on", "gave", "@", "."})
_PARTED = frozenset({",", ";", "|", "/", "and", "then", ".", "&", "·", "•", "-", "cylinder", "number", "no"})
_DITTO = frozenset({'"', "”", "″", "〃", "ditto", "same"})
_MOST_PLACES = 12


@dataclass(frozen=True, slots=True)
class Pair:
    """A place at word `at` and the value that follows it; no value where the meter shows none: "3 OL"."""

    at: int
    place: str
    number: Number | None
    last: int


def _values(toks: list[Tok], i: int) -> list[Number]:
    if i >= len(toks) or toks[i].line:
        return []
    found = candidates_at(toks, i)
    return [number for number in found if number.form not in ODD_FORMS and number.form != "maybe-grouped"]


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
        elif j < len(toks) and toks[j].kind == NUM and not toks[j].line and not toks[j].glued:
            for second in candidates_at(toks, j):  # "12.0 bar 174 psi, 2 12.3 bar 178 psi"
                other = unit_at(toks, second.last)
                if other is not None and other.codes[0] != hit.codes[0] and same_kind(other.codes[0], hit.codes[0]):
                    j = other.end
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
    if depth and (shown := _no_value(toks, j)) > j:
        after = shown
        while after < len(toks) and toks[after].low in _PARTED:
            after += 1
        rest = pairs_at(toks, after, int(said) + 1, depth + 1, before)
        ends = after > shown or shown >= len(toks) or toks[shown].line
        return [Pair(i, said, None, shown), *rest] if rest or ends else []
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


_NOTHING = frozenset("ol open infinite infinity circuit dead nothing nil broken".split())


def _no_value(toks: list[Tok], i: int) -> int:
    """The word after what a meter shows of a broken winding, from word `i`: "OL", "O/L", "open circuit"; else `i`."""
    if [tok.low for tok in toks[i : i + 3]] in (["o", "/", "l"], ["o", "/", "c"]):
        return i + 3
    j = i
    while j < len(toks) and j - i < 2 and toks[j].low in _NOTHING and not (j == i and toks[j].low == "circuit"):
        j += 1
    return j


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
    values = [abs(pair.number.value) for pair in chain if pair.number is not None]
    low = min(values)
    return max(values) / low if low > 0 else 1e9


def _starts_pair(toks: list[Tok], i: int) -> bool:
    said = small(toks[i])
    if said is None or int(said) > 3:
        return False
    before = toks[i - 1].low if i else ""
    return before not in {"-", "–", "/", ".", "to", "and", "of", "no", "number", "#", "than", "x"} or not toks[i].glued


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
                or number.form in ODD_FORMS
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
        chain = pairs_at(toks, i) if _starts_pair(toks, i) and figure.form not in ODD_FORMS else []
        if len(chain) >= 2 and _is_list(chain, figure):
            groups += 1
            last, at = i, k
            for pair in chain:
                if pair.number is None:
                    places.append(Place(pair.at, pair.at + 1, pair.place, "cylinder"))
                    last = pair.last
                    continue
                while at < len(figures) and figures[at].first < pair.number.first:
                    at += 1
                known = figures[at] if at < len(figures) else None
                same = (
                    known is not None
                    and known.first == pair.number.first
                    and any(q.value == pair.number.value for q in (known.quantity, *known.alternatives))
                )
                made = known if known is not None and same else to_figure(toks, pair.number)
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
                values = [to_figure(toks, number) for number in run]
                group_of.update({one.first: groups for one in values})
                out += values
                k = end
                continue
        placed = _place_in_front(toks, figure, out[-1] if out else None)
        if placed is not None:
            place, value = placed
            if place is not None:
                places.append(place)
            out.append(value)
            k += 1
            continue
        out.append(figure)
        k += 1
    return out, places, group_of


_OVER_ALL, _ALIKE_AT_MOST, _FAR_LARGER = 100.0, 3.0, 5.0


def _place_in_front(toks: list[Tok], figure: Figure, before: Figure | None) -> tuple[Place | None, Figure] | None:
    """A place that the words run into its value: "leak down two thirty percent" is 30 % on two, and after "one's 12.4 bar"
    "two twelve point five" is 12.5 on two.
    """
    i = figure.first
    said = small(toks[i]) if toks[i].kind == WORD else None
    value, unit = figure.quantity.value, figure.quantity.unit
    if said is None or value is None or figure.last - i < 2 or value != abs(value) or toks[i].low.endswith("'s"):
        return None
    rest = next((n for n in candidates_at(toks, i + 1) if n.last == _without_unit(toks, figure)), None)
    if rest is None or rest.form in ODD_FORMS:
        return None
    after_marker = i > 0 and toks[i - 1].low in _MARKED
    if unit == "%" and value > _OVER_ALL >= rest.value:
        return (None if after_marker else Place(i, i + 1, said, "cylinder")), to_figure(toks, rest)
    if before is None or i - before.last > 2 or before.first < 1 or before.quantity.value is None:
        return None
    earlier = small(toks[before.first - 1])
    alike = 0 < before.quantity.value <= _ALIKE_AT_MOST * rest.value <= _ALIKE_AT_MOST**2 * before.quantity.value
    if earlier is None or int(said) != int(earlier) + 1 or not alike or value < _FAR_LARGER * rest.value:
        return None
    return Place(i, i + 1, said, "cylinder"), to_figure(toks, rest)


_MARKED = frozenset({"on", "number", "cylinder", "cyl", "no"})


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
    if sum(pair.number is not None for pair in chain) < 2 or chain[0].number is None:
        return False
    if figure.quantity.unit is not None and figure.last <= chain[0].number.first and not _headed(figure):
        return False
    if figure.quantity.value is not None and figure.last > chain[0].at + 1 and figure.form == "numeral":
        return False
    return _evenness(chain) < 40 or len(chain) >= 4
