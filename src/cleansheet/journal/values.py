"""Values of a query: "above 9 kohm", "between 2 and 3 bar", "0.5 ohm", ">= 140 psi"; a bare number is none."""

from __future__ import annotations

import re
from functools import lru_cache

from .asking import Span
from .sizes import to_base

_NUMBER = r"(?<![\w.,-])[-−]?\d+(?:[.,]\d+)*"
_COMPARATORS: tuple[tuple[str, str], ...] = (
    (r">=|≥|at\s+least|no\s+less\s+than|from|minimum\s+of", ">="),
    (r"<=|≤|at\s+most|no\s+more\s+than|up\s+to|maximum\s+of", "<="),
    (r">|above|over|more\s+than|greater\s+than|higher\s+than|exceeding|beyond", ">"),
    (r"<|below|under|less\s+than|lower\s+than|smaller\s+than|short\s+of", "<"),
    (r"=|exactly|equal\s+to|of|at|about|around|roughly", "="),
)
_SIGN = "|".join(f"(?P<c{place}>{pattern})" for place, (pattern, _) in enumerate(_COMPARATORS))
_MOST_UNIT_WORDS = 4


def take_values(text: str) -> tuple[tuple[Span, ...], str]:
    """The values asked for, and the text without them.

    >>> take_values("coil above 9 kohm")[0][0].low
    9000.0
    """
    spans: list[Span] = []
    place = 0
    while place < len(text):
        found = _next(text, place)
        if found is None:
            break
        span, start, end, skip = found
        if span is None:
            place = skip
            continue
        spans.append(span)
        text = f"{text[:start]} {text[end:]}"
        place = start
    return tuple(spans), text


def _next(text: str, place: int) -> tuple[Span | None, int, int, int] | None:
    number = re.compile(_NUMBER).search(text, place)
    if number is None:
        return None
    lead = re.search(rf"(?<![\w-])(?:between|from|{_SIGN})\s*$", text[: number.start()], re.IGNORECASE)
    start = lead.start() if lead and lead.start() >= place else number.start()
    low = _float(number.group())
    rest = text[number.end() :]
    # "2 to 3 bar", "2 bar and 3 bar": a second number right behind, the unit behind either
    second = re.match(
        r"\s*(?P<unit>[^\d\s,;][^\d,;]{0,14}?)?\s*(?:\band\b|\bto\b|–|-|\.\.)\s*(?P<high>\d+(?:[.,]\d+)?)(?P<rest>.*)$",
        rest,
        re.IGNORECASE | re.DOTALL,
    )
    if second is not None and low is not None:
        code, used = unit_at(second["rest"])
        before, _ = unit_at(second["unit"] or "")
        high = _float(second["high"])
        if code is not None and high is not None and (not second["unit"] or before is not None):
            end = number.end() + second.start("rest") + used
            return _between(low, before or code, high, code, text[start:end].strip()), start, end, end
    code, used = unit_at(rest)
    if code is None or low is None:
        return None, start, number.end(), number.end()
    end = number.end() + used
    sign = _sign(lead)
    return _span(number.group(), low, code, sign, text[start:end].strip()), start, end, end


def _sign(lead: re.Match[str] | None) -> str:
    if lead is None:
        return "="
    for place, (_, sign) in enumerate(_COMPARATORS):
        if lead.group(f"c{place}"):
            return sign
    return "="


def _float(written: str) -> float | None:
    plain = written.replace("−", "-")
    if re.fullmatch(r"-?\d{1,3}(?:,\d{3})+(?:\.\d+)?", plain):
        plain = plain.replace(",", "")  # "9,400" is nine thousand four hundred
    plain = plain.replace(",", ".")
    try:
        return float(plain)
    except ValueError:
        return None


def _span(written: str, value: float, code: str, sign: str, said: str) -> Span:
    base, kind = to_base(value, code)
    if sign == "=":
        half = _half(written)
        low, high = to_base(value - half, code)[0], to_base(value + half, code)[0]
        return Span(kind, min(low, high), max(low, high), said, inside=False)
    if sign.startswith(">"):
        return Span(kind, base, None, said, open_low=sign == ">")
    return Span(kind, None, base, said, open_high=sign == "<")


def _between(low: float, low_code: str, high: float, high_code: str, said: str) -> Span:
    first, kind = to_base(low, low_code)
    last, kind_too = to_base(high, high_code)
    if kind != kind_too:
        first, kind = to_base(low, high_code)
    return Span(kind, min(first, last), max(first, last), said)


def _half(written: str) -> float:
    plain = (
        written.replace(",", ".")
        if not re.fullmatch(r"-?\d{1,3}(?:,\d{3})+(?:\.\d+)?", written)
        else written.replace(",", "")
    )
    decimals = len(plain.split(".")[1]) if "." in plain else 0
    return 0.5 * 10.0**-decimals


@lru_cache(maxsize=1)
def _units() -> tuple[dict[str, str], dict[str, str]]:
    """Unit codes by written form: as written, and in small letters for the words."""
    from cleansheet.units import aliases

    symbols: dict[str, str] = {}
    words: dict[str, str] = {}
    for alias in aliases():
        symbols.setdefault(alias.phrase, alias.codes[0])
        words.setdefault(alias.phrase.lower(), alias.codes[0])
    return symbols, words


def unit_at(text: str) -> tuple[str | None, int]:
    """(code, length) of the longest unit that the text starts with, spaces before it counted; (None, 0) for none."""
    found = list(re.finditer(r"\s*([^\s,;]+)", text))[:_MOST_UNIT_WORDS]
    symbols, words = _units()
    for size in range(len(found), 0, -1):
        if found[0].start() != 0:
            return None, 0
        end = found[size - 1].end()
        phrase = " ".join(one.group(1) for one in found[:size]).rstrip(".?!")
        code = symbols.get(phrase) or words.get(phrase.lower())
        if code is not None:
            return code, end
    return None, 0
