# ruff: noqa: INP001, S603, S607 - a script for people who change the samples
"""Make the spoken sample notes again: speech by flite (Debian package `flite`), noise by arithmetic, written as Opus.

    python sample_notes/make_sounds.py [FOLDER]

What is said stands in the `.said.txt` file beside each sound; the date of recording is in the sound's own tags.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import wave
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

HERE = Path(__file__).parent
RATE = 16_000
PAUSE_S = 0.8

# file: (flite voice, signal-to-noise ratio in dB or None, when it was recorded)
SOUNDS = {
    "visit-1-fuel.opus": ("slt", None, "2026-03-03T16:40:00"),
    "visit-2-crank-sensor.opus": ("rms", 14.0, "2026-03-19T11:05:00"),
    "visit-3-road-test.opus": ("slt", None, "2026-04-02T15:30:00"),
}


def speech(sentence: str, voice: str) -> np.ndarray:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "said.wav"
        subprocess.run(["flite", "-voice", voice, "-t", sentence, "-o", str(path)], check=True)
        with wave.open(str(path)) as sound:
            samples = np.frombuffer(sound.readframes(sound.getnframes()), dtype=np.int16)
            assert sound.getframerate() == RATE
    return samples.astype(np.float64) / 32768


def workshop(length: int, seed: int) -> np.ndarray:
    """A four-cylinder engine idling at 850 rev/min (firing 28 times a second) and a compressor's hiss over it."""
    chance = np.random.default_rng(seed)
    at = np.arange(length) / RATE
    wobble = 1 + 0.02 * np.sin(2 * np.pi * 0.7 * at) + 0.01 * np.sin(2 * np.pi * 2.3 * at)
    phase = 2 * np.pi * np.cumsum(28.3 * wobble) / RATE
    engine = sum(np.sin(order * phase + order) / order**0.8 for order in (0.5, 1, 1.5, 2, 3, 4, 6, 8, 12, 16))
    hiss = np.convolve(chance.standard_normal(length), np.ones(6) / 6, mode="same")
    knock = hiss * (0.3 + np.clip(np.sin(phase), 0, 1) ** 6)
    return engine / 4 + 0.5 * knock + 0.25 * hiss


def spoken(lines: list[str], voice: str, noise_db: float | None, seed: int) -> np.ndarray:
    pause = np.zeros(int(PAUSE_S * RATE))
    pieces = [pause]
    for line in lines:
        pieces += [speech(line, voice), pause]
    voice_only = np.concatenate(pieces)
    voice_only *= 0.25 / np.percentile(np.abs(voice_only), 99)
    if noise_db is None:
        return voice_only
    loud = voice_only[np.abs(voice_only) > 0.01]
    noise = workshop(len(voice_only), seed)
    noise *= np.sqrt(np.mean(loud**2) / np.mean(noise**2)) * 10 ** (-noise_db / 20)
    return voice_only + noise


def write_opus(path: Path, samples: np.ndarray, recorded: str) -> None:
    whole = np.clip(samples * 32767, -32768, 32767).astype(np.int16)
    with av.open(str(path), "w", format="ogg") as container:
        container.metadata["DATE"] = recorded
        stream = container.add_stream("libopus", rate=RATE, layout="mono")
        stream.bit_rate = 32_000
        for start in range(0, len(whole), 320):
            block = np.zeros((1, 320), dtype=np.int16)
            piece = whole[start : start + 320]
            block[0, : len(piece)] = piece
            frame = av.AudioFrame.from_ndarray(block, format="s16", layout="mono")
            frame.sample_rate, frame.pts, frame.time_base = RATE, start, Fraction(1, RATE)
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))


def main(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for seed, (name, (voice, noise_db, recorded)) in enumerate(SOUNDS.items()):
        lines = (HERE / name).with_suffix(".said.txt").read_text(encoding="utf-8").split("\n")
        write_opus(folder / name, spoken([line for line in lines if line.strip()], voice, noise_db, seed), recorded)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else HERE)
