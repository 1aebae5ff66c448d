"""The scorers' features in words, for the reason that stands beside each line."""

from __future__ import annotations

from functools import cache

_PREFIXES = (
    ("w=", "the word {!r}"),
    ("s=", "a word like {!r}"),
    ("b=", "the words {!r}"),
    ("t=", "the words {!r}"),
    ("h2=", "opens with {!r}"),
    ("hs=", "opens like {!r}"),
    ("head=", "opens with {!r}"),
    ("end=", "ends with {!r}"),
    ("-321=", "after {!r}"),
    ("-21=", "after {!r}"),
    ("-1=", "after {!r}"),
    ("-2=", "after {!r}"),
    ("-3=", "after {!r}"),
    ("+12=", "before {!r}"),
    ("+1=", "before {!r}"),
    ("+2=", "before {!r}"),
    ("-1+1=", "between {!r}"),
    ("-1u=", "after {!r}"),
    ("-1k=", "after {!r}"),
    ("+1u=", "before {!r}"),
    ("u=", "its unit {!r}"),
    ("k=", "a figure of {}"),
    ("like=", "a word used like {!r}"),
    ("akin=", "a word used roughly like {!r}"),
    ("cue=", "a cue of {!r}"),
    ("finding=", "the finding {!r}"),
    ("limit<", "a limit's cue before it"),
    ("limit>", "a limit's cue after it"),
    ("role<", "the number before it"),
    ("before=", "the statement before it"),
    ("prev:", "the statement before it"),
    ("next:", "what follows it"),
    ("gap", "what stands between it and the number before"),
    ("pair:", "the unit of the number before"),
    ("kinds=", "the unit of the number before"),
    ("named=", "the names beside it"),
    ("note:", "how much the note holds"),
    ("place=", "where in the note it stands"),
    ("len=", "its length"),
    ("figures=", "how many numbers it holds"),
    ("cmp", "a comparator"),
    ("form=", "the way the number is said"),
    ("v=", "the size of the number"),
    ("part", "a part's name"),
    ("head:past", "opens with a deed done"),
    ("head:deed", "opens with a deed"),
    ("head:step", "opens with a step"),
    ("head:-ed", "opens with a deed done"),
    ("past", "a deed done"),
    ("I:past", "a deed of the speaker"),
    ("hearsay", "it is hearsay"),
    ("hypothesis", "it is supposed"),
    ("instrument", "a gauge or a scale"),
    ("taken-back", "a correction after it"),
    ("instead", "a correction before it"),
    ("listed", "it stands in a list"),
    ("asked", "it is asked"),
)


@cache
def readable(feature: str) -> str:
    """A feature as a person would say it.

    >>> readable("w=replaced"), readable("head:past")
    ("the word 'replaced'", 'opens with a deed done')
    """
    for prefix, words in _PREFIXES:
        if feature.startswith(prefix):
            value = (
                feature[len(prefix) :]
                .replace("_", " ")
                .replace("PART", "a part")
                .replace("True", "")
                .replace("False", "")
            )
            return words.format(value.strip().removesuffix("@head").removesuffix("@end"))
    return feature.replace("_", " ")


def in_words(features: tuple[str, ...]) -> str:
    """Several features, each said once."""
    return ", ".join(dict.fromkeys(readable(feature) for feature in features))
