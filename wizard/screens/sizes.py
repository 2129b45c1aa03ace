"""How the screens follow the size of the window."""

TWO_COLUMNS = 110
"""From this width on there is room for two columns."""
WIDTHS = [(0, "-tiny-width"), (60, "-narrow"), (TWO_COLUMNS, "-wide")]
HEIGHTS = [(0, "-tiny-height"), (18, "-low"), (30, "-high")]
"""The least width or height, and the class that the screen has from it on."""


def too_small(leaving: str = "Esc, which goes back") -> str:
    """What a window says that is too small for its screen.   leaving: the keys that do something all the same."""
    return (
        "The window is too small. Make it at least 60 columns wide and 18 rows high; your plan is safe. "
        f"Until then no key does anything but {leaving}."
    )
