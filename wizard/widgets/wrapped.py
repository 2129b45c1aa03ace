"""A text broken into rows as a Static breaks it."""

from rich.cells import cell_len
from textual.content import Content


def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The rows of a text; none of no text, or where there is no room."""
    if width <= 0 or not text:
        return ()
    return (text,) if cell_len(text) <= width else tuple(row.plain for row in Content(text).wrap(width))
