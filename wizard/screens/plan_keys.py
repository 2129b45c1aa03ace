"""What the keys do that lead through the fields and from page to page, in the order of typing.

What moves the focus is done on the screen, before the next key is handed on: a key typed right after it then goes to
the field that has the focus by then. An open list of choices keeps the arrows, the lists of the review page all keys.
"""

from textual import on
from textual.containers import Horizontal
from textual.widgets import Button

from engine.plan import PAGES
from wizard.screens.field_edits import FieldEdits
from wizard.screens.typing import seen_by
from wizard.stages.page import StagePage
from wizard.stages.review import HeadInput
from wizard.widgets.choice import ChoiceList
from wizard.widgets.field import Accepted, FieldChoice, FieldInput
from wizard.widgets.rows import RowButton


class PlanKeys(FieldEdits):
    """Base of the screen of an open plan: the way through it."""

    @property
    def is_built(self) -> bool:
        """False while the screen is being built or taken down."""
        return self.page in self.pages and self.current.is_attached

    async def put_up_rest(self) -> None:
        """Mount what is not there yet of the page that is open."""
        if self.is_built and isinstance(self.current, StagePage) and not self.current.is_all_there:
            await self.current.put_up()
            self.host.has_been_built()

    async def typing_done(self) -> None:
        """Before a key does anything, what was typed before it is taken over, and all of the page is there."""
        await super().typing_done()
        await self.put_up_rest()

    @on(Accepted)
    def _accepted(self) -> None:
        self.host.end_step()
        page = self.current
        if isinstance(page, StagePage):
            page.go_on(self.control)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The arrows are left to a list that is open. Before the first page is there, nothing is done to it."""
        del parameters
        if action in ("accept", "move", "units") and not self.is_built:
            return False
        if action == "accept":
            return isinstance(self.focused, FieldInput | FieldChoice | ChoiceList | Button)
        if action == "move_beside":
            return self.is_built and isinstance(self.focused, Button)
        if action == "move":
            return self.focused is None or isinstance(self.focused, FieldInput | FieldChoice | Button | HeadInput)
        return True

    async def action_accept(self) -> None:
        page = self.current
        await self.typing_done()
        widget = self.focused
        self.host.end_step()
        if not isinstance(page, StagePage):
            return
        if isinstance(widget, RowButton):
            await self.obey(widget.message())
        elif isinstance(widget, Button) and page.page_behind(widget):
            await self.go_to(page.page_behind(widget), page.field_behind(widget))
        elif isinstance(widget, Button):
            widget.press()
        elif isinstance(widget, FieldChoice):
            widget.action_show_overlay()
        elif isinstance(widget, ChoiceList):
            await seen_by(widget)
            if widget.choice.pick() and isinstance(widget.choice, FieldChoice):
                self.take_chosen(widget.choice)
            page.go_on(widget.choice)
        else:
            page.go_on(widget)

    async def action_move(self, step: int) -> None:
        await self.typing_done()
        if isinstance(self.focused, ChoiceList):
            self.focused.step(step)
            return
        self.host.end_step()
        self.current.move(self.control, step)

    async def action_move_beside(self, step: int) -> None:
        """To the next (1) or previous (-1) button of those that stand side by side; past the last one it stays."""
        await self.typing_done()
        button = self.focused
        if isinstance(button, Button) and isinstance(button.parent, Horizontal):
            row = [each for each in button.parent.children if isinstance(each, Button) and each.display]
            self.set_focus(row[min(max(row.index(button) + step, 0), len(row) - 1)])

    async def action_next_page(self) -> None:
        await self._turn(1)

    async def action_previous_page(self) -> None:
        await self._turn(-1)

    async def _turn(self, step: int) -> None:
        """Go to the page beside; at either end say where one is."""
        at = PAGES.index(self.page) + step
        if 0 <= at < len(PAGES):
            await self.go_to(PAGES[at])
        else:
            self.host.tell_here(f"This is the {'last' if step > 0 else 'first'} page. F2 goes to any page.")
