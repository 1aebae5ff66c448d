"""Reading as one spaCy pipeline: a blank English Doc passes through named components, each declaring what it needs and adds.

    pieces of text → figures → parts → test names → places → statements → cues → findings → markings → roles → remarks → when → mentions

Every component is a thin wrapper over a plain function of its own module; what it found stands on the Doc as an extension
attribute of the same name. The Doc's tokens are the words of `words.py`, so a place in the Doc is a place in the note.
"""

from __future__ import annotations

from bisect import bisect_right
from contextlib import nullcontext
from functools import cache
from typing import TYPE_CHECKING, Any

from .assemble import assemble
from .clauses import layout
from .columns import column_limits
from .conditions import find_conditions
from .cues import cue_book, find_cues
from .findings import find_findings
from .lists import cut_lists
from .markings import find_markings
from .parts import find_parts, part_names
from .places import Place, find_places, opened_row
from .quantities import Figure, find_quantities
from .remarks import label_pieces
from .role_features import normal_words
from .roles import label_figures
from .row import Row
from .scene import Scene
from .splits import split_figures
from .testnames import find_test_names, without_test_words
from .when import find_when
from .words import words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from spacy.language import Language
    from spacy.tokens import Doc

    from cleansheet.catalogue import Catalogue
    from cleansheet.terms import Mention, Note

ATTRIBUTES = (
    "toks", "source", "note", "names", "figures", "lists", "parts", "tests", "places", "layout", "cues", "conditions", "findings",
    "markings", "scene", "columns", "roles", "labels", "when", "mentions",
)  # fmt: skip


def _register() -> None:
    from spacy.language import Language
    from spacy.tokens import Doc

    for name in ATTRIBUTES:
        if not Doc.has_extension(name):
            Doc.set_extension(name, default=None)

    @Language.component("figures", requires=["doc._.toks"], assigns=["doc._.figures", "doc._.lists"])
    def figures(doc: Doc) -> Doc:
        own = doc._
        text = own.source  # spaCy would put it together from its tokens each time
        found = find_quantities(own.toks, text)
        own.markings = find_markings(text, own.toks)
        found = split_figures(own.toks, _outside(found, own.markings))
        figures, places, own.lists = cut_lists(own.toks, found)
        own.figures, own.places = Row(figures), Row(places)
        return doc

    @Language.component("parts", requires=["doc._.toks", "doc._.names"], assigns=["doc._.parts"])
    def parts(doc: Doc) -> Doc:
        own = doc._
        own.parts = Row(find_parts(own.toks, own.names))
        return doc

    @Language.component("tests", requires=["doc._.toks", "doc._.parts"], assigns=["doc._.tests", "doc._.parts"])
    def tests(doc: Doc) -> Doc:
        own = doc._
        own.tests = Row(find_test_names(own.toks, own.parts))
        own.parts = Row(without_test_words(own.parts, own.tests))
        return doc

    @Language.component("places", requires=["doc._.figures", "doc._.parts"], assigns=["doc._.places", "doc._.figures"])
    def places(doc: Doc) -> Doc:
        own = doc._
        figures, places = settle_places(own.toks, own.figures, own.places, own.parts)
        own.figures, own.places = Row(figures), Row(places)
        return doc

    @Language.component("statements", requires=["doc._.figures", "doc._.parts"], assigns=["doc._.layout"])
    def statements(doc: Doc) -> Doc:
        own = doc._
        own.layout = layout(
            own.toks,
            cue_book().verbs,
            {part.first: part.last for part in own.parts},
            {figure.first: figure.last for figure in own.figures},
        )
        return doc

    @Language.component("cues", requires=["doc._.toks", "doc._.figures"], assigns=["doc._.cues", "doc._.conditions"])
    def cues(doc: Doc) -> Doc:
        own = doc._
        units = {i for f in own.figures if f.unit_start is not None for i in range(f.first + 1, f.last)}
        own.cues = Row(cue for cue in find_cues(own.toks) if cue.first not in units)  # "20 min 0.9" sets no minimum
        own.conditions = Row(find_conditions(own.toks))
        return doc

    @Language.component("findings", requires=["doc._.parts", "doc._.layout"], assigns=["doc._.findings"])
    def findings(doc: Doc) -> Doc:
        own = doc._
        own.findings = Row(find_findings(own.toks, own.parts, own.layout))
        own.scene = Scene(
            own.toks, own.layout, own.parts, own.findings, own.places, own.cues,
            Row(((figure.first, figure.last) for figure in own.figures), key=_start),
        )  # fmt: skip
        return doc

    @Language.component("roles", requires=["doc._.scene"], assigns=["doc._.roles", "doc._.columns"])
    def roles(doc: Doc) -> Doc:
        own = doc._
        normal = normal_words(own.toks, own.scene, own.figures, own.places)
        own.columns = column_limits(own.toks, own.figures)
        own.roles = label_figures(own.scene, own.figures, own.tests, own.lists, normal, own.columns, own.places)
        return doc

    @Language.component("remarks", requires=["doc._.scene"], assigns=["doc._.labels"])
    def remarks(doc: Doc) -> Doc:
        own = doc._
        own.labels = label_pieces(own.scene)
        return doc

    @Language.component("when", requires=["doc._.toks", "doc._.layout"], assigns=["doc._.when"])
    def when(doc: Doc) -> Doc:
        own = doc._
        own.when = find_when(own.source, own.toks, own.layout)
        return doc

    @Language.component("mentions", requires=["doc._.roles", "doc._.labels", "doc._.when"], assigns=["doc._.mentions"])
    def mentions(doc: Doc) -> Doc:
        doc._.mentions = assemble(doc)
        return doc


def _outside(figures: list[Figure], markings: Sequence[Any]) -> list[Figure]:
    if not markings:
        return figures
    ends = [marking.end for marking in markings]  # markings overlap none, so their ends are in order too
    kept: list[Figure] = []
    for figure in figures:
        at = bisect_right(ends, figure.start)
        if at == len(markings) or markings[at].start >= figure.end:
            kept.append(figure)
    return kept


def _start(span: tuple[int, int]) -> int:
    return span[0]


def settle_places(
    toks: Any, figures: list[Figure], listed: list[Place], parts: Any
) -> tuple[list[Figure], list[Place]]:
    """The places of lists and those said by themselves; a number that is a place is no figure any more."""
    unit_at = frozenset(
        i for figure in figures if figure.unit_start is not None for i in range(figure.first + 1, figure.last)
    )
    decimals = frozenset(
        figure.first for figure in figures
        if figure.quantity.value is not None and figure.quantity.value != int(figure.quantity.value)
    )  # fmt: skip
    taken = {i for place in listed for i in range(place.first, place.last)}
    said = [
        place for place in find_places(toks, parts, unit_at, decimals)
        if taken.isdisjoint(range(place.first, place.last))
    ]  # fmt: skip
    places = opened_row(toks, sorted([*listed, *said], key=lambda place: place.first))
    inside = {i for place in places for i in range(place.first, place.last)}
    left = [figure for figure in figures if not all(i in inside for i in range(figure.first, figure.last))]
    return left, places


def _encodable(text: str) -> str:
    """The text with lone surrogates replaced, which spaCy cannot hold; the note itself keeps them."""
    return text if text.isascii() else text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def _tokenizer(nlp: Language) -> Callable[[str], Doc]:
    """A tokenizer that cuts a text into the words of `words.py`; what lies between them stands as a token of its own."""
    from spacy.tokens import Doc

    def cut(text: str) -> Doc:
        toks = words(text)
        spelt: list[str] = []
        spaces: list[bool] = []
        end = 0
        for tok in toks:
            gap = text[end : tok.start]
            if gap == " " and spelt:
                spaces[-1] = True
            elif gap:
                spelt.append(_encodable(gap))
                spaces.append(False)
            spelt.append(_encodable(tok.text))
            spaces.append(False)
            end = tok.end
        if end < len(text):
            spelt.append(_encodable(text[end:]))
            spaces.append(False)
        doc = Doc(nlp.vocab, words=spelt, spaces=spaces)
        doc._.toks, doc._.source = toks, text
        return doc

    return cut


@cache
def pipeline() -> Language:
    """The pipeline, made once. Importing spaCy takes half a second, so it is made when the first note is read."""
    import spacy
    from spacy.util import registry

    _register()
    registry.tokenizers("cleansheet.words.v1", func=lambda: _tokenizer)
    nlp = spacy.blank("en", config={"nlp": {"tokenizer": {"@tokenizers": "cleansheet.words.v1"}}})
    nlp.vocab.lex_attr_getters.clear()  # type: ignore[attr-defined]  # no component looks at a word's shape or the like
    for name in COMPONENTS:
        nlp.add_pipe(name)
    return nlp


COMPONENTS = (
    "figures", "parts", "tests", "places", "statements", "cues", "findings", "roles", "remarks", "when", "mentions",
)  # fmt: skip


def read_doc(note: Note, catalogue: Catalogue) -> Doc:
    """The note's Doc with all that was found on it."""
    nlp = pipeline()
    doc = nlp.make_doc(note.text)
    doc._.note = note
    doc._.names = part_names(catalogue)
    for _, component in nlp.pipeline:
        doc = component(doc)
    return doc


def scene_of(text: str, catalogue: Catalogue, *, flat_ok: bool = True) -> Doc:
    """The Doc as it stands before the scorers have their say: what they are trained on. Without `flat_ok` it is not cut
    into statements: what the scorer of missing stops is trained on.
    """
    nlp = pipeline()
    doc = nlp.make_doc(text)
    doc._.names = part_names(catalogue)
    for name, component in nlp.pipeline:
        if name == "roles" or (name == "statements" and not flat_ok):
            break
        doc = component(doc)
    return doc


def read(note: Note, catalogue: Catalogue) -> tuple[Mention, ...]:
    """What the note says, in the order of its words. The note's text is never changed; each mention is an exact slice.

    Raises nothing for any text: what cannot be understood is left out.
    """
    nlp = pipeline()
    # spaCy keeps every word it has met; up to a few thousand that saves making them anew for each note
    with nlp.memory_zone() if len(nlp.vocab.strings) > _MOST_WORDS else nullcontext():
        mentions: tuple[Mention, ...] = read_doc(note, catalogue)._.mentions
    return mentions


_MOST_WORDS = 20_000
