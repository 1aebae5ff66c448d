"""Verdicts on what was seen, heard or felt. The same word is good for one test and bad for another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..terms import GOOD_FINDINGS, Verdict

if TYPE_CHECKING:
    from ..catalogue import Test

# A direction says nothing without the test: a rail pressure that rises is a regulator at work, a coolant that rises is
# a fault.
_NEEDS_A_TEST = frozenset({"rises", "falls"})
# Damage is a fault wherever it is found, also where a test's own list does not name it.
_DAMAGE = frozenset({"faulty", "leaking", "cracked", "corroded", "worn", "loose", "fouled", "does_not_work"})


def judge_finding(finding: str, test: Test | None) -> Verdict:
    """A finding's verdict, by the test's own good and bad findings, or by its plain meaning where no test is known.

    >>> judge_finding("dry", None).word
    'in_spec'
    """
    shown = finding.replace("_", " ")
    if test is None:
        if finding in _NEEDS_A_TEST:
            return Verdict("no_spec", f"'{shown}' is good for one test and bad for another: no test known")
        good = finding in GOOD_FINDINGS
        return Verdict("in_spec" if good else "out_of_spec", f"'{shown}', by its plain meaning")
    if finding in test.good_findings:
        return Verdict("in_spec", f"'{shown}' is good for {test.name} (catalogue: {test.source})")
    if finding in test.bad_findings:
        return Verdict("out_of_spec", f"'{shown}' is a fault for {test.name} (catalogue: {test.source})")
    if finding in _DAMAGE:
        return Verdict("out_of_spec", f"'{shown}', by its plain meaning")
    return Verdict("no_spec", f"'{shown}' says nothing sure about {test.name}")
