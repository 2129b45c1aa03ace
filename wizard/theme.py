"""The two themes: chart paper for the day, a darkened wheelhouse for the night."""

from textual.theme import Theme

DAY = Theme(
    name="shaftlog-day",
    primary="#1f4e6b",
    secondary="#4d5a35",
    accent="#7a3310",
    warning="#7d4e00",
    error="#9b1c1c",
    success="#2a5c35",
    foreground="#1c2835",
    background="#f7f2e6",
    surface="#efe8d8",
    panel="#e5dcc6",
    dark=False,
    variables={
        "quiet": "#5a5e60",
        "border": "#1f4e6b",
        "border-blurred": "#b9ae95",
        "block-cursor-background": "#1f4e6b",
        "block-cursor-foreground": "#f7f2e6",
        "input-selection-background": "#b7cbd6",
    },
)

NIGHT = Theme(
    name="shaftlog-night",
    primary="#86b6d1",
    secondary="#a9b98a",
    accent="#e0a878",
    warning="#e3b661",
    error="#f08f86",
    success="#8fc79a",
    foreground="#e4ddcd",
    background="#131b23",
    surface="#1a242e",
    panel="#243240",
    dark=True,
    variables={
        "quiet": "#a3a99f",
        "border": "#86b6d1",
        "border-blurred": "#3c4b59",
        "block-cursor-background": "#86b6d1",
        "block-cursor-foreground": "#131b23",
        "input-selection-background": "#37566b",
    },
)

THEMES = (NIGHT, DAY)
"""Our own themes, the usual one first."""
