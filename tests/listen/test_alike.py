"""Whether two hearings say the same: numbers by value, units by one spelling."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from cleansheet.listen.alike import differences, teen_for_ten, tokens

SAME = [
    ("three point one bar", "3.1 bar"),
    ("one hundred and sixty psi", "160 psi"),
    ("one hundred sixty psi", "160 PSI"),
    ("fourteen hundred ohms", "1,400 ohms"),
    ("one forty five", "145"),
    ("one fifteen", "115"),
    ("fourteen and a half ohms", "14.5 ohm"),
    ("14 and a half ohms", "14.5 ohms"),
    ("point eight volts", "0.8 volts"),
    ("nought point seven", "0.7"),
    ("zero point zero four millimeters", "0.04 mm"),
    ("two thousand four hundred", "2400"),
    ("fifty-five amps", "55 amps"),
    ("fourteen point to volts", "14.2 volts"),
    ("point for five volts", "0.45 volts"),
    ("nine hundred and sixty", "900 and 60"),
]


def forms(text):
    return [one.form for one in tokens(text.split())]


@pytest.mark.parametrize(("words", "figures"), SAME[:-1])
def test_words_and_figures_of_one_number_are_the_same(words, figures):
    assert forms(words) == forms(figures)


OTHER = [
    ("fifteen ohms", "fifty ohms"),
    ("three point one", "three point four"),
    ("12 volts", "12 amps"),
    ("one forty", "one fourteen"),
    ("point five", "five"),
    ("two and a half", "two"),
    ("900 and 60", "960"),
    ("four to five", "four two five"),
]


@pytest.mark.parametrize(("one", "another"), OTHER)
def test_different_numbers_and_units_stay_different(one, another):
    assert forms(one) != forms(another)


@given(st.integers(min_value=1, max_value=99_999))
def test_any_whole_number_in_words_has_its_value(number):
    """Against num2words, an outside writer of number words."""
    assert forms(num2words(number).replace(",", "").replace("-", " ")) == [f"{number:g}"]


@given(st.integers(min_value=0, max_value=99), st.lists(st.integers(0, 9), min_size=1, max_size=3))
def test_any_decimal_in_words_has_its_value(whole, digits):
    words = f"{num2words(whole).replace('-', ' ')} point {' '.join(num2words(digit) for digit in digits)}"
    assert forms(words) == [f"{float(f'{whole}.' + ''.join(map(str, digits))):g}"]


DIFFERENCES = [
    ("gap is sixty thou", "gap is 16 thou", [("sixty", "16", True)]),
    ("gap is sixty thou", "gap is 60 thou.", []),
    ("coil eight ohms", "coil eight amps", [("ohms", "amps", True)]),
    ("cold pressure three bar", "hold pressure three bar", [("cold", "hold", False)]),
    ("it reads twelve now", "it reads twelve thou", [("now", "thou", True)]),
    ("three bar", "", [("three bar", "", True)]),
    ("", "three bar", [("", "three bar", True)]),
]


@pytest.mark.parametrize(("one", "another", "expected"), DIFFERENCES)
def test_differences_name_the_words_on_both_sides(one, another, expected):
    mine, its = one.split(), another.split()
    found = [
        (" ".join(mine[d.first : d.last]), " ".join(its[d.other_first : d.other_last]), d.matters)
        for d in differences(mine, its)
    ]
    assert found == expected


@given(
    st.lists(
        st.sampled_from(["the", "gap", "sixty", "16", "thou", "ohms", "point", "and", "a", "half", "hundred"]),
        max_size=12,
    )
)
def test_a_hearing_never_differs_from_itself(words):
    assert differences(words, words) == []


@given(st.lists(st.text(min_size=1, max_size=8), max_size=8))
def test_any_words_are_taken_in_order(words):
    found = tokens(words)
    assert [one.first for one in found] == sorted(one.first for one in found)
    assert all(0 <= one.first < one.last <= len(words) for one in found)


@pytest.mark.parametrize(
    ("word", "other"),
    [("fifty", "fifteen"), ("Thirteen", "thirty"), ("15,", "50,"), ("90", "19"), ("five", None), ("155", None)],
)
def test_teens_and_tens_are_each_others_rivals(word, other):
    assert teen_for_ten(word) == other
