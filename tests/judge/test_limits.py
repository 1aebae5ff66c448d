"""Every limit of the catalogue, on both sides of each of its ends and under conditions that contradict it.

limits.csv was written from the trade's reference by another rule book than the one under test, then both were compared.
"""

from __future__ import annotations

import csv
from collections import defaultdict
from pathlib import Path

import pytest

BY_TEST = defaultdict(list)
with Path(__file__).with_name("limits.csv").open(encoding="utf-8", newline="") as file:
    for row in csv.DictReader(file):
        BY_TEST[row["test"]].append(row)


@pytest.mark.parametrize("test_id", BY_TEST)
def test_verdict_on_each_side_of_each_end(test_id, golden, catalogue):
    wrong = []
    for row in BY_TEST[test_id]:
        got = golden.verdict(row, catalogue)
        if got != row["verdict"]:
            wrong.append({**row, "got": got})
    assert wrong == []


def test_every_test_with_a_general_limit_has_rows(catalogue):
    judged = {
        test.id
        for test in catalogue.tests.values()
        if test.judge != "none"
        and any(
            one.low is not None or one.high is not None for one in (test.typical, *test.variants) if one is not None
        )
    }
    assert judged - set(BY_TEST) - {"fuse.continuity"} == set()
