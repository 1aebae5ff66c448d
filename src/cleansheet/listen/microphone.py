"""Dictation from the microphone into a wav file, written as it comes: a crash loses at most a tenth of a second.

Needs the Python package sounddevice (PortAudio), which is optional.
"""

from __future__ import annotations

import queue
import time
import wave
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any, BinaryIO

import numpy as np

from cleansheet.terms import InputError

from .sound import RATE

if TYPE_CHECKING:
    from pathlib import Path

BLOCK_S = 0.1
Level = Callable[[float, float], None]
LIST = "cleansheet microphones"


@dataclass(frozen=True, slots=True)
class Microphone:
    """An input device as PortAudio knows it; `rate` is its own number of samples a second."""

    number: int
    name: str
    channels: int
    rate: int
    is_default: bool = False


def microphones() -> tuple[Microphone, ...]:
    """Every input device. Raises InputError where sounddevice or PortAudio is missing."""
    sounddevice = _sounddevice()
    try:
        devices = list(sounddevice.query_devices())
    except sounddevice.PortAudioError as fault:
        raise InputError(f"the sound devices cannot be listed ({_one_line(fault)})") from fault
    try:
        default = sounddevice.query_devices(kind="input")["index"]
    except (sounddevice.PortAudioError, ValueError):
        default = -1
    return tuple(
        Microphone(
            number, str(one["name"]), one["max_input_channels"], round(one["default_samplerate"]), number == default
        )
        for number, one in enumerate(devices)
        if one["max_input_channels"] > 0
    )


def the_microphone(which: str | None = None) -> Microphone:
    """The microphone of that number or name (a part of it is enough), by default the system's.

    Raises InputError where there is none, none of that name, or several.
    """
    found = microphones()
    if not found:
        raise InputError("no microphone is found on this computer; plug one in, and allow the program to use it")
    if which is None:
        return next((one for one in found if one.is_default), found[0])
    wanted = which.strip()
    if wanted.isdecimal():
        fitting = [one for one in found if one.number == int(wanted)]
    else:
        fitting = [one for one in found if one.name.casefold() == wanted.casefold()]
        fitting = fitting or [one for one in found if wanted and wanted.casefold() in one.name.casefold()]
    if not fitting:
        raise InputError(f"no microphone {which!r}; see: {LIST}")
    if len(fitting) > 1:
        named = ", ".join(f"{one.number} {one.name}" for one in fitting)
        raise InputError(f"several microphones fit {which!r} ({named}); give the number")
    return fitting[0]


def record(
    folder: Path,
    *,
    level: Level | None = None,
    stop: Callable[[], bool] | None = None,
    silence_s: float = 8.0,
    most_s: float = 3600.0,
    which: str | None = None,
    lost: Callable[[], None] | None = None,
) -> Path:
    """Record one note into `folder` and return the file.

    Args:
        folder: where recordings are kept; made where it is missing.
        level: called for each tenth of a second with the seconds recorded and the level in dB below full scale.
        stop: asked as often; recording ends when it says True (a key was pressed).
        silence_s: recording ends after this much silence behind something said.
        most_s: and at this length in any case.
        which: number or name of the microphone (`the_microphone`); by default the system's.
        lost: called where the computer was too slow and the device had to throw sound away.

    Raises:
        InputError: sounddevice or a microphone is missing, or the folder cannot be written. What was recorded by then
            stays in `folder`.

    """
    sounddevice = _sounddevice()
    device = the_microphone(which)
    blocks: queue.Queue[bytes] = queue.Queue()

    def taken(data: Any, _frames: int, _time: Any, status: Any) -> None:
        blocks.put(bytes(data))
        if lost is not None and status and status.input_overflow:
            lost()

    try:
        rate, channels = _form(sounddevice, device)
        folder.mkdir(parents=True, exist_ok=True)
        with sounddevice.RawInputStream(
            samplerate=rate,
            channels=channels,
            dtype="int16",
            blocksize=int(rate * BLOCK_S),
            device=device.number,
            callback=taken,
        ):
            path, handle = _new_file(folder)
            with handle:
                written = write_stream(
                    handle,
                    lambda: blocks.get(timeout=5.0),
                    level=level,
                    stop=stop,
                    silence_s=silence_s,
                    most_s=most_s,
                    rate=rate,
                    channels=channels,
                )
    except queue.Empty as fault:
        raise InputError("the microphone gives no sound; is it plugged in and allowed?") from fault
    except sounddevice.PortAudioError as fault:
        raise InputError(f"microphone {device.number} {device.name} cannot be opened ({_one_line(fault)})") from fault
    except OSError as fault:
        raise InputError(f"{folder}: the recording cannot be written ({fault.strerror or fault})") from fault
    if not written:
        path.unlink(missing_ok=True)
        raise InputError("nothing was recorded")
    return path


def _sounddevice() -> Any:
    try:
        import sounddevice
    except ImportError as fault:
        raise InputError("recording needs the package sounddevice; run: pip install sounddevice") from fault
    except OSError as fault:
        raise InputError(
            "recording needs the library PortAudio; install it (on Debian and its kin: apt install libportaudio2)"
        ) from fault
    return sounddevice


def _form(sounddevice: Any, device: Microphone) -> tuple[int, int]:
    """(samples a second, channels) that the device gives: what is heard anyway if it can, else its own."""
    tries = [(RATE, 1), (device.rate, 1), (device.rate, min(device.channels, 2))]
    for rate, channels in tries[:-1]:
        try:
            sounddevice.check_input_settings(device=device.number, samplerate=rate, channels=channels, dtype="int16")
        except (sounddevice.PortAudioError, ValueError):
            continue
        return rate, channels
    return tries[-1]  # if not this either, opening it says why


def _new_file(folder: Path) -> tuple[Path, BinaryIO]:
    """A file of its own, named by the time; a second one within the same second does not take its place."""
    stamp = f"{datetime.now().astimezone():%Y-%m-%d-%H%M%S}"
    for number in range(1, 1000):
        path = folder / (f"{stamp}.wav" if number == 1 else f"{stamp}-{number}.wav")
        try:
            return path, path.open("xb")
        except FileExistsError:
            continue
    raise FileExistsError(17, "every name for it is taken", str(folder))


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())


def write_stream(
    handle: BinaryIO,
    next_block: Callable[[], bytes],
    *,
    level: Level | None = None,
    stop: Callable[[], bool] | None = None,
    silence_s: float = 8.0,
    most_s: float = 3600.0,
    rate: int = RATE,
    channels: int = 1,
) -> float:
    """Write 16-bit blocks into a wav file until there is reason to stop; the seconds written.

    The file's head is brought up to date about once a second, so that what is on disk is always a whole file.
    """
    gate = _Gate(silence_s)
    frames = 0
    refreshed = time.monotonic()
    sound = wave.open(handle, "wb")  # noqa: SIM115 - closed below, after the last block, whatever happens
    sound.setnchannels(channels)
    sound.setsampwidth(2)
    sound.setframerate(rate)
    try:
        while frames < most_s * rate:
            block = next_block()
            if not block:
                break
            if time.monotonic() - refreshed > 1.0:
                sound.writeframes(block)  # writes the head anew
                refreshed = time.monotonic()
            else:
                sound.writeframesraw(block)
            handle.flush()
            length = len(block) // (2 * channels)
            frames += length
            loudness = loudness_db(block)
            if level is not None:
                level(frames / rate, loudness)
            if gate.ended(loudness, length / rate) or (stop is not None and stop()):
                break
    finally:
        sound.close()
    return frames / rate


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
