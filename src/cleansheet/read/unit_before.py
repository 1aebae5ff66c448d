"""The unit of a bare reading from those said before it: of the same name, of the pair before, of the same value."""

from __future__ import annotations

from bisect import bisect_left
from typing import TYPE_CHECKING

from cleansheet.units import sayable

from .cues import cue_book
from .role_rules import EXPECTED, NEITHER, READING, alike, in_workshop, kind_of, size_of
from .words import without_s

if TYPE_CHECKING:
    from collections.abc import Iterator

    from .quantities import Figure
    from .work import Work

_LINKS = frozenset([":", "=", "is", "was", "now", "at", "of", "about", "then", "reads", "still"])
_NAMED = 3  # words between a measure's name and its number
_BEFORE = 12  # figures back in which the unit may have been said
_PAIRED = 16  # words between the two numbers of a pair
_TIGHT = 2  # words between two that have no unit either
_ALIKE = 2.5  # how far apart two values of one measure may lie in a pair, as a factor
_BEHIND = 7  # words between a reading and its limit
_LIMITED = 20.0  # how far a limit may lie from its reading, as a factor
_NAMESAKES = 10.0  # and two of the same name


def unit_from_before(work: Work, k: int) -> str | None:
    """The unit of bare figure `k`, where one said before is surely meant, else None.

    "Gap 3.5 mm ... gap 1.1": the same name. "Coil 1 4.2 ohm and 11.8k, coil 2 4.0 and 12.1k": the same place in a pair.
    "All at 160 Nm ... redid them to 160": the same value. "Drop 700 mV ... now 14.2": no thousandths.
    """
    for find in (_of_pair, _of_name, _of_value, _of_row, _of_sentence, _moved, _of_state, _volts):
        unit = find(work, k)
        if unit is not None and _sayable(work.figures[k], unit):
            return unit
    return None


def _sayable(figure: Figure, unit: str) -> bool:
    """Whether a figure's number may be said in a unit."""
    return figure.quantity.value is None or sayable(figure.quantity.value, unit)


_IN_A_ROW = 6  # words between two numbers of a row, as in "- to body 18, - to ECU earth 95"
_ROW = 4  # figures on in which a row may say its unit


def _of_row(work: Work, k: int) -> str | None:
    """The unit that a row of numbers says at its end: "12.4, 3 open, 4 12.1 ohm", "to block 12, to body 18, to dash 240 mV"."""
    figure, sentence_of = work.figures[k], work.scene.layout.sentence_of
    if any(in_workshop(one).unit for one in _same_sentence(work, k)):
        return None  # "28 psi low, 110 high, vent 17 C"
    last = figure.last
    for j in range(k + 1, min(k + 1 + _ROW + 2, len(work.figures))):
        other = work.figures[j]
        if other.first - last > _IN_A_ROW or sentence_of[other.first] != sentence_of[figure.first]:
            return None
        quantity = in_workshop(other)
        said = work.roles[j].label
        if said == READING and quantity.unit is not None:
            sure = _plain(other) and alike(figure, other, _NAMESAKES) and _apart(work, k, j)
            return quantity.unit if sure else None
        if said != READING and quantity.unit is not None:
            return None
        last = other.last
    return None


_IDLING = frozenset({"idle", "idling", "tickover"})
_NO_SPEED = 100  # what reads less at idle is no engine speed
_STATE_BEFORE = 6  # words back to "idle"


def _of_state(work: Work, k: int) -> str | None:
    """The unit of what was read before in another state: "oil pressure 2.8 bar at 3000. Idle, nought point eight"."""
    figure, sentence_of = work.figures[k], work.scene.layout.sentence_of
    number = size_of(figure)
    start = work.scene.layout.sentences[sentence_of[figure.first]][0]
    before = {tok.low for tok in work.toks[max(start, figure.first - _STATE_BEFORE) : figure.first]}
    if number is None or number >= _NO_SPEED or _IDLING.isdisjoint(before):
        return None
    for j in _earlier(work, k):
        other = work.figures[j]
        if sentence_of[figure.first] - sentence_of[other.first] > _SENTENCES or work.roles[j].label != READING:
            return None
        quantity = in_workshop(other)
        if quantity.unit is not None:
            near = kind_of(quantity) in {"pressure", "voltage"} and alike(figure, other, _NAMESAKES)
            return quantity.unit if near else None
    return None


def _same_sentence(work: Work, k: int) -> Iterator[Figure]:
    """The readings and limits before figure `k` in its sentence."""
    sentence_of = work.scene.layout.sentence_of
    for j in _earlier(work, k):
        if sentence_of[work.figures[j].first] != sentence_of[work.figures[k].first]:
            return
        yield work.figures[j]


def _named_since(work: Work, j: int, k: int) -> bool:
    """Whether another measure is named in the sentence of figure `k`, after figure `j`: "pressure came up to 58"."""
    layout = work.scene.layout
    start = max(work.figures[j].last, layout.sentences[layout.sentence_of[work.figures[k].first]][0])
    stop = work.figures[k].first
    return bool(work.tests.within(start, stop)) or not _MEASURES.isdisjoint(tok.low for tok in work.toks[start:stop])


def _plain(figure: Figure) -> bool:
    """Whether a figure's words can be of one kind alone: "eighteen inches" may be a length or a vacuum."""
    kinds = {kind_of(in_workshop(figure))} | {kind_of(other) for other in figure.alternatives if other.unit is not None}
    return len(kinds) == 1


def _apart(work: Work, k: int, j: int) -> bool:
    """Whether nothing but names, places and commas stands between two numbers: no other measure."""
    between = work.toks[work.figures[k].last : work.figures[j].first]
    return _MEASURES.isdisjoint(tok.low for tok in between)


_MEASURES = frozenset(cue_book().measures)


def _of_sentence(work: Work, k: int) -> str | None:
    """The unit of the reading right before in the same sentence, of about the same size: "14.9 V at 2000, 15.3 at 3000"."""
    figure, sentence_of = work.figures[k], work.scene.layout.sentence_of
    for j in _earlier(work, k):
        other = work.figures[j]
        if sentence_of[other.first] != sentence_of[figure.first] or work.roles[j].label != READING:
            return None
        unit = in_workshop(other).unit
        if unit is not None:
            near = _plain(other) and alike(figure, other, _ALIKE) and _apart(work, j, k)
            named = work.parts.within(other.last, figure.first) or _without_unit_named(work, other.last, figure.first)
            return unit if near and not named else None
    return None


_NO_UNIT = frozenset({"exhaust.lambda", "battery.specific-gravity"})


def _without_unit_named(work: Work, start: int, stop: int) -> bool:
    """Whether a test whose numbers have no unit is named between two words: "CO 0.9 %, lambda 1.01"."""
    return any(not _NO_UNIT.isdisjoint(name.tests) for name in work.tests.within(start, stop))


_NOW = frozenset("now then again still".split())
_WEAK = 12.0  # how far apart the old value and the new may lie where only "now" tells, as a factor
_CHANGED = frozenset(
    "drops dropped drop falls fell down up came comes come went goes go rose rises risen climbed brought".split()
)
_JUST_NOW = 2  # words back to the word that says so
_SENTENCES = 2


def _moved(work: Work, k: int) -> str | None:
    """The unit of the reading that this one took the place of: "11.8 volts ... it drops to six", "cleaned it, now 0.4"."""
    figure, sentence_of = work.figures[k], work.scene.layout.sentence_of
    before = [tok.low for tok in work.toks[max(0, figure.first - 4) : figure.first]]
    after = work.toks[figure.last].low if figure.last < len(work.toks) else ""
    changed = not _CHANGED.isdisjoint(before) and bool(before) and before[-1] == "to"
    if not changed and after != "now" and _NOW.isdisjoint(before[-_JUST_NOW:]):
        return None
    for j in _earlier(work, k, applied=changed):
        other = work.figures[j]
        if sentence_of[figure.first] - sentence_of[other.first] > _SENTENCES:
            return None
        if work.roles[j].label == EXPECTED:
            if in_workshop(other).unit is None and not work.parts.within(other.last, figure.first):
                continue  # "22 mm of slack and it wants eight to twelve. Tightened it up, it's ten now"
            return None
        unit = in_workshop(other).unit
        if unit is not None:
            near = _plain(other) and alike(figure, other, _LIMITED if changed else _WEAK)
            return unit if near and not _named_since(work, j, k) else None
    return None


def _volts(work: Work, k: int) -> str | None:
    """Volts after millivolts: nobody says millivolts to a tenth, and a battery or a charge is what reads 9 to 16."""
    value = work.figures[k].quantity.value
    if value is None or not _FLAT <= value <= _CHARGED or value == int(value):
        return None
    units = (in_workshop(work.figures[j]).unit for j in _earlier(work, k))
    return "V" if next((unit for unit in units if unit is not None), None) == "mV" else None


_FLAT, _CHARGED = 9.0, 16.0


def unit_of_limit(work: Work, k: int) -> str | None:
    """The unit of bare limit `k` right behind its reading: "3/4 in deflection, should be 1/2", else None."""
    passed = 0  # words of the conditions between
    for j in range(k - 1, max(-1, k - 4), -1):
        figure = work.figures[j]
        if work.roles[j].label == NEITHER and figure.same_as_previous:
            continue  # "1.6 bar (23 psi); want 3"
        if work.roles[j].label == NEITHER and _a_condition(work, figure):
            passed += figure.last - figure.first + 1
            continue  # "3.9 psi at two and a half thousand, should be under one and a half"
        gap = work.figures[k].first - figure.last - passed
        if work.roles[j].label != READING or gap > _BEHIND or work.parts.within(figure.last, work.figures[k].first):
            return None
        near = alike(work.figures[k], figure, _LIMITED) and _plain(figure) and not for_another(work, k)
        unit = in_workshop(figure).unit if near else None
        return None if unit == "deg" else unit  # "opens at 88 degrees, spec 86 to 90": the test tells which degrees
    return None


def _a_condition(work: Work, figure: Figure) -> bool:
    """Whether a number says at what speed, or after how long, the one before it was read."""
    before = work.toks[figure.first - 1].low if figure.first else ""
    speed = figure.quantity.unit in {None, "{rev}/min"} and (figure.quantity.value or 0.0) >= _NO_IDLE
    return (before in {"at", "@"} and speed) or kind_of(figure.quantity) == "time"


_NO_IDLE = 400


def for_another(work: Work, k: int) -> bool:
    """Whether the limit's own test is named behind it: "nought point six to one for the primary"."""
    last, toks = work.figures[k].last, work.toks
    return last < len(toks) and toks[last].low in {"for", "on"} and bool(work.tests.within(last, last + 4))


def _earlier(work: Work, k: int, *, applied: bool = False) -> Iterator[int]:
    """The readings and limits before figure `k`, nearest first; with `applied` a pressure put on for a test as well."""
    for j in range(k - 1, max(-1, k - 1 - _BEFORE), -1):
        if work.roles[j].label != NEITHER or (applied and kind_of(in_workshop(work.figures[j])) == "pressure"):
            yield j


def _name_before(work: Work, figure: Figure) -> str | None:
    """The measure named right before a figure, as said: "gap", "float height"."""
    first = _before_taken_back(work, figure)
    if first > 0 and work.toks[first - 1].low in _DRAWS:
        return "draw"
    said = first
    while first > 0 and said - first < _NAMED and work.toks[first - 1].low in _LINKS:
        first -= 1
    word = without_s(work.toks[first - 1].low) if first else ""
    if word in cue_book().measures:
        return word
    names = work.tests.within(max(0, figure.first - _NAMED - 2), figure.first)
    close = [name for name in names if figure.first - _NAMED <= name.last <= figure.first]
    if not close:
        return None
    return " ".join(tok.low for tok in work.toks[close[-1].first : close[-1].last])


_DRAWS = frozenset("pulls draws pulling drawing drew pulled takes taking".split())
_FILLERS = frozenset(", um er uh no sorry".split())


def _before_taken_back(work: Work, figure: Figure) -> int:
    """The word that a figure's name stands before: the first one said, where that was taken back: "gap is, um, two, no, 1.9"."""
    k = bisect_left(work.figures.firsts, figure.first)
    if not k or "taken back" not in work.roles[k - 1].reasons:
        return figure.first
    first = work.figures[k - 1].first
    while first > 0 and work.toks[first - 1].low in _FILLERS:
        first -= 1
    return first


def _of_name(work: Work, k: int) -> str | None:
    name = _name_before(work, work.figures[k])
    if name is None:
        return None
    for j in _earlier(work, k):
        unit = in_workshop(work.figures[j]).unit
        if unit is not None and _name_before(work, work.figures[j]) == name:
            return unit if alike(work.figures[k], work.figures[j], _NAMESAKES) else None
    return None


def _of_pair(work: Work, k: int) -> str | None:
    """The unit at the same place of an earlier pair of readings with two units, if both values lie near that pair's."""
    readings = [j for j in range(max(0, k - _BEFORE), min(len(work.figures), k + 3)) if work.roles[j].label == READING]
    at = readings.index(k)
    for place in (0, 1):
        first = at - place
        if first < 0 or first + 1 >= len(readings):
            continue
        one, two = (work.figures[readings[first]], work.figures[readings[first + 1]])
        bare = in_workshop(one).unit is None and in_workshop(two).unit is None
        if not 0 < two.first - one.last <= (_TIGHT if bare else _PAIRED):
            continue
        for other in range(first - 2, -1, -1):
            a, b = work.figures[readings[other]], work.figures[readings[other + 1]]
            if _other_part(work, a, one):
                continue
            said_both = in_workshop(a).unit is not None and in_workshop(b).unit is not None
            if not said_both or b.first - a.last > _PAIRED or not (alike(one, a, _ALIKE) and alike(two, b, _ALIKE)):
                continue
            units = [in_workshop(one).unit or in_workshop(a).unit, in_workshop(two).unit or in_workshop(b).unit]
            said = in_workshop((a, b)[place]).unit
            agrees = all(
                in_workshop(new).unit in {None, in_workshop(old).unit} or in_workshop(old).unit is None
                for new, old in ((one, a), (two, b))
            )
            if agrees and units[0] != units[1] and None not in units and said is not None:
                return units[place]
    return None


def _other_part(work: Work, before: Figure, figure: Figure) -> bool:
    """Whether the sentences of two numbers each name parts, and none in common."""
    layout = work.scene.layout

    def named(one: Figure) -> set[str | None]:
        start = layout.sentences[layout.sentence_of[one.first]][0]
        return {part.id for part in work.parts.within(start, one.first)}

    theirs, own = named(before), named(figure)
    return bool(theirs) and bool(own) and theirs.isdisjoint(own)


def _of_value(work: Work, k: int) -> str | None:
    value = work.figures[k].quantity.value
    if value is None:
        return None
    telling = len(f"{value:g}".replace(".", "").strip("0")) > 1
    for j in _earlier(work, k):
        quantity = in_workshop(work.figures[j])
        if quantity.unit is None:
            continue
        if quantity.value == value:
            return quantity.unit
        if not telling:
            return None  # "0.9 ohm ... 1.2 mm ... 0.9" may be either
    return None
