"""Numbers that name something and measure nothing: trouble codes, vehicle identification numbers, tyre date codes.

They are markings, never readings. What is nearly one is found too, with the reason why it is not and, where there is
one likely reading, an offer; the text itself is never changed.

Trouble codes: SAE J2012 / ISO 15031-6, one letter (P, C, B, U) and four hexadecimal digits, the first of them 0 to 3;
in two bytes the top two bits are the letter, the next two the first digit (layout from memory). Vehicle identification
numbers: ISO 3779, 17 characters of 0-9 and A-Z without I, O and Q; check digit at position 9 by 49 CFR 565.15(c), which
binds North American vehicles only. Tyres: week and year, four digits after DOT, 49 CFR 574.5 (from memory).
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from .spoken_codes import spoken_trouble_codes

if TYPE_CHECKING:
    from collections.abc import Iterator

_LETTERS = "PCBU"
_CODE = re.compile(r"(?<![\w.-])([PCBU])([0-3][0-9A-F]{3})(?:-([0-9A-F]{2}))?(?![\w-])", re.IGNORECASE)
# Nearly a code: a letter, then four or so characters that are digits or are taken for digits, perhaps with a gap.
_NEAR = re.compile(r"(?<![\w.-])[A-Z] ?[0-9O](?: ?[0-9A-GIOL]){2,4}(?![\w-])", re.IGNORECASE)
_CODE_WORDS = re.compile(
    r"\b(?:codes?|dtcs?|faults? (?:stored|memory)|stored|scan(?:ned|ner|s)?|trouble)\b", re.IGNORECASE
)
_CONTEXT = 60  # characters before a doubtful code in which a word must say that codes are meant
_LOOKS_LIKE = str.maketrans("OQIL", "0011")

_VIN_LENGTH = 17
_VIN_VALUES = {
    **{str(digit): digit for digit in range(10)},
    **dict(zip("ABCDEFGH", range(1, 9), strict=True)),
    **dict(zip("JKLMN", range(1, 6), strict=True)),
    "P": 7,
    "R": 9,
    **dict(zip("STUVWXYZ", range(2, 10), strict=True)),
}
_VIN_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_VIN = re.compile(r"(?<![\w-])[A-Z0-9]{15,19}(?![\w-])", re.IGNORECASE)
_VIN_WORDS = re.compile(r"\b(?:vins?|vehicle identification(?: number)?|chassis(?: number| no)?)\b", re.IGNORECASE)
_TYRE_DATE = re.compile(r"\bDOT\b(?:[ -][A-Z0-9]{2,4}){0,3}[ -](?P<week>\d{2})(?P<year>\d{2})(?!\d)")


@dataclass(frozen=True, slots=True)
class Identifier:
    """A marking at `start`..`end` of the text. `kind` is "trouble_code", "vin" or "tyre_date".

    `value` is its standard form, `valid` whether it keeps the standard; `why` says why not, or what it is; `offer` is
    the one valid form that was likely meant, or None.
    """

    kind: str
    start: int
    end: int
    value: str
    valid: bool
    why: str = ""
    offer: str | None = None


def find_trouble_codes(text: str) -> tuple[Identifier, ...]:
    """Every trouble code in a text, written or spoken, and what is nearly one.

    >>> [found.value for found in find_trouble_codes("stored P0301 and p0171")]
    ['P0301', 'P0171']

    A code for chassis or body (C, B) looks like a part number, and so does a spoilt one: these are found only where a
    word before them, or another code, says that codes are meant.
    """
    sure = [found for found in _CODE.finditer(text) if found[1].upper() in "PU"]
    found = [_whole(match) for match in sure]
    taken = [(one.start, one.end) for one in found]

    def meant(start: int) -> bool:
        near = text[max(0, start - _CONTEXT) : start]
        return _CODE_WORDS.search(near) is not None or any(abs(start - place) <= _CONTEXT for place, _ in taken)

    doubtful = (match for match in _CODE.finditer(text) if match[1].upper() in "CB")
    found += [_whole(match) for match in doubtful if meant(match.start())]
    for match in _NEAR.finditer(text):
        overlaps = any(match.start() < one.end and one.start < match.end() for one in found)
        if not overlaps and meant(match.start()):
            found.append(check_trouble_code(match.group(), match.start()))
    for start, end, code in spoken_trouble_codes(text):
        letter_is_sure = code[0] in "PU" or meant(start)
        if letter_is_sure and not any(start < one.end and one.start < end for one in found):
            found.append(Identifier("trouble_code", start, end, code, valid=True, why=defined_by(code)))
    return tuple(sorted(found, key=lambda one: one.start))


def check_trouble_code(text: str, start: int = 0) -> Identifier:
    """Whether `text` alone is a trouble code, and what is wrong with it if not. `start` is its place in a longer text.

    >>> check_trouble_code("PO301").offer
    'P0301'
    """
    end = start + len(text)
    match = _CODE.fullmatch(text)
    if match is not None:
        whole = _whole(match)
        return Identifier("trouble_code", start, end, whole.value, valid=True, why=whole.why)
    plain = text.upper().replace(" ", "")
    mended = plain[:1] + plain[1:].translate(_LOOKS_LIKE)
    offer = mended if mended != text.upper() and _CODE.fullmatch(mended) else None
    return Identifier("trouble_code", start, end, plain, valid=False, why=_fault(text, plain), offer=offer)


def _fault(text: str, plain: str) -> str:
    letter, digits = plain[:1], plain[1:]
    if letter not in _LETTERS:
        as_p = f"P{digits.translate(_LOOKS_LIKE)}"
        heard = f"; misheard for {as_p}?" if letter in "ETDVG" and _CODE.fullmatch(as_p) else ""
        return f"no trouble code begins with {letter}{heard}"
    if len(digits) != 4:
        return f"a digit {'short' if len(digits) < 4 else 'too many'}: four follow the letter"
    if " " in text:
        return "there is a gap in it"
    if any(sign in digits for sign in "OQIL"):
        return "a letter stands for a digit"
    if digits[0] not in "0123":
        return "the first digit is 0 to 3"
    wrong = next((sign for sign in digits if sign not in "0123456789ABCDEF"), "")
    return f"{wrong} is no hexadecimal digit"


def _whole(match: re.Match[str]) -> Identifier:
    code = f"{match[1]}{match[2]}".upper()
    value = f"{code}-{match[3].upper()}" if match[3] else code
    return Identifier("trouble_code", match.start(), match.end(), value, valid=True, why=defined_by(code))


def defined_by(code: str) -> str:
    """Who defines a valid code: "standard", "maker" or "reserved" (SAE J2012, from memory)."""
    letter, first = code[0].upper(), code[1]
    if first == "0":
        return "standard"
    if letter == "P":
        if first == "3":
            return "maker" if code[2] in "0123" else "standard"
        return "standard" if first == "2" else "maker"
    if first == "3":
        return "standard" if letter == "U" else "reserved"
    return "maker"


def trouble_code(two_bytes: int) -> str:
    """The code that two bytes of a fault memory stand for: 0xC100 is "U0100"."""
    if not 0 <= two_bytes <= 0xFFFF:
        raise ValueError(f"{two_bytes:#x} is not two bytes")
    letter = "PCBU"[two_bytes >> 14]
    return f"{letter}{two_bytes >> 12 & 0x3}{two_bytes & 0xFFF:03X}"


def find_vins(text: str) -> tuple[Identifier, ...]:
    """Every vehicle identification number in a text, and 15 to 19 characters that are called one and are none.

    A check digit that fails is a hint to read again, never a fault: only North American vehicles must carry it.
    """
    found = []
    for match in _VIN.finditer(text):
        called = _VIN_WORDS.search(text, max(0, match.start() - _CONTEXT), match.start()) is not None
        mixed = any(sign.isalpha() for sign in match.group()) and any(sign.isdigit() for sign in match.group())
        if called or (len(match.group()) == _VIN_LENGTH and mixed):
            found.append(check_vin(match.group(), match.start()))
    return tuple(found)


def check_vin(text: str, start: int = 0) -> Identifier:
    """Whether `text` alone is a vehicle identification number; `why` tells of its check digit."""
    value = text.upper()
    end = start + len(text)
    if len(value) != _VIN_LENGTH:
        why = f"{len(value)} characters, {_VIN_LENGTH} are needed (chassis numbers before about 1981 may be shorter)"
        return Identifier("vin", start, end, value, valid=False, why=why)
    wrong = [sign for sign in value if sign not in _VIN_VALUES]
    if wrong:
        mended = value.translate(str.maketrans("OQI", "001"))
        offer = mended if all(sign in _VIN_VALUES for sign in mended) else None
        return Identifier("vin", start, end, value, valid=False, why=f"{wrong[0]} is not used in it", offer=offer)
    digit = vin_check_digit(value)
    if value[8] == digit:
        return Identifier("vin", start, end, value, valid=True, why="the check digit is right")
    american = value[0] in "12345"
    must = "it must be on a North American vehicle" if american else "only North American vehicles must carry one"
    why = f"the check digit would be {digit}: read it again ({must})"
    return Identifier("vin", start, end, value, valid=True, why=why)


def vin_check_digit(vin: str) -> str:
    """The check digit that 17 characters ask for at position 9: the weighted sum modulo 11, ten written X."""
    total = sum(_VIN_VALUES[sign] * weight for sign, weight in zip(vin.upper(), _VIN_WEIGHTS, strict=True))
    rest = total % 11
    return "X" if rest == 10 else str(rest)


def find_tyre_dates(text: str) -> Iterator[Identifier]:
    """Week and year of make after DOT on a tyre: "DOT ... 1126" is the 11th week of 2026, ISO "2026-W11"."""
    for match in _TYRE_DATE.finditer(text):
        week, year = int(match["week"]), 2000 + int(match["year"])
        valid = 1 <= week <= 53
        value = f"{year}-W{week:02d}"
        why = "" if valid else f"there is no week {week}"
        yield Identifier("tyre_date", match.start("week"), match.end("year"), value, valid, why)
