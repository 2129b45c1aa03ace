"""What is typed into fields, and into the name and notes of the review page, goes into the plan."""

from dataclasses import replace

from textual import on

from engine.plan import Plan, text_at, value_at, with_text
from wizard.examples import TABLES
from wizard.screens.row_edits import RowEdits
from wizard.stages.review import HeadInput, PlanEdited
from wizard.widgets.field import Edited, FieldInput


class FieldEdits(RowEdits):
    """Base of the screen of an open plan: edits of its fields."""

    def take_typed(self) -> None:
        """Take over text whose message is still on its way, so that a quick key after it cannot lose a letter."""
        field = self.focused
        if isinstance(field, FieldInput) and field.value != text_at(self.plan, field.path):
            self.host.change(with_text(self.plan, field.path, field.value), field.path)
            self.current.show(self.plan, field.path)
        elif isinstance(field, HeadInput):
            self.host.change(field.taken_into(self.plan), field.part)

    @on(Edited)
    def _edited(self, message: Edited) -> None:
        before = self.plan
        plan = with_text(before, message.path, message.text)
        table, _, field = message.path.rpartition(".")
        if table.rpartition(".")[0] in TABLES and field == "name":
            plan = _following_name(before, plan, table)
        self.host.change(plan, message.path)
        self.current.show(plan, message.path)
        self.refresh_results()

    @on(PlanEdited)
    def _plan_edited(self, message: PlanEdited) -> None:
        self.host.change(replace(self.plan, name=message.plan.name, notes=message.plan.notes), message.part)


def _following_name(before: Plan, after: Plan, row: str) -> Plan:
    """A chosen candidate, the row at a path, stays chosen when it is renamed."""
    old, new = (str(value_at(plan, f"{row}.name")) for plan in (before, after))
    if old and before.engine.chosen == old:
        return replace(after, engine=replace(after.engine, chosen=new))
    return after
