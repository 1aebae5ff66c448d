"""Where and when a number was read: its place among several, and what held while measuring."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .conditions import ELAPSED, SPEED, TEMPERATURE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .conditions import Said
    from .places import Place
    from .quantities import Figure
    from .words import Tok
    from .work import Work

_FRONT, _REAR = frozenset({"front", "fronts"}), frozenset({"rear", "rears", "back"})


def position_of(work: Work, figure: Figure, low_edge: int, high_edge: int, *, carried: bool) -> tuple[str | None, str]:
    """The place that a figure is said of: before it in its statement, linked after it, or before in its sentence."""
    layout, toks = work.scene.layout, work.toks
    sentence = layout.sentence_of[figure.first]
    best: Place | None = placed_after(work, figure) if carried else None
    if best is not None:
        return best.value, f"position {best.value}: {_said(toks, best)!r}"
    piece = layout.piece_of[figure.first]
    for place in work.places.within(low_edge, high_edge):
        if place.kind == "axle" or place.value is None:
            continue
        if (low_edge <= place.first and place.last <= figure.first) or (
            (best is None or layout.piece_of[best.first] != piece)
            and _follows(toks, figure, place)
            and not (toks[place.first].line or work.figures.within(place.last, place.last + 2))
        ):
            best = place
    if not carried and best is not None and layout.piece_of[best.first] != piece:
        best = None  # a limit holds for all, unless its own statement says a place
    if best is None and carried:
        best = all_of_them(work, figure.last, sentence) or carried_place(work, figure.first, low_edge, sentence)
    if best is None:
        return None, ""
    return best.value, f"position {best.value}: {_said(toks, best)!r}"


def _said(toks: Sequence[Tok], place: Place) -> str:
    return " ".join(tok.low for tok in toks[place.first : place.last])


def placed_after(work: Work, figure: Figure) -> Place | None:
    """The place right after a figure, in a run that says each place after its value: "3.1 rear left and 2.7 rear right".

    The run's first value has no place before it, and its last one has a place after it.
    """
    own = _right_after(work, figure)
    if own is None:
        return None
    layout = work.scene.layout
    sentence = layout.sentence_of[figure.first]
    place, ends = own, True
    for _ in range(_LONGEST_RUN):  # to the end of the run: a place that a value follows may be that value's
        following = work.readings(place.last, place.last + 2)
        if not following or layout.sentence_of[following[0].first] != sentence:
            break
        after = _right_after(work, following[0])
        if after is None:
            ends = False  # the last value's place may come first: "number one 4.1, number two 4.2"
            break
        place = after
    at = figure
    for _ in range(_LONGEST_RUN):  # and back to its beginning
        start = layout.sentences[sentence][0]
        before = work.readings(max(start, at.first - _RUN_GAP), at.first)
        if not before:
            held = work.places.within(max(start, at.first - _RUN_GAP), at.first)
            return own if all(one.kind in {"axle", "all"} for one in held) else None
        after = _right_after(work, before[-1])
        between = [one for one in work.places.within(before[-1].last, at.first) if one.kind != "axle"]
        if not between and after is None:
            return own if ends else None
        if after is None or len(between) != 1 or between[0] is not after:
            return None
        at = before[-1]
    return None


_LONGEST_RUN, _RUN_GAP = 12, 10


def _right_after(work: Work, figure: Figure) -> Place | None:
    last = _past_brackets(work, figure.last)
    place = next(iter(work.places.within(last, last + 3)), None)
    if place is None or place.value is None or place.kind == "axle" or not _linked(work.toks, last, place):
        return None
    if any(work.toks[i].line for i in range(last, place.first + 1)):
        return None  # the next line's own
    return place


def _follows(toks: Sequence[Tok], figure: Figure, place: Place) -> bool:
    return figure.last <= place.first and _linked(toks, figure.last, place)


def _linked(toks: Sequence[Tok], last: int, place: Place) -> bool:
    gap = [tok.low for tok in toks[last : place.first]]
    if gap in (["across"], ["right"]):
        return place.last - place.first > 1  # "0.85 across all four", but not "0.55 V across each diode"
    if len(gap) == 2 and gap[0] in _LINKS and gap[1] in _SEVERAL_OF:
        return True  # "24 mm on carb one", but not "11 k, coil number two"
    return len(gap) <= 2 and all(low in _LINKS for low in gap)


_LINKS = frozenset("on at for in of the from out off".split())
_SEVERAL_OF = frozenset("carb coil plug cylinder cyl pot lead injector cell".split())
_IN_BRACKETS = 6  # words of a second unit in brackets


def _past_brackets(work: Work, last: int) -> int:
    """The word after the same value in another unit in brackets: "3.2 bar (46 psi) all round"."""
    toks = work.toks
    if last >= len(toks) or toks[last].low != "(" or not work.figures.within(last + 1, last + 2):
        return last
    return next((i + 1 for i in range(last, min(last + _IN_BRACKETS, len(toks))) if toks[i].low == ")"), last)


def all_of_them(work: Work, last: int, sentence: int) -> Place | None:
    """ "All" said after a comma at a sentence's end: "fifteen and a half ohms, all four", "chalky white, all of them"."""
    place = next(iter(work.places.within(last, last + 2)), None)
    if place is None or place.kind != "all" or [tok.low for tok in work.toks[last : place.first]] != [","]:
        return None
    ends = place.last >= len(work.toks) or work.toks[place.last].low in {".", ",", ";", "!"}
    stays = work.scene.layout.sentence_of[place.first] == sentence
    return place if ends and stays and not work.readings(place.last, place.last + 2) else None


_AT_ONE_WHEEL = frozenset({"brake-disc", "brake-pad", "brake-drum", "wheel-bearing", "tyre"})


def carried_place(work: Work, first: int, low_edge: int, sentence: int) -> Place | None:
    """A place said earlier in the sentence stays, until another part is named after it."""
    held: Place | None = None
    for place in work.places.within(work.scene.layout.sentences[sentence][0], first):
        if place.kind != "axle":
            held = place
    if held is None or held.value is None:
        return None
    if held.kind in {"all", "side", "port"}:
        return None
    figures_between = work.readings(held.last, min(low_edge, first))
    if _heads_line(work, held, first):
        return held
    if held.kind == "cylinder" and figures_between and _begins_list(work, held, first):
        return None
    if held.kind == "corner" and figures_between:
        anew = work.parts.within(figures_between[-1].last, first)  # "nearside disc 16.2 mm and the pad is at 2.5"
        one = bool(anew) and anew[-1].id in _AT_ONE_WHEEL and not work.toks[anew[-1].last - 1].low.endswith("s")
        return held if one and len(figures_between) == 1 else None
    named = work.parts.within(held.last + 1, first)
    if named and figures_between:
        # "cylinder 2 148 psi, leak-down 9 %": measured on the same one
        same = held.kind == "cylinder" and held.last - held.first > 1 and all(part.id == "cylinder" for part in named)
        return held if same and len(figures_between) == 1 else None
    return held


def _begins_list(work: Work, held: Place, first: int) -> bool:
    """Whether a number begins a list that places by order, after one by number: "primaries 1 4.1, 2 4.0 ohm, secondaries 12.3
    and 11.9 k".
    """
    toks, places = work.toks, work.places.within(max(0, held.first - _LONGEST_RUN), held.first)
    listed = any(place.kind == "cylinder" and place.value != held.value for place in places)
    if not listed or not work.readings(held.last, held.last + 1) or work.places.within(held.last, first):
        return False
    own = work.readings(first, first + 1)
    following = work.readings(own[0].last + 1, own[0].last + 2) if own else []
    return bool(following) and toks[own[0].last].low in {",", "and", "&", "/"}


def _heads_line(work: Work, held: Place, first: int) -> bool:
    """Whether a place begins the line that the word `first` stands in, as the head of a table's row: "NSF | tyre 3.2 | tread 7"."""
    toks = work.toks
    if not toks[held.first].line or any(toks[i].line for i in range(held.first + 1, first + 1)):
        return False
    return held.kind == "cylinder" or (held.last < len(toks) and toks[held.last].low in {"|", "/", ":"})


def axle_said(context: Sequence[str], wider: Sequence[str]) -> str | None:
    """The axle named in the statement, or else in the sentence, if one alone."""
    for words in (context, wider):
        front, rear = bool(_FRONT.intersection(words)), bool(_REAR.intersection(words))
        if front != rear:
            return "front" if front else "rear"
    return None


def condition_of(
    work: Work, figure: Figure, low_edge: int, high_edge: int, start: int, *, limit: bool = False
) -> dict[str, str | float]:
    """What held: conditions of the statement win over those said earlier in the sentence."""
    out: dict[str, str | float] = {}
    held: dict[str, int] = {}
    passed = -1
    speed: str | float | None = None  # where the speed of an earlier reading was said, and what it was
    layout = work.scene.layout
    for said in work.said.within(start, high_edge):
        if said.first == figure.first:
            continue
        if (
            said.last <= figure.first
            or layout.piece_of[said.first] == layout.piece_of[figure.first]
            or said.first - figure.last <= 2
        ):
            if (
                said.key in {SPEED, TEMPERATURE, ELAPSED}
                and said.last <= low_edge
                and said.first < low_edge
                and _used(work, said, low_edge)
            ):
                if said.key == SPEED:
                    passed, speed = said.first, said.value
                continue
            if (
                said.first >= low_edge > start
                and layout.piece_of[said.first] == layout.piece_of[low_edge - 1] != layout.piece_of[figure.first]
            ):
                if limit and said.key == SPEED:
                    passed, speed = said.first, said.value
                continue  # it stands in the statement of the reading before
            if said.first >= figure.last and _of_the_next(work, figure, said, out):
                continue
            out[said.key] = said.value
            held[said.key] = said.first
    if out.get("engine") == "idle" and held["engine"] < max(passed, low_edge if SPEED in out else -1):
        del out["engine"]
        if limit and speed is not None:
            # "0.8 bar idle, 3.9 at 3000, spec 3 to 5": the idle was the other reading's, the speed is the last one's
            out[SPEED] = speed
    return out


def _of_the_next(work: Work, figure: Figure, said: Said, held: dict[str, str | float]) -> bool:
    """Whether a condition said after a figure is the next one's: "static 2.95 bar, idle 2.4", "2.4 bar, hose off 2.9"."""
    toks = work.toks
    following = work.readings(said.last, said.last + _NEXT)
    if (
        not following
        or work.scene.layout.sentence_of[following[0].first] != work.scene.layout.sentence_of[figure.first]
    ):
        return False
    between = {toks[i].low for i in range(said.last, following[0].first)}
    if between & _CHANGES or (not between and said.first - figure.last <= 1):
        return True  # "battery 12.1 volts engine running 14.2 volts"
    parted = any(
        toks[i].low in {",", ";", "/", "|", "and", "then"} or toks[i].line for i in range(figure.last, said.first)
    )
    if said.key == ELAPSED and parted and following[0].first - said.last <= _CLOSE:
        return True  # "at idle 2.4 bar, and ten minutes after stopping, 2.1"
    if between & {",", ";", "/", "|"}:
        return False
    return said.key in held or (parted and bool(held))


_CLOSE = 4  # words from a time to the figure that it leads to
_NEXT = 8  # words from a condition to the figure it is said of
_CHANGES = frozenset(
    "rises rise rose lifts lifted jumps jumped climbs climbed goes went up gains falls fell drops dropped down".split()
)


def _used(work: Work, said: Said, low_edge: int) -> bool:
    """A speed or a time said before an earlier reading belongs to that reading."""
    return bool(work.readings(said.first + 1, low_edge))
