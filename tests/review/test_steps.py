"""What a person can do to a draft: every step a pure function, every one taken back by undo."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making import COIL_TEXT, coil_draft, draft, item, quantity

from cleansheet import review as rv
from cleansheet.terms import InputError, Verdict


def limits_judge(items, note):
    """Judges by a limit of 0.5 to 0.9 for the coil's primary; the real judge is tested with the commands."""
    judged = []
    for one in items:
        if one.test == "ignition-coil.primary-resistance" and one.quantity is not None:
            word = "in_spec" if 0.5 <= one.quantity.number <= 0.9 else "out_of_spec"
            flags = ("implausible",) if one.quantity.number > 100 else ()
            judged.append(replace(one, verdict=Verdict(word, "0.5 to 0.9 Ω"), flags=flags))
        else:
            judged.append(one)
    return judged


def start():
    return rv.start(coil_draft())


def test_lines_are_numbered_in_the_order_of_the_words():
    review = start()
    assert [(line.number, COIL_TEXT[line.item.start : line.item.end]) for line in review.lines] == [
        (1, "0.7 ohm"), (2, "9.4 kohm"), (3, "Swapped the pump relay"), (4, "Is the module dead?")]  # fmt: skip


LOOKS = [
    ("clean", {}, ()),
    ("a flag", {"flags": ("unit_assumed",)}, ("no unit was said",)),
    (
        "two flags",
        {"flags": ("unit_slip", "implausible")},
        ("unit or decimal point may have slipped", "outside what such a part can show"),
    ),
    ("bad number", {"verdict": Verdict("out_of_spec", "")}, ("out of its limits",)),
    ("close", {"verdict": Verdict("too_close", "")}, ("too close to a limit to call",)),
    ("unsure", {"confidence": 0.41}, ("only 41% sure",)),
    ("no test", {"test": None}, ("no test found for it",)),
    ("no limit is not a reason", {"verdict": Verdict("no_spec", "")}, ()),
]


@pytest.mark.parametrize(("_name", "change", "reasons"), LOOKS, ids=[row[0] for row in LOOKS])
def test_why_a_line_needs_eyes(_name, change, reasons):
    one = replace(start().lines[0].item, **change)
    assert rv.reasons_to_look(one) == reasons
    assert rv.is_clean(one) == (not reasons)


def test_what_needs_eyes_comes_first():
    text = "a b c d e f"
    kinds = [
        ("a", {"verdict": "in_spec"}),
        ("b", {"confidence": 0.3, "verdict": "in_spec"}),
        ("c", {"verdict": "too_close"}),
        ("d", {"verdict": "out_of_spec"}),
        ("e", {"flags": ("unit_slip",), "verdict": "in_spec"}),
        ("f", {"confidence": 0.5, "verdict": "in_spec"}),
    ]
    items = [item(text, word, test="fuel-rail.static-pressure", value=1, unit="bar", **more) for word, more in kinds]
    order = rv.looking_order(rv.start(draft(text, *items)))
    assert [text[line.item.start] for line in order] == ["e", "d", "c", "b", "f", "a"]


def test_keep_all_clean_never_takes_a_flagged_one():
    review = start()
    flagged = replace(review.draft.items[0], flags=("low_confidence_words",))
    review = rv.start(replace(review.draft, items=(flagged, *review.draft.items[1:])))
    assert rv.keep_clean(review)["lines"] == [2, 3, 4]


@settings(max_examples=60)
@given(st.lists(st.tuples(st.sets(st.sampled_from(["unit_slip", "implausible", "two_tests_fit"])), st.floats(0, 1),
                          st.sampled_from(["in_spec", "out_of_spec", "too_close", "no_spec", None])), max_size=8))  # fmt: skip
def test_keep_all_clean_holds_for_any_draft(marks):
    text = " ".join("abcdefgh"[: len(marks)]) or "nothing"
    items = [
        replace(
            item(text, "abcdefgh"[place], test="fuel-rail.static-pressure", verdict=word),
            flags=tuple(sorted(flags)),
            confidence=sure,
        )
        for place, (flags, sure, word) in enumerate(marks)
    ]
    review = rv.start(draft(text, *items))
    kept = {line.number for line in rv.apply(review, rv.keep_clean(review)).kept}
    for line in review.lines:
        bad = line.item.verdict is not None and line.item.verdict.word in ("out_of_spec", "too_close")
        assert (line.number in kept) == (not line.item.flags and not bad and line.item.confidence >= rv.SURE)


def test_drop_and_reopen():
    review = rv.apply(start(), rv.drop(1, 4))
    assert [line.state for line in review.lines] == ["dropped", "open", "open", "dropped"]
    assert [line.state for line in rv.apply(review, rv.reopen(4)).lines] == ["dropped", "open", "open", "open"]


def test_a_corrected_value_is_judged_anew_and_kept():
    review = rv.apply(start(), rv.correct(1, value=1.4), limits_judge)
    line = review.line(1)
    assert (line.state, line.changed) == ("kept", ("value",))
    assert (line.item.quantity.value, line.item.quantity.low, line.item.quantity.high) == (1.4, 1.35, 1.45)
    assert line.item.verdict.word == "out_of_spec"
    assert line.drafted.quantity.value == 0.7


def test_a_corrected_value_that_is_flagged_again_stays_open():
    assert rv.apply(start(), rv.correct(1, value=140), limits_judge).line(1).state == "open"


def test_a_corrected_test_takes_its_part_along():
    item_ = rv.apply(start(), rv.correct(2, test="ignition-coil.primary-resistance")).line(2).item
    assert (item_.component, item_.test, item_.verdict) == ("ignition-coil", "ignition-coil.primary-resistance", None)
    other = rv.apply(start(), rv.correct(1, component="injector")).line(1).item
    assert (other.component, other.test) == ("injector", None)


@pytest.mark.parametrize(("fields", "message"), [
    ({}, "nothing to correct"),
    ({"colour": "red"}, "cannot correct 'colour'"),
    ({"kind": "opinion"}, "is no kind"),
    ({"kind": None}, "needs a kind"),
    ({"finding": "sad"}, "is no finding"),
    ({"value": "nine"}, "is no number"),
    ({"value": float("nan")}, "no number that a meter shows"),
    ({"low": 3, "high": 2}, "low end is above"),
    ({"low": None, "high": None}, "at least one end"),
    ({"comparator": "~"}, "no comparator"),
    ({"condition": "hot"}, "a table"),
    ({"at": "yesterday"}, "is no day"),
    ({"at": 14}, "is no day"),
])  # fmt: skip
def test_a_correction_that_does_not_fit_changes_nothing(fields, message):
    review = start()
    with pytest.raises(InputError, match=message):
        rv.apply(review, rv.correct(1, **fields))
    assert review == start()


CORRECTED = [
    ({"unit": "kOhm"}, lambda q: (q.value, q.unit) == (0.7, "kOhm")),
    ({"low": 14, "high": 17, "unit": "Ohm"}, lambda q: (q.value, q.low, q.high) == (None, 14, 17)),
    ({"value": 50, "comparator": "<"}, lambda q: (q.value, q.low, q.high) == (50, None, 50)),
    ({"value": 9, "comparator": ">="}, lambda q: (q.low, q.high) == (9, None)),
    ({"value": 940}, lambda q: (q.low, q.high) == (939.5, 940.5)),
    ({"value": "0.125"}, lambda q: (q.low, q.high) == (0.1245, 0.1255)),
]


@pytest.mark.parametrize(("fields", "holds"), CORRECTED)
def test_what_a_correction_makes_of_the_quantity(fields, holds):
    assert holds(rv.apply(start(), rv.correct(1, **fields)).line(1).item.quantity)


def test_a_corrected_day_is_kept_and_taken_off_again():
    review = rv.apply(start(), rv.correct(1, at="2026-03-01"))
    assert (review.line(1).item.at, review.line(1).changed) == ("2026-03-01", ("at",))
    assert rv.apply(review, rv.correct(1, at=None)).line(1).item.at is None


def test_what_was_missed_is_added_at_its_words():
    missed = item(COIL_TEXT, "primary", component="ignition-coil")
    review = rv.apply(start(), rv.add(missed, COIL_TEXT))
    line = review.line(5)
    assert (line.state, line.drafted, line.changed) == ("kept", None, ("added",))
    assert [one.number for one in review.lines] == [5, 1, 2, 3, 4]


@pytest.mark.parametrize(("start_at", "end_at"), [(-1, 4), (4, 4), (0, 10_000)])
def test_an_added_line_needs_words_of_the_note(start_at, end_at):
    missed = replace(item(COIL_TEXT, "primary"), start=start_at, end=end_at)
    with pytest.raises(InputError, match="no words at"):
        rv.apply(start(), rv.add(missed, COIL_TEXT))


def test_split_makes_two_lines_to_decide():
    text = "one and two are dry"
    whole = item(text, "one and two are dry", finding="dry", test="injector.leaks", verdict="in_spec")
    review = rv.start(draft(text, whole))
    parts = [replace(whole, end=3, position="1"), replace(whole, start=8, position="2")]
    review = rv.apply(review, rv.split(1, parts, text))
    assert [(line.number, line.item.position, line.state) for line in review.lines] == [
        (1, "1", "open"),
        (2, "2", "open"),
    ]
    with pytest.raises(InputError, match="two parts"):
        rv.apply(review, rv.split(1, parts[:1], text))


def test_join_keeps_the_second_unit():
    text = "2.5 bar, that is 36 psi"
    first = item(text, "2.5 bar", value=2.5, unit="bar", test="fuel-rail.static-pressure")
    second = item(text, "36 psi", value=36, unit="[psi]")
    review = rv.apply(rv.start(draft(text, first, second)), rv.join(2, 1))
    (line,) = review.lines
    assert (line.item.start, line.item.end) == (0, len(text))
    assert (line.item.quantity.unit, line.item.second) == ("bar", quantity(36, "[psi]"))
    assert rv.apply(review, rv.add(second, text)).lines[-1].number == 3  # a joined line's number is not given again
    with pytest.raises(InputError, match="to itself"):
        rv.apply(review, rv.join(1, 1))


def test_signed_lines_are_out_of_reach():
    review = rv.apply(start(), rv.keep(1))
    review = rv.apply(review, rv.sign(review, "Sam", "2026-03-02T18:00:00"))
    assert review.line(1).signed_by == "Sam"
    for step in (rv.drop(1), rv.correct(1, value=1), rv.reopen(1), rv.join(1, 2), rv.keep(1)):
        with pytest.raises(InputError):
            rv.apply(review, step)
    with pytest.raises(InputError, match="signed"):
        rv.undo(review)
    assert not review.finished
    assert rv.apply(review, rv.drop(2, 3, 4)).finished


@pytest.mark.parametrize(("who", "message"), [("", "who signs"), ("  ", "who signs"), ("Sam", "nothing to sign")])
def test_signing_needs_a_name_and_something_kept(who, message):
    with pytest.raises(InputError, match=message):
        rv.sign(start(), who, "2026-03-02T18:00:00")


@pytest.mark.parametrize("step", [{"do": "paint", "lines": [1]}, {}, rv.keep(9), rv.correct(9, value=1), rv.join(9, 1),
                                  {"do": "sign", "lines": [1], "who": "Sam", "at": "x"}])  # fmt: skip
def test_a_step_that_does_not_fit_is_refused(step):
    with pytest.raises(InputError):
        rv.apply(start(), step)


STEPS = st.one_of(
    st.builds(rv.keep, st.integers(1, 4)),
    st.builds(rv.drop, st.integers(1, 4)),
    st.builds(rv.reopen, st.integers(1, 4)),
    st.builds(rv.correct, st.sampled_from([1, 2]), value=st.sampled_from([0.6, 1.2, 500.0])),
    st.builds(rv.correct, st.integers(1, 4), component=st.sampled_from(["injector", "ignition-coil"])),
    st.builds(rv.join, st.integers(1, 4), st.integers(1, 4)),
    st.just(rv.add(item(COIL_TEXT, "primary", component="ignition-coil"), COIL_TEXT)),
)


@settings(max_examples=120)
@given(st.lists(STEPS, max_size=8))
def test_undo_is_the_inverse_of_every_step_and_play_of_all(steps):
    review = start()
    for step in steps:
        try:
            after = rv.apply(review, step, limits_judge)
        except InputError:
            continue
        assert rv.undo(after, limits_judge) == review
        review = after
    stored = json.loads(json.dumps(review.steps))  # as the journal keeps them
    again = rv.play(coil_draft(), stored, limits_judge)
    assert again.lines == review.lines


@pytest.mark.parametrize(("number", "half"), [(2.5, 0.05), (0.125, 0.0005), (940, 0.5), (3.0, 0.5), (1e-7, 0.5)])
def test_rounding_half_is_half_of_the_last_digit_given(number, half):
    assert rv.rounding_half(number) == pytest.approx(half)
