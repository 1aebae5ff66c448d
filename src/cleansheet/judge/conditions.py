"""Whether a limit's conditions hold for a reading, from what the note says.

A condition that is said and contradicts the limit's rules the limit out. One that is not said is taken for granted (who
checks charging with the engine off?) and named in the verdict's reason, except where the test is worthless without it:
a coolant sensor without its temperature, an oil pressure without the speed. Those are the test's `must_say`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from ..catalogue import Test

Said = Mapping[str, str | float]
Answer = Callable[[str | float, Said, "Test | None"], "bool | None"]

SPEED_SHARE = 0.15  # "at three thousand" on a needle gauge
SENSOR_KELVIN = 3.0  # a temperature sensor moves some 4 % a kelvin
OTHER_KELVIN = 8.0  # windings, air conditioning, batteries
ELAPSED_SHARE = 0.10
FAST_IDLE = 1500.0  # above it nobody says idle
HOT_C, COLD_C = 60.0, 40.0

_RUNNING = frozenset({"running", "idle"})


class Fit(NamedTuple):
    """`clash` names the condition that rules the limit out; `said` counts those that were said and agree; `granted`
    are those taken for granted; `missing` those that must be said and are not.
    """

    clash: str | None = None
    said: int = 0
    granted: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()

    @property
    def holds(self) -> bool:
        return self.clash is None and not self.missing


NO_CONDITION = Fit()


def fit(want: Said, said: Said, test: Test | None = None, over: str | None = None) -> Fit:
    """How the conditions `want` of a limit sit with those said of a reading. `over` is what a table runs over.

    >>> fit({"engine": "idle"}, {"engine": "off"}).clash
    'engine off, the limit is for engine idle'
    """
    must = test.must_say if test is not None else ()
    if not want and over is None:
        return NO_CONDITION
    count = 0
    granted: list[str] = []
    missing: list[str] = []
    if over is not None:
        if over not in said:
            return Fit(missing=(over,))
        count += 1
    for key, value in want.items():
        state = _ANSWERS[key](value, said, test)
        if state is True:
            count += 1
        elif state is False:
            return Fit(clash=f"{told(key, said)}, the limit is for {word(key, value)}", said=count)
        elif key in must or (key == "speed_rpm_from" and "speed_rpm" in must):
            missing.append(key)
        else:
            granted.append(word(key, value))
    return Fit(said=count, granted=tuple(granted), missing=tuple(missing))


def contradicts(one: Said, other: Said) -> bool:
    """Whether two sets of said conditions cannot both hold, as "throttle closed" and "throttle open" cannot."""
    return any(_ANSWERS[key](value, other, None) is False for key, value in one.items() if key in _ANSWERS)


def word(key: str, value: str | float) -> str:
    """A condition in words: ("speed_rpm", 3000) is "3000 rpm"."""
    shape = _WORDS.get(key)
    return shape.format(value) if shape else str(value)


def told(key: str, said: Said) -> str:
    """What the note says that bears on `key`."""
    close = {"speed_rpm_from": ("speed_rpm", "engine"), "speed_rpm": ("speed_rpm", "engine"),
             "engine": ("engine", "speed_rpm"), "warm": ("warm", "temperature_c"),
             "temperature_c": ("temperature_c", "warm")}.get(key, (key,))  # fmt: skip
    return next((word(other, said[other]) for other in close if other in said), "other conditions said")


_WORDS = {
    "engine": "engine {}",
    "speed_rpm": "{:g} rpm",
    "speed_rpm_from": "{:g} rpm or more",
    "temperature_c": "{:g} °C",
    "warm": "{}",
    "elapsed_min": "{:g} min",
    "vacuum_line": "vacuum line {}",
    "throttle": "throttle {}",
    "load": "load {}",
}


# Each answers: does `said` agree with the value (True), contradict it (False), or say nothing of it (None)?


def _engine(value: str | float, said: Said, _: Test | None) -> bool | None:
    state = said.get("engine")
    speed = said.get("speed_rpm")
    if state is None and isinstance(speed, (int, float)) and speed > 0:
        state = "running" if speed > FAST_IDLE else None
        if value in ("off", "cranking"):
            return False
    if state is None:
        return None
    if value == "running":
        return state in _RUNNING
    if value == "idle":
        if isinstance(speed, (int, float)) and speed > FAST_IDLE:
            return False
        return True if state == "idle" else None if state == "running" else False
    return state == value


def _speed(value: str | float, said: Said, _: Test | None) -> bool | None:
    speed = said.get("speed_rpm")
    if speed is None:
        return False if said.get("engine") in ("off", "cranking", "idle") and float(value) > FAST_IDLE else None
    return abs(float(speed) - float(value)) <= SPEED_SHARE * float(value)


def _speed_from(value: str | float, said: Said, _: Test | None) -> bool | None:
    speed = said.get("speed_rpm")
    if speed is None:
        state = said.get("engine")
        return False if state in ("off", "cranking") or (state == "idle" and float(value) > FAST_IDLE) else None
    return float(speed) >= float(value) * (1 - SPEED_SHARE)


def _temperature(value: str | float, said: Said, test: Test | None) -> bool | None:
    want = float(value)
    got = said.get("temperature_c")
    if got is None:
        warm = said.get("warm")
        if (warm == "hot" and want <= COLD_C) or (warm == "cold" and want >= HOT_C):
            return False
        return None
    near = SENSOR_KELVIN if test is not None and "temperature_c" in test.must_say else OTHER_KELVIN
    return abs(float(got) - want) <= near


def _warm(value: str | float, said: Said, _: Test | None) -> bool | None:
    state = said.get("warm")
    if state is not None:
        return state == value
    got = said.get("temperature_c")
    if got is None:
        return None
    if float(got) >= HOT_C:
        return value == "hot"
    return value == "cold" if float(got) <= COLD_C else None


def _elapsed(value: str | float, said: Said, _: Test | None) -> bool | None:
    got = said.get("elapsed_min")
    return None if got is None else abs(float(got) - float(value)) <= ELAPSED_SHARE * float(value) + 1e-9


def _same(key: str) -> Answer:
    def answer(value: str | float, said: Said, _: Test | None) -> bool | None:
        got = said.get(key)
        return None if got is None else got == value

    return answer


_ANSWERS: dict[str, Answer] = {
    "engine": _engine,
    "speed_rpm": _speed,
    "speed_rpm_from": _speed_from,
    "temperature_c": _temperature,
    "warm": _warm,
    "elapsed_min": _elapsed,
    "vacuum_line": _same("vacuum_line"),
    "throttle": _same("throttle"),
    "load": _same("load"),
}
