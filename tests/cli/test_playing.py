"""Playing exactly the moment of a recording that a line came from."""

from __future__ import annotations

import wave
from pathlib import Path

import pytest

from cleansheet.cli.playing import cut, play
from cleansheet.terms import Audio

SPOKEN = Path(__file__).parents[2] / "sample_notes" / "visit-1-fuel.opus"


@pytest.mark.speech
@pytest.mark.parametrize(("start", "end", "seconds"), [(2.0, 3.0, 1.8), (0.1, 1.0, 1.4)])
def test_the_moment_is_cut_with_a_margin(tmp_path, start, end, seconds):
    pytest.importorskip("av")
    cut(SPOKEN, Audio(start, end), tmp_path / "moment.wav")
    with wave.open(str(tmp_path / "moment.wav")) as piece:
        assert (piece.getnchannels(), piece.getframerate(), piece.getsampwidth()) == (1, 16_000, 2)
        assert piece.getnframes() / 16_000 == pytest.approx(seconds, abs=0.05)
        assert any(piece.readframes(piece.getnframes()))


@pytest.fixture
def player(tmp_path, monkeypatch):
    """The only player on the system: a script that notes the length of what it is given."""
    folder = tmp_path / "bin"
    folder.mkdir()
    script = folder / "aplay"
    script.write_text(f'#!/bin/sh\nwc -c < "$2" > {tmp_path}/played\n')
    script.chmod(0o755)
    monkeypatch.setenv("PATH", f"{folder}:/bin:/usr/bin")
    monkeypatch.setattr("cleansheet.cli.playing._PLAYERS", (("aplay", "-q"),))
    return tmp_path / "played"


@pytest.mark.speech
def test_the_system_s_player_gets_that_moment_alone(player):
    pytest.importorskip("av")
    assert play(str(SPOKEN), Audio(2.0, 3.0)) == "played 2.0 to 3.0 s"
    assert int(player.read_text()) == pytest.approx(1.8 * 32_000, rel=0.05)


@pytest.mark.parametrize(("sound", "audio", "said"), [
    (None, None, "a typed line"),
    ("note.flac", None, "no moment of the recording"),
    ("/gone/note.flac", Audio(1.0, 2.0), "is not there any more"),
])  # fmt: skip
def test_what_cannot_be_played_is_said(sound, audio, said):
    assert said in play(sound, audio)


def test_a_recording_that_cannot_be_read_is_said(tmp_path, player):
    pytest.importorskip("av")
    broken = tmp_path / "broken.flac"
    broken.write_bytes(b"fLaC and nothing else")
    assert "cannot be read here" in play(str(broken), Audio(1.0, 2.0))


def test_without_a_player_the_place_is_told(tmp_path, monkeypatch):
    monkeypatch.setenv("PATH", str(tmp_path))
    sound = tmp_path / "note.flac"
    sound.write_bytes(b"fLaC")
    assert play(str(sound), Audio(1.0, 2.0)) == f"no player on this system; it is at 1.0 to 2.0 s of {sound}"
