"""How words sound, roughly, and how far two of them are apart: for names that a recogniser wrote as other words.

English spelling is turned into some thirty sounds by rules, good enough to see that "ultrometer" is an alternator and
"earth's trap" an earth strap. The distance is an edit distance in which sounds made alike cost little: voiced for
unvoiced, one nasal for another, any vowel for another, an r behind a vowel that many speakers leave out.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

# spelling → sounds, tried in this order at each place; lower-case vowels, capitals for sounds that take two letters:
# T th, S sh, C ch, J j, N ng, A as in "day", I as in "high", O as in "low", U as in "too", W as in "how", E as in "see"
_RULES = [
    ("tion", "S@n"), ("sion", "S@n"), ("ture", "C@"), ("ssure", "S@"), ("ough", "O"), ("augh", "o"), ("eigh", "A"),
    ("igh", "I"), ("tch", "C"), ("dge", "J"), ("sch", "sk"), ("eau", "O"), ("air", "e@"), ("ear", "E@"), ("eer", "E@"),
    ("our", "o@"), ("oar", "o@"), ("ire", "I@"), ("yre", "I@"), ("ph", "f"), ("gh", "g"), ("th", "T"), ("sh", "S"), ("ch", "C"), ("ck", "k"),
    ("qu", "kw"), ("wh", "w"), ("wr", "r"), ("kn", "n"), ("ng", "N"), ("ce", "s_e"), ("ci", "s_i"), ("cy", "s_y"),
    ("ee", "E"), ("ea", "E"), ("oo", "U"), ("oa", "O"), ("ow", "O"), ("ou", "W"), ("oi", "oE"), ("oy", "oE"), ("ai", "A"),
    ("ay", "A"), ("ei", "A"), ("ie", "E"), ("ue", "U"), ("ew", "U"), ("au", "o"), ("aw", "o"),
    ("x", "ks"), ("c", "k"), ("q", "k"), ("j", "J"), ("y", "i"),
]  # fmt: skip
_SOUND = dict(_RULES)
_PIECE = re.compile("|".join(re.escape(spelling) for spelling, _ in _RULES) + "|.")
_LETTERS = dict(zip(
    "abcdefghijklmnopqrstuvwxyz",
    "A bE sE dE E ef JE AC I JA kA el em en O pE kU ar es tE yU vE d@blyU eks wI zed".split(), strict=True))  # fmt: skip
VOWELS = frozenset("aeiou@AEIOUW")
_CLASSES = ("pb", "td", "kg", "fv", "sz", "SCJ", "mnN", "lr", "Tf", "Td", "sS", "zJ", "wv", "TS", "Ts")
_PLACES = ("ptk", "bdg", "fTsSh", "vzJ", "lrwy", "kC", "tC", "dJ")
_ROUGH = str.maketrans({
    **dict.fromkeys("aeiou@AEIOUW", "a"), **dict.fromkeys("pb", "p"), **dict.fromkeys("td", "t"), **dict.fromkeys("kg", "k"),
    **dict.fromkeys("fvT", "f"), **dict.fromkeys("szSCJ", "s"), **dict.fromkeys("mnN", "n"), **dict.fromkeys("lr", "l"), "h": "",
    "y": "",
})  # fmt: skip


@lru_cache(maxsize=16_384)
def sounds(text: str) -> str:
    """The sounds of a word or several, without the gaps between words.

    >>> sounds("earth's trap"), sounds("earth strap")
    ('E@Tstrap', 'E@Tstrap')
    """
    return "".join(_word(word) for word in re.findall(r"[a-z]+", text.lower().replace("'", "")))


def _word(word: str) -> str:
    if len(word) <= 4 and not set(word) & set("aeiouy"):
        return "".join(_LETTERS[letter] for letter in word)  # tps, ht: said letter by letter
    silent = len(word) > 3 and word.endswith("e") and word[-2] not in "aeiou"
    word = word[:-1] if silent else word
    word = re.sub(r"([b-df-hj-np-tv-z])\1", r"\1", word)  # a doubled consonant is one sound
    out = ""
    at = 0
    while at < len(word):
        found = _PIECE.match(word, at)
        piece = found.group() if found else word[at]
        said = _SOUND.get(piece, piece)
        if "_" in said:  # "ce": the c is soft, the vowel is read for itself
            out += "s"
            at += 1
            continue
        out += said
        at += len(piece)
    if silent and len(out) > 1 and out[-2:-1] in "aiou" and out[-1] not in VOWELS:
        out = out[:-2] + {"a": "A", "i": "I", "o": "O", "u": "U"}[out[-2]] + out[-1]
    return re.sub(r"[aeiou]r$", "@r", re.sub(r"(.)\1+", r"\1", out))


@lru_cache(maxsize=4096)
def _swap(one: str, other: str) -> float:
    """What it costs that one sound was heard for another."""
    if one in VOWELS and other in VOWELS:
        return 0.25 if "@" in (one, other) else 0.4
    if one in VOWELS or other in VOWELS:
        return 1.2
    if any(one in alike and other in alike for alike in _CLASSES):
        return 0.35
    if any(one in alike and other in alike for alike in _PLACES):
        return 0.6
    return 1.0


def _drop(run: str, at: int) -> float:
    """What it costs that a sound was left out or put in."""
    sound = run[at]
    if sound in VOWELS:
        return 0.35 if sound == "@" else 0.6
    if sound == "r" and at and run[at - 1] in VOWELS and (at + 1 == len(run) or run[at + 1] not in VOWELS):
        return 0.2  # "alternator" ends in a vowel for many
    if sound in "hy":
        return 0.5
    if at + 1 == len(run) and sound in "sztd":
        return 0.4  # a plural, a swallowed ending
    return 0.9


def distance(one: str, other: str, most: float = 99.0) -> float:
    """How far two runs of sounds are apart, about 1 a sound that is another; stops above `most`."""
    before = [0.0]
    for at in range(len(other)):
        before.append(before[-1] + _drop(other, at))
    for i, sound in enumerate(one):
        gone = _drop(one, i)
        row = [before[0] + gone]
        for j, its in enumerate(other):
            change = before[j] + (0.0 if sound == its else _swap(sound, its))
            row.append(min(change, before[j + 1] + gone, row[j] + _drop(other, j)))
        if min(row) > most:
            return most + 1.0
        before = row
    return before[-1]


def unlikeness(said: str, name: str, most: float = 1.0) -> float:
    """The distance of two runs of sounds over the length of the name's: 0 the same, 1 nothing alike."""
    size = max(len(name), 1)
    return distance(said, name, most * size) / size


def rough(run: str) -> str:
    """Sounds with those made alike as one, for a quick first look: "dwel" → "twal"."""
    return run.translate(_ROUGH)


class Roughly:
    """Runs of sounds for a quick first look: which of them are worth an exact one."""

    def __init__(self, runs: Iterable[str]) -> None:
        self._rough = {run: rough(run) for run in runs}

    def near(self, said: str) -> list[str]:
        """The runs of which at most two fifths, roughly taken, are other sounds than those of `said`, nearest first."""
        from rapidfuzz import process
        from rapidfuzz.distance import Levenshtein

        mine = rough(said)
        most = max(1, round(0.4 * len(mine)))
        found = process.extract(mine, self._rough, scorer=Levenshtein.distance, score_cutoff=most, limit=None)
        return [run for _, _, run in found]
