"""Whatever items come in, a draft comes out: the same items in the same order, each reading with a verdict or a flag."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from cleansheet.catalogue import load
from cleansheet.judge import judge
from cleansheet.terms import FINDINGS, FLAGS, KINDS, VERDICTS, Item, Note, Quantity

CATALOGUE = load()
UNITS = (
    "bar",
    "[psi]",
    "kPa",
    "V",
    "mV",
    "Ohm",
    "kOhm",
    "A",
    "mm",
    "Cel",
    "[degF]",
    "%",
    "1",
    "deg",
    "{rev}/min",
    "furlong",
    None,
)
number = st.none() | st.floats(-1e6, 1e6, allow_nan=False)
condition = st.fixed_dictionaries(
    {},
    optional={
        "engine": st.sampled_from(["off", "cranking", "idle", "running"]),
        "speed_rpm": st.floats(0, 9000),
        "temperature_c": st.floats(-50, 150),
        "warm": st.sampled_from(["cold", "hot"]),
        "elapsed_min": st.floats(0, 600),
        "throttle": st.sampled_from(["closed", "open"]),
        "load": st.sampled_from(["on", "off"]),
        "vacuum_line": st.sampled_from(["on", "off"]),
    },
)


@st.composite
def quantities(draw):
    value, low, high = draw(number), draw(number), draw(number)
    if low is not None and high is not None and low > high:
        low, high = high, low
    sign = draw(st.sampled_from(["=", "=", "<", "<=", ">", ">="]))
    return Quantity(value, low, high, draw(st.sampled_from(UNITS)), sign, draw(st.booleans()))


@st.composite
def item_lists(draw):
    items = []
    for place in range(draw(st.integers(0, 6))):
        test = draw(st.none() | st.sampled_from(sorted(CATALOGUE.tests)))
        items.append(
            Item(
                draw(st.sampled_from(("reading", "reading", "expected", *KINDS))),
                3 * place,
                3 * place + 2,
                draw(st.none() | quantities()),
                draw(st.none() | st.sampled_from(FINDINGS)),
                test.partition(".")[0] if test else None,
                test,
                draw(st.none() | st.sampled_from(["1", "2", "front-left", "all"])),
                draw(condition),
                flags=tuple(draw(st.sets(st.sampled_from(FLAGS), max_size=2))),
                second=draw(st.none() | quantities()),
                group=draw(st.none() | st.integers(0, 2)),
            )
        )
    return items


@settings(max_examples=300)
@given(item_lists(), st.booleans())
def test_judge_never_fails_and_never_loses_an_item(items, use_catalogue):
    note = Note("pads 3 mm anything wet hybrid diesel " * 2)
    draft = judge(items, note, CATALOGUE, use_catalogue=use_catalogue)
    assert len(draft.items) == len(items)
    for before, after in zip(items, draft.items, strict=True):
        assert (after.kind, after.start, after.end, after.quantity, after.test) == (
            before.kind, before.start, before.end, before.quantity, before.test,
        )  # fmt: skip
        if after.kind != "reading":
            assert after == before
        elif after.verdict is not None:
            assert after.verdict.word in VERDICTS
            assert after.verdict.reason
            assert "\n" not in after.verdict.reason
        elif after.quantity is not None or after.finding is not None:
            assert {"unit_slip", "units_disagree", "implausible"} & set(after.flags)
    assert judge(draft.items, note, CATALOGUE, use_catalogue=use_catalogue) == draft
