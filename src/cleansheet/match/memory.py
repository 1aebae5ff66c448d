"""What the readings so far were tied to: where the next one is likely to belong."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from cleansheet.terms import Item

from .features import Before, kind_for

if TYPE_CHECKING:
    from cleansheet.catalogue import Catalogue
    from cleansheet.terms import Mention

    from .candidates import Fit


@dataclass(slots=True)
class Memory:
    """What the readings so far were tied to."""

    last: Item | None = None
    sentence: int = 0
    by_group: dict[int, Item] = field(default_factory=dict)
    place: str | None = None
    place_of: str | None = None
    place_sentence: int = 0
    finding: Item | None = None
    finding_sentence: int = 0
    numbered: Item | None = None  # the last reading of one of several that are told by numbers
    numbered_sentence: int = 0


def before_for(mention: Mention, memory: Memory) -> Before | None:
    """What came before a mention, as the choice sees it."""
    if memory.last is None:
        return None
    item = memory.last
    quantity = item.quantity
    return Before(
        item.component,
        item.test,
        (kind_for(quantity) or "") if quantity else "",
        mention.sentence - memory.sentence,
        item.position,
    )


OTHERS = frozenset({"other", "others", "rest", "all", "both", "each"})  # words that name no single one


def stays(mention: Mention, best: Fit, memory: Memory, catalogue: Catalogue) -> bool:
    """Whether a reading without a place is still of the one that the talk is about: the same part, measured again or not
    named anew, within two sentences, and no list of several.
    """
    if memory.place is None or best.component is None or memory.place_of != best.component:
        return False
    if (
        mention.sentence - memory.place_sentence > 2
        or mention.group is not None
        or OTHERS.intersection(mention.context)
    ):
        return False
    if catalogue.components[best.component].position is None and best.component not in {
        "ignition-coil",
        "carburettor",
        "contact-breaker",
    }:
        return False
    last = memory.last
    named = any(part.here and part.id == best.component for part in mention.parts)
    return (
        not named
        or mention.again
        or (last is not None and last.test == best.test and mention.sentence == memory.sentence)
    )


def remember(memory: Memory, item: Item, sentence: int) -> None:
    """Keep the last reading, and the place that the talk is about."""
    memory.last, memory.sentence = item, sentence
    if item.position is not None and item.position.isdigit() and item.component is not None:
        memory.numbered, memory.numbered_sentence = item, sentence
    if item.position is not None and item.position != "all":
        memory.place, memory.place_of, memory.place_sentence = item.position, item.component, sentence
    elif memory.place_of is not None and item.component != memory.place_of:
        memory.place = None


_OF_THE_READING = frozenset({"action", "suspect", "cleared", "reading"})
_ONE_EACH = frozenset({"injector", "spark-plug", "ignition-lead", "ignition-coil", "cylinder", "valve-train"})
_EARLIER = 0.75  # what a part counts that was named a sentence before
_NEXT_STEPS = frozenset({"todo", "action"})
_SAME, _NEXT = 0.6, 0.5  # least weight of a part named in the same sentence, in the one before


def carried(mention: Mention, memory: Memory) -> dict[str, object]:
    """The component of a deed or a verdict that names none: the one measured last, if no part was named since.

    "Timing 46 degrees, pulled it back to 37" is done to the distributor.
    """
    last, numbered = memory.last, memory.numbered
    here = any(part.here for part in mention.parts)
    if (
        mention.kind in _NEXT_STEPS
        and not here
        and numbered is not None
        and (mention.position or "").isdigit()
        and (mention.kind == "todo" or mention.component is None)
    ):
        ago = max(1, mention.sentence - memory.numbered_sentence)
        later = next((part for part in mention.parts if part.id in _ONE_EACH and part.weight > _EARLIER**ago), None)
        component = numbered.component if later is None else later.id
        return {"component": component, "why": (*mention.why, f"part {component}: numbered last")}
    if mention.kind == "todo" and mention.again and not here and last is not None and last.component is not None:
        nearest = mention.parts[0] if mention.parts else None
        since = 9 if nearest is None else 0 if nearest.weight >= _SAME else 1 if nearest.weight >= _NEXT else 2
        ago = mention.sentence - memory.sentence
        if ago <= 2 and (since > ago or mention.component is None):
            return {"component": last.component, "why": (*mention.why, f"part {last.component}: measured last")}
    if mention.kind not in _OF_THE_READING or last is None or last.component is None:
        return {}
    nearest = mention.parts[0] if mention.parts else None
    if nearest is not None and (nearest.here or (nearest.id is None and mention.kind == "reading")):
        return {}
    ago = mention.sentence - memory.sentence
    if ago > 1 or (mention.kind == "reading" and ago and not (mention.position and last.position)):
        return {}
    since = 9 if nearest is None else 0 if nearest.weight >= _SAME else 1 if nearest.weight >= _NEXT else 2
    if since < ago or (since == ago and mention.component is not None):
        return {}
    return {"component": last.component, "why": (*mention.why, f"part {last.component}: measured last")}


def as_item(mention: Mention, **changes: Any) -> Item:
    """The mention as an item of the draft, with some fields otherwise."""
    values: dict[str, Any] = {
        "kind": mention.kind, "start": mention.start, "end": mention.end, "quantity": mention.quantity,
        "finding": mention.finding, "component": mention.component, "test": None, "position": mention.position,
        "condition": dict(mention.condition), "flags": mention.flags, "confidence": mention.confidence,
        "why": mention.why, "second": mention.second, "group": mention.group, "at": mention.at,
    }  # fmt: skip
    return Item(**(values | changes))
