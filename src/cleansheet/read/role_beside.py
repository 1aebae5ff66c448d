"""The role of a number that the ones beside it settle: a speed or a warmth, one of several limits, a value told again."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .role_rules import in_workshop, kind_of

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from cleansheet.terms import Quantity

    from .quantities import Figure
    from .remarks import Scene
    from .words import Tok

PARTED_BY = frozenset({",", "/", "|", "and", "&"})


def like_a_speed(quantity: Quantity) -> bool:
    """Whether a bare number is round like an engine speed: 1500, 3000, but not 1240."""
    number = quantity.value
    return number is not None and 500 <= number <= 9000 and number % 250 == 0


_NO_SPEED = 100  # what is read at a speed is a small number with decimals
_DRIVEN = 1500  # and the speed none at which an engine idles


def speed_of(figure: Figure, following: Figure, toks: Sequence[Tok]) -> bool:
    """Whether a number is the engine speed at which the next was read: "three thousand revs fourteen point one"."""
    if figure.quantity.unit not in {None, "{rev}/min"} or not like_a_speed(figure.quantity):
        return False
    value, gap = following.quantity.value, toks[figure.last : following.first]
    if value is None or value >= _NO_SPEED or value == int(value) or following.quantity.unit == "{rev}/min":
        return False
    return len(gap) <= 1 and all(tok.low == "," for tok in gap) and (figure.quantity.value or 0.0) >= _DRIVEN


def warmth_of(figure: Figure, following: Figure, toks: Sequence[Tok]) -> bool:
    """Whether a number is the temperature at which the next was read: "coolant sensor, twenty degrees, two and a half K"."""
    if figure.quantity.unit not in {"Cel", "deg", "[degF]"} or figure.quantity.value is None:
        return False
    gap = toks[figure.last : following.first]
    return (
        len(gap) <= 1
        and all(tok.low in {",", ":", "="} for tok in gap)
        and kind_of(in_workshop(following)) == "resistance"
    )


def or_less(scene: Scene, figure: Figure) -> bool:
    """Whether a bound stands right behind the number: "point two or less", "two hundred and thirty or better"."""
    toks = scene.toks
    return any(
        cue.family == "limit_after" and cue.comparator and cue.first == figure.last and toks[cue.first].low == "or"
        for cue in scene.cues.within(figure.last, figure.last + 1)
    )


_SEVERAL = frozenset({"limits", "specs", "figures", "maximums", "minimums", "tolerances"})
_IS = frozenset({"are", "being", ":", "of", "were", "is"})


def limit_of_several(scene: Scene, figures: Sequence[Figure], k: int, figure: Figure, held: Mapping[int, str]) -> bool:
    """Whether a number is one of the limits that a plural announces: "limits 3.5 and 1200", "figures are 2 to 3 and 12 to 16"."""
    toks = scene.toks
    if k and held.get(k - 1) == "expected":
        gap = toks[figures[k - 1].last : figure.first]
        if 0 < len(gap) <= 2 and all(tok.low in PARTED_BY for tok in gap):
            return True
    at = figure.first - 1
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
