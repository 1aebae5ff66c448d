"""Sound to words: decoding, speech weights, the recogniser, and what it is told to expect. Offline (docs/speech.md)."""

from .listening import listen
from .microphone import Microphone, microphones, record, the_microphone
from .weights import (
    WeightsState,
    default_weights,
    fetch_weights,
    ready_weights,
    set_default_weights,
    states,
    verify_weights,
)

__all__ = [
    "Microphone",
    "WeightsState",
    "default_weights",
    "fetch_weights",
    "listen",
    "microphones",
    "ready_weights",
    "record",
    "set_default_weights",
    "states",
    "the_microphone",
    "verify_weights",
]
