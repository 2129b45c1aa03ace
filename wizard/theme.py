"""The themes: chart paper for the day, a darkened wheelhouse for the night, and the terminal's own colours.

Every colour of text keeps a contrast of 4.5 to 1 on every ground it can stand on, in 24 bits and in 256 colours of a
terminal; tests/wizard/test_colours.py computes it. Our own choice of colours.
"""

from collections.abc import Mapping

from textual.theme import Theme

DAY = Theme(
    name="shaftlog-day",
    primary="#1f4e6b",
    secondary="#434f2c",
    accent="#6e2c10",
    warning="#6e4400",
    error="#8e1818",
    success="#1f5a2a",
    foreground="#1c2835",
    background="#f7f2e6",
    surface="#f2ecdc",
    panel="#e5dcc6",
    dark=False,
    variables={
        "quiet": "#50575b",
        "focus": "#c0d8e4",
        "highlight": "#e4e8e4",
        "border": "#1f4e6b",
        "border-blurred": "#b9ae95",
        "block-cursor-background": "#1f4e6b",
        "block-cursor-foreground": "#f7f2e6",
        "input-selection-background": "#afc8d6",
        "input-selection-foreground": "#1c2835",
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
    surface="#20262b",
    panel="#2b333a",
    dark=True,
    variables={
        "quiet": "#b0b6ac",
        "focus": "#37424a",
        "highlight": "#2f383f",
        "border": "#86b6d1",
        "border-blurred": "#46545f",
        "block-cursor-background": "#86b6d1",
        "block-cursor-foreground": "#131b23",
        "input-selection-background": "#4b5a64",
        "input-selection-foreground": "#e4ddcd",
    },
)

TERMINAL = Theme(
    name="shaftlog-terminal",
    ansi=True,
    primary="ansi_default",
    secondary="ansi_default",
    accent="ansi_default",
    warning="ansi_magenta",
    error="ansi_red",
    success="ansi_default",
    foreground="ansi_default",
    background="ansi_default",
    surface="ansi_default",
    panel="ansi_default",
    boost="ansi_default",
    dark=True,
    variables={
        "quiet": "ansi_default",
        "focus": "ansi_default",
        "highlight": "ansi_default",
        "border": "ansi_default",
        "border-blurred": "ansi_default",
        "block-cursor-background": "ansi_default",
        "block-cursor-foreground": "ansi_default",
        "input-selection-background": "ansi_default",
        "input-selection-foreground": "ansi_default",
        "ansi-background": "ansi_default",
        "ansi-foreground": "ansi_default",
        "scrollbar": "ansi_default",
        "scrollbar-hover": "ansi_default",
        "scrollbar-active": "ansi_default",
        "scrollbar-background": "ansi_default",
        "scrollbar-background-hover": "ansi_default",
        "scrollbar-background-active": "ansi_default",
        "scrollbar-corner-color": "ansi_default",
    },
)
"""Whatever ink and paper the terminal has. Red and magenta can be told from black and from white."""

THEMES = (NIGHT, DAY, TERMINAL)
"""Our own themes, the usual one first."""

VARIABLE_DEFAULTS = {"quiet": "ansi_default", "focus": "ansi_default", "highlight": "ansi_default"}
"""Our own variables, for themes that do not know them."""

NAMES = {"day": DAY.name, "night": NIGHT.name, "terminal": TERMINAL.name}
"""What the owner calls a theme -> what it is called inside."""

COLOURS = {"night": "Night theme", "day": "Day theme", "terminal": "Terminal's own colours"}
"""The themes in the order in which a key goes through them, and their titles."""

_MANY_COLOURS = ("256color", "kitty")


def usual_theme(environment: Mapping[str, str], chosen: str = "", remembered: str = "") -> str:
    """The theme to begin with.

    environment: the variables of the process.   chosen: what the command line asks for, a key of NAMES or "".
    remembered: what was chosen in an earlier run, or "".   Returns: the name of one of our themes. Without colour
    (NO_COLOR, unless it is empty) it is always the terminal's own; so it is among sixteen colours, onto which paper and
    ink would be mapped wrongly, unless the command line asks for another one.
    """
    if environment.get("NO_COLOR"):
        return TERMINAL.name
    if chosen:
        return NAMES[chosen]
    return TERMINAL.name if _depth(environment) < 256 else NAMES.get(remembered, NIGHT.name)


def _depth(environment: Mapping[str, str]) -> int:
    """How many colours Textual takes the terminal to have; it looks at COLORTERM, then at the ending of TERM."""
    if environment.get("COLORTERM", "").strip().lower() in ("truecolor", "24bit"):
        return 1 << 24
    return 256 if environment.get("TERM", "").strip().lower().rpartition("-")[2] in _MANY_COLOURS else 16
