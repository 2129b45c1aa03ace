"""A plot on the whole screen, with a cursor that reads values off it."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Static

from wizard.charts import SMALLEST, Chart, Cursor
from wizard.keys import closing
from wizard.reading import chosen, followed, moved, opening_cursor, readout, readout_rows, rulers_readout
from wizard.rulers import Rulers
from wizard.screens.dialog import Dialog, at_once
from wizard.screens.hosted import ShowsResults
from wizard.widgets.plot import Plot, as_text, is_ascii

_LOW = 14
"""A screen of fewer rows has no line of keys and two rows of readout."""
_KEYS = (
    "Left, right: along the points   up, down: series   PgUp, PgDn: a tenth   Home, End: ends   Esc closes",
    "Left, right: points  up, down: series  PgUp, PgDn: a tenth  Esc closes",
    "Arrows read values, Esc closes",
)
_RULER_KEYS = ("Up, down: methods   Home, End: first and last   Esc closes", "Arrows: methods, Esc closes")


def _going(keys: str, way: str, words: str) -> Binding:
    return at_once(keys, f"go('{way}')", words, f"plot-{way.replace('_', '-')}")


class PlotScreen(ShowsResults, Dialog[None]):
    """A plot, a line or a mark where the cursor stands, and under it what the plot says there.

    page: whose plot it is; it follows what that comes to.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        closing("plot", "enter"),
        _going("left", "back", "Point before"),
        _going("right", "on", "Next point"),
        _going("up", "lead_before", "Series before"),
        _going("down", "lead_after", "Next series"),
        _going("pageup", "jump_back", "A tenth back"),
        _going("pagedown", "jump_on", "A tenth on"),
        _going("home", "first", "First point"),
        _going("end", "last", "Last point"),
    ]

    def __init__(self, chart: Chart | Rulers, page: str = "") -> None:
        super().__init__()
        self._chart, self._page = chart, page
        self._place: Cursor | int | None
        if isinstance(chart, Rulers):
            self._place = 0 if chart.rulers else None
        else:
            self._place = opening_cursor(chart)

    def compose(self) -> ComposeResult:
        with Vertical(id="whole-plot"):
            yield Plot()
            yield Static("", id="readout", markup=False)
            yield Static("", id="plot-keys", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self.app.theme_changed_signal.subscribe(self, lambda _: self._show_readout())
        self._arrange()

    def on_unmount(self) -> None:
        """Or the app would keep the screen, with its chart."""
        self.app.theme_changed_signal.unsubscribe(self)

    def on_resize(self) -> None:
        self._arrange()

    def refresh_results(self) -> None:
        """Draw what the page comes to now, with the cursor where it was."""
        outcome = self.host.assessment.outcomes.get(self._page) if self.host.assessment else None
        if outcome is None or outcome.answers is None or not self.query("#readout"):
            return
        from wizard.stages.plots import chart_of

        self._chart = chart_of(self._page, outcome.answers, self.plan.units, of_motor=outcome.of_motor)
        if isinstance(self._chart, Chart) and isinstance(self._place, Cursor):
            self._place = followed(self._chart, self._place)
        elif isinstance(self._chart, Rulers) and isinstance(self._place, int):
            self._place = min(self._place, len(self._chart.rulers) - 1)
        self._arrange()

    def action_go(self, way: str) -> None:
        """Take the cursor one of the ways of `wizard.reading`."""
        if isinstance(self._chart, Rulers) and isinstance(self._place, int):
            self._place = chosen(self._chart, self._place, way)
        elif isinstance(self._chart, Chart) and isinstance(self._place, Cursor):
            self._place = moved(self._chart, self._place, way)
        self._show()

    def _arrange(self) -> None:
        """Share the rows out: the readout gets at most a third, and leaves the plot what it needs if it can."""
        width, height = self.size
        keys = self.query_one("#plot-keys", Static)
        keys.display = height >= _LOW
        rows = min(readout_rows(self._chart), height // 3 if height >= _LOW else 2, max(height - SMALLEST[1], 1))
        self.query_one("#readout").styles.height = rows if width >= SMALLEST[0] else min(2, max(height // 3, 1))
        self.query_one("#whole-plot").styles.padding = (0, 0 if width < SMALLEST[0] + 2 else 1)
        lines = _RULER_KEYS if isinstance(self._chart, Rulers) else _KEYS
        keys.update(next((line for line in lines if len(line) <= width - 4), lines[-1]))
        self.call_after_refresh(self._show)

    def _show(self) -> None:
        self.query_one(Plot).show(self._chart, self._place)
        self._show_readout()

    def _show_readout(self) -> None:
        static = self.query_one("#readout", Static)
        width, height = static.size
        text = ""
        if isinstance(self._chart, Rulers) and isinstance(self._place, int):
            text = rulers_readout(self._chart, self._place, width, height, is_ascii(self.app))
        elif isinstance(self._chart, Chart) and isinstance(self._place, Cursor):
            text = readout(self._chart, self._place, width, height, is_ascii(self.app))
        static.update(as_text(text, self.app.theme), layout=False)
