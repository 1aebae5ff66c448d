"""Dictation from the microphone into a wav file, written as it comes: a crash loses at most a tenth of a second.

Needs the Python package sounddevice (PortAudio), which is optional.
"""

from __future__ import annotations

import queue
import time
import wave
from collections.abc import Callable
from datetime import datetime
from typing import TYPE_CHECKING, Any

import numpy as np

from cleansheet.terms import InputError

from .sound import RATE

if TYPE_CHECKING:
    from pathlib import Path

BLOCK_S = 0.1
Level = Callable[[float, float], None]


def record(
    folder: Path,
    *,
    level: Level | None = None,
    stop: Callable[[], bool] | None = None,
    silence_s: float = 8.0,
    most_s: float = 3600.0,
    device: int | str | None = None,
) -> Path:
    """Record one note into `folder` and return the file.

    Args:
        folder: where recordings are kept; made where it is missing.
        level: called for each tenth of a second with the seconds recorded and the level in dB below full scale.
        stop: asked as often; recording ends when it says True (a key was pressed).
        silence_s: recording ends after this much silence behind something said.
        most_s: and at this length in any case.
        device: PortAudio's name or number of the microphone; by default the system's.

    Raises:
        InputError: sounddevice or a microphone is missing, or the folder cannot be written.

    """
    try:
        import sounddevice
    except (ImportError, OSError) as fault:  # OSError: the PortAudio library itself is missing
        raise InputError("recording needs the package sounddevice; run: pip install sounddevice") from fault
    blocks: queue.Queue[bytes] = queue.Queue()

    def taken(data: Any, _frames: int, _time: Any, _status: Any) -> None:
        blocks.put(bytes(data))

    try:
        folder.mkdir(parents=True, exist_ok=True)
        path = folder / f"{datetime.now().astimezone():%Y-%m-%d-%H%M%S}.wav"
        size = int(RATE * BLOCK_S)
        with sounddevice.RawInputStream(
            samplerate=RATE, channels=1, dtype="int16", blocksize=size, device=device, callback=taken
        ):
            written = write_stream(
                path, lambda: blocks.get(timeout=5.0), level=level, stop=stop, silence_s=silence_s, most_s=most_s
            )
    except queue.Empty as fault:
        raise InputError("the microphone gives no sound; is it plugged in and allowed?") from fault
    except sounddevice.PortAudioError as fault:
        raise InputError(f"no microphone can be opened ({' '.join(str(fault).split())})") from fault
    except OSError as fault:
        raise InputError(f"{folder}: the recording cannot be written ({fault.strerror or fault})") from fault
    if not written:
        path.unlink(missing_ok=True)
        raise InputError("nothing was recorded")
    return path


def write_stream(
    path: Path,
    next_block: Callable[[], bytes],
    *,
    level: Level | None = None,
    stop: Callable[[], bool] | None = None,
    silence_s: float = 8.0,
    most_s: float = 3600.0,
) -> float:
    """Write 16-bit mono blocks into a wav file until there is reason to stop; the seconds written.

    The file's head is brought up to date about once a second, so that what is on disk is always a whole file.
    """
    gate = _Gate(silence_s)
    seconds = 0.0
    refreshed = time.monotonic()
    with path.open("wb") as handle:
        sound = wave.open(handle, "wb")  # noqa: SIM115 - closed below, after the last block, whatever happens
        sound.setnchannels(1)
        sound.setsampwidth(2)
        sound.setframerate(RATE)
        try:
            while seconds < most_s:
                block = next_block()
                if not block:
                    break
                if time.monotonic() - refreshed > 1.0:
                    sound.writeframes(block)  # writes the head anew
                    refreshed = time.monotonic()
                else:
                    sound.writeframesraw(block)
                handle.flush()
                seconds += len(block) / 2 / RATE
                loudness = loudness_db(block)
                if level is not None:
                    level(seconds, loudness)
                if gate.ended(loudness, len(block) / 2 / RATE) or (stop is not None and stop()):
                    break
        finally:
            sound.close()
    return seconds


def loudness_db(block: bytes) -> float:
    """Root mean square of 16-bit samples in dB below full scale; -120 for digital silence."""
    samples = np.frombuffer(block, dtype="<i2").astype(np.float64) / 32768
    power = float(np.mean(samples**2)) if len(samples) else 0.0
    return max(-120.0, 10 * float(np.log10(power))) if power > 0 else -120.0


class _Gate:
    """Ends a dictation: `silence_s` of quiet after speech. Quiet is judged against the room's own quietest second."""

    def __init__(self, silence_s: float) -> None:
        self.silence_s = silence_s
        self.floor = 0.0
        self.quiet_s = 0.0
        self.spoken = False

    def ended(self, loudness: float, seconds: float) -> bool:
        self.floor = min(self.floor + 0.02, loudness) if self.floor > loudness else self.floor + 0.02
        if loudness > self.floor + 12.0 and loudness > -55.0:
            self.spoken, self.quiet_s = True, 0.0
        else:
            self.quiet_s += seconds
        return self.spoken and self.quiet_s >= self.silence_s
