"""What is typed into fields, and into the name and notes of the review page, goes into the plan."""

from textual import on

from engine.plan import Plan, text_at, value_at, with_text
from engine.variants import with_name_followed
from wizard.examples import TABLES
from wizard.history import name_in_row
from wizard.screens.row_edits import RowEdits
from wizard.stages.review import HeadInput, PlanEdited
from wizard.widgets.field import Edited, FieldChoice, FieldInput


class FieldEdits(RowEdits):
    """Base of the screen of an open plan: edits of its fields."""

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
        """A chosen candidate, the row at a path, stays chosen when it is renamed; with its name deleted before the new
        one is typed, too. One whose name was that of the chosen on the way to a longer one is not chosen by that.

        While it has no name, chosen is what the steps tell that it was called, by which it is followed: not the first
        letter of that, by which it was called last.
        """
        old, new = self._own_name(before, row), str(value_at(after, f"{row}.name"))
        names = [item.name for item in after.engine.all]
        if not new and self.host.history.goes_on_at(f"{row}.name"):
            in_steps = self._name_in_steps(row)
            new = "" if in_steps in names else in_steps
        return with_name_followed(after, old, new) if old and new and old not in names else after

    def _own_name(self, plan: Plan, row: str) -> str:
        """What a candidate is called, or was before its name was deleted; "" where another is called so, too."""
        name = str(value_at(plan, f"{row}.name"))
        if not name:
            return self._name_in_steps(row)
        return name if [item.name for item in plan.engine.all].count(name) == 1 else ""

    def _name_in_steps(self, row: str) -> str:
        table, _, index = row.rpartition(".")
        return name_in_row(self.host.history, table, int(index))
