"""Reading: from the words of a note to what they say, each at its place.

`read` takes a note through one pipeline (module `pipeline`): numbers and units, parts, tests, places, statements, cues,
findings, codes; then what each number and each statement is there for; then the mentions. Names, units and cue words are
data; the modules hold the grammar.
"""

from .pipeline import read, read_doc
from .quantities import mentions
from .when import day_said

__all__ = ["day_said", "mentions", "read", "read_doc"]
