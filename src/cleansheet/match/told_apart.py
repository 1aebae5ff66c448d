"""Tests of one part that words weigh alike and the note as a whole tells apart: a battery at rest and one that cranks, a
pressure and what it rises by.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue
    from cleansheet.terms import Item

_RESTING, _CRANKING = "battery.open-circuit-voltage", "battery.cranking-voltage"
_CRANKS = re.compile(
    r"\b(?:crank(?:s|ed|ing)?|starting volts|churning|on the starter|starter engaged|spinning|turn(?:s|ed|ing)? (?:it|her|the engine|over)|"
    r"(?:hit|hold|holding|with) the (?:key|starter)(?: (?:over|held|in|down))?|key (?:over|held)|under the starter)\b",
    re.IGNORECASE,
)
_RESTS = re.compile(
    r"\b(?:rest(?:ed|ing)?|standing|stood|overnight|static|before|open circuit|surface|off)\b", re.IGNORECASE
)
_BEFORE, _AFTER = 45, 30  # characters around a number in which its state is said
_BY_ITS_WORDS = "by the words beside each voltage"
_DIPS = 0.4  # volts at least between a battery at rest and the same one cranking


def battery_states(items: list[Item], catalogue: Catalogue, text: str) -> list[Item]:
    """A battery's voltages told apart: "standing 12.6 volts, and it falls to 8.4 when you crank it", "12.5 V each, cranking
    8.1": the word stands by the lower one.
    """
    out = list(items)
    at = [k for k, item in enumerate(items) if item.test in {_RESTING, _CRANKING} and _volts(item) is not None]
    for place, k in enumerate(at):
        item = items[k]
        if item.kind != "reading":
            continue
        following = items[at[place + 1]] if place + 1 < len(at) else None
        before = items[at[place - 1]] if place else None
        start = clause_start(text, item.start, before.end if before is not None else 0)
        end = _clause_end(text, item.end, following.start if following is not None else len(text))
        said_before, said_after = text[start : item.start], text[item.end : end]
        lower = following is not None and following.kind == "reading" and _dips(item, following)
        if item.test == _CRANKING and lower and following is not None:
            between = text[item.end : following.start]
            after = text[following.end : _clause_end(text, following.end, len(text))]
            cranks = _CRANKS.search(between) or (_FALLS.search(between) and _CRANKS.match(after.strip()))
            if cranks and not _CRANKS.search(said_before) and following.test == _CRANKING:
                out[k] = _moved(item, _RESTING, catalogue, _BY_ITS_WORDS)
        elif item.test == _RESTING and not _rests_last(said_before):
            fell = before is not None and _dips(before, item)
            other = following is not None and _dips(following, item)
            held = item.condition.get("engine") == "cranking"
            if (
                held
                or (_CRANKS.search(said_before) and (fell or other or _low(item)))
                or (fell and _CRANKS.search(said_after))
            ):
                out[k] = _moved(item, _CRANKING, catalogue, _BY_ITS_WORDS)
        elif item.test == _RESTING and before is not None and _dips(before, item) and _CRANKS.match(said_after.strip()):
            out[k] = _moved(item, _CRANKING, catalogue, _BY_ITS_WORDS)
    return out


_FALLS = re.compile(r"\b(?:drop\w*|fall\w*|fell|go\w*|went|dip\w*|sag\w*|sink\w*|sank|pull\w*|down)\b", re.IGNORECASE)


def _rests_last(said: str) -> bool:
    """Whether the last word of a battery's state before a number is one of rest: "stood a night, and with the key over"."""
    rests, cranks = list(_RESTS.finditer(said)), list(_CRANKS.finditer(said))
    return bool(rests) and (not cranks or rests[-1].start() > cranks[-1].start())


def _volts(item: Item) -> float | None:
    quantity = item.quantity
    return quantity.number if quantity is not None and quantity.unit == "V" else None


def _dips(high: Item, low: Item) -> bool:
    one, two = _volts(high), _volts(low)
    return one is not None and two is not None and one - two >= _DIPS


_LEAST_AT_REST = 11.0


def _low(item: Item) -> bool:
    volts = _volts(item)
    return volts is not None and volts < _LEAST_AT_REST


_STOP = re.compile(r"[.;](?=\s)|\n")


def clause_start(text: str, start: int, least: int, back: int = _BEFORE) -> int:
    """Where the words before a number begin: at the sentence, at `least` (the number before), or `back` characters back."""
    low = max(least, start - back)
    stops = list(_STOP.finditer(text, low, start))
    return stops[-1].end() if stops else low


def _clause_end(text: str, end: int, most: int) -> int:
    high = min(most, end + _AFTER)
    stop = _STOP.search(text, end, high)
    return stop.start() if stop is not None else high


_RISE = "fuel-pressure-regulator.vacuum-response"
_PRESSURES = frozenset({
    "fuel-rail.static-pressure", "fuel-rail.running-pressure", "fuel-rail.hold-pressure", "intake-manifold.vacuum", "tyre.pressure",
})  # fmt: skip
_MOST = {"bar": 1.2, "[psi]": 15.0, "kPa": 120.0}
_GOES_UP = re.compile(
    r"\b(?:up|rises?|rose|rising|jumps?|jumped|climbs?|climbed|gains?|gained|adds?|added|lifts?|lifted)(?: by| about| a good)?\s*$",
    re.IGNORECASE,
)
_IS_UP = re.compile(r"^(?:\s*(?:bar|psi))?\s*(?:up|higher|more|rise|extra)\b", re.IGNORECASE)


def pressure_rises(items: list[Item], catalogue: Catalogue, text: str) -> list[Item]:
    """What a fuel pressure rises by with the regulator's hose off: "vacuum hose off and pressure goes up 0.5 bar"."""
    out: list[Item] = []
    rail: str | None = "bar"  # the unit that the rail's pressure was said in last
    for item in items:
        out.append(_rise(item, catalogue, text, rail))
        if item.component == "fuel-rail" and item.quantity is not None:
            rail = item.quantity.unit
    return out


def _rise(item: Item, catalogue: Catalogue, text: str, rail: str | None) -> Item:
    quantity = item.quantity
    if item.kind != "reading" or item.test not in _PRESSURES or quantity is None or _RISE not in catalogue.tests:
        return item
    if item.condition.get("vacuum_line") != "off" or quantity.number is None:
        return item
    unit = quantity.unit
    if item.test == "intake-manifold.vacuum" and "unit_assumed" in item.flags:
        unit = rail
    if unit is None or quantity.number > _MOST.get(unit, 0.0):
        return item
    if not (
        _GOES_UP.search(text[max(0, item.start - 24) : item.start]) or _IS_UP.match(text[item.end : item.end + 12])
    ):
        return item
    return replace(
        item, component="fuel-pressure-regulator", test=_RISE, quantity=replace(quantity, unit=unit),
        why=(*item.why, f"test {_RISE}: what it rises by with the hose off"),
    )  # fmt: skip


_STATIC, _RUNNING, _HOLDS = "fuel-rail.static-pressure", "fuel-rail.running-pressure", "fuel-rail.hold-pressure"
_STANDS = re.compile(
    r"\b(?:static|off|stopped|bridged|jumped|jumpered|jumper|key on|ign(?:ition)? on|prim\w+)\b", re.IGNORECASE
)
_RUNS = re.compile(r"\b(?:idl\w+|idle|running|ticking|tickover|revs)\b", re.IGNORECASE)
_BY_RISING = re.compile(r"\b(?:ris\w+|rose|up|jump\w*|climb\w*|lift\w*|gain\w*)\b", re.IGNORECASE)


def fuel_state(item: Item, catalogue: Catalogue, text: str) -> Item:
    """A fuel pressure by the state in which it was read: one after minutes is what was held, one at idle is no static one.

    "Idle 2.5 bar. 10 min after stop 0.9 bar", "system pressure 2.6 bar idling".
    """
    if item.quantity is None or item.kind != "reading" or item.test not in {_STATIC, _RUNNING, _RISE}:
        return item
    said = text[clause_start(text, item.start, 0) : item.start]
    engine = item.condition.get("engine")
    if "elapsed_min" in item.condition:
        if item.test != _RUNNING and not _BY_RISING.search(said) and engine not in {"idle", "running"}:
            return _moved(item, _HOLDS, catalogue, "what is left after a time")
    elif item.test == _STATIC and engine in {"idle", "running"} and not _STANDS.search(said):
        return _moved(item, _RUNNING, catalogue, "read with the engine running")
    elif item.test == _RUNNING and engine == "off" and _STANDS.search(said) and not _RUNS.search(said):
        return _moved(item, _STATIC, catalogue, "read with the engine off")
    return item


# a battery at rest shows no more: what stands above it is what the alternator charges with (12 V and 24 V systems)
_CHARGED = ((13.2, 17.0), (26.4, 34.0))
_AT_REST = re.compile(r"\b(?:rest|rested|resting|standing|overnight|surface|disconnected)\b", re.IGNORECASE)
_SAID_BEFORE, _SAID_AFTER = 70, 10  # characters around a number that say how it was read


def charging(item: Item, catalogue: Catalogue, text: str) -> Item:
    """A battery's voltage too high for one at rest is the charging voltage: "fourteen two at the battery now"."""
    quantity, test = item.quantity, "alternator.charging-voltage"
    if (
        item.test != "battery.open-circuit-voltage"
        or quantity is None
        or quantity.unit != "V"
        or quantity.number is None
    ):
        return item
    if not any(low < quantity.number < high for low, high in _CHARGED):
        return item
    if _AT_REST.search(text, max(0, item.start - _SAID_BEFORE), item.end + _SAID_AFTER):
        return item
    return _moved(item, test, catalogue, "no battery at rest shows so much")


_THICKEST_PAD = 15.0  # mm; a new pad's lining has some 10 to 14; common practice, no source
_THICKEST_DISC = 28.0  # the same
_DISCS = re.compile(r"\b(?:discs?|rotors?|disks?)\b", re.IGNORECASE)


def too_thick(item: Item, catalogue: Catalogue, text: str) -> Item:
    """A pad thicker than any is the disc: "new discs and pads going on, old ones NS 16.5, OS 16.2 mm"."""
    quantity, test = item.quantity, "brake-disc.thickness"
    if item.test != "brake-pad.thickness" or quantity is None or quantity.unit != "mm" or quantity.value is None:
        return item
    if not _THICKEST_PAD < quantity.value <= _THICKEST_DISC or not _DISCS.search(text, 0, item.end):
        return item
    return _moved(item, test, catalogue, "no pad is so thick")


_NO_DROP = 6.0  # volts; no cable loses half of a battery's and is still called a cable; common practice, no source
_LOST = re.compile(r"\b(?:drop\w*|los[et]\w*|losing|across|between)\b", re.IGNORECASE)
_RETURNS = re.compile(r"\b(?:return|returns|returned|spill|spills|comes back|coming back)\b", re.IGNORECASE)
_DELIVERS = re.compile(r"\b(?:deliver\w*|pump flow|outlet|feed)\b", re.IGNORECASE)
_LIFTS = re.compile(r"\b(?:lift|mechanical|priming|transfer|low pressure|feed) pump\b", re.IGNORECASE)
_BRAKES, _CLUTCH = re.compile(r"\bbrak(?:e|es|ing)\b", re.IGNORECASE), re.compile(r"\bclutch\b", re.IGNORECASE)
_PEDAL = re.compile(r"\bpedal\b", re.IGNORECASE)


_TOLD_BY_WORDS = frozenset({"fuel-pump.flow", "clutch.free-play", _STATIC, _RUNNING, _HOLDS})
_SPOKEN_OF = 600  # characters back in which a pedal is the brakes'


def by_what_is_said(item: Item, catalogue: Catalogue, text: str) -> Item:
    """What the words before a number make of a test that fits it: the flow of a return, a lift pump's pressure, a brake
    pedal's play.
    """
    if item.test not in _TOLD_BY_WORDS and (item.test is None or not item.test.endswith(".voltage-drop")):
        return item
    said = text[clause_start(text, item.start, 0) : item.start]
    if item.test == "fuel-pump.flow" and _RETURNS.search(said) and not _DELIVERS.search(said):
        return _moved(item, "fuel-return-line.flow", catalogue, "said of the return")
    if item.test in {_STATIC, _RUNNING, _HOLDS} and _LIFTS.search(said):
        return replace(item, component="fuel-pump", test=None, why=(*item.why, "test None: a lift pump's own pressure"))
    volts = _volts(item)
    if (
        item.test.endswith(".voltage-drop")
        and volts is not None
        and volts >= _NO_DROP
        and not _LOST.search(said + text[item.end : item.end + _AFTER])
    ):
        return replace(item, test=None, why=(*item.why, f"test None: {volts:g} V is what is there, no drop"))
    if item.test == "clutch.free-play" and _PEDAL.search(said):
        before = text[max(0, item.start - _SPOKEN_OF) : item.start]
        if _BRAKES.search(before) and not _CLUTCH.search(before):
            return replace(item, component=None, test=None, why=(*item.why, "test None: a brake pedal's play"))
    return item


_DROPS = re.compile(r"\b(?:drop|drops|dropped|dropping|loses|losing)\b[^.;]{0,20}$", re.IGNORECASE)


def of_another_part(item: Item, catalogue: Catalogue, text: str) -> Item:
    """A plug that drops millivolts is a connector: "pump plug drops 300 millivolts"."""
    quantity = item.quantity
    if quantity is None or item.test is None:
        return item
    drops = item.test.endswith(".supply-voltage") and quantity.unit == "mV"
    if drops and _DROPS.search(text[max(0, item.start - 30) : item.start]):
        return _moved(item, "connector.voltage-drop", catalogue, "by its size")
    return item


def _moved(item: Item, test: str, catalogue: Catalogue, why: str) -> Item:
    """The item as one of another test, where the catalogue has it."""
    if test not in catalogue.tests:
        return item
    return replace(item, component=catalogue.tests[test].component, test=test, why=(*item.why, f"test {test}: {why}"))
