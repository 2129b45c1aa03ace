"""What the buttons of the tables do: a row comes or goes, a candidate is chosen or shown."""

from dataclasses import replace

from textual import on
from textual.message import Message

from engine.plan import Plan, text_at, value_at, with_row, without_row
from wizard.examples import with_example
from wizard.keys import keys_of, printed
from wizard.screens.dialogs import ConfirmScreen, ExampleList
from wizard.screens.plan_actions import PlanActions
from wizard.stages.page import StagePage
from wizard.widgets.field import FieldLine
from wizard.widgets.rows import ExampleAsked, RowAdded, RowChosen, RowRemoved, RowsEditor, RowTurned, rows_of


def _with_choice_kept(before: Plan, after: Plan) -> Plan:
    """The plan with a candidate more, and the same one chosen as before. While none is chosen by name the first is, and
    a diesel stands before the motors."""
    chosen = before.engine.selected
    if chosen is None or not chosen.name or after.engine.selected is chosen:
        return after
    return replace(after, engine=replace(after.engine, chosen=chosen.name))


class RowEdits(PlanActions):
    """Base of the screen of an open plan: edits of the tables inside it."""

    _has_no_place = False
    """Whether the field with the focus waits for a layout to be shown."""

    def on_mount(self) -> None:
        self.screen_layout_refresh_signal.subscribe(self, self._laid_out, immediate=True)

    async def obey(self, message: Message) -> None:
        """Do what the button of a row asks for."""
        match message:
            case RowAdded():
                await self._row_added(message)
            case RowRemoved():
                await self._row_removed(message)
            case RowChosen():
                self._row_chosen(message)
            case ExampleAsked():
                await self._example_asked(message)
            case RowTurned():
                await self._rows(message.table).turn(message.index)
                self.call_after_refresh(self.show_focused)

    def _rows(self, table: str) -> RowsEditor:
        return next(found for found in self.query(RowsEditor) if found.table == table)

    @on(RowAdded)
    async def _row_added(self, message: RowAdded) -> None:
        index = len(rows_of(self.plan, message.table))
        self.host.change(_with_choice_kept(self.plan, with_row(self.plan, message.table)))
        await self._rows_changed(message.table, index)

    @on(RowRemoved)
    async def _row_removed(self, message: RowRemoved) -> None:
        """Take a row out, after a question when something stands in it."""
        row = f"{message.table}.{message.index}"
        called = self._rows(message.table).heading(message.index)
        undoes = printed(keys_of("undo")[-1])

        async def remove(is_sure: bool) -> None:
            self.host.end_step()
            if is_sure and self.host.change(without_row(self.plan, message.table, message.index)):
                left = len(rows_of(self.plan, message.table))
                await self._rows_changed(message.table, min(message.index, left - 1))
                self.host.tell(f"Taken out: {called}. {undoes} brings it back.")

        fields = [line.path for line in self.query(FieldLine) if line.path.startswith(f"{row}.")]
        if fields and not any(text_at(self.plan, path) for path in fields):
            await remove(True)
            return
        question = f"Take out {called}? {undoes} brings it back."
        self.lay_over(ConfirmScreen(question, "Remove it", "Keep it"), remove, about=message.table)

    @on(RowChosen)
    def _row_chosen(self, message: RowChosen) -> None:
        name = str(value_at(self.plan, f"{message.table}.{message.index}.name"))
        if not name or [item.name for item in self.plan.engine.all].count(name) > 1:
            self.host.tell_here("Give this candidate a name of its own first, then choose it.")
            return
        self.host.change(replace(self.plan, engine=replace(self.plan.engine, chosen=name)))
        self.current.show(self.plan)
        self.refresh_results()

    @on(ExampleAsked)
    async def _example_asked(self, message: ExampleAsked) -> None:
        async def add(name: str) -> None:
            index = len(rows_of(self.plan, message.table))
            self.host.change(_with_choice_kept(self.plan, with_example(self.plan, message.table, name)))
            await self._rows_changed(message.table, index)

        await self.typing_done()
        self.lay_over(ExampleList(message.table, self.plan.units), add)

    async def _rows_changed(self, table: str, index: int) -> None:
        """Show the rows as they are now, and lead to one: to what has come, or stands where one went.

        index: below 0 when none is left.
        """
        page = self.current
        if isinstance(page, StagePage):
            await page.rebuild_rows(self.plan, table)
            page.focus_path(f"{table}.{index}" if index >= 0 else table)
            self.call_after_refresh(self.show_focused)
        self.refresh_results()

    def show_focused(self) -> None:
        """Scroll to the field with the focus and what is said under it, and to the heading of its row when that is
        right above: at once, or, on a page that has just been mounted, after its layout.

        The refresh that Textual waits for can come before that.
        """
        if self.focused is None:
            return
        self._has_no_place = not self.focused.size
        if not self._has_no_place:
            line = self.focused.parent
            part = line if isinstance(line, FieldLine) else self.focused
            part.scroll_visible(animate=False)
            for rows in part.ancestors:
                if isinstance(rows, RowsEditor):
                    rows.show_heading_over(part)

    def _laid_out(self, _screen: object) -> None:
        """What came above the field with the focus, or took rows from the form, may have put it out of sight."""
        if self._has_no_place or (self.focused is not None and not self._painted.shows(self.focused)):
            self._has_no_place = False
            self.call_later(self.show_focused)
