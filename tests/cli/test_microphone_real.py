"""The microphone's real path: PortAudio records what a synthetic voice says into a virtual one.

Runs where sounddevice, PortAudio, PulseAudio with its ALSA plugin, and espeak-ng are installed; the voice is not ours to
judge here, only that what is recorded is taken.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import time
import wave
from pathlib import Path

import pytest

from cleansheet import journal as book

WORDS = "Coil primary resistance is zero point seven ohms."


def _has_portaudio():
    try:
        import sounddevice  # noqa: F401
    except (ImportError, OSError):
        return False
    return True


pytestmark = [
    pytest.mark.speech,
    pytest.mark.slow,
    pytest.mark.skipif(
        not (all(map(shutil.which, ("pulseaudio", "pactl", "paplay", "espeak-ng"))) and _has_portaudio()),
        reason="needs sounddevice, PortAudio, PulseAudio and espeak-ng",
    ),
]


@pytest.fixture(scope="module")
def cache(tmp_path_factory):
    return tmp_path_factory.mktemp("cache")


@pytest.fixture
def room(home, cache, monkeypatch, tmp_path_factory):
    """The settings of a user whose only microphone hears what is played to the sink 'bench'."""
    runtime = tmp_path_factory.mktemp("run", numbered=True)
    runtime.chmod(0o700)
    user = home / "home"
    user.mkdir(exist_ok=True)
    (user / ".asoundrc").write_text(
        'pcm.bench { type pulse device "bench.monitor" }\npcm.!default { type pulse device "bench.monitor" }\n'
    )
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(runtime))
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    server = subprocess.Popen(
        ["pulseaudio", "-n", "--exit-idle-time=-1", "--log-level=error", "-L", "module-native-protocol-unix",
         "-L", "module-null-sink sink_name=bench rate=48000"],
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        until = time.monotonic() + 20
        while subprocess.run(["pactl", "info"], capture_output=True, check=False).returncode:
            if time.monotonic() > until or server.poll() is not None:
                pytest.skip("PulseAudio does not start here")
            time.sleep(0.2)
        yield home
    finally:
        server.terminate()
        server.wait()


def cleansheet(*args):
    return [sys.executable, "-m", "cleansheet.cli", *args]


def test_the_virtual_microphone_is_listed(room):
    done = subprocess.run(cleansheet("microphones"), capture_output=True, text=True, check=True, env=os.environ)
    assert "bench" in done.stdout
    assert "* is used where no other is named" in done.stdout


def test_what_is_said_into_it_is_recorded_and_taken(room, stored):
    said = room / "said.wav"
    subprocess.run(["espeak-ng", "-s", "140", "-w", said, WORDS], check=True)
    recording = subprocess.Popen(
        cleansheet("take", "--microphone", "bench"), stdin=subprocess.DEVNULL, stdout=subprocess.PIPE,
        stderr=subprocess.PIPE, text=True, env=os.environ,
    )  # fmt: skip
    assert recording.stderr.readline() == "recording; 8 s of silence after speech ends it\n"
    subprocess.run(["paplay", "--device=bench", said], check=True)
    out, err = recording.communicate(timeout=120)
    assert (recording.returncode, err) == (0, "")
    assert "1 note waits for review" in out
    (kept,) = (stored.parent / "recordings").glob("*.wav")
    with wave.open(str(said)) as source, wave.open(str(kept)) as sound:
        spoken = source.getnframes() / source.getframerate()
        assert spoken + 7 < sound.getnframes() / sound.getframerate() < spoken + 20
    with book.open_journal(stored) as journal:
        (waiting,) = book.waiting(journal)
    assert Path(waiting.sound) == kept
    assert waiting.draft.note.source == "spoken"
    assert waiting.draft.note.text
