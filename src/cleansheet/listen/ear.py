"""The recogniser: one stretch of sound in, its words with times and probabilities out.

It stands on faster-whisper's model, but takes the steps singly (encode once, decode as often as needed, align), because
several decodes of one stretch are compared and faster-whisper's `transcribe` would encode anew for each.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from cleansheet.terms import InputError, WeightsError

from .sound import Samples

MOST_CONTEXT_TOKENS = 223  # half the recogniser's text window less one; more is refused
MOST_NEW_TOKENS = 220
STEP_S = 0.02  # of the decoder's attention over the sound
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
class Hearing:
    """One decode of one stretch. `log_probability` is the mean per token; `temperature` 0 is the plain beam search."""

    words: tuple[HeardWord, ...]
    log_probability: float
    no_speech: float
    compression: float
    temperature: float

    @property
    def text(self) -> str:
        return "".join(word.text for word in self.words).strip()


@dataclass(frozen=True, slots=True)
class Encoded:
    """A stretch after the encoder; `frames` is its length in the model's own steps of 10 ms."""

    output: Any
    frames: int


class Ear:
    """A loaded recogniser. Raises `WeightsError` where the folder does not load, `InputError` for a bad device."""

    def __init__(self, folder: Path, *, device: str = "auto", threads: int | None = None) -> None:
        if device not in DEVICES:
            raise InputError(f"{device!r} is no device; choose one of: {', '.join(DEVICES)}")
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

    def encode(self, samples: Samples) -> Encoded:
        """Run the encoder, the dear half of the work, once. `samples` holds at most 30 s."""
        from faster_whisper.audio import pad_or_trim

        features = self.model.feature_extractor(samples)
        frames = min(features.shape[-1], self.model.feature_extractor.nb_max_frames)
        return Encoded(self.model.encode(pad_or_trim(features)), frames)

    def decode(
        self,
        encoded: Encoded,
        context: Context,
        *,
        beam: int = 5,
        temperatures: tuple[float, ...] = (0.0, 0.2, 0.4),
    ) -> Hearing:
        """The likeliest words. Tries the next temperature where the text repeats itself or is very unlikely."""
        import ctranslate2

        prompt = self._prompt(context)
        best: Hearing | None = None
        for temperature in temperatures:
            if temperature > 0:
                ctranslate2.set_random_seed(0)  # the same file must give the same words
                kind: dict[str, Any] = {"beam_size": 1, "num_hypotheses": 5, "sampling_topk": 0}
            else:
                kind = {"beam_size": beam}
            result = self.model.model.generate(
                encoded.output,
                [prompt],
                max_length=min(len(prompt) + MOST_NEW_TOKENS, self.model.max_length),
                return_scores=True,
                return_no_speech_prob=True,
                sampling_temperature=temperature or 1.0,
                **kind,
            )[0]
            hearing = self._hearing(encoded, result, prompt, temperature)
            if best is None or hearing.log_probability > best.log_probability or best.compression > 2.4:
                best = hearing
            if hearing.compression <= 2.4 and (hearing.log_probability > -1.0 or hearing.no_speech > 0.6):
                break
        assert best is not None
        return best

    def tokens(self, text: str) -> int:
        """How many of the recogniser's tokens `text` takes."""
        return len(self.tokenizer.encode(" " + text.strip())) if text.strip() else 0

    def _prompt(self, context: Context) -> list[int]:
        before: list[int] = []
        if context.hotwords:
            before += self.tokenizer.encode(" " + context.hotwords.strip())
        if context.prompt:
            before += self.tokenizer.encode(" " + context.prompt.strip())
        start = [*self.tokenizer.sot_sequence, self.tokenizer.no_timestamps]
        if not before:
            return start
        return [self.tokenizer.sot_prev, *before[-MOST_CONTEXT_TOKENS:], *start]

    def _hearing(self, encoded: Encoded, result: Any, prompt: list[int], temperature: float) -> Hearing:
        tokens = [token for token in result.sequences_ids[0] if token < self.tokenizer.eot]
        text = self.tokenizer.decode(tokens)
        return Hearing(
            words=self._align(encoded, tokens, prompt),
            log_probability=float(result.scores[0]) * len(tokens) / (len(tokens) + 1),
            no_speech=float(result.no_speech_prob),
            compression=_compression(text),
            temperature=temperature,
        )

    def _align(self, encoded: Encoded, tokens: list[int], prompt: list[int]) -> tuple[HeardWord, ...]:
        """Words with their times (attention alignment, so within about 0.1 s) and their mean token probability."""
        if not tokens:
            return ()
        # the last token of a prompt says "no timestamps", which `align` adds by itself
        found = self.model.model.align(encoded.output, prompt[:-1], [tokens], encoded.frames)[0]
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
            chance = sum(chances) / len(chances)
            if words and not any(letter.isalnum() for letter in text) and not text.startswith(" "):
                last = words[-1]  # a full stop belongs to the word before it
                words[-1] = HeardWord(last.text + text, last.start_s, last.end_s, last.probability)
            else:
                words.append(HeardWord(text, start, max(end, start), chance))
        return tuple(words)


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


def _compression(text: str) -> float:
    """Length over compressed length, in bytes: above 2.4 the text goes round in circles."""
    import zlib

    raw = text.encode("utf-8")
    return len(raw) / len(zlib.compress(raw)) if raw else 0.0


def _one_line(fault: BaseException) -> str:
    return " ".join(str(fault).split())[:160]
