"""What is typed into fields, and into the name and notes of the review page, goes into the plan."""

from dataclasses import replace

from textual import on

from engine.plan import Plan, text_at, value_at, with_text
from engine.variants import ENGINE
from wizard.examples import TABLES
from wizard.screens.row_edits import RowEdits
from wizard.stages.review import HeadInput, PlanEdited
from wizard.widgets.field import Edited, FieldChoice, FieldInput


class FieldEdits(RowEdits):
    """Base of the screen of an open plan: edits of its fields."""

    _was_called = ("", "")
    """The row of a candidate whose name has been deleted to nothing, and what it was called."""

    def take_typed(self) -> None:
        """Take over text whose message is still on its way, so that a quick key after it cannot lose a letter."""
        field = self.focused
        if isinstance(field, FieldInput):
            field.takes += 1
            if field.value != text_at(self.plan, field.path):
                self._take(field.path, field.value)
        elif isinstance(field, HeadInput):
            self._take_head(field)

    def take_chosen(self, field: FieldChoice) -> None:
        """Take over what has just been chosen, before the next key is done."""
        field.takes += 1
        self._take(field.path, field.selection or "")
        self.refresh_results()

    def _take(self, path: str, text: str) -> None:
        """Take over the text of a field, and show what the plan makes of it."""
        before = self.plan
        plan = with_text(before, path, text)
        table, _, field = path.rpartition(".")
        if table.rpartition(".")[0] in TABLES and field == "name":
            plan = self._following_name(before, plan, table)
        self.host.change(plan, path)
        self.current.show(plan, path)

    @on(Edited)
    def _edited(self, message: Edited) -> None:
        if not message.is_overtaken:
            self._take(message.field.path, message.text)
            self.refresh_results()

    @on(PlanEdited)
    def _plan_edited(self, message: PlanEdited) -> None:
        self._take_head(message.field)

    def _take_head(self, field: HeadInput) -> None:
        """Take over the name or the notes as they are now: what was taken back since stays taken back."""
        self.host.change(field.taken_into(self.plan), field.part)

    def _following_name(self, before: Plan, after: Plan, row: str) -> Plan:
        """A chosen candidate, the row at a path, stays chosen when it is renamed, in the plan and in its variants; with
        its name deleted before the new one is typed, too. One whose name was that of the chosen on the way to a longer
        one is not chosen by that."""
        old, new = (str(value_at(plan, f"{row}.name")) for plan in (before, after))
        names = [item.name for item in before.engine.all]
        if not new:
            self._was_called = (row, old) if names.count(old) == 1 else ("", "")
            return after
        if not old and self._was_called[0] == row:
            old = self._was_called[1]
        elif names.count(old) != 1:
            return after
        if not old or old in (item.name for item in after.engine.all):
            return after
        variants = tuple(
            replace(each, choices={**each.choices, ENGINE: new}) if each.choices.get(ENGINE) == old else each
            for each in after.variants
        )
        chosen = new if before.engine.chosen == old else after.engine.chosen
        return replace(after, engine=replace(after.engine, chosen=chosen), variants=variants)
