"""The screen of one open plan: the rail, the page with its form, and what the engine makes of it."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Button, ContentSwitcher, Static

from engine.plan import PAGES, Plan, text_at, value_at, with_row, with_text, without_row
from wizard.echo import hint
from wizard.examples import TABLES, with_example
from wizard.keys import PLAN_ACTIONS, bindings
from wizard.screens.dialogs import ConfirmScreen, ExampleList, PageList, PlotScreen, ReportScreen
from wizard.screens.help import HelpScreen
from wizard.screens.market import MarketScreen
from wizard.screens.sizes import HEIGHTS, TOO_SMALL, TWO_COLUMNS, WIDTHS
from wizard.stages.page import GoTo, SearchAsked, StagePage
from wizard.stages.review import HeadInput, PlanEdited, ReviewPage
from wizard.states import mending_page
from wizard.wheels import taken
from wizard.widgets.cautions import CautionsPane
from wizard.widgets.field import Accepted, Edited, FieldChoice, FieldInput, FieldLine, Focused
from wizard.widgets.keyline import KeyLine
from wizard.widgets.rail import Rail
from wizard.widgets.rows import ExampleAsked, RowAdded, RowChosen, RowRemoved
from wizard.widgets.view import StageView

BUTTON_HINT = "Enter presses the button; Tab and the arrows go on to the next line."

if TYPE_CHECKING:
    from engine.stages.market import WheelRow
    from wizard.app import ShaftlogApp


class PlanningScreen(Screen[None]):
    """Everything about one plan. The plan itself lives on the app; this screen only shows it and asks for changes."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(PLAN_ACTIONS),
        Binding("enter", "follow", "Go to the page that the button names", id="follow", show=False, priority=True),
        Binding("down", "move(1)", "Next field", id="down", show=False),
        Binding("up", "move(-1)", "Field before", id="up", show=False),
        Binding("pagedown", "scroll_view(1)", "Scroll the answers down", id="pagedown", show=False),
        Binding("pageup", "scroll_view(-1)", "Scroll the answers up", id="pageup", show=False),
    ]
    AUTO_FOCUS = ""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.page = page

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", self.app)

    @property
    def plan(self) -> Plan:
        """The plan as it is now."""
        return self.host.plan

    def compose(self) -> ComposeResult:
        yield Static(TOO_SMALL, id="too-small", markup=False)
        yield Rail()
        with Container(id="body"):
            with Vertical(id="left"):
                yield ContentSwitcher(id="pages")
                yield Static("", id="hint", markup=False)
            with Vertical(id="right"):
                yield StageView()
                yield CautionsPane()
        yield KeyLine(PLAN_ACTIONS)

    async def on_mount(self) -> None:
        await self._open(self.page)

    # what the page shows

    @property
    def current(self) -> StagePage | ReviewPage:
        """The page that is open."""
        return cast("StagePage | ReviewPage", self.query_one(f"#page-{self.page}"))

    async def _open(self, page: str, path: str = "") -> None:
        """Show a page, mounting it on the first visit."""
        switcher = self.query_one("#pages", ContentSwitcher)
        if not self.query(f"#page-{page}"):
            opened = ReviewPage(self.plan) if page == "review" else StagePage(self.plan, page)
            await switcher.mount(opened)
        self.page = page
        switcher.current = f"page-{page}"
        self.current.show(self.plan)
        self.set_class(page == "review", "-review")
        self.query_one("#view").display = page != "review"
        self.query_one(CautionsPane).display = page == "review"
        if page == "review":
            self.query_one("#hint", Static).update("Enter on a line goes to the page and field that it is about.")
        self.refresh_results()
        if path and isinstance(self.current, StagePage):
            await self.current.reveal(path)
        if not (path and self.current.focus_path(path)):
            self.current.focus_first()
        self.call_after_refresh(self._show_focused)

    def _show_focused(self) -> None:
        """A page that has just been mounted knows only after its first layout where its fields are."""
        if self.focused is not None:
            self.focused.scroll_visible(animate=False)

    async def go_to(self, page: str, path: str = "") -> None:
        """Leave this page for another one; the plan remembers where the owner is and is saved."""
        self.take_typed()
        if self.plan.stage != page:
            self.host.change(replace(self.plan, stage=page))
            self.host.save_now()
        await self._open(page, path)

    def refresh_results(self) -> None:
        """Show the latest assessment on the rail, in the view, and on the review page."""
        if not self.query(Rail):
            return  # a result on its way while the screen is being built or taken down
        host = self.host
        self.query_one(Rail).show(self.plan, self.page, host.assessment)
        page = self.current
        if isinstance(page, ReviewPage):
            page.show_assessment(host.assessment)
            self.query_one(CautionsPane).show()
            return
        outcome = host.assessment.outcomes.get(self.page) if host.assessment else None
        aside = host.failure or ("updating" if host.is_updating else "")
        self.query_one(StageView).show(self.page, outcome, self.plan.units, aside)
        waits = outcome is not None and outcome.answers is None
        page.show_mend(mending_page(self.page, self.plan, host.assessment) if waits else "")

    # what the owner does

    def take_typed(self) -> None:
        """Take over text whose message is still on its way, so that a quick key after it cannot lose a letter."""
        field = self.focused
        if isinstance(field, FieldInput) and field.value != text_at(self.plan, field.path):
            self.host.change(with_text(self.plan, field.path, field.value))
        elif isinstance(field, HeadInput):
            self.host.change(field.taken_into(self.plan))

    @on(Edited)
    def _edited(self, message: Edited) -> None:
        before = self.plan
        plan = with_text(before, message.path, message.text)
        table, _, field = message.path.rpartition(".")
        if table.rpartition(".")[0] in TABLES and field == "name":
            plan = _following_name(before, plan, table)
        self.host.change(plan)
        self.current.show(plan, message.path)
        self.refresh_results()

    @on(PlanEdited)
    def _plan_edited(self, message: PlanEdited) -> None:
        self.host.change(replace(self.plan, name=message.plan.name, notes=message.plan.notes))

    @on(Accepted)
    def _accepted(self) -> None:
        page = self.current
        if isinstance(page, StagePage):
            page.go_on(self._control())

    @on(Focused)
    def _focused(self, message: Focused) -> None:
        self.current.last_path = message.path
        self.query_one("#hint", Static).update(hint(message.path))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """A button has no help of its own; that of the field before it must not stand there."""
        if isinstance(event.widget, Button) and isinstance(self.current, StagePage):
            self.query_one("#hint", Static).update(BUTTON_HINT)

    @on(GoTo)
    async def _go_to(self, message: GoTo) -> None:
        await self.go_to(message.page, message.path)

    @on(SearchAsked)
    def _search_asked(self) -> None:
        self.action_market()

    @on(RowAdded)
    async def _row_added(self, message: RowAdded) -> None:
        section, name = message.table.split(".")
        index = len(getattr(getattr(self.plan, section), name))
        self.host.change(with_row(self.plan, message.table))
        await self._rows_changed(message.table, f"{message.table}.{index}.")

    @on(RowRemoved)
    def _row_removed(self, message: RowRemoved) -> None:
        async def remove(is_sure: bool | None) -> None:
            if is_sure:
                self.host.change(without_row(self.plan, message.table, message.index))
                await self._rows_changed(message.table, message.table)

        self.app.push_screen(ConfirmScreen("Take this row out of the plan?", "Remove it", "Keep it"), remove)

    @on(RowChosen)
    def _row_chosen(self, message: RowChosen) -> None:
        name = str(value_at(self.plan, f"{message.table}.{message.index}.name"))
        if not name or [item.name for item in self.plan.engine.all].count(name) > 1:
            self.host.tell("Give this candidate a name of its own first, then choose it.")
            return
        self.host.change(replace(self.plan, engine=replace(self.plan.engine, chosen=name)))
        self.current.show(self.plan)
        self.refresh_results()

    @on(ExampleAsked)
    def _example_asked(self, message: ExampleAsked) -> None:
        async def add(name: str | None) -> None:
            if name:
                index = len(getattr(self.plan.engine, message.table.partition(".")[2]))
                self.host.change(with_example(self.plan, message.table, name))
                await self._rows_changed(message.table, f"{message.table}.{index}.")

        self.take_typed()
        self.app.push_screen(ExampleList(message.table), add)

    async def _rows_changed(self, table: str, focus: str) -> None:
        page = self.current
        if isinstance(page, StagePage):
            await page.rebuild_rows(self.plan, table)
            paths = [line.path for line in page.query(FieldLine)]
            first = next((path for path in paths if path.startswith(focus)), "")
            if not (focus.endswith(".") and page.focus_path(first)):
                page.focus_path(table)
            self.call_after_refresh(self._show_focused)
        self.refresh_results()

    def _control(self) -> Widget | None:
        """The field or button with the focus; a list of choices counts as its field."""
        widget = self.focused
        controls = self.current.controls()
        while widget is not None and widget not in controls:
            widget = widget.parent if isinstance(widget.parent, Widget) else None
        return widget

    # keys

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Enter follows a button that leads to a page; anywhere else it is left to the field."""
        del parameters
        return bool(self._page_behind_focus()) if action == "follow" else True

    def _page_behind_focus(self) -> str:
        page = self.current if self.query(f"#page-{self.page}") else None
        return page.page_behind(self.focused) if isinstance(page, StagePage) else ""

    async def action_follow(self) -> None:
        await self.go_to(self._page_behind_focus())

    def action_move(self, step: int) -> None:
        self.current.move(self._control(), step)

    def action_scroll_view(self, direction: int) -> None:
        pane = self.query_one(CautionsPane) if self.page == "review" else self.query_one(StageView)
        pane.scroll_page(direction)

    def action_help(self) -> None:
        control = self._control()
        path = control.path if isinstance(control, FieldInput | FieldChoice) else ""
        self.app.push_screen(HelpScreen(self.page, path))

    async def action_next_page(self) -> None:
        await self.go_to(PAGES[min(PAGES.index(self.page) + 1, len(PAGES) - 1)])

    async def action_previous_page(self) -> None:
        await self.go_to(PAGES[max(PAGES.index(self.page) - 1, 0)])

    def action_pages(self) -> None:
        async def go(page: str | None) -> None:
            if page:
                await self.go_to(page)

        self.app.push_screen(PageList(self.plan, self.page, self.host.assessment), go)

    def action_view(self) -> None:
        if self.page == "review":
            return
        shown = self.query_one(StageView).cycle()
        self.set_class(shown == "plot", "-plot")

    def action_plot(self) -> None:
        outcome = self.host.assessment.outcomes.get(self.page) if self.host.assessment else None
        if outcome is None or outcome.answers is None:
            self.host.tell("There is no plot yet: this page has no answers to draw.")
            return
        from wizard.stages.plots import chart_of

        self.app.push_screen(PlotScreen(chart_of(self.page, outcome.answers, self.plan.units)))

    def action_units(self) -> None:
        self.take_typed()
        other = "metric" if self.plan.units == "imperial" else "imperial"
        self.host.change(replace(self.plan, units=other))
        self.current.show(self.plan)
        self.refresh_results()
        self.host.tell(f"Units are {other} now. What you typed stays as you typed it.")

    def action_market(self) -> None:
        self.take_typed()
        self.app.push_screen(MarketScreen(self.host.search), self._take_wheel)

    def _take_wheel(self, row: "WheelRow | None") -> None:
        """Put a wheel of the market and its ratio into the plan."""
        if row is None:
            return
        self.host.change(taken(self.plan, row))
        page = self.current
        page.show(self.plan)
        if isinstance(page, StagePage):
            page.tidy()
        self.refresh_results()
        self.host.tell(
            f"Taken into the plan: {row.size}, {row.sections}, with {row.ratio:.4g}:1. To go back to the recommended "
            "ones, empty diameter, pitch and ratio."
        )

    def action_report(self) -> None:
        self.take_typed()
        assert self.host.plan_path is not None, "this screen only stands over an open plan"
        folder: Path = self.host.plan_path.parent
        self.app.push_screen(ReportScreen(folder / f"{self.host.plan_path.stem}-report.txt"), self.host.write_report)

    async def action_plans(self) -> None:
        await self.host.close_plan()

    def action_leave(self) -> None:
        self.host.leave()

    def on_resize(self, event: events.Resize) -> None:
        """One column or two, by the width of the window."""
        view = self.query_one(StageView)
        is_wide = event.size.width >= TWO_COLUMNS
        if view.is_wide != is_wide:
            view.set_wide(is_wide)
            self.set_class(view.current == "plot", "-plot")
        if self.query(f"#page-{self.page}"):
            self.call_after_refresh(self._refocus)

    def _refocus(self) -> None:
        """A window that was too small for a while has taken the focus away; give it back."""
        if self.focused is None and self.query(f"#page-{self.page}"):
            self.current.focus_first()


def _following_name(before: Plan, after: Plan, row: str) -> Plan:
    """A chosen candidate, the row at a path, stays chosen when it is renamed."""
    old, new = (str(value_at(plan, f"{row}.name")) for plan in (before, after))
    if old and before.engine.chosen == old:
        return replace(after, engine=replace(after.engine, chosen=new))
    return after
