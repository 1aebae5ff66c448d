"""What must be known of a recording is told wherever its lines are: at the review, in a part's story, on a job's page.

The journal is tests/journal/files/made-by-version-2.sqlite: its recording is real, cut off, and half reviewed.
"""

from __future__ import annotations

import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from making import coil_draft

from cleansheet import journal as book

OLD = Path(__file__).parents[1] / "journal" / "files" / "made-by-version-2.sqlite"
CUT = "the recording is cut off: 15.9 s of 22.7 s"


@pytest.fixture
def old(home):
    to = home / "journal.sqlite"
    shutil.copy(OLD, to)
    return to


@pytest.fixture
def on(run, old):
    """Run a command on that journal: its output, which must have come without a complaint."""

    def run_it(*args, code=0):
        got, out, err = run(*args, "--journal", old)
        assert (got, err) == (code, "")
        return out

    return run_it


def test_the_review_opens_with_the_recordings(on):
    rows = on("review", "--list").splitlines()
    assert rows[:3] == [
        "Know this of the recordings first",
        "  cut.wav | 2026-03-05 10:00 | spoken | job 2026-003",
        f"    ! {CUT}",
    ]
    assert rows[3].startswith("cut.wav: ")


def test_the_review_says_nothing_where_there_is_nothing_to_say(on):
    assert "recordings" not in on("review", "--list", "--job", "2026-001")


def test_a_sitting_shows_them_and_counts_them_at_each_line(on, monkeypatch):
    keys = iter("rq")
    monkeypatch.setattr("cleansheet.cli.reviewing.read_key", lambda: next(keys))
    out = on("review")
    head, _, lines = out.partition("-" * 80)
    assert f"    ! {CUT}" in head.splitlines()
    assert "1 remark on this recording (r shows it)" in lines
    assert f"  ! {CUT}" in lines.splitlines()  # the key r
    assert max(map(len, out.splitlines())) <= 80


def test_long_remarks_stay_within_eighty_columns(run, home, monkeypatch):
    draft = coil_draft()
    remarks = tuple(
        f"doubtful at {at}.0 s to {at}.9 s: the words repeat what the recogniser was told to expect"
        for at in range(10, 16)
    )
    with book.open_journal(home / "long.sqlite") as journal:
        book.take(
            journal,
            replace(draft, note=replace(draft.note, source="spoken", remarks=remarks)),
            who="Sam",
            at="2026-03-05T10:00:00",
        )
    keys = iter("rq")
    monkeypatch.setattr("cleansheet.cli.reviewing.read_key", lambda: next(keys))
    _, out, _ = run("review", "--journal", home / "long.sqlite")
    assert "6 remarks on this recording (r shows them)" in out
    assert out.count("! doubtful at") == 12
    assert max(map(len, out.splitlines())) <= 80

    run("review", "--sign-clean", "--journal", home / "long.sqlite")
    _, out, _ = run("find", "ignition", "module", "coil", "--journal", home / "long.sqlite")
    assert out.count(": doubtful at") == 3
    assert "and 3 more on it" in out
    _, out, _ = run("show", "unsorted", "--words", "--journal", home / "long.sqlite")
    assert out.count(": doubtful at") == 6


def test_signing_in_one_step_tells_them(on):
    rows = on("review", "--sign-clean").splitlines()
    assert rows[:2] == ["  1 signed: cut.wav, job 2026-003", f"    ! {CUT}"]


def test_lines_that_wait_carry_them_as_json(on):
    lines = [json.loads(row) for row in on("review", "--json").splitlines()]
    assert {tuple(one["remarks"]) for one in lines if one["file"] == "cut.wav"} == {(CUT,)}
    assert {tuple(one["remarks"]) for one in lines if one["file"] != "cut.wav"} == {()}


@pytest.mark.parametrize("command", [
    ("find", "crank", "sensor"), ("find", "crank", "sensor", "--rows"), ("show", "2026-003"), ("job", "history", "6"),
], ids=" ".join)  # fmt: skip
def test_a_signed_line_s_recording_is_told_below_it(on, command):
    rows = on(*command).splitlines()
    assert rows[rows.index("Recordings") + 1] == f"  2026-03-05  cut.wav: {CUT}"


@pytest.mark.parametrize(
    "command", [("find", "pump", "relay"), ("show", "2026-001"), ("job", "history", "1")], ids=" ".join
)
def test_a_page_without_recordings_does_not_name_any(on, command):
    assert "Recordings" not in on(*command)


def test_find_and_show_give_them_as_json(on):
    (found,) = map(json.loads, on("find", "crank", "sensor", "--json").splitlines())
    assert found["remarks"] == [CUT]
    assert [one["remarks"] for one in json.loads(on("show", "2026-003", "--json"))["lines"]] == [[CUT]]
    assert {tuple(one["remarks"]) for one in json.loads(on("show", "2026-001", "--json"))["lines"]} == {()}


# --- find tells what waits for review


WAITS = [
    (("crank", "sensor"), 0, "2 lines on crankshaft position sensor wait for review: cleansheet review"),
    (("--test", "crank-sensor.gap"), 1, "2 lines on crankshaft position sensor wait for review: cleansheet review"),
    (("spark", "plugs"), 1, "1 line on spark plug waits for review: cleansheet review"),
    (("crank", "sensor", "--vehicle", "Brindle twin"), 1, None),
    (("crank", "sensor", "--vehicle", "aldern camper"), 0, "2 lines on crankshaft position sensor wait for review: cleansheet review"),
    (("crank", "sensor", "--job", "2026-003"), 0, "2 lines on crankshaft position sensor wait for review: cleansheet review"),
    (("crank", "sensor", "--job", "2026-001"), 1, None),
    (("crank", "sensor", "--until", "2026-03-01"), 1, None),
    (("fuel", "pump", "relay"), 0, None),
    (("--text", "secondary"), 0, None),
]  # fmt: skip


@pytest.mark.parametrize(("asked", "code", "line"), WAITS, ids=[" ".join(asked) for asked, _, _ in WAITS])
def test_find_says_in_one_line_what_waits_on_the_part(on, asked, code, line):
    waiting = [row for row in on("find", *asked, code=code).splitlines() if "for review" in row]
    assert waiting == ([line] if line else [])


def test_what_was_dropped_or_signed_waits_no_more(on):
    on("review", "--sign-clean")
    assert "1 line on crankshaft position sensor waits for review" in on("find", "crank", "sensor")


def test_other_programs_get_records_alone(on):
    assert "for review" not in on("find", "crank", "sensor", "--json") + on("find", "crank", "sensor", "--csv")
