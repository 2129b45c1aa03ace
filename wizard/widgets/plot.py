"""A plot that fills whatever room it has."""

from rich.text import Text
from textual.app import App
from textual.widgets import Static

from wizard.charts import Chart, Cursor, draw, in_theme
from wizard.reading import with_choice
from wizard.rulers import Rulers, draw_rulers
from wizard.terminal import NEEDS_ASCII


def is_ascii(app: App[object]) -> bool:
    """Whether drawings have to be plain ASCII: the app says so, or the terminal knows nothing else."""
    return bool(getattr(app, "ascii", NEEDS_ASCII))


def as_text(drawing: str, theme: str) -> Text:
    """A drawing with colour codes, ready to be shown in the colours of a theme."""
    return Text.from_ansi(in_theme(drawing, theme), no_wrap=True)


class Plot(Static):
    """Draws a chart as large as the widget is; draws again when that changes, or the theme."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__("", id=id, classes="plot", markup=False)
        self._chart: Chart | Rulers | None = None
        self._place: Cursor | int | None = None
        self._drawn: tuple[object, ...] = ()

    def on_mount(self) -> None:
        self.app.theme_changed_signal.subscribe(self, lambda _: self._draw())

    def on_unmount(self) -> None:
        """Or the app would keep it, with its chart."""
        self.app.theme_changed_signal.unsubscribe(self)

    def show(self, chart: Chart | Rulers | None, place: Cursor | int | None = None) -> None:
        """Take a new chart; None clears the plot.   place: the cursor of a chart, or the number of a chosen ruler."""
        self._chart, self._place = chart, place
        self._draw()

    def on_resize(self) -> None:
        self._draw()

    def _draw(self) -> None:
        width, height = self.size
        ascii = is_ascii(self.app)
        wanted = (self._chart, self._place, width, height, ascii, self.app.theme)
        if self._drawn == wanted or not width or not height:
            return
        self._drawn = wanted
        self.update(as_text(self._text(width, height, ascii), self.app.theme), layout=False)

    def _text(self, width: int, height: int, ascii: bool) -> str:
        if self._chart is None:
            return ""
        if isinstance(self._chart, Chart):
            cursor = self._place if isinstance(self._place, Cursor) else None
            return draw(self._chart, width, height, ascii, cursor)
        rulers = with_choice(self._chart, self._place, height) if isinstance(self._place, int) else self._chart
        return draw_rulers(rulers, width, height, ascii)
