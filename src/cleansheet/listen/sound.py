"""Any sound file to 16 kHz mono, block by block, so that memory stays flat however long the recording is.

PyAV (FFmpeg's libraries) reads the container. What cannot be decoded in the middle is left out as silence of the same
length, so that times stay true, and is reported as a gap. Two channels are looked at before they are mixed: a dead one
is left out, and one that is the other's mirror image is turned round, because their sum would be silence.
"""

from __future__ import annotations

import struct
import warnings
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from cleansheet.terms import InputError

from .endings import lacks_index, lacks_last_page, states_no_length

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

RATE = 16_000
Samples = npt.NDArray[np.float32]

BLOCK_S = 30.0  # channels are judged and handed on in blocks of this length
CUT_S = 0.6  # shorter than stated by more than this, and by more than CUT_PART, is cut off
CUT_PART = 0.02
MOST_BROKEN = 100_000  # packets; then the file is given up at that place
MAX_GAP_S = 3600.0  # a jump in time longer than this is a broken time stamp, not a gap


@dataclass(slots=True)
class Sound:
    """An opened sound file. `gaps` fills while the blocks are read: (start, end) in seconds, both alike where nobody knows
    how much is missing. `is_estimate` is true where the file states no length and `stated_s` is reckoned from its bit rate;
    `is_open` where it lacks the mark that its form puts at the end.
    """

    path: Path
    stated_s: float | None
    recorded_at: str
    is_estimate: bool = False
    is_open: bool = False
    gaps: list[tuple[float, float]] = field(default_factory=list)
    read_s: float = 0.0

    def blocks(self) -> Iterator[Samples]:
        """The samples, -1 to 1, in blocks of about `BLOCK_S`. Raises `InputError` where nothing can be decoded."""
        pending: list[Samples] = []
        length = 0
        for piece in _decode(self):
            pending.append(piece)
            length += piece.shape[1]
            if length >= BLOCK_S * RATE:
                mono = mixed_down(np.concatenate(pending, axis=1))
                pending, length = [], 0
                self.read_s += len(mono) / RATE
                yield mono
        if length:
            mono = mixed_down(np.concatenate(pending, axis=1))
            self.read_s += len(mono) / RATE
            yield mono

    @property
    def is_cut(self) -> bool:
        """After reading: whether the file holds clearly less sound than it states."""
        if self.stated_s is None or self.is_estimate or any(start == end for start, end in self.gaps):
            return False
        missing = self.stated_s - self.read_s
        return missing > CUT_S and missing > CUT_PART * self.stated_s


def open_sound(path: Path) -> Sound:
    """Look at a sound file's head. Raises `InputError` where it is missing, empty, no sound, or broken at the start."""
    import av

    if not path.exists():
        raise InputError(f"{path}: no such file")
    if path.is_dir():
        raise InputError(f"{path}: is a folder; name a sound file")
    try:
        size = path.stat().st_size
        if size == 0:
            raise InputError(f"{path}: the file is empty (0 bytes); copy it from the recorder again")
        with av.open(str(path), mode="r", metadata_errors="ignore") as container:
            if not container.streams.audio:
                raise InputError(f"{path}: holds no sound track")
            stream = container.streams.audio[0]
            _check_head(path, stream)
            return Sound(
                path=path,
                stated_s=_stated_seconds(path, size, container, stream),
                recorded_at=recorded_at(path, {**dict(container.metadata), **dict(stream.metadata)}),
                is_estimate=states_no_length(path, container.format.name),
                is_open=container.format.name == "ogg" and lacks_last_page(path),
            )
    except (av.error.FFmpegError, IndexError, ValueError) as fault:
        if isinstance(fault, InputError):
            raise
        if lacks_index(path):
            raise InputError(
                f"{path}: is cut off: the list of where its sound lies, which comes last, is missing; "
                "copy it from the recorder again"
            ) from fault
        raise InputError(f"{path}: is not a sound file that can be read, or is cut off ({_plain(fault)})") from fault
    except OSError as fault:
        raise InputError(f"{path}: cannot be read ({fault.strerror or fault})") from fault


def recorded_at(path: Path, metadata: dict[str, str]) -> str:
    """When the recording was made, ISO 8601 local time to the second: from the file's own tags, or its time stamp.

    `creation_time: 2026-03-14T15:20:00.000000Z` → `2026-03-14T16:20:00` where the clock stands one hour ahead.
    """
    tags = {key.lower(): value for key, value in metadata.items()}
    date, clock = tags.get("date", ""), tags.get("creation_time", "")
    candidates = [clock, date, f"{date}T{clock}"]  # broadcast wave keeps the day and the hour in two tags
    for tag in candidates:
        if len(tag) < len("2026-03-14T16:20"):
            continue
        try:
            moment = datetime.fromisoformat(tag.replace(" ", "T", 1))
        except ValueError:
            continue
        if moment.year < 1990:  # an unset clock says 1904 or 1970
            continue
        local = moment.astimezone() if moment.tzinfo else moment
        return local.replace(tzinfo=None, microsecond=0).isoformat()
    return datetime.fromtimestamp(path.stat().st_mtime).replace(microsecond=0).isoformat()  # noqa: DTZ006 - local time is meant


def mixed_down(channels: Samples) -> Samples:
    """One channel from one or two (rows), by what they hold.

    [speech, silence] → speech; [x, -x] → x; otherwise the mean.
    """
    if channels.shape[0] == 1:
        return np.asarray(channels[0], dtype=np.float32)
    left, right = channels[0], channels[1]
    left_power, right_power = float(np.mean(left**2)), float(np.mean(right**2))
    if min(left_power, right_power) < 1e-3 * max(left_power, right_power):  # 30 dB apart: one is dead
        return np.asarray(left if left_power >= right_power else right, dtype=np.float32)
    together = float(np.mean(left * right))
    if together < -0.3 * np.sqrt(left_power * right_power):
        return np.asarray((left - right) / 2, dtype=np.float32)
    return np.asarray((left + right) / 2, dtype=np.float32)


def _check_head(path: Path, stream: Any) -> None:
    if stream.codec_context is None:
        raise InputError(f"{path}: its sound is in a form that cannot be decoded")
    if not stream.channels:
        raise InputError(f"{path}: states a number of channels that cannot be; the file's head is broken")
    if stream.channels > 64:
        raise InputError(f"{path}: states {stream.channels} channels; the file's head is broken")
    if not 1_000 <= (stream.rate or 0) <= 768_000:
        raise InputError(f"{path}: states {stream.rate} samples a second; the file's head is broken")


def _stated_seconds(path: Path, size: int, container: Any, stream: Any) -> float | None:
    """How long the file says it is. A cut wav is told by its own size field, which FFmpeg passes over."""
    stated = None
    if stream.duration is not None and stream.time_base is not None:
        stated = float(stream.duration * stream.time_base)
    elif container.duration is not None:
        stated = container.duration / 1e6
    with path.open("rb") as handle:
        head = handle.read(12)
    if stated is not None and head[:4] == b"RIFF" and head[8:12] == b"WAVE":
        (riff,) = struct.unpack("<I", head[4:8])
        if riff not in (0, 0xFFFFFFFF) and riff + 8 > size:
            stated *= (riff + 8) / size
    return stated if stated is None or 0 < stated < 1e6 else None


def _decode(sound: Sound) -> Iterator[Samples]:
    """Pieces of one or two channels (rows) at 16 kHz. Fills `sound.gaps`."""
    import av

    path = sound.path
    try:
        with warnings.catch_warnings(), av.open(str(path), mode="r", metadata_errors="ignore") as container:
            warnings.simplefilter("ignore")
            stream = container.streams.audio[0]
            stream.codec_context.thread_type = "AUTO"
            layout = "stereo" if stream.channels == 2 else "mono"
            resampler = av.AudioResampler(format="fltp", layout=layout, rate=RATE)
            clock = _Clock(sound)
            for frame in _frames(container, stream, clock):
                silence = clock.missing_before(frame)
                for piece in _resampled(resampler, frame):
                    if silence:
                        yield np.zeros((piece.shape[0], silence), dtype=np.float32)
                        silence = 0
                    yield piece
            for piece in _resampled(resampler, None):
                yield piece
            if clock.frames == 0:
                raise InputError(f"{path}: no sound in it can be decoded; the file is cut off or damaged")
    except (av.error.FFmpegError, IndexError, ValueError) as fault:
        if isinstance(fault, InputError):
            raise
        raise InputError(f"{path}: is not a sound file that can be read, or is cut off ({_plain(fault)})") from fault
    except OSError as fault:
        raise InputError(f"{path}: cannot be read ({fault.strerror or fault})") from fault


def _frames(container: Any, stream: Any, clock: _Clock) -> Iterator[Any]:
    """Decoded frames; what cannot be decoded is passed over (the clock then sees the gap).

    A bare stream of frames (mp3, adts) and AMR have no times that show it; there a packet that fails with sound behind
    it is the sign of damage.
    """
    import av

    untimed = container.format.name in ("mp3", "aac", "amr")
    packets = container.demux(stream)
    broken, failed = 0, False
    while broken < MOST_BROKEN:
        try:
            frames = next(packets).decode()
        except StopIteration:
            return
        except av.error.FFmpegError:  # damaged data raises errors of many kinds, some of them misleading
            broken, failed = broken + 1, True
            continue
        if frames and failed and untimed:
            clock.damaged_here()
        if frames:
            failed = False
        yield from frames


def _resampled(resampler: Any, frame: Any) -> Iterator[Samples]:
    if frame is not None:
        frame.pts = None  # the resampler need not judge time stamps, the clock does
    for out in resampler.resample(frame):
        array = np.asarray(out.to_ndarray(), dtype=np.float32)
        array = np.nan_to_num(array, nan=0.0, posinf=0.0, neginf=0.0)
        yield np.clip(array, -1.0, 1.0)


class _Clock:
    """Compares each frame's time stamp with the sound decoded so far."""

    def __init__(self, sound: Sound) -> None:
        self.sound = sound
        self.frames = 0
        self._expected: float | None = None

    def damaged_here(self) -> None:
        """Note a place where sound is missing, nobody knows how much."""
        at = round(self._expected or 0.0, 2)
        if not self.sound.gaps or at - self.sound.gaps[-1][1] > 1.0:
            self.sound.gaps.append((at, at))

    def missing_before(self, frame: Any) -> int:
        """How many samples at 16 kHz are missing before `frame`."""
        self.frames += 1
        length = frame.samples / frame.sample_rate
        if frame.pts is None or frame.time_base is None:
            if self._expected is not None:
                self._expected += length
            return 0
        start = float(frame.pts * frame.time_base)
        if self._expected is None:
            self._expected = start
        missing = start - self._expected
        if not 0.08 < missing < MAX_GAP_S:
            missing = 0.0
        else:
            self.sound.gaps.append((round(self._expected, 2), round(start, 2)))
        self._expected = max(self._expected, start) + length
        return round(missing * RATE)


def _plain(fault: BaseException) -> str:
    return " ".join(str(getattr(fault, "strerror", None) or fault).split())[:120]
