"""Codes read off a part."""

import pytest

from cleansheet.read.markings import find_markings
from cleansheet.read.words import words


def codes(text):
    return [text[one.start : one.end] for one in find_markings(text, words(text))]


# fmt: off
CODES = [
    ("Number on it is KS-2207-4", "KS-2207-4"), ("part number 4RD-118", "4RD-118"), ("p/n T4-88120", "T4-88120"), ("stamped LW677", "LW677"), ("serial AB12345", "AB12345"),
    ("date code 2304", "2304"), ("casting number 441902", "441902"), ("it says BX44-119 on the side", "BX44-119"), ("the old coil is marked BX44-119", "BX44-119"),
    ("number on the side of it is s m four four one", "s m four four one"), ("filter has F F stroke two one eight on the label", "F F stroke two one eight"), ("Casting no. HC 5502", "HC 5502"),
    ("the label on the old one is d q four four one seven", "d q four four one seven"), ("the number stamped on the can is e c nine one two", "e c nine one two"), ("and its dated oh three nineteen so book it in", "oh three nineteen"),
    ("the casting number on it is a r dash two two six one", "a r dash two two six one"), ("the old plate has two one five n x on it", "two one five n x"), ("the jets are stamped one eighty get a pair", "one eighty"),
    ("number off the back of it is k t nine oh four", "k t nine oh four"), ("tag on the pump says b five five two", "b five five two"), ("part number on the box reads m r two two oh", "m r two two oh"),
    ("stamped LW stroke six seven seven", "LW stroke six seven seven"), ("tag reads 0412-77A", "0412-77A"), ("label says GH-20-119", "GH-20-119"), ("etched K7712", "K7712"),
    ("the leads have HL 40 9 printed on them", "HL 40 9"), ("PR 11 2 stamped into the flange", "PR 11 2"), ("TX nine nine one etched on it", "TX nine nine one"), ("GB 7 71 cast into the housing", "GB 7 71"),
    ("Condenser number CN twelve oh four.", "CN twelve oh four"), ("condenser number c n twelve oh four", "c n twelve oh four"), ("Pump number KT 55 20, fit one", "KT 55 20"), ("regulator number is RG 40 1", "RG 40 1"),
    ("the old one's CS 118 stroke 2", "CS 118 stroke 2"), ("SM dash four one two zero B is the tag", "SM dash four one two zero B"), ("Number on it is three four nine. Order one.", "three four nine"),
    ("Lead is marked PL nine.", "PL nine"),
]


@pytest.mark.parametrize(("text", "code"), CODES)
def test_codes(text, code):
    assert codes(text) == [code]


NO_CODES = [
    "0.8-0.9", "1-150 2-148 3-152", "150/148/152/120", "215/70 R15", "15W-40", "DOT4", "DOT 4", "12V", "12.6V", "95ft-lb", "10-15%", "5 to 9", "N/S", "A/C",
    "4k7", "0R5", "2M2", "88C", "3000rpm", "10mm", "stamped on it", "number three is down", "marked it with chalk", "the label is gone", "dated", "reads 850 ohms", "", "COIL IS DEAD",
    "the radio code is 2254", "the minimum stamped on them is twenty two", "twenty one is stamped on the disc", "stamped twenty three millimetres", "two on the side", "I put a one on the side", "five on it", "the plate says seventy amps", "number three on the list is a bulb", "a hole on the side of it",
    "the cap is stamped one point one on top", "stamped nought point nine", "the label on the tin is gone", "on 2026-03-14 at 16:30", "ring 0555 0142", "2.5 bar", "no. 3",
    "number on two is thirty four", "the new number is 555 0177", "12 V printed on the lid", "the book says 30 psi printed on the tyre", "WD forty sprayed on it", "number TWO is out", "four stroke 250", "a two stroke",
    "marked it in two places", "marked nine of them", "RH 3 written down", "B to earth", "number one two three and four all wet", "H dash",
]


@pytest.mark.parametrize("text", NO_CODES)
def test_no_codes(text):
    assert codes(text) == []
# fmt: on
