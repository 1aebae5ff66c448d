"""Sounds made on the spot, and weights put together in a cache folder of the test run's own."""

import wave
from pathlib import Path

import numpy as np
import pytest

HERE = Path(__file__).parent


def wav_file(path: Path, samples: np.ndarray, rate: int = 16_000) -> Path:
    """`samples` are rows of channels or one channel, -1 to 1."""
    rows = np.atleast_2d(samples)
    whole = (np.clip(rows, -1, 1) * 32767).astype("<i2")
    with wave.open(str(path), "wb") as sound:
        sound.setnchannels(rows.shape[0])
        sound.setsampwidth(2)
        sound.setframerate(rate)
        sound.writeframes(whole.T.tobytes())
    return path


def said_by_a_person() -> np.ndarray:
    """'go forward ten meters', said by a person (pocketsphinx 5.1.1, test/data/goforward.raw; see goforward.LICENSE)."""
    raw = np.fromfile(HERE / "data" / "goforward.raw", dtype="<i2")
    return raw.astype(np.float32) / 32768


@pytest.fixture(scope="session", autouse=True)
def own_cache(tmp_path_factory):
    home = tmp_path_factory.mktemp("home")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(home / "cache"))
        patch.setenv("XDG_CONFIG_HOME", str(home / "config"))
        yield home


@pytest.fixture(scope="session")
def go_forward(tmp_path_factory):
    return wav_file(tmp_path_factory.mktemp("sound") / "goforward.wav", said_by_a_person())


@pytest.fixture(scope="session")
def human_speech():
    return said_by_a_person()


@pytest.fixture(scope="session")
def write_wav():
    return wav_file
