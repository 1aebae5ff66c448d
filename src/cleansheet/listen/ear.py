"""The recogniser: one stretch of sound in, its likeliest wordings out, and the times of the words of one of them.

It stands on faster-whisper's model but takes the steps singly (encode once, guess as often as needed, align once),
because several guesses at one stretch are compared and faster-whisper's `transcribe` would encode anew for each.
"""

from __future__ import annotations

import math
import os
import zlib
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from cleansheet.terms import InputError, WeightsError

if TYPE_CHECKING:
    from pathlib import Path

    from .sound import Samples

MOST_CONTEXT_TOKENS = 223  # half the recogniser's text window less one; more is refused
MOST_NEW_TOKENS = 220
STEP_S = 0.02  # of the decoder's attention over the sound
ROUND_IN_CIRCLES = 2.4  # length over compressed length; a text above it repeats itself (faster-whisper's own threshold)
DEVICES = ("auto", "cpu", "cuda")


@dataclass(frozen=True, slots=True)
class Context:
    """What the recogniser is told before it listens: a list of words likely to be said, and text that came before."""

    hotwords: str = ""
    prompt: str = ""


@dataclass(frozen=True, slots=True)
class HeardWord:
    """A word with its leading space, its place in the stretch in seconds, and its probability."""

    text: str
    start_s: float
    end_s: float
    probability: float


@dataclass(frozen=True, slots=True)
class Guess:
    """One wording. `score` is the mean log probability of its tokens, `no_speech` the chance that nobody spoke."""

    tokens: tuple[int, ...]
    text: str
    score: float
    no_speech: float

    @property
    def repeats(self) -> bool:
        return compression(self.text) > ROUND_IN_CIRCLES


@dataclass(frozen=True, slots=True)
class Encoded:
    """A stretch after the encoder; `frames` is its length in the model's own steps of 10 ms.

    `aligned` keeps what was aligned already, by context and tokens: the same wording is asked for again and again.
    """

    output: Any
    frames: int
    aligned: dict[tuple[Context, tuple[int, ...]], Any] = field(default_factory=dict)


class Ear:
    """A loaded recogniser. Raises `WeightsError` where the folder does not load, `InputError` for a bad device."""

    def __init__(self, folder: Path, *, device: str = "auto", threads: int | None = None) -> None:
        if device not in DEVICES:
            raise InputError(f"{device!r} is no device; choose one of: {', '.join(DEVICES)}")
        if threads is not None and threads < 1:
            raise InputError(f"{threads} threads cannot work; say 1 or more")
        try:
            import ctranslate2
            from faster_whisper import WhisperModel
            from faster_whisper.tokenizer import Tokenizer
        except ImportError as fault:
            raise WeightsError("the speech extra is not installed; run: pip install 'cleansheet[speech]'") from fault
        cards = ctranslate2.get_cuda_device_count()
        if device == "cuda" and not cards:
            raise InputError("no graphics card can be used here; leave out --device or say --device cpu")
        self.device = "cuda" if device != "cpu" and cards else "cpu"
        self.compute_type = "int8_float16" if self.device == "cuda" else "int8"
        try:
            self.model = WhisperModel(
                str(folder),
                device=self.device,
                compute_type=self.compute_type,
                cpu_threads=threads or min(os.cpu_count() or 2, 8),
                local_files_only=True,
            )
        except (RuntimeError, ValueError, OSError) as fault:
            raise WeightsError(f"the speech weights in {folder} do not load ({_one_line(fault)})") from fault
        many = self.model.model.is_multilingual
        self.tokenizer = Tokenizer(
            self.model.hf_tokenizer, many, task="transcribe" if many else None, language="en" if many else None
        )

        self.foreign = _foreign_tokens(self.model.hf_tokenizer, self.tokenizer.eot)

    def encode(self, samples: Samples) -> Encoded:
        """Run the encoder, the dear half of the work, once. `samples` holds at most 30 s."""
        from faster_whisper.audio import pad_or_trim

        features = self.model.feature_extractor(samples)
        frames = min(features.shape[-1], self.model.feature_extractor.nb_max_frames)
        return Encoded(self.model.encode(pad_or_trim(features)), frames)

    def guesses(self, encoded: Encoded, context: Context, *, beam: int = 5) -> list[Guess]:
        """The likeliest wordings, best first; where the best goes round in circles, again with repeating forbidden.

        No sampling: the same sound always gives the same words.
        """
        found = self._beam_search(encoded, context, beam)
        if found and found[0].repeats:
            calmer = self._beam_search(encoded, context, beam, no_repeat_ngram_size=4)
            if calmer and not calmer[0].repeats:
                return calmer
        return found

    def _beam_search(self, encoded: Encoded, context: Context, beam: int, **extra: Any) -> list[Guess]:
        prompt = self._prompt(context)
        result = self.model.model.generate(
            encoded.output,
            [prompt],
            beam_size=beam,
            num_hypotheses=beam,
            max_length=min(len(prompt) + MOST_NEW_TOKENS, self.model.max_length),
            return_scores=True,
            return_no_speech_prob=True,
            suppress_tokens=[-1, *self.foreign],
            **extra,
        )[0]
        found: dict[str, Guess] = {}
        for ids, score in zip(result.sequences_ids, result.scores, strict=True):
            tokens = tuple(token for token in ids if token < self.tokenizer.eot)
            text = self.tokenizer.decode(list(tokens)).strip()
            if text not in found:
                found[text] = Guess(tokens, text, float(score), float(result.no_speech_prob))
        return list(found.values())

    def align(self, encoded: Encoded, tokens: tuple[int, ...], context: Context) -> tuple[HeardWord, ...]:
        """A wording's words with their times (by attention, within about 0.1 s) and probabilities."""
        if not tokens:
            return ()
        found = self._aligned(encoded, tokens, context)
        starts = _token_starts(found.alignments, len(tokens))
        pieces, groups = self.tokenizer.split_to_word_tokens([*tokens, self.tokenizer.eot])
        words: list[HeardWord] = []
        at = 0
        for text, group in zip(pieces[:-1], groups[:-1], strict=True):
            chances = found.text_token_probs[at : at + len(group)]
            start, end = starts[at], starts[at + len(group)]
            at += len(group)
            if not text.strip() or not chances:
                continue
            if words and not text.startswith(" "):
                last = words[-1]  # "3", ".1" and "," belong to the word before them
                chance = min(last.probability, *chances) if any(map(str.isalnum, text)) else last.probability
                words[-1] = HeardWord(last.text + text, last.start_s, max(end, last.end_s), chance)
            else:
                words.append(HeardWord(text, start, max(end, start), sum(chances) / len(chances)))
        return tuple(words)

    def log_probability(self, encoded: Encoded, text: str, context: Context) -> float:
        """The summed log probability of a wording: how well the sound bears it out."""
        tokens = tuple(self.tokenizer.encode(" " + text.strip()))
        chances = self._aligned(encoded, tokens, context).text_token_probs
        return sum(math.log(max(chance, 1e-9)) for chance in chances)

    def words_of(self, text: str) -> tuple[int, ...]:
        """The recogniser's tokens for a text."""
        return tuple(self.tokenizer.encode(" " + text.strip()))

    def count(self, text: str) -> int:
        """How many of the recogniser's tokens `text` takes."""
        return len(self.words_of(text)) if text.strip() else 0

    def _aligned(self, encoded: Encoded, tokens: tuple[int, ...], context: Context) -> Any:
        found = encoded.aligned.get((context, tokens))
        if found is None:
            # the last token of a prompt says "no timestamps", which `align` adds by itself
            start = self._prompt(context)[:-1]
            found = self.model.model.align(encoded.output, start, [list(tokens)], encoded.frames)[0]
            encoded.aligned[context, tokens] = found
        return found

    def _prompt(self, context: Context) -> list[int]:
        before: list[int] = []
        for text in (context.hotwords, context.prompt):
            if text:
                before += self.tokenizer.encode(" " + text.strip())
        start = [*self.tokenizer.sot_sequence, self.tokenizer.no_timestamps]
        return [self.tokenizer.sot_prev, *before[-MOST_CONTEXT_TOKENS:], *start] if before else start


def _foreign_tokens(tokenizer: Any, end: int) -> list[int]:
    """Tokens with letters that English notes do not hold: weights of many languages write 二 for "two" now and then."""
    return [
        token
        for token, text in enumerate(tokenizer.decode_batch([[one] for one in range(end)]))
        if any(letter.isalpha() and not _is_ours(letter) for letter in text)
    ]


def _is_ours(letter: str) -> bool:
    # Latin with its accents, and the Greek that units and tolerances are written with
    return letter < "\u0250" or "\u0370" <= letter <= "\u03ff" or letter in "\u2126\u212a\u212b"


def _token_starts(alignments: list[tuple[int, int]], count: int) -> list[float]:
    """When each token starts, in seconds, from (token, step) pairs; one more for the end of the last."""
    starts = [0.0] * (count + 1)
    seen = -1
    for token, step in alignments:
        while seen < token and seen < count:
            seen += 1
            starts[seen] = step * STEP_S
    last = alignments[-1][1] * STEP_S if alignments else 0.0
    for later in range(seen + 1, count + 1):
        starts[later] = last
    return starts


def compression(text: str) -> float:
    """Length over compressed length, in bytes: above 2.4 the text goes round in circles."""
    raw = text.encode("utf-8")
    return len(raw) / len(zlib.compress(raw)) if raw else 0.0


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())[:160]
