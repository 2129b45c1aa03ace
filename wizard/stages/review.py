"""The review page: what can be ordered and what cannot yet, why, and all else there is to say about the plan."""

from dataclasses import replace
from textwrap import shorten
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from engine.plan import PAGES, QUESTIONS, Plan
from wizard.review_lines import Line, Place, Section, Sheet, review_lines, verdict
from wizard.stages.page import GoTo
from wizard.widgets.line_input import LineInput
from wizard.widgets.lines import Turnable
from wizard.widgets.say import say

if TYPE_CHECKING:
    from engine.assessment import Assessment


class PlanEdited(Message):
    """The owner changed the plan's name or notes.   field: in which; it has the text as it is now."""

    def __init__(self, field: "HeadInput") -> None:
        super().__init__()
        self.field = field


class SheetAsked(Message):
    """The owner wants a sheet written."""

    def __init__(self, sheet: str) -> None:
        super().__init__()
        self.sheet = sheet


class LineShown(Message):
    """Another line of the list is highlighted, or none in an empty list."""

    def __init__(self, line: Line | None) -> None:
        super().__init__()
        self.line = line


class HeadInput(LineInput):
    """The plan's own name or notes. part: which of the two."""

    def __init__(self, plan: Plan, part: str) -> None:
        super().__init__(getattr(plan, part), compact=True, select_on_focus=False, placeholder=part)
        self.part = part
        self.cursor_blink = False

    def taken_into(self, plan: Plan) -> Plan:
        """The plan with the text as it is now."""
        return replace(plan, name=self.value) if self.part == "name" else replace(plan, notes=self.value)


class ReviewList(Turnable):
    """The list; from its first line the arrow goes up to the fields above it."""

    @property
    def is_at_top(self) -> bool:
        """Whether only a heading stands over the highlighted line."""
        return all(option.disabled for option in self.options[: self.highlighted or 0])

    def action_cursor_up(self) -> None:
        """One line up, or out of the list at its top."""
        if self.is_at_top and isinstance(self.parent, ReviewPage):
            self.parent.move(self, -1)
        else:
            super().action_cursor_up()

    def action_cursor_down(self) -> None:
        """One line down; the last one is the end."""
        if any(not option.disabled for option in self.options[(self.highlighted or 0) + 1 :]):
            super().action_cursor_down()


REVIEW_CONTROLS = (HeadInput, ReviewList)
"""What can have the focus on the review page."""


class ReviewPage(Vertical):
    """Enter on a line goes to the page, and the field, that it is about."""

    stage = "review"

    def __init__(self, plan: Plan) -> None:
        super().__init__(id="page-review", classes="page")
        self.plan = plan
        self.last_path = ""
        self._lines: list[Line] = []
        self._shown: list[Content] = []
        self._opened: frozenset[str] = frozenset()
        self._assessment: Assessment | None = None
        self._failure = ""
        self._told: tuple[Plan, str, frozenset[str], int] | None = None

    def compose(self) -> ComposeResult:
        place = f"{len(PAGES)} of {len(PAGES)}"
        question = f"{place}  {QUESTIONS['review']}  Estimate, not a certificate."
        yield Static(question, classes="question", markup=False)
        for part, label in (("name", "Name of the plan"), ("notes", "Notes")):
            with Horizontal(classes="head-line"):
                yield Static(label, classes="label", markup=False)
                yield HeadInput(self.plan, part)
        yield Static("", id="verdict", markup=False)
        yield ReviewList(id="review-list", markup=False, compact=True)

    @property
    def listing(self) -> ReviewList:
        """The list of everything."""
        return self.query_one(ReviewList)

    def show(self, plan: Plan, path: str = "") -> None:
        """Take a newer plan; the list comes with the next assessment."""
        del path
        self.plan = plan

    async def follow(self, plan: Plan) -> None:
        """Take a plan that was changed from elsewhere: name and notes too."""
        self.show(plan)
        for field in self.query(HeadInput):
            with self.prevent(Input.Changed):
                field.value = getattr(plan, field.part)

    def show_assessment(self, assessment: "Assessment | None", failure: str = "") -> None:
        """List it all, each on one line; the highlight stays on its line when that is still there, and begins at the
        top.

        failure: why the plan could not be worked out; "" while all is well.
        """
        is_first = self._assessment is None
        width, listing = self._width, self.listing
        told = replace(self.plan, stage=""), failure, self._opened, width
        if assessment is self._assessment and told == self._told:
            return
        self._assessment, self._failure, self._told = assessment, failure, told
        head, style, words = verdict(self.plan, assessment, failure)
        say(self.query_one("#verdict", Static), Content.assemble((f"{head} " if head else "", f"bold {style}"), words))
        before, place = (None, 0) if is_first else (self.highlighted, listing.highlighted or 0)
        self._lines = review_lines(self.plan, assessment, self._opened)
        shown = [_set(line, width) for line in self._lines]
        if shown != self._shown:
            self._shown = shown
            listing.clear_options()
            options = zip(shown, self._lines, strict=True)
            listing.add_options([Option(content, disabled=line.is_heading) for content, line in options])
            listing.highlighted = self._place_of(before, place)
        self._tell_line()

    def _place_of(self, line: Line | None, place: int) -> int | None:
        """Where a line is now, else the nearest to where it was; None in an empty list."""
        places = [at for at, each in enumerate(self._lines) if not each.is_heading]
        same = (at for at in places if line is not None and _is_same(self._lines[at], line))
        return next(same, min(places, key=lambda at: abs(at - place), default=None))

    @property
    def highlighted(self) -> Line | None:
        """The line of the list that is highlighted."""
        at = self.listing.highlighted
        return self._lines[at] if at is not None and at < len(self._lines) else None

    def on_resize(self) -> None:
        """Set the lines for the new width."""
        self.show_assessment(self._assessment, self._failure)

    @property
    def _width(self) -> int:
        """Columns for a line of the list, its padding and scroll bar left out. Out of sight it has as many as before,
        and at first, as what it stands in will leave it."""
        columns = self.listing.size.width
        if not columns and self._told is not None:
            return self._told[-1]
        if not columns and isinstance(self.parent, Widget):
            columns = (self.parent.size - self.styles.gutter.totals).width
        return max(columns - 4, 40)

    def controls(self) -> list[Widget]:
        """Name, notes and the list, in order."""
        return [*self.query(HeadInput), self.listing]

    def move(self, from_widget: Widget | None, step: int) -> None:
        """Move between name, notes and the list."""
        order = self.controls()
        place = order.index(from_widget) if from_widget in order else -step
        self.screen.set_focus(order[min(max(place + step, 0), len(order) - 1)])

    def focus_path(self, path: str) -> bool:
        """There are no fields of a stage here."""
        del path
        return False

    def focus_first(self) -> None:
        """The list is what this page is for."""
        self.screen.set_focus(self.listing)

    @on(OptionList.OptionHighlighted)
    def _tell_line(self) -> None:
        self.post_message(LineShown(self.highlighted))
        if self.listing.is_at_top:  # the heading over it is to be seen, too
            self.call_after_refresh(self.listing.scroll_home, animate=False)

    @on(OptionList.OptionSelected)
    def _go(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        match self._lines[event.option_index].leads_to:
            case Place(page, path):
                self.post_message(GoTo(page, path))
            case Sheet(name):
                self.post_message(SheetAsked(name))
            case Section(name):
                self._opened = self._opened ^ {name}
                self.show_assessment(self._assessment, self._failure)

    @on(Input.Changed)
    def _edited(self, event: Input.Changed) -> None:
        event.stop()
        if isinstance(event.input, HeadInput):
            self.plan = event.input.taken_into(self.plan)
            self.post_message(PlanEdited(event.input))

    @on(Input.Submitted)
    def _accepted(self, event: Input.Submitted) -> None:
        event.stop()
        self.move(event.input, 1)


def _is_same(one: Line, other: Line) -> bool:
    """Whether two lines are the same, however their numbers and words stand now."""
    return (one.leads_to, one.lead) == (other.leads_to, other.lead) and (
        isinstance(one.leads_to, Section) or one.text == other.text
    )


def _set(line: Line, width: int) -> Content:
    """A line of the list on one row: what is too long ends in dots, and the pane beside has all of it."""
    text = shorten(line.text, width - len(line.lead), placeholder=" ...")
    return Content.assemble((line.lead, line.style), (text, line.style if line.lead == "" else ""))
