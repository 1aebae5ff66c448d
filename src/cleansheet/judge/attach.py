from __future__ import annotations


def derive(items, note, catalogue, sheet):
    return (), ()


def cautions_for(items, catalogue, sheet):
    return ()
