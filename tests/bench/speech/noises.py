"""Workshop noise from arithmetic, each kind in a version for tuning and another for measuring; and a small room."""

from __future__ import annotations

import numpy as np
from scipy.signal import butter, fftconvolve, lfilter

RATE = 16_000


def _band(chance: np.random.Generator, length: int, low: float, high: float) -> np.ndarray:
    top, bottom = butter(2, [low, high], btype="band", fs=RATE)
    return lfilter(top, bottom, chance.standard_normal(length))


def _unit(samples: np.ndarray) -> np.ndarray:
    return samples / (np.sqrt(np.mean(samples**2)) + 1e-12)


def engine(chance, length, firing_hz, knock, orders):
    """An idling engine: harmonics of the firing rate, wandering a little, and combustion knock on each firing."""
    at = np.arange(length) / RATE
    wander = 1 + 0.02 * np.sin(2 * np.pi * 0.6 * at + chance.uniform(0, 6)) + 0.01 * np.sin(2 * np.pi * 2.1 * at)
    phase = 2 * np.pi * np.cumsum(firing_hz * wander) / RATE
    tones = sum(np.sin(order * phase + chance.uniform(0, 6)) / order**0.8 for order in orders)
    knocks = _band(chance, length, 600, 3500) * (0.2 + np.clip(np.sin(phase), 0, 1) ** 6)
    return _unit(_unit(tones) + knock * _unit(knocks) + 0.3 * chance.standard_normal(length))


def compressor(chance, length, thump_hz, hiss):
    """A piston compressor: thumps through a case resonance, and air escaping."""
    at = np.arange(length) / RATE
    thump = np.clip(np.sin(2 * np.pi * thump_hz * at), 0, 1) ** 8
    body = _band(chance, length, 70, 400) * thump
    return _unit(_unit(body) + hiss * _unit(_band(chance, length, 1500, 7500)))


def impact_wrench(chance, length, blows_hz):
    """Bursts of metal blows, half a second to a second and a half long, with pauses."""
    out = np.zeros(length)
    ring = np.exp(-np.arange(800) / 90) * sum(
        np.sin(2 * np.pi * hz * np.arange(800) / RATE) for hz in (1130, 2310, 3470, 5200)
    )
    at = 0
    while at < length:
        end = min(length, at + int(RATE * chance.uniform(0.5, 1.5)))
        while at < end:
            size = min(len(ring), length - at)
            out[at : at + size] += ring[:size] * chance.uniform(0.6, 1.0)
            at += int(RATE / blows_hz * chance.uniform(0.9, 1.1))
        at += int(RATE * chance.uniform(0.4, 1.2))
    return _unit(out + 0.05 * np.std(out) * chance.standard_normal(length))


def fan(chance, length):
    """A heater fan: broad low noise with a blade tone."""
    at = np.arange(length) / RATE
    return _unit(_unit(_band(chance, length, 60, 1200)) + 0.4 * np.sin(2 * np.pi * 118 * at))


def babble(chance, length, voices):
    """Several people talking at once, out of other sentences' sound (a list of arrays)."""
    out = np.zeros(length)
    for _ in range(5):
        start, filled = int(chance.integers(0, RATE)), 0
        while filled < length:
            voice = voices[int(chance.integers(len(voices)))]
            size = min(len(voice), length - filled)
            out[filled : filled + size] += voice[:size]
            filled += size + start
    return _unit(out)


KINDS = {
    "tuning": ("engine", "compressor", "babble"),
    "measuring": ("engine", "compressor", "impact wrench", "fan", "babble"),
}


def noise(half: str, kind: str, length: int, seed: int, voices: list[np.ndarray]) -> np.ndarray:
    chance = np.random.default_rng(seed)
    tuning = half == "tuning"
    if kind == "engine":
        firing = 28.3 if tuning else 21.5
        return engine(chance, length, firing, 0.6 if tuning else 1.1, (0.5, 1, 1.5, 2, 3, 4, 6, 8, 12, 16))
    if kind == "compressor":
        return compressor(chance, length, 11.0 if tuning else 15.5, 0.5 if tuning else 0.9)
    if kind == "impact wrench":
        return impact_wrench(chance, length, 22.0)
    if kind == "fan":
        return fan(chance, length)
    return babble(chance, length, voices)


def in_a_room(samples: np.ndarray, seed: int) -> np.ndarray:
    """A small workshop's echo: 0.3 s of decaying noise after the direct sound."""
    chance = np.random.default_rng(seed)
    length = int(0.3 * RATE)
    tail = chance.standard_normal(length) * np.exp(-np.arange(length) / (0.05 * RATE)) * 0.04
    tail[0] = 1.0
    return fftconvolve(samples, tail)[: len(samples)]


def mixed(speech: np.ndarray, other: np.ndarray, level_db: float | None) -> np.ndarray:
    """Speech with noise at the given ratio of mean powers over the whole clip; peak at 0.7."""
    if level_db is not None:
        other = other * np.sqrt(np.mean(speech**2)) * 10 ** (-level_db / 20)
        speech = speech + other
    return speech * 0.7 / np.max(np.abs(speech))
