"""The catalogue's own limits: which of a test's typical band and variants count, and what they say of a reading.

The rules: a design that must be named counts only where it is, and then alone. A variant with a condition counts only
where the condition is said, and then goes before the typical band. Inside the typical band is in specification; outside
it but inside another design that counts is undecided; outside all is out of specification. Without a typical band a
reading must lie inside every variant that counts, or outside every one.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from .bands import Band, band_of, compare
from .conditions import Said, fit, word

if TYPE_CHECKING:
    from ..catalogue import Limit, Test

_IDLE_GRANTED = "exhaust."  # a tailpipe is measured at idle unless another speed is said


class Ruling(NamedTuple):
    """`word` is the verdict; `limit` the one that decided, if any; `why` explains a verdict that is not plain."""

    word: str
    limit: Limit | None
    why: str = ""


@lru_cache(maxsize=512)
def _phrases(said: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(r"(?<![\w.])(?:" + "|".join(re.escape(phrase) for phrase in said) + r")(?!\w)")


def plain_words(text: str) -> str:
    """A text as the phrases that name a design are looked for in it: lower case, one space for gaps and hyphens."""
    return " ".join(text.lower().replace("-", " ").split())


def named(limit: Limit, words: str) -> bool:
    """Whether the design of a variant is named in `words` (of `plain_words`)."""
    for phrase in limit.said:
        if phrase in words:  # far quicker than the pattern, and mostly the answer
            return _phrases(limit.said).search(words) is not None
    return False


Counting = tuple[list["Limit"], list["Limit"], str]


def counting(test: Test, said: Said, words: str) -> Counting:
    """(deciding limits, further designs, trouble). The first decide; inside a further one nothing can be said.

    `words` is the note's text and the vehicle's description (`plain_words`), searched for the designs that must be
    named.
    """
    alone = [variant for variant in test.variants if variant.only_if_said and named(variant, words)]
    rest = dict(test.when)
    if not alone:
        spoken = [variant for variant in test.variants if variant.when and _is_said(variant, said, test)]
        if spoken:
            keys = {key for variant in spoken for key in variant.when}
            keys |= (
                {"speed_rpm", "speed_rpm_from", "engine"} if keys & {"speed_rpm", "speed_rpm_from", "engine"} else set()
            )
            clash = fit({key: value for key, value in rest.items() if key not in keys}, said).clash
            return ([], [], clash) if clash else (spoken, [], "")
    state = fit(rest, said, test)
    if state.clash:
        return [], [], state.clash
    if state.missing:
        return [], [], f"{_asked(test, state.missing)} not said"
    if alone:
        return alone, [], ""
    unsaid = tuple(key for key in test.must_say if not _said_of(key, said))
    if unsaid:
        return [], [], f"{_asked(test, unsaid)} not said"
    others = [variant for variant in test.variants if not variant.only_if_said and not variant.when]
    if test.typical is not None:
        return [test.typical], others, ""
    return others, [], "" if others else _none_counts(test)


def rule(test: Test, reading: Band, counts: Counting) -> Ruling:
    """What the catalogue says of a reading of this test (its interval in base units), by the limits that count."""
    if test.judge == "none":
        return Ruling("no_spec", None, "the trade has no general limit for it: it depends on the vehicle")
    deciding, others, trouble = counts
    if not deciding:
        return Ruling("no_spec", None, trouble)
    deciding = [limit for limit in deciding if limit.low is not None or limit.high is not None]
    if not deciding:
        return Ruling("no_spec", None, "the trade compares the positions with each other, there is no limit for one")
    found = [compare(reading, band_of(limit)) for limit in deciding]
    if len(deciding) == 1 or len(set(found)) == 1:
        return _with_others(found[0], _nearest(deciding, reading), others, reading)
    if "too_close" in found and "in_spec" not in found:
        return Ruling("too_close", deciding[found.index("too_close")])
    inside = [limit for limit, verdict in zip(deciding, found, strict=True) if verdict != "out_of_spec"]
    return Ruling("no_spec", None, f"depends on the design: fits {_names(inside)} only")


def _nearest(limits: list[Limit], reading: Band) -> Limit:
    """Of several limits that say the same, the one that says it with the least to spare."""
    if len(limits) == 1:
        return limits[0]
    low, high = reading

    def spare(limit: Limit) -> float:
        bottom, top = band_of(limit)
        return min(abs(low - bottom), abs(top - high))

    return min(limits, key=spare)


def _with_others(verdict: str, limit: Limit, others: list[Limit], reading: Band) -> Ruling:
    if verdict == "in_spec":
        return Ruling(verdict, limit)
    middle = sum(reading) / 2  # the number itself: what rounding leaves open does not make it another design's
    fitting = [other for other in others if compare((middle, middle), band_of(other)) == "in_spec"]
    if verdict == "out_of_spec" and fitting:
        return Ruling("no_spec", None, f"would fit another design ({_names(fitting)}): say which it is")
    return Ruling(verdict, limit)


def _is_said(variant: Limit, said: Said, test: Test) -> bool:
    if variant.only_if_said:
        return False
    state = fit(variant.when, said, test)
    if state.clash:
        return False
    granted = state.granted
    if test.id.startswith(_IDLE_GRANTED):
        granted = tuple(one for one in granted if one != "engine idle")
    if "speed_rpm" in state.missing:
        return False
    # "hot" may be taken for granted once the speed that the variant is for has been said
    return not state.missing and (state.said > 0 or not granted) and set(granted) <= {"hot", "cold"}


def _none_counts(test: Test) -> str:
    asked = sorted({word(key, value) for variant in test.variants for key, value in variant.when.items()})
    if asked:
        return f"needs the condition said with it ({', '.join(asked)})"
    designs = [variant.name for variant in test.variants if variant.name]
    return f"depends on the design ({', '.join(designs)}): say which it is" if designs else "no limit in the catalogue"


def _said_of(key: str, said: Said) -> bool:
    return key in said or (key == "speed_rpm" and said.get("engine") == "idle")


def _asked(test: Test, missing: tuple[str, ...]) -> str:
    return test.condition or " and ".join(missing)


def _names(limits: list[Limit]) -> str:
    return ", ".join(limit.name or "the usual one" for limit in limits)
