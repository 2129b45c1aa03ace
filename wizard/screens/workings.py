"""How the numbers of a page were worked out: a list of them, and the working of one, from which one goes on to what
goes into it."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from engine.plan import STAGES, Plan
from wizard.keys import keys_of
from wizard.screens.dialog import Dialog, at_once
from wizard.screens.hosted import ShowsResults
from wizard.screens.sizes import HEIGHTS, TWO_COLUMNS, WIDTHS, too_small
from wizard.widgets.lines import Turnable
from wizard.working_text import Number, Part, head_lines, list_lines, numbers_of, trail_text, working_parts

if TYPE_CHECKING:
    from engine.assessment import Assessment

TITLE = "How it was worked out"
KEYS_CHOOSING = (
    "Up, down: numbers  Enter: what goes into it  PgDn: text  F1 help  Esc closes",
    "Enter: what goes into it  PgDn: text  F1 help  Esc closes",
)
KEYS_INSIDE = (
    "Enter opens an answer, goes to a field  Left: back  PgDn: text  F1 help  F11 closes",
    "Enter opens or goes  Left: back  PgDn: text  F1 help  F11 closes",
    "Enter opens or goes  Left: back  PgDn: text  F11 closes",
)
"""What keys do in the list and in a working, the longest that fits."""
_LIST_PER_CENT = 44
"""Share of a wide window that the list has, as in workings.tcss."""
_EDGES = 4
"""Columns of a pane that hold no text: its edge, padding and scroll bar."""


@dataclass
class _Step:
    """One working on the way.   chosen: the line of it that was highlighted last."""

    number: Number
    chosen: int | None = None


class WorkingsScreen(ShowsResults, Dialog[tuple[str, str]]):
    """Gives the page and path of the field to which the owner wants to go; Esc gives none."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [
        at_once(",".join(keys_of("workings")), "dismiss", "Close", "workings-close"),
        at_once("escape", "back(True)", "Back, or close", "workings-escape"),
        at_once("left,backspace", "back(False)", "Back", "workings-back"),
        at_once("enter", "go_in(True)", "What goes into it", "workings-enter"),
        at_once("right", "go_in(False)", "What goes into it", "workings-right"),
        at_once("up", "move(-1)", "Line before", "workings-up"),
        at_once("down", "move(1)", "Next line", "workings-down"),
        at_once("home", "end(0)", "First line", "workings-home"),
        at_once("end", "end(-1)", "Last line", "workings-end"),
        at_once("pageup", "page(-1)", "Scroll up", "workings-page-up"),
        at_once("pagedown", "page(1)", "Scroll down", "workings-page-down"),
        at_once(",".join(keys_of("help")), "help", "Help", "workings-help"),
    ]
    AUTO_FOCUS = "#numbers"

    def __init__(self, page: str, plan: Plan, assessment: "Assessment") -> None:
        super().__init__()
        self._page, self._plan, self._assessment = page, plan, assessment
        self._found: list[Number] = []
        self._listed: list[Number | None] = []
        self._parts: list[Part] = []
        self._trail: list[_Step] = []
        self._is_inside = False
        self._set_for = 0

    def compose(self) -> ComposeResult:
        yield Static(too_small(), id="too-small", markup=False)
        with Vertical(id="workings"):
            yield Static("", id="workings-title", markup=False)
            with Container(id="workings-panes"):
                yield Turnable(id="numbers", markup=False, compact=True)
                with Vertical(id="working-pane"):
                    yield Static("", id="working-head", markup=False)
                    yield Turnable(id="working", markup=False, compact=True)
            yield Static("", id="workings-keys", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self._take()
        self._show_all()

    def on_resize(self, event: events.Resize) -> None:
        """Set the lines for a new width."""
        if event.size.width != self._set_for:
            self._show_all()

    def refresh_results(self) -> None:
        """Take the latest assessment, and stay with the number that was looked at, if there still is one."""
        if not self.query("#workings"):
            return  # a result on its way while the screen is being built or taken down
        self._plan = self.host.plan
        self._assessment = self.host.assessment or self._assessment
        self._take()
        self._show_all()

    def _take(self) -> None:
        """List the numbers that there are; when the one that is looked at is not among them, look at the first."""
        self._found = numbers_of(self._page, self._assessment)
        if not self._trail or self._trail[0].number not in self._found:
            self._trail, self._is_inside = [_Step(self._found[0])], False

    # what is shown

    @property
    def _numbers(self) -> OptionList:
        return self.query_one("#numbers", OptionList)

    @property
    def _working(self) -> OptionList:
        return self.query_one("#working", OptionList)

    @property
    def _is_wide(self) -> bool:
        return self.size.width >= TWO_COLUMNS

    @property
    def _widths(self) -> tuple[int, int]:
        """Columns for the text of the list and of the working."""
        width = self.size.width
        left = width * _LIST_PER_CENT // 100 if self._is_wide else width
        return left - _EDGES, (width - left if self._is_wide else width) - _EDGES

    def _show_all(self) -> None:
        self._set_for = self.size.width
        self._show_numbers()
        scrolled = self._working.scroll_y
        self._show_working()
        if self._is_inside:
            self.call_after_refresh(self._working.scroll_to_highlight)
        else:
            self._working.scroll_to(y=scrolled, animate=False)

    def _show_numbers(self) -> None:
        """The list; of the review page under the name of each page."""
        lines = list_lines(self._found, self._assessment, self._plan.units, self._widths[0])
        self._listed, options = [], []
        for number, line in zip(self._found, lines, strict=True):
            is_first = not self._listed or cast("Number", self._listed[-1]).page != number.page
            if is_first and self._page not in STAGES:
                options.append(Option(Content(number.page.capitalize()), disabled=True))
                self._listed.append(None)
            options.append(Option(Content(line)))
            self._listed.append(number)
        self._numbers.set_options(options)
        self._numbers.highlighted = self._listed.index(self._trail[0].number)

    def _show_working(self) -> None:
        """The working at the end of the trail, from its top; in a narrow window all of it once one has gone in."""
        step = self._trail[-1]
        width = self._widths[1]
        label, value = head_lines(step.number, self._assessment, self._plan.units, width)
        self.query_one("#working-head", Static).update(Content.assemble((label, "bold"), "\n", value))
        self._parts = working_parts(step.number, self._plan, self._assessment, width)
        options = [
            Option(Content.styled(part.text, "bold $primary") if part.is_heading else Content(part.text))
            for part in self._parts
        ]
        for option, part in zip(options, self._parts, strict=True):
            option.disabled = part.leads_to is None
        self._working.set_options(options)
        self._working.scroll_home(animate=False, immediate=True)
        self._show_focus()

    def _show_focus(self) -> None:
        """Give the focus to the pane in which one is, highlight its line, and say what keys do there."""
        inputs, step = self._inputs, self._trail[-1]
        self._numbers.display = self._is_wide or not self._is_inside
        self.set_focus(self._working if self._is_inside else self._numbers)
        if self._is_inside and step.chosen not in inputs:
            step.chosen = inputs[0] if inputs else None
        self._working.highlighted = step.chosen if self._is_inside else None
        keys = KEYS_INSIDE if self._is_inside else KEYS_CHOOSING
        fitting = (line for line in keys if len(line) <= self.size.width - 2)
        self.query_one("#workings-keys", Static).update(next(fitting, keys[-1]))
        self.query_one("#workings-title", Static).update(self._title())

    def _title(self) -> str:
        host = self.host
        state = " (updating)" if host.is_updating else " (not up to date)" if host.failure else ""
        title = f"{TITLE}{state}: "
        return title + trail_text([step.number for step in self._trail], self.size.width - len(title) - 2)

    @property
    def _inputs(self) -> list[int]:
        """The lines of the working that lead somewhere."""
        return [index for index, part in enumerate(self._parts) if part.leads_to is not None]

    # keys

    def on_descendant_focus(self) -> None:
        """Tab goes from one pane to the other."""
        is_inside = self.focused is self._working
        if is_inside is not self._is_inside:
            self._is_inside = is_inside
            self._leave_trail()

    def _leave_trail(self) -> None:
        """Back in the list the working is that of the number highlighted there."""
        if not self._is_inside and len(self._trail) > 1:
            del self._trail[1:]
            self._show_working()
        else:
            self._show_focus()

    def action_move(self, step: int) -> None:
        """Go to the next line up or down; past the last line that can be chosen, scroll."""
        if not self._is_inside:
            self._choose([place for place, number in enumerate(self._listed) if number is not None], step)
        else:
            self._go_along(step)

    def _choose(self, places: list[int], step: int) -> None:
        here = places.index(self._numbers.highlighted or places[0])
        self._look_at(places[min(max(here + step, 0), len(places) - 1)])

    def _look_at(self, place: int) -> None:
        """Highlight a number of the list and show its working."""
        number = self._listed[place]
        self._numbers.highlighted = place
        if number is not None and number != self._trail[0].number:
            self._trail = [_Step(number)]
            self._show_working()

    def _go_along(self, step: int) -> None:
        inputs, chosen, working = self._inputs, self._trail[-1].chosen, self._working
        following = inputs.index(chosen) + step if chosen is not None else -1
        if 0 <= following < len(inputs):
            self._highlight(inputs[following])
        else:
            working.scroll_to(y=working.scroll_y + step, animate=False, immediate=True)

    def _highlight(self, line: int) -> None:
        self._trail[-1].chosen = line
        self._working.highlighted = line

    def action_end(self, place: int) -> None:
        """Go to the first (0) or last (-1) line."""
        if not self._is_inside:
            self._look_at([index for index, number in enumerate(self._listed) if number is not None][place])
        elif self._inputs:
            self._highlight(self._inputs[place])

    def action_page(self, direction: int) -> None:
        """Scroll the working by a page; of its lines to choose one in sight is highlighted, if there is one."""
        working = self._working
        rows = max(working.scrollable_content_region.height - 1, 1)
        working.scroll_to(y=working.scroll_y + direction * rows, animate=False, immediate=True)
        if self._is_inside:
            inside = [line for line in self._inputs if self._is_in_sight(line)]
            if inside and self._trail[-1].chosen not in inside:
                self._highlight(inside[0 if direction > 0 else -1])

    def _is_in_sight(self, line: int) -> bool:
        """Whether the first row of a part of the working is in sight."""
        first = sum(part.text.count("\n") + 1 for part in self._parts[:line])
        top = round(self._working.scroll_y)
        return top <= first < top + self._working.scrollable_content_region.height

    def action_go_in(self, may_leave: bool) -> None:
        """Go into what goes into the number; there open an answer's working or, if so wanted, leave for a field."""
        chosen = self._trail[-1].chosen
        if not self._is_inside:
            self._is_inside = True
            self._show_focus()
            self._working.scroll_home(animate=False, immediate=True)
            self.call_after_refresh(self._working.scroll_to_highlight)  # in a narrow window the pane has grown by then
            return
        leads_to = self._parts[chosen].leads_to if chosen is not None else None
        if isinstance(leads_to, Number):
            self._trail.append(_Step(leads_to))
            self._show_working()
        elif leads_to is not None and may_leave:
            self.dismiss(leads_to)

    def action_help(self) -> None:
        """Help on the field in the line that is highlighted, and on this screen."""
        from wizard.screens.help import HelpScreen

        chosen = self._trail[-1].chosen if self._is_inside else None
        leads_to = self._parts[chosen].leads_to if chosen is not None else None
        path = leads_to[1] if isinstance(leads_to, tuple) else ""
        self.lay_over(HelpScreen("workings", path))

    def action_back(self, may_close: bool) -> None:
        """Go back one step; at the start close, if so wanted."""
        if len(self._trail) > 1:
            self._trail.pop()
            self._show_working()
        elif self._is_inside:
            self._is_inside = False
            self._show_focus()
        elif may_close:
            self.dismiss()
