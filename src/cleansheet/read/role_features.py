"""A number described for the scorer of roles: the cues around it, what stands beside it, its unit, the names near it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .cues import cue_book
from .parts import OTHER
from .role_beside import (
    like_a_speed,
)
from .role_rules import in_workshop, kind_of
from .words import NUM, SIGN, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.terms import Quantity

    from .cues import Cue
    from .places import Place
    from .quantities import Figure
    from .row import Row
    from .scene import Scene
    from .testnames import TestName

_IN_MIND = 40  # words back in which a cue of an earlier sentence still counts
_VERB_BEFORE = 8  # words back to the verb that the number goes with
_APPLIED = 3  # words between what is put on and how much
_TESTED = 8  # and where "at" says that it is how much
_SWUNG = 2  # words between what swings and the range that it swings through
_DETERMINERS = frozenset(["a", "an", "the", "my", "our", "his", "her", "that", "this", "new", "old", "another", "each"])


def figure_features(
    scene: Scene,
    figures: Sequence[Figure],
    k: int,
    names: Row[TestName],
    listed: dict[int, int],
    before_role: str,
    words_at: list[str],
) -> list[str]:
    """The features of figure `k`; `before_role` is what the figure before it was taken for, "" where that is still open.

    `words_at` holds each word of the note with parts as PART and figures as #, made once for the note.
    """
    toks, layout = scene.toks, scene.layout
    figure = figures[k]
    quantity = in_workshop(figure)
    first, last = figure.first, figure.last
    sentence = layout.sentence_of[first]
    start = layout.sentences[sentence][0]
    stop = layout.sentences[sentence][1]
    kind = kind_of(quantity)
    features = [
        f"u={quantity.unit}",
        f"k={kind}",
        f"form={'words' if figure.form == 'spelt' and figure.unit_start is not None else figure.form}",
        *([f"role<{before_role}"] if before_role else []),
    ]
    if quantity.is_range:
        features.append(f"range:{kind != 'none'}")
    if quantity.comparator != "=":
        features.append(f"cmp{quantity.comparator}")
    if quantity.approximate:
        features.append("about")
    if kind == "none":
        features.append(_bucket(quantity, any(tok.low == "point" or "." in tok.text for tok in toks[first:last])))
        if like_a_speed(quantity):
            features.append("v=speed")
    _neighbours(features, words_at, toks, first, last, start, stop, kind)
    previous = figures[k - 1] if k else None
    following = figures[k + 1] if k + 1 < len(figures) else None
    near_start = max(start, previous.last if previous is not None else 0)
    near_stop = min(stop, following.first if following is not None else stop)
    _limits(
        features, toks, scene.cues, first, last, near_start, near_stop, start, kind, previous.first if previous else 0
    )
    _around(features, scene.cues, figures, k, first, last, start, stop, toks)
    if previous is not None and layout.sentence_of[previous.first] == sentence:
        _pairing(features, toks, previous, figure, kind)
    else:
        features.append("opens")
    if following is not None and layout.sentence_of[following.first] == sentence:
        gap = following.first - last
        features.append(f"next:{min(gap, 6)}:{kind_of(following.quantity) == kind}")
    if first in listed:
        features.append("listed")
    _named(features, scene, names, first, last, near_start, near_stop, start)
    if layout.pieces[layout.piece_of[first]].asked:
        features.append("asked")
    if kind == "none" and first > start and toks[first - 1].text[:1].isupper() and first - 1 > start:
        features.append("cap<")  # "the Hartle 2.2"
    if kind == "pressure" and last < len(toks) and toks[last].low in _PUT_ON:
        features.append(f"put-on>{_then_falls(figures, k, toks)}")
    if sentence == 0:
        features.append("s0")
    if scene.layout.unpunctuated:
        features.append("flat")
    return features


def _bucket(quantity: Quantity, decimals: bool) -> str:
    number = quantity.number
    if number is None:
        return "v=none"
    whole = not decimals and number == int(number) if abs(number) < 1e15 else True
    if not whole:
        return "v=decimal"
    size = abs(number)
    if number < 0:
        return "v=minus"
    if number == 0:
        return "v=zero"
    return "v=tiny" if size <= 12 else "v=tens" if size < 100 else "v=hundreds" if size < 1000 else "v=thousands"


def _neighbours(
    features: list[str],
    words_at: list[str],
    toks: Sequence[Tok],
    first: int,
    last: int,
    start: int,
    stop: int,
    kind: str,
) -> None:
    has_unit = kind != "none"
    before = [words_at[i] for i in range(max(start, first - 3), first)]
    after = [words_at[i] for i in range(last, min(stop, last + 3))]
    one = before[-1] if before else "<"
    two = before[-2] if len(before) > 1 else "<"
    three = before[-3] if len(before) > 2 else "<"
    a_one = after[0] if after else ">"
    a_two = after[1] if len(after) > 1 else ">"
    features += [
        f"-1={one}",
        f"-2={two}",
        f"-3={three}",
        f"-21={two}_{one}",
        f"-321={three}_{two}_{one}",
        f"+1={a_one}",
        f"+2={a_two}",
        f"+12={a_one}_{a_two}",
        f"-1+1={one}_{a_one}",
        f"-1u={one}_{has_unit}",
        f"+1u={a_one}_{has_unit}",
        f"-1k={one}_{kind}",
    ]
    if one in {"(", "["}:
        features.append("bracket")
        if a_one in {")", "]"}:
            features.append(f"bracketed:{kind}")
    if toks[first].line:
        features.append("line")
    _moved(features, before, after)
    verbs = cue_book()
    for i in range(first - 1, max(start, first - _VERB_BEFORE) - 1, -1):
        low = toks[i].low
        if low in verbs.verbs:
            features += [f"verb<{low}", "past<" if low in verbs.past else "base<"]
            break
    if first > start and toks[first].glued and toks[first - 1].kind == SIGN:
        features.append(f"glued{toks[first - 1].low}")


_FALLS = frozenset("dropped drops drop fell falls falling down lost loses sank sinks settled came bled".split())
_LEFT = frozenset(
    "set sets setting adjusted adjust closed opened turned wound tightened torqued tensioned reset gapped pumped took taken".split()
)
_NEVER_PAST = frozenset(["never", "not", "wouldn't", "didn't", "won't", "couldn't", "hardly"])


def _moved(features: list[str], before: list[str], after: list[str]) -> None:
    """What the number moved to, was put to, or never passed: "dropped to 6", "closed up to .65", "never above 66"."""
    if not _FALLS.isdisjoint(before):
        features.append("fell<")
    if not _FALLS.isdisjoint(after):
        features.append("fell>")
    if not _LEFT.isdisjoint(before):
        features.append("left<")
    if not _NEVER_PAST.isdisjoint(before) and not {"above", "over", "past", "below", "under", "beyond"}.isdisjoint(
        before
    ):
        features.append("never-past<")


def _done_since(toks: Sequence[Tok], first: int, last: int) -> bool:
    """Whether a deed was told between two words: what follows is what it was left at."""
    past = cue_book().past
    said = [tok.low for tok in toks[first:last]]
    return "so" in said and any(low in past or low in _WENT for low in said[said.index("so") :])


_OF_THE_LAST = 3  # words from a limit's cue to the number before, where that one has it
_WENT = frozenset({"went", "did", "came"})
_LIKENESS = frozenset([("as", "a"), ("like", "a")])


def _limits(
    features: list[str],
    toks: Sequence[Tok],
    cues: Row[Cue],
    first: int,
    last: int,
    near_start: int,
    near_stop: int,
    start: int,
    kind: str,
    near_first: int,
) -> None:
    nearest = swung = None
    heads = {cue.first for cue in cues.within(last, near_stop) if cue.family == "limit_before"}
    for cue in cues.within(start, near_stop):
        if cue.family == "limit_before" and near_start <= cue.first and cue.last <= first:
            if cue.first == near_start and cue.last < first and cue.comparator and near_start > start:
                continue  # "wants .8 min. 812 ohm": the bound of the number before
            if cue.first >= 2 and (toks[cue.first - 2].low, toks[cue.first - 1].low) in _LIKENESS:
                continue  # "white as a sheet"
            if _done_since(toks, cue.last, first):
                continue  # "the sheet is more than that, so went round them again at 160"
            nearest = cue
        elif cue.family == "swing" and first - _SWUNG <= cue.last <= first:
            swung = cue
        elif cue.family == "limit_before" and start <= cue.first < near_start and cue.last <= first:
            if not _done_since(toks, cue.last, first):
                features.append("limit<<" if near_first - cue.last <= _OF_THE_LAST else "limit<<far")
        elif cue.family == "limit_after" and last <= cue.first <= last + 3 and cue.first < near_stop:
            if cue.first in heads and cue.first > last:
                continue  # "24.0 offside, book minimum 22": of the number after it
            features += ["limit>", f"limit>{cue.comparator}", f"limit>{cue.first - last}"]
    if nearest is not None and (swung is None or nearest.last > swung.last):
        features += [
            "limit<",
            f"limit<{min(first - nearest.last, 5)}",
            f"limit<{nearest.comparator}",
            f"limit<:{kind != 'none'}",
        ]


def _around(
    features: list[str],
    cues: Row[Cue],
    figures: Sequence[Figure],
    k: int,
    first: int,
    last: int,
    start: int,
    stop: int,
    toks: Sequence[Tok],
) -> None:
    following = figures[k + 1] if k + 1 < len(figures) else None
    reach = following.first if following is not None else min(len(toks), last + 10)
    previous_last = figures[k - 1].last if k else 0
    for cue in cues.within(max(0, min(start, first - _IN_MIND)), max(stop, reach) + 1):
        family = cue.family
        if family in {"hearsay", "hypothesis"} and start <= cue.first < first:
            features += [family, f"{family}:{min((first - cue.first) // 4, 3)}"]
            if any(cue.last <= fig.first < first for fig in figures[max(0, k - 4) : k]):
                features.append(f"{family}~")
        elif family == "instrument" and max(start, first - 6) <= cue.first < first:
            features.append("instrument")
        elif family == "correction":
            if last <= cue.first < reach and following is not None and following.first - last <= 14:
                features.append("taken-back")
                if (
                    kind_of(following.quantity) in {kind_of(figures[k].quantity), "none"}
                    or kind_of(figures[k].quantity) == "none"
                ):
                    features.append("taken-back+")
                if cue.first - last <= 2:
                    features.append("taken-back!")
            elif previous_last <= cue.first < first:
                features.append("instead")
        elif family == "forget" and last <= cue.first < last + 12:
            features.append("forget")
        elif family == "sized" and cue.first == last:
            features.append("sized")
            if first > start and toks[first - 1].low in _DETERMINERS:
                features.append("sized!")
        elif (
            family == "applied"
            and max(start, previous_last) <= cue.first
            and (
                first - _APPLIED <= cue.last <= first
                or (first - _TESTED <= cue.last <= first and toks[first - 1].low in {"at", "to"})
            )
        ):
            features += ["applied", f"applied:{_then_falls(figures, k, toks)}"]
        elif family == "swing" and first - _SWUNG <= cue.last <= first:
            features += ["swing", f"swing:{figures[k].quantity.is_range}"]
        elif family == "second" and previous_last <= cue.first < first and first - cue.last <= 1:
            features.append("second")


_PUT_ON = frozenset({"applied", "on", "in", "put"})
_STOOD = frozenset(
    "dropped drops drop fell falls lost loses later still held holds stood stayed sank down after left remaining showing".split()
)


def _then_falls(figures: Sequence[Figure], k: int, toks: Sequence[Tok]) -> bool:
    """Whether a figure of the same kind follows that says what became of this one: "18 inHg, 10 min later 17.5"."""
    kind = kind_of(figures[k].quantity)
    for other in figures[k + 1 : k + 3]:
        if other.first - figures[k].last > _SOON:
            return False
        if kind_of(other.quantity) in {kind, "none"} and not _STOOD.isdisjoint(
            tok.low for tok in toks[figures[k].last : other.first]
        ):
            return True
    return False


_SOON = 14


def _pairing(features: list[str], toks: Sequence[Tok], previous: Figure, figure: Figure, kind: str) -> None:
    gap = [tok.low if tok.kind != NUM else "#" for tok in toks[previous.last : figure.first]]
    before_kind = kind_of(previous.quantity)
    same = before_kind == kind
    same_unit = previous.quantity.unit == figure.quantity.unit
    features += [f"gap={min(len(gap), 6)}", f"pair:{before_kind == kind}:{same_unit}", f"kinds={before_kind}>{kind}"]
    if len(gap) <= 3:
        features.append(f"gap:{'_'.join(gap)}:{same}:{same_unit}")
    if figure.same_as_previous:
        features.append("again")
    if same and not same_unit and kind != "none" and len(gap) <= 5:
        features.append("two-units")
    if previous.quantity.is_range:
        features.append("after-range")
    if figure.quantity.is_range:
        features.append(f"range-after:{same}:{min(len(gap), 4)}")


def _named(
    features: list[str],
    scene: Scene,
    names: Row[TestName],
    first: int,
    last: int,
    near_start: int,
    near_stop: int,
    start: int,
) -> None:
    part_near = test_near = False
    for part in scene.parts.within(near_start, near_stop):
        if part.last <= first:
            part_near = True
            features.append("other<" if part.how == OTHER else "part<")
        elif part.first == last:
            features.append("part>")
            if first > start and scene.toks[first - 1].low in _DETERMINERS:
                features.append("sized-part")
    for name in names.within(near_start, near_stop):
        if name.last <= first:
            test_near = True
        elif last <= name.first <= last + 2:
            features.append("test>")
    features.append(f"named={part_near}{test_near}")


def normal_words(toks: Sequence[Tok], scene: Scene, figures: Sequence[Figure], places: Sequence[Place]) -> list[str]:
    """Each word of the note as the features see it: PART, OTHER, # for a figure, @ for a place, else the word."""
    out = [tok.low if tok.kind != NUM else "#" for tok in toks]
    for part in scene.parts:
        for i in range(part.first, part.last):
            out[i] = "OTHER" if part.how == OTHER else "PART"
    for place in places:
        for i in range(place.first, place.last):
            out[i] = "PLACE"
    for figure in figures:
        for i in range(figure.first, figure.last):
            out[i] = "#"
    return out
