"""What can be done from any page of an open plan: dialogs over it, and changes to the plan as a whole.

Each dialog is loaded when it is asked for: all of them together would hold up the first frame.
"""

from abc import abstractmethod
from typing import TYPE_CHECKING

from textual.screen import Screen
from textual.widget import Widget

from engine.entries import Kind
from engine.plan import PAGES, entry_at, page_of, with_text, with_units
from wizard.history import Step, place_of, step_words
from wizard.keys import keys_of, printed
from wizard.screens.hosted import ShowsPlan
from wizard.screens.typing import seen_by
from wizard.stages.page import CONTROLS, StagePage
from wizard.stages.review import REVIEW_CONTROLS, ReviewPage
from wizard.widgets.field import FieldChoice, FieldInput

if TYPE_CHECKING:
    from engine.stages.market import WheelRow


class PlanActions(ShowsPlan, Screen[None]):
    """Base of the screen of an open plan. It knows which page is open, not how pages are shown."""

    pages: dict[str, StagePage | ReviewPage]
    """Those that have been opened."""

    @property
    def current(self) -> StagePage | ReviewPage:
        """The page that is open."""
        return self.pages[self.page]

    @property
    def control(self) -> Widget | None:
        """The field or button with the focus; a list of choices counts as its field."""
        widget = self.focused
        while widget is not None and not isinstance(widget, (*CONTROLS, *REVIEW_CONTROLS)):
            widget = widget.parent if isinstance(widget.parent, Widget) else None
        return widget

    @property
    def focused_path(self) -> str:
        """The path of the field with the focus; "" while a button or a list has it."""
        control = self.control
        return control.path if isinstance(control, FieldInput | FieldChoice) else ""

    @abstractmethod
    async def go_to(self, page: str, path: str = "") -> None:
        """Leave this page for another one."""

    async def typing_done(self) -> None:
        """Wait until the field with the focus has got all keys that were typed into it, and take over its text."""
        await seen_by(self.focused)
        self.take_typed()

    def action_help(self) -> None:
        from wizard.screens.help import HelpScreen

        page = self.pages.get(self.page)
        line = page.highlighted if isinstance(page, ReviewPage) else None
        self.lay_over(HelpScreen(self.page, self.focused_path, line.detail if line else ()))

    def action_pages(self) -> None:
        from wizard.screens.dialogs import PageList

        self.lay_over(PageList(self.page), self.go_to)

    async def action_plot(self) -> None:
        await self.typing_done()
        outcome = self.host.assessment.outcomes.get(self.page) if self.host.assessment else None
        if outcome is None or outcome.answers is None:
            no_plot = (
                "This page has no plot." if self.page == PAGES[-1] else "There is no plot yet: there are no answers."
            )
            self.host.tell_here(no_plot)
            return
        from wizard.screens.plot import PlotScreen
        from wizard.stages.plots import chart_of

        chart = chart_of(self.page, outcome.answers, self.plan.units, of_motor=outcome.of_motor)
        self.lay_over(PlotScreen(chart, self.page))

    async def action_workings(self) -> None:
        from wizard.screens.workings import WorkingsScreen

        await self.typing_done()
        if self.host.assessment is None:
            self.host.tell_here("Nothing has been worked out yet.")
            return

        workings = WorkingsScreen(self.page, self.plan, self.host.assessment)
        self.lay_over(workings, lambda target: self.go_to(*target))

    async def action_compare(self) -> None:
        from wizard.screens.compare import CompareScreen

        await self.typing_done()
        self.lay_over(CompareScreen(self.host.assess))

    async def action_units(self) -> None:
        from engine.stages.shaft_size import shaft_system

        await self.typing_done()
        other = "metric" if self.plan.units == "imperial" else "imperial"
        before = shaft_system(self.plan)
        if not self.host.change(with_units(self.plan, other)):
            return
        await self.current.follow(self.plan)  # a bare number in the focused field would be read in the other unit
        self.refresh_results()
        told = f"Units are {other} now. What you typed stays as you typed it."
        after, assessment = shaft_system(self.plan), self.host.assessment
        if after != before and assessment and assessment.outcomes["shaft"].answers is not None:
            told += (
                f" The shaft is looked for among {after} bar now, no longer {before}: the shaft page lets you choose."
            )
        self.host.tell_here(told)

    def action_colours(self) -> None:
        self.host.next_colours()

    def action_glossary(self) -> None:
        from wizard.screens.glossary import GlossaryScreen

        self.lay_over(GlossaryScreen())

    async def action_unsure(self) -> None:
        from wizard.screens.unsure import UnsureScreen

        path = self.focused_path
        if not path or entry_at(path).kind in (Kind.TEXT, Kind.CHOICE, Kind.DAY):
            self.host.tell_here("Go to a field with a number first; this asks how sure you are of it.")
            return

        async def take(text: str) -> None:
            self.host.end_step()
            self.host.change(with_text(self.plan, path, text), path)
            self.host.end_step()
            await self.follow_plan()

        await self.typing_done()
        section, field_or_table, *_ = path.split(".")
        self.lay_over(UnsureScreen(self.plan, path), take, about=f"{section}.{field_or_table}")

    async def action_undo(self) -> None:
        await self.typing_done()
        await self._went(self.host.undo(), back=True)

    async def action_redo(self) -> None:
        await self.typing_done()
        await self._went(self.host.redo(), back=False)

    async def _went(self, step: Step | None, *, back: bool) -> None:
        """Show what was taken back or made again, on the page and field where it is."""
        if step is None:
            self.host.tell_here(f"There is nothing to {'take back' if back else 'make again'}.")
            return
        await self.follow_plan()
        path = place_of(step)
        page = page_of(path)
        if page:
            await self.go_to(page, path)
        history = self.host.history
        more = (
            f"{printed(keys_of('redo')[-1])} makes it again; {history.at or 'nothing'} more can be taken back."
            if back
            else f"{len(history.steps) - history.at or 'Nothing'} more can be made again."
        )
        words = step_words(step, self.plan, back=back)
        self.host.tell_here(f"{'Taken back' if back else 'Made again'}: {words}. {more}")

    async def follow_plan(self) -> None:
        """Bring every page that has been opened up to a plan that was changed as a whole."""
        for page in self.pages.values():
            await page.follow(self.plan)
        self.refresh_results()

    async def action_market(self) -> None:
        from wizard.screens.market import MarketScreen

        await self.typing_done()
        self.lay_over(MarketScreen(self.host.search), self._take_wheel)

    async def _take_wheel(self, row: "WheelRow") -> None:
        """Put a wheel of the market and its ratio into the plan."""
        from wizard.wheels import taken

        if not self.host.change(taken(self.plan, row)):
            return
        await self.follow_plan()
        self.host.tell(
            f"Taken into the plan: {row.size}, {row.sections}, with {row.ratio:.4g}:1. To go back to the recommended "
            "ones, empty diameter, pitch and ratio."
        )

    async def action_report(self) -> None:
        await self.ask_for_sheet()

    async def ask_for_sheet(self, sheet: str = "") -> None:
        """Ask for form and file of a sheet, and for the sheet when none is named; it is written then."""
        from wizard.screens.sheet import SheetScreen

        await self.typing_done()
        if self.host.plan_path is None:
            self.host.tell_here("The tour keeps nothing. Open a plan of your own, or a demonstration, to print it.")
            return
        self.lay_over(SheetScreen(self.host.plan_path, sheet), self.host.write_sheet)

    async def action_plans(self) -> None:
        await self.host.close_plan()

    def action_leave(self) -> None:
        self.host.leave()
