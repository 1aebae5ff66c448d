"""Sound to words: decoding, speech weights, the recogniser, and what it is told to expect. Offline (docs/speech.md)."""

from .listening import listen
from .microphone import record
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
    "WeightsState",
    "default_weights",
    "fetch_weights",
    "listen",
    "ready_weights",
    "record",
    "set_default_weights",
    "states",
    "verify_weights",
]
