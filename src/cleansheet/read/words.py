"""The first step of reading: a note cut into words, numerals and signs, each with its place.

One regular expression does it, so a glued reading ("12.6V", "95ft-lb") comes apart where digits meet letters, and the
pieces together with the white space between them are the text again, to the letter.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# numeral: digits with inner separators ("23,410", "0.98", "1.265"), or a leading point (".80")
# word: letters of any script with inner apostrophes ("don't", "cylinder's")
_PIECE = re.compile(
    r"(?P<num>(?<![\d.,])\.\d+|\d+(?:[.,]\d+)*)|(?P<vulgar>[¼-¾⅐-⅞])|(?P<word>[^\W\d_¼-¾⅐-⅞]+(?:['’][^\W\d_¼-¾⅐-⅞]+)*)|(?P<other>[^\s])",
)

NUM, WORD, SIGN = "num", "word", "sign"
_KINDS = {"num": NUM, "vulgar": WORD, "word": WORD, "other": SIGN, "sign": SIGN}


@dataclass(slots=True, unsafe_hash=True)  # made so often that freezing it would cost a hundredth of the time
class Tok:
    """A piece of the text. `low` is its lower case with plain apostrophes.

    `glued` is true where nothing stands between it and the piece before; `line` is true on the first piece of a line.
    """

    i: int
    text: str
    low: str
    start: int
    end: int
    kind: str
    glued: bool
    line: bool


def words(text: str) -> list[Tok]:
    """Cut `text` into pieces.

    >>> [tok.text for tok in words("Coil 0.7ohm, that's fine")]
    ['Coil', '0.7', 'ohm', ',', "that's", 'fine']
    """
    toks: list[Tok] = []
    end = 0
    for i, found in enumerate(_PIECE.finditer(text)):
        start = found.start()
        piece = found.group()
        gap = text[end:start]
        low = piece.lower()
        if "’" in low:
            low = low.replace("’", "'")
        line = i == 0 or "\n" in gap or "\r" in gap
        end = found.end()
        toks.append(
            Tok(
                i,
                piece,
                low,
                start,
                end,
                _KINDS[found.lastgroup or SIGN],
                not gap and i > 0,
                line,
            )
        )
    return toks


def without_s(low: str) -> str:
    """A lower-case word without its "'s": "pump's" as "pump"."""
    return low.removesuffix("'s")
