"""Changing a text on the screen, at no more cost than the change is worth."""

from textual.content import Content
from textual.widgets import Static


def say(place: Static, text: str | Content, *, fits: bool = False) -> None:
    """Change a text only when it differs.

    fits: whether its place is sure to be as large as before; if not, it is measured, and where the text has become
    longer or shorter the whole page is laid out anew.
    """
    shown = place.content
    if isinstance(shown, Content) and isinstance(text, Content):
        is_same = shown.is_same(text)  # an equal text can still have other colours
    else:
        is_same = isinstance(shown, str) and shown == text
    if not is_same:
        place.update(text, layout=False)
        if not (fits or _is_as_high(place)):
            place.refresh(layout=True)


def _is_as_high(place: Static) -> bool:
    """What is out of sight is not: the height that it had there would be taken for its own once it is seen."""
    room = place.content_size
    return room.width > 0 and place.get_content_height(room, place.app.size, room.width) == room.height
