"""The screen of one open plan: the rail, the page with its form, and what the engine makes of it."""

import asyncio
from dataclasses import replace
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Vertical
from textual.widgets import Button, Static

from engine.plan import PAGES, page_of, stage_problems, text_at
from wizard.echo import hint, unread_words
from wizard.history import place_of
from wizard.keys import PLAN_ACTIONS, action_of, bindings, keys_of
from wizard.measures import doubt_words
from wizard.screens.plan_keys import PlanKeys
from wizard.screens.sizes import HEIGHTS, TWO_COLUMNS, WIDTHS, too_small
from wizard.stages.page import GoTo, SearchAsked, StagePage
from wizard.stages.review import LineShown, ReviewPage, SheetAsked
from wizard.stages.switcher import PageSwitcher
from wizard.states import mending_page
from wizard.tour import CHANGED, Sight, Tour
from wizard.upsets import upset_line
from wizard.widgets.cautions import CautionsPane
from wizard.widgets.field import Focused
from wizard.widgets.hint import Hint
from wizard.widgets.keyline import KeyLine
from wizard.widgets.line_detail import LineDetail
from wizard.widgets.rail import Rail
from wizard.widgets.say import say
from wizard.widgets.tour_strip import TourStrip
from wizard.widgets.view import StageView
from wizard.wrapping import rows_of

HINT_ROWS = ((30, 4), (22, 3), (0, 2))
"""(rows of the window, rows of text under the form from there on); app.tcss has one more for the line above. In a
window of 24 rows a fourth would leave the form with less than a third of it."""
UPSET_ROWS = 2
REST = " ... F2 has the rest"
TOUR_LOOKS = 0.2
"""Seconds between two looks of the tour at what is being done."""
IDLE = {PAGES[0]: frozenset({"previous_page"}), PAGES[-1]: frozenset({"next_page", "view", "plot", "unsure"})}
"""Page -> actions that come to nothing on it: the line of keys leaves them out."""
BUTTON_HINT = "Enter presses the button; Tab and the arrows go on to the next line."


async def _let_others() -> None:
    """Let what has come in meanwhile have its turn: a key goes from the terminal to its widget in two."""
    for _ in range(2):
        await asyncio.sleep(0)


class PlanningScreen(PlanKeys):
    """Everything about one plan. The plan itself lives on the app; this screen only shows it and asks for changes."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(PLAN_ACTIONS),
        Binding("enter", "accept", "Accept the field, press the button", id="accept", show=False, priority=True),
        Binding("down,tab", "move(1)", "Next field", id="down", show=False, priority=True),
        Binding("up,shift+tab", "move(-1)", "Field before", id="up", show=False, priority=True),
        Binding("right", "move_beside(1)", "Button beside", id="right", show=False, priority=True),
        Binding("left", "move_beside(-1)", "Button before", id="left", show=False, priority=True),
        Binding("escape", "on_or_back", "Go on with the tour, or back to the review", id="on-or-back", show=False),
        Binding("pagedown", "scroll_view(1)", "Scroll the answers down", id="pagedown", show=False),
        Binding("pageup", "scroll_view(-1)", "Scroll the answers up", id="pageup", show=False),
    ]
    AUTO_FOCUS = ""
    actions = PLAN_ACTIONS
    leaving = keys_of("leave")
    DEFAULT_CSS = """
    PlanningScreen #upset { height: auto; padding: 0 1; color: $warning; background: $surface; }
    PlanningScreen #upset.-trouble { color: $error; }
    """

    def __init__(self, page: str, tour: Tour | None = None) -> None:
        super().__init__()
        self.page = self._first_page = page
        self._tour = tour
        self._is_sent_by_review = False
        self._rail, self._pages, self._view = Rail(), PageSwitcher(), StageView()
        self.pages = self._pages.opened
        self._detail, self._cautions = LineDetail(), CautionsPane()
        self._right = Vertical(self._view, self._detail, self._cautions, id="right")
        self._hint, self._upset = Hint(), Static("", id="upset", markup=False)
        self._keys = KeyLine(PLAN_ACTIONS)

    def compose(self) -> ComposeResult:
        yield Static(too_small(f"{action_of('leave').key_names}: save and quit"), id="too-small", markup=False)
        yield self._rail
        if self._tour is not None:
            yield TourStrip(self._tour)
        with Container(id="body"):
            with Vertical(id="left"):
                yield self._pages
                yield self._hint
            yield self._right
        yield self._upset
        yield self._keys

    def on_mount(self) -> None:
        if self._tour is not None:
            self.set_interval(TOUR_LOOKS, self._look)

    # the tour

    def _look(self) -> None:
        """Let the tour see what the owner does."""
        over = self.app.screen
        sight = Sight(
            self.page,
            self.focused_path,
            text_at(self.plan, CHANGED),
            self._view.current,
            "" if over is self else type(over).__name__,
        )
        self.query_one(TourStrip).look(sight)

    async def action_on_or_back(self) -> None:
        """Esc goes back to the review from where a line of it has led to; else on with the tour, when there is one."""
        if self._is_sent_by_review:
            await self.go_to("review")
        elif self._tour is not None:
            self.query_one(TourStrip).go_on()

    # what the page shows

    async def _open_first(self, page: str) -> None:
        """Open the first page; the engine takes longer, and comes behind."""
        await self._open(page, last=self._worked_on(page))
        self.call_after_refresh(self.call_after_refresh, self.host.work_out)

    def _worked_on(self, page: str) -> str:
        """What was changed last, where it is on a page on which nothing is missing; else ""."""
        step = self.host.history.last
        path = "" if step is None or stage_problems(self.plan, page) else place_of(step)
        return path if page_of(path) == page else ""

    async def _open(self, page: str, path: str = "", last: str = "") -> None:
        """Show a page; on the first visit it is mounted, as much of it as the window has room for. That is painted
        before the rest, and before what the engine makes of it: all at once would hold the screen up.

        path: that is to have the focus, "" for where the owner left the page.   last: that was it, before this run.
        """
        with self.app.batch_update():
            await self._put_up(page, path, self._form_rows + 1, last)
            await _let_others()
        self.call_after_refresh(self.show_focused)
        self.call_after_refresh(self._open_rest)

    async def _open_rest(self) -> None:
        if self.is_built:
            self._show_results()
        with self.app.batch_update():
            await self.put_up_rest()

    @property
    def _form_rows(self) -> int:
        """Rows that the form has in the window, or more while it has not been laid out."""
        return self._pages.size.height or self.size.height

    async def _put_up(self, page: str, path: str, least: int, last: str) -> None:
        is_new = page not in self.pages
        if not await self._pages.bring(page, self.plan, least, last):
            return
        if is_new:
            self.host.has_been_built()
        self.page = page
        self._pages.current = f"page-{page}"
        self.current.show(self.plan)
        for part in (self._right, self._hint):
            part.set_class(page == "review", "-review")
        self._show_plot_large()
        self._view.display = page != "review"
        self._detail.display = page == "review"
        self._cautions.display = page == "review" and self._view.is_wide
        self._keys.leave_out(IDLE.get(page, frozenset()))
        self._is_sent_by_review = False
        if path and isinstance(self.current, StagePage):
            await self.current.reveal(path)
        if not (path and self.current.focus_path(path)):
            self.current.focus_first()
        self._show_around()

    async def go_to(self, page: str, path: str = "") -> None:
        """Leave this page for another one; the plan remembers where the owner is and is saved."""
        await self.typing_done()
        self.host.end_step()
        self.host.gone_on()
        if self.plan.stage != page:
            self.host.change(replace(self.plan, stage=page))
            self.host.save_now()
        await self._open(page, path)

    def refresh_results(self) -> None:
        """Show the latest assessment on the rail, in the view, and on the review page."""
        if not self.is_built:
            return  # a result on its way
        self._show_around()
        self._show_results()

    def _show_results(self) -> None:
        """The outcome in the view, or all of the assessment on the review page."""
        host, page = self.host, self.current
        if isinstance(page, ReviewPage):
            page.show_assessment(host.assessment, host.failure)
            self._cautions.show()
            return
        self.refresh_view()

    def _show_around(self) -> None:
        """What of the latest assessment is not in the view: rail, hint, what the last change upset, and which page
        mends this one."""
        assessment, page = self.host.assessment, self.current
        self._rail.show(self.plan, self.page, assessment)
        self._show_hint()
        self._show_upset()
        if isinstance(page, StagePage):
            page.show_mend(mending_page(self.page, assessment))

    def refresh_view(self) -> None:
        """Show the newest outcome of the page, and whether it is of the plan as it is now."""
        host = self.host
        aside = host.failure or ("updating" if host.is_old(self.page) else "")
        if self.is_built:
            unread = unread_words(self.plan, self.page, but=self.focused_path)
            self._view.show(self.page, host.outcome_of(self.page), self.plan.units, aside, unread)
            self._show_plot_large()

    # what the owner does

    @on(Focused)
    def _focused(self, message: Focused) -> None:
        self.current.last_path = message.path
        self._show_hint()

    def _show_upset(self) -> None:
        """What is wrong with the file, as long as it is; else what the last change did to later pages, where there is
        room for pages."""
        trouble = self.host.trouble
        place, line = self._upset, trouble or upset_line(self.host.upsets)
        place.display = bool(trouble or (line and not self.is_too_small))
        place.set_class(bool(trouble), "-trouble")
        width, rest = max(self.size.width - 2, 20), " ..." if trouble else REST
        say(place, "\n".join(rows_of(line, width, max_lines=UPSET_ROWS, placeholder=rest)))

    def _show_hint(self) -> None:
        """What is known of the field with the focus, and how much of the doubt it makes."""
        path, assessment = self.focused_path, self.host.assessment
        if not path:
            return
        plan, height = self.plan, self.size.height
        rows = next(rows for least, rows in HINT_ROWS if height >= least)
        doubt = doubt_words(assessment, path, plan.units) if assessment is not None else ""
        self._hint.show(lambda width: hint(plan, path, doubt, width, rows))

    @on(Hint.Refitted)
    def _hint_refitted(self) -> None:
        self.call_after_refresh(self.show_focused)

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """A button has no help of its own; that of the field before it must not stand there. What was not understood in
        the field that was left is told now."""
        if self.plan.unread and self._view.display:
            self.refresh_view()
        if isinstance(event.widget, Button) and isinstance(self.current, StagePage):
            self._hint.show(lambda _width: BUTTON_HINT)

    @on(GoTo)
    async def _go_to(self, message: GoTo) -> None:
        is_same_again = self._is_sent_by_review and self.page == message.page  # Enter came twice
        is_sent_by_review = is_same_again or (self.page == "review" and message.page != "review")
        await self.go_to(message.page, message.path)
        self._is_sent_by_review = is_sent_by_review

    @on(LineShown)
    def _line_shown(self, message: LineShown) -> None:
        self._detail.show(message.line)

    @on(SheetAsked)
    async def _sheet_asked(self, message: SheetAsked) -> None:
        await self.ask_for_sheet(message.sheet)

    @on(SearchAsked)
    async def _search_asked(self) -> None:
        await self.action_market()

    # keys

    def action_scroll_view(self, direction: int) -> None:
        pane = self._cautions if self.page == "review" else self._view
        pane.scroll_page(direction)

    def action_view(self) -> None:
        if self.page == "review":
            self.host.tell_here("This page has no other view.")
            return
        self._view.cycle()
        self._show_plot_large()

    def _show_plot_large(self) -> None:
        """Give the plot more of the window, once there is one; the review has none. The classes are on these parts
        alone: on the screen, all that is on any page would be styled anew."""
        for part in (self._right, self._hint):
            part.set_class(self._view.shows_plot and self.page != "review", "-plot")

    def on_resize(self, event: events.Resize) -> None:
        """One column or two, by the width of the window."""
        view = self._view
        is_wide = event.size.width >= TWO_COLUMNS
        if view.is_wide != is_wide:
            view.set_wide(is_wide)
            self._show_plot_large()
            self._cautions.display = self.page == "review" and is_wide
        if self._first_page:  # only now, as a new size styles all there is anew
            self.call_later(self._open_first, self._first_page)
            self._first_page = ""
        if self.is_built:
            self.call_after_refresh(self._settle)

    def _settle(self) -> None:
        """Set the lines for the new size. A window that was too small for a while has taken the focus away."""
        if not self.is_built:
            return
        if self.focused is None:
            self.current.focus_first()
        self._show_hint()
        self._show_upset()
        self.call_after_refresh(self.show_focused)
