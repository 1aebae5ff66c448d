"""What a number is there for: a reading, a limit, or neither.

The rules describe each number: the cue words before and after it, what stands between it and the number before, its unit,
the brackets, the names beside it. The trained scorer weighs the description; its loudest features are the reason shown.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .role_after import also_readings, left_at
from .role_beside import (
    blown_up_to,
    came_from,
    limit_of_several,
    or_less,
    said_again,
    speed_of,
    warmth_of,
)
from .role_features import figure_features
from .role_limits import BY_THE_BOOK, sure_limit
from .role_lists import as_one, both_named, in_step, one_place_apart, pair, whole_lists
from .role_rules import EXPECTED, NEITHER, READING, never, taken_back
from .role_told import RATED
from .scorer import Choice, scorer

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from .places import Place
    from .quantities import Figure
    from .row import Row
    from .scene import Scene
    from .testnames import TestName


def label_figures(
    scene: Scene,
    figures: Sequence[Figure],
    names: Row[TestName],
    listed: dict[int, int],
    words_at: list[str],
    columns: Iterable[int],
    places: Sequence[Place] = (),
) -> list[Choice]:
    """For each figure its role: the likeliest run of roles for the whole note. All values of a list share one role.

    `columns` are the figures that stand in a table's column of limits.
    """
    held, reasons = _settled(scene, figures, names, columns, places)
    described = [figure_features(scene, figures, k, names, listed, "", words_at) for k in range(len(figures))]
    out = scorer("roles").best_run(described, "role<", held=held, quiet=NEITHER)
    of_list: dict[int, Choice] = {}
    for k, figure in enumerate(figures):
        if k in reasons:
            out[k] = Choice(held[k], 1.0, {held[k]: 1.0}, (reasons[k],))
        group = listed.get(figure.first)
        if group is not None:
            out[k] = of_list.setdefault(group, out[k])
    whole_lists(figures, out, listed, held)
    out = in_step(scene, figures, as_one(scene, figures, out, held), held, {place.last for place in places})
    return also_readings(scene, figures, out, held, places)


def _settled(
    scene: Scene, figures: Sequence[Figure], names: Row[TestName], columns: Iterable[int], places: Sequence[Place]
) -> tuple[dict[int, str], dict[int, str]]:
    """The roles that rules settle before the scorer is asked, by figure, and the reason of each."""
    held: dict[int, str] = {}
    reasons: dict[int, str] = {}
    for k, figure in enumerate(figures):
        reason = never(scene, figure)
        if reason == RATED and sure_limit(scene, figures, k) is not None:
            continue  # "cap opens at 0.9 bar, rated 1.4"
        if reason is not None:
            held[k], reasons[k] = NEITHER, reason
    for k in range(len(figures) - 1):
        if k not in held and taken_back(scene, figures[k], figures[k + 1]):
            held[k], reasons[k] = NEITHER, "taken back"
    for k in range(len(figures) - 1):
        if k not in held and speed_of(figures[k], figures[k + 1], scene.toks):
            held[k], reasons[k] = NEITHER, "the engine speed of the number after it"
        elif k not in held and warmth_of(figures[k], figures[k + 1], scene.toks):
            held[k], reasons[k] = NEITHER, "the temperature of the number after it"
    for k in range(len(figures)):
        if k not in held and (started := came_from(scene, figures, k)) is not None:
            held[k], reasons[k] = NEITHER, started
    for k, figure in enumerate(figures):
        if k not in held and limit_of_several(scene, figures, k, figure, held):
            held[k], reasons[k] = EXPECTED, "one of the limits said in a row"
        elif k not in held and or_less(scene, figure):
            held[k], reasons[k] = EXPECTED, "so much, or less or more"
        elif k not in held and (surely := sure_limit(scene, figures, k)) is not None:
            held[k], reasons[k] = EXPECTED, surely
    for k in range(len(figures)):
        if k not in held and (blown_up_to(scene, figures, k) or left_at(scene, figures, k, held)):
            held[k], reasons[k] = READING, "what it was left at"
    for k in range(len(figures) - 2, -1, -1):
        if k not in held and reasons.get(k + 1) == BY_THE_BOOK and one_place_apart(figures, k, places):
            held[k], reasons[k] = EXPECTED, BY_THE_BOOK  # "inlet 0.20 exhaust 0.30 by the book"
    for k in range(1, len(figures)):
        if k not in held and held.get(k - 1) == EXPECTED and both_named(scene, figures, k, names):
            held[k], reasons[k] = EXPECTED, "one of two limits, each with its name"
    for k in range(1, len(figures) - 1):
        if k not in held and said_again(figures, k, scene.toks):
            held[k], reasons[k] = NEITHER, "said before, and what it came from"
    for k in range(1, len(figures) - 2):
        if (
            reasons.get(k) == "taken back"
            and k - 1 not in held
            and pair(scene, figures, k - 1)
            and pair(scene, figures, k + 1)
        ):
            held[k - 1], reasons[k - 1] = NEITHER, "taken back with the one after it"
    for k in columns:
        if k not in held:
            held[k], reasons[k] = EXPECTED, "its column is one of limits"
    return held, reasons
