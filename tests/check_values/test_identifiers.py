"""Check values 12 to 14: trouble codes, vehicle identification numbers, dates."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from cleansheet.catalogue import (
    check_trouble_code,
    check_vin,
    find_trouble_codes,
    find_tyre_dates,
    find_vins,
    iso_date,
    iso_duration,
)
from cleansheet.catalogue.identifiers import defined_by, trouble_code, vin_check_digit

# SAE J2012 / ISO 15031-6, bit layout from memory: P-M, computed.
BYTES = [
    (0x0301, "P0301"), (0x0171, "P0171"), (0x0A0F, "P0A0F"), (0x2096, "P2096"), (0x3400, "P3400"), (0x4035, "C0035"),
    (0x9000, "B1000"), (0xC100, "U0100"), (0xFFFF, "U3FFF"),
]  # fmt: skip


@pytest.mark.parametrize(("two_bytes", "code"), BYTES)
def test_code_of_two_bytes(two_bytes, code):
    assert trouble_code(two_bytes) == code
    assert check_trouble_code(code).valid


# text, valid, what the reason holds, offer. Pattern P-M.
CODES = [
    ("P0301", True, "standard", None),
    ("p0171", True, "standard", None),
    ("P0A0F", True, "standard", None),
    ("U0100", True, "standard", None),
    ("C0035", True, "standard", None),
    ("B1000", True, "maker", None),
    ("P4301", False, "0 to 3", None),
    ("Q0301", False, "begins with Q", None),
    ("P030", False, "short", None),
    ("P03011", False, "too many", None),
    ("P0G01", False, "G is no hexadecimal digit", None),
    ("PO301", False, "letter stands for a digit", "P0301"),
    ("P0 301", False, "gap", "P0301"),
    ("E0301", False, "misheard for P0301", None),
]


@pytest.mark.parametrize(("text", "valid", "why", "offer"), CODES)
def test_trouble_code(text, valid, why, offer):
    found = check_trouble_code(text)
    assert (found.valid, found.offer) == (valid, offer)
    assert why in found.why
    if valid:
        assert found.value == text.upper()


@pytest.mark.parametrize(("text", "valid", "why", "offer"), CODES)
def test_trouble_code_in_a_note(text, valid, why, offer):
    note = f"Scanned it: stored {text}, cleared them."
    (found,) = find_trouble_codes(note)
    assert (note[found.start : found.end], found.valid, found.offer) == (text, valid, offer)


# First digit, P-M.
OWNERS = [
    ("P0301", "standard"), ("P1301", "maker"), ("P2301", "standard"), ("P3000", "maker"), ("P3400", "standard"),
    ("B0001", "standard"), ("B1001", "maker"), ("C2001", "maker"), ("C3001", "reserved"), ("U3001", "standard"),
    ("U1001", "maker"),
]  # fmt: skip


@pytest.mark.parametrize(("code", "owner"), OWNERS)
def test_who_defines_a_code(code, owner):
    assert defined_by(code) == owner


# As it is said (CP) or written, and the code.
SAID = [
    ("P oh three oh one", "P0301"),
    ("P zero three hundred one", "P0301"),
    ("P zero three hundred and one", "P0301"),
    ("P three hundred", "P0300"),
    ("P oh four twenty", "P0420"),
    ("p oh one seventy one", "P0171"),
    ("P thirteen forty five", "P1345"),
    ("U oh one hundred", "U0100"),
    ("P0301-1A", "P0301-1A"),
]


@pytest.mark.parametrize(("said", "code"), SAID)
def test_codes_as_said(said, code):
    note = f"it came up with {said} and nothing else"
    (found,) = find_trouble_codes(note)
    assert (found.value, note[found.start : found.end], found.valid) == (code, said, True)


# Nothing here is a trouble code.
NONE = [
    "Number on it is KS-2207-4",
    "cap number DC-1164-2, leads dated 0791",
    "fitted part B1000 from the shelf",
    "stamped 26 B 104",
    "P 2.5 bar at idle",
    "date code K19-07, tag T4-88120",
    "u one of the bolts was loose",
    "P one is fine",
    "grade C 35 oil",
    "ZP0301 and P0301X and AP-0301",
    "the stored wheels, 215/70 R15",
]


@pytest.mark.parametrize("text", NONE)
def test_what_is_no_trouble_code(text):
    assert find_trouble_codes(text) == ()


# ISO 3779 and 49 CFR 565.15(c); the numbers are invented but the first. P+C.
VINS = [
    ("11111111111111111", "1", True),
    ("ZZ9AB12C6D3456789", "6", True),
    ("ZZ9TR45KXE0000001", "X", True),
    ("ZZ9AB12C6D3456798", "7", False),  # last two digits swapped
    ("ZZ9A812C6D3456789", "8", False),  # B heard or read as 8
]


@pytest.mark.parametrize(("vin", "digit", "right"), VINS)
def test_check_digit(vin, digit, right):
    assert vin_check_digit(vin) == digit
    found = check_vin(vin)
    assert found.valid  # a check digit that fails is a hint, never an error
    assert ("read it again" in found.why) is not right


@pytest.mark.parametrize(
    ("text", "why", "offer"),
    [
        ("ZZ9AB12C6D345678", "16 characters", None),
        ("ZZ9AO12C6D3456789", "O is not used", "ZZ9A012C6D3456789"),
        ("ZZ9AI12C6D3456789", "I is not used", "ZZ9A112C6D3456789"),
        ("ZZ9AQ12C6D3456789", "Q is not used", "ZZ9A012C6D3456789"),
    ],
)
def test_not_a_vin(text, why, offer):
    found = check_vin(text)
    assert (found.valid, found.offer) == (False, offer)
    assert why in found.why


def test_equal_values_hide_a_swap():
    """B, K, 2 and S have the same value: their swap goes unseen. The digit is a check, no proof. P+C."""
    assert vin_check_digit("ZZ9AB12C6D3456789") == vin_check_digit("ZZ9AK12C6D3456789")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("VIN ZZ9TR45KXE0000001 on the plate", ["ZZ9TR45KXE0000001"]),
        ("zz9ab12c6d3456789", ["ZZ9AB12C6D3456789"]),
        ("chassis number ZZ9AB12C6D345678", ["ZZ9AB12C6D345678"]),
        ("order ABCDEFGHKLMNPRSTU today", []),
        ("phone 01234567890123456 after five", []),
        ("part ZZ9AB12C6D345678", []),
    ],
)
def test_vins_in_a_note(text, found):
    assert [one.value for one in find_vins(text)] == found


# ISO 8601. P+C unless marked.
DATES = [
    ("2026-03-14", date(2026, 3, 14)),
    ("20260314", date(2026, 3, 14)),
    ("2026-W11-6", date(2026, 3, 14)),
    ("2026-073", date(2026, 3, 14)),
    ("2026-W53-5", date(2027, 1, 1)),  # the week year may differ from the calendar year
    ("2028-02-29", date(2028, 2, 29)),
    ("03/04/26", None),  # 3 April or 4 March: ask, never guess (CP)
    ("2026-02-29", None),
    ("2026-13-01", None),
    ("2026-366", None),
    ("yesterday", None),
    ("", None),
]


@pytest.mark.parametrize(("text", "day"), DATES)
def test_iso_date(text, day):
    assert iso_date(text) == day


@pytest.mark.parametrize(
    ("text", "length"),
    [
        ("PT10M", timedelta(minutes=10)),
        ("P1DT2H", timedelta(days=1, hours=2)),
        ("P1M", None),
        ("P", None),
        ("PT", None),
        ("10M", None),
    ],
)
def test_iso_duration(text, length):
    assert iso_duration(text) == length


@pytest.mark.parametrize(
    ("text", "value", "valid"),
    [("DOT 4B08 4DHR 1126", "2026-W11", True), ("DOT 6026", "2026-W60", False)],
)
def test_tyre_date_code(text, value, valid):
    """1126 after DOT is the 11th week of 2026 (49 CFR 574.5): P-M."""
    (found,) = find_tyre_dates(text)
    assert (found.value, found.valid) == (value, valid)


def test_dot_four_fluid_is_no_tyre_date():
    assert list(find_tyre_dates("fluid is DOT 4, 1126 miles")) == []
