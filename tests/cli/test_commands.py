"""The commands over the real stages: a typed note from the file to the journal and back."""

from __future__ import annotations

import csv
import importlib.util
import io
import json
import subprocess
import sys

import pytest

NOTE = (
    "Aldern camper, pump on and engine off. Rail holds 3.0 bar. Coil primary resistance 0.7 ohms. "
    "Coil secondary resistance 2.1 kohm. Swapped the fuel pump relay."
)


@pytest.fixture
def note(home):
    path = home / "morning.txt"
    path.write_text(NOTE, encoding="utf-8")
    return path


def test_take_review_find(run, note, sheet, stored):
    code, out, err = run("take", note, "--vehicle", sheet, "--at", "2026-03-02T16:20")
    assert (code, err) == (0, "")
    assert "3 bar" in out
    assert "1 note waits for review" in out
    assert "licensed practice" in " ".join(out.split())
    assert stored.is_file()

    code, out, _ = run("find", "coil")
    assert code == 1  # nothing is in the journal before it is signed
    assert "No record of coil." in out

    code, out, _ = run("review", "--sign-clean")
    assert code == 0
    assert "signed by Sam" in out
    assert "still to look at" in out  # the coil's secondary is far too low

    code, out, _ = run("find", "coil", "primary", "--json")
    assert code == 0
    (line,) = [json.loads(row) for row in out.splitlines()]
    assert (line["item"]["quantity"]["value"], line["item"]["test"], line["item"]["quote"]) == (
        0.7,
        "ignition-coil.primary-resistance",
        "0.7 ohms",
    )
    assert (line["at"], line["signed_by"]) == ("2026-03-02T16:20:00", "Sam")
    assert "2.1" not in run("find", "coil")[1]


def test_the_same_note_is_not_taken_twice(run, note):
    assert run("take", note)[0] == 0
    note.rename(note.with_name("copy.txt"))
    code, out, _ = run("take", note.with_name("copy.txt"))
    assert code == 0
    assert "taken before" in out
    assert "wait for review" not in out


def test_standard_input_is_taken(run, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(NOTE.encode())))
    code, out, _ = run("take", "-")
    assert code == 0
    assert "standard input" in out


BAD = [
    ("empty.txt", b"", "empty.txt: empty (0 bytes); nothing to draft"),
    ("blank.txt", b" \n\t\n", "blank.txt: no words in it; nothing to draft"),
    (
        "latin.txt",
        "Öldruck 3 bar".encode("latin-1"),
        "neither sound nor UTF-8 text (byte 0xd6 at 0); save the text as UTF-8",
    ),
    ("wide.txt", "3 bar".encode("utf-16"), "text in UTF-16; save it as UTF-8"),
    ("null.txt", b"3 bar\x00\x00", "neither text nor a sound recording of a known kind"),
    ("empty.wav", b"", "empty"),
    ("cut.wav", b"RIFF\x00\x00\x00\x00WAVEfmt ", None),
    ("not.flac", b"fLaC but nothing of the kind follows here", None),
    ("words.wav", b"these are words, no sound", None),
]


@pytest.mark.parametrize(("name", "content", "message"), BAD, ids=[row[0] for row in BAD])
@pytest.mark.parametrize("command", ["take", "read"])
def test_bad_input_is_one_line_and_stores_nothing(run, home, stored, command, name, content, message):
    (home / name).write_bytes(content)
    code, out, err = run(command, name)
    assert code == 2
    assert out == ""
    assert err.count("\n") == 1
    assert name in err
    if message:
        assert message in err
    if stored.exists():
        from cleansheet import journal as book

        with book.open_journal(stored) as journal:
            assert journal.rows("SELECT 1 FROM notes") == []


def test_paths_that_are_not_there_or_hold_no_notes(run, home, stored):
    (home / "folder" / "inner").mkdir(parents=True)
    (home / "folder" / "README.md").write_text("no note")
    (home / "folder" / "a.said.txt").write_text("no note")
    (home / "folder" / ".hidden.txt").write_text("no note")
    (home / "folder" / "sheet.yaml").write_text("no: note")
    for path, message in (("gone.txt", "no such file or folder"), ("folder", "no notes in this folder")):
        for command in ("take", "read"):
            code, out, err = run(command, path)
            assert (code, out) == (2, "")
            assert message in err
            assert err.count("\n") == 1
    assert not stored.exists()


def test_one_bad_file_among_many_stops_nothing(run, home):
    (home / "a.txt").write_text(NOTE)
    (home / "b.txt").write_bytes(b"")
    (home / "c.txt").write_text("Battery 12.6 volts.")
    code, out, err = run("take", "a.txt", "b.txt", "c.txt")
    assert code == 2
    assert "2 notes wait for review" in out
    assert err.count("\n") == 1


def test_read_prints_the_contract_s_form_alone(run, note, home):
    code, out, err = run("read", note, "--json")
    assert (code, err) == (0, "")
    drafted = json.loads(out)
    assert drafted["format"] == "cleansheet-draft/1"
    assert "file" not in drafted
    assert drafted["note"]["text"] == NOTE
    (home / "more.txt").write_text("Battery 12.6 volts.")
    code, out, _ = run("read", note, "more.txt", "--json")
    assert [json.loads(line)["file"].rsplit("/", 1)[-1] for line in out.splitlines()] == ["morning.txt", "more.txt"]


def test_read_stores_nothing(run, note, stored):
    run("read", note)
    assert not stored.exists()


def test_why_shows_the_words_and_the_rules(run, note):
    _, out, _ = run("read", note, "--why")
    lines = out.splitlines()
    place = next(number for number, line in enumerate(lines) if "Rail holds 3.0 bar." in line)
    assert lines[place + 1].strip() == "^" * len("3.0 bar")
    assert lines[place].index("3.0 bar") == lines[place + 1].index("^")


def test_labelled_lines_are_read_without_their_labels(run, home, sheet):
    lines = [
        {
            "id": "n1",
            "date": "2026-03-14",
            "sheet": sheet.stem,
            "text": "Fuel rail pressure 3.0 bar, engine off.",
            "items": "labels, never read",
        },
        {"id": "n2", "text": "Nothing here."},
        {"id": "n3", "text": "  "},
    ]
    (home / "notes.jsonl").write_text("\n".join(map(json.dumps, lines)))
    code, out, err = run("read", "--jsonl", "notes.jsonl", "--specs", sheet.parent)
    assert (code, err) == (0, "")
    found = [json.loads(line) for line in out.splitlines()]
    assert [one["id"] for one in found] == ["n1", "n2", "n3"]
    assert found[0]["draft"]["note"]["recorded_at"] == "2026-03-14"
    assert found[0]["draft"]["items"][0]["expected"]["from"] == "sheet"
    assert found[2]["draft"]["items"] == []


def test_mentions_are_quantities_alone(run, home):
    (home / "notes.jsonl").write_text(json.dumps({"id": 7, "text": "two and a half bar on the rail"}))
    code, out, _ = run("read", "--mentions", "--jsonl", "notes.jsonl")
    assert code == 0
    found = json.loads(out)
    assert found["id"] == 7
    assert [(one["value"], one["unit"]) for one in found["found"]] == [(2.5, "bar")]


@pytest.mark.parametrize(("args", "message"), [
    (["read"], "no note given"),
    (["read", "a.txt", "--jsonl", "b.jsonl"], "not both"),
    (["read", "a.txt", "--mentions"], "go with --jsonl"),
    (["read", "--jsonl", "gone.jsonl"], "no such file"),
    (["read", "a.txt", "--vehicle", "no/such.yaml"], "no such vehicle sheet"),
    (["take", "a.txt", "--at", "yesterday"], "write the time as"),
    (["take", "a.txt", "--job", "J9"], "no job 'J9'"),
    (["show", "J9"], "no job 'J9'"),
    (["find"], "what to find"),
    (["find", "coil", "--value", "nine"], "write a value with its unit"),
    (["find", "coil", "--verdict", "out of spec"], "did you mean out_of_spec"),
    (["find", "coil", "--since", "whenever"], "is no date"),
    (["find", "--component", "flux capacitor"], "no part goes by"),
    (["job", "close", "J9", "--outcome", "done"], "no job 'J9'"),
    (["job", "amend", "9", "--why", "x", "--value", "1 bar"], "no signed line 9"),
    (["journal", "restore", "gone.sqlite"], "no such backup"),
    (["journal", "import", "gone.jsonl", "--journal", "other.sqlite"], "no such file"),
    (["shopnames", "forget", "coal pack"], "no name of the shop's own"),
    (["nonsense"], "no command 'nonsense'"),
])  # fmt: skip
def test_a_bad_argument_is_told_with_exit_code_two(run, home, args, message):
    (home / "a.txt").write_text(NOTE)
    (home / "seed.txt").write_text("Battery 12.6 volts.")
    run("take", "seed.txt")
    code, out, err = run(*args)
    assert code == 2
    assert message in err
    assert out == ""
    assert "Traceback" not in err


def test_without_a_journal_the_next_step_is_named(run):
    code, _, err = run("find", "coil")
    assert code == 5
    assert "`cleansheet take` starts one" in err


@pytest.fixture
def signed(run, home, sheet, capsys):
    """Two visits of one job, signed by hand-free steps: what is clean, and the rest kept through the library."""
    from making import draft, item
    from making import signed as sign

    from cleansheet import journal as book

    with book.open_journal(book.default_path()) as journal:
        book.open_job(
            journal, vehicle="Aldern Camper 2.0", sheet=str(sheet), complaint="cuts out hot", at="2026-03-02T08:00:00"
        )
        for day, value in (("2026-03-02", 8.9), ("2026-03-09", 9.4), ("2026-03-16", 10.4)):
            text = f"=Coil secondary {value} kohm, hot."
            one = item(text, f"{value} kohm", value=value, unit="kOhm", test="ignition-coil.secondary-resistance",
                       verdict="in_spec" if value < 10 else "out_of_spec")  # fmt: skip
            sign(journal, draft(text, one, at=f"{day}T10:00:00"), job="2026-001")
        text = "Replaced the coil. Leave it for 20 minutes and try again. Why did it fail?"
        sign(journal, draft(text, item(text, "Replaced the coil", "action", component="ignition-coil"),
                            item(text, "Leave it for 20 minutes and try again", "todo", component="engine"),
                            item(text, "Why did it fail?", "question", component="ignition-coil"),
                            at="2026-03-17T10:00:00"), job="2026-001")  # fmt: skip
    return run


def test_find_tells_a_story_with_limits_trend_and_replacement(signed):
    code, out, _ = signed("find", "coil")
    assert code == 0
    assert "last replaced 2026-03-17" in out
    assert "rising" in out
    assert out.index("2026-03-16") < out.index("2026-03-09") < out.index("2026-03-02")
    assert "2026-03-16" not in signed("find", "coil", "--rows", "--limit", "1")[1]
    assert "Why did it fail?" in out


def test_find_as_csv_is_safe_for_a_spreadsheet(signed):
    _, out, _ = signed("find", "coil secondary", "--csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert [row["value"] for row in rows] == ["10.4", "9.4", "8.9"]
    assert all(row["said"].startswith("'=") for row in rows)


@pytest.mark.parametrize(("args", "values"), [
    (["coil above 9 kohm"], ["10.4 kΩ", "9.4 kΩ"]),
    (["coil", "--value", "below 9300 ohm"], ["8.9 kΩ"]),
    (["--test", "ignition-coil.secondary-resistance", "--since", "2026-03-05"], ["10.4 kΩ", "9.4 kΩ"]),
    (["coil secondary", "--until", "2026-03-05"], ["8.9 kΩ"]),
    (["--verdict", "out_of_spec"], ["10.4 kΩ"]),
    (["coil secondary", "--latest"], ["10.4 kΩ"]),
    (["coil secondary", "--limit", "1"], ["10.4 kΩ"]),
    (["--vehicle", "aldern", "--component", "coil", "--kind", "reading"], ["10.4 kΩ", "9.4 kΩ", "8.9 kΩ"]),
])  # fmt: skip
def test_filters_and_words_do_the_same(signed, args, values):
    code, out, _ = signed("find", *args)
    assert code == 0
    assert [value for value in ("10.4 kΩ", "9.4 kΩ", "8.9 kΩ") if value in out] == values


def test_show_tells_where_the_job_stands(signed):
    code, out, _ = signed("show", "2026-001")
    assert code == 0
    assert "cuts out hot" in out
    assert "ignition coil: worked on, not tested since" in out
    assert "spark plug" in out  # untested, of the same system
    assert "Why did it fail?" in out
    assert "over by" in out
    assert "maker's service manual" in out
    found = json.loads(signed("show", "2026-001", "--json")[1])
    assert found["systems"][0]["parts"][0] == {
        "component": "ignition-coil",
        "state": "disturbed",
        "since": "2026-03-17T10:00:00",
        "waiting": 0,
        "because": [4],
    }


def test_show_calls_nothing_good_of_which_a_line_waits(signed):
    from making import draft, item

    from cleansheet import journal as book

    text = "Plug gap 0.8 mm, but the gap on two is 2.0 mm."
    good = item(text, "0.8 mm", value=0.8, unit="mm", test="spark-plug.gap", verdict="in_spec")
    bad = item(text, "2.0 mm", value=2.0, unit="mm", test="spark-plug.gap", position="2", verdict="out_of_spec")
    with book.open_journal(book.default_path()) as journal:
        book.take(journal, draft(text, good, bad), who="Sam", at="2026-03-18T10:00:00", job="2026-001")
    assert signed("review", "--sign-clean")[0] == 0
    out = " ".join(signed("show", "2026-001", "--no-lines")[1].split())
    assert "spark plug: not settled, lines on it wait for review (0.8 mm, 2026-03-02)" in out


def test_a_job_closes_with_its_outcome(signed):
    assert signed("job", "close", "2026-001", "--outcome", "new coil, road test good")[0] == 0
    assert "new coil, road test good" in signed("job", "list")[1]
    assert signed("job", "close", "2026-001", "--outcome", "again")[0] == 2
    assert signed("job", "reopen", "2026-001")[0] == 0
    assert signed("job", "list", "--open")[1].count("2026-001") == 1


def test_amend_judges_anew_and_keeps_history(signed):
    code, out, _ = signed("job", "amend", 1, "--value", "19.4 kohm", "--why", "read the wrong range")
    assert (code, out) == (0, "line 1 is now revision 2\n")
    states = [json.loads(line) for line in signed("job", "history", 1, "--json")[1].splitlines()]
    assert [(one["revision"], one["row"]["value"], one["why"]) for one in states] == [
        (1, 8.9, None),
        (2, 19.4, "read the wrong range"),
    ]
    assert states[1]["row"]["verdict"] == "out_of_spec"
    assert "read the wrong range" in signed("job", "history", 1)[1]
    assert "revision 2: read the wrong range" in " ".join(signed("find", "coil secondary", "--words")[1].split())


def test_the_journal_is_looked_after(signed, home):
    assert signed("journal", "backup", "copy.sqlite")[:2] == (0, "copy.sqlite: copied and verified\n")
    assert signed("journal", "backup", "copy.sqlite")[0] == 5
    code, out, _ = signed("journal", "verify")
    assert code == 0
    assert "FAULT" not in out
    code, out, _ = signed("journal", "export")
    (home / "all.jsonl").write_text(out, encoding="utf-8")
    assert signed("journal", "export", "same.jsonl")[0] == 0
    assert (home / "same.jsonl").read_text(encoding="utf-8") == out
    assert signed("journal", "import", "all.jsonl", "--journal", "other.sqlite")[0] == 0
    assert signed("journal", "export", "--journal", "other.sqlite")[1] == out
    code, out, _ = signed("journal", "restore", "copy.sqlite")
    assert code == 0
    assert "before-restore-1" in out


def test_verify_ends_with_one_where_it_does_not_hold(signed, stored):
    import sqlite3

    conn = sqlite3.connect(stored)
    conn.execute("DROP TRIGGER items_keep_history")
    conn.execute("UPDATE items SET value = 9.9 WHERE id = 1")
    conn.commit()
    conn.close()
    code, out, _ = signed("journal", "verify")
    assert code == 1
    assert "seal of every row" in out
    assert "items: row 1 is not as it was written" in out


def test_own_names_are_taught_used_and_taken_back(run, home):
    (home / "a.txt").write_text("Swapped the frobnicator for a new one.")
    before = json.loads(run("read", "a.txt", "--json")[1])["items"]
    assert all(one["component"] != "ignition-coil" for one in before)
    assert run("shopnames", "teach", "frobnicator", "coil")[0] == 0
    after = json.loads(run("read", "a.txt", "--json")[1])["items"]
    assert [one["component"] for one in after] == ["ignition-coil"]
    assert "frobnicator" in run("shopnames", "list")[1]
    assert run("shopnames", "teach", "frobnicator", "injector")[0] == 2
    assert run("shopnames", "forget", "frobnicator")[0] == 0
    assert json.loads(run("read", "a.txt", "--json")[1])["items"] == before


def test_a_plot_says_which_extra_it_needs_or_draws(signed, home):
    if importlib.util.find_spec("matplotlib") is None:
        code, _, err = signed("find", "coil", "--plot", "coil.svg")
        assert code == 2
        assert "install cleansheet[plot]" in err
        return
    assert signed("find", "coil", "--plot", "coil.svg")[0] == 0
    assert b"<svg" in (home / "coil.svg").read_bytes()
    assert signed("find", "coil", "--plot", "coil.png")[0] == 0
    assert (home / "coil.png").read_bytes().startswith(b"\x89PNG")
    assert signed("find", "coil", "--plot", "coil.bmp")[0] == 2


def test_output_to_a_closed_pipe_is_quiet(signed):
    command = f"{sys.executable} -m cleansheet.cli find coil --every | head -1"
    done = subprocess.run(["bash", "-c", command], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert len(done.stdout.splitlines()) == 1


def test_a_read_only_folder_is_one_line(run, home, note):
    import os

    if os.geteuid() == 0:
        folder = "/proc/self/nowhere"  # a folder where even root makes no file
    else:
        (home / "locked").mkdir()
        (home / "locked").chmod(0o500)
        folder = home / "locked"
    code, out, err = run("take", note, "--journal", f"{folder}/journal.sqlite")
    assert (code, out) == (5, "")
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    "args",
    [
        ["find", "coil"],
        ["find", "coil", "--rows", "--words"],
        ["show", "2026-001", "--words"],
        ["job", "list"],
        ["review", "--list"],
    ],
)
def test_screens_fit_eighty_columns(signed, monkeypatch, args):
    monkeypatch.setenv("COLUMNS", "80")
    lines = signed(*args)[1].splitlines()
    assert [line for line in lines if len(line) > 80] == []
