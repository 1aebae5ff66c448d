"""Speed, frequency and angle. A revolution a minute is 1/60 a second: some units libraries make it 2 pi radians."""

from __future__ import annotations


def duty_percent(dwell_deg: float, lobes: int) -> float:
    """100 * dwell * lobes / 360: 54 degrees with four lobes is 60 %. By definition."""
    return 100 * dwell_deg * lobes / 360


def dwell_degrees(duty: float, lobes: int) -> float:
    """Duty * 360 / (100 * lobes), in distributor degrees: 60 % with six lobes is 36. By definition."""
    return duty * 360 / (100 * lobes)


def tooth_frequency(teeth: float, rpm: float) -> float:
    """Teeth * rpm / 60, in hertz: 60 teeth at 850 rpm are 850. Count the teeth that exist. By definition."""
    return teeth * rpm / 60


def speed_from_teeth(frequency_hz: float, teeth: float) -> float:
    """60 * f / teeth, in revolutions a minute: 1740 Hz of 116 teeth is 900. By definition."""
    return 60 * frequency_hz / teeth


def firings_per_second(cylinders: int, rpm: float) -> float:
    """Rpm * cylinders / 120, four-stroke: four cylinders at 3000 rpm fire 100 times a second. By definition."""
    return rpm * cylinders / 120


def turn_ms(rpm: float) -> float:
    """60 000 / rpm: one turn at 900 rpm takes 66.667 ms. By definition."""
    return 60_000 / rpm


def cycle_ms(rpm: float) -> float:
    """Two turns, a four-stroke cycle: 133.333 ms at 900 rpm. By definition."""
    return 2 * turn_ms(rpm)


def injector_duty_percent(pulse_ms: float, rpm: float) -> float:
    """100 * pulse / cycle, one pulse a cycle: 12 ms at 6000 rpm is 60 %. By definition."""
    return 100 * pulse_ms / cycle_ms(rpm)


def crank_degrees(time_ms: float, rpm: float) -> float:
    """360 * time / turn: 2.0 ms at 1000 rpm are 12 degrees of crankshaft. By definition."""
    return 360 * time_ms / turn_ms(rpm)
