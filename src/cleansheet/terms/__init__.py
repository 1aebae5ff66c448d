"""The nouns that every stage shares. Plain frozen values, no input or output, no third-party import.

| noun | made by | is |
|---|---|---|
| `Word` | listen | one recognised word with its place in the text, its time in the sound and its probability |
| `Note` | listen, or a typed text | the words of the technician, never rewritten |
| `Quantity` | read | a number with its unit, its interval and its comparator |
| `Mention` | read | something said, at a place in the note: a number or a finding with its role, or a remark |
| `Item` | match | a mention tied to a component and a test |
| `Spec` | catalogue | a limit, with its unit, its conditions and its source |
| `Verdict` | judge | what the limits say of a reading, and why |
| `Draft` | judge | the note with its items, for a person to review |

Every place in a text is counted in Unicode code points, end exclusive.
"""

from .errors import CleansheetError, InputError, JournalError, SpecError, WeightsError
from .values import (
    FINDINGS,
    FLAGS,
    GOOD_FINDINGS,
    KINDS,
    VERDICTS,
    Audio,
    Condition,
    Derived,
    Draft,
    Evidence,
    Expected,
    Item,
    Mention,
    Note,
    Quantity,
    RunnerUp,
    Verdict,
    Word,
)

__all__ = [
    "FINDINGS",
    "FLAGS",
    "GOOD_FINDINGS",
    "KINDS",
    "VERDICTS",
    "Audio",
    "CleansheetError",
    "Condition",
    "Derived",
    "Draft",
    "Evidence",
    "Expected",
    "InputError",
    "Item",
    "JournalError",
    "Mention",
    "Note",
    "Quantity",
    "RunnerUp",
    "SpecError",
    "Verdict",
    "WeightsError",
    "Word",
]
