"""From a draft to lines ready to be signed: what needs eyes first, and what a person can do to it.

Pure functions on values: a `Review` is a draft with its lines; `apply` plays a step over it; nothing is stored here.
"""

from .corrections import corrected, rounding_half
from .lines import (
    DROPPED,
    KEPT,
    OPEN,
    SIGNED,
    SURE,
    Line,
    Review,
    Step,
    is_clean,
    looking_order,
    reasons_to_look,
    start,
    urgency,
)
from .steps import Judge, add, apply, correct, drop, join, keep, keep_clean, play, reopen, sign, split, undo

__all__ = [
    "DROPPED",
    "KEPT",
    "OPEN",
    "SIGNED",
    "SURE",
    "Judge",
    "Line",
    "Review",
    "Step",
    "add",
    "apply",
    "correct",
    "corrected",
    "drop",
    "is_clean",
    "join",
    "keep",
    "keep_clean",
    "looking_order",
    "play",
    "reasons_to_look",
    "reopen",
    "rounding_half",
    "sign",
    "split",
    "start",
    "undo",
    "urgency",
]
