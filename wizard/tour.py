"""The guided tour: what the owner is asked to try on an invented boat, one thing after the other, in five minutes."""

from dataclasses import dataclass

TOUR_BOAT = "bittern.toml"


@dataclass(frozen=True)
class Sight:
    """What the tour can see of the wizard.

    page: the open page.   path: the field with the focus.   text: of the field that the tour changes.
    view: which of the three views shows.   over: the name of the dialog or screen over the page, or "".
    """

    page: str
    path: str
    text: str
    view: str
    over: str


CHANGED = "hull.displacement"
"""The field that the tour has the owner change."""


@dataclass(frozen=True)
class Stop:
    """One thing to try. It is done when all that is asked for is so.

    page, path: where the owner should get to.   changes: the field of the tour is to get another text.
    leaves: and to be left.   turns: another view is to show.   over: a dialog is to be opened, and closed again.
    """

    words: str
    page: str = ""
    path: str = ""
    changes: bool = False
    leaves: bool = False
    turns: bool = False
    over: str = ""

    def is_done(self, before: Sight, now: Sight) -> bool:
        """Whether what is seen now, against what was seen when it was asked for, is what was asked for."""
        return (
            not now.over
            and self.page in ("", now.page)
            and self.path in ("", now.path)
            and (not self.changes or now.text != before.text)
            and not (self.leaves and now.path == CHANGED)
            and (not self.turns or now.view != before.view)
        )


STOPS: tuple[Stop, ...] = (
    Stop(
        "This is an invented launch; nothing you do here is saved. A page asks above and answers below. Go down to "
        "Displacement with the arrow.",
        path=CHANGED,
    ),
    Stop(
        "Beside a field stands what was understood; below it, what most such boats have. Mark the number with "
        "shift+Home, type another one in any unit (7 t), and press Enter.",
        changes=True,
        leaves=True,
    ),
    Stop(
        "Everything is being worked out anew. The line at the bottom says what the change upset on later pages. Take "
        "it back with ctrl+u.",
        changes=True,
    ),
    Stop(
        "Not sure of a number? On a field, ctrl+a asks for low, best and high, or takes that you do not know. Look, "
        "then Esc.",
        over="UnsureScreen",
    ),
    Stop("F1 says what a field is and how to measure it aboard. Look, then Esc.", over="HelpScreen"),
    Stop("F4 goes on to the next page.", page="speed"),
    Stop("F5 turns to the next view: answers, findings, plot.", turns=True),
    Stop("F6 shows the plot on the whole screen; the arrows read values off it. Esc comes back.", over="PlotScreen"),
    Stop("On to the power page with F4.", page="power"),
    Stop(
        "F11 says of every number how it was worked out: formula, inputs, source, other methods. Enter follows an "
        "input back. Esc comes back.",
        over="WorkingsScreen",
    ),
    Stop("F2 lists all pages. Choose propeller, and Enter.", page="propeller"),
    Stop("F12 tries every stock wheel with every ratio. Look at the list; Esc changes nothing.", over="MarketScreen"),
    Stop(
        "ctrl+d sets variants of the plan side by side: another engine, ratio, wheel or speed. Look, then Esc.",
        over="CompareScreen",
    ),
    Stop("Now the last page: F2, review, Enter.", page="review"),
    Stop(
        "What stops the plan, what is missing, what to measure next: Enter on a line goes there. That is all. F9 goes "
        "back to the list, where F2 begins a plan of your own."
    ),
)


class Tour:
    """Goes from stop to stop as the owner does what is asked."""

    def __init__(self) -> None:
        self.at = 0
        self._before: Sight | None = None
        self._has_opened = False

    @property
    def line(self) -> str:
        """What the strip says now."""
        end = "F9 ends the tour" if self.is_last else "Esc goes on without, F9 ends the tour"
        return f"Tour, {self.at + 1} of {len(STOPS)}: {STOPS[self.at].words} ({end}.)"

    @property
    def is_last(self) -> bool:
        """Whether there is nothing more to try."""
        return self.at == len(STOPS) - 1

    def look(self, now: Sight) -> bool:
        """Take in what is seen now. Returns: whether the tour has gone on."""
        stop = STOPS[self.at]
        if self._before is None:
            self._before = now
        self._has_opened = self._has_opened or now.over == stop.over
        is_done = not self.is_last and self._has_opened and stop.is_done(self._before, now)
        if is_done:
            self.go_on()
            self._before = now
        return is_done

    def go_on(self) -> None:
        """To the next stop, whether this one was done or not."""
        if not self.is_last:
            self.at += 1
            self._before, self._has_opened = None, False
