"""Plays exactly the moment of a recording that a line came from, with the system's player where there is one."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
import wave
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from cleansheet.terms import Audio

# Word times drift by a few tenths of a second, most at the edges of pauses.
_MARGIN_S = 0.4
_RATE = 16_000
# Players that take a WAV file and end by themselves.
_PLAYERS = (
    ("pw-play",),
    ("paplay",),
    ("aplay", "-q"),
    ("play", "-q"),
    ("ffplay", "-nodisp", "-autoexit", "-v", "quiet"),
)


def play(sound: str | None, audio: Audio | None) -> str:
    """Play the moment; says in one line what was done or why not."""
    if audio is None:
        return "a typed line: nothing to hear" if sound is None else "no moment of the recording is known for this line"
    if sound is None or not Path(sound).is_file():
        return f"the recording is not there any more ({sound})"
    player = next((list(one) for one in _PLAYERS if shutil.which(one[0])), None)
    where = f"{audio.start_s:.1f} to {audio.end_s:.1f} s"
    if player is None:
        return f"no player on this system; it is at {where} of {sound}"
    with tempfile.TemporaryDirectory(prefix="cleansheet-") as folder:
        piece = Path(folder) / "moment.wav"
        try:
            cut(Path(sound), audio, piece)
        except Exception as err:  # noqa: BLE001 - decoders fail in many ways; none may end the review
            return f"the recording cannot be read here: {err}"
        try:
            done = subprocess.run([*player, str(piece)], capture_output=True, timeout=60, check=False)  # noqa: S603 - one of our own list of players
        except (OSError, subprocess.TimeoutExpired) as err:
            return f"{player[0]} does not play: {err}"
    if done.returncode:
        return f"{player[0]} does not play here; it is at {where} of {sound}"
    return f"played {where}"


def cut(sound: Path, audio: Audio, to: Path) -> None:
    """Write that stretch, with a margin, as a 16 kHz mono WAV file."""
    import av

    start, end = max(audio.start_s - _MARGIN_S, 0.0), audio.end_s + _MARGIN_S
    resampler: Any = av.AudioResampler(format="s16", layout="mono", rate=_RATE)
    samples = bytearray()
    with av.open(str(sound)) as container:
        for frame in container.decode(audio=0):
            if frame.time is not None and frame.time > end:
                break
            for piece in resampler.resample(frame):
                samples += bytes(piece.planes[0])[: piece.samples * 2]
    with wave.open(str(to), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(_RATE)
        out.writeframes(bytes(samples[int(start * _RATE) * 2 : int(end * _RATE) * 2]))
