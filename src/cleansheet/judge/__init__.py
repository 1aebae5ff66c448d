"""Verdicts: each reading of a note against the limit that holds for it, with the reason in one line.

| module | does |
|---|---|
| `judging` | `judge`: the items of one note to its draft |
| `verdicts`, `bands` | the interval rule; by the note's limit, the sheet's, the catalogue's |
| `said`, `sheets`, `general`, `conditions` | which limit holds |
| `slips`, `findings` | numbers that cannot be meant; what was seen, heard or felt |
| `figures`, `figures_between`, `derived` | figures computed from the readings |
| `remarks`, `cautions`, `reasons` | the lines that go with them |
| `zones`, `accuracy` | decision zones and instruments |
"""

from .accuracy import Accuracy, meter_for_all, parse_accuracy
from .cautions import caution_texts, cautions_for, vehicle_cautions
from .judging import judge
from .reasons import band_text, condition_text, limit_text
from .zones import Zones, conformance_probability, decide, zones

__all__ = [
    "Accuracy",
    "Zones",
    "band_text",
    "caution_texts",
    "cautions_for",
    "condition_text",
    "conformance_probability",
    "decide",
    "judge",
    "limit_text",
    "meter_for_all",
    "parse_accuracy",
    "vehicle_cautions",
    "zones",
]
