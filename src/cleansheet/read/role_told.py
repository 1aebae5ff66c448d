"""Numbers that are told by the way and measure nothing here: what is printed on a part, what a test is fed with, what a thing
costs, what a machine is called.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from cleansheet.units import kind, known

from .number_lexicon import LEX
from .quantities_forms import MONTHS
from .words import NUM, SIGN

if TYPE_CHECKING:
    from .quantities import Figure
    from .scene import Scene

RATED = "a rating"
_PRINTED = frozenset("printed stamped marked written moulded molded etched embossed painted engraved".split())
_SAYS = frozenset({"say", "says", "said"})
_ON_IT = frozenset({"it", "them", "top", "the", "its", "each", "both", "side", "one"})
_EACH = frozenset({"each", "apiece", ","})
_NEAR = 4
_RATED_IN = frozenset({"Ohm", "kOhm", "V", "A", "W", "uF"})
_FED = frozenset("bench flow flowed flowbench spray sprayed leakdown leak-down leak-off cone".split())
SYSTEMS = frozenset({6.0, 12.0, 24.0})  # volts that vehicles run on
_FROM = frozenset({"on", "off", "from"})
_ROOMS = frozenset("workshop shop garage room bay shed yard ambient outside".split())
_DEGREES = frozenset({None, "Cel", "[degF]", "deg"})
_POUNDS = frozenset({"pounds", "pound", "quid", "euros", "dollars", "bucks"})
_SOLD_BY = frozenset("set pair go pop time piece".split())
_GOT = frozenset("order buy get fit fitted ordered bought got new put refund quoted need needs".split())
_BOUGHT = frozenset("new set pair used kit reman recon hand exchange another bulb battery one part parts".split())
PUT_IN_POUNDS = frozenset(
    "psi bar pressure compression tyre tyres tire tires boost torque torqued vacuum pumped pump".split()
)
_THEYRE = frozenset({"they're", "they", "it's", "that's", "about", "are", "only", "around", "roughly"})
_WORK = frozenset("parts labour labor total bits cash materials change".split())
_NUMBERED = 1000  # what is stamped on a part and so large is a number of the maker
_TYPES = 100  # below it "the 50" may be anything


def told_by_the_way(scene: Scene, figure: Figure, before: str, after: str) -> str | None:
    """Why a figure is a rating, a supply, a room's warmth, a price or a type's name; None where it may be a measurement."""
    number = figure.quantity.value
    if number is None:
        ends = {figure.quantity.low, figure.quantity.high}
        return "terminals" if figure.quantity.unit is None and ends in _SWITCHED else None
    if _printed(scene, figure, before):
        return RATED
    unit = figure.quantity.unit
    if unit == "V" and number in SYSTEMS and _given(scene, figure, after):
        return "a supply"
    if _of_the_trade(scene, figure, before, after):
        return "a size or a number of the trade"
    if before in _PRINTED and unit is None and number == int(number) and number >= _NUMBERED:
        return "a number stamped on it"
    if unit is None and number == int(number) and _a_terminal(scene, figure, before, after):
        return "a terminal's number"
    if before in {"at", "@"} and unit is not None and known(unit) and kind(unit) == "pressure" and _fed(scene, figure):
        return "put on for a test"
    if unit == "V" and number in SYSTEMS and before in _FROM and scene.toks[figure.last - 1].low in _NAMED_VOLTS:
        return "a supply"
    if unit in _DEGREES and before in {"at", "is", "was"} and _room(scene, figure):
        return "the air's temperature"
    if before == "the" and unit is None and number == int(number) and number >= _TYPES and after in {"", "?"}:
        return "a type's name"
    return _cost(scene, figure, before)


_NAMED_VOLTS = frozenset({"volt", "volts", "v"})


_GIVEN = frozenset("fed feed feeding gave give giving put putting applied apply applying stuck".split())
_STRAIGHT = frozenset("straight direct directly".split())
_GIVEN_WITHIN = 5  # words from the deed to the number


def _given(scene: Scene, figure: Figure, after: str) -> bool:
    """Whether volts are what a part was fed with: "fed it twelve volts", "12 V straight from the battery"."""
    if after in _STRAIGHT:
        return True
    toks = scene.toks
    start = max(scene.layout.pieces[scene.layout.piece_of[figure.first]].first, figure.first - _GIVEN_WITHIN)
    given = next((i for i in range(start, figure.first) if toks[i].low in _GIVEN), None)
    if given is None:
        return False
    # "the sensor gave 12 V" is read; one who gives it to something says to what
    return toks[given].low not in {"gave", "give", "giving"} or figure.first - given > 1


_NUMBERED_PAPERS = frozenset("job job's invoice docket ticket order phone reg policy booking works card".split())
_HARDWARE = frozenset("nut nuts stud studs hex torx allen tap die thread threaded".split())
_BORED = frozenset(
    "shell shells piston pistons ring rings bearing bearings rebore rebored bore bores liner liners".split()
)
_SIZED = frozenset({"under", "over", "undersize", "oversize"})
_LATE, _EARLY = 20.0, 6.0  # o'clock


def _of_the_trade(scene: Scene, figure: Figure, before: str, after: str) -> bool:
    """ "14 mm nut", "shells, 10 thou under", "job's number sixty one eighteen", "booked 10 June 8.30"."""
    toks, quantity = scene.toks, figure.quantity
    number, unit = quantity.value or 0.0, quantity.unit
    two = toks[figure.first - 2].low if figure.first > 1 else ""
    if unit is None:
        at = figure.first - 1
        while at > 1 and (toks[at].kind == NUM or toks[at].low in LEX) and figure.first - at < _NEAR:
            at -= 1  # "job's number sixty one eighteen" is read as two
        if toks[at].low == "number" and toks[at - 1].low in _NUMBERED_PAPERS:
            return True
        return before in MONTHS and two.isdigit() and _EARLY <= number <= _LATE
    if not known(unit) or kind(unit) != "length":
        return False
    if after in _HARDWARE:
        return True
    start, stop = scene.layout.sentences[scene.layout.sentence_of[figure.first]]
    ends = figure.last + 1 >= stop or toks[figure.last + 1].kind == SIGN
    return after in _SIZED and ends and any(toks[i].low in _BORED for i in range(start, figure.first))


_CONTACTS = frozenset("terminal terminals pin pins contact tag spade".split())
_SWITCHED = ({30.0, 87.0}, {85.0, 86.0})
_ON_A_RELAY = frozenset({15.0, 30.0, 50.0, 85.0, 86.0, 87.0})  # DIN 72552
_COIL = frozenset({"85", "86"})
_HAS = frozenset("has had gets is to and shows dead live".split())


def _a_terminal(scene: Scene, figure: Figure, before: str, after: str) -> bool:
    """ "terminal 30 has 12.4 V, 87 has nothing"."""
    if before in _CONTACTS and figure.quantity.value is not None and figure.quantity.value < 150:
        return True
    toks = scene.toks
    joined = toks[figure.last : figure.last + 2] if after == "and" else toks[max(0, figure.first - 2) : figure.first]
    if "and" in {before, after} and {toks[figure.first].text, *(tok.text for tok in joined)} >= _COIL:
        return True
    if figure.quantity.value not in _ON_A_RELAY or after not in _HAS or before in {"to", "at"}:
        return False
    start = scene.layout.sentences[scene.layout.sentence_of[figure.first]][0]
    return any(tok.low in _CONTACTS for tok in toks[start : figure.first])


def _printed(scene: Scene, figure: Figure, before: str) -> bool:
    """ "caps are five K each, printed on them", "plug caps say five K each on them"."""
    toks = scene.toks
    j = figure.last
    while j < len(toks) and toks[j].low in _EACH and j - figure.last < _NEAR:
        j += 1
    if j + 1 < len(toks) and toks[j].low in _PRINTED and toks[j + 1].low in {"on", "in"}:
        return before not in {"reads", "read", "measured", "measures"}
    if before in _PRINTED and figure.quantity.unit in _RATED_IN:
        return True  # "coils are marked three ohms"
    on_it = j + 1 < len(toks) and toks[j].low in {"on", "in"} and toks[j + 1].low in _ON_IT
    return before in _SAYS and on_it


def _fed(scene: Scene, figure: Figure) -> bool:
    """Whether a pressure is what a leak-down tester or a flow bench was fed with: "leak-down at 100 psi", "bench flow at 3 bar"."""
    before = [tok.low for tok in scene.toks[max(0, figure.first - 4) : figure.first - 1]]
    return bool(before) and (before[-1] in _FED or (before[-1] == "down" and "leak" in before))


def _room(scene: Scene, figure: Figure) -> bool:
    """ "workshop at 20": the warmth around, not what something reads."""
    before = scene.toks[figure.first - 2].low if figure.first > 1 else ""
    stood = before in {"stood", "standing", "sat"} and figure.quantity.unit is not None
    return before in _ROOMS or stood  # "engine stood at twenty degrees"


def _cost(scene: Scene, figure: Figure, before: str) -> str | None:
    """ "order a bulb, they're about three pounds", "fitted a new hose, one hundred and four pounds", "95 in parts"."""
    toks = scene.toks
    said = toks[figure.last - 1].low
    after, follows = (toks[i].low if i < len(toks) else "" for i in (figure.last, figure.last + 1))
    if (said == "in" and after in _WORK) or (
        figure.quantity.unit is None and after in {"in", "for"} and follows in _WORK
    ):
        return "a price"
    start = scene.layout.sentences[scene.layout.sentence_of[figure.first]][0]
    if said not in _POUNDS:
        return None
    if said not in {"pounds", "pound"}:
        return "a price"
    words = {toks[i].low for i in range(start, figure.first)}
    if words & PUT_IN_POUNDS:
        return None
    if after in {"each", "apiece"} or (after in {"a", "per"} and follows in _SOLD_BY):
        return "a price"
    return "a price" if words & _GOT and (before in _THEYRE or (before == "," and words & _BOUGHT)) else None
