"""Statements as mentions: findings with what they are said of, and remarks."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from cleansheet.terms import Evidence, Mention

from .bearings import all_of_them, carried_place
from .cues import cue_book
from .findings import Finding
from .parts import OTHER
from .places import small
from .places_said import SEVERAL
from .reasons import in_words
from .remark_rules import FINDING
from .remarks import REMARKS, word_features
from .role_rules import READING
from .scene import GOOD, head_of
from .scorer import scorer
from .unnamed import unnamed_subject
from .words import SIGN
from .work import parts_near, tests_near

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .clauses import Piece
    from .parts import Part
    from .scorer import Choice
    from .work import Work


_EDGE = frozenset(",:()[]–—|→•*-. ")


_NOT_FAR_OFF = 0.12


_BARE = 0.65  # and one in everyday words that names no part
_UNHEARD = 0.55  # a finding in words that no list knows must be this likely


_BEFORE_A_PLACE = frozenset(
    "at on in of from round around behind between under to into near by across off through past out over above below "
    "against along inside beside".split()
)
_PRONOUNS = frozenset("it it's they they're they've".split())


def said_findings(work: Work, measured: Sequence[Mention] = ()) -> list[Mention]:
    """One reading for each statement that is a finding; its word from the phrases found in it, weighed. `measured` are the
    note's numbers.
    """
    if not work.parts:
        return []  # talk that names no part at all has found nothing on one
    model = scorer("findings")
    out: list[Mention] = []
    ended = -1  # the statement of the last finding
    for number, (piece, choice) in enumerate(zip(work.scene.layout.pieces, work.labels, strict=True)):
        if choice.label != FINDING:
            continue
        word = model.choose(word_features(work.scene, number))
        said = work.scene.findings.within(piece.first, piece.last)
        if not said and (choice.probability < _UNHEARD or _measured(work, piece)):
            continue
        if said and _only_measured(work, piece, said):
            continue
        if (
            choice.probability < _BARE
            and not work.parts.within(piece.first, piece.last)
            and all(found.bare for found in said)
        ):
            continue
        word = _as_listed(word, said)
        if word.label == "does_not_work" and _no_reading(work, piece, said, measured):
            word = replace(word, label="open_circuit")
        first, last = _trimmed(work, piece)
        if work.toks[first].kind == SIGN:
            first, last = piece.first, max(first, piece.first + 1)  # "right okay." is all fillers
        known = next((found for found in said if found.word == word.label), said[0] if said else None)
        phrase = known.phrase if known is not None else " ".join(tok.low for tok in work.toks[first:last])
        if ended == number - 1 and out and _says_more(work, out[-1], word.label, piece, said):
            plain = out[-1].finding == "ok"  # "ok, clicks every time" works
            out[-1] = replace(out[-1], end=work.toks[last - 1].end, finding=word.label if plain else out[-1].finding)
            ended = number
            continue
        place_of = known if known is not None else Finding(first, last, word.label, False, False, phrase)
        out.append(
            _finding(
                work, replace(place_of, word=word.label), piece, first, last, choice.probability * word.probability
            )
        )
        ended = number
    return out


_NO_SUBJECT = frozenset("it it's and is they they're all still got very nice nicely a both also quite".split())


def _says_more(work: Work, before: Mention, word: str, piece: Piece, said: list[Finding]) -> bool:
    """Whether a finding only says the one before it again or better: "blocked, black as a boot", "dry and clean"."""
    if not said or piece.opened not in {",", "and"} or before.sentence != piece.sentence or before.finding is None:
        return False
    words = {before.finding, word}
    if words == {"works"} or (len(words) > 1 and not (words <= GOOD and "ok" in words and "dry" not in words)):
        return False  # "hums, starts", "cone good, dry" are two
    if work.parts.within(piece.first, piece.last) or work.places.within(piece.first, piece.last):
        return False
    own = work.scene.layout.pieces[work.scene.layout.piece_of[piece.first] - 1]
    if work.figures.within(own.first, piece.last):
        return False
    return all(tok.kind == SIGN or tok.low in _NO_SUBJECT for tok in work.toks[piece.first : said[0].first])


def _as_listed(word: Choice, said: list[Finding]) -> Choice:
    """The listed phrases' own word, where they agree on one that the scorer does not think far off."""
    words = {found.word for found in said}
    if len(words) == 1:
        listed = next(iter(words))
        if word.label != listed and word.probabilities[listed] > _NOT_FAR_OFF:
            return replace(word, label=listed)
    return word


_OHMS = frozenset(["Ohm", "kOhm", "MOhm", "mOhm"])
_NO_READING = frozenset(["nothing", "none", "no"])


def _no_reading(work: Work, piece: Piece, said: list[Finding], measured: Sequence[Mention]) -> bool:
    """Whether nothing was read where others gave ohms: "8.8, 9.1 k and nothing at all on three"; not "nothing drips"."""
    if not said or said[0].phrase.split()[0] not in _NO_READING or piece.opened == ".":
        return False
    here = work.toks[piece.first].start
    before = [one for one in measured if one.sentence == piece.sentence and one.kind == READING and one.end <= here]
    if not before or before[-1].quantity is None:
        return False
    unit = before[-1].quantity.unit
    return unit in _OHMS or (unit is None and any((name.id or "").endswith("resistance") for name in before[-1].tests))


def _only_measured(work: Work, piece: Piece, said: list[Finding]) -> bool:
    """Whether a statement's finding is but the name or the verb of its number: "0.3 mm of end play", "it rises 0.4 bar"."""
    measured = _measured(work, piece)
    for found in said:
        if measured and any(name.last > found.first for name in work.tests.within(max(0, found.first - 6), found.last)):
            return True
        if measured and found.phrase in {"dry", "wet"}:
            return True  # "110 psi dry, 140 wet": how it was measured
        if found.word in {"rises", "falls"} and work.readings(found.last, found.last + 4):
            return True
    return False


def _measured(work: Work, piece: Piece) -> bool:
    return bool(work.readings(piece.first, piece.last))


def _trimmed(work: Work, piece: Piece) -> tuple[int, int]:
    """The words of a piece without the fillers at its head and those and the signs at its end."""
    first, last = head_of(work.toks, piece), piece.last
    while last - 1 > first and (
        (work.toks[last - 1].kind == SIGN and work.toks[last - 1].low in _EDGE) or work.toks[last - 1].low in _TRAILING
    ):
        last -= 1
    return first, last


_TRAILING = frozenset({"then", "though", "anyway"})


def _subject(work: Work, finding: Finding, piece: Piece) -> tuple[Evidence, ...]:
    """What a finding is said of: the first part of its statement that no preposition makes a mere place, else the first
    one, else the part in focus.
    """
    inside = work.parts.within(piece.first, piece.last)
    plain = [
        part for part in inside
        if not any(work.toks[k].low in _BEFORE_A_PLACE for k in range(max(piece.first, part.first - 2), part.first))
    ]  # fmt: skip
    near = parts_near(work, finding.first, finding.last, piece.first, piece.last - 1)
    if (
        inside
        and not plain
        and (
            work.toks[head_of(work.toks, piece)].low in _PRONOUNS
            or any(
                place.value is not None and place.value.isdigit()
                for place in work.places.within(piece.first, inside[0].first)
            )
        )
    ):
        meant_by_it = tuple(item for item in near if not item.here)
        if meant_by_it:
            return meant_by_it  # "it's cracked between the valves"
    chosen = (plain or inside)[:1]
    if not chosen:
        meant = unnamed_subject(work.toks, piece.first, piece.last, work.parts.before(piece.first))
        if meant is None or (near and near[0].id == meant):
            return near
        return (Evidence(meant, 1.1, True, ""), *(item for item in near if item.id != meant))
    part = chosen[0]
    lead = Evidence(part.id, 1.1, True, part.name)
    return (lead, *(item for item in near if item.id != lead.id))


def _finding(work: Work, finding: Finding, piece: Piece, first: int, last: int, confidence: float) -> Mention:
    toks, layout = work.toks, work.scene.layout
    sentence = piece.sentence
    start, stop = layout.sentences[sentence]
    parts = _subject(work, finding, piece)
    tests = tests_near(work, finding.first, finding.last, piece.first, piece.last)
    inside = [place for place in work.places.within(piece.first, piece.last) if place.kind != "axle"]
    before = [p for p in inside if p.last <= finding.last]
    place = (before or inside)[-1 if before else 0] if inside else None
    several = place is not None and place.value is None
    position = place.value if place is not None else None
    if position is None and not several:
        position, several = _counted(work, finding, piece)
    if position is None and not several:
        held = all_of_them(work, last, sentence) or carried_place(work, finding.first, piece.first, sentence)
        position = held.value if held is not None else None
    parts = _one_a_cylinder(parts, position)
    return Mention(
        READING, toks[first].start, toks[last - 1].end, finding=finding.word, component=parts[0].id if parts else None,
        position=position, context=tuple(toks[i].low for i in range(piece.first, piece.last)),
        wider=tuple(toks[i].low for i in range(start, stop)), confidence=confidence,
        why=(f"finding {finding.word}: {finding.phrase!r}",), parts=parts, tests=tests, sentence=sentence,
    )  # fmt: skip


_BY_CYLINDER = SEVERAL - {"carburettor"}
_ONE_FOR_ALL = frozenset(
    {
        "fuel-rail",
        "fuel-pump",
        "fuel-return-line",
        "intake-manifold",
        "cylinder-head",
        "engine",
        "distributor-cap",
        "distributor",
    }
)


def _one_a_cylinder(parts: tuple[Evidence, ...], position: str | None) -> tuple[Evidence, ...]:
    """The parts in focus, led by one that there is of for each cylinder where a number places what is said: "pulled the
    injectors with the rail still on, and number two has a drip".
    """
    if position is None or not (position.isdigit() or position == "all") or not parts:
        return parts
    if parts[0].here or parts[0].id not in _ONE_FOR_ALL:
        return parts
    least = parts[0].weight * 0.6
    meant = next((part for part in parts if part.id in _BY_CYLINDER and part.weight >= least), None)
    return parts if meant is None else (meant, *(part for part in parts if part is not meant))


def _counted(work: Work, finding: Finding, piece: Piece) -> tuple[str | None, bool]:
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
    if value is None or any(
        f.last > head and f.quantity.unit is not None for f in work.figures.within(max(0, head - 12), head + 1)
    ):
        return None, False
    following = toks[head + 1] if head + 1 < len(toks) else None
    if following is not None and (
        following.low in {"of", "point", "side", "hundred"}
        or (following.low in {"and", "&", ","} and head + 2 < piece.last and small(toks[head + 2]))
    ):
        return None, following.low in {"and", "&", ","}
    earlier = toks[piece.first - 2] if piece.first >= 2 else None
    if earlier is not None and toks[piece.first - 1].low in {",", "and"} and small(earlier) and piece.first >= 2:
        before = work.scene.layout.pieces[work.scene.layout.piece_of[piece.first] - 1]
        if before.last - before.first <= 3:
            return None, True
    return value, False


_ANY_PART = frozenset({"unit", "units"})  # what a part already named is called: "order an exchange unit"
_MEANS = frozenset({"with", "using"})


def _a_means(work: Work, first: int, piece: Piece) -> bool:
    """Whether the part at word `first` is what a thing is done with, not to: "with the air line"; not "with a new hose"."""
    before = [work.toks[i].low for i in range(max(piece.first, first - 4), first)]
    away = work.toks[piece.first].low in _AWAY  # "out with the relay"
    return not away and not _MEANS.isdisjoint(before) and _NEW.isdisjoint(before)


_NEW, _AWAY = frozenset({"new", "another", "spare", "used", "fresh"}), frozenset({"out", "off", "away"})
_BACK = frozenset(
    "it them that one again those these this no redo another one's ones pair lot set retest re-test recheck re-check refit re-fit "
    "retorque re-torque replacing renewing swapped unit exchange recon rebuilt reman either".split()
)


def _points_back(work: Work, first: int, last: int) -> bool:
    """Whether a next step is about what was talked of: "fit them tomorrow", "try it again", "get a pair"."""
    return any(work.toks[i].low in _BACK for i in range(first, last))


_UNDONE = frozenset({"never", "not", "didn't", "hasn't", "haven't", "wasn't", "weren't", "isn't", "aren't", "hadn't"})


def _undone(work: Work, first: int, last: int) -> bool:
    """Whether a deed is denied: "has never been replaced", "didn't touch the timing"; not "replaced it, not refitted"."""
    book = cue_book()
    for i in range(first, last - 1):
        if work.toks[i].low in _UNDONE:
            deed = i + 2 if i + 2 < last and work.toks[i + 1].low in {"been", "yet", "even", "actually"} else i + 1
            return work.toks[deed].low in book.past or work.toks[deed].low in book.base
        if work.toks[i].low in book.past:
            return False
    return False


_DONE_TO = frozenset({"it", "them", "those", "these"})


def _at_a_place(work: Work, piece: Piece, named: list[Part]) -> bool:
    """Whether a deed is done to what was spoken of and the parts named say but where: "jumped it at the plug", "do them with
    the head on".
    """
    toks = work.toks
    place = next((i for i in range(piece.first, named[0].first) if toks[i].low in _DONE_TO), None)
    if place is None:
        return False
    between = [toks[i].low for i in range(place + 1, named[0].first)]
    return (
        0 < len(between) <= 4
        and not _TO_A_PLACE.isdisjoint(between)
        and _NEW.isdisjoint(between)
        and "for" not in between
    )


_TO_A_PLACE = frozenset("at on off in with onto into from by under behind".split())
_WHY = (("that's", "what's"), ("thats", "whats"), ("that's", "why"), ("that's", "what"), ("that", "explains"), ("which", "explains"),
        ("that'd", "explain"), ("that'll", "explain"), ("that", "would"), ("that", "accounts"), ("that's", "causing"))  # fmt: skip


def _explains(work: Work, first: int, last: int) -> bool:
    """Whether a suspicion points back and what it names is but what is wrong: "that's what's killing the spark"."""
    return last - first > 1 and (work.toks[first].low, work.toks[first + 1].low) in _WHY


def _part_measured(work: Work, piece: Piece) -> str | None:
    """The part whose test a remark names: "measure delivery", "wet test on 2", "it was timing"."""
    for name in work.tests.within(piece.first, piece.last):
        components = {test.partition(".")[0] for test in name.tests}
        if len(components) == 1 and work.toks[name.last - 1].low not in _NO_NOUNS:
            return components.pop()
    return None


# names of tests that are verbs or say many things: no part is spoken of by them
_NO_NOUNS = frozenset(
    "running cranking overnight starting charge vacuum vac gapped gap gaps draw static cranks cranked rises jumps lifts lifted held holds hunts "
    "hunting low high revs rested idles blows boils boiled off to at in opens started starts cut cuts up go it them".split()
)


_COUNTS_LAST = {"port": 1, "all": 2}  # "inlet valve on 4" is at 4
_OF_A_MACHINE = frozenset(["todo", "suspect", "cleared"])


def _of_no_machine(work: Work) -> bool:
    """Whether a note of several sentences names no part, measures nothing and complains of nothing: talk of the shop."""
    return (
        len(work.scene.layout.sentences) > 1
        and not work.parts
        and not any(figure.quantity.unit for figure in work.figures)
        and not any(choice.label == "symptom" for choice in work.labels)
    )


def said_remarks(work: Work) -> list[Mention]:
    out: list[Mention] = []
    layout, toks = work.scene.layout, work.toks
    talk = _of_no_machine(work)
    for piece, choice in zip(layout.pieces, work.labels, strict=True):
        if choice.label not in REMARKS or (choice.label == "action" and not work.parts and not work.figures):
            continue
        if talk and choice.label in _OF_A_MACHINE:
            continue
        first, last = _trimmed(work, piece)
        if choice.label == "action" and (toks[first].low in cue_book().looks or _undone(work, first, last)):
            continue
        if toks[first].kind == SIGN and first == last - 1:
            continue
        parts = parts_near(work, first, last, piece.first, piece.last)
        named = [
            part for part in work.parts.within(piece.first, piece.last)
            if part.name not in _ANY_PART and (choice.label != "action" or not _a_means(work, part.first, piece))
        ]  # fmt: skip
        back = choice.label in {"suspect", "cleared"} and _explains(work, first, last)
        if back or (choice.label in {"action", "todo"} and named and _at_a_place(work, piece, named)):
            elsewhere = tuple(part for part in parts if not part.here)
            if back or elsewhere:
                named, parts = [], elsewhere
        component = named[0].id if named and named[0].how != OTHER else None
        points_back = _points_back(work, first, last)
        measured = _part_measured(work, piece) if not named and not back else None
        if measured is not None:
            component = measured
        elif not named and parts and (choice.label in {"action", "suspect", "cleared"} or points_back):
            tools = {part.name for part in work.parts.within(piece.first, piece.last)}
            component = next((part.id for part in parts if not part.here or part.said not in tools), parts[0].id)
        said = [p for p in work.places.within(piece.first, piece.last) if p.value is not None and p.kind != "axle"]
        place = min(said, key=lambda p: _COUNTS_LAST.get(p.kind, 0), default=None)
        if not named and measured is None and component is not None and place is not None:
            component = _one_a_cylinder(parts, place.value)[0].id if parts[0].id == component else component
        out.append(
            Mention(
                choice.label, toks[first].start, toks[last - 1].end, component=component,
                position=place.value if place is not None else None, sentence=piece.sentence, parts=parts,
                again=choice.label == "todo" and points_back and measured is None,
                confidence=choice.probability, why=(f"{choice.label}: {in_words(choice.reasons)}",),
            )
        )  # fmt: skip
    return out
