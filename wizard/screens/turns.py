"""Keys that come faster than they are done: each gets its turn on the screen that those before it have led to."""

import asyncio
from typing import Any
from weakref import WeakKeyDictionary, ref

from textual import events
from textual.app import App
from textual.screen import Screen
from textual.widget import Widget

from wizard.screens.hosted import Hosted
from wizard.screens.typing import heard


class Turns:
    """Holds which screen each key is for. What an Enter in a part of the screen comes to is waited for: a key behind it
    is for the screen that it leads to. A second Enter that comes before that was meant for the first."""

    def __init__(self, app: App[Any]) -> None:
        self._app = app
        self._typed_on = WeakKeyDictionary[events.Key, ref[Screen[Any]]]()
        self._entering: asyncio.Task[None] | None = None
        self._entered_on: ref[Screen[Any]] | None = None

    async def may_go(self, key: events.Key) -> bool:
        """Wait until a key has its turn. Returns: False when it is for no screen any more."""
        if key.is_forwarded:  # no part of the screen had a use for it, and another one may be on top by now
            screen = self._typed_on.get(key)
            return screen is None or screen() is self._app.screen
        if self._entering is not None and self._is_entering:
            if key.key == "enter":
                return False
            await self._entering
        self._entering = None
        if isinstance(self._app.screen, Hosted):
            await self._app.screen.there()
            if not self._app.screen.takes(key.key):
                return False
        self._typed_on[key] = ref(self._app.screen)
        return True

    def gone(self, key: events.Key, part: Widget) -> None:
        """A key has been done, or handed to the part of the screen that had the focus."""
        if key.key == "enter" and key.is_forwarded:
            self._entered_on = self._typed_on[key]
            self._entering = asyncio.create_task(heard(part))

    @property
    def _is_entering(self) -> bool:
        """Whether an Enter is on its way. Once another screen is on top it has led to that one."""
        is_heard = self._entering is None or self._entering.done()
        return not is_heard and self._entered_on is not None and self._entered_on() is self._app.screen
