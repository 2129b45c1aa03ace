"""Python goes through all objects now and then to find litter. With a thousand widgets and the engine loaded that holds
the screen up for a fifth of a second, so what was built once and stays is left out of it."""

import gc

_YOUNG = 20_000
"""New objects before the young ones are gone through; Python's own 700 are used up by one page."""


def let_lie() -> None:
    """Look for no litter while everything is being built."""
    gc.disable()


def keep_what_is_there() -> None:
    """What there is now stays as long as the program; from here on only what is newer is gone through."""
    gc.freeze()
    gc.set_threshold(_YOUNG)
    gc.enable()
