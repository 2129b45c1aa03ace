"""A long text that is scrolled: broken into rows once, and drawn row by row where it shows."""

from collections.abc import Iterable

from rich.segment import Segment
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from wizard.widgets.styled import LaidOutOnce
from wizard.widgets.wrapped import content_rows


class ScrolledText(LaidOutOnce, ScrollView, can_focus=False, inherit_bindings=False):
    """Paragraphs one under the other, as many rows of them as there is room for."""

    DEFAULT_CSS = "ScrolledText { overflow-x: hidden; scrollbar-gutter: stable; scrollbar-size: 0 1; }"

    def __init__(self, id: str) -> None:
        super().__init__(id=id)
        self._paragraphs: tuple[Content, ...] = ()
        self._rows: list[Content] = []
        self._width = 0

    def show(self, paragraphs: Iterable[Content]) -> None:
        """Show other paragraphs; nothing happens when they are as before, also in their colours."""
        new, old = tuple(paragraphs), self._paragraphs
        if len(new) != len(old) or not all(map(Content.is_same, new, old)):
            self._paragraphs, self._width = new, 0
            self._set(self.scrollable_content_region.width)
            self.refresh()

    def render(self) -> Content:
        """All of the text."""
        return Content("\n").join(self._paragraphs)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        del container, viewport
        self._break(width - self.styles.scrollbar_size_vertical)
        return len(self._rows)

    def on_resize(self, event: events.Resize) -> None:
        del event
        self._set(self.scrollable_content_region.width)

    def render_line(self, y: int) -> Strip:
        width = self.scrollable_content_region.width
        self._break(width)
        style, place = self.visual_style, self.scroll_offset.y + y
        if place >= len(self._rows):
            return Strip.blank(width, style.rich_style)
        row = self._rows[place]
        parts = row.render(style, end="", parse_style=self.app.stylesheet.parse_style)
        drawn = Strip([Segment(text, (style + part).rich_style) for text, part in parts], row.cell_length)
        return drawn.adjust_cell_length(width, style.rich_style)

    def _set(self, width: int) -> None:
        """Rows for a width, and the room they take to scroll in. The window is only laid out anew when it then takes
        more rows itself, or fewer."""
        self._break(width)
        before, room = self.virtual_size, Size(width, len(self._rows))
        if room != before:
            self.set_reactive(ScrolledText.virtual_size, room)
            if self.styles.auto_dimensions and self.size.height >= min(before.height, room.height):
                self.refresh(layout=True)
            else:
                self._scroll_update(room)

    def _break(self, width: int) -> None:
        if width == self._width or width <= 0:
            return
        self._width = width
        self._rows = [
            row
            for paragraph in self._paragraphs
            for row in ((paragraph,) if paragraph.cell_length <= width else content_rows(paragraph, width))
        ]
