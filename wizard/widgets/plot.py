"""A plot that fills whatever room it has."""

import sys

from rich.text import Text
from textual.widgets import Static

from wizard.charts import Chart, draw
from wizard.rulers import Rulers, draw_rulers

NEEDS_ASCII = not "•─┤".isprintable() or (sys.stdout.encoding or "ascii").lower() in (
    "ascii",
    "us-ascii",
    "ansi_x3.4-1968",
)


class Plot(Static):
    """Draws a chart as large as the widget is; draws again when that changes."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__("", id=id, classes="plot", markup=False)
        self._chart: Chart | Rulers | None = None
        self._drawn: tuple[object, int, int] | None = None

    def show(self, chart: Chart | Rulers | None) -> None:
        """Take a new chart; None clears the plot."""
        self._chart = chart
        self._draw()

    def on_resize(self) -> None:
        self._draw()

    def _draw(self) -> None:
        wanted = (self._chart, self.size.width, self.size.height)
        if self._drawn == wanted or not self.size.width or not self.size.height:
            return
        self._drawn = wanted
        if self._chart is None:
            self.update("")
            return
        width, height = self.size
        if isinstance(self._chart, Rulers):
            text = draw_rulers(self._chart, width, height, NEEDS_ASCII)
        else:
            text = draw(self._chart, width, height, NEEDS_ASCII)
        self.update(Text.from_ansi(text, no_wrap=True))
