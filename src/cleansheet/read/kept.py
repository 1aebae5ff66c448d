"""Which findings are results of this job: not the symptom told, not the suspicion, not the noise of the talk."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from .parts import OTHER
from .roles import READING
from .scorer import Choice, scorer

if TYPE_CHECKING:
    from .findings import Finding
    from .quantities import Figure
    from .remarks import Scene

KEEP, DROP = "keep", "drop"


def finding_features(scene: Scene, k: int, labels: Sequence[str], figures: Sequence[Figure], roles: Sequence[str], before: str) -> list[str]:
    """The features of finding `k`: its words, its statement's label, its subject, the numbers beside it."""
    finding = scene.findings[k]
    toks, layout = scene.toks, scene.layout
    number = layout.piece_of[finding.first]
    piece = layout.pieces[number]
    label = labels[number]
    features = [f"f={finding.word}", f"p={finding.phrase}", f"label={label}", f"f+label={finding.word}_{label}", f"before={before}"]
    if finding.bare:
        features.append("bare")
    if finding.negated:
        features.append("negated")
    parts = [part for part in scene.parts if piece.first <= part.first < piece.last]
    lead = [part for part in parts if part.last <= finding.first]
    if lead:
        features += ["subject", "subject:other" if lead[-1].how == OTHER else "subject:part", f"gap={min(finding.first - lead[-1].last, 4)}"]
        if lead[-1].last < finding.first:
            features.append(f"link={toks[lead[-1].last].low}")
    elif parts:
        features.append("object")
    else:
        features.append("nopart")
    for offset in (1, 2):
        i = finding.first - offset
        features.append(f"-{offset}={toks[i].low if i >= piece.first else '<'}")
        j = finding.last - 1 + offset
        features.append(f"+{offset}={toks[j].low if j < piece.last else '>'}")
    features.append(f"head={toks[piece.first].low}")
    features += [f"w={toks[i].low}" for i in range(piece.first, piece.last)]
    near = [role for figure, role in zip(figures, roles, strict=True) if piece.first <= figure.first < piece.last]
    features.append(f"figures={min(len(near), 2)}:{READING in near}")
    families = {cue.family for cue in scene.cues if piece.first <= cue.first < piece.last}
    features += [f"cue={family}" for family in families]
    sentence = layout.sentence_of[finding.first]
    earlier = {cue.family for cue in scene.cues if layout.sentence_of[cue.first] == sentence and cue.first < finding.first}
    features += [f"earlier={family}" for family in earlier & {"hearsay", "hypothesis", "question"}]
    if any(piece.first <= place.first < piece.last for place in scene.places):
        features.append("placed")
    if piece.asked:
        features.append("asked")
    features.append(f"size={min(piece.last - piece.first, 8)}")
    if sentence == 0:
        features.append("s0")
    if k and layout.piece_of[scene.findings[k - 1].first] == number:
        features.append("second")
        if scene.findings[k - 1].word == finding.word:
            features.append("same-again")
    return features


def kept_findings(scene: Scene, labels: Sequence[Choice], figures: Sequence[Figure], roles: Sequence[Choice]) -> list[tuple[Finding, Choice]]:
    """The findings that are readings, each with the scorer's choice."""
    model = scorer("findings")
    names = [choice.label for choice in labels]
    role_names = [choice.label for choice in roles]
    out: list[tuple[Finding, Choice]] = []
    before = "start"
    for k, finding in enumerate(scene.findings):
        choice = model.choose(finding_features(scene, k, names, figures, role_names, before))
        before = choice.label
        if choice.label == KEEP:
            out.append((finding, choice))
    return out
