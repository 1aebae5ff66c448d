"""Which test a finding belongs to: the part's own test for that sort of finding, or none."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue
    from cleansheet.terms import Mention

# the sort of test by the last part of its id, for each finding; the first that the part has wins
_SORTS: dict[str, tuple[str, ...]] = {
    "leaking": ("leaks",),
    "dry": ("leaks",),
    "works": ("operates", "runs", "switch"),
    "does_not_work": ("operates", "runs", "switch", "spark"),
    "strong": ("spark",),
    "weak": ("spark",),
    "ok": ("condition", "spray", "continuity", "end-play", "leaks"),
    "faulty": ("condition", "spray"),
    "worn": ("condition",),
    "cracked": ("condition",),
    "corroded": ("condition",),
    "loose": ("condition",),
    "fouled": ("condition",),
    "open_circuit": ("continuity", "resistance", "secondary-resistance", "primary-resistance", "coil-resistance"),
    "short_circuit": ("resistance", "primary-resistance", "continuity"),
    "rises": ("vacuum-response",),
    "falls": ("hold-pressure", "vacuum-hold", "pressure-hold"),
    "steady": ("vacuum", "voltage", "signal", "hold-pressure"),
    "unsteady": ("vacuum", "voltage", "signal", "running-pressure"),
    "stuck_open": ("operates", "opening-temperature"),
    "stuck_closed": ("operates", "opening-temperature"),
}
_WORDS = {
    "spray": frozenset("spray cone pattern streams stream atomises mist".split()),
    "leaks": frozenset("drip drips tips tip leak leaks leaking dry wet weep weeping".split()),
    "end-play": frozenset("play".split()),
    "condition": frozenset(),
}


def finding_test(mention: Mention, catalogue: Catalogue) -> tuple[str | None, str | None, str]:
    """Component, test and reason for a finding. The component is the nearest part named, None outside the catalogue."""
    component = mention.component
    if component is None or mention.finding is None:
        return component, None, "test None: no part of the catalogue"
    tests = {test.id.partition(".")[2]: test.id for test in catalogue.tests_of(component)}
    words = frozenset(mention.context)
    sorts = [sort for sort in _SORTS.get(mention.finding, ()) if sort in tests]
    if not sorts:
        return component, None, f"test None: no test of {component} for {mention.finding}"
    for name in mention.tests:
        if name.here and name.id in tests.values() and name.id is not None and name.id.partition(".")[2] in sorts:
            return component, name.id, f"test {name.id}: named, {mention.finding}"
    said = [sort for sort in sorts if words & _WORDS.get(sort, frozenset())]
    if mention.finding == "ok" and not said:
        plain = [sort for sort in sorts if sort in {"condition", "continuity"}]
        if not plain:
            return component, None, f"test None: {mention.finding} says no test of {component}"
        return component, tests[plain[0]], f"test {tests[plain[0]]}: looked at"
    chosen = tests[(said or sorts)[0]]
    return component, chosen, f"test {chosen}: {mention.finding}"
