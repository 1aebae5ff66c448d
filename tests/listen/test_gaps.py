"""How gaps in a recording are told: those near each other as one."""

import pytest

from cleansheet.listen.listening import _remarks, joined_gaps
from cleansheet.listen.sound import Sound

GAPS = [
    ([], []),
    ([(3.2, 4.9)], ["the sound cannot be read from 3.2 s to 4.9 s"]),
    ([(11.4, 11.4)], ["damaged at about 11.4 s"]),
    ([(11.4, 11.4), (11.4, 11.5), (12.8, 12.8), (14.4, 14.6)], ["the sound cannot be read in 4 places from 11.4 s to 14.6 s"]),
    ([(1.0, 2.0), (9.0, 9.5)], ["the sound cannot be read from 1.0 s to 2.0 s", "the sound cannot be read from 9.0 s to 9.5 s"]),
    ([(9.0, 9.5), (1.0, 9.2)], ["the sound cannot be read in 2 places from 1.0 s to 9.5 s"]),
]  # fmt: skip


@pytest.mark.parametrize(("gaps", "told"), GAPS)
def test_gaps_are_told(tmp_path, gaps, told):
    assert list(_remarks(Sound(tmp_path, 30.0, "2026-03-02", gaps=gaps, read_s=30.0), [])) == told


def test_no_gap_is_forgotten():
    gaps = [(at * 1.5, at * 1.5 + 0.1) for at in range(100)]
    ((start, end, count),) = joined_gaps(gaps)
    assert (start, end, count) == (0.0, gaps[-1][1], 100)


def test_an_open_end_is_told(tmp_path):
    sound = Sound(tmp_path, None, "2026-03-02", is_open=True, read_s=13.04)
    assert list(_remarks(sound, [])) == ["the recording has no proper end: it may be cut off at 13.0 s"]
