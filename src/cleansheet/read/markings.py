"""Codes read off a part: part numbers, date codes, trouble codes, as said or as written. They are never readings."""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass
from typing import TYPE_CHECKING

from cleansheet.catalogue.identifiers import find_trouble_codes, find_vins

from .quantities_units import unit_at
from .words import NUM, Tok

if TYPE_CHECKING:
    from collections.abc import Sequence

# Letters and digits mixed and joined ("KS-2207-4", "4RD-118", "T4-88120"), or letters with three digits or more.
_CODE = re.compile(
    r"(?<![\w.-])(?=[A-Z0-9/-]*\d)(?=[A-Z0-9/-]*[A-Z])[A-Z0-9]+(?:[-/][A-Z0-9]+)+(?![\w-])"
    r"|(?<![\w.-])[A-Z]{1,4}\d{3,}[A-Z0-9]*(?![\w-])"
)
# What says that a code follows; a date code may be digits alone after it.
_PLACE = r"(?:it|them|this|that|(?:the|its|his|my|that|this|either)[ ](?:old[ ]|new[ ]|other[ ])?\w+(?:[ ]of[ ](?:it|them|the[ ]\w+))?(?:[ ]\w+)?)"
_CUED = re.compile(
    rf"""\b(?:
      (?:(?:numbers?|code|part[ ]number)[ ])?(?:stamped|etched|engraved|cast|printed|moulded)(?:[ ](?:on|in|into|off)[ ]{_PLACE})?(?:[ ]is|[ ]says|[ ]reads)
    | (?:label|tag|sticker|plate|numbers?|code|part[ ](?:no\.?|number)|casting(?:[ ](?:number|no\.?))?|stamp|date[ ]code|marking)
      [ ](?:on|off|in)[ ]{_PLACE}(?:[ ](?:is|says|reads|was))
    | stamped | stamp(?:[ ]on[ ](?:it|the[ ]\w+(?:[ ]\w+)?))?(?:[ ]is|[ ]says)? | marked | marking(?:[ ]is)?
    | tag(?:[ ]on[ ](?:it|the[ ]\w+))?(?:[ ]is|[ ]says|[ ]reads)? | part[ ](?:no\.?|number|num)(?:[ ]is)? | p/n | pn
    | numbers?[ ](?:on[ ]it|on[ ]the[ ]\w+(?:[ ]\w+)?|off[ ](?:it|the[ ]old[ ]one|the[ ]\w+)|is|stamped)(?:[ ](?:is|says|reads))?
    | number(?=[ ][A-Z0-9]+-) | (?-i:number(?=[ ](?:is[ ])?[A-Z]{{2,4}}[ ])) | number(?=[ ][a-z][ ][a-z][ ])
    | serial(?:[ ](?:no\.?|number))?(?:[ ]is)? | date[ ]code(?:[ ]on[ ](?:it|the[ ]\w+))?(?:[ ]is)?
    | casting(?:[ ]number|[ ]no\.?)? | dated | code(?:[ ]on[ ](?:it|the[ ]\w+))?(?:[ ]is)? | etched | labelled | label[ ]says
    | engraved | no\. | cast
    )(?<=[\w.])(?!\w)[ .:,]*(?:is[ ]|with[ ]|says[ ]|as[ ])?(?P<code>[^\s,.;:]+(?:[ -]+[^\s,.;:]+){{0,6}})""",
    re.IGNORECASE | re.VERBOSE,
)
# What a code may stand before: "F F stroke two one eight on the label", "HL 40 9 printed on them".
_ON = re.compile(
    r"""\b(?:(?:printed|stamped|written|cast|etched|engraved|moulded|painted|marked)[ ](?:on|in|into|across|along|round)\b
    |(?:on|off)[ ](?:it|them|(?:the|its)[ ](?:old[ ]|back[ ]of[ ]the[ ])?
    (?:label|side|tag|plate|back|body|case|casing|casting|sticker|box|end|cap|top|front|barrel|flange))\b)""",
    re.IGNORECASE | re.VERBOSE,
)
_LONGEST = 9  # words of a code said letter by letter
# a person's number is no part's
_WHOSE = re.compile(
    r"\b(?:his|her|their|my|new|desk|shop|office|home|work|landline|direct|phone|mobile|tel|contact|ring|call|job|card|invoice|order"
    r"|docket|plate|reg|radio|alarm|key|gate|door|pin|post)\b[ .:]*$",
    re.IGNORECASE,
)
_BEFORE = 20
_SAID = frozenset(
    "zero oh o nought one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen "
    "seventeen eighteen nineteen twenty thirty forty fifty sixty seventy eighty ninety hundred double triple stroke dash slash hyphen point".split()
)
_DIGIT = r"(?:zero|oh|o|nought|one|two|three|four|five|six|seven|eight|nine|\d{1,6})"
# Capitals and digits with a "stroke" or a "dash" are a code wherever they stand: "CS 118 stroke 2", "SM dash four one two zero B".
_STROKE = re.compile(
    rf"\b[A-Z]{{1,4}}(?:[ ](?:{_DIGIT}|[A-Z])\b)*[ ](?:stroke|dash|slash|hyphen)(?:[ ](?:{_DIGIT}|[A-Z])\b){{1,8}}"
)
_NUMBER_SAID = re.compile(rf"{_DIGIT}(?:[ ]{_DIGIT}){{2,}}")  # three digits or more, said one by one
_NOT_CODES = re.compile(
    r"^(?:\d{3}/\d{2}|R\d{2}|\d{1,2}-\d{1,2}|\d{1,3}/\d{1,3}(?:/\d{1,3})*|[A-Z]{1,2}/?[A-Z]?|\d+[WwVvAaKk]-?\d*|SAE|DOT\d?)$"
)


@dataclass(frozen=True, slots=True)
class Marking:
    """A code at characters `start` to `end`; `said` where it is spelt in words.

    `kind` is "code", "trouble_code", "vin" or "tyre_date"; `fault` says what is wrong with one that breaks its standard.
    """

    start: int
    end: int
    said: bool
    kind: str = "code"
    fault: str = ""


def find_markings(text: str, toks: Sequence[Tok]) -> list[Marking]:
    """Every code of the note, from left to right.

    "Number on it is KS-2207-4" and "stamped LW stroke six seven seven" hold one each; "0.8-0.9" and "215/70 R15" hold none.
    """
    found = [
        Marking(one.start, one.end, False, one.kind, "" if one.valid else one.why)
        for one in (*find_trouble_codes(text), *find_vins(text))
        if one.valid or sum(char.isdigit() for char in text[one.start : one.end]) >= 2
    ]  # fmt: skip
    for hit in _CODE.finditer(text):
        if _NOT_CODES.match(hit.group()) or _is_measure(hit.group()):
            continue
        if not any(hit.start() < other.end and other.start < hit.end() for other in found):
            found.append(Marking(hit.start(), hit.end(), False))
    for hit in _STROKE.finditer(text):
        if not any(hit.start() < other.end and other.start < hit.end() for other in found):
            found.append(Marking(hit.start(), hit.end(), True))
    for hit in _CUED.finditer(text):
        if _WHOSE.search(text, max(0, hit.start() - _BEFORE), hit.start()):
            continue
        marking = _trim(text, toks, hit.start("code"), hit.end("code"), hit.group(0).lower())
        if marking is not None and not any(marking.start < other.end and other.start < marking.end for other in found):
            found.append(marking)
    for hit in _ON.finditer(text):
        marking = _said_before(toks, hit.start())
        if marking is not None and not any(marking.start < other.end and other.start < marking.end for other in found):
            found.append(marking)
    found.sort(key=lambda marking: marking.start)
    return found


def _said_before(toks: Sequence[Tok], place: int) -> Marking | None:
    """A code of letters and numbers said one by one that ends where `place` begins, else None."""
    end = bisect_left(toks, place, key=lambda tok: tok.start)
    first, letters, digits = end, 0, 0
    while first > 0 and end - first < _LONGEST:
        tok = toks[first - 1]
        if tok.kind != NUM and tok.low not in _SAID and not _is_letter(tok) and not _are_letters(tok):
            break
        letters += _is_letter(tok) or (len(tok.text) if _are_letters(tok) else 0)
        digits += tok.kind == NUM or tok.low in _SAID
        first -= 1
    while first < end and toks[first].low in _JOINTS:
        first += 1
    return Marking(toks[first].start, toks[end - 1].end, True) if letters >= _LETTERS and digits >= _DIGITS else None


_JOINTS = frozenset(["stroke", "dash", "slash", "hyphen", "point", "double", "triple", "a", "i", "o"])
_LETTERS, _DIGITS = 2, 2


def _is_letter(tok: Tok) -> bool:
    return len(tok.low) == 1 and tok.low.isalpha()


def _are_letters(tok: Tok) -> bool:
    return 1 < len(tok.text) <= _MOST_LETTERS and tok.text.isupper() and tok.text.isalpha()


_MOST_LETTERS = 4


def _is_measure(code: str) -> bool:
    return bool(re.match(r"^\d+[A-Z]?-\d+[A-Z]?$", code)) and not re.search(r"[A-Z]{2}|^[A-Z]", code) and len(code) < 6


def _trim(text: str, toks: Sequence[Tok], start: int, end: int, cue: str) -> Marking | None:
    """The code at the head of what follows a cue: letters and digits, or letters and number words."""
    inside = []
    for tok in toks[bisect_left(toks, start, key=lambda tok: tok.start) :]:
        if tok.end > end:
            break
        inside.append(tok)
    last = start
    digits = letters = words_said = 0
    for k, tok in enumerate(inside):
        following = inside[k + 1] if k + 1 < len(inside) else None
        if tok.kind == NUM:
            digits += 1
        elif tok.low in _SAID:
            words_said += 1
        elif (tok.text.isupper() and len(tok.text) <= 4) or (
            len(tok.low) <= 2
            and tok.low.isalpha()
            and tok.low not in {"is", "it", "on", "at", "in", "so", "no", "to", "of", "or", "a", "i", "we", "by", "he"}
        ):
            letters += 1
        elif tok.low in {"a", "i"} and following is not None and (_is_letter(following) or following.low in _SAID):
            letters += 1  # "a r dash two two six one"
        elif tok.low in {"-", "/"}:
            continue
        else:
            break
        last = tok.end
    if last <= start:
        return None
    code = text[start:last]
    if not letters and not digits and _DECIMAL.search(code):
        return None  # "cap stamped one point one on top" is a pressure
    if (
        (letters and (digits or words_said >= 2))
        or words_said >= 4
        or (words_said == 1 and _MARKED.fullmatch(code) is not None and re.search(r"stamp|mark|etch|cast|label", cue))
        or (words_said >= 2 and not digits and not letters and _alone(text, toks, start, last, cue))
        or (
            digits
            and len(re.sub(r"\D", "", code)) >= 4
            and not letters
            and re.search(r"stamp|mark|tag|number|code|dated|serial|no\.|label|etched|p/?n|cast", cue)
        )
    ):
        if re.fullmatch(r"[\d.,]+", code) and ("." in code or "," in code):
            return None
        return Marking(start, last, words_said > 0)
    return None


_MARKED = re.compile(r"[A-Z]{2,4} [a-z]+")  # "marked PL nine"
_DECIMAL = re.compile(r"^\w+ point \w+(?: \w+)?$", re.IGNORECASE)
_LIMIT = re.compile(r"\b(?:min|max|limit|minimum|maximum|scrap|discard|least|most)\b", re.IGNORECASE)
_NEAR = 40  # code points back in which a limit is named


def _alone(text: str, toks: Sequence[Tok], start: int, end: int, cue: str) -> bool:
    """Whether number words after "stamped" or "dated" are a code: no unit stands after them ("jets stamped one eighty"),
    and no limit is named before ("minimum stamped on it is twenty two").
    """
    said = re.search(r"number (?:on|off|is)", cue) and _NUMBER_SAID.fullmatch(text[start:end].lower())
    if (not said and not re.search(r"stamped|etched|engraved|dated|date code", cue)) or _LIMIT.search(
        text[max(0, start - _NEAR) : start]
    ):
        return False
    at = bisect_left(toks, end, key=lambda tok: tok.start)
    return at >= len(toks) or unit_at(list(toks[at : at + 4]), 0) is None
