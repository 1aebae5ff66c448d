"""A question in the technician's words turned into filters: "coil above 9 kohm out of spec since March on the Aldern".

Each reader takes what it knows out of the words and leaves the rest: quoted phrases, dates, values, verdicts, findings,
kinds, jobs, people, vehicles, then parts and tests by their names. What names nothing is looked up as words said.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from cleansheet.terms import FINDINGS

from .asking import Query
from .dates import take_dates
from .names import FILLER, NameIndex, folded, likeness, singular, words_of
from .values import take_values

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from datetime import date

_QUOTED = re.compile(r'"([^"]+)"|“([^”]+)”')
_JOB = re.compile(r"\bjob\s+(?:no\.?\s*|number\s*|#)?([A-Za-z]?\d[\w/-]*|unsorted)", re.IGNORECASE)
_POSITION = re.compile(
    r"\b(?:(?:cylinder|cyl|number|no\.?|position)\s*#?(\d{1,2})|(front|rear)[\s-]+(left|right)|(left|right)[\s-]+(front|rear))\b",
    re.IGNORECASE,
)
_BY = re.compile(r"\b(?:signed\s+by|by)\s+([\w'.-]+(?:\s+[\w'.-]+)?)", re.IGNORECASE)

# Longest first: "not out of spec" is not asked, but "out of spec" must go before "spec".
_VERDICTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        r"out[\s-]+of[\s-]+(?:spec|limits?|range|tolerance)|out[\s-]+of[\s-]+its[\s-]+limits?|failed|failing|fails?",
        ("out_of_spec",),
    ),
    (r"(?:in|within)[\s-]+(?:spec|limits?|range|tolerance)|passed", ("in_spec",)),
    (r"too[\s-]+close(?:[\s-]+to[\s-]+call)?|borderline|marginal", ("too_close",)),
    (r"no[\s-]+limits?|no[\s-]+spec|not[\s-]+judged", ("no_spec",)),
    (r"bad", ("out_of_spec",)),
    (r"good", ("in_spec",)),
)
_KINDS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (r"open\s+questions?|questions?", ("question",)),
    (r"symptoms?|complaints?", ("symptom",)),
    (r"actions?|work\s+done|replaced|replacement|fitted|swapped|changed|repaired|cleaned", ("action",)),
    (r"suspects?|suspected", ("suspect",)),
    (r"cleared|ruled\s+out", ("cleared",)),
    (r"to[\s-]*dos?|to\s+order|to\s+do", ("todo",)),
    (r"markings?|part\s+numbers?", ("marking",)),
    (r"measured|measurements?", ("reading",)),
)
# Words for a deed narrow what was done ("replaced" is not every action), so they are looked for in the words as well.
_DEEDS = {
    "replaced": "replac* OR renew* OR fitted OR new OR swap* OR chang* OR exchang*",
    "replacement": "replac* OR renew* OR fitted OR new OR swap* OR chang* OR exchang*",
    "fitted": "fit* OR install*",
    "swapped": "swap* OR replac*",
    "changed": "chang* OR replac* OR swapped OR renew*",
    "repaired": "repair* OR fix* OR mended",
    "cleaned": "clean*",
}
NEW_PART = f"({_DEEDS['replaced']})"
_FINDING_WORDS = {
    "open circuit": "open_circuit", "open": "open_circuit", "broken winding": "open_circuit",
    "short circuit": "short_circuit",
    "shorted": "short_circuit", "short": "short_circuit", "leak": "leaking", "leaks": "leaking", "leaky": "leaking",
    "dripping": "leaking", "seized": "stuck_closed", "stuck": "stuck_open,stuck_closed", "crack": "cracked",
    "rusty": "corroded", "rust": "corroded", "corrosion": "corroded", "dirty": "fouled", "sooty": "fouled",
    "clogged": "fouled",
    "blocked": "fouled", "dead": "does_not_work", "not working": "does_not_work", "working": "works", "okay": "ok",
    "fluctuates": "unsteady",
    "erratic": "unsteady", "slack": "loose", "wear": "worn",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Known:
    """What the journal itself knows by name: the people who signed, and its vehicles, asked for by their first word."""

    people: tuple[str, ...] = ()
    vehicles_starting: Callable[[str], Sequence[str]] = lambda _: ()


def parse_query(said: str, catalogue: Any, known: Known, today: date, index: NameIndex | None = None) -> Query:
    """The filters that a question asks for. Never raises: words that name nothing are looked up as said."""
    index = index or NameIndex(catalogue.components)
    query = Query(said=said.strip())
    quoted = tuple(next(group for group in found.groups() if group) for found in _QUOTED.finditer(said))
    text = _QUOTED.sub(" ", said)
    query, text = _take_jobs(replace(query, text=quoted), text)
    query, text = _take_vehicles(query, text, known.vehicles_starting)
    query, text = _take_people(query, text, known.people)
    since, until, text = take_dates(text, today)
    values, text = take_values(text)
    query = replace(query, since=since, until=until, values=values)
    query, text = _take_positions(query, text)
    query, text = _take_phrases(query, text)
    return _take_names(query, text, catalogue, index)


def _take_jobs(query: Query, text: str) -> tuple[Query, str]:
    codes = tuple(found.group(1) for found in _JOB.finditer(text))
    return replace(query, jobs=codes), _JOB.sub(" ", text)


def _take_people(query: Query, text: str, people: Sequence[str]) -> tuple[Query, str]:
    for name in sorted(people, key=len, reverse=True):
        pattern = re.compile(rf"\b(?:signed\s+by|by|from)\s+{re.escape(name)}\b", re.IGNORECASE)
        if pattern.search(text):
            return replace(query, who=(name,)), pattern.sub(" ", text)
    found = _BY.search(text)
    if found and people:
        from rapidfuzz import fuzz, process

        near = process.extractOne(
            found.group(1).split()[0].lower(),
            {name: name.lower() for name in people},
            scorer=fuzz.ratio,
            score_cutoff=75,
        )
        if near:
            return replace(
                query, who=(near[2],), guessed=(*query.guessed, (found.group(1).split()[0], near[2]))
            ), _BY.sub(" ", text, count=1)
    return query, text


def _take_vehicles(query: Query, text: str, vehicles_starting: Callable[[str], Sequence[str]]) -> tuple[Query, str]:
    """The known vehicles whose name, or as much of it as tells them apart, stands in the question."""
    low = [(found.group().lower(), found.span()) for found in re.finditer(r"[A-Za-z0-9][\w.]*", text)]
    firsts = {word for word, _ in low if word not in FILLER and len(word) > 1}
    vehicles = [name for word in sorted(firsts) for name in vehicles_starting(word)]
    hits: list[str] = []
    spans: list[tuple[int, int]] = []
    for name in vehicles:
        words = name.lower().replace(",", " ").replace("-", " ").split()
        for size in range(len(words), 0, -1):
            if size == 1 and (len(words[0]) < 4 or words[0] in FILLER):
                break
            place = next(
                (at for at in range(len(low) - size + 1) if [one[0] for one in low[at : at + size]] == words[:size]),
                None,
            )
            if place is not None:
                hits.append(name)
                spans.append((low[place][1][0], low[place + size - 1][1][1]))
                break
    if not hits:
        return query, text
    # "Aldern" alone stands for every Aldern; the longest match wins where one was said in full.
    longest = max(end - start for start, end in spans)
    chosen = tuple(name for name, (start, end) in zip(hits, spans, strict=True) if end - start == longest)
    start, end = next(span for span in spans if span[1] - span[0] == longest)
    rest = re.sub(r"\b(?:on|for|from|of)(?:\s+(?:the|my))?\s*$", " ", text[:start]) + " " + text[end:]
    return replace(query, vehicles=chosen), rest


def _take_positions(query: Query, text: str) -> tuple[Query, str]:
    found = _POSITION.search(text)
    if not found:
        return query, text
    number, fore, side, side2, fore2 = found.groups()
    position = str(int(number)) if number else f"{(fore or fore2).lower()}-{(side or side2).lower()}"
    # "cylinder 3" also names the part; "number 3" does not.
    kept = "cylinder" if found.group().lower().startswith("cyl") and not query.components else " "
    return replace(query, positions=(position,)), f"{text[: found.start()]} {kept} {text[found.end() :]}"


def _take_phrases(query: Query, text: str) -> tuple[Query, str]:
    text = " ".join(text.split())
    for pattern, verdicts in _VERDICTS:
        regex = re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])", re.IGNORECASE)
        if regex.search(text):
            query, text = replace(query, verdicts=verdicts), regex.sub(" ", text)
            break
    findings = {**{name.replace("_", " "): name for name in FINDINGS}, **_FINDING_WORDS}
    for phrase in sorted(findings, key=len, reverse=True):
        spaced = phrase.replace(" ", r"[\s-]+")
        regex = re.compile(rf"(?<![\w-]){spaced}(?![\w-])", re.IGNORECASE)
        if regex.search(text) and not re.search(rf"{phrase}\s+questions?", text, re.IGNORECASE):
            query, text = replace(query, findings=(*query.findings, *findings[phrase].split(","))), regex.sub(" ", text)
    for pattern, kinds in _KINDS:
        regex = re.compile(rf"(?<![\w-])(?:{pattern})(?![\w-])", re.IGNORECASE)
        hit = regex.search(text)
        if hit:
            query, text = replace(query, kinds=kinds), regex.sub(" ", text)
            deed = _DEEDS.get(hit.group().lower())
            if deed:
                query = replace(query, text=(*query.text, f"({deed})"))
            break
    if re.search(r"(?<![\w-])(?:last|latest|most\s+recent|newest)(?![\w-])", text, re.IGNORECASE):
        query, text = (
            replace(query, latest=True),
            re.sub(r"(?<![\w-])(?:last|latest|most\s+recent|newest)(?![\w-])", " ", text, flags=re.IGNORECASE),
        )
    return query, text


def _take_names(query: Query, text: str, catalogue: Any, index: NameIndex) -> Query:
    words = [word for word in words_of(text) if word not in FILLER]
    stretches = _exact_stretches(words, index)
    tests, rest = _tests_of_stretches(words, stretches, catalogue, exact=True)
    guessed = list(query.guessed)
    if rest:
        # a part's name misspelt goes before a test's name misspelt: "sparc plug" asks for no spark
        better = _nearest_stretch(words, stretches, rest, index)
        if better is not None:
            place, size, found = better
            said = " ".join(words[place : place + size])
            guessed += [(said, catalogue.components[one].name) for one in found]
            stretches = [one for one in stretches if one[0] + one[1] <= place or one[0] >= place + size]
            stretches.append((place, size, found))
        tests, rest = _tests_of_stretches(words, stretches, catalogue, exact=False)
    components = list(dict.fromkeys(part for _, _, found in stretches for part in found))
    left = [words[place] for place in rest]
    if not components and left:
        tests, left = _tests_anywhere(left, catalogue)
    if tests:
        picked = {test.split(".")[0] for test in tests}
        components = [one for one in components if one not in picked]
    return replace(
        query,
        components=tuple(components),
        tests=tuple(dict.fromkeys(tests)),
        text=(*query.text, *left),
        guessed=tuple(guessed),
        unknown=tuple(left),
    )


# (first word, how many words, the parts they name)
_Stretch = tuple[int, int, tuple[str, ...]]


def _exact_stretches(words: Sequence[str], index: NameIndex) -> list[_Stretch]:
    found: list[_Stretch] = []
    place = 0
    while place < len(words):
        for size in range(min(index.longest + 1, len(words) - place), 0, -1):
            parts = index.exact(words[place : place + size])
            if parts:
                found.append((place, size, parts))
                place += size
                break
        else:
            place += 1
    return found


def _tests_of_stretches(
    words: Sequence[str], stretches: Sequence[_Stretch], catalogue: Any, *, exact: bool
) -> tuple[list[str], list[int]]:
    """(tests that the other words pick out of these parts, places of words that name nothing)."""
    taken = {at for place, size, _ in stretches for at in range(place, place + size)}
    rest = [at for at in range(len(words)) if at not in taken]
    parts = [part for _, _, found in stretches for part in found]
    tests, unused = _tests_named([words[at] for at in rest], parts, catalogue, exact=exact)
    return tests, [at for at in rest if words[at] in unused]


def _nearest_stretch(
    words: Sequence[str], stretches: Sequence[_Stretch], rest: Sequence[int], index: NameIndex
) -> _Stretch | None:
    """The stretch with a word not understood that comes nearest to a part's name; longer ones go first."""
    cut_off = {place: place + size for place, size, _ in stretches}
    best: tuple[float, _Stretch] | None = None
    for size in range(min(index.longest + 2, len(words)), 0, -1):
        for place in range(len(words) - size + 1):
            inside = range(place, place + size)
            if not any(at in rest for at in inside):
                continue
            # a name found exactly is taken whole or left alone
            if any(start < place < end or start < place + size < end for start, end in cut_off.items()):
                continue
            near = index.near(words[place : place + size])
            if near and (best is None or near[0].score + 3 * size > best[0]):
                top = tuple(one.component for one in near if one.score >= near[0].score - 0.5)
                best = (near[0].score + 3 * size, (place, size, top))
    return best[1] if best else None


def _test_words(test: Any) -> set[str]:
    return set(folded(words_of(f"{test.name} {test.id.split('.', 1)[1]}")))


def _tests_named(
    rest: Sequence[str], components: Iterable[str], catalogue: Any, *, exact: bool
) -> tuple[list[str], list[str]]:
    """The tests of these parts that the left-over words pick out, and the words that do not."""
    if not rest:
        return [], []
    offered = [(test, _test_words(test)) for part in components for test in catalogue.tests_of(part)]
    every = set().union(*(words for _, words in offered)) if offered else set()
    chosen = [word for word in rest if (singular(word) in every if exact else _like(singular(word), every))]
    if not chosen:
        return [], list(rest)
    wanted = {_like(singular(word), every) for word in chosen}
    hits = [test.id for test, words in offered if wanted <= words]
    return (hits, [word for word in rest if word not in chosen]) if hits else ([], list(rest))


def _tests_anywhere(rest: Sequence[str], catalogue: Any) -> tuple[list[str], list[str]]:
    """Tests of any part that go by these words ("compression", "dwell", "float height")."""
    wanted = set(folded(rest))
    hits = [test.id for test in catalogue.tests.values() if wanted <= _test_words(test)]
    return (hits, []) if hits and len(hits) <= 12 else ([], list(rest))


def _like(word: str, among: set[str]) -> str | None:
    """The word of a test's name that this is, or is nearly; None for none."""
    if word in among:
        return word
    near = max(((likeness(word, one), one) for one in among), default=(0.0, ""))
    return near[1] if len(word) > 4 and near[0] >= 84 else None
