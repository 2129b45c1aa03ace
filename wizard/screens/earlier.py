"""The earlier versions of a plan that are kept: when each was so, and in what it differs from the plan of today."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from engine.disk import Disk
from engine.plan import Plan
from engine.planfile import PlanFileError, load_plan
from wizard.history import changes, differences
from wizard.keeping.earlier import Version
from wizard.screens.dialog import Dialog
from wizard.screens.dialogs import ESCAPE
from wizard.widgets.lines import Turnable

_NAMED = 4
"""Fields that differ and are named; more are counted."""


class EarlierScreen(Dialog[Version]):
    """Gives the version that was chosen.   plan: as it is today; None when it cannot be read.   trouble: why not."""

    BINDINGS: ClassVar[list[BindingType]] = [ESCAPE]

    def __init__(self, name: str, plan: Plan | None, trouble: str, found: list[Version], disk: Disk) -> None:
        super().__init__()
        self._name, self._plan, self._trouble, self._found = name, plan, trouble, found
        self._disk = disk

    def compose(self) -> ComposeResult:
        with Vertical(classes="dialog"):
            title = f"Earlier versions of {self._name}. Enter opens one as a plan of its own; nothing is replaced."
            yield Static(title, classes="dialog-title", markup=False)
            if self._trouble:
                yield Static(f"{self._trouble}\n", classes="trouble", markup=False)
            options = [Option(self._line(version)) for version in self._found]
            yield Turnable(*options, markup=False, compact=True)

    def _line(self, version: Version) -> Content:
        return Content.assemble((f"{version.since:%d %b %Y %H:%M}", "bold"), f"  {self._words(version)}")

    def _words(self, version: Version) -> str:
        try:
            plan = load_plan(version.path, self._disk)
        except PlanFileError:
            return "cannot be read"
        if self._plan is None:
            return plan.name
        labels = [label for label, _, _ in differences(changes(self._plan, plan), self._plan)]
        if not labels:
            return "as it is today"
        more = f" and {len(labels) - _NAMED} more" if len(labels) > _NAMED else ""
        return f"differs in: {'; '.join(labels[:_NAMED])}{more}"

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(self._found[event.option_index])
