"""What is needed to match in a test: mentions built by hand and by reading."""

from __future__ import annotations

import pytest

from cleansheet.catalogue import load
from cleansheet.match import match
from cleansheet.read import read
from cleansheet.terms import Evidence, Mention, Note, Quantity


@pytest.fixture(scope="session")
def catalogue():
    return load()


def mention(value=None, unit=None, *parts, kind="reading", tests=(), at=0, **more):
    """A mention with the parts and tests named beside it, nearest first."""
    quantity = None if value is None else Quantity(value, value - 0.05, value + 0.05, unit)
    near = tuple(Evidence(part, 1.0 - 0.1 * rank, True, str(part)) for rank, part in enumerate(parts))
    named = tuple(Evidence(test, 1.0, True, test) for test in tests)
    component = parts[0] if parts else None
    return Mention(
        kind,
        at,
        at + 3,
        quantity,
        component=component,
        parts=near,
        tests=named,
        tentative=unit is None and value is not None,
        **more,
    )


@pytest.fixture(scope="session")
def matched(catalogue):
    """Items for mentions made by hand."""
    return lambda *mentions: match(mentions, Note("x" * 200), catalogue)


@pytest.fixture(scope="session")
def tied(catalogue):
    """Items of a text, read and matched but not judged."""

    def run(text):
        note = Note(text)
        return match(read(note, catalogue), note, catalogue)

    return run


@pytest.fixture
def make():
    return mention
