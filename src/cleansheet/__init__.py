"""cleansheet: a voice-and-notes job journal for a technician with dirty hands.

A spoken or typed shop note goes through stages, each a package named by its verb:

    sound ─listen→ note ─read→ mentions ─match→ items ─judge→ draft ─review→ signed items ─journal→ find

`terms` holds the nouns that all stages share; `flow` strings the stages together.
"""

__version__ = "0.1.0"
