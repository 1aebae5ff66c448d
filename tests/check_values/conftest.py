from __future__ import annotations

import pytest

from cleansheet.catalogue import load


@pytest.fixture(scope="session")
def catalogue():
    return load()
