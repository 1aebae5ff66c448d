"""From all that was found in a note to its mentions: numbers and findings with what they are said of, and remarks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet.units import to_base
from cleansheet.terms import Evidence, Mention, Quantity

from .conditions import ELAPSED, SPEED, TEMPERATURE, Said, again_words, figure_condition
from .clauses import Piece
from .findings import Finding
from .focus import around
from .lists import heading_units
from .parts import OTHER, Part
from .places import Place, small
from .quantities import Figure
from .remarks import FINDING, NONE, REMARKS, Scene, head_of, word_features
from .scorer import scorer
from .roles import EXPECTED, NEITHER, READING, in_workshop, kind_of
from .words import NUM, SIGN, Tok

if TYPE_CHECKING:
    from spacy.tokens import Doc

    from .scorer import Choice

_LIST_TIES = frozenset({",", "/", "|", "and", "then", "&", "-", "—", "–", "·", ";", "+", "x"})
_TEMPERATURE_PARTS = frozenset({"coolant-temp-sensor", "head-temp-sensor", "air-temp-sensor", "thermo-time-switch"})
_DOUBTFUL = 0.5  # a recognised word below this probability is doubtful
_CLOSE = 2  # words between a name and its number that still count as close
_EDGE = frozenset(",:()[]–—|→•*-. ")


@dataclass(slots=True)
class _Work:
    """What all steps look at."""

    toks: Sequence[Tok]
    scene: Scene
    figures: Sequence[Figure]
    roles: Sequence[Choice]
    labels: Sequence[Choice]
    parts: Sequence[Part]
    tests: Sequence[Any]
    places: Sequence[Place]
    said: list[Said]
    starts_of_parts: list[int]
    starts_of_tests: list[int]
    headings: list[tuple[int, int, str]]


def assemble(doc: Doc) -> tuple[Mention, ...]:
    """The mentions of a note, in the order of its words."""
    own = doc._
    work = _Work(
        own.toks, own.scene, own.figures, own.roles, own.labels, own.parts, own.tests, own.places,
        list(own.conditions), [part.first for part in own.parts], [name.first for name in own.tests],
        heading_units(own.toks),
    )  # fmt: skip
    _add_figure_conditions(work)
    mentions = _numbers(work, own.lists)
    mentions += _findings(work)
    mentions += _remarks(work)
    mentions += [
        Mention("marking", code.start, code.end, component=_component_before(work, code.start), sentence=_sentence_at(work, code.start),
                why=(f"marking: {code.kind.replace('_', ' ')}{'; ' + code.fault if code.fault else ''}",),
                flags=("implausible",) if code.fault else (), confidence=0.9 if not code.said else 0.7)
        for code in own.markings
    ]  # fmt: skip
    mentions = _with_words(mentions, own.note)
    mentions.sort(key=lambda mention: (mention.start, mention.end))
    return tuple(mentions)


def _add_figure_conditions(work: _Work) -> None:
    wants = any(part.id in _TEMPERATURE_PARTS for part in work.parts)
    for figure, role in zip(work.figures, work.roles, strict=True):
        if role.label != NEITHER:
            continue
        said = figure_condition(work.toks, figure, wants)
        if said is not None:
            work.said.append(said)
    work.said.sort(key=lambda said: said.first)


# --- numbers


def _numbers(work: _Work, lists: dict[int, int]) -> list[Mention]:
    groups = _groups(work, lists)
    out: list[Mention] = []
    k = 0
    while k < len(work.figures):
        figure, role = work.figures[k], work.roles[k]
        if role.label == NEITHER:
            k += 1
            continue
        mention = _number(work, k, groups.get(k))
        second, skip = _second(work, k)
        if second is not None:
            mention = replace(mention, second=second)
        out.append(mention)
        k += 1 + skip
    return _same_elsewhere(work, _share_units(work, out))


def _same_elsewhere(work: _Work, mentions: list[Mention]) -> list[Mention]:
    """ "same on two through six": the reading before it once more, at another place."""
    toks = work.toks
    out = list(mentions)
    for place in work.places:
        if place.kind not in {"several", "cylinder", "corner", "all"} or place.first < 1:
            continue
        at = next((i for i in range(place.first, max(-1, place.first - 4), -1) if toks[i].low in {"same", "ditto"}), None)
        if at is None or any(toks[i].kind == SIGN for i in range(at, place.first)):
            continue
        before = [m for m in mentions if m.kind == READING and m.quantity is not None and m.end <= toks[at].start]
        sentence = work.scene.layout.sentence_of[at]
        if not before or sentence - before[-1].sentence > 1 or any(f.first <= at < f.last for f in work.figures):
            continue
        if any(f.first >= place.last and f.first - place.last <= 2 for f in work.figures) or any(m.start == toks[at].start for m in out):
            continue
        again = before[-1]
        out.append(replace(
            again, start=toks[at].start, end=toks[place.last - 1].end, position=place.value, group=None, sentence=sentence,
            second=None, tentative=False, again=True, why=("reading: the same as before", f"position {place.value}"),
        ))  # fmt: skip
    return out


def _groups(work: _Work, lists: dict[int, int]) -> dict[int, int]:
    """Figure number -> list number: cut lists, and readings that only commas, "and" and places part."""
    out: dict[int, int] = {}
    number = 1000
    for k, figure in enumerate(work.figures):
        if figure.first in lists:
            out[k] = lists[figure.first]
            continue
        if k == 0 or work.roles[k].label != READING or work.roles[k - 1].label != READING:
            continue
        before = work.figures[k - 1]
        gap = range(before.last, figure.first)
        if len(gap) > 6 or (not gap and (work.toks[figure.first].kind != NUM or work.toks[figure.first].line)):
            continue
        placed = {i for place in work.places for i in range(place.first, place.last)}
        if not all(work.toks[i].low in _LIST_TIES or i in placed or work.toks[i].low in {":", "the", "one", "about"} for i in gap):
            continue
        one, two = kind_of(before.quantity), kind_of(figure.quantity)
        if one != two and "none" not in (one, two):
            continue
        if before.quantity.unit is not None and figure.quantity.unit is not None and before.quantity.unit != figure.quantity.unit:
            continue
        if any(work.toks[i].line for i in range(before.last, figure.first + 1)):
            continue
        if k - 1 not in out:
            number += 1
            out[k - 1] = number
        out[k] = out[k - 1]
    return out


def _second(work: _Work, k: int) -> tuple[Quantity | None, int]:
    """The same result in another unit, said right after: its quantity and how many figures that takes."""
    if k + 1 >= len(work.figures):
        return None, 0
    one, two = work.figures[k], work.figures[k + 1]
    if work.scene.layout.sentence_of[one.first] != work.scene.layout.sentence_of[two.first] or two.first - one.last > 6:
        return None, 0
    readings = [q for q in (two.quantity, *two.alternatives) if q.unit is not None and q.unit != one.quantity.unit]
    for quantity in readings:
        if kind_of(quantity) == kind_of(one.quantity) and kind_of(quantity) != "none":
            role = work.roles[k + 1].label
            named = any(one.last <= part.first < two.first for part in work.parts)
            if role == NEITHER or (role == READING and (two.same_as_previous or (not named and _alike(one.quantity, quantity)))):
                return quantity, 1
    return None, 0


def _alike(one: Quantity, two: Quantity) -> bool:
    """Whether two quantities in different units are about the same: within a tenth."""
    if one.number is None or two.number is None or one.unit is None or two.unit is None:
        return False
    a, b = to_base(one.number, one.unit)[0], to_base(two.number, two.unit)[0]
    return abs(a - b) <= 0.1 * max(abs(a), abs(b))


def _number(work: _Work, k: int, group: int | None) -> Mention:
    figure, role = work.figures[k], work.roles[k]
    toks, layout = work.toks, work.scene.layout
    sentence = layout.sentence_of[figure.first]
    start, stop = layout.sentences[sentence]
    low_edge, high_edge = _edges(work, k, start, stop)
    quantity, alternatives = _settle_unit(figure)
    quantity = _comparator(work, figure, quantity, role.label, low_edge, high_edge)
    if quantity.unit is None:
        for first, last, unit in work.headings:
            if first <= figure.first < last:
                quantity = replace(quantity, unit=unit)
    if quantity.unit is None and k:
        quantity = _unit_taken_over(work, work.figures[k - 1], figure, quantity)
    parts = _evidence_parts(work, figure.first, figure.last, low_edge, high_edge, measured=True)
    tests = _evidence_tests(work, figure.first, figure.last, low_edge, high_edge)
    context = tuple(toks[i].low for i in range(low_edge, high_edge) if toks[i].kind != SIGN)
    wider = tuple(toks[i].low for i in range(start, stop) if toks[i].kind != SIGN)
    position, place = _position(work, figure, low_edge, high_edge, carried=role.label == READING)
    return Mention(
        role.label, figure.start, figure.end, quantity,
        component=parts[0].id if parts else None, position=position, condition=_condition(work, figure, low_edge, high_edge, start, stop),
        context=context, wider=wider, alternatives=alternatives, misheard=figure.misheard, misheard_end=figure.misheard_end,
        confidence=role.probability,
        why=(
            f"{role.label}: {', '.join(role.reasons) or 'nothing speaks against it'}",
            *([place] if place else []),
            *([f"axle: {axle}"] if (axle := _axle_said(context, wider)) else []),
            *(["position: same order"] if "order" in context and "same" in context else []),
        ),
        group=group, parts=parts, tests=tests, sentence=sentence,
        tentative=quantity.unit is None,
        again=bool(set(context) & again_words()),
    )  # fmt: skip


def _unit_taken_over(work: _Work, before: Figure, figure: Figure, quantity: Quantity) -> Quantity:
    """After a correction the new number keeps the unit of the one taken back: "2.9 bar, no, make that 2.3"."""
    if before.quantity.unit is None or figure.first - before.last > _FAR:
        return quantity
    if any(cue.family == "correction" and before.last <= cue.first < figure.first for cue in work.scene.cues):
        return replace(quantity, unit=before.quantity.unit)
    return quantity


_FAR = 14


def _settle_unit(figure: Figure) -> tuple[Quantity, tuple[Quantity, ...]]:
    """In a workshop "2.5k" is kilohms sooner than thousands."""
    quantity = in_workshop(figure)
    others = [other for other in (figure.quantity, *figure.alternatives) if other is not quantity]
    return quantity, tuple(others)


def _edges(work: _Work, k: int, start: int, stop: int) -> tuple[int, int]:
    """The words around a figure that lie between the readings and limits before and after it, within its sentence."""
    low, high = start, stop
    for j in range(k - 1, -1, -1):
        if work.figures[j].last <= start:
            break
        if work.roles[j].label != NEITHER:
            low = max(start, work.figures[j].last)
            break
    for j in range(k + 1, len(work.figures)):
        if work.figures[j].first >= stop:
            break
        if work.roles[j].label != NEITHER:
            high = min(stop, work.figures[j].first)
            break
    return low, high


def _comparator(work: _Work, figure: Figure, quantity: Quantity, role: str, low_edge: int, high_edge: int) -> Quantity:
    """A limit's comparator from its cue; a reading keeps one only where "under", "over" or a sign says so."""
    if quantity.value is None:
        return quantity
    if role == READING:
        before = work.toks[figure.first - 1].low if figure.first else ""
        two = work.toks[figure.first - 2].low if figure.first > 1 else ""
        if quantity.comparator != "=" and (before in {">", "min", "mins", "to", "minimum", "max"} or (before == "to" and two == "up")):
            step = figure.parts[0].quantity if figure.parts else None
            half = _half_step(figure) if step is None else 0.0
            return replace(quantity, comparator="=", low=round(quantity.value - half, 12), high=round(quantity.value + half, 12))
        return quantity
    comparator = ""
    if not comparator:
        for cue in work.scene.cues:
            if cue.family == "limit_before" and low_edge <= cue.first and cue.last <= figure.first and cue.comparator:
                comparator = cue.comparator
            elif cue.family == "limit_after" and figure.last <= cue.first <= figure.last + 2 and cue.first < high_edge and cue.comparator:
                comparator = cue.comparator
    comparator = comparator or quantity.comparator
    if comparator == "=":
        return quantity
    low = quantity.value if comparator[0] == ">" else None
    high = quantity.value if comparator[0] == "<" else None
    return replace(quantity, comparator=comparator, low=low, high=high)


def _half_step(figure: Figure) -> float:
    value = figure.quantity.value or 0.0
    text = f"{value:.10g}"
    return 0.5 * 10 ** -len(text.partition(".")[2]) if "." in text else 0.5


def _evidence_parts(work: _Work, first: int, last: int, low_edge: int, high_edge: int, *, measured: bool = False) -> tuple[Evidence, ...]:
    out: dict[str | None, Evidence] = {}
    for part, weight in around(first, last, work.parts, work.starts_of_parts, work.scene.layout, work.toks, low_edge, high_edge):
        ids: tuple[str | None, ...] = part.ids or (None,)
        if part.plugged is not None:
            ids = (part.plugged, *ids) if measured else (*ids, part.plugged)
        for rank, part_id in enumerate(ids):
            value = weight.value * (1.0 if rank == 0 else 0.7)
            key = part_id
            if key not in out or out[key].weight < value:
                out[key] = Evidence(part_id, round(value, 3), weight.same_piece, part.name, weight.same_piece and weight.distance <= _CLOSE)
    return tuple(sorted(out.values(), key=lambda item: -item.weight)[:8])


def _evidence_tests(work: _Work, first: int, last: int, low_edge: int, high_edge: int) -> tuple[Evidence, ...]:
    out: dict[str, Evidence] = {}
    for name, weight in around(first, last, work.tests, work.starts_of_tests, work.scene.layout, work.toks, low_edge, high_edge):
        for test in name.tests:
            value = weight.value + (0.15 if name.long else 0.0)
            if test not in out or out[test].weight < value:
                words = " ".join(tok.low for tok in work.toks[name.first : name.last])
                out[test] = Evidence(test, round(value, 3), weight.same_piece, words, weight.same_piece and weight.distance <= _CLOSE)
    return tuple(sorted(out.values(), key=lambda item: -item.weight)[:16])


def _position(work: _Work, figure: Figure, low_edge: int, high_edge: int, *, carried: bool) -> tuple[str | None, str]:
    """The place that a figure is said of: before it in its statement, linked after it, or before in its sentence."""
    layout, toks = work.scene.layout, work.toks
    sentence = layout.sentence_of[figure.first]
    best: Place | None = None
    piece = layout.piece_of[figure.first]
    for place in work.places:
        if place.first >= high_edge:
            break
        if place.kind == "axle" or place.value is None:
            continue
        if low_edge <= place.first and place.last <= figure.first:
            best = place
        elif place.first >= figure.last and place.first < high_edge and _linked(toks, figure.last, place.first):
            if best is None or layout.piece_of[best.first] != piece:
                best = place
    if not carried and best is not None and layout.piece_of[best.first] != piece:
        best = None  # a limit holds for all, unless its own statement says a place
    if best is None and carried:
        best = _carried_place(work, figure.first, low_edge, sentence)
    if best is None:
        return None, ""
    words = " ".join(tok.low for tok in toks[best.first : best.last])
    return best.value, f"position {best.value}: {words!r}"


def _axle_said(context: Sequence[str], wider: Sequence[str]) -> str | None:
    """The axle named in the statement, or else in the sentence, if one alone."""
    for words in (context, wider):
        front, rear = bool(_FRONT.intersection(words)), bool(_REAR.intersection(words))
        if front != rear:
            return "front" if front else "rear"
    return None


_FRONT, _REAR = frozenset({"front", "fronts"}), frozenset({"rear", "rears", "back"})


def _linked(toks: Sequence[Tok], last: int, first: int) -> bool:
    gap = toks[last:first]
    return len(gap) <= 2 and all(tok.low in {"on", "at", "for", "in", "of", "the", "from", "out", "off"} for tok in gap)


def _carried_place(work: _Work, first: int, low_edge: int, sentence: int) -> Place | None:
    """A place said earlier in the sentence stays, until another part is named after it."""
    held: Place | None = None
    for place in work.places:
        if place.first >= first:
            break
        if work.scene.layout.sentence_of[place.first] == sentence and place.kind != "axle":
            held = place
    if held is None or held.value is None:
        return None
    if held.kind == "all" or held.kind == "side" or held.kind == "port":
        return None
    figures_between = [
        f for f, role in zip(work.figures, work.roles, strict=True)
        if held.last <= f.first < low_edge and f.first != first and role.label == READING
    ]  # fmt: skip
    if held.kind == "corner" and figures_between:
        return None
    named = [part for part in work.parts if held.last < part.first < first]
    if named and figures_between:
        return None
    return held


def _condition(work: _Work, figure: Figure, low_edge: int, high_edge: int, start: int, stop: int) -> dict[str, str | float]:
    """What held: conditions of the statement win over those said earlier in the sentence."""
    out: dict[str, str | float] = {}
    held: dict[str, int] = {}
    layout = work.scene.layout
    for said in work.said:
        if said.first >= high_edge:
            break
        if said.first < start or said.first == figure.first:
            continue
        if said.last <= figure.first or layout.piece_of[said.first] == layout.piece_of[figure.first] or said.first - figure.last <= 2:
            if said.key in {SPEED, TEMPERATURE, ELAPSED} and said.last <= low_edge and said.first < low_edge and _used(work, said, low_edge):
                continue
            out[said.key] = said.value
            held[said.key] = said.first
    if SPEED in out and out.get("engine") == "idle" and held["engine"] < low_edge:
        del out["engine"]  # "0.8 bar idle, 3.9 at 3000": the idle was the other reading's
    return out


def _used(work: _Work, said: Said, low_edge: int) -> bool:
    """A speed or a time said before an earlier reading belongs to that reading."""
    return any(said.first < figure.first < low_edge and role.label == READING for figure, role in zip(work.figures, work.roles, strict=True))


def _share_units(work: _Work, mentions: list[Mention]) -> list[Mention]:
    """One unit for a whole list: members that have none take that of the list."""
    unit_of: dict[int, str] = {}
    for mention in mentions:
        if mention.group is not None and mention.quantity is not None and mention.quantity.unit is not None and mention.kind == READING:
            unit_of[mention.group] = mention.quantity.unit
    out: list[Mention] = []
    for mention in mentions:
        quantity = mention.quantity
        if quantity is not None and quantity.unit is None and mention.group in unit_of:
            shared = replace(quantity, unit=unit_of[mention.group])
            out.append(replace(mention, quantity=shared, tentative=False, why=(*mention.why, "unit: the list's")))
        else:
            out.append(mention)
    return out


# --- findings and remarks


def _findings(work: _Work) -> list[Mention]:
    """One reading for each statement that is a finding; its word from the phrases found in it, weighed."""
    model = scorer("findings")
    out: list[Mention] = []
    for number, (piece, choice) in enumerate(zip(work.scene.layout.pieces, work.labels, strict=True)):
        if choice.label != FINDING:
            continue
        word = model.choose(word_features(work.scene, number))
        said = [found for found in work.scene.findings if piece.first <= found.first < piece.last]
        if not said and (choice.probability < _UNHEARD or _measured(work, piece)):
            continue
        if said and _only_measured(work, piece, said):
            continue
        word = _as_listed(word, said)
        first, last = _trimmed(work, piece)
        known = next((found for found in said if found.word == word.label), said[0] if said else None)
        phrase = known.phrase if known is not None else " ".join(tok.low for tok in work.toks[first:last])
        place_of = known if known is not None else Finding(first, last, word.label, False, False, phrase)
        out.append(_finding(work, replace(place_of, word=word.label), piece, first, last, choice.probability * word.probability))
    return out


_NOT_FAR_OFF = 0.12
_UNHEARD = 0.55  # a finding in words that no list knows must be this likely


def _as_listed(word: Choice, said: list[Finding]) -> Choice:
    """The listed phrases' own word, where they agree on one that the scorer does not think far off."""
    words = {found.word for found in said}
    if len(words) == 1:
        listed = next(iter(words))
        if word.label != listed and word.probabilities[listed] > _NOT_FAR_OFF:
            return replace(word, label=listed)
    return word


def _only_measured(work: _Work, piece: Piece, said: list[Finding]) -> bool:
    """Whether a statement's finding is but the name or the verb of its number: "0.3 mm of end play", "it rises 0.4 bar"."""
    for found in said:
        for figure, role in zip(work.figures, work.roles, strict=True):
            if role.label != READING:
                continue
            if piece.first <= figure.first < piece.last and any(name.first < found.last and found.first < name.last for name in work.tests):
                return True
            if found.word in {"rises", "falls"} and 0 <= figure.first - found.last <= 3:
                return True
    return False


def _measured(work: _Work, piece: Piece) -> bool:
    return any(piece.first <= figure.first < piece.last and role.label == READING for figure, role in zip(work.figures, work.roles, strict=True))


def _trimmed(work: _Work, piece: Piece) -> tuple[int, int]:
    """The words of a piece without the fillers at its head and the signs at its end."""
    first, last = head_of(work.toks, piece), piece.last
    while last - 1 > first and work.toks[last - 1].kind == SIGN and work.toks[last - 1].low in _EDGE:
        last -= 1
    return first, last


_BEFORE_A_PLACE = frozenset("at on in of from round around behind between under to into near by across off through past out".split())


def _subject(work: _Work, finding: Finding, piece: Piece) -> tuple[Evidence, ...]:
    """What a finding is said of: the first part of its statement that no preposition makes a mere place, else the first
    one, else the part in focus.
    """
    inside = [part for part in work.parts if piece.first <= part.first < piece.last]
    plain = [
        part for part in inside
        if not any(work.toks[k].low in _BEFORE_A_PLACE for k in range(max(piece.first, part.first - 2), part.first))
    ]  # fmt: skip
    chosen = (plain or inside)[:1]
    near = _evidence_parts(work, finding.first, finding.last, piece.first, piece.last)
    if not chosen:
        return near
    part = chosen[0]
    lead = Evidence(part.id, 1.1, True, part.name)
    return (lead, *(item for item in near if item.id != lead.id))


def _finding(work: _Work, finding: Finding, piece: Piece, first: int, last: int, confidence: float) -> Mention:
    toks, layout = work.toks, work.scene.layout
    sentence = piece.sentence
    start, stop = layout.sentences[sentence]
    parts = _subject(work, finding, piece)
    tests = _evidence_tests(work, finding.first, finding.last, piece.first, piece.last)
    inside = [p for p in work.places if piece.first <= p.first < piece.last and p.kind != "axle"]
    before = [p for p in inside if p.last <= finding.last]
    place = (before or inside)[-1 if before else 0] if inside else None
    several = place is not None and place.value is None
    position = place.value if place is not None else None
    if position is None and not several:
        position, several = _counted(work, finding, piece)
    if position is None and not several:
        held = _carried_place(work, finding.first, piece.first, sentence)
        position = held.value if held is not None else None
    return Mention(
        READING, toks[first].start, toks[last - 1].end, finding=finding.word, component=parts[0].id if parts else None,
        position=position, context=tuple(toks[i].low for i in range(piece.first, piece.last)),
        wider=tuple(toks[i].low for i in range(start, stop)), confidence=confidence,
        why=(f"finding {finding.word}: {finding.phrase!r}",), parts=parts, tests=tests, sentence=sentence,
    )  # fmt: skip


def _counted(work: _Work, finding: Finding, piece: Any) -> tuple[str | None, bool]:
    """ "3 wet and black", "four's fine": a small number at the head of a finding's statement is its place; "1, 2, 4 light
    brown" names several.
    """
    toks = work.toks
    head = piece.first
    while head < finding.first and (toks[head].kind == SIGN or toks[head].low in {"and", "but", "number", "no"}):
        head += 1
    if head >= finding.first and not (head == finding.first and small(toks[head])):
        return None, False
    value = small(toks[head])
    if value is None or any(f.first <= head < f.last and f.quantity.unit is not None for f in work.figures):
        return None, False
    following = toks[head + 1] if head + 1 < len(toks) else None
    if following is not None and (following.low in {"of", "point", "side", "hundred"} or (following.low in {"and", "&", ","} and head + 2 < piece.last and small(toks[head + 2]))):
        return None, following.low in {"and", "&", ","}
    earlier = toks[piece.first - 2] if piece.first >= 2 else None
    if earlier is not None and toks[piece.first - 1].low in {",", "and"} and small(earlier) and piece.first >= 2:
        before = work.scene.layout.pieces[work.scene.layout.piece_of[piece.first] - 1]
        if before.last - before.first <= 3:
            return None, True
    return value, False


def _remarks(work: _Work) -> list[Mention]:
    out: list[Mention] = []
    layout, toks = work.scene.layout, work.toks
    for piece, choice in zip(layout.pieces, work.labels, strict=True):
        if choice.label not in REMARKS:
            continue
        first, last = _trimmed(work, piece)
        if toks[first].kind == SIGN and first == last - 1:
            continue
        parts = _evidence_parts(work, first, last, piece.first, piece.last)
        named = [part for part in work.parts if piece.first <= part.first < piece.last]
        component = named[0].id if named and named[0].how != OTHER else None
        if not named and parts and choice.label in {"action", "suspect", "cleared"}:
            component = parts[0].id
        place = next((p for p in work.places if piece.first <= p.first < piece.last and p.value is not None and p.kind != "axle"), None)
        out.append(
            Mention(
                choice.label, toks[first].start, toks[last - 1].end, component=component,
                position=place.value if place is not None else None, sentence=piece.sentence, parts=parts,
                confidence=choice.probability, why=(f"{choice.label}: {', '.join(choice.reasons)}",),
            )
        )  # fmt: skip
    return out


def _sentence_at(work: _Work, start: int) -> int:
    for tok in work.toks:
        if tok.end > start:
            return work.scene.layout.sentence_of[tok.i]
    return 0


def _component_before(work: _Work, start: int) -> str | None:
    found: str | None = None
    for part in work.parts:
        if work.toks[part.first].start > start:
            break
        found = part.id
    return found


def _with_words(mentions: list[Mention], note: Any) -> list[Mention]:
    """For a spoken note: doubtful words under a number or its unit flag it, and lower its confidence."""
    if note is None or not note.words:
        return mentions
    out: list[Mention] = []
    for mention in mentions:
        heard = [word for word in note.words if word.start < mention.end and mention.start < word.end]
        if mention.quantity is not None and any(word.probability < _DOUBTFUL or word.heard for word in heard):
            flags = tuple(dict.fromkeys((*mention.flags, "low_confidence_words")))
            mention = replace(mention, flags=flags, confidence=mention.confidence * 0.6)
        out.append(mention)
    return out
