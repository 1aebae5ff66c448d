"""What makes a number a limit before the scorer is asked: a turn of speech that says so outright, what a part is stamped
with, what a plate, a sticker or a book says.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .role_rules import in_workshop, kind_of
from .words import NUM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .quantities import Figure
    from .scene import Scene
    from .words import Tok

_IS = frozenset({"is", "'s", "are", "would", "being", "as"})
BY_THE_BOOK = "so it says in writing, after it"
_BY = frozenset({"by", "per", "according", "going"})
_UPTO = frozenset({"up", "down"})
_FOUND_BAD = frozenset("scrap dead gone bad finished done out".split())
_ASKED = frozenset({"wanted", "required", "specified"})
_NEAR = 8  # words back to the reading that a limit goes with
_ALIKE = 4.0  # how far a stamped figure lies from what was read, as a factor


def sure_limit(scene: Scene, figures: Sequence[Figure], k: int) -> str | None:
    """Why figure `k` is a limit beyond doubt, or None: "never more than 1.5", "two is the most", "stamped 1.1 on top"."""
    figure = figures[k]
    if _supposed(scene, figure):
        return None
    return _by_cue(scene, figures, k) or _stamped(scene, figures, k) or _written(scene, figure)


def _supposed(scene: Scene, figure: Figure) -> bool:
    """Whether the number's statement supposes something, or its sentence has an "if" before it."""
    layout = scene.layout
    opens = layout.pieces[layout.piece_of[figure.first]].first
    if any(cue.family == "hypothesis" for cue in scene.cues.within(opens, figure.first)):
        return True
    start = layout.sentences[layout.sentence_of[figure.first]][0]
    return any(scene.toks[i].low == "if" for i in range(start, figure.first))


def _by_cue(scene: Scene, figures: Sequence[Figure], k: int) -> str | None:
    figure, toks = figures[k], scene.toks
    for cue in scene.cues.within(max(0, figure.first - _NEAR), figure.last + 1):
        if cue.family == "limit_before" and cue.comparator and cue.last == figure.first and cue.last - cue.first > 1:
            if toks[cue.last - 1].low != "at" and (toks[cue.last - 1].low != "to" or toks[cue.last - 2].low in _UPTO):
                return "a limit's words before it"
        elif cue.family == "limit_after" and cue.first == figure.last:
            ends = toks[cue.last - 1].low in _FOUND_BAD and figure.quantity.comparator == "="  # "so four is scrap"
            if cue.comparator and cue.last - cue.first > 1 and toks[cue.first].low in _IS and not ends:
                return "a limit's words after it"
            if toks[cue.first].low in _BY and cue.last - cue.first > 1:
                return BY_THE_BOOK
            if toks[cue.first].low in _ASKED and _beside(scene, figures, k) is not None:
                return "what is wanted"
    return None


def _beside(scene: Scene, figures: Sequence[Figure], k: int) -> Figure | None:
    """The figure before, where it stands in the same sentence and is of the same kind as far as units tell."""
    if not k:
        return None
    one, two = figures[k - 1], figures[k]
    if two.first - one.last > _NEAR or scene.layout.sentence_of[one.first] != scene.layout.sentence_of[two.first]:
        return None
    kinds = {kind_of(in_workshop(one)), kind_of(in_workshop(two))}
    return one if len(kinds) == 1 or "none" in kinds else None


_STAMPS = frozenset("stamped marked printed rated embossed etched engraved".split())
_STAMPED_KINDS = frozenset({"pressure", "temperature"})


def _stamped(scene: Scene, figures: Sequence[Figure], k: int) -> str | None:
    """What a cap or a thermostat is stamped with: "cap lets go at 0.9 bar, stamped 1.1 on top"; never a part's number."""
    toks, figure = scene.toks, figures[k]
    if figure.first == 0:
        return None
    at = figure.first - 1
    if toks[at].low in {"at", "as", "for", "with"}:
        at -= 1
    says = toks[at].low == "says" and _on_it(toks, figure.last)
    if toks[at].low not in _STAMPS and not says:
        return None
    one = _beside(scene, figures, k)
    if one is None and toks[at].low != "rated" and k + 1 < len(figures) and _beside(scene, figures, k + 1) is not None:
        one = figures[k + 1]  # "cap marked 1.1 bar, lets go at 0.9"
    if one is None or not (_STAMPED_KINDS & {kind_of(in_workshop(one)), kind_of(in_workshop(figure))} or says):
        return None
    a, b = in_workshop(one).number, in_workshop(figure).number
    if a is None or b is None or not a * b > 0 or not 1 / _ALIKE <= a / b <= _ALIKE:
        return None
    return "what the part is stamped with"


def _on_it(toks: Sequence[Tok], i: int) -> bool:
    return i + 1 < len(toks) and toks[i].low in {"on", "in"} and toks[i + 1].low in {"it", "top", "the", "its", "there"}


_SOURCES = frozenset(
    "plate sticker label card tag placard handbook manual book sheet chart booklet decal box packet maker makers factory".split()
)
_TELLS = frozenset("says say gives give has reads wants quotes states lists shows asks".split())
_FILLS = frozenset("for it as at about between from it's is".split())
_FAR = 10  # words from "the label" to "gives"
_STOPS = frozenset(",.;:!?()")
_SOMEONES = frozenset({"mine", "i", "it", "they", "he", "she", "we", "you"})


def _written(scene: Scene, figure: Figure) -> str | None:
    """What something in writing says: "the plate on the engine says ten to twelve", "label inside the panel gives 14 V"."""
    toks = scene.toks
    start = scene.layout.sentences[scene.layout.sentence_of[figure.first]][0]
    at = figure.first - 1
    while at > start and figure.first - at <= 3 and toks[at].low in _FILLS:
        at -= 1
    if at <= start or toks[at].low not in _TELLS:
        return None
    for i in range(at - 1, max(start, at - _FAR) - 1, -1):
        low = toks[i].low
        if low in _SOURCES:
            return "what is written down"
        if low in _STOPS or low in _SOMEONES or toks[i].kind == NUM:
            return None
    return None
