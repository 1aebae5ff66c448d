"""The role of a number that the ones beside it settle: a speed or a warmth, one of several limits, a value told again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .role_rules import DRIVEN, EXPECTED, in_workshop, kind_of, two_before

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from cleansheet.terms import Quantity

    from .quantities import Figure
    from .scene import Scene
    from .words import Tok

PARTED_BY = frozenset({",", "/", "|", "and", "&"})


def like_a_speed(quantity: Quantity) -> bool:
    """Whether a bare number is round like an engine speed: 1500, 3000, but not 1240."""
    number = quantity.value
    return number is not None and 500 <= number <= 9000 and number % 250 == 0


_STATED = 7  # words that say what was switched on
_NO_SPEED = 100  # what is read at a speed is a small number with decimals


def speed_of(figure: Figure, following: Figure, toks: Sequence[Tok]) -> bool:
    """Whether a number is the engine speed at which the next was read: "three thousand revs fourteen point one"."""
    if figure.quantity.unit not in {None, "{rev}/min"} or not like_a_speed(figure.quantity):
        return False
    value, gap = following.quantity.value, toks[figure.last : following.first]
    if value is None or value >= _NO_SPEED or value == int(value) or following.quantity.unit == "{rev}/min":
        return False
    opens = figure.first == 0 or toks[figure.first - 1].low in {".", ",", ";", "and"} or toks[figure.first].line
    if opens and figure.quantity.unit == "{rev}/min" and (figure.quantity.value or 0.0) >= DRIVEN:
        low = [tok.low for tok in gap]  # "three thousand revs with the lamp on, thirteen point nine"
        return len(low) <= _STATED and bool(low) and low[0] in {"with", "lights", "lamp", "all", ","} and "." not in low
    told = {tok.low for tok in gap} <= _HOT_OR_COLD | {","}  # "oil 3000 hot 4.1 bar"
    return len(gap) <= 2 and told and (figure.quantity.value or 0.0) >= DRIVEN


_HOT_OR_COLD = frozenset({"hot", "cold", "warm"})


def warmth_of(figure: Figure, following: Figure, toks: Sequence[Tok]) -> bool:
    """Whether a number is the temperature at which the next was read: "coolant sensor, twenty degrees, two and a half K"."""
    gap = toks[figure.last : following.first]
    value = figure.quantity.value
    if value is None:
        return False
    if figure.quantity.unit is None and figure.first and toks[figure.first - 1].low == "at" and _COLD <= value <= _HOT:
        told = {tok.low for tok in gap} <= {
            "it's",
            "its",
            "it",
            "is",
            "was",
            "reads",
            ",",
        }  # "hot at ninety it's 240 ohms"
        return 0 < len(gap) <= _TOLD_IN and told and kind_of(in_workshop(following)) == "resistance"
    if figure.quantity.unit not in {"Cel", "deg", "[degF]"}:
        return False
    return (
        len(gap) <= 1
        and all(tok.low in {",", ":", "="} for tok in gap)
        and kind_of(in_workshop(following)) == "resistance"
    )


_COLD, _HOT, _TOLD_IN = -40, 130, 3


_STARTS = frozenset({"started", "starting", "beginning", "began"})
_PUMPED = frozenset("pumped pressurised pressurized pressured charged".split())


def came_from(scene: Scene, figures: Sequence[Figure], k: int) -> str | None:
    """Why a number is but where another began, or at what several were read: "17 after five minutes, started from 20",
    "IAT 2.1 k, ECT 2.2 k, all at 22 C", "pumped it up to one bar and after ten minutes it shows 0.85"; None elsewhere.
    """
    toks, figure = scene.toks, figures[k]
    before = toks[figure.first - 1].low if figure.first else ""
    two = two_before(toks, figure)
    if before in {"from", "with"} and two in _STARTS and k:
        return "where it started from"
    warm = before == "at" and two == "all" and figure.quantity.unit in {"Cel", "deg", "[degF]"}
    if k and warm and kind_of(in_workshop(figures[k - 1])) == "resistance":
        return "the temperature that they were read at"
    if before == "to" and kind_of(in_workshop(figure)) == "pressure" and k + 2 < len(figures):
        pumped = any(tok.low in _PUMPED for tok in toks[max(0, figure.first - _PUMPED_IN) : figure.first])
        waited = kind_of(figures[k + 1].quantity) == "time" and figures[k + 1].first - figure.last <= _WAITED_IN
        same = kind_of(in_workshop(figures[k + 2])) in {"pressure", "none"}
        if pumped and waited and same and figures[k + 2].first - figures[k + 1].last <= _WAITED_IN:
            return "put on for a test"
    return None


_PUMPED_IN, _WAITED_IN = 6, 6
_BLOWN = frozenset("pumped blew blown inflated aired topped".split())
_TYRES = frozenset({"tyre"})
_SENTENCE_BACK = 40  # words back to the tyres


def blown_up_to(scene: Scene, figures: Sequence[Figure], k: int) -> bool:
    """Whether a pressure is what a tyre was left at: "tyres 1.8 bar ... pumped them to 2.1 bar"."""
    toks, figure = scene.toks, figures[k]
    if (
        not figure.first
        or toks[figure.first - 1].low != "to"
        or kind_of(in_workshop(figure)) not in {"pressure", "none"}
    ):
        return False
    back = toks[max(0, figure.first - _PUMPED_IN) : figure.first]
    if not any(tok.low in _BLOWN for tok in back) or figure.quantity.value is None:
        return False
    named = scene.parts.within(max(0, figure.first - _SENTENCE_BACK), figure.first)
    return bool(named) and named[-1].id in _TYRES


def or_less(scene: Scene, figure: Figure) -> bool:
    """Whether a bound stands right behind the number: "point two or less", "two hundred and thirty or better"."""
    toks = scene.toks
    return any(
        cue.family == "limit_after" and cue.comparator and cue.first == figure.last and toks[cue.first].low == "or"
        for cue in scene.cues.within(figure.last, figure.last + 1)
    )


_ANNOUNCED = 8  # words from "limits" to its colon
_SEVERAL = frozenset({"limits", "specs", "figures", "maximums", "minimums", "tolerances"})
_IS = frozenset({"are", "being", ":", "of", "were", "is"})


def limit_of_several(scene: Scene, figures: Sequence[Figure], k: int, figure: Figure, held: Mapping[int, str]) -> bool:
    """Whether a number is one of the limits that a plural announces: "limits 3.5 and 1200", "figures are 2 to 3 and 12 to 16"."""
    toks = scene.toks
    if k and held.get(k - 1) == EXPECTED:
        gap = toks[figures[k - 1].last : figure.first]
        if 0 < len(gap) <= 2 and all(tok.low in PARTED_BY for tok in gap):
            return True
    at = figure.first - 1
    if at > 0 and toks[at].low == ":":
        said = [tok.low for tok in toks[max(0, at - _ANNOUNCED) : at]]
        if "limits" in said and "." not in said[said.index("limits") :]:
            return True  # "limits on the sheet from the test lane: 0.5, 200"
    if at > 0 and toks[at].low in _IS:
        at -= 1
    if at < 0 or toks[at].low not in _SEVERAL:
        return False
    if toks[at].low == "limits":
        return True
    return any(cue.family == "limit_before" and cue.first <= at < cue.last for cue in scene.cues.within(at - 1, at + 1))


_CAME_TO, _BACK = 4, 12  # words from the old value to the new one, figures back to where the old one was said


def said_again(figures: Sequence[Figure], k: int, toks: Sequence[Tok]) -> bool:
    """Whether a number only tells again what a reading was before: "0.17 mm ... cleaned it, went from 0.17 to 0.07"."""
    figure, following = figures[k], figures[k + 1]
    if not figure.first or toks[figure.first - 1].low not in {"from", "was"} or figure.quantity.value is None:
        return False
    gap = [tok.low for tok in toks[figure.last : following.first]]
    if not gap or len(gap) > _CAME_TO or gap[-1] not in {"to", "now"}:
        return False
    return any(
        other.quantity.value == figure.quantity.value
        and figure.quantity.unit in {None, other.quantity.unit}
        and other.quantity.unit != "min"
        for other in figures[max(0, k - _BACK) : k]
    )
