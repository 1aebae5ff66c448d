"""From a sound file to a note: decode, cut at pauses, recognise each stretch, write the words with their places."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

from cleansheet.terms import InputError, Note, Word

from . import hints
from .ear import Ear, HeardWord
from .sound import RATE, Sound, open_sound, sha256_of
from .stretches import CutSettings, stretches
from .weights import default_weights, ready_weights

Progress = Callable[[float, float | None], None]


def listen(
    path: Path | str,
    *,
    catalogue: Any = None,
    weights: str | None = None,
    device: str = "auto",
    threads: int | None = None,
    vehicle: Any = None,
    names: Iterable[str] = (),
    progress: Progress | None = None,
    partial: bool = False,
) -> Note:
    """The words of a sound file as a note, each with its place, its time in seconds and its probability.

    Args:
        path: any container and codec that PyAV reads; mono or stereo, any sample rate.
        catalogue: names of parts to expect.
        vehicle: a vehicle's sheet; the parts it has limits for are expected first.
        weights: a set of `models_config`, by default the one set with `cleansheet weights default`.
        device: "auto", "cpu" or "cuda".
        threads: CPU threads, by default as many as there are cores, at most 8.
        names: the shop's own names for parts.
        progress: called with seconds done and seconds in all (None where the file does not say).
        partial: take what can be read of a file that is cut off, instead of raising.

    Raises:
        InputError: the file is missing, empty, not sound, cut off, or holds no speech.
        WeightsError: the speech weights are not on this computer, or damaged.
    """
    path = Path(path)
    sound = open_sound(path)
    digest = sha256_of(path)
    ear = _loaded(str(ready_weights(weights or default_weights())), device, threads)
    told = hints.context(ear.tokens, catalogue=catalogue, vehicle=vehicle, names=tuple(names))
    heard: list[HeardWord] = []
    for stretch in stretches(sound.blocks(), CutSettings()):
        hearing = ear.decode(ear.encode(stretch.samples), told)
        heard += [
            HeardWord(word.text, word.start_s + stretch.start_s, word.end_s + stretch.start_s, word.probability)
            for word in hearing.words
        ]
        if progress is not None:
            progress(stretch.end_s, sound.stated_s)
    _check_whole(sound, partial=partial)
    if progress is not None:
        progress(sound.read_s, sound.read_s)
    if not heard:
        raise InputError(f"{path}: no speech is heard in it ({sound.read_s:.0f} s of sound)")
    text, words = written(heard)
    return Note(text=text, source="spoken", recorded_at=sound.recorded_at, sha256=digest, words=words, name=str(path))


def written(heard: Iterable[HeardWord]) -> tuple[str, tuple[Word, ...]]:
    """The text of the words in order, one space between them, and each word with its exact place in that text."""
    text = ""
    words: list[Word] = []
    for one in heard:
        plain = one.text.strip()
        if not plain:
            continue
        if text and (one.text[:1].isspace() or text[-1:].isalnum() is False or words[-1].end_s <= one.start_s - 1.0):
            text += " "
        start = len(text)
        text += plain
        words.append(
            Word(plain, start, len(text), round(one.start_s, 2), round(one.end_s, 2), round(one.probability, 3))
        )
    return text, tuple(words)


@lru_cache(maxsize=1)
def _loaded(folder: str, device: str, threads: int | None) -> Ear:
    """The recogniser, loaded once for all files of a run."""
    return Ear(Path(folder), device=device, threads=threads)


def _check_whole(sound: Sound, *, partial: bool) -> None:
    if sound.read_s < 0.05:
        raise InputError(f"{sound.path}: holds no sound ({sound.read_s * RATE:.0f} samples)")
    if sound.is_cut and not partial:
        raise InputError(
            f"{sound.path}: is cut off: {sound.read_s:.1f} s of sound where the file states {sound.stated_s:.1f} s; "
            "copy it from the recorder again"
        )
