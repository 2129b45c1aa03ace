"""The palette: every action by its name."""

from contextlib import suppress
from inspect import isawaitable
from typing import ClassVar

from textual.binding import BindingType
from textual.command import Command, CommandInput, CommandList, CommandPalette
from textual.worker import WorkerCancelled

from wizard.screens.dialog import at_once
from wizard.screens.hosted import Hosted
from wizard.screens.typing import heard, seen_by


class Palette(Hosted, CommandPalette):
    """Textual's own, whose keys wait for the lines that what was typed before them leads to."""

    BINDINGS: ClassVar[list[BindingType]] = [
        at_once("escape", "escape", "Close", "palette-escape"),
        at_once("enter", "take", "Do what the line says", "palette-enter"),
        at_once("backspace", "erase", "Take the last letter back", "palette-backspace"),
        at_once("down", "go('cursor_down')", "Next line", "palette-down"),
        at_once("up", "go('cursor_up')", "Line before", "palette-up"),
        at_once("pagedown", "go('page_down')", "A page down", "palette-pagedown"),
        at_once("pageup", "go('page_up')", "A page up", "palette-pageup"),
    ]

    async def _listed(self) -> CommandList:
        """The list, once it has the lines for all that was typed."""
        await heard(self.focused or self)
        with suppress(WorkerCancelled):
            await self.workers.wait_for_complete([worker for worker in self.workers if worker.node is self])
        return self.query_one(CommandList)

    async def action_take(self) -> None:
        """Close it, and do what the highlighted line says, before the next key is done."""
        chosen = (await self._listed()).highlighted_option
        if isinstance(chosen, Command):
            self.dismiss()
            done = chosen.hit.command()
            if isawaitable(done):
                await done

    async def action_erase(self) -> None:
        """Take the last letter back that was typed before this key."""
        await seen_by(self.focused)
        self.query_one(CommandInput).action_delete_left()

    async def action_go(self, way: str) -> None:
        """Go through the lines. Nobody can say how long a page is while they are not drawn yet: it goes to their end
        then."""
        listing = await self._listed()
        if not listing.scrollable_content_region:
            way = {"page_up": "first", "page_down": "last"}.get(way, way)
        getattr(listing, f"action_{way}")()
