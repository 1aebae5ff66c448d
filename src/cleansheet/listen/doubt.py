"""Signs that words were made up out of noise, or out of what the recogniser was told. Marked, never deleted."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from .phrasing import packaged_phrasing

if TYPE_CHECKING:
    from .ear import Context, Guess

VERY_UNLIKELY = -1.0  # mean log probability of a token
UNLIKELY = -0.6
NOBODY_SPOKE = 0.6
LONGEST_ECHO = 6  # this many words in a row out of the prompt are an echo of it
WORDS_A_SECOND = 6.0  # nobody dictates faster
# natural log probability of a word as workshop talk: a dictated sentence has -1.4 to -5.7, a radio in the room -6.1 to -8.2
OTHER_TALK = -6.0
LEAST_TALK = 6  # words; fewer tell nothing


def doubt(guess: Guess, told: tuple[Context, ...], seconds: float) -> str | None:
    """Why a wording is not to be trusted, in words, or None."""
    words = _plain(guess.text)
    if not words:
        return None
    if guess.repeats:
        return "the text goes round in circles"
    if guess.score < VERY_UNLIKELY:
        return "the sound hardly bears the words out"
    if guess.no_speech > NOBODY_SPOKE and guess.score < UNLIKELY:
        return "probably nobody spoke"
    if len(words) > WORDS_A_SECOND * seconds + 4:
        return "more words than fit into the time"
    if any(_echo(words, context) for context in told):
        return "the words repeat what the recogniser was told to expect"
    if len(words) >= LEAST_TALK and packaged_phrasing().per_word(guess.text) < OTHER_TALK:
        return "the words sound like other talk in the room"
    return None


def needs_second_look(guess: Guess) -> bool:
    """Whether a decode without any telling is worth its time: words that owe their form to the telling vanish in it."""
    return guess.score < UNLIKELY or guess.no_speech > NOBODY_SPOKE


def unsupported(guess: Guess, untold: Guess) -> bool:
    """Whether a decode without any telling shares next to no word with the wording."""
    mine, its = set(_plain(guess.text)), set(_plain(untold.text))
    return bool(mine) and len(mine & its) < 0.25 * len(mine)


def _echo(words: list[str], context: Context) -> bool:
    prompt = _plain(context.prompt)
    runs = {tuple(prompt[at : at + LONGEST_ECHO]) for at in range(len(prompt) - LONGEST_ECHO + 1)}
    names = " ".join(_plain(context.hotwords))
    text = " ".join(words)
    if len(words) >= LONGEST_ECHO and text in names:
        return True
    return any(tuple(words[at : at + LONGEST_ECHO]) in runs for at in range(len(words) - LONGEST_ECHO + 1))


def _plain(text: str) -> list[str]:
    return re.findall(r"[a-z0-9.]*[a-z0-9]", text.lower())
