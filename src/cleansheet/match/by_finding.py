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
    "stuck_open": ("operates",),
    "stuck_closed": ("operates", "opening-temperature"),
}
# what is heard and seen of a part that is only worked, not measured
_WORKED = {
    "runs": frozenset(
        "run runs running ran stops stopped hum hums humming buzz buzzes buzzing primes whirrs spins turns".split()
    ),
    "operates": frozenset(
        "click clicks clicking clicked clunk clunks clack pull pulls snap snaps switch switches chatter chatters works pick picks "
        "close closes open opens".split()
    ),
    "spark": frozenset("spark sparks sparking blue fat orange yellow thin jumps jumping".split()),
    "continuity": frozenset("beep beeps bleep bleeps buzz blown intact popped continuity good ok".split()),
    "switch": frozenset("makes closes opens clicks beeps".split()),
    "flow": frozenset("flow flows flowing gush gushing gushes trickle trickles trickling clear runs".split()),
    "voltage": frozenset("swing swings swinging switching cycling cycles toggles toggling flat stuck".split()),
    "signal": frozenset("signal scope trace wave flat line toggles".split()),
}
# measured tests that are also told by watching: a probe that swings, a return that gushes
_WATCHED = frozenset({
    "oxygen-sensor.voltage", "crank-sensor.signal", "cam-sensor.signal", "fuel-return-line.flow", "wiring-harness.continuity",
})  # fmt: skip
_SAID_OF_WORKING = frozenset({"ok", "faulty", "works", "does_not_work", "steady", "unsteady", "weak", "strong"})
_WORDS = {
    "spray": frozenset("spray cone pattern streams stream atomises mist".split()),
    "leaks": frozenset(
        "drip drips dripping dribble dribbles tips tip leak leaks leaking dry wet weep weeps weeping seep seeps seeping sweat tight "
        "hiss hisses hissing smoked sprayed mist bead tacky damp".split()
    ),
    "end-play": frozenset("play tight rock rocks slack slop tip".split()),
    "condition": frozenset(),
}


def _watched(test: str | None, catalogue: Catalogue) -> bool:
    return test is not None and (test in _WATCHED or catalogue.tests[test].unit == "finding")


_RELAYS = ("relay", "fuel-pump-relay", "main-relay")
_OF_A_RELAY = frozenset("click clicks clicking clicked clunk pull pulls contacts winding chatters snaps".split())
_SPRAYS = frozenset(
    "spray sprays sprayed spraying squirt squirts squirting atomise atomises atomising cone mist".split()
)
_OF_A_SPRAY = frozenset({"works", "does_not_work", "weak", "strong"})
_ERRATIC = frozenset("jumpy jumps glitch glitchy glitches dropout dropouts sweep erratic jittery scratchy".split())
_NO_DEPOSITS = frozenset({"loose", "open_circuit"})  # said of a plug that is looked at, and yet no colour of it
_GOES_UP = frozenset({"rises", "falls", "steady", "unsteady", "weak", "strong"})


def _meant(mention: Mention, component: str | None, words: frozenset[str]) -> str | None:
    """The part that a bare word stands for: a relay's "coil", and "pressure" that is no part where something drips."""
    by_name = {item.id: item for item in mention.parts}
    said = by_name[component].said if component in by_name else ""
    if component == "ignition-coil" and said in {"coil", "coils"} and words & _OF_A_RELAY:
        relays = [item for item in mention.parts if item.id in _RELAYS]
        best = max(relays, key=lambda item: (" " in item.said, item.weight), default=None)
        return best.id if best is not None else component
    if component == "fuel-rail" and said == "pressure" and mention.finding not in _GOES_UP:
        return next((item.id for item in mention.parts if item.id is not None and item.said != said), component)
    return component


_JUDGED = frozenset({"ok", "faulty", "steady", "unsteady"})


def _measured_named(mention: Mention, component: str, catalogue: Catalogue) -> str | None:
    """The measured test that a verdict without a number names: "points gap is spot on"; no name that is but the part's own."""
    if mention.finding not in _JUDGED:
        return None
    own = " | ".join(item.said for item in mention.parts if item.said not in _PART_AND_TEST)
    for name in mention.tests:
        said = name.said.removesuffix("'s").rstrip("s")
        if name.here and name.id is not None and name.id not in _NEVER_JUDGED and said not in own:
            test = catalogue.tests.get(name.id)
            if test is not None and test.component == component and test.unit != "finding":
                return name.id
    return None


_NEVER_JUDGED = frozenset({"engine.idle-speed", "ground-strap.voltage-drop", "connector.voltage-drop"})
_PART_AND_TEST = frozenset({"tracking", "toe", "camber"})


_CIRCUIT = frozenset({"open_circuit", "short_circuit"})


def _part_of_the_test(mention: Mention, catalogue: Catalogue) -> str | None:
    """The part whose resistance is named beside an open or a short circuit where no part is: "secondary 1 OL"."""
    if any(part.here for part in mention.parts):
        return None
    named = next((name.id for name in mention.tests if name.here and name.id in catalogue.tests), None)
    if named is None or not named.endswith("resistance"):
        return None
    return catalogue.tests[named].component


def finding_test(mention: Mention, catalogue: Catalogue) -> tuple[str | None, str | None, str]:
    """Component, test and reason for a finding. The component is the nearest part named, None outside the catalogue."""
    component = mention.component
    if component is None and mention.finding in _CIRCUIT:
        component = _part_of_the_test(mention, catalogue)
    if component is None or mention.finding is None:
        return component, None, "test None: no part of the catalogue"
    words = frozenset(word.removesuffix("'s") for word in mention.context)
    component = _meant(mention, component, words)
    if component is None:
        return component, None, "test None: no part of the catalogue"
    tests = {test.id.partition(".")[2]: test.id for test in catalogue.tests_of(component)}
    if mention.finding in _SAID_OF_WORKING:
        worked = next(
            (sort for sort, said in _WORKED.items() if words & said and _watched(tests.get(sort), catalogue)), None
        )
        if worked is not None:
            return component, tests[worked], f"test {tests[worked]}: {mention.finding}, heard or seen working"
    if mention.finding in _OF_A_SPRAY and "spray" in tests and words & _SPRAYS:
        return component, tests["spray"], f"test {tests['spray']}: {mention.finding}, by its spray"
    if mention.finding == "faulty" and "voltage" in tests and words & _ERRATIC:
        return component, tests["voltage"], f"test {tests['voltage']}: {mention.finding}, in its sweep"
    if component == "spark-plug" and mention.finding in _NO_DEPOSITS:
        return component, None, f"test None: {mention.finding} is no colour of a plug"
    named = _measured_named(mention, component, catalogue)
    if named is not None:
        return component, named, f"test {named}: named, {mention.finding}"
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
