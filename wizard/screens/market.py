"""The stock wheels: searches them while one waits, lists the best, and gives the one that the owner takes."""

from collections.abc import Iterator
from time import monotonic
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from wizard.keys import closing, keys_of
from wizard.screens.dialog import Dialog, at_once
from wizard.screens.hosted import ShowsResults
from wizard.screens.sizes import HEIGHTS, TWO_COLUMNS, WIDTHS, too_small
from wizard.searching import MarketSearch, Search, SearchEnded, SearchProgressed
from wizard.tables import answer_lines
from wizard.wheels import detail_lines, progress_line, row_of_plan, wheel_lines
from wizard.widgets.lines import Turnable
from wizard.widgets.scrolled import ScrolledText
from wizard.widgets.view import finding_text

if TYPE_CHECKING:
    from engine.findings import Outcome
    from engine.stages.market import WheelRow

SEARCHING = "Trying every stock wheel that fits with every ratio on offer, on the plausible boats of this plan."
UPDATING = "The plan itself is still being worked out; the search begins when that is done."
NOTHING = "No stock wheel can be taken into this plan as it is."
KEYS_SEARCHING = "Esc stops the search; the plan stays as it is"
KEYS_FOUND = "Enter takes the wheel  Esc changes nothing  PgDn more"
WORDS = "  ctrl+v words"
"""Behind these keys where there is room: what light running and regret are."""
SETTLES = 0.3
"""Seconds for which a list that has just appeared takes no wheel: a second Enter on the button was not meant for it."""
KEYS_NOTHING = "Enter or Esc goes back to the plan"


class MarketScreen(ShowsResults, Dialog["WheelRow"]):
    """Gives the row of the wheel that goes into the plan; Esc gives none."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [
        closing("market"),
        at_once("enter", "go_back", "Go back", "market-back"),
        at_once("pagedown", "scroll(1)", "Scroll down", "market-down"),
        at_once("pageup", "scroll(-1)", "Scroll up", "market-up"),
        at_once(",".join(keys_of("glossary")), "glossary", "Glossary", "market-glossary"),
    ]
    AUTO_FOCUS = ""

    def __init__(self, search: Search) -> None:
        super().__init__()
        self._search = search
        self._under_way: MarketSearch | None = None
        self._outcome: Outcome[Any] | None = None
        self._rows: tuple[WheelRow, ...] = ()
        self._listed: list[WheelRow | None] = []
        self._wheels = Turnable(id="wheels", markup=False, compact=True)
        self._state, self._details, self._beside = (
            ScrolledText(id=name) for name in ("market-state", "wheel-details", "market-findings")
        )
        self._gone_to: WheelRow | None = None
        self._is_over = False
        self._now: WheelRow | None = None
        self._appeared = 0.0

    def compose(self) -> ComposeResult:
        yield Static(too_small(), id="too-small", markup=False)
        with Vertical(id="market"):
            yield Static("Stock wheels for this plan", id="market-title", markup=False)
            yield self._state
            with Container(id="market-found"):
                with Vertical(id="market-list"):
                    yield Static("", id="wheel-heading", markup=False)
                    yield self._wheels
                    yield self._details
                yield self._beside
            yield Static("", id="market-keys", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self.refresh_results()

    def on_unmount(self) -> None:
        self._stop()

    # searching

    def refresh_results(self) -> None:
        """Search for the plan as it is now, once it has been worked out; what was found for an older one goes."""
        if not self.query("#market"):
            return  # a result on its way while the screen is being built or taken down
        host = self.host
        assessment = host.assessment
        if host.is_updating:
            self._stop()
            self._say(UPDATING, KEYS_SEARCHING)
        elif host.failure or assessment is None:
            self._stop()
            self._say(host.failure or UPDATING, KEYS_NOTHING)
        elif self._under_way is None or self._under_way.assessment is not assessment:
            self._stop()
            self._say(f"{SEARCHING}\n{progress_line(0.0)}", KEYS_SEARCHING)
            self._under_way = MarketSearch(self, self._search, assessment)
            self._under_way.start()

    def _stop(self) -> None:
        self._keep_place()
        if self._under_way is not None:
            self._under_way.stop()
        self._under_way, self._outcome, self._now, self._listed = None, None, None, []

    def _is_current(self, message: SearchProgressed | SearchEnded) -> bool:
        return self._under_way is not None and message.assessment is self._under_way.assessment

    @on(SearchProgressed)
    def _progressed(self, message: SearchProgressed) -> None:
        if self._is_current(message) and self._outcome is None:
            self._say(f"{SEARCHING}\n{progress_line(message.share)}", KEYS_SEARCHING)

    @on(SearchEnded)
    def _ended(self, message: SearchEnded) -> None:
        if not self._is_current(message):
            return
        outcome = message.outcome
        if outcome is None or outcome.answers is None:
            waits = f"Waits for: {outcome.waits_for}" if outcome and not outcome.findings else NOTHING
            self._say(message.failure or waits, KEYS_NOTHING, outcome)
            return
        self._outcome = outcome
        self._rows = (*outcome.answers.rows, *outcome.answers.others)
        self._now = row_of_plan(self._rows, message.assessment)
        self._appeared = monotonic()
        self._show_found()

    # what is shown

    def _say(self, sentence: str, keys: str, outcome: "Outcome[Any] | None" = None) -> None:
        """A sentence in place of the list, and what was found out all the same."""
        self._state.show([*map(Content, sentence.split("\n")), *_told(outcome)])
        self._state.display = True
        self.query_one("#market-found").display = False
        self.query_one("#market-keys", Static).update(keys)
        self._is_over = keys == KEYS_NOTHING

    def _keep_place(self) -> None:
        """Hold which wheel the owner has gone to, for the next list. The recommended one is whichever is that then."""
        row = self._highlighted_row
        if row is not None:
            self._gone_to = row if row is not self._rows[0] else None

    def _place_kept(self) -> int:
        """Where the wheel is that the owner has gone to; where the recommended one is when that is not listed."""
        gone_to = self._gone_to
        places = (at for at, row in enumerate(self._listed) if row and gone_to and row.changes == gone_to.changes)
        return next(places, 1)

    def _show_found(self) -> None:
        """Both lists. The highlight stays on its wheel while that is listed, else it stands on the recommended one."""
        listing = self._wheels
        self._keep_place()
        self._state.display = False
        self.query_one("#market-found").display = True
        has_room = self.size.width >= len(KEYS_FOUND + WORDS) + 2
        self.query_one("#market-keys", Static).update(KEYS_FOUND + WORDS if has_room else KEYS_FOUND)
        heading, lines = wheel_lines(self._rows, self._now, self._units, self._width)
        self.query_one("#wheel-heading", Static).update("\n".join(heading))
        self._listed, options = [], []
        sections = ""
        for place, (row, line) in enumerate(zip(self._rows, lines, strict=True)):
            if row.sections != sections:
                sections = row.sections
                words = "Recommended" if place == 0 else "Others, by a series of their own"
                options.append(Option(Content(f"{words}: {sections}"), disabled=True))
                self._listed.append(None)
            options.append(Option(Content(line)))
            self._listed.append(row)
        listing.clear_options()
        listing.add_options(options)
        listing.highlighted = self._place_kept()
        listing.call_after_refresh(listing.scroll_to_highlight)
        self.set_focus(listing)
        self._show_details()

    @property
    def _units(self) -> str:
        return self.host.plan.units

    @property
    def _is_wide(self) -> bool:
        return self.size.width >= TWO_COLUMNS

    @property
    def _width(self) -> int:
        """Columns for a line of the list, its padding and scroll bar left out."""
        return (self.size.width * 66 // 100 if self._is_wide else self.size.width) - 3

    @on(OptionList.OptionHighlighted)
    def _highlighted(self) -> None:
        self._show_details()

    def _show_details(self) -> None:
        """All about the highlighted wheel, and the findings: under it, or beside when there is room."""
        row, outcome = self._highlighted_row, self._outcome
        if row is None or outcome is None:
            return
        parts = ["The plan has this wheel now."] if row is self._now else []
        parts += detail_lines(row, self._units, self._width)
        width = self.size.width - self._width - 8 if self._is_wide else self._width
        found = [*_told(outcome), *map(Content, answer_lines(outcome.answers, self._units, width))]
        self._beside.display = self._is_wide
        self._beside.show(found if self._is_wide else ())
        self._details.show([*map(Content, parts), *([] if self._is_wide else [Content(""), *found])])

    @property
    def _highlighted_row(self) -> "WheelRow | None":
        place = self._wheels.highlighted
        return None if place is None else self._row_at(place)

    def _row_at(self, place: int) -> "WheelRow | None":
        """The wheel in a line of the list; None in a heading, and once what was found is out of date."""
        return self._listed[place] if place < len(self._listed) else None

    def on_resize(self, event: events.Resize) -> None:
        """Set the lines for the new width."""
        del event
        if self._outcome is not None:
            self._show_found()

    # keys

    @on(OptionList.OptionSelected)
    def _taken(self, event: OptionList.OptionSelected) -> None:
        row = self._row_at(event.option_index)
        is_meant = row is not self._rows[0] or monotonic() - self._appeared > SETTLES
        if row is not None and is_meant and not self.host.is_updating:
            self.dismiss(row)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Enter closes where there is nothing to take and nothing to wait for; else it is for the list."""
        del parameters
        return action != "go_back" or self._is_over

    def action_go_back(self) -> None:
        """Back to the plan."""
        self.dismiss()

    def action_glossary(self) -> None:
        """The words of the trade in the list."""
        from wizard.screens.glossary import GlossaryScreen

        self.lay_over(GlossaryScreen())

    def action_scroll(self, direction: int) -> None:
        """Scroll the details, in a wide window the findings, by a page; with no wheel found, what is said."""
        pane = self._state if self._outcome is None else self._beside if self._is_wide else self._details
        pane.scroll_relative(y=direction * max(pane.size.height - 1, 1), animate=False)


def _told(outcome: "Outcome[Any] | None") -> Iterator[Content]:
    """The findings on the stock, each line of them a paragraph."""
    for finding in outcome.findings if outcome else ():
        yield from finding_text(finding).split("\n")
