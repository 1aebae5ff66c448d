"""Matching: which test of the catalogue a reading or a limit belongs to, with the runners-up and the reason.

A wrong match is worse than none: where nothing fits, the test is None; where two fit as well, the item says so.
"""

from .matching import match

__all__ = ["match"]
