"""Cue words, and the phrase book they stand in."""

import pytest

from cleansheet.read.cues import cue_book, find_cues
from cleansheet.read.lexicon import Phrases, phrases, plural, spellings
from cleansheet.read.words import words


def families(text):
    return {cue.family for cue in find_cues(words(text))}


# fmt: off
CUES = [
    ("should be 5 to 9", "limit_before"), ("the book says 480", "limit_before"), ("looking for 2.5", "limit_before"), ("spec is 0.7", "limit_before"), ("minimum is 20", "limit_before"),
    ("max 0.1", "limit_before"), ("at least 13.8", "limit_before"), ("20 minimum", "limit_after"), ("0.1 max", "limit_after"), ("20 or more", "limit_after"),
    ("i don't like to see over two hundred", "limit_before"), ("i'd want nothing over two", "limit_before"), ("we allow a drop to 0.9", "limit_before"), ("i'd not have more than 100", "limit_before"),
    ("a healthy engine gives you seventeen", "limit_before"), ("they give you nought to two", "limit_before"), ("s/b 1/2", "limit_before"), ("anything past 3 we dump", "limit_before"),
    ("fifteen is your lot", "limit_after"), (".05 is the most you'd want", "limit_after"), ("fifty is plenty", "limit_after"), ("36 to 40, that's the sheet", "limit_after"), ("13 on the lid", "limit_after"),
    ("82 is stamped on it", "limit_after"), ("eight allowed", "limit_after"), ("switching point one to point nine", "swing"), ("goes from 700 to 1100", "swing"), ("it swings zero to five", "swing"),
    ("came down from 3.8 to 0.6", "swing"), ("pressure test at 1.0 bar", "applied"), ("pressurised to 1.2 bar", "applied"),
    ("the last shop got 2.1", "hearsay"), ("customer says 11", "hearsay"), ("last year it was", "hearsay"), ("if it's under 1", "hypothesis"), ("would be 5", "hypothesis"),
    ("scratch that", "correction"), ("no, make that 2.3", "correction"), ("sorry, kilohms", "correction"), ("forget that", "forget"), ("that's 36 psi", "second"),
    ("which is 36 psi", "second"), ("13 mm spanner", "sized"), ("10 amp fuse", "sized"), ("don't know why", "question"), ("no idea where", "question"), ("i reckon", "suspect"),
    ("probably the coil", "suspect"), ("rules out the pump", "cleared"), ("won't start", "symptom"), ("cuts out", "symptom"), ("need to check", "todo"), ("tomorrow", "todo"),
    ("the most you'd live with is .15", "limit_before"), ("the plate on the cover says 0.30", "limit_before"), ("oughta be one or so", "limit_before"), ("which is inside the seventy five", "limit_before"),
    ("nothing should be over point two", "limit_before"), ("good figures are 2 to 3", "limit_before"), ("the allowance is 0.1", "limit_before"), ("they want six at the very least", "limit_after"),
    ("10.5 is where i start to worry", "limit_after"), ("14 is what the sheet says", "limit_after"), ("pressure test of the intake at 15 psi", "applied"), ("last chap found 30 ohms", "hearsay"), ("24 volt lorry", "sized"),
    ("that would do it", "blames"), ("leaning towards plugs", "blames"), ("which leaves the flow meter", "blames"), ("can't rule out the relay", "blames"), ("so it can't be the pump", "cleared"),
    ("acts like a blocked cat", "blames"), ("nothing wrong with it", "acquits"), ("that would do it", "suspect"), ("nothing wrong with it", "cleared"), ("the apprentice thought it was", "hearsay"),
    ("gauge goes to 10", "instrument"), ("on the dial", "instrument"),
]


@pytest.mark.parametrize(("text", "family"), CUES)
def test_cues(text, family):
    assert family in families(text)


NO_CUES = [
    ("crank sensor 850 ohms", {"limit_before", "limit_after", "hearsay", "hypothesis", "correction", "question", "suspect", "cleared", "symptom", "todo"}),
    ("coil primary 0.7", {"limit_before", "hearsay", "hypothesis", "correction", "symptom"}),
    ("replaced the pump", {"limit_before", "limit_after", "hearsay", "question", "suspect", "todo"}),
    ("right, so the pump", {"limit_before", "swing"}), ("on the bench it works", {"limit_before", "limit_after"}), ("inside the cap", {"limit_before"}),
    ("12.6 volts rested", {"limit_before", "limit_after", "hearsay", "correction"}),
    ("3 is the odd one", {"limit_after"}), ("soldered a new length in, 0.3 ohm", {"limit_before"}), ("nothing came out", {"limit_before"}), ("the cover is off", {"limit_before"}), ("at the dealer next week", {"hearsay"}),
    ("", {"limit_before"}),
]


@pytest.mark.parametrize(("text", "none"), NO_CUES)
def test_no_cues(text, none):
    assert not families(text) & none


COMPARATORS = [("max 0.1", "<="), ("minimum is 20", ">="), ("at least 13.8", ">="), ("no more than 50", "<="), ("should be 5", ""), ("spec is 5", ""), ("limit is 5", "<="), ("limit for it is 5", "<="), ("allow 0.10", "<="), ("nothing should be over 2", "<="), ("nothing should be under 2", ">="),
    ("the most you'd want is 5", "<="), ("the least you'd want is 5", ">="), ("must not go below 9.5", ">="), ("must not exceed 3", "<="), ("spec for it is 5", "")]


@pytest.mark.parametrize(("text", "comparator"), COMPARATORS)
def test_a_limits_cue_brings_its_comparator(text, comparator):
    assert comparator in {cue.comparator for cue in find_cues(words(text)) if cue.family == "limit_before"}


VERBS = [("replaced", "past"), ("fitted", "past"), ("bled", "past"), ("cleaned", "past"), ("replace", "base"), ("fit", "base"), ("check", "steps"), ("test", "steps")]


@pytest.mark.parametrize(("word", "group"), VERBS)
def test_verbs_of_deeds_and_steps(word, group):
    assert word in getattr(cue_book(), group)


PLURALS = [("battery", "batteries"), ("switch", "switches"), ("hose", "hoses"), ("fuse", "fuses"), ("box", "boxes"), ("relay", "relays"), ("brush", "brushes")]


@pytest.mark.parametrize(("word", "more"), PLURALS)
def test_plurals(word, more):
    assert plural(word) == more


SPELLINGS = [
    ("gone|went green", {("gone", "green"), ("went", "green")}),
    ("dead short?", {("dead",), ("dead", "short")}),
    ("n/s", {("n", "/", "s")}),
    ("a", {("a",)}),
    ("a?", {("a",)}),
]


@pytest.mark.parametrize(("phrase", "runs"), SPELLINGS)
def test_spellings(phrase, runs):
    assert set(spellings(phrase)) == runs


LOOKUPS = [
    ("the fuel pump relay hums", [("fuel pump relay", "relay")]), ("fuel pump fuel filter", [("fuel pump", "pump"), ("fuel filter", "filter")]), ("fuel pump's dead", [("fuel pump's", "pump")]),
    ("fuel", []), ("pump fuel", []), ("FUEL PUMP", [("FUEL PUMP", "pump")]), ("", []),
]


@pytest.mark.parametrize(("text", "hits"), LOOKUPS)
def test_the_longest_phrase_wins_and_none_overlap(text, hits):
    book: Phrases[str] = Phrases()
    for phrase, meaning in (("fuel pump", "pump"), ("fuel pump relay", "relay"), ("fuel filter", "filter")):
        book.add(phrase, meaning)
    toks = words(text)
    assert [(text[toks[hit.first].start : toks[hit.last - 1].end], hit.found) for hit in book.scan(toks)] == hits
# fmt: on


def test_the_first_meaning_of_a_phrase_stays():
    book = phrases(["fuel pump"], "first")
    book.add("fuel pump", "second")
    (hit,) = book.scan(words("fuel pump"))
    assert hit.found == "first"
    assert book.vocabulary() == {"fuel", "pump"}
