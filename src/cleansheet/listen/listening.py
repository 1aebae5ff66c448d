"""From a sound file to a note: decode, cut at pauses, hear each stretch, write the words down with their places."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path
from typing import Any

from cleansheet.files import sha256_of
from cleansheet.terms import InputError, Note, Word

from . import hints
from .choice import trade
from .ear import Ear
from .hearing import hear
from .sound import RATE, Sound, open_sound
from .stretches import CutSettings, stretches
from .transcripts import Finished, KeptWord, Transcript, key
from .weights import default_weights, ready_weights

Progress = Callable[[float, float | None], None]
METHOD = 10  # raise it whenever the same sound may give other words, so that kept transcripts are not used


def listen(
    path: Path | str,
    *,
    catalogue: Any = None,
    weights: str | None = None,
    device: str = "auto",
    threads: int | None = None,
    vehicle: Any = None,
    names: Iterable[str] = (),
    expected: Iterable[str] = (),
    progress: Progress | None = None,
    partial: bool = False,
    keep: bool = True,
) -> Note:
    """The words of a sound file as a note, each with its place, its time in seconds and its probability.

    Args:
        path: any container and codec that PyAV reads; mono or stereo, any sample rate.
        catalogue: names of parts to expect, and what each is measured in.
        vehicle: a vehicle's sheet; the parts it has limits for are expected first.
        weights: a set of `models_config`, by default the one set with `cleansheet weights default`.
        device: "auto", "cpu" or "cuda".
        threads: CPU threads, by default as many as there are cores, at most 8.
        names: the shop's own names for parts.
        expected: names of tests and parts that the recording is likely to hold, such as those still open on its job; told
            first, as many as fit.
        progress: called with seconds done and seconds in all (None where the file does not say).
        partial: take what can be read of a file that is cut off, instead of raising.
        keep: use and keep transcripts in the user's cache folder, so that the same sound is not recognised twice.

    Raises:
        InputError: the file is missing, empty, not sound, cut off, or holds no speech.
        WeightsError: the speech weights are not on this computer, or damaged.

    """
    path = Path(path)
    sound = open_sound(path)
    digest = sha256_of(path)
    set_name = weights or default_weights()
    folder = ready_weights(set_name)
    own_names = (*expected, *names)
    cut = CutSettings()
    kept = None
    if keep:
        kept = _transcript(digest, set_name, catalogue=catalogue, vehicle=vehicle, names=own_names, cut=cut)
    if kept is None or kept.summary is None:
        ear = _loaded(str(folder), device, threads)
        told = hints.tellings(ear.count, catalogue=catalogue, vehicle=vehicle, names=own_names)
        known = trade(catalogue, own_names)
        finished = list(kept.finished) if kept is not None else []
        for stretch in stretches(sound.blocks(), cut, after_s=finished[-1].end_s if finished else 0.0):
            heard = hear(ear, stretch.samples, told, known)
            one = Finished(stretch.end_s, _moved(heard.words, stretch.start_s), heard.doubt)
            finished.append(one)
            if kept is not None:
                kept.add(one)
            if progress is not None:
                progress(min(stretch.end_s, sound.read_s), sound.stated_s)
        if kept is not None:
            kept.close({"read_s": sound.read_s, "gaps": sound.gaps})
    else:
        finished = kept.finished
        sound.read_s = float(kept.summary["read_s"])
        sound.gaps = [(float(start), float(end)) for start, end in kept.summary["gaps"]]
    _check_whole(sound, partial=partial)
    if progress is not None:
        progress(sound.read_s, sound.read_s)
    text, words = written(word for one in finished for word in one.words)
    if not words:
        raise InputError(f"{path}: no speech is heard in it ({sound.read_s:.0f} s of sound)")
    return Note(
        text=text,
        source="spoken",
        recorded_at=sound.recorded_at,
        sha256=digest,
        words=words,
        name=str(path),
        remarks=_remarks(sound, finished),
    )


def _transcript(
    digest: str, weights: str, *, catalogue: Any, vehicle: Any, names: tuple[str, ...], cut: CutSettings
) -> Transcript:
    return Transcript(
        key(
            sound=digest,
            weights=weights,
            method=METHOD,
            cut=repr(cut),
            hints=hints.packaged_hints(),
            catalogue=getattr(catalogue, "key", None),
            vehicle=sorted(getattr(vehicle, "specs", {})),
            names=names,
        )
    )


def _moved(words: Iterable[KeptWord], by_s: float) -> tuple[KeptWord, ...]:
    return tuple(
        KeptWord(word.text, round(word.start_s + by_s, 2), round(word.end_s + by_s, 2), word.probability, word.heard)
        for word in words
    )


def written(heard: Iterable[KeptWord]) -> tuple[str, tuple[Word, ...]]:
    """The text of the words in order, one space between them, and each word with its exact place in that text."""
    text = ""
    words: list[Word] = []
    for one in heard:
        plain = one.text.strip()
        if not plain:
            continue
        if text:
            text += " "
        start = len(text)
        text += plain
        words.append(Word(plain, start, len(text), one.start_s, one.end_s, round(one.probability, 3), one.heard))
    return text, tuple(words)


def _remarks(sound: Sound, finished: Iterable[Finished]) -> tuple[str, ...]:
    """What a person must know of the recording: gaps, a cut end, stretches that may be made up."""
    out = [_gap_words(*gap) for gap in joined_gaps(sound.gaps)]
    if sound.is_open:
        out.append(f"the recording has no proper end: it may be cut off at {sound.read_s:.1f} s")
    if sound.is_cut:
        out.append(f"the recording is cut off: {sound.read_s:.1f} s of {sound.stated_s:.1f} s")
    out += [
        f"doubtful at {one.words[0].start_s:.1f} s to {one.words[-1].end_s:.1f} s: {one.doubt}"
        for one in finished
        if one.doubt and one.words
    ]
    return tuple(out)


NEAR_S = 2.0  # gaps nearer to each other than this are told as one


def joined_gaps(gaps: Iterable[tuple[float, float]]) -> list[tuple[float, float, int]]:
    """Gaps less than `NEAR_S` apart as one: (start, end, how many).

    [(11.4, 11.4), (11.6, 11.7), (30.0, 31.0)] → [(11.4, 11.7, 2), (30.0, 31.0, 1)]
    """
    out: list[tuple[float, float, int]] = []
    for start, end in sorted(gaps):
        if out and start - out[-1][1] < NEAR_S:
            out[-1] = (out[-1][0], max(out[-1][1], end), out[-1][2] + 1)
        else:
            out.append((start, end, 1))
    return out


def _gap_words(start: float, end: float, count: int) -> str:
    if end <= start:
        return f"damaged at about {start:.1f} s"
    where = f"from {start:.1f} s to {end:.1f} s"
    return f"the sound cannot be read {where}" if count == 1 else f"the sound cannot be read in {count} places {where}"


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
