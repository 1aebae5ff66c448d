"""Which parts a note names, and where.

A name is looked up among the catalogue's names, the trade's further names, what a recogniser writes for them, and parts
outside the catalogue. A word that stands nowhere is compared with the words of the names: a near spelling counts, marked
as such. "crank sensor plug" is a connector, for what follows a part's name may be another part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from typing import TYPE_CHECKING

from cleansheet.units.data_files import packaged

from .lexicon import Phrases
from .misheard import Sounding, find_misheard
from .parts_meaning import DROP, Meanings
from .words import NUM, WORD, Tok, without_s

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.catalogue import Catalogue

NAME, SHARED, OTHER, HEARD, NEAR = "name", "shared", "other", "heard", "near"
BARE = "bare"  # a part only where what is spoken of makes it one: "plate"

# what may follow a part's name and make a connector of it: "crank sensor plug", "pump connector"
_PLUGGED = frozenset(
    [
        "plug",
        "connector",
        "connectors",
        "multiplug",
        "multi-plug",
        "pins",
        "pin",
        "terminal",
        "terminals",
        "plugs",
        "socket",
        "sockets",
    ]
)
_ANY_OF_ITS_SORT = frozenset({"relay", "test-meter", "connector"})
# what a shared name means only where this very part was spoken of: "engine off. So the pump's good" is no oil pump
_NO_WIRING = frozenset({"battery", "starter-motor", "engine"})
_NOT_BY_SYSTEM = frozenset({"oil-system", "main-relay"})
_WIRED = frozenset("wire wires wiring loom harness".split())
_PINS = frozenset({"pin", "pins", "terminal", "terminals"})
_OWN = frozenset({"its", "it's"})
OUTSIDE = ""  # the part whose connector it is stands outside the catalogue
_MARKS_A_PLACE = frozenset({"cyl", "cylinder", "cyls", "pot"})
# parts whose own name takes "plug": "spark plug" is no connector
_NOT_PLUGGED = frozenset({"spark-plug", "cylinder", "oil-system", "cooling-system", "cylinder-head", "relay", "fuse"})
_HAS_SCREWED_PLUGS = frozenset("sump gearbox diff differential axle tank head core oil glow block".split())
_SPARKED = frozenset({"ignition-lead", "cylinder", "spark-plug", "valve-train"})
_NEAR_LEAST = 5  # shorter words have too many neighbours


@dataclass(frozen=True, slots=True)
class Part:
    """A part named at words `first` to `last` (exclusive).

    `ids` are the components that the name may stand for, likeliest first; () for a part outside the catalogue.
    `plugged` is the part whose connector it is ("" for one outside the catalogue): a number measured there is said of
    that part. `told` where a part spoken of tells what a bare word means.
    """

    first: int
    last: int
    ids: tuple[str | None, ...]
    how: str
    name: str
    plugged: str | None = None
    told: bool = False

    @property
    def id(self) -> str | None:
        return self.ids[0] if self.ids else None


@dataclass(frozen=True, slots=True)
class _Entry:
    ids: tuple[str | None, ...]
    how: str


class PartNames:
    """The names of all parts, ready to be looked up."""

    def __init__(self, catalogue: Catalogue) -> None:
        data = packaged("catalogue", "names.yaml")
        self.names: Phrases[_Entry] = Phrases()
        shared = {str(name): tuple(ids) for name, ids in data["shared"].items()}
        for name, ids in shared.items():
            self.names.add(name, _Entry(ids, SHARED))
        for component in catalogue.components.values():
            entry = _Entry((component.id,), NAME)
            for name in (component.name, *component.also):
                self.names.add(name, entry, plurals=True)
        for component_id, names in data["also"].items():
            for name in names:
                self.names.add(name, _Entry((component_id,), NAME), plurals=True)
        for name in data["other"]:
            self.names.add(name, _Entry((), OTHER), plurals=True)
        self.meanings = Meanings.of(data)
        self.words = frozenset(word for word in self.names.vocabulary() if word.isalpha())
        self._near_pool: dict[str, list[str]] = {}
        for word in sorted(self.words):
            if len(word) >= _NEAR_LEAST:
                self._near_pool.setdefault(word[0], []).append(word)
        for component_id, names in data["heard"].items():
            for name in names:
                self.names.add(name, _Entry((component_id,), HEARD))
        self._real = frozenset(packaged("read", "real_words.yaml")["words"])
        self.systems = {component.id: component.system for component in catalogue.components.values()}
        self._near: dict[str, str | None] = {}
        self.sounding = Sounding(catalogue, self._single_names(catalogue, data["also"]))
        for word, meant in self.meanings.new_words().items():
            ids = (meant,) if meant in catalogue.components else ()
            self.names.add(word, _Entry(ids, BARE if meant == DROP else SHARED))
        for row in data["compounds"]:  # last, for these are no words that a misspelling is held against
            entry = _Entry((row["is"],), NAME) if row["is"] is not None else _Entry((), OTHER)
            for first, last in product(row["first"].split(), row["last"].split()):
                self.names.add(f"{first} {last}", entry, plurals=True)

    @staticmethod
    def _single_names(catalogue: Catalogue, also: dict[str, list[str]]) -> list[tuple[str, str]]:
        """(name, component) of every name that stands for one part alone."""
        own = [(name, one.id) for one in catalogue.components.values() for name in (one.name, *one.also)]
        return own + [(name, component_id) for component_id, names in also.items() for name in names]

    def near(self, word: str) -> str | None:
        """The word of a part's name that `word` is a near spelling of, or None.

        >>> # "injecter" is near "injector", "value" is a word of its own
        """
        if word in self._near:
            return self._near[word]
        found = None
        if len(word) >= _NEAR_LEAST and word not in self.words and word not in self._real and word.isalpha():
            from rapidfuzz import process
            from rapidfuzz.distance import OSA

            most = 1 if len(word) < 8 else 2
            pool = self._near_pool.get(word[0], [])
            best = process.extractOne(word, pool, scorer=OSA.distance, score_cutoff=most)
            if best is not None:
                found = best[0]
        if len(self._near) < 50_000:  # a bound on memory in a long-running process
            self._near[word] = found
        return found


_MADE: dict[str, PartNames] = {}


def part_names(catalogue: Catalogue) -> PartNames:
    """The names of `catalogue`'s parts, made once for each content of its files."""
    made = _MADE.get(catalogue.key)
    if made is None:
        if len(_MADE) >= 8:
            _MADE.clear()
        made = _MADE[catalogue.key] = PartNames(catalogue)
    return made


def find_parts(toks: Sequence[Tok], names: PartNames) -> list[Part]:
    """Every part that the note names, from left to right.

    "The crank sensor plug has gone green" names one part, a connector; "injecter 3" names the injector.
    """
    spelt = _respelt(toks, names)
    parts: list[Part] = []
    for hit in names.names.scan(spelt):
        first, last = hit.first, hit.last
        how = hit.found.how
        ids = hit.found.ids
        if _is_no_part(spelt, first, last, ids) or (parts and first < parts[-1].last):
            continue
        if parts and toks[first].low in _MARKS_A_PLACE and last < len(toks) and toks[last].low.isdigit():
            continue  # "points: cyl 1 0.38": the cylinder is the place, not the part
        if any(spelt[i] is not toks[i] for i in range(first, last)):
            how = NEAR
        name = without_s(" ".join(tok.low for tok in spelt[first:last]))
        plugged: str | None = None
        if last < len(toks) and without_s(toks[last].low) in _PLUGGED and _takes_a_plug(ids, name):
            plugged, ids, how, last = (ids[0] if ids else None) or OUTSIDE, ("connector",), NAME, last + 1
            if last < len(toks) and toks[last].low in _PINS:
                last += 1  # "crank sensor plug pins"
        elif not ids and last < len(toks) and toks[last].low in _WIRED:
            ids, how, last = ("wiring-harness",), NAME, last + 1  # "neutral switch wire"
        elif last < len(toks) and toks[last].low in _FED and ids[:1] != ("fuse",):
            ids, how, last = ("fuse",), NAME, last + 1  # "fuel pump fuse"
        elif not ids and hit.found.how == OTHER and last < len(toks) and without_s(toks[last].low) == "switch":
            last += 1  # "brake lamp switch"
        elif _its_own_plug(toks, first, last, name, parts):
            plugged, ids, how = parts[-1].id or OUTSIDE, ("connector",), NAME  # "Beacon dead, 24 V at its plug"
        parts.append(Part(first, last, ids, how, name, plugged))
    return _settle(_with_misheard(toks, parts, names), names, toks)


def _with_misheard(toks: Sequence[Tok], parts: list[Part], names: PartNames) -> list[Part]:
    """The parts with those that were written as other words; one of these replaces a bare "sensor" or "relay" in it."""
    taken = {i for part in parts if part.how != SHARED for i in range(part.first, part.last)}
    misheard = [
        Part(one.first, one.last, (one.id,), HEARD, " ".join(tok.low for tok in toks[one.first : one.last]))
        for one in find_misheard(toks, taken, names.words, names.sounding)
    ]
    if not misheard:
        return parts
    heard = {i for part in misheard for i in range(part.first, part.last)}
    left = [part for part in parts if heard.isdisjoint(range(part.first, part.last))]
    return sorted([*left, *misheard], key=lambda part: part.first)


def _respelt(toks: Sequence[Tok], names: PartNames) -> Sequence[Tok]:
    """The words with near spellings put right; the same list where there is nothing to put right."""
    changed: list[Tok] | None = None
    known = names.words
    for i, tok in enumerate(toks):
        if tok.kind != WORD or tok.low in known or len(tok.low) < _NEAR_LEAST:
            continue
        low = without_s(tok.low)
        near = names.near(low)
        if near is not None:
            if changed is None:
                changed = list(toks)
            changed[i] = replace(tok, low=near)
    return toks if changed is None else changed


def _takes_a_plug(ids: tuple[str | None, ...], name: str) -> bool:
    """Whether a plug named right after a part is that part's connector: "rectifier plug", not "sump plug"."""
    if ids:
        return ids[0] not in _NOT_PLUGGED
    return _HAS_SCREWED_PLUGS.isdisjoint(name.split())


def _its_own_plug(toks: Sequence[Tok], first: int, last: int, name: str, parts: Sequence[Part]) -> bool:
    """ "Beacon dead, 24 V at its plug", "cleaned the plug on it"; a lead's and a cylinder's own plug is a spark plug."""
    if not parts or without_s(name) not in {"plug", "connector"} or parts[-1].id in _SPARKED:
        return False
    on_it = last + 1 < len(toks) and toks[last].low == "on" and without_s(toks[last + 1].low) in {"it", "that", "them"}
    return (first > 0 and toks[first - 1].low in _OWN) or on_it


def _is_no_part(toks: Sequence[Tok], first: int, last: int, ids: tuple[str | None, ...]) -> bool:
    """Words that look like a part's name and are something else here."""
    if last - first != 1:
        return False
    low = toks[first].low
    before = toks[first - 1].low if first else ""
    after = toks[last].low if last < len(toks) else ""
    if low == "ac":
        return before in {"volts", "v", "mv", "millivolts", "an"} or after in {"ripple", "volts", "voltage", "side"}
    if low in {"throttle", "throttles"}:
        return after in {"open", "closed", "wide", "full", "to", "shut"} or before in {"full", "wide", "part", "closed"}
    if low == "cranks":
        return True  # the deed, not the parts
    if low == "crank":
        return before in {"slow", "to", "won't", "not", "no", "would", "will", "it", "a", "good"} or after in {
            "over",
            "it",
            "no",
        }
    if low == "return":
        return before in {"to", "will", "a"} or after in {"to", "it", "visit"}
    if low in {"lead", "track", "head"}:
        return before in {"to", "will", "would"} and ids != ()
    if low == "spring":
        two = toks[first - 2].low if first > 1 else ""
        return before in {"this", "next", "last"} or (
            before == "the" and two in {"in", "until", "till", "by", "before"}
        )
    if low in {"wire", "wires"}:
        counted = (
            (toks[first - 1].kind == NUM or before in _FEW) and (not after or after == "," or toks[last].kind == NUM)
            if first
            else False
        )
        return after.startswith("brush") or counted  # "stator, three wires, 0.8, 0.8 and 2.6 ohms"
    if low in {"float", "floats"}:
        return before in {"end", "side", "axial", "shaft", "of", "crank", "hub", "bearing"}
    if low == "points":
        says = after in {"to", "at", "towards", "toward"} and before not in _SETS and not _number_after(toks, last + 1)
        return says or (before in {"some", "few", "all", "both"} and after == "of")
    if low in {"line", "lines"}:
        return after == "up" or before in {"in", "on"}  # "the marks line up"
    if low == "pressure":
        return before == "under"  # "left them under pressure"
    if low in {"socket", "sockets"}:
        return before in {"mm", "mil", "deep", "impact", "inch"}  # the tool
    if low == "oil":
        return after in {"soaked", "stained", "contaminated", "covered"}  # "timing belt oil soaked"
    if low == "tracking":
        return before in {"no", "any", "carbon", "without", "of"} or after in {"across", "between", "inside"}
    if low == "switch":
        then = toks[last + 1].low if after == "-" and last + 1 < len(toks) else after
        return then in {"off", "on", "over"} and before not in {"the", "this"}  # "ten minutes after switch-off"
    if low == "meter":
        two = toks[first - 2].low if first > 1 else ""
        return before in {"the", "my", "a"} and two in {"on", "by", "with", "to"}  # what it was read on
    if low in {"earth", "ground"} and before == "to":
        return not _TO_NOTHING.isdisjoint(tok.low for tok in toks[max(0, first - 5) : last + 4])  # "to earth no short"
    if low == "ground":
        two = toks[first - 2].low if first > 1 else ""
        return before in {"be", "been", "being", "off", "was", "were"} or (before == "the" and two in {"on", "off"})
    if low == "earth":
        return before in {"on", "what"} and after != "strap" and before == "what"
    return False


_TO_NOTHING = frozenset("short shorts shorted shorting continuity open infinite ol megohm megohms leak".split())
_FED = frozenset({"fuse", "fuses"})
_FEW = frozenset("two three four both all".split())
_SETS = frozenset("the set gapped clean cleaned filed dressed new fit fitted my his its these those old put".split())


def _number_after(toks: Sequence[Tok], at: int) -> bool:
    return at < len(toks) and toks[at].kind == NUM


def _settle(parts: list[Part], names: PartNames, toks: Sequence[Tok]) -> list[Part]:
    """Names that several parts share, told apart by the part that is spoken of, else by the system in focus."""
    settled: list[Part] = []
    systems: list[str] = []
    for k, part in enumerate(parts):
        chosen = part
        after = parts[k + 1] if k + 1 < len(parts) else None
        told, meant = (
            names.meanings.meaning(part, settled, after, toks, names.systems)
            if part.how != HEARD and part.plugged is None
            else (False, None)
        )
        if told:
            chosen = replace(
                part, ids=() if meant is None else (meant,), how=OTHER if meant is None else NAME, told=True
            )
        elif part.how == BARE:
            continue
        elif part.name in {"cap", "caps"} and _lifts(part, toks):
            chosen = replace(part, ids=("radiator-cap",), how=NAME)
        elif part.how == SHARED and part.ids:
            chosen = replace(part, ids=_order(part, settled, systems, names))
        if chosen.plugged and k and parts[k - 1].id == chosen.plugged != _last_id(settled):
            chosen = replace(chosen, plugged=_last_id(settled) or OUTSIDE)
        settled.append(chosen)
        if chosen.ids and chosen.ids[0] is not None:
            systems.append(names.systems.get(chosen.ids[0], ""))
    return settled


def _last_id(settled: list[Part]) -> str | None:
    """The component of the part settled last."""
    return settled[-1].id if settled else None


_OF_A_PRESSURE_CAP = frozenset(
    "lifts lift lifted lifting blows blew blowing holds held vents releases released stamped pops popped".split()
)


def _lifts(part: Part, toks: Sequence[Tok]) -> bool:
    """Whether a bare cap does what a radiator's does: "cap lifts at 0.6"."""
    return any(tok.low in _OF_A_PRESSURE_CAP for tok in toks[part.last : part.last + 3])


def _order(part: Part, before: list[Part], systems: list[str], names: PartNames) -> tuple[str | None, ...]:
    word = part.name.split()[-1]
    ids = list(part.ids)
    for earlier in reversed(before):
        # "the sensor" after "the crank sensor": the part whose name ends in the same noun
        if (
            earlier.ids
            and earlier.ids[0] in ids
            and earlier.name.split()[-1].rstrip("s") == word.rstrip("s")
            and len(earlier.name.split()) > 1
        ):
            return (earlier.ids[0], *(other for other in ids if other != earlier.ids[0]))
        if earlier.how == OTHER and earlier.name.split()[-1].rstrip("s") == word.rstrip("s"):
            return ()
        if earlier.id in ids and earlier.how == NAME and earlier.id not in _ANY_OF_ITS_SORT:
            return (earlier.id, *(other for other in ids if other != earlier.id))  # "O2 stuck low ... the sensor"
    for system in reversed(systems[-6:]):
        for candidate in ids:
            if candidate is None or names.systems.get(candidate) != system:
                continue
            if candidate == "connector" and all(
                one.id in _NO_WIRING for one in before[-3:] if names.systems.get(one.id or "") == system
            ):
                continue  # "cranking 10.1 V. Plug fine, coffee coloured"
            if candidate not in _NOT_BY_SYSTEM or any(one.id == candidate for one in before):
                return (candidate, *(other for other in ids if other != candidate))
        if None in ids and system == "electrical":
            return ()
    return tuple(ids)
