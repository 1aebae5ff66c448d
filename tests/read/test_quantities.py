"""Numbers with their units, ranges, bounds and blur, as a workshop says them."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cleansheet import units
from cleansheet.read.quantities import find_quantities, mentions
from cleansheet.read.quantities_units import misheard_at, unit_at
from cleansheet.read.words import words


def found(text):
    return find_quantities(words(text), text)


ONE = [
    # text, the figure's own words, value, unit
    ("reads 12.6V rested", "12.6V", 12.6, "V"), ("gap 0.3mm", "0.3mm", 0.3, "mm"), ("lugs 95ft-lb", "95ft-lb", 95, "[ft_i].[lbf_av]"), ("at 10° then", "10°", 10, "deg"),
    ("three and three quarters of a mile", "three and three quarters of a mile", 3.75, "[mi_i]"),
    ("three quarters of the way", "three quarters", 0.75, None),
    ("two point nine bar", "two point nine bar", 2.9, "bar"), ("half a bar", "half a bar", 0.5, "bar"), ("half a millimetre", "half a millimetre", 0.5, "mm"),
    ("a quarter of an inch", "a quarter of an inch", 0.25, "[in_i]"), ("point eight of a volt", "point eight of a volt", 0.8, "V"), ("eight point one kilohms", "eight point one kilohms", 8.1, "kOhm"),
    ("three tenths of a volt", "three tenths of a volt", 0.3, "V"), ("ten hundredths of a millimetre", "ten hundredths of a millimetre", 0.1, "mm"), ("1.1 kilo ohms", "1.1 kilo ohms", 1.1, "kOhm"),
    ("two k ohms", "two k ohms", 2, "kOhm"), ("7,2 kohm", "7,2 kohm", 7.2, "kOhm"), ("3,1 bar", "3,1 bar", 3.1, "bar"), ("ten meg ohms", "ten meg ohms", 10, "MOhm"),
    ("sixty psi", "sixty psi", 60, "[psi]"), ("40 p.s.i. cold", "40 p.s.i", 40, "[psi]"), ("thirty pounds per square inch", "thirty pounds per square inch", 30, "[psi]"),
    ("eighteen inches of mercury", "eighteen inches of mercury", 18, "[in_i'Hg]"), ('18" Hg', '18" Hg', 18, "[in_i'Hg]"), ("20 inHg", "20 inHg", 20, "[in_i'Hg]"), ("45 in. Hg", "45 in. Hg", 45, "[in_i'Hg]"),
    ("twelve thou", "twelve thou", 12, "[mil_i]"), ("0.921 in, right", "0.921 in", 0.921, "[in_i]"), ('.020"', '.020"', 0.02, "[in_i]"), ('3/8" drive', '3/8"', 0.375, "[in_i]"),
    ("190 mils a minute", "190 mils a minute", 190, "mL/min"), ("190 cc a minute", "190 cc a minute", 190, "mL/min"), ("1.6 L/min", "1.6 L/min", 1.6, "L/min"), ("two litres a minute", "two litres a minute", 2, "L/min"),
    ("3.4 g/s", "3.4 g/s", 3.4, "g/s"), ("12 kilograms an hour", "12 kilograms an hour", 12, "kg/h"), ("2.4 ms", "2.4 ms", 2.4, "ms"), ("850 revs", "850 revs", 850, "{rev}/min"),
    ("850 rpm", "850 rpm", 850, "{rev}/min"), ("10k rpm", "10k rpm", 10000, "{rev}/min"), ("160 Nm", "160 Nm", 160, "N.m"), ("118 lb ft", "118 lb ft", 118, "[ft_i].[lbf_av]"),
    ("ninety foot pounds", "ninety foot pounds", 90, "[ft_i].[lbf_av]"), ("18 in-lb", "18 in-lb", 18, "[in_i].[lbf_av]"), ("180 newton metres", "180 newton metres", 180, "N.m"), ("168 C", "168 C", 168, "Cel"),
    ("half a volt's the most", "half a volt's", 0.5, "V"), ("2.5 bar's low", "2.5 bar's", 2.5, "bar"), ("I'd got 0.38 in it", "0.38", 0.38, None), ("0.38 in them", "0.38", 0.38, None), ("wait 5 min", "5 min", 5, "min"),
    ("needs 2 min", "2 min", 2, "min"), ("half a volt V's", "half a volt", 0.5, "V"),
    ("20C", "20C", 20, "Cel"), ("61 degrees fahrenheit", "61 degrees fahrenheit", 61, "[degF]"), ("16 celsius", "16 celsius", 16, "Cel"), ("twelve degrees c", "twelve degrees c", 12, "Cel"),
    ("38%", "38%", 38, "%"), ("nine per cent", "nine per cent", 9, "%"), ("310 parts per million", "310 parts per million", 310, "[ppm]"), ("400 ppm", "400 ppm", 400, "[ppm]"),
    ("a 12-volt battery", "12-volt", 12, "V"), ("two hundred amp hours", "two hundred amp hours", 200, "A.h"), ("70Ah", "70Ah", 70, "A.h"), ("10 µF", "10 µF", 10, "uF"), ("300 kPa", "300 kPa", 300, "kPa"),
    ("300 kpa", "300 kpa", 300, "kPa"), ("2.2 MΩ", "2.2 MΩ", 2.2, "MOhm"), ("5 mΩ", "5 mΩ", 5, "mOhm"), ("470R", "470R", 470, "Ohm"), ("40 mA", "40 mA", 40, "mA"), ("40 milliamps", "40 milliamps", 40, "mA"),
    ("12-ish volts", "12-ish volts", 12, "V"), ("142 300 km", "142 300 km", 142300, "km"), ("a couple of volts", "a couple of volts", 2, "V"), ("psi: 140", "140", 140, "[psi]"),
    ("pressure (bar) = 2.5", "2.5", 2.5, "bar"), ("fourteen two volts", "fourteen two volts", 14.2, "V"), ("−0.8 bar", "−0.8 bar", -0.8, "bar"), ("minus twelve degrees celsius", "minus twelve degrees celsius", -12, "Cel"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "quote", "value", "unit"), ONE)
def test_a_number_with_its_unit(text, quote, value, unit):
    (figure,) = found(text)
    assert text[figure.start : figure.end] == quote
    assert figure.quantity.value == pytest.approx(value)
    assert figure.quantity.unit == unit
    assert figure.quantity.low <= value <= figure.quantity.high


MINIMUM = [
    ("wants .8 min.", 0.8),
    ("1.1 bar - 2.0 min.", 2.0),
    ("spec 1.5 min", 1.5),
    ("should read 3.0 mm, book 2.5 min", 2.5),
]


@pytest.mark.parametrize(("text", "value"), MINIMUM)
def test_min_after_a_wanted_decimal_is_its_minimum(text, value):
    quantity = found(text)[-1].quantity
    assert (quantity.low, quantity.unit, quantity.comparator) == (value, None, ">=")


RANGES = [
    ("5 to 9 ohms", 5, 9, "Ohm", "to"), ("between 5 and 9", 5, 9, None, "between"), ("from 5 to 9", 5, 9, None, "from"), ("4–6 mm", 4, 6, "mm", "dash"), ("0.05-0.25", 0.05, 0.25, None, "dash"),
    ("five to almost nine", 5, 9, None, "to"), ("2 V to 3 V", 2, 3, "V", "to"), ("0-10 bar", 0, 10, "bar", "dash"), ("13.9-14.3 V", 13.9, 14.3, "V", "dash"), ("500 mV to 2 V", 0.5, 2, "V", "to"),
    ("four eighty to a thousand", 480, 1000, None, "to"), ("two to two and a half K", 2000, 2500, None, "to"), ("nought to five volts", 0, 5, "V", "to"), ("six fifty to eleven hundred", 650, 1100, None, "to"),
    ("jumps between, er, eight and fourteen degrees", 8, 14, "deg", "between"), ("between about 8 and 14 mm", 8, 14, "mm", "between"),
    ("between one hundred and one fifty", 100, 150, None, "between"), ("between a hundred and a hundred and fifty psi", 100, 150, "[psi]", "between"), ("two to three million", 2e6, 3e6, None, "to"),
    ("minus ten to minus five degrees celsius", -10, -5, "Cel", "to"), ("-5 to 10 °C", -5, 10, "Cel", "to"), ("10 °C to 20 °C", 10, 20, "Cel", "to"), ("fifty one plus or minus five", 46, 56, None, "plus-minus"),
    ("minus one plus or minus half a degree", -1.5, -0.5, "deg", "plus-minus"), ("100 ohms ± 5 %", 95, 105, "Ohm", "plus-minus"), ("5 mm +/- 0.1 mm", 4.9, 5.1, "mm", "plus-minus"), ("±0.5 mm", -0.5, 0.5, "mm", "plus-minus"),
    ("18 to 20", 18, 20, None, "to"), ("one point three to one point seven", 1.3, 1.7, None, "to"), ("3...5 mm", 3, 5, "mm", "dash"), ("10-15%", 10, 15, "%", "dash"), ("0.45V-0.55V", 0.45, 0.55, "V", "dash"),
    ("at least 5 and no more than 9 ohms", 5, 9, "Ohm", "bounds"), ("over 3 but under 10 mm", 3, 10, "mm", "bounds"), ("less than 10 and more than 5", 5, 10, None, "bounds"),
    ("five-to-ten minutes", 5, 10, "min", "to"), ("2- to 3-inch", 2, 3, "[in_i]", "to"), ("twenty to thirty thousand", 20000, 30000, None, "to"),
    ("750 to 1150 rpm", 750, 1150, "{rev}/min", "to"), ("200 to 230 psi", 200, 230, "[psi]", "to"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "low", "high", "unit", "link"), RANGES)
def test_a_range(text, low, high, unit, link):
    (figure,) = found(text)
    assert figure.quantity.value is None
    assert (figure.quantity.low, figure.quantity.high) == (pytest.approx(low), pytest.approx(high))
    assert (figure.quantity.unit, figure.link) == (unit, link)
    if not text.startswith("±"):
        assert len(figure.parts) == 2
        assert [part.quantity.unit for part in figure.parts if link != "plus-minus"] in (
            [unit, unit],
            [],
            [figure.parts[0].quantity.unit, unit],
        )


NO_RANGE = [
    ("dropped from 12 to 8", [12, 8]), ("555-0142", []), ("2026-03-14", []), ("5 and 6", [5, 6]), ("set number two to fifteen", [2, 15]), ("no 2 to 5 thou", [2, 5]), ("3-2", [3, 2]), ("KS-2207-4", []),
    ("one to one", [1, 1]), ("2 bar to 30 psi", [2, 30]), ("20 °C to 30 bar", [20, 30]), ("7-Eleven", [7, 11]), ("5 - ", [5]), ("12 plus 5", [12, 5]), ("25 Nm plus 90 degrees", [25, 90]),
    ("over 5 bar and under 3", [5, 3]), ("over 5 bar on one and under 9 on two", [5, 1, 9, 2]), ("over 5 and over 9", [5, 9]), ("under 3 mm or over 5", [3, 5]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "values"), NO_RANGE)
def test_no_range(text, values):
    figures = [figure for figure in found(text) if figure.form not in ("code", "phone", "date")]
    if text != "2 bar to 30 psi":
        assert [figure.quantity.value for figure in figures] == values
        assert all(figure.link is None for figure in figures)


COMPOUNDS = [
    ("5 feet 10 inches", 70, "[in_i]"), ("5'10\"", 70, "[in_i]"), ("6'2", 74, "[in_i]"), ("6 ft 2 in", 74, "[in_i]"), ("5 ft. 3 in.", 63, "[in_i]"), ("2 hours 30 minutes", 150, "min"),
    ("two hours and thirty minutes", 150, "min"), ("1 h 20 min", 80, "min"), ("1h30", 90, "min"), ("twelve pounds six ounces", 198, "[oz_av]"), ("two inches and a half", 2.5, "[in_i]"), ("an hour and a half", 1.5, "h"),
    ("a mile and three quarters", 1.75, "[mi_i]"), ("1 h 2 min 3 s", 3723, "s"), ("6 stone 4 pounds", 88, "[lb_av]"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value", "unit"), COMPOUNDS)
def test_one_quantity_in_several_breaths(text, value, unit):
    (figure,) = found(text)
    assert (figure.quantity.value, figure.quantity.unit, figure.form) == (pytest.approx(value), unit, "compound")
    assert text[figure.start : figure.end].rstrip(".") == text.rstrip(".")


def test_two_figures_are_no_compound():
    assert [figure.quantity.value for figure in found("5 feet 20 inches")] == [5, 20]
    assert [figure.quantity.value for figure in found("12 V 5 A")] == [12, 5]
    assert [figure.quantity.unit for figure in found("5 minutes, 2 bar")] == ["min", "bar"]


BOUNDS = [
    ("under 1.5", "<", False), ("below 10 mm", "<", False), ("less than fifty", "<", False), ("at most 3 mm", "<=", False), ("no more than 3", "<=", False), ("max 203.2", "<=", False), ("maximum is 3", "<=", False),
    ("up to 40 ohms", "<=", False), ("over 9 bar", ">", False), ("more than 2.5", ">", False), ("at least nine point six", ">=", False), ("no less than 10", ">=", False), ("minimum 3 mm", ">=", False), ("min: 3", ">=", False),
    ("<0.1 mm", "<", False), ("≤ 3", "<=", False), ("≥5 V", ">=", False), (">= 5 V", ">=", False), ("> 10 MΩ", ">", False), ("3 mm minimum", ">=", False), ("3 mm max", "<=", False), ("5 or more", ">=", False),
    ("10 kg or less", "<=", False), ("20+ years", ">=", False), ("9 bar and up", ">=", False), ("about 5", "=", True), ("roughly half a millimetre", "=", True), ("just under eleven inches", "=", True), ("a hair over 1.1", "=", True),
    ("close to twelve six", "=", True), ("nearly three bar", "=", True), ("~5 mm", "=", True), ("≈ 3", "=", True), ("5 or so", "=", True), ("5 bar and a bit", "=", True), ("12ish", "=", True), ("a couple of volts", "=", True),
    ("2.5 bar", "=", False), ("the 3 mm gap", "=", False), ("not under 5", ">=", False), ("under about 5 bar", "<", True), ("well over 5 bar", ">", False), ("a whisker over nine mil", "=", True), ("circa 1200", "=", True),
]  # fmt: skip


NO_BOUNDS = [
    # the last figure's value, where a word beside it looks like a bound
    ("ticking over 2.5 bar", 2.5), ("turning over 250 rpm", 250), ("10 min: 1.2 bar", 1.2), ("nought point three two max is nought point two five", None), ("left it 10 min - 1.8 bar", 1.8),
]  # fmt: skip


@pytest.mark.parametrize(("text", "value"), NO_BOUNDS)
def test_a_word_that_looks_like_a_bound_is_none(text, value):
    figures = found(text)
    said = figures[0].quantity if value is None else figures[-1].quantity
    assert said.comparator == "="
    assert said.value == (0.32 if value is None else value)


@pytest.mark.parametrize(("text", "comparator", "approximate"), BOUNDS)
def test_bounds_and_blur(text, comparator, approximate):
    (figure,) = found(text)
    said = figure.quantity
    assert (said.comparator, said.approximate) == (comparator, approximate)
    if comparator != "=":
        assert said.value is not None
        assert (said.low, said.high) == ((None, said.value) if comparator[0] == "<" else (said.value, None))
    assert figure.wide_start <= figure.start < figure.end <= figure.wide_end


def test_a_bound_between_two_numbers_belongs_to_the_second():
    eight, three = found("front pads 8 mm min 3")
    assert eight.quantity.comparator == "="
    assert three.quantity.comparator == ">="


ALTERNATIVES = [
    ("thirty mil", "mm", {"mL", "[mil_i]"}), ("88 degrees", "deg", {"Cel", "[degF]"}), ("eighteen inches", "[in_i]", {"[in_i'Hg]"}), ("forty pounds", "[lb_av]", {"[psi]"}), ("3 kilos", "kg", {"kgf/cm2", "kOhm"}),
    ("12.5k", None, {"kOhm"}), ("twelve and a half K", None, {"kOhm"}), ("20 nm", "nm", {"N.m"}), ("2.2 mohm", "mOhm", {"MOhm"}), ("5 gallons", "[gal_us]", {"[gal_br]"}),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit", "others"), ALTERNATIVES)
def test_words_that_may_mean_more_than_one_unit(text, unit, others):
    (figure,) = found(text)
    assert figure.quantity.unit == unit
    assert others <= {other.unit for other in figure.alternatives}
    assert text[figure.start : figure.end] == text


def test_a_k_may_be_kilohm():
    (figure,) = found("0.69k")
    assert figure.quantity.value == pytest.approx(690)
    assert (figure.alternatives[0].value, figure.alternatives[0].unit) == (0.69, "kOhm")


# IEC 60062: the letter stands at the decimal point; values in ohms
CODES = [
    ("4k7", 4700), ("R47", 0.47), ("2M2", 2_200_000), ("4R7", 4.7), ("470R", 470), ("1K0", 1000), ("10K5", 10_500), ("R10", 0.1), ("6L8", 0.0068), ("1G0", 1e9), ("0R5", 0.5), ("4K7J", 4700), ("2M2K", 2_200_000),
    ("4k7 ohm", 4700),
]  # fmt: skip


@pytest.mark.parametrize(("text", "ohms"), CODES)
def test_letter_and_digit_resistance_code(text, ohms):
    (figure,) = found(text)
    assert units.convert(figure.quantity.value, figure.quantity.unit, "Ohm") == pytest.approx(ohms)
    assert text[figure.start : figure.end] == text


def test_47k_may_be_a_resistance():
    (figure,) = found("47K")
    kilohm = next(other for other in figure.alternatives if other.unit == "kOhm")
    assert kilohm.value == 47


@pytest.mark.parametrize("text", ["K47", "M10", "R", "K", "215/70 R15", "R134a", "R2D2"])
def test_no_resistance_code(text):
    assert not any(figure.quantity.unit in ("Ohm", "kOhm", "MOhm") for figure in found(text))


def test_ordinary_writing_and_three_digit_codes_are_no_letter_code():
    (plain,) = found("4.7k")
    assert plain.form == "numeral"
    (digits,) = found("472")
    assert (digits.quantity.value, digits.quantity.unit) == (472, None)


AGAIN = [
    ("2.5 bar, 36 psi", True), ("2.5 bar (36 psi)", True), ("2.5 bar / 36 psi", True), ("61 degrees fahrenheit so 16 celsius", True), ("2.5 bar, that's 36 psi", True), ("160 Nm = 118 lb ft", True),
    ("2.5 bar and 36 psi", False), ("2.5 bar, 12 V", False), ("2.5 bar, 2.6 bar", False), ("2.5 bar at the rail and then 36 psi", False),
]  # fmt: skip


@pytest.mark.parametrize(("text", "again"), AGAIN)
def test_the_same_said_in_a_second_unit(text, again):
    first, second = found(text)
    assert second.same_as_previous is again
    assert not first.same_as_previous


def test_sizes_share_their_unit():
    assert [(f.quantity.value, f.quantity.unit) for f in found("5 x 3 cm")] == [(5, "cm"), (3, "cm")]
    assert [f.quantity.unit for f in found("a 10-by-12-foot room")] == ["[ft_i]", "[ft_i]"]
    assert [f.quantity.unit for f in found("3 x 5 bar")] == [None, "bar"]


MISHEARD = [
    ("two homes", "Ohm"), ("point seven owns", "Ohm"), ("twelve bolts", "V"), ("twelve point six vaults", "V"), ("eight killer ohms", "kOhm"), ("eight kilombs", "kOhm"), ("forty ants", "A"), ("sixty dsi", "[psi]"),
    ("forty millgamps", "mA"), ("forty melovolts", "mV"), ("ten cowl", "[mil_i]"), ("ninety foot powers", "[ft_i].[lbf_av]"), ("ninety newton meets", "N.m"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "unit"), MISHEARD)
def test_misheard_units_are_offered_and_never_taken(text, unit):
    (figure,) = found(text)
    assert figure.quantity.unit in (None, "[ft_i]", "N")
    assert figure.misheard[0].unit == unit
    assert figure.misheard[0].value == figure.quantity.value
    assert text[figure.end : figure.misheard_end].strip()


@pytest.mark.parametrize("text", ["the homes", "nuts and bolts", "ants in the loom", "12 V bolts", "owns a car"])
def test_no_misheard_unit_away_from_a_bare_number(text):
    assert not any(figure.misheard for figure in found(text))


NO_UNIT = [
    "5 in a row", "5 in the box", "two in the morning", "3 a side", "2 second hand ones", "5 a day", "4 of them", "12 bolts", "6 studs", "4 volumes", "3 Vs",
]  # fmt: skip


@pytest.mark.parametrize("text", NO_UNIT)
def test_words_that_are_no_unit_here(text):
    assert found(text)[0].quantity.unit is None


def test_every_alias_is_read_beside_a_number_and_measures_what_its_unit_does():
    faults = []
    for alias in units.aliases():
        text = "7.5" + ("" if alias.style == "glued" or alias.phrase[0] in "'’′\"″”" else " ") + alias.phrase
        toks = words(text)
        hit = unit_at(toks, 1, decimals=True)
        if hit is None or toks[hit.end - 1].end != len(text):
            faults.append((alias.phrase, "not read", hit))
        elif not units.same_kind(hit.codes[0], alias.codes[0]) and hit.codes != alias.codes and alias.style != "loose":
            faults.append((alias.phrase, alias.codes, hit.codes))
        for code in alias.codes:
            size = units.quantity(1, code)
            base = units.quantity(1, units.base_unit(units.kind(code)))
            if size.dimensionality != base.dimensionality:
                faults.append((alias.phrase, code, "of another dimension than its kind"))
    assert faults == []


def test_every_misheard_word_stands_for_a_unit_of_the_table():
    for phrase, code in units.misheard().items():
        hit = misheard_at(words(phrase), 0)
        assert hit is not None
        assert hit.codes == (code,)
        assert units.known(code)


@settings(max_examples=300, deadline=None)
@given(st.text(max_size=200))
def test_any_text_is_read_without_a_fault(text):
    toks = words(text)
    last = 0
    for figure in find_quantities(toks, text):
        assert last <= figure.first < figure.last <= len(toks)
        assert (figure.start, figure.end) == (toks[figure.first].start, toks[figure.last - 1].end)
        last = figure.last
    for mention in mentions(text):
        assert set(mention) == {"start", "end", "value", "low", "high", "unit"}
        assert 0 <= mention["start"] < mention["end"] <= len(text)
        ends = (mention["low"], mention["high"])
        if mention["value"] is None:
            assert None not in ends  # a range
        else:
            assert ends in (
                (None, None),
                (mention["value"], None),
                (None, mention["value"]),
            )  # alone, or one side's bound


PIECES = ["12.6", "0.5", "1/2", "½", "two", "and", "a", "half", "point", "minus", "-", "–", "to", "between", "±", "%", "°", "C", "k", "M", "R", "V", "mV", "in", "ft", "lb", '"', "'", "ohms", "bar", "psi", "(", ")", "[", "]", ",", ".", "/", "x", "one", "oh", "hundred", "million", "about", "under", "9:30", "2026-03-14", "e", "10", "^", "*", "+", "Hg", "a\n"]  # fmt: skip


@settings(max_examples=300, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=25), st.booleans())
def test_any_heap_of_pieces_is_read_without_a_fault(pieces, glued):
    text = ("" if glued else " ").join(pieces)
    toks = words(text)
    last = 0
    for figure in find_quantities(toks, text):
        assert figure.first >= last
        assert figure.start < figure.end
        last = figure.last
    mentions(text)


HARD = [
    "9" * 100_000, "9." * 50_000, "1 " * 50_000, "one " * 30_000, "hundred " * 30_000, "two hundred and " * 20_000, "-" * 50_000, "1-" * 50_000, "5 to " * 30_000, "(" * 50_000, "1/" * 50_000,
    "half a " * 30_000, "point five " * 20_000, "5 feet " * 20_000, "between 5 and " * 20_000, "5 ± " * 30_000, "\u202e12 bar\u202c " * 5_000, "🔧12V🔧 " * 5_000, "\x00\x07 5 \x1b[0m " * 5_000, "about " * 50_000,
    "1 h 2 min " * 10_000, "x 10 ^ " * 20_000, "double " * 20_000, "1,000" * 10_000, "one and a half of a " * 10_000, "١٢٣ " * 10_000,
]  # fmt: skip


@pytest.mark.parametrize("text", HARD, ids=range(len(HARD)))
def test_hard_texts_are_read_in_steady_work(text, monkeypatch):
    """Work is counted in numbers tried: twice the text, about twice the work."""
    import cleansheet.read.quantities_pieces as pieces

    count = 0
    real = pieces.candidates_at

    def counted(*args):
        nonlocal count
        count += 1
        return real(*args)

    monkeypatch.setattr(pieces, "candidates_at", counted)
    half = text[: len(text) // 2]
    find_quantities(words(half), half)
    once, count = count, 0
    find_quantities(words(text), text)
    assert count <= 2.5 * once + 50
    assert count <= 12 * len(words(text)) + 50


@pytest.mark.parametrize(
    "module",
    ["cleansheet.read.numbers", "cleansheet.read.quantities", "cleansheet.units.convert", "cleansheet.units.rounding"],
)
def test_the_examples_in_the_docstrings_hold(module):
    import doctest
    import importlib

    result = doctest.testmod(importlib.import_module(module))
    assert result.attempted > 0
    assert result.failed == 0


SAID_SHORT = [
    # values and units of all that is said, "" for none
    ("at least a volt", [(1, "V")]),
    ("about a millimetre of play", [(1, "mm")]),
    ("under a tenth", [(0.1, None)]),
    ("two two nine point six mm", [(229.6, "mm")]),
    ("one six oh point nine", [(160.9, None)]),
    ("1.45 L in a minute", [(1.45, "L/min")]),
    ("fell to 17.5 in five minutes", [(17.5, None), (5, "min")]),
    ("1.110 in no 4", [(1.11, None), (4, None)]),
    ("coil minus 12.4 V", [(12.4, "V")]),
    ("freezes at minus 12", [(-12, None)]),
    ("0.921 in deep", [(0.921, "[in_i]")]),
    ("a volt meter", []),
    ("the tenth time", []),
    ("a bar of soap", []),
    ("0.7 ohm / 7.9 kohm", [(0.7, "Ohm"), (7.9, "kOhm")]),
]


@pytest.mark.parametrize(("text", "amounts"), SAID_SHORT)
def test_amounts_said_short(text, amounts):
    figures = find_quantities(words(text), text)
    assert [(figure.quantity.value, figure.quantity.unit) for figure in figures] == [
        (pytest.approx(v), u) for v, u in amounts
    ]


@pytest.mark.parametrize(
    ("text", "again"),
    [
        ("0.7 ohm / 7.9 kohm", False),
        ("700 ohm / 0.7 kohm", True),
        ("2.5 bar / 36 psi", True),
        ("12.5 V (125 mV)", True),
    ],
)
def test_only_the_same_value_is_said_again(text, again):
    assert find_quantities(words(text), text)[1].same_as_previous is again
