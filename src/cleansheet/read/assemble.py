"""From all that was found in a note to its mentions: numbers and findings with what they are said of, and remarks."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from cleansheet.terms import Mention

from .lists import heading_units
from .said_numbers import said_numbers
from .said_statements import said_findings, said_remarks
from .unit_said import units_said
from .when import with_when
from .work import Work, add_figure_conditions

if TYPE_CHECKING:
    from collections.abc import Sequence

    from spacy.tokens import Doc

    from cleansheet.terms import Word

    from .markings import Marking


_ANY_PART = frozenset({"unit", "units"})
_DOUBTFUL = 0.5  # a recognised word below this probability is doubtful


def assemble(doc: Doc) -> tuple[Mention, ...]:
    """The mentions of a note, in the order of its words."""
    own = doc._
    work = Work(
        own.toks, own.scene, own.figures, own.roles, own.labels, own.parts, own.tests, own.places, own.conditions,
        [*heading_units(own.toks), *units_said(own.toks, own.figures)], own.columns,
    )  # fmt: skip
    add_figure_conditions(work)
    mentions = said_numbers(work, own.lists)
    mentions += said_findings(work, mentions)
    mentions += said_remarks(work)
    mentions += _markings(work, own.markings)
    mentions = with_when(mentions, own.when, own.toks, own.note.recorded_at)
    mentions = _with_words(mentions, own.note)
    mentions.sort(key=lambda mention: (mention.start, mention.end))
    return tuple(mentions)


def _markings(work: Work, codes: Sequence[Marking]) -> list[Mention]:
    """Codes as mentions, each with the part named before it."""
    if not codes:
        return []
    starts = [tok.start for tok in work.toks]
    out: list[Mention] = []
    for code in codes:
        at = bisect_right(starts, code.start)
        part = work.parts.before(at)
        if part is not None and part.id is None and part.name in _ANY_PART:
            part = work.parts.before(part.first) or part  # "Exchange alternator. Old unit AL-5518"
        fault = f"; {code.fault}" if code.fault else ""
        out.append(
            Mention(
                "marking",
                code.start,
                code.end,
                component=part.id if part is not None else None,
                sentence=work.scene.layout.sentence_of[max(0, at - 1)],
                why=(f"marking: {code.kind.replace('_', ' ')}{fault}",),
                flags=("implausible",) if code.fault else (),
                confidence=0.7 if code.said else 0.9,
            )
        )
    return out


def _with_words(mentions: list[Mention], note: Any) -> list[Mention]:
    """For a spoken note: doubtful words flag what stands on them: one under a number or its unit, half of any other's."""
    if note is None or not note.words:
        return mentions
    ends = [word.end for word in note.words]
    return [_doubted(mention, _under(mention, note.words, ends)) for mention in mentions]


def _under(mention: Mention, words: Sequence[Word], ends: Sequence[int]) -> list[Word]:
    """The recognised words that a mention stands on; they follow each other in the text."""
    first = last = bisect_right(ends, mention.start)
    while last < len(words) and words[last].start < mention.end:
        last += 1
    return list(words[first:last])


def _doubted(mention: Mention, heard: Sequence[Word]) -> Mention:
    unsure = sum(word.probability < _DOUBTFUL for word in heard)
    # a finding out of noise: its words are all doubtful; one doubtful word says little of it
    least = 1 if mention.quantity is not None else max(1, (len(heard) + 1) // 2)
    doubted = unsure >= least or (mention.quantity is not None and any(word.heard for word in heard))
    if not doubted:
        return mention
    flags = tuple(dict.fromkeys((*mention.flags, "low_confidence_words")))
    return replace(mention, flags=flags, confidence=mention.confidence * 0.6)
