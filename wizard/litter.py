"""Python goes through all objects now and then to find litter. With hundreds of widgets and the engine loaded that
holds the screen up for a fifth of a second, so what was built once and stays is left out of it."""

import gc

from textual._styles_cache import StylesCache

_YOUNG = 4_000
"""New objects before the young ones are gone through, in some milliseconds. Each layout leaves a thousand as litter."""


def let_lie() -> None:
    """Look for no litter while everything is being built."""
    gc.disable()


def keep_what_is_there() -> None:
    """What there is now stays as long as its plan is open; from here on only what is newer is gone through."""
    gc.freeze()
    gc.set_threshold(_YOUNG)
    gc.enable()


def forget_drawn() -> None:
    """Textual holds the last thousand widgets that drew anything, also those that are gone, and all that they drew."""
    StylesCache.get_inner_outer.cache_clear()


def sweep() -> None:
    """Go through all there is, once: a plan has been closed, and its pages are litter now."""
    gc.unfreeze()
    gc.collect()
    gc.freeze()
