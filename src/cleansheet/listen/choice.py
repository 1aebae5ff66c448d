"""Which of several wordings of one stretch to write down, and how sure that makes its numbers.

The recogniser's own score is joined by what the trade would say: a number followed by a unit, words out of the
catalogue's names, a unit that the named part is measured in. Whatever else was in the running stays beside the words.
The weights were chosen on the tuning half of tests/bench/speech (docs/speech-figures.md).
"""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from cleansheet.catalogue.test_words import test_words

from .alike import Token, tokens
from .hints import packaged_hints
from .phrasing import packaged_phrasing
from .soundalikes import SoundAlikes, phrases_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from cleansheet.catalogue import Catalogue

    from .ear import Guess

# what a wording gains or loses, in natural log units
NUMBER_WITH_UNIT = 2.0
BARE_NUMBER = -0.5
TRADE_WORD = 0.5
PART_NAMED = 0.5
UNIT_FITS = 1.0
UNIT_STRANGE = -1.5
PHRASING = 0.3  # of the log probability as workshop talk
SHARPNESS = 2.0  # how fast a rival's weight falls with its distance; above 1, because the scores are overconfident

# what is measured, by canonical unit (`alike.UNITS`)
MEASURES = {
    "volt": "voltage", "millivolt": "voltage", "amp": "current", "milliamp": "current", "ohm": "resistance",
    "kilohm": "resistance", "bar": "pressure", "psi": "pressure", "inch": "length", "thou": "length",
    "millimetre": "length", "degree": "angle or temperature", "rpm": "speed", "percent": "share", "ppm": "share",
    "millisecond": "pulse", "litre": "flow", "millilitre": "flow", "newton": "torque", "metre": "torque",
    "minute": "time", "second": "time",
}  # fmt: skip
ALWAYS_FITS = frozenset({"time", "speed", "angle or temperature"})  # conditions, said with any reading
TIME_WORDS = frozenset({"after", "for", "in", "within", "every", "took", "takes", "last", "over", "by", "ran", "then"})
# words that follow a number without being its misheard unit
SMALL_WORDS = frozenset(
    (
        "a",
        "after",
        "and",
        "at",
        "for",
        "from",
        "if",
        "in",
        "is",
        "it",
        "of",
        "off",
        "on",
        "or",
        "so",
        "the",
        "then",
        "to",
    )
)
# words after which a small number says which one, not how much
NUMBERED = frozenset(
    "number no cylinder cylinders injector injectors plug plugs coil coils pot pin terminal cell bore piston".split()
)
MOST_NUMBERED = 12
# UCUM code of a test → what it measures, and the spoken units to try for it
UCUM = {
    "V": ("voltage", ("volts", "millivolts")), "mV": ("voltage", ("millivolts", "volts")),
    "A": ("current", ("amps", "milliamps")), "mA": ("current", ("milliamps", "amps")),
    "Ohm": ("resistance", ("ohms", "kilohms")), "kOhm": ("resistance", ("kilohms", "ohms")),
    "bar": ("pressure", ("bar", "psi")), "[psi]": ("pressure", ("psi", "bar")),
    "[in_i'Hg]": ("pressure", ("inches of mercury",)), "mm": ("length", ("millimetres", "thou")),
    "[mil_i]": ("length", ("thou", "millimetres")), "deg": ("angle or temperature", ("degrees",)),
    "Cel": ("angle or temperature", ("degrees",)), "{rev}/min": ("speed", ("rpm",)), "%": ("share", ("percent",)),
    "[ppm]": ("share", ("ppm",)), "ms": ("pulse", ("milliseconds",)), "L/min": ("flow", ("litres a minute",)),
    "mL/min": ("flow", ("millilitres a minute",)), "N.m": ("torque", ("newton metres",)),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Trade:
    """What the catalogue lets one expect: `words` of its names; per spoken name, what is measured there and in what."""

    words: frozenset[str]
    measured: Mapping[str, frozenset[str]]
    units: Mapping[str, tuple[str, ...]]
    pattern: re.Pattern[str] | None
    alikes: SoundAlikes = field(default_factory=lambda: SoundAlikes(()))

    def parts_in(self, text: str) -> list[str]:
        """The names of parts in a text, longest first where they overlap."""
        return [found.lower() for found in self.pattern.findall(text)] if self.pattern is not None else []


def trade(catalogue: Any, names: Iterable[str] = ()) -> Trade:
    """The catalogue's names and units, ready for weighing wordings; without a catalogue, the packaged words alone."""
    words = {word for name in names for word in _words(name)} | set(packaged_hints()["trade_words"])
    words |= {word for name in packaged_hints()["tellings"][0]["names"] for word in _words(name)}
    measured: dict[str, set[str]] = {}
    units: dict[str, dict[str, None]] = {}
    for name, unit in _measured(catalogue) if catalogue is not None else ():
        words |= _words(name)
        kind, spoken = UCUM.get(unit, (None, ()))
        if kind is not None:
            measured.setdefault(name.lower(), set()).add(kind)
            units.setdefault(name.lower(), {}).update(dict.fromkeys(spoken))
    longest_first = sorted(measured, key=len, reverse=True)
    pattern = re.compile(rf"\b(?:{'|'.join(map(re.escape, longest_first))})\b", re.IGNORECASE) if measured else None
    return Trade(
        frozenset(words),
        {name: frozenset(kinds) for name, kinds in measured.items()},
        {name: tuple(spoken) for name, spoken in units.items()},
        pattern,
        SoundAlikes(phrases_of(catalogue)) if catalogue is not None else SoundAlikes(()),
    )


def _measured(catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """What is measured in which unit (UCUM): each name of a part with all its tests, each phrase that names one test."""
    for component in catalogue.components.values():
        for name in (component.name, *component.also):
            yield name, ""
            for test in catalogue.tests_of(component.id):
                yield name, test.unit
    said = [
        (says, test_id) for test_id, words in test_words().items() for says in words.says if test_id in catalogue.tests
    ]
    often = Counter(says for says, _ in said)
    for says, test_id in said:
        if often[says] == 1 and len(says) > 4:
            yield says, catalogue.tests[test_id].unit


def _words(name: str) -> set[str]:
    return {word for word in re.findall(r"[a-z]+", name.lower()) if len(word) > 2}


def worth(text: str, known: Trade) -> float:
    """What the trade would say for a wording.

    "Coil secondary, 8.4 kilohms" gains by a number with a unit, two words, and a unit that coils are measured in.
    """
    found = tokens(text.split())
    parts = known.parts_in(text)
    kinds = frozenset[str]().union(*(known.measured[part] for part in parts)) if parts else None
    gain = PART_NAMED * len(parts)
    for at, token in enumerate(found):
        if token.kind == "word" and token.form in known.words:
            gain += TRADE_WORD
        if token.kind != "number":
            continue
        after = found[at + 1] if at + 1 < len(found) else None
        if after is None or after.kind != "unit":
            gain += BARE_NUMBER
            continue
        gain += NUMBER_WITH_UNIT
        kind = MEASURES.get(after.form)
        if kinds and kind not in ALWAYS_FITS:
            gain += UNIT_FITS if kind in kinds else UNIT_STRANGE
    return gain


@dataclass(frozen=True, slots=True)
class Rival:
    """A wording with its weight among all of them (they add up to 1)."""

    guess: Guess
    weight: float


def ranked(groups: Iterable[list[Guess]], known: Trade) -> list[Rival]:
    """All wordings, each once with its best score, the one to write down first."""
    best: dict[str, Guess] = {}
    for group in groups:
        for guess in group:
            if guess.text not in best or guess.score > best[guess.text].score:
                best[guess.text] = guess
    if not best:
        return []
    # scores are means per token; a common length makes them sums, so that a short wording does not win by shortness
    length = sum(len(guess.tokens) for guess in best.values()) / len(best)
    said = packaged_phrasing()
    values = {
        text: guess.score * length + worth(text, known) + PHRASING * said.log_probability(text)
        for text, guess in best.items()
    }
    top = max(values.values())
    weights = {text: math.exp((value - top) / SHARPNESS) for text, value in values.items()}
    whole = sum(weights.values())
    order = sorted(best, key=lambda text: -values[text])
    return [Rival(best[text], weights[text] / whole) for text in order]


def _is_a_time(found: list[Token], at: int) -> bool:
    """Whether the number at a place may be a time: "after", "for" or the like before it, or another reading beside it."""
    if any(token.form in TIME_WORDS for token in found[max(0, at - 3) : at]):
        return True
    pairs = pairwise(found)
    return any(
        one.kind == "number" and unit.kind == "unit" and MEASURES.get(unit.form) != "time" for one, unit in pairs
    )


def _says_which(found: list[Token], at: int) -> bool:
    """Whether the number at a place names one of several, where another number with a unit follows it.

    The 6 of "injector six measures two point four ohms".
    """
    if at == 0 or found[at - 1].form not in NUMBERED or not found[at].form.isdigit():
        return False
    following = found[at + 1 :]
    if not 0 < int(found[at].form) <= MOST_NUMBERED or not following or following[0].kind == "unit":
        return False
    return any(one.kind == "number" and unit.kind == "unit" for one, unit in pairwise(following))


def strange_units(text: str, known: Trade) -> list[tuple[Token, Token | None, tuple[str, ...]]]:
    """Numbers with no unit, or one that the named part is not measured in: (number, word after it, units to try)."""
    parts = known.parts_in(text)
    if not parts:
        return []
    kinds = frozenset[str]().union(*(known.measured[part] for part in parts))
    units = tuple(dict.fromkeys(unit for part in parts for unit in known.units[part]))
    found = tokens(text.split())
    out: list[tuple[Token, Token | None, tuple[str, ...]]] = []
    for at, token in enumerate(found):
        if token.kind != "number":
            continue
        after = found[at + 1] if at + 1 < len(found) else None
        if _says_which(found, at):
            continue
        if after is not None and after.kind == "unit":
            kind = MEASURES.get(after.form)
            if kind in kinds or (kind in ALWAYS_FITS and (kind != "time" or _is_a_time(found, at))):
                continue
            out.append((token, after, (*units, "minutes")))  # a time may be said with any reading
            continue
        if after is not None and after.kind == "number":
            continue  # a list: its unit comes at the end
        if after is not None and after.form in SMALL_WORDS:
            continue
        out.append((token, after, units))
    return out
