"""What settles a number's role before the scorer is asked: what can be no reading, and what was taken back.

A clock time, a tyre's size, a tool's setting, a fuse's rating, a count; "2.9, no, 2.3" takes the first one back.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cleansheet.units import kind, known

from .role_told import PUT_IN_POUNDS, RATED, SYSTEMS, told_by_the_way
from .words import NUM

if TYPE_CHECKING:
    from collections.abc import Sequence

    from cleansheet.terms import Quantity

    from .quantities import Figure
    from .scene import Scene
    from .words import Tok

READING, EXPECTED, NEITHER = "reading", "expected", "neither"
ROLES = (READING, EXPECTED, NEITHER)
DRIVEN = 1500  # rpm at which no engine idles


def kind_of(quantity: Quantity) -> str:
    """The unit's kind ("pressure", "resistance" ...), or "none"."""
    if quantity.unit is None:
        return "none"
    return kind(quantity.unit) if known(quantity.unit) else "other"


def in_workshop(figure: Figure) -> Quantity:
    """The likeliest quantity in a workshop: "2.5k" is kilohms sooner than thousands, "140 pounds" a pressure."""
    wanted = _MEANT.get(figure.quantity.unit)
    if wanted is not None:
        for other in figure.alternatives:
            if other.unit == wanted:
                return other
    return figure.quantity


# what a unit, or none, stands for in a workshop where the words allow both
_MEANT: dict[str | None, str] = {None: "kOhm", "[lb_av]": "[psi]"}


def size_of(figure: Figure) -> float | None:
    """The number, or a range's upper end."""
    quantity = in_workshop(figure)
    return quantity.high if quantity.is_range else quantity.number


def alike(a: Figure, b: Figure, factor: float) -> bool:
    """Whether two numbers have one sign and lie within a factor of each other."""
    one, two = size_of(a), size_of(b)
    return one is not None and two is not None and one * two > 0 and 1 / factor <= one / two <= factor


_TOOLS = frozenset(
    "socket sockets spanner spanners wrench drill allen punch jubilee screwdriver jobbie bolt bolts screw screws bulb resistor".split()
)
_NEVER = frozenset({"clock", "date", "phone", "code", "year", "ordinal", "label"})
_NEVER_UNITS = frozenset(
    {
        "[ft_i]",
        "m",
        "km",
        "[mi_i]",
        "km/h",
        "[mi_i]/h",
        "kg",
        "[lb_av]",
        "L",
        "[oz_av]",
        "[gal_us]",
        "[gal_br]",
        "min",
        "h",
        "d",
        "wk",
        "mo",
        "a",
        "s",
    }
)
_IDLE = frozenset("idle idles idled idling tickover tick ticks ticked ticking hunts hunting settles settled".split())
_AGES = frozenset(
    "in since from of year built dated made registered march may june july april august september october november december january february".split()
)


def _tyre_size(toks: Sequence[Tok], figure: Figure) -> bool:
    """ "215/70 R15", "4.00 x 18": each of its numbers."""
    for at in (figure.last, figure.first - 1):
        crossed = 0 < at < len(toks) - 1 and toks[at].low in {"x", "-"} and toks[at - 1].text in _CROSS_PLY
        if crossed and toks[at + 1].text.isdigit() and _LEAST_RIM <= int(toks[at + 1].text) <= _MOST_RIM:
            return True
    for start in range(max(0, figure.first - 4), figure.first + 1):
        if start + 1 >= len(toks) or toks[start + 1].low != "/":
            continue
        run = [tok.low for tok in toks[start : start + 5]]
        if (
            len(run) >= 4
            and len(run[0]) == 3
            and run[0].isdigit()
            and len(run[2]) == 2
            and run[2].isdigit()
            and run[3] == "r"
        ):
            return figure.first < start + 5
    return False


_CROSS_PLY = frozenset(
    "2.75 3.00 3.25 3.50 3.60 4.00 4.10 4.25 4.50 5.00 5.20 5.50 5.60 6.00 6.40 6.50 7.00 7.50".split()
)
_LEAST_RIM, _MOST_RIM = 10, 24
_HEAVY = 40  # kg; below it may be a pressure
_COUNTED = frozenset(
    "turn turns click clicks tooth teeth strand strands thread threads drip drips drops stroke strokes pumps bolts studs "
    "pins holes cylinders seats doors passengers".split()
)
_FRESH = frozenset(["new", "fresh", "another", "spare"])
_FUSED = frozenset(["link", "fuse", "fuses", "breaker"])
_RATINGS = frozenset({3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 80.0, 100.0})
_TAKEN_OFF = frozenset("cut cutting took take taken skimmed shaved trimmed filed ground machined lopped sawed".split())


def _not_measured_here(scene: Scene, figure: Figure) -> str | None:
    """Whether the figure's own statement supposes it or has it from somebody else."""
    first = scene.layout.pieces[scene.layout.piece_of[figure.first]].first
    if any(scene.toks[i].low == "if" for i in range(first, figure.first)):
        return "supposed"
    if _limit_beside(scene, figure):
        return None  # "he says .05 is the most you'd want"
    for cue in scene.cues.within(first, figure.first):
        if cue.family == "hearsay":
            return "from somebody else, or from earlier"
    return None


def _limit_beside(scene: Scene, figure: Figure) -> bool:
    """Whether a limit's cue touches the number."""
    return any(
        (cue.family == "limit_after" and cue.first == figure.last)
        or (cue.family == "limit_before" and cue.last == figure.first and cue.last - cue.first > 1)
        for cue in scene.cues.within(max(0, figure.first - 8), figure.last + 1)
    )


_ONES = frozenset(
    "needs need want wants wanted order ordered get buy borrow find got that this the every each any another other which low high "
    "good bad new old spare same better cheap cheaper wrong right second hand genuine used".split()
)


def _no_number(toks: Sequence[Tok], figure: Figure, before: str) -> bool:
    """Whether a lone "one" stands for a thing: "make sure it's the low one", "frayed, needs one"."""
    if toks[figure.first].low != "one" or figure.last != figure.first + 1 or before not in _ONES:
        return False
    after = toks[figure.last] if figure.last < len(toks) else None
    return after is None or after.line or after.low in _AFTER_ONE


_AFTER_ONE = frozenset(". , ; ! ? and or but for from to with in on is was that as so then here there".split())


def never(scene: Scene, figure: Figure) -> str | None:
    """Why a figure can be no reading and no limit: a clock time, a mileage, a year, an engine speed as a condition; or None."""
    quantity, toks = figure.quantity, scene.toks
    if figure.form in _NEVER:
        return f"a {figure.form}"
    if quantity.unit in _NEVER_UNITS and not any(other.unit not in _NEVER_UNITS for other in figure.alternatives):
        return f"a figure in {quantity.unit}"
    if quantity.unit == "kg" and (quantity.number or 0.0) > _HEAVY:
        return "a weight"
    before = toks[figure.first - 1].low if figure.first else ""
    two = two_before(toks, figure)
    after = toks[figure.last].low if figure.last < len(toks) else ""
    if after in {"a", "an"} and figure.last + 1 < len(toks):
        after = toks[figure.last + 1].low  # "half a turn"
    if quantity.unit is None and after in _COUNTED and not figure.misheard:
        return f"a count of {after}"
    if quantity.unit == "A" and (before in _FRESH or after in _FUSED) and quantity.number in _RATINGS:
        return "a fuse's rating"
    if after == "off" and kind_of(quantity) == "length" and {before, two} & _TAKEN_OFF:
        return "what was taken off"
    if _tyre_size(toks, figure):
        return "a tyre's size"
    if _no_number(toks, figure, before):
        return "no number"
    aside = _aside(scene, figure, before, after)
    if aside is not None:
        return aside
    said_so = _not_measured_here(scene, figure)
    if said_so:
        return said_so
    near = {toks[i].low for i in range(max(0, figure.first - 3), figure.first)}
    if near & {"ambient", "outside"}:
        return "the air's temperature"
    if figure.last < len(toks) and toks[figure.last].low == "supply" and "at" in near:
        return "a supply"
    if figure.last < len(toks) and toks[figure.last].low in _TOOLS and quantity.unit is not None:
        return f"the size of a {toks[figure.last].low}"
    number = quantity.value
    if number is None:
        small = (
            quantity.high is not None
            and quantity.high <= 12
            and quantity.low == int(quantity.low or 0)
            and quantity.high == int(quantity.high)
        )
        listed = before == "," and quantity.low == 1 and _after_a_list(scene, figure, round(quantity.high or 0.0))
        return "places" if small and quantity.unit is None and (before == "between" or listed) else None
    if (
        before in {"fuse", "bay", "card", "job", "page", "bank", "ticket", "docket", "invoice", "fleet", "unit", "ramp"}
        and quantity.unit is None
    ):
        return f"a {before}'s number"
    whole = number == int(number)
    if (
        quantity.unit is None
        and whole
        and 1900 <= number <= 2040
        and (before in _AGES or two in _AGES or figure.form == "short")
    ):
        return "a year"
    if quantity.unit == "{rev}/min" and number >= DRIVEN and number % 100 == 0 and _no_idle(scene, figure):
        return "an engine speed"
    if before in {"£", "$", "€"}:
        return "a price"
    if (
        before in {"at", "@"}
        and (number >= DRIVEN or _IDLE.isdisjoint(toks[i].low for i in range(max(0, figure.first - 6), figure.first)))
        and whole
        and 400 <= number <= 9000
        and number % 50 == 0
        and quantity.unit in {None, "{rev}/min"}
    ):
        return "an engine speed"
    return None


def _after_a_list(scene: Scene, figure: Figure, count: int) -> bool:
    """Whether as many numbers as there are places stand before: "0.24, 0.25, 0.12 and 0.26 mm, one to four"."""
    start = scene.layout.sentences[scene.layout.sentence_of[figure.first]][0]
    before = scene.figures.within(start, figure.first)
    return len(before) >= count > 1 and before[-1][1] == figure.first - 1


def _no_idle(scene: Scene, figure: Figure) -> bool:
    """Whether nothing around an engine speed speaks of the idle or of how fast it goes: "fifteen hundred revs, 24 in the yard"."""
    start, stop = scene.layout.sentences[scene.layout.sentence_of[figure.first]]
    near = scene.toks[max(start, figure.first - _AROUND_SPEED) : min(stop, figure.last + _AROUND_SPEED)]
    return all(tok.low not in _IDLE and tok.low not in _HOW_FAST for tok in near)


_AROUND_SPEED = 8
_HOW_FAST = frozenset(
    "speed limiter governor governed cuts flat max maximum top stall reads shows tacho counter gauge revs: holds sits screams races".split()
)
_MONEY_AFTER = frozenset("go each apiece pop time throw lot".split())
_PAID = frozenset(
    "cost costs costing paid pay pays charged charging charges charge quoted quote price priced bill billed gave worth".split()
)
_WHOM = frozenset(
    ["him", "her", "them", "us", "me", "you", "customer", "owner", "the", "was", "is", "of", "about", "at", "it"]
)
_BUYING = frozenset(["order", "buy", "quote", "price", "get", "cost", "costs", "costing"])
_MILEAGE = frozenset(["on", "done", "covered", "doing"])
_MATERIAL = frozenset(
    "wire cable hose pipe tube tubing loom braid tape sleeve sleeving weld rod bar tubing heatshrink string line flex".split()
)
_COIN = frozenset({"quid", "£", "€", "euros", "dollars"})
_DEAR = 700  # pounds that are neither a pressure nor a torque
_LEAST_PRICE, _LEAST_MILEAGE = 20, 20_000


def _aside(scene: Scene, figure: Figure, before: str, after: str) -> str | None:
    """What is told by the way and is no measurement: a price, a mileage, a rating, a length of wire, how much was lost."""
    toks, quantity = scene.toks, figure.quantity
    told = told_by_the_way(scene, figure, before, after)
    if told is not None:
        return told
    number = quantity.value
    if number is None:
        return None
    unit = in_workshop(figure).unit
    if quantity.unit == "[HP]" and before == "at":
        return "a load"
    if unit == "A" and before == "fuse" and number in _RATINGS:
        return "a fuse's rating"
    if before == "rated" or (unit == "V" and number in SYSTEMS and _of_a_code(toks, figure.first)):
        return RATED
    near = [tok.low for tok in toks[figure.last : figure.last + 4]]
    if kind_of(quantity) == "length" and near[:1] == ["of"] and not _MATERIAL.isdisjoint(near[1:]):
        return "a length of material"
    if unit == "V" and before == "with" and after in {"on", "to", "across", "at"}:
        return "a supply"  # "with 12 V on the injectors all click"
    if (
        before in {"at", "on", "from"}
        and two_before(toks, figure) in _AIR
        and kind_of(in_workshop(figure)) == "pressure"
    ):
        return "put on for a test"
    if _still_to_do(scene, figure, before):
        return "what it is to be put to"
    if after == "applied" and kind_of(in_workshop(figure)) == "pressure":
        return "put on for a test"
    if before in {"lost", "loses", "losing"} and kind_of(in_workshop(figure)) == "pressure":
        return "how much was lost"
    if before in _MOVED_BY and two_before(toks, figure) in {"revs", "rpm", "idle", "speed"} and number == int(number):
        return "how much it changed"
    return _price(scene, figure, before, after) or _mileage(toks, figure, before)


def _of_a_code(toks: Sequence[Tok], first: int) -> bool:
    """Whether a number stands right behind a part's code: "stamped GP-66 12V"."""
    return first > 1 and toks[first - 1].kind == NUM and toks[first - 1].glued and toks[first - 2].low == "-"


_AIR = frozenset("compressor tester airline rig bottle".split())
_TO_BE_PUT = frozenset("torque tighten retorque nip pinch inflate".split())
_LATER = frozenset("when before once tomorrow next after".split())


def two_before(toks: Sequence[Tok], figure: Figure) -> str:
    """The word two before a figure."""
    return toks[figure.first - 2].low if figure.first > 1 else ""


def _still_to_do(scene: Scene, figure: Figure, before: str) -> bool:
    """Whether the number is what something is to be put to some day: "torque them to 25 Nm when they go back"."""
    start, stop = scene.layout.sentences[scene.layout.sentence_of[figure.first]]
    if before != "to" or scene.toks[start].low not in _TO_BE_PUT:
        return False
    return any(tok.low in _LATER for tok in scene.toks[figure.last : stop])


_MOVED_BY = frozenset("dropped drops fell falls rose rises climbed climbs jumped jumps lost gained".split())


def _price(scene: Scene, figure: Figure, before: str, after: str) -> str | None:
    """ "a hundred and ninety pounds a go", "charged him 180", "order a pump, about 95"."""
    toks, quantity = scene.toks, figure.quantity
    number = quantity.value
    if number is None or number != int(number):
        return None
    if quantity.unit == "[lb_av]" and (after in _MONEY_AFTER or number >= _DEAR):
        layout = scene.layout
        start = layout.sentences[layout.sentence_of[figure.first]][0]
        sold = PUT_IN_POUNDS.isdisjoint(tok.low for tok in toks[start : figure.first])
        return "a price" if sold or number >= _DEAR else None  # "front tyres thirty two pounds each"
    if quantity.unit is not None and quantity.unit != "[lb_av]":
        return None
    if number < _LEAST_PRICE:
        return None
    back = [toks[i].low for i in range(max(0, figure.first - 3), figure.first)]
    while back and back[-1] in _WHOM:
        back.pop()
    if after == "all" and figure.last + 1 < len(toks) and toks[figure.last + 1].low == "in":
        return "a price"
    if any(tok.low in _COIN for tok in toks[max(0, figure.first - 4) : figure.first]):
        return "a price"  # "regulator 45 quid, pump 120"
    if back and back[-1] in _PAID and (back[-1] != "charging" or before in _WHOM - {"at", "is", "was"}):
        return "a price"
    if quantity.unit is None and quantity.approximate:
        layout = scene.layout
        start, stop = layout.sentences[layout.sentence_of[figure.first]]
        ends = figure.last >= stop or toks[figure.last].low in {".", "!"}
        if ends and toks[start].low in _BUYING:
            return "a price"
    return None


def _mileage(toks: Sequence[Tok], figure: Figure, before: str) -> str | None:
    """ "it's on 131k now", "done 90k": what a clock shows."""
    number = figure.quantity.value or 0.0
    said = toks[figure.last - 1].low
    if figure.quantity.unit is None and number >= _LEAST_MILEAGE and said == "k" and before in _MILEAGE:
        return "a mileage"
    return None


_AFTER_NO = frozenset(", it's its make sorry wait hang that's that i - call say scratch".split())


def taken_back(scene: Scene, figure: Figure, following: Figure) -> bool:
    """Whether a number is corrected by the next one: "850 ohms, hang on, 830 ohms", "2.9 bar, no, make that 2.3"."""
    toks, layout = scene.toks, scene.layout
    gap = following.first - figure.last
    apart = layout.sentence_of[following.first] - layout.sentence_of[figure.first]
    if apart and not (layout.unpunctuated and apart == 1 and gap <= _CORRECTED_AT_ONCE):
        return False
    if gap > _CORRECTED_IN_THE_END:
        return False
    said_again = any(
        cue.family == "correction" and following.first - cue.last <= 1
        for cue in scene.cues.within(figure.last, following.first)
    )
    at_once = [
        cue for cue in scene.cues.within(figure.last, figure.last + _CORRECTED_AT_ONCE) if cue.family == "correction"
    ]
    sure = (
        said_again or len(at_once) > 1 or any(cue.last - cue.first > 1 for cue in at_once)
    )  # "no wait, I had it on ..."
    if gap > (_CORRECTED_IN_THE_END if sure else _CORRECTED_WITHIN):
        return False
    one, two = kind_of(in_workshop(figure)), kind_of(in_workshop(following))
    if one != two and "none" not in {one, two}:
        return False
    for cue in scene.cues.within(figure.last, min(figure.last + 3, following.first)):
        if cue.family != "correction":
            continue
        if toks[cue.first].low == "no" and cue.last < following.first and toks[cue.last].low not in _AFTER_NO:
            continue
        return said_again or len(at_once) > 1 or not scene.parts.within(figure.last, following.first)
    return False


# words to the number that replaces: straight away, or at length and in the end with "make that"
_CORRECTED_WITHIN, _CORRECTED_IN_THE_END = 10, 20
_CORRECTED_AT_ONCE = 5
