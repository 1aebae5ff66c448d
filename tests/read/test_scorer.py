"""The small trained scorers: the same features give the same label, with its reasons."""

import math
import random
from itertools import product

import pytest

from cleansheet.read.scorer import Scorer, scorer

LABELS = ("none", "one", "two")
WEIGHTS = {
    "a": (0.0, 2.0, -1.0),
    "b": (0.5, -0.5, 1.5),
    "c": (1.0, 0.0, 0.0),
    "before=start": (0.3, 0.0, -0.3),
    "before=none": (0.2, -0.1, 0.0),
    "before=one": (-1.0, 0.4, 1.2),
    "before=two": (0.0, 0.7, -0.8),
}
MODEL = Scorer(LABELS, WEIGHTS, (0.1, 0.0, -0.1))


def chance(features, label, before):
    totals = MODEL.totals([*features, f"before={before}"])
    powers = [math.exp(total) for total in totals]
    return powers[LABELS.index(label)] / sum(powers)


def likelihood(described, run):
    return math.prod(
        chance(features, label, before)
        for features, label, before in zip(described, run, ("start", *run), strict=False)
    )


@pytest.mark.parametrize(
    ("features", "label"),
    [(["a"], "one"), (["b"], "two"), (["c"], "none"), ([], "none"), (["unheard of"], "none"), (["a", "a", "b"], "one")],
)
def test_the_heaviest_label_wins(features, label):
    choice = MODEL.choose(features)
    assert choice.label == label
    assert sum(choice.probabilities.values()) == pytest.approx(1.0)
    assert choice.probability == max(choice.probabilities.values())


def test_reasons_are_the_features_that_spoke_for_it():
    assert MODEL.reasons(["a", "b", "c"], "one") == ("a",)
    assert MODEL.reasons(["b", "before=one"], "two") == ("b", "before=one")
    assert MODEL.reasons([], "one") == ()


@pytest.mark.parametrize("seed", range(12))
def test_the_best_run_is_the_likeliest_of_all_runs(seed):
    """Viterbi's algorithm against every run of labels, one by one (Viterbi 1967; Forney 1973, doi:10.1109/PROC.1973.9030)."""
    rng = random.Random(seed)
    described = [[name for name in "abc" if rng.random() < 0.5] for _ in range(rng.randint(1, 5))]
    best = max(product(LABELS, repeat=len(described)), key=lambda run: likelihood(described, run))
    run = MODEL.best_run(described, "before=")
    assert likelihood(described, [choice.label for choice in run]) == pytest.approx(likelihood(described, best))
    assert [sum(choice.probabilities.values()) for choice in run] == pytest.approx([1.0] * len(run))


@pytest.mark.parametrize(("at", "label"), list(product(range(3), LABELS)))
def test_a_settled_label_is_held(at, label):
    described = [["a"], ["b"], ["c"]]
    run = MODEL.best_run(described, "before=", held={at: label})
    assert run[at].label == label
    others = max(
        (one for one in product(LABELS, repeat=3) if one[at] == label),
        key=lambda one: math.prod(chance(described[i], one[i], ("start", *one)[i]) for i in range(3) if i != at),
    )
    assert tuple(choice.label for choice in run) == others


def test_no_things_no_labels():
    assert MODEL.best_run([], "before=") == []


@pytest.mark.parametrize("name", ["roles", "remarks", "findings", "stops"])
def test_the_packaged_scorers_are_whole(name):
    model = scorer(name)
    assert len(model.labels) == len(set(model.labels)) == len(model.bias)
    assert all(len(row) == len(model.labels) for row in model.weights.values())
    assert all(math.isfinite(weight) for row in model.weights.values() for weight in row)
    assert scorer(name) is model
