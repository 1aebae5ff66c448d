"""Cutting at pauses: in order, whole, with flat memory, and the same from any point on."""

import numpy as np
import pytest

from cleansheet.listen.sound import RATE
from cleansheet.listen.stretches import LONGEST_S, CutSettings, joined, levelled, stretches

SETTINGS = CutSettings()


@pytest.mark.parametrize(
    ("spans", "expected"),
    [
        ([(0, 2), (2.5, 4)], [(0, 4)]),
        ([(0, 2), (4, 6)], [(0, 2), (4, 6)]),
        ([(0, 9), (9.5, 12)], [(0, 9), (9.5, 12)]),
        ([], []),
    ],
)
def test_neighbours_are_joined_across_short_gaps_up_to_a_length(spans, expected):
    in_samples = [(int(start * RATE), int(end * RATE)) for start, end in spans]
    assert joined(in_samples, SETTINGS) == [(int(start * RATE), int(end * RATE)) for start, end in expected]


def spoken(human_speech, pauses):
    pieces = [np.zeros(RATE // 2, dtype=np.float32)]
    for pause in pauses:
        pieces += [human_speech, np.zeros(int(pause * RATE), dtype=np.float32)]
    return np.concatenate(pieces)


def blocks_of(samples, seconds):
    size = int(seconds * RATE)
    return [samples[at : at + size] for at in range(0, len(samples), size)]


@pytest.mark.speech
def test_every_utterance_is_in_some_stretch_whatever_the_blocks(human_speech):
    samples = spoken(human_speech, [3, 2, 4, 2.5] * 16)
    whole = list(stretches([samples]))
    in_blocks = list(stretches(blocks_of(samples, 7.3)))
    assert len(whole) == len(in_blocks) == 64
    for one, other in zip(whole, in_blocks, strict=True):
        assert one.start_s == pytest.approx(other.start_s, abs=0.2)
        assert one.end_s == pytest.approx(other.end_s, abs=0.2)
    for one in whole:
        at = round(one.start_s * RATE)
        assert np.array_equal(one.samples, samples[at : at + len(one.samples)])


@pytest.mark.speech
def test_going_on_behind_a_finished_stretch_gives_the_rest(human_speech):
    samples = spoken(human_speech, [3, 2, 4])
    whole = list(stretches([samples]))
    rest = list(stretches(blocks_of(samples, 2.0), after_s=whole[0].end_s))
    assert [one.end_s for one in rest] == pytest.approx([one.end_s for one in whole[1:]], abs=0.2)


@pytest.mark.speech
def test_speech_without_a_pause_is_cut_before_it_is_too_long(human_speech):
    loud = human_speech[int(0.3 * RATE) : int(2.2 * RATE)]
    samples = np.concatenate([loud] * 80)
    found = list(stretches(blocks_of(samples, 30)))
    assert all(len(one.samples) <= (LONGEST_S + 1) * RATE for one in found)
    assert sum(len(one.samples) for one in found) > 0.9 * len(samples)


@pytest.mark.speech
def test_memory_stays_flat_over_an_hour_of_silence():
    import tracemalloc

    def silence():
        for _ in range(120):
            yield np.zeros(30 * RATE, dtype=np.float32)

    tracemalloc.start()
    assert list(stretches(silence())) == []
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 120_000_000


def test_a_quiet_voice_is_raised_and_silence_is_not():
    tone = np.sin(np.arange(RATE) / 5).astype(np.float32)
    assert np.max(np.abs(levelled(tone * 0.01))) == pytest.approx(0.5, abs=0.05)
    assert np.max(np.abs(levelled(np.zeros(RATE, dtype=np.float32)))) == 0
    assert np.max(np.abs(levelled(tone * 1e-6))) < 1e-4
