"""The one table of what keys do. Screens take their bindings from it, and so do the key line and the help."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from textual.binding import Binding, BindingType


@dataclass(frozen=True)
class Action:
    """Something the owner can do with a key, from the palette, or both.

    id: the name of the method `action_<id>`.   keys: an F-key and its ctrl twin, for terminals that keep F-keys; or
    others, where nothing is typed.
    words: two or three words for the key line; "" keeps it out of there.   tooltip: one sentence.
    """

    id: str
    keys: tuple[str, ...]
    title: str
    tooltip: str
    words: str = ""

    def binding(self) -> "Binding":
        """The binding as Textual wants it; with priority, so that a focused field does not swallow the key."""
        from textual.binding import Binding

        return Binding(
            ",".join(self.keys), self.id, self.title, id=self.id, tooltip=self.tooltip, show=False, priority=True
        )

    @property
    def key_names(self) -> str:
        """The keys as they are printed: "F4 or ctrl+n"."""
        return " or ".join(map(printed, self.keys))


_NAMED = {
    "pageup": "PgUp",
    "pagedown": "PgDn",
    "enter": "Enter",
    "backspace": "Backspace",
    "underscore": "_",
}
"""Keys that are not printed as Textual calls them."""


def printed(key: str) -> str:
    """A key as it is printed: "F4", "shift+F4", "ctrl+n", "ctrl+_", "Enter", "PgUp"."""
    head, plus, last = key.rpartition("+")
    name = last.upper() if last[:1] == "f" and last[1:].isdigit() else _NAMED.get(last, last)
    return f"{head}{plus}{name}"


_GLOSSARY = Action("glossary", ("shift+f1", "ctrl+v"), "Glossary", "What the words of the trade mean.")
_COLOURS = Action(
    "colours", ("shift+f7", "ctrl+underscore"), "Next colours", "Night, day, or the terminal's own colours."
)

PLAN_ACTIONS: tuple[Action, ...] = (
    Action("help", ("f1", "ctrl+g"), "Help on this field", "What it is, how to measure it, what it changes.", "help"),
    Action("pages", ("f2", "ctrl+l"), "Go to a page", "Choose any of the pages from a list.", "pages"),
    Action("previous_page", ("f3", "ctrl+o"), "Previous page", "Go back one page.", "back"),
    Action("next_page", ("f4", "ctrl+n"), "Next page", "Go on to the next page.", "next"),
    Action("view", ("f5", "ctrl+t"), "Answers, findings or plot", "Show the next of the three views.", "view"),
    Action("plot", ("f6", "ctrl+x"), "Plot on the whole screen", "Read values off this page's plot.", "plot"),
    Action(
        "workings",
        ("f11", "ctrl+w"),
        "How it was worked out",
        "Formula, inputs, source and other methods, for every number.",
        "how",
    ),
    Action(
        "units", ("f7", "ctrl+r"), "Metric or imperial", "Switch the units; what you typed stays as typed.", "units"
    ),
    Action(
        "report",
        ("f8", "ctrl+f"),
        "Report or sheet to a file",
        "The whole plan, or one sheet of it, to print or to send.",
        "report",
    ),
    Action("plans", ("f9", "ctrl+k"), "List of plans", "Save this plan and go back to the list of plans."),
    Action(
        "market",
        ("f12", "ctrl+e"),
        "Search the stock wheels",
        "Try every stock wheel that fits with every ratio on offer.",
        "wheels",
    ),
    Action("undo", ("shift+f4", "ctrl+u"), "Undo", "Take the last change back, whichever page it was on.", "undo"),
    Action("redo", ("shift+f5", "ctrl+y"), "Redo", "Make again the change that was taken back last."),
    Action(
        "unsure",
        ("shift+f6", "ctrl+a"),
        "How sure of this field",
        "Give low, best and high, or say that you do not know.",
        "sure?",
    ),
    Action(
        "compare",
        ("shift+f2", "ctrl+d"),
        "Compare variants",
        "This plan and up to three variants of it, side by side.",
        "compare",
    ),
    _GLOSSARY,
    _COLOURS,
    Action("leave", ("f10", "ctrl+q"), "Save and quit", "Save the plan and leave the program.", "quit"),
)
"""What can be done while a plan is open."""

LIST_ACTIONS: tuple[Action, ...] = (
    Action("help", ("f1", "ctrl+g"), "Help", "What this list is, and which keys work everywhere.", "help"),
    Action("new_plan", ("f2", "ctrl+n"), "New plan", "Begin a plan for another boat.", "new plan"),
    Action("tour", ("f3", "ctrl+t"), "Guided tour", "Five minutes on an invented boat; nothing is saved.", "tour"),
    Action(
        "earlier",
        ("f4", "ctrl+o"),
        "Earlier versions",
        "How the plan in this line was before, and to go on from there.",
        "earlier",
    ),
    replace(_GLOSSARY, words="words"),
    replace(_COLOURS, words="colours"),
    Action("leave", ("f10", "ctrl+q"), "Quit", "Leave the program.", "quit"),
)
"""What can be done in the list of plans."""

MOVING: tuple[tuple[str, str], ...] = (
    ("Enter", "accept the field and go to the next one; open a list of choices; press a button"),
    ("Tab, Shift+Tab, arrows up and down", "move between fields"),
    ("Arrows left and right", "move in the text of a field, or between buttons side by side"),
    ("shift+Home", "mark the text of a field: what is typed next takes its place"),
    ("A letter", "open choices at what begins with it, or go to the next line of a list that does"),
    ("PgUp, PgDn", "scroll the answers and findings"),
    ("Esc", "close a dialog or a list of choices; go back to the review from where it has led to"),
    ("ctrl+p", "palette: find any action by its name"),
)
"""Keys that need no table of actions, for the help."""


def action_of(action_id: str) -> Action:
    """An action of an open plan."""
    return next(action for action in PLAN_ACTIONS if action.id == action_id)


def keys_of(action_id: str) -> tuple[str, ...]:
    """The keys of such an action."""
    return action_of(action_id).keys


WORKINGS_ACTIONS: tuple[Action, ...] = (
    Action("move", ("up", "down"), "Line before, next line", "Of the numbers, or of what goes into one."),
    Action("go_in", ("enter", "right"), "What goes into it", "Enter on a field leaves for that field."),
    Action("back", ("left", "backspace"), "Back", "To where you came from."),
    Action("page", ("pageup", "pagedown"), "Scroll", "The text of the working."),
    Action("help", keys_of("help"), "Help", "On the field in the line, else on this screen."),
    Action("dismiss", keys_of("workings"), "Close", "Back to the page; Esc goes back first."),
)
"""What the keys do while it is shown how the numbers were worked out, for its help: the screen binds them itself."""


def closing(action_id: str, *others: str) -> "Binding":
    """What closes a dialog: Esc, the keys of the action that opened it, and others.

    With priority, so that a key which comes together with it goes to what is behind the dialog.
    """
    from textual.binding import Binding

    keys = ",".join(("escape", *others, *keys_of(action_id)))
    return Binding(keys, "dismiss", "Close", id=f"close-{action_id}", show=False, priority=True)


def bindings(actions: tuple[Action, ...]) -> "list[BindingType]":
    """The bindings of a screen."""
    return [action.binding() for action in actions]


def key_line(actions: tuple[Action, ...], width: int) -> str:
    """One line with the most useful keys, as many as fit into the width."""
    parts = [f"{_shortest(action)} {action.words}" for action in actions if action.words]
    gap = "  " if len("  ".join(parts)) <= width - 2 else " "
    while len(gap.join(parts)) > width - 2 and len(parts) > 2:
        del parts[-2]  # the last one is the way out, and stays
    return gap.join(parts)


def _shortest(action: Action) -> str:
    """The key that is easiest to tell: a plain F-key, else the ctrl key."""
    return printed(next((key for key in action.keys if "+" not in key), action.keys[-1]))
