"""Changing a text on the screen, at no more cost than the change is worth."""

from textual.content import Content
from textual.widgets import Static


def say(place: Static, text: str | Content, *, fits: bool = False) -> None:
    """Change a text only when it differs.

    fits: whether its place is as large as before; if not, the whole page is laid out anew.
    """
    shown = place.content
    if isinstance(shown, Content) and isinstance(text, Content):
        is_same = shown.is_same(text)  # an equal text can still have other colours
    else:
        is_same = isinstance(shown, str) and shown == text
    if not is_same:
        place.update(text, layout=not fits)
