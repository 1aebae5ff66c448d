"""A key that words share when they sound alike in English: what was misheard is often spelt quite differently.

A short set of rewrites in the manner of the published phonetic codes (Philips' Metaphone, 1990), from memory and cut
down: consonants by sound, vowels only at the start.
"""

from __future__ import annotations

import re
from functools import lru_cache

_REWRITES = tuple(
    (re.compile(pattern), sound)
    for pattern, sound in (
        (r"^(kn|gn|pn|wr)", lambda found: found.group()[1]),
        (r"^x", "s"),
        (r"^wh", "w"),
        (r"mb$", "m"),
        (r"tch", "x"),
        (r"sch", "sk"),
        (r"[ct]ia|tio|sio|sh", "x"),
        (r"ch", "x"),
        (r"dg(?=[eiy])", "j"),
        (r"ph", "f"),
        (r"gh(?=[^aeiou]|$)", ""),
        (r"gh", "g"),
        (r"th", "0"),
        (r"ck", "k"),
        (r"c(?=[eiy])", "s"),
        (r"[cq]", "k"),
        (r"x(?=.)(?<=[aeiou]x)", "ks"),
        (r"g(?=[eiy])", "j"),
        (r"z", "s"),
        (r"v", "f"),
        (r"d(?=$)", "t"),
        (r"h", ""),
        (r"w(?![aeiou])", ""),
        (r"y(?![aeiou])", ""),
    )
)


@lru_cache(maxsize=8192)
def sound_key(word: str) -> str:
    """The sound of a word, or of several written as one.

    >>> sound_key("carburettor") == sound_key("carburetor"), sound_key("brake") == sound_key("break")
    (True, True)
    >>> sound_key("coil") == sound_key("cap")
    False
    """
    text = re.sub(r"[^a-z0-9]", "", word.lower())
    for pattern, sound in _REWRITES:
        text = pattern.sub(sound, text)
    text = re.sub(r"(.)\1+", r"\1", text)
    return text[:1].translate(str.maketrans("eiouy", "aaaaa")) + re.sub(r"[aeiouy]", "", text[1:])
