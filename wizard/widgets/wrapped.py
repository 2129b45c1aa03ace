"""A text broken into rows as a Static breaks it, but that numbers keep their units."""

from rich.cells import cell_len
from textual.content import Content

from wizard.wrapping import joined, parted


def wrapped(text: str, width: int) -> tuple[str, ...]:
    """The rows of a text; none of no text, or where there is no room."""
    if width <= 0 or not text:
        return ()
    return (text,) if cell_len(text) <= width else tuple(row.plain for row in content_rows(Content(text), width))


def content_rows(text: Content, width: int) -> list[Content]:
    """The rows of a text with its colours."""
    plain = joined(text.plain, width)
    if plain == text.plain:
        return text.wrap(width)
    return [Content(parted(row.plain), list(row.spans)) for row in Content(plain, list(text.spans)).wrap(width)]
