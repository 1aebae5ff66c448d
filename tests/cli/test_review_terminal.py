"""The review in a real pseudo-terminal: keys in, screen out, at 80 columns, with and without colour."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, timedelta

import pytest
from making import draft, item
from terminal import PROMPT, Screen

from cleansheet import journal as book
from cleansheet.terms import Audio, RunnerUp, Word

TEXT = (
    "Rail holds 3.0 bar with the pump on and the engine off. Coil primary 1.4 ohms, that is not right. "
    "The coal pack was swapped for a known good one and it made no difference. Gap at the plug 0.8."
)


def items():
    yield item(TEXT, "3.0 bar", value="3.0", unit="bar", test="fuel-rail.static-pressure", verdict="in_spec",
               runners_up=(RunnerUp("fuel-rail", "fuel-rail.hold-pressure", 0.4, "no time said"),))  # fmt: skip
    yield item(TEXT, "1.4 ohms", value=1.4, unit="Ohm", test="ignition-coil.primary-resistance", verdict="out_of_spec")
    yield item(TEXT, "coal pack was swapped", "action", confidence=0.4)
    yield item(TEXT, "0.8", value=0.8, unit="mm", test="spark-plug.gap", flags=("unit_assumed",))


@pytest.fixture
def waiting(home):
    with book.open_journal(book.default_path()) as journal:
        drafted = draft(TEXT, *items(), name="/bench/morning.txt")
        book.take(journal, drafted, who="Sam", at="2026-03-02T18:00:00", vehicle="Aldern Camper 2.0")
    return home


def test_what_needs_eyes_comes_first_and_signing_is_by_name(waiting):
    screen = Screen()
    first = screen.until(PROMPT)
    assert "4 to decide in all" in first
    assert "look   no unit was said" in first
    assert "Gap at the plug 0.8." in first
    assert "You sign, nobody else." in first
    second = screen.key("k")
    assert "kept: 0.8 mm spark plug: electrode gap" in second
    assert "judged BAD" in second
    assert "only 40% sure" in screen.key("d")
    last = screen.key("k")
    assert "morning.txt | 2026-03-02 16:20 | typed | Aldern Camper 2.0 | job 2026-001" in last
    assert "or 1   fuel rail: pressure left after standing" in last
    end = screen.key("k", "S sign as Sam")
    assert "All decided: 3 kept." in end
    screen.key("S", "3 lines signed by Sam")
    assert screen.end() == 0
    with book.open_journal(book.default_path()) as journal:
        assert [row["quote"] for row in journal.rows("SELECT quote FROM items ORDER BY start_at")] == [
            "3.0 bar",
            "coal pack was swapped",
            "0.8",
        ]
        assert book.waiting(journal) == []


def test_it_goes_on_where_it_stopped(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("k")
    screen.key("q", "Goes on from here")
    assert screen.end() == 0
    again = Screen()
    assert "3 to decide in all" in again.until(PROMPT)
    undone = again.key("u")  # the last sitting's step is taken back
    assert "taken back" in undone
    assert "4 to decide in all" in undone
    again.key("q", "Stopped: 4 to decide, 0 kept")
    assert again.end() == 0


def test_ctrl_c_ends_with_130_and_keeps_every_step(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("k")
    screen.until_it_reads_a_key()
    screen.child.sendcontrol("c")
    assert screen.end() == 130
    assert "Traceback" not in screen.shown
    with book.open_journal(book.default_path()) as journal:
        assert book.waiting(journal)[0].steps == ({"do": "keep", "lines": [4]},)


def test_a_hang_up_keeps_every_step(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("d")
    screen.child.close(force=True)
    with book.open_journal(book.default_path()) as journal:
        assert book.waiting(journal)[0].steps == ({"do": "drop", "lines": [4]},)


def test_all_clean_leaves_what_needs_eyes(waiting):
    screen = Screen()
    screen.until(PROMPT)
    assert "1 clean lines kept" in screen.key("A")
    screen.key("S", "1 lines signed by Sam")
    screen.until(PROMPT)
    screen.key("q", "Stopped: 3 to decide, 0 kept")


def test_a_value_is_corrected_and_judged_anew(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("n")  # the flagged gap is put off
    screen.key("c", "any other key")
    screen.key("v", "value .*:")
    assert "corrected and kept" in screen.key("0.7 ohm\n")
    with book.open_journal(book.default_path()) as journal:
        (step,) = book.waiting(journal)[0].steps
    assert step == {"do": "correct", "line": 2, "set": {"value": 0.7, "comparator": "=", "unit": "Ohm"}}


def test_a_wrong_answer_is_told_and_changes_nothing(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("c", "any other key")
    screen.key("v", "value .*:")
    assert "'nine' is no number" in screen.key("nine\n")
    screen.key("c", "any other key")
    screen.key("u", "unit .*:")
    assert "no unit that is known" in screen.key("smoots\n")
    assert "there is no other test 3" in screen.key("3")
    screen.key("c", "any other key")
    assert "as it was" in screen.key("z")
    with book.open_journal(book.default_path()) as journal:
        assert book.waiting(journal)[0].steps == ()


def test_a_day_is_corrected_in_words(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("c", "any other key")
    screen.key("d", "day .*:")
    assert "'soon' is no day" in screen.key("soon\n")
    screen.key("c", "any other key")
    screen.key("d", "day .*:")
    screen.key("yesterday\n")
    with book.open_journal(book.default_path()) as journal:
        one = book.waiting(journal)[0]
        (step,) = one.steps
    noted = date.fromisoformat(one.draft.note.recorded_at[:10])
    assert step["set"] == {"at": (noted - timedelta(days=1)).isoformat()}


def test_another_test_is_one_key_away(waiting):
    screen = Screen()
    screen.until(PROMPT)
    for _ in range(3):
        screen.key("n")
    assert "taken instead, and kept" in screen.key("1", "kept") + screen.until("put off")
    with book.open_journal(book.default_path()) as journal:
        assert book.waiting(journal)[0].steps[0]["set"] == {"test": "fuel-rail.hold-pressure"}


def test_a_part_is_corrected_by_any_name_and_the_shop_s_name_learned_the_second_time(waiting):
    more = "It is the coal pack again, I swapped it."
    with book.open_journal(book.default_path()) as journal:
        drafted = draft(
            more, item(more, "I swapped it", "action", confidence=0.4), name="later.txt", at="2026-03-09T10:00:00"
        )
        book.take(journal, drafted, who="Sam", at="2026-03-09T18:00:00", vehicle="Aldern Camper 2.0")
    screen = Screen()
    screen.until(PROMPT)
    screen.key("n")
    screen.key("n")
    screen.key("c", "any other key")
    screen.key("p", "part, by any name .*:")
    assert "corrected and kept" in screen.key("ignitoin coil\n")
    screen.key("c", "any other key")
    screen.key("p", "part, by any name .*:")
    screen.key("ignition coil\n", "Is it what the shop calls it.*no")
    assert "'coal pack' was corrected to ignition coil before" in screen.shown
    screen.key("y", "learned")
    screen.key("q", "Stopped|$")
    from cleansheet.cli.shopnames import learned

    assert learned() == {"ignition-coil": ["coal pack"]}


def test_what_was_missed_is_added_by_pointing_at_words(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("a", "which words .*:")
    assert "4 bar" in screen.shown  # every word has its number
    assert "nothing is understood" in screen.key("made no difference\n", "number\\):")
    assert "added and kept" in screen.key("2\n", "part, by any name .*:") + screen.key("\n")
    with book.open_journal(book.default_path()) as journal:
        step = book.waiting(journal)[0].steps[0]
    assert (step["do"], step["item"]["quote"], step["item"]["kind"]) == ("add", "made no difference", "expected")


def test_another_hearing_is_chosen_and_the_words_stay(home):
    text = "Cylinder compression fifteen bar."
    words, place = [], 0
    for number, word in enumerate(text.split()):
        start = text.index(word, place)
        place = start + len(word)
        doubtful = word == "fifteen"
        words.append(
            Word(
                word,
                start,
                place,
                number * 0.5,
                number * 0.5 + 0.4,
                0.41 if doubtful else 0.97,
                ("fifty",) if doubtful else (),
            )
        )
    one = item(
        text,
        "fifteen bar",
        value=15,
        unit="bar",
        test="cylinder.compression",
        flags=("low_confidence_words",),
        audio=Audio(1.0, 2.4),
    )
    drafted = draft(text, one, name="bench.flac")
    note = replace(drafted.note, source="spoken", words=tuple(words))
    with book.open_journal(book.default_path()) as journal:
        book.take(
            journal, replace(drafted, note=note), who="Sam", at="2026-03-02T18:00:00", sound=str(home / "bench.flac")
        )
    screen = Screen()
    shown = screen.until(PROMPT)
    assert "heard  'fifteen' 41%, or 'fifty'" in shown
    assert "not there any more" in screen.key("p")
    screen.key("h", "number\\):")
    assert "'fifty' for 'fifteen': 50 bar" in screen.shown
    screen.key("1\n", "taken as heard so")
    with book.open_journal(book.default_path()) as journal:
        (one,) = book.waiting(journal)
    assert one.steps[0]["set"] == {"value": 50.0, "comparator": "=", "unit": "bar"}
    assert one.draft.note.text == text


def test_split_and_join(waiting):
    screen = Screen()
    screen.until(PROMPT)
    screen.key("n")
    screen.key("n")
    screen.key("s", "starts at word:")
    assert "split; both parts are to be decided" in screen.key("3\n")
    screen.key("j", "number\\):")
    screen.key("1\n", "joined")
    with book.open_journal(book.default_path()) as journal:
        steps = [step["do"] for step in book.waiting(journal)[0].steps]
    assert steps == ["split", "join"]


@pytest.mark.parametrize("colour", [False, True])
def test_nothing_is_wider_than_the_screen_and_colour_only_where_wanted(waiting, colour):
    screen = Screen(colour=colour)
    screen.until(PROMPT)
    for key in "nwp?k":
        screen.key(key)
    screen.key("q", "Goes on from here.*review")
    assert ("\033[" in screen.shown) == colour
    plain = re.sub(r"\033\[[0-9;]*m", "", screen.shown).replace("\r", "")
    assert [line for line in plain.split("\n") if len(line) > 80] == []
    if colour:
        assert "\033[7m1.4 ohms\033[0m" in screen.shown  # the value marked in its sentence
    else:
        rows = plain.split("\n")
        below = next(row for row, text in enumerate(rows) if "Coil primary 1.4 ohms" in text)
        assert rows[below + 1].index("^") == rows[below].index("1.4 ohms")
        assert rows[below + 1].strip() == "^" * len("1.4 ohms")


def test_no_color_is_kept_to_on_a_terminal_that_could(waiting, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    screen = Screen(colour=True)
    screen.until(PROMPT)
    assert "\033[" not in screen.shown


def test_two_reviewers_on_one_note_lose_nothing(waiting):
    one, other = Screen("--who", "Sam"), Screen("--who", "Kit")
    one.until(PROMPT)
    other.until(PROMPT)
    one.key("k")
    other.child.send("d")
    assert other.end() == 5
    assert "reviewed by somebody else meanwhile; nothing was changed; open it again" in " ".join(other.shown.split())
    with book.open_journal(book.default_path()) as journal:
        assert book.waiting(journal)[0].steps == ({"do": "keep", "lines": [4]},)


def test_nothing_waiting_is_said(home):
    book.open_journal(book.default_path()).close()
    screen = Screen()
    screen.until("Nothing waits for review.")
    assert screen.end() == 0
