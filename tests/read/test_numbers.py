"""Every way to say a number, and what is none. Cases are common practice of speech unless a source stands beside them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cleansheet.read.numbers import candidates_at
from cleansheet.read.quantities import find_numbers
from cleansheet.read.words import words

SAID = [
    # written
    ("12.6", 12.6), ("3,1", 3.1), ("23,410", 23410), ("188,000", 188000), ("1,234.5", 1234.5), ("1.234,56", 1234.56), ("1,234,567", 1234567),
    (".80", 0.8), ("142\u2009300", 142300), ("142\u00a0300", 142300), ("15 000", 15000), ("-12", -12), ("−0.8", -0.8), ("+5", 5), ("12,34,567", 1234567),
    ("½", 0.5), ("2½", 2.5), ("1/2", 0.5), ("2 1/2", 2.5), ("2-1/2", 2.5), ("5/32", 0.15625), ("1⁄4", 0.25), ("3/16", 0.1875),
    ("1e-3", 0.001), ("2.5E3", 2500), ("2.5 x 10^3", 2500), ("2.5×10⁻³", 0.0025), ("10^6", 1e6), ("6.02 x 10**23", 6.02e23),
    ("3 million", 3e6), ("1.2 million", 1.2e6), ("2 hundred", 200), ("5 thousand", 5000), ("3bn", 3e9), ("2 and a half", 2.5), ("3 quarters", 0.75),
    # in words, in full
    ("zero", 0), ("nought", 0), ("nil", 0), ("seven", 7), ("nineteen", 19), ("forty-two", 42), ("forty two", 42), ("a hundred", 100),
    ("a hundred and forty", 140), ("one hundred and one", 101), ("three hundred ten", 310), ("six hundred and ninety", 690), ("two hundred and eighty", 280),
    ("a thousand", 1000), ("two thousand and six", 2006), ("forty thousand", 40000), ("a hundred and twelve thousand", 112000), ("fourteen hundred and fifty", 1450),
    ("eleven hundred", 1100), ("one million two hundred thousand", 1.2e6), ("one million, two hundred thousand and five", 1200005), ("half a million", 5e5),
    ("two and a half million", 2.5e6), ("a million and a half", 1.5e6), ("two hundred thousand", 200000), ("three billion", 3e9),
    ("one hundred and twenty-three thousand four hundred and fifty-six", 123456), ("two-hundred-and-five", 205), ("a couple hundred", 200),
    # with a point
    ("two point nine", 2.9), ("nought point four", 0.4), ("nought point nought six", 0.06), ("point five", 0.5), ("oh point eight", 0.8), ("twelve point six", 12.6),
    ("two point four five", 2.45), ("two point oh five", 2.05), ("zero point zero zero one", 0.001), ("point sixty five", 0.65), ("a hundred and twenty point five", 120.5),
    ("two point five million", 2.5e6), ("one oh one point three", 101.3), ("12 point 6", 12.6), ("three dot five", 3.5), ("point oh one five", 0.015),
    # hundreds unsaid
    ("one forty", 140), ("one oh five", 105), ("one eighty eight", 188), ("eleven fifty", 1150), ("seven eighty", 780), ("one twelve", 112), ("two thirty", 230),
    ("nineteen ninety two", 1992), ("nineteen oh five", 1905), ("twenty twenty six", 2026), ("fifty five twenty", 5520), ("twenty one hundred", 2100),
    # digit by digit
    ("six seven seven", 677), ("one two three four", 1234), ("double five one", 551), ("four zero four", 404),
    # fractions
    ("two and a half", 2.5), ("two-and-a-half", 2.5), ("fourteen and a half", 14.5), ("three quarters", 0.75), ("one and three quarters", 1.75), ("one half", 0.5),
    ("seven eighths", 0.875), ("five sixteenths", 0.3125), ("one third", 1 / 3), ("two-thirds", 2 / 3), ("five thirty-seconds", 5 / 32), ("one and three eighths", 1.375),
    ("two tenths", 0.2), ("five thousandths", 0.005), ("a hundred and a half", 100.5), ("a quarter", 0.25),
    # negative
    ("minus twelve", -12), ("negative five", -5), ("minus nought point eight", -0.8), ("minus twenty eight", -28), ("minus 5", -5),
    # several at once
    ("a dozen", 12), ("two dozen", 24), ("half a dozen", 6),
    # IEC 60062: the letter stands at the decimal point; the unit is checked in test_quantities
    ("4k7", 4.7), ("0R5", 0.5), ("2M2", 2.2), ("R47", 0.47), ("10K5", 10.5), ("4K7J", 4.7),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), SAID)
def test_a_number_alone(text, value):
    found = find_numbers(words(text), text)
    assert [number.value for number in found] == [pytest.approx(value)]
    assert text[found[0].start : found[0].end] == text


IN_TEXT = [
    ("battery negative to block forty five millivolts", [45]),
    ("two hundred and three hundred", [200, 300]),
    ("two thousand three thousand", [2000, 3000]),
    ("five and six", [5, 6]),
    ("number one fourteen and a half", [1, 14.5]),
    ("cylinder one one forty", [1, 140]),
    ("number two ten thou", [2, 10]),
    ("number one a hundred and thirty", [1, 130]),
    ("three thousand fourteen point four volts", [3000, 14.4]),
    ("one fifty, one forty eight, one fifty two", [150, 148, 152]),
    ("1,2,3", []),  # neither one number nor, by itself, three: left to who reads lists
    ("3, 4 and 5", [3, 4, 5]),
    ("150/148/152/120", [150, 148, 152, 120]),
    ("between the two of them", [2]),
    ("2 x 4", [2, 4]),
]


@pytest.mark.parametrize(("text", "values"), IN_TEXT)
def test_numbers_among_words(text, values):
    found = [number.value for number in find_numbers(words(text), text) if number.form not in ("code", "date")]
    if values:
        assert found == [pytest.approx(value) for value in values]


NONE = [
    "this one is fine", "the new one", "one of them", "on one side", "no one knows", "the other one", "one another", "which one", "one by one", "the one and only",
    "a second look", "second gear", "the third one", "a third party", "oh well", "at this point one of us left", "half the time", "half throttle", "half way there",
    "quarter panel", "a lot", "to be or not to be", "for a while", "an hour later", "point taken", "the point is", "a few hundred", "several thousand", "hundreds of people",
    "wait a minute", "tens of thousands of", "in his twenties", "won it", "the quarter", "once or twice", "a couple who left", "one day he came", "every one of the",
    "R is a letter", "K", "sixth form", "first thing", "on the one hand", "the good one", "negative terminal", "minus side", "dot matrix", "decimal places",
]  # fmt: skip


@pytest.mark.parametrize("text", NONE)
def test_no_number_at_all(text):
    assert [text[n.start : n.end] for n in find_numbers(words(text), text) if n.form != "ordinal"] == []


CANDIDATES = [
    ("one one eighty eight", {1, 11}),
    ("one eighty eight two", {1, 180, 188}),
    ("two point four five bar", {2, 2.4, 2.45}),
    ("two hundred and eighty", {2, 200, 280}),
    ("fourteen two volts", {14, 14.2}),
    ("four k", {4}),
    ("nothing", set()),
]


@pytest.mark.parametrize(("text", "values"), CANDIDATES)
def test_every_way_that_starts_here(text, values):
    found = candidates_at(words(text), 0)
    assert values <= {number.value for number in found}
    assert bool(found) == bool(values)
    ends = [number.last for number in found]
    assert ends == sorted(ends, reverse=True)
    assert len(set(ends)) == len(ends)


def test_a_list_can_be_cut_into_places_and_values():
    toks = words("flow one one eighty eight two one eighty six three one sixty two four one ninety")
    at = 1
    pairs = []
    for place in (1, 2, 3, 4):
        said = next(n for n in candidates_at(toks, at) if n.last == at + 1)
        assert said.value == place
        value = next(
            n
            for n in candidates_at(toks, said.last)
            if n.last == len(toks)
            or any(c.value == place + 1 and c.last == n.last + 1 for c in candidates_at(toks, n.last))
        )
        pairs.append(value.value)
        at = value.last
    assert pairs == [188, 186, 162, 190]


def test_fourteen_two_has_both_readings():
    (number,) = find_numbers(words("fourteen two volts"))
    assert (number.value, number.alternatives, number.form) == (14.2, (142,), "point-unsaid")


def test_a_comma_before_three_digits_may_be_a_point():
    (number,) = find_numbers(words("23,410"))
    assert (number.value, number.alternatives) == (23410, (23.41,))


# JCGM 100:2008, F.2.2.1; a half in words is wide (common practice, no source)
INTERVALS = [
    ("0.5", 0.45, 0.55), ("2.50", 2.495, 2.505), ("twelve", 11.5, 12.5), ("twelve point six", 12.55, 12.65), ("twelve and a half", 12.25, 12.75),
    ("5/32", 0.140625, 0.171875), ("1200", 1199.5, 1200.5), ("two hundred", 199.5, 200.5), ("nought point nought six", 0.055, 0.065), ("1.2 million", 1.15e6, 1.25e6),
]  # fmt: skip


@pytest.mark.parametrize(("text", "low", "high"), INTERVALS)
def test_what_the_rounding_leaves_open(text, low, high):
    (number,) = find_numbers(words(text))
    assert (number.low, number.high) == (pytest.approx(low), pytest.approx(high))


FORMS = [
    ("P0301", "code"), ("KS-2207-4", "code"), ("T4-88120", "code"), ("5W30", "code"), ("5W-30", "code"), ("V8", "code"), ("M10", "code"), ("0791", "code"), ("R134a", "code"),
    ("3D", "code"), ("192.168.0.1", "code"), ("9:30", "clock"), ("5 pm", "clock"), ("5pm", "clock"), ("half past nine", "clock"), ("quarter to five", "clock"), ("7 a.m.", "clock"),
    ("nine o'clock", "clock"), ("2026-03-14", "date"), ("14/03/2026", "date"), ("14.3.2026", "date"), ("1990s", "date"), ("555-0142", "phone"), ("555 0142", "phone"),
    ("5th", "ordinal"), ("21st", "ordinal"), ("14 March", "day"), ("cyl1", "label"), ("19 February 2026", "day"), ("in 1992", "year"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "form"), FORMS)
def test_numbers_that_measure_nothing(text, form):
    assert find_numbers(words(text), text)[0].form == form


NO_FORM = [
    ("150/148/152", 150),
    ("1-150", 1),
    ("5-6 bar", 5),
    ("9:1", 9),
    ("14.7:1", 14.7),
    ("5 x 3", 5),
    ("12.6V", 12.6),
    ("0.5", 0.5),
    ("10 May be enough", 10),
]


@pytest.mark.parametrize(("text", "value"), NO_FORM)
def test_numbers_that_do(text, value):
    first = find_numbers(words(text), text)[0]
    assert (first.value, first.form) == (value, "numeral")


def outside(value):
    from num2words import num2words

    return num2words(value)


def styles(said):
    plain = said.replace("-", " ")
    return (
        said,
        plain,
        said.replace(" and ", " "),
        plain.replace(" and ", " ").replace(",", ""),
        said.replace(",", ""),
    )


def test_every_whole_number_to_9999_reads_back():
    wrong = []
    for value in range(10_000):
        for said in styles(outside(value)):
            found = find_numbers(words(said))
            if [number.value for number in found] != [value]:
                wrong.append((value, said, [number.value for number in found]))
    assert wrong == []


@settings(max_examples=300, deadline=None)
@given(st.integers(0, 9_999_000), st.integers(0, 3), st.booleans())
def test_decimals_to_three_places_read_back(thousandths, places, negative):
    value = round(thousandths / 1000, places)
    for said in styles(outside(value)):
        (number,) = find_numbers(words("minus " + said if negative else said))
        assert number.value == pytest.approx(-value if negative else value, abs=1e-9)


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 10**12 - 1))
def test_large_numbers_agree_with_an_outside_reader(value):
    from text_to_num import text2num

    said = outside(value).replace(",", "").replace("-", " ")
    (number,) = find_numbers(words(said))
    assert number.value == text2num(said, "en") == value


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.sampled_from(
            [
                "one",
                "two",
                "ten",
                "twelve",
                "twenty",
                "fifty",
                "hundred",
                "thousand",
                "and",
                "a",
                "point",
                "half",
                "minus",
                "oh",
                "5",
                "12.6",
                ",",
                "-",
                "/",
                "½",
                "k",
                "x",
            ]
        ),
        max_size=14,
    )
)
def test_any_run_of_number_words_is_read_without_overlap(pieces):
    text = " ".join(pieces)
    toks = words(text)
    end = 0
    for number in find_numbers(toks, text):
        assert number.first >= end
        assert number.last > number.first
        assert text[number.start : number.end] == text[toks[number.first].start : toks[number.last - 1].end]
        end = number.last
    for i in range(len(toks)):
        for number in candidates_at(toks, i, text):
            assert number.first == i < number.last <= len(toks)
