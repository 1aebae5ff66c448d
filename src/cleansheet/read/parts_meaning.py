"""What a bare word means while another part is spoken of: the "coil" of a relay, the "springs" of a clutch, its "plug"."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from .words import NUM, SIGN

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from .parts import Part
    from .words import Tok

_REACH = 60  # words back at which a part is no more in focus
_NEAR = 14  # and within a sentence that has no stop
_STOPS = frozenset({".", ";", "?", "!"})
_OF = frozenset({"on", "of", "in", "inside", "to"})
_ARTICLES = frozenset({"the", "this", "that", "its", "a", "an", "my"})
_STAYS = frozenset({"valve-train"})  # "1 inlet 0.12, exhaust 0.14. Set the inlet to 0.12"
DROP, NO_OTHER = "drop", "else"


@dataclass(frozen=True, slots=True)
class Meanings:
    """The table of `names.yaml`: word -> part in focus -> component; `near` holds within one sentence alone."""

    near: Mapping[str, Mapping[str, str | None]]
    during: Mapping[str, Mapping[str, str | None]]

    @classmethod
    def of(cls, data: Mapping[str, Any]) -> Meanings:
        """From the file, each of a row's words by itself."""
        return cls(
            *(
                {word.replace("_", " "): row for words, row in data[key].items() for word in words.split()}
                for key in ("near", "during")
            )
        )

    def new_words(self) -> dict[str, str | None]:
        """Words that are a part's name only where the table says so, each with what it means by itself."""
        rows = {**self.near, **self.during}
        return {word: row[NO_OTHER] for word, row in rows.items() if NO_OTHER in row}

    def meaning(
        self, part: Part, before: Sequence[Part], after: Part | None, toks: Sequence[Tok], systems: Mapping[str, str]
    ) -> tuple[bool, str | None]:
        """Whether the table tells what `part` is, and the component (None for one outside the catalogue).

        "Fan relay, coil 79 ohms" tells of a relay's coil, "springs on the advance unit" of the distributor.
        """
        word = part.name
        if word in _OF_A_PAIR and _in_a_pair(part, before, after, toks):
            return True, "valve-train"
        near, during = self.near.get(word), self.during.get(word)
        if near is None and during is None:
            return False, None
        if after is not None and _belongs(part, after, toks):
            for row in (near, during):
                found = _row(row, after, systems)
                if found is not None:
                    return True, found[0]
        if near is not None and _is_bought(part, toks):
            near = None  # "order the coil" is no relay's
        stop = part.first
        open_ = True  # no stop so far
        after_heading = word in _OF_A_PAIR  # "Valves cold. No 1 inlet 0.12"
        across = word == "plug" and _is_a_place(part, toks)  # "Fan never comes on. Jumped it at the plug"
        for other in reversed(before):
            if part.first - other.last > _REACH:
                break
            if open_ and (
                part.first - other.last > _NEAR
                or (
                    not across
                    and _parted(toks, other.last, stop)
                    and not (after_heading and _is_heading(toks, other, part))
                )
            ):
                open_ = False
            stop = other.first
            if " " in other.name and other.name.rpartition(" ")[2].rstrip("s") == word.rstrip("s"):
                return True, other.plugged or other.id  # "the vacuum hose", then "the hose"
            if (
                other.told
                and other.name.rstrip("s") == word.rstrip("s")
                and (during is not None or (other.id in _STAYS and _measured(part, toks)))
            ):
                return True, other.id  # what it was told to be stays
            for row in (near if open_ else None, during):
                found = _row(row, other, systems)
                if found is not None:
                    return True, found[0]
        return False, None


def _row(row: Mapping[str, str | None] | None, part: Part, systems: Mapping[str, str]) -> tuple[str | None] | None:
    """What the row says of a part in focus, in a tuple; None where it says nothing."""
    if row is None:
        return None
    if part.plugged and part.plugged in row:
        return (row[part.plugged],)  # "the crank sensor's plug is fine but the bracket is bent"
    if " " in part.name and part.name in row:
        return (row[part.name],)  # a glow relay's "plugs" are none of a relay's
    if part.id is not None:
        key = part.id if part.id in row else systems.get(part.id, "")
        return (row[key],) if key in row else None
    if part.name in row:
        return (row[part.name],)
    return next(((row[word],) for word in part.name.split() if word in row), None)


_BUYS = frozenset("order get new another replace swap fit fitted find buy source".split())


_OF_A_PAIR = frozenset({"inlet", "inlets", "exhaust", "exhausts"})
_BETWEEN = frozenset("first cold hot all both are is was at and".split())
_PAIRED = 16  # words at most between the two
_OF_A_FLOW = frozenset({"psi", "bar", "inhg", "inches", "in", "kpa", "degrees", "deg", "c", "f"})


def _in_a_pair(part: Part, before: Sequence[Part], after: Part | None, toks: Sequence[Tok]) -> bool:
    """Whether inlet and exhaust are said side by side with a number each: "two inlet 0.25, exhaust 0.30", no manifolds."""
    near = [other for other in (after, *reversed(before[-2:])) if other is not None and other.name in _OF_A_PAIR]
    return any(
        other.name[:2] != part.name[:2]
        and max(part.first, other.first) - min(part.last, other.last) <= _PAIRED
        and _numbered(part, toks)
        and _numbered(other, toks)
        for other in near
    )


def _numbered(part: Part, toks: Sequence[Tok]) -> bool:
    """Whether a number of no flow follows a name: "inlet 0.25", no "inlet 15 inHg"."""
    at = part.last
    while at < min(len(toks), part.last + 2) and toks[at].low in _BETWEEN:
        at += 1
    if at >= len(toks) or not (toks[at].kind == NUM or toks[at].low in {"point", "nought", "zero"}):
        return False
    return all(tok.low not in _OF_A_FLOW for tok in toks[at + 1 : at + 3])


_HEADING = 4  # words at most


def _is_heading(toks: Sequence[Tok], other: Part, part: Part) -> bool:
    """Whether the part named before stands in a heading that a sentence follows: "Tappets. On two the inlet's six thou"."""
    start = next((i + 1 for i in range(other.first - 1, -1, -1) if _parted(toks, i, i)), 0)
    stops = [i for i in range(other.last, part.first) if toks[i].kind == SIGN and toks[i].low in _STOPS]
    numbers = any(toks[i].kind == NUM for i in range(start, stops[0] if stops else part.first))
    return len(stops) == 1 and stops[0] - start <= _HEADING and not numbers


def _is_bought(part: Part, toks: Sequence[Tok]) -> bool:
    """Whether a thing is got or changed as a whole: "order the coil", "fit a new coil"."""
    return any(tok.low in _BUYS for tok in toks[max(0, part.first - 3) : part.first])


def _is_a_place(part: Part, toks: Sequence[Tok]) -> bool:
    """Whether something is done or measured at the thing: "jumped it at the plug"."""
    before = [tok.low for tok in toks[max(0, part.first - 2) : part.first]]
    return before == ["at", "the"]


def _measured(part: Part, toks: Sequence[Tok]) -> bool:
    """Whether a bare word is one of a pair that is set or measured: "reset the exhaust, now six", no "exhaust is loose"."""
    after = toks[part.last] if part.last < len(toks) else None
    return after is None or after.kind in {SIGN, NUM} or after.low in {"to", "now", "and"}


def _belongs(part: Part, after: Part, toks: Sequence[Tok]) -> bool:
    """Whether the next part is what this one is on: "springs on the advance unit"."""
    gap = [toks[i].low for i in range(part.last, after.first)]
    return bool(gap) and gap[0] in _OF and all(word in _ARTICLES for word in gap[1:])


def _parted(toks: Sequence[Tok], first: int, last: int) -> bool:
    return any(toks[i].line or (toks[i].kind == SIGN and toks[i].low in _STOPS) for i in range(first, last + 1))
