"""Sides, axles and corners: "front left", "N/S/F", "L 0.05, R 0.13", "17.3 near and 17.2 off"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .numbers import candidates_at
from .places_said import Place
from .words import NUM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from .words import Tok

CORNERS = {
    "nsf": "front-left", "osf": "front-right", "nsr": "rear-left", "osr": "rear-right",
    "fl": "front-left", "fr": "front-right", "rl": "rear-left", "rr": "rear-right",
    "lf": "front-left", "rf": "front-right", "lr": "rear-left",
    "lhf": "front-left", "rhf": "front-right", "lhr": "rear-left", "rhr": "rear-right",
    "nf": "front-left", "of": "", "flh": "front-left", "frh": "front-right",
}  # fmt: skip


LEFT = frozenset(
    ["ns", "left's", "nearside's", "left-hand", "nearside", "left", "lh", "near-side", "passenger", "n/s", "nside", "l"]
)


RIGHT = frozenset(
    [
        "os",
        "right's",
        "offside's",
        "right-hand",
        "offside",
        "right",
        "rh",
        "off-side",
        "driver's",
        "drivers",
        "driver",
        "o/s",
        "oside",
    ]
)


_SIDE_LETTERS = frozenset({"l", "r"})


_OF_A_CORNER = frozenset(
    "disc discs rotor rotors pad pads drum drums caliper flexi hose hub bearing tyre tyres tire wheel shoe shoes".split()
)


AXLE = {
    "front": "front", "fronts": "front", "rear": "rear", "rears": "rear", "back": "rear",
}  # fmt: skip


_MINUS = frozenset("-−–")  # "camber L -0.2, R -0.4"


def side_letters(toks: Sequence[Tok], unit_at: frozenset[int]) -> frozenset[int]:
    """Where L and R alone name a side: "L 0.05, R 0.13", "R disc". One letter alone is none, unless its part or axle says so."""
    found: dict[str, list[int]] = {}
    sure = False
    for i, tok in enumerate(toks):
        if tok.low not in _SIDE_LETTERS or i in unit_at or i + 1 >= len(toks) or toks[i + 1].line:
            continue
        if (
            i
            and not tok.line
            and (
                (toks[i - 1].kind == NUM and toks[i + 1].kind != NUM)
                or (tok.glued and toks[i - 1].low not in {"(", "|"})
            )
        ):
            continue
        after = toks[i + 1]
        named = after.low in _OF_A_CORNER
        below = (
            after.low in _MINUS
            and not after.glued
            and i + 2 < len(toks)
            and toks[i + 2].kind == NUM
            and toks[i + 2].glued
        )
        if named or below or after.low in {":", "="} or (after.kind == NUM and not after.glued):
            found.setdefault(tok.low, []).append(i)
            sure = sure or named or (i > 0 and toks[i - 1].low in AXLE)
    if len(found) < 2 and not sure:
        return frozenset()
    return frozenset(i for ats in found.values() for i in ats)


def lettered(toks: Sequence[Tok], i: int, axle: str | None) -> Place:
    return Place(i, i + 1, corner(axle or usual_axle(toks, i), toks[i].low), "corner")


def after_a_value(toks: Sequence[Tok], i: int) -> bool:
    """ "seventeen point three near and seventeen point two off": a side said short, after its value, beside the other."""
    if not i or (i + 1 < len(toks) and toks[i + 1].low == "side"):
        return False
    if toks[i - 1].kind != NUM and not candidates_at(list(toks[i - 1 : i]), 0) and toks[i - 1].low not in _MEASURED_IN:
        return False
    if toks[i].low == "off":
        return any(tok.low == "near" for tok in toks[max(0, i - _APART) : i])
    ends = i + 1 == len(toks) or toks[i + 1].line or toks[i + 1].low in {",", ".", ";", "and", "&", "/", "both", "then"}
    return ends and any(tok.low == "off" for tok in toks[i + 1 : i + _APART])


_MEASURED_IN = frozenset("mm mil mils millimetres millimeters thou bar psi pounds degrees percent".split())


_APART = 12  # words within which the other side is said


def beside_side(toks: Sequence[Tok], i: int) -> bool:
    near = [toks[k].low for k in (i - 1, i + 1) if 0 <= k < len(toks)]
    return any(word in LEFT or word in RIGHT for word in near)


_AT_THE = frozenset({"the", "at", "in", "round"})
_AT_BACK = frozenset(
    "brake brakes drum drums disc discs pad pads shoe shoes tyre tyres tire tires wheel wheels axle bearing bearings".split()
)


def at_the_back(toks: Sequence[Tok], i: int) -> bool:
    """ "brakes at the back", "tyres in the back": an axle, no place behind something."""
    if not i or toks[i - 1].low not in _AT_THE or (i + 1 < len(toks) and toks[i + 1].low == "of"):
        return False
    return any(tok.low in _AT_BACK for tok in toks[max(0, i - 5) : i + 3])


AT_THE_REAR = frozenset(["drum", "drums", "shoe", "shoes"])  # common practice, no source


def usual_axle(toks: Sequence[Tok], i: int) -> str:
    """The axle of a side where none is said: that of the drums and shoes at the rear, else the front."""
    return "rear" if any(tok.low in AT_THE_REAR for tok in toks[i : i + 3]) else "front"


def corner(axle: str, word: str) -> str:
    return f"{axle}-{'left' if word in LEFT else 'right'}"


def with_axle(toks: Sequence[Tok], i: int) -> Place | None:
    """ "front left", "rear nearside", "front N/S"."""
    j = i + 1
    if j < len(toks) and toks[j].low == "-" and toks[j].glued:
        j += 1
    if j < len(toks):
        word, last = side_word(toks, j)
        if word:
            return Place(i, last, corner(AXLE[toks[i].low], word), "corner")
    return None


def side_word(toks: Sequence[Tok], i: int) -> tuple[str, int]:
    """The side named at `i` ("n/s" is three pieces) and the word after it, or ("", i)."""
    low = toks[i].low
    if low in {"n", "o"} and slashed_at(toks, i) is not None:
        return "", i
    if low in {"n", "o"} and i + 2 < len(toks) and toks[i + 1].low == "/" and toks[i + 2].low == "s":
        return ("ns" if low == "n" else "os"), i + 3
    if low in {"near", "off"} and i + 1 < len(toks) and toks[i + 1].low == "side":
        return ("ns" if low == "near" else "os"), i + 2
    if (low in LEFT or low in RIGHT) and low not in {"l", "r"}:
        last = i + 1
        if last < len(toks) and toks[last].low in {"hand", "side"}:
            last += 1
        return low, last
    return "", i


def side_at(toks: Sequence[Tok], i: int, axle: str | None) -> Place | None:
    """A side: with its axle said after it ("left front"), else with the axle in focus."""
    if toks[i].low == "right" and not _is_side(toks, i):
        return None
    if toks[i].low == "left" and _is_deed(toks, i):
        return None
    word, last = side_word(toks, i)
    if not word:
        return None
    j = last + 1 if last < len(toks) and toks[last].low == "-" else last
    if j < len(toks) and toks[j].low in AXLE:
        return Place(i, j + 1, corner(AXLE[toks[j].low], word), "corner")
    return Place(i, last, corner(axle or usual_axle(toks, i), word), "corner")


def slashed_at(toks: Sequence[Tok], i: int) -> Place | None:
    """ "n/s/f", "o/s/r"."""
    run = [tok.low for tok in toks[i : i + 5]]
    if len(run) == 5 and run[1] == run[3] == "/" and run[2] == "s" and run[4] in {"f", "r"}:
        return Place(
            i, i + 5, f"{'front' if run[4] == 'f' else 'rear'}-{'left' if run[0] == 'n' else 'right'}", "corner"
        )
    return None


_WHO = frozenset(
    "i i'd i've we we'd we've he he'd he's she she'd they they'd they've somebody someone had been being just".split()
)
_WHAT = frozenset("it them him alone over everything that those as well".split())


def _is_deed(toks: Sequence[Tok], i: int) -> bool:
    """ "I'd left the vacuum pipe on", "left it alone": no side."""
    before, after = (toks[i - 1].low if i else ""), (toks[i + 1].low if i + 1 < len(toks) else "")
    if before in _WHO or after in _WHAT:
        return True
    return after == "the" and i + 2 < len(toks) and toks[i + 2].low not in {"same", "worse", "better", "worst"}


def _ends_number(toks: Sequence[Tok], i: int) -> bool:
    return (
        toks[i].low in _MEASURED_IN
        or toks[i].low in {"half", "quarter"}
        or bool(candidates_at(list(toks[i : i + 1]), 0))
    )


def _is_side(toks: Sequence[Tok], i: int) -> bool:
    """ "right" is a side, not "right, ..." or "right up to" or "all right"."""
    before = toks[i - 1].low if i else ""
    after = toks[i + 1].low if i + 1 < len(toks) else ""
    if i and (toks[i - 1].kind == NUM or before in {"mm", "bar", "psi", "thou", "mil", "degrees", "in"}):
        return True
    if before == "the" and i > 1 and toks[i - 2].low in {"on", "at", "to"}:
        return True  # "soaked on the right."
    across = any(tok.low == "left" for tok in toks[max(0, i - _APART) : i])
    if across and after in {",", ".", "and", ";"} and _ends_number(toks, i - 1):
        return True  # "two millimetres left and one and a half right, minimum one"
    if before in {"all", "was", "came", "come", "went", "is", "that's", "it's"} or after in {
        ",",
        ".",
        "up",
        "round",
        "down",
        "then",
        "so",
        "on",
        "in",
        "at",
        "away",
        "through",
        "back",
    }:
        return False
    return bool(before) or after in {"front", "rear", "side", "hand"} or after.isalpha()
