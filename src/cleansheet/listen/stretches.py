"""Cut a recording into stretches of speech at its pauses, while it is being read.

The recogniser takes at most 30 seconds at once and hears short utterances better than long windows. A voice activity
detector (Silero, packaged with faster-whisper) finds speech; it is set to keep short words: a low threshold and wide
padding. Nothing but silence between stretches is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from .sound import RATE, Samples

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator

CHAPTER_S = 120.0  # speech is looked for in this much sound at a time
LONGEST_S = 26.0  # of one stretch, so that its padded form fits the recogniser's 30 s


@dataclass(frozen=True, slots=True)
class CutSettings:
    """How speech is told from silence. Times in seconds.

    `threshold` is the detector's speech probability; `pause` ends an utterance; `pad` is kept on either side;
    utterances closer than `join_gap` are joined up to `join_up_to` long.
    """

    threshold: float = 0.35
    pause: float = 0.7
    pad: float = 0.35
    join_gap: float = 1.2
    join_up_to: float = 10.0


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of sound with speech in it. `start_s` is its place in the recording."""

    start_s: float
    samples: Samples

    @property
    def end_s(self) -> float:
        return self.start_s + len(self.samples) / RATE


def stretches(
    blocks: Iterable[Samples], settings: CutSettings | None = None, *, after_s: float = 0.0
) -> Iterator[Stretch]:
    """Stretches in order, from `after_s` on, holding no more than about a chapter of sound at once."""
    settings = settings or CutSettings()
    held = np.zeros(0, dtype=np.float32)
    offset, skip = 0, round(after_s * RATE)
    for whole in blocks:
        block = whole[skip:] if skip else whole
        offset, skip = offset + len(whole) - len(block), max(0, skip - len(whole))
        held = np.concatenate([held, block])
        if len(held) >= CHAPTER_S * RATE:
            done = yield from _finished(held, offset, settings, last=False)
            held, offset = held[done:].copy(), offset + done
    yield from _finished(held, offset, settings, last=True)


def _finished(held: Samples, offset: int, settings: CutSettings, *, last: bool) -> Generator[Stretch, None, int]:
    """Yield the stretches that are over; return how many samples are done with."""
    spans = joined(speech_spans(held, settings), settings)
    if not last:
        # the last one may go on in what has not been read yet
        safe = len(held) - int((settings.pause + settings.join_gap + 2 * settings.pad) * RATE)
        open_spans = [span for span in spans if span[1] > safe]
        spans = [span for span in spans if span[1] <= safe]
        if not spans and open_spans and open_spans[0][0] == 0 and len(held) > 2 * LONGEST_S * RATE:
            spans, open_spans = open_spans[:1], open_spans[1:]
        done = max(min(open_spans[0][0] if open_spans else safe, safe), spans[-1][1] if spans else 0)
    else:
        done = len(held)
    for start, end in spans:
        yield Stretch((offset + start) / RATE, held[start:end])
    return done


def speech_spans(samples: Samples, settings: CutSettings) -> list[tuple[int, int]]:
    """Where speech is, as (start, end) in samples, in order, none longer than `LONGEST_S`."""
    from faster_whisper.vad import VadOptions, get_speech_timestamps

    if len(samples) < RATE // 20:
        return []
    options = VadOptions(
        threshold=settings.threshold,
        min_speech_duration_ms=0,
        max_speech_duration_s=LONGEST_S,
        min_silence_duration_ms=round(settings.pause * 1000),
        speech_pad_ms=round(settings.pad * 1000),
    )
    found = get_speech_timestamps(levelled(samples), options)
    return [(int(one["start"]), min(int(one["end"]), len(samples))) for one in found]


def joined(spans: list[tuple[int, int]], settings: CutSettings) -> list[tuple[int, int]]:
    """Join neighbours across short gaps: a number said after a breath is heard with the words before it.

    With a gap below 1.2 s and 10 s in all: (0, 2), (2.5, 4) → (0, 4).
    """
    out: list[tuple[int, int]] = []
    for start, end in spans:
        if out:
            before, so_far = out[-1]
            if start - so_far <= settings.join_gap * RATE and end - before <= settings.join_up_to * RATE:
                out[-1] = (before, end)
                continue
        out.append((start, end))
    return out


def levelled(samples: Samples) -> Samples:
    """The same sound with its loud parts near full scale, so that a far or quiet voice is found as well.

    The 99.5th percentile of the magnitude goes to 0.5, by at most 40 dB; silence stays silence.
    """
    if not len(samples):
        return samples
    loud = float(np.percentile(np.abs(samples), 99.5))
    if loud < 1e-4:
        return samples
    gain = min(0.5 / loud, 100.0)
    return np.asarray(np.clip(samples * gain, -1.0, 1.0), dtype=np.float32)
