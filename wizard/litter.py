"""Python goes through all objects now and then to find litter. With hundreds of widgets and the engine loaded that
holds the screen up for a fifth of a second, so what was built once and stays is left out of it."""

import gc
from typing import Any

from textual._styles_cache import StylesCache
from textual.app import App
from textual.timer import Timer

_YOUNG = 4_000
"""New objects before the young ones are gone through, in some milliseconds. Each layout leaves a thousand as litter."""

QUIET = 1.5
"""Seconds without a key before a closed plan is swept up, which takes 0.1 to 0.4 s. Ours."""


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


class Broom:
    """Goes through all there is when a plan has been closed and its pages are litter: once nobody types, but the litter
    of one plan at most is left lying."""

    def __init__(self, app: App[Any]) -> None:
        self._app = app
        self._timer: Timer | None = None

    def wanted(self) -> None:
        """There is litter now. To be called by the app itself: the timer holds whatever screen has it set."""
        if self._timer is None:
            self._timer = self._app.set_timer(QUIET, self._sweep)
        else:
            self._timer.stop()
            self._sweep()

    def put_off(self) -> None:
        """A key has been pressed."""
        if self._timer is not None:
            self._timer.reset()

    def _sweep(self) -> None:
        self._timer = None
        gc.unfreeze()
        gc.collect()
        gc.freeze()
