"""A page of the wizard: the question of one stage, and the form that asks it."""

import asyncio
from collections.abc import Iterator
from itertools import groupby, islice, takewhile
from operator import itemgetter

from textual import on
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Button, Static

from engine.plan import PAGES, QUESTIONS, Plan, entry_at, label_at, stage_problems
from engine.plan_defaults import FOLLOWING
from wizard.stages.forms import Group, groups, left_out
from wizard.widgets.field import FieldChoice, FieldInput, FieldLine
from wizard.widgets.rows import RowsEditor
from wizard.widgets.say import say
from wizard.widgets.styled import LaidOutOnce


class GoTo(Message):
    """The owner wants another page, and maybe a certain field on it."""

    def __init__(self, page: str, path: str = "") -> None:
        super().__init__()
        self.page = page
        self.path = path


class SearchAsked(Message):
    """The owner wants the stock wheels searched."""


# The focus is always set through the screen: Widget.focus() only does so after keys that are already on their way, and
# these would then go to the field, or the page, that the owner has just left.


CONTROLS = (FieldInput, FieldChoice, Button)
"""What can have the focus on the page of a stage."""
_SEARCHING = ("gear", "propeller")
_SEARCH = "search"
_PASSED_OVER = ("remove.", "example.", "turn.", _SEARCH)
"""Beginnings of the names of buttons that Enter in a field does not lead to."""
_PORTION = 8
"""Parts of a page that are mounted in one turn: on an old laptop they take some 20 ms."""
_ABOUT = ("engine.candidate", "engine.motor", "trial.run")
"""Tables that their page is about."""


class StagePage(LaidOutOnce, VerticalScroll, can_focus=False, inherit_bindings=False):
    """The form of one stage."""

    def __init__(self, plan: Plan, stage: str, last_path: str = "") -> None:
        """last_path: the field on which the owner left it, "" while there is none."""
        super().__init__(id=f"page-{stage}", classes="page")
        self.stage = stage
        self.plan = plan
        self.last_path = last_path
        self._mends_at = ""
        self._lines: list[FieldLine] = []
        self._tables: list[RowsEditor] = []
        self._groups: list[tuple[Group, list[Widget]]] = []
        self._left_out = Static("", classes="left-out", markup=False)
        self._left = self._parts()
        self.is_all_there = False
        self._is_putting_up = asyncio.Lock()
        self._mend = Button(Content(self._mend_words("")), id=f"mend-{stage}", classes="mend", compact=True)
        self._mend.display = False

    def _parts(self) -> Iterator[tuple[Widget, Widget]]:
        """All that stands on the page, in order, each with what it goes into."""
        number = PAGES.index(self.stage) + 1
        yield self, Static(f"{number} of {len(PAGES)}  {QUESTIONS[self.stage]}", classes="question", markup=False)
        for group in groups(self.stage):
            shown = group.is_asked(self.plan)
            for part in self._parts_of(group):
                part.display = shown
                yield self, part
                if isinstance(part, RowsEditor):
                    yield from ((part, within) for within in part.parts())
        self._tell_left_out()
        yield self, self._left_out
        yield self, self._mend
        if self.stage in _SEARCHING:
            words = Content("Try every stock wheel with every ratio")
            yield self, Button(words, name=_SEARCH, classes="search", compact=True)
        words = Content(f"Next page: {self.next_page}")
        yield self, Button(words, id=f"next-{self.stage}", classes="next", compact=True)

    def _parts_of(self, group: Group) -> Iterator[Widget]:
        """The heading of a group, and its fields or its table."""
        parts: list[Widget] = []
        self._groups.append((group, parts))
        parts.append(Static(group.title, classes="group", markup=False))
        yield parts[0]
        if group.table:
            self._tables.append(RowsEditor(self.plan, group.table))
            parts.append(self._tables[-1])
            yield self._tables[-1]
        for path in group.paths:
            self._lines.append(FieldLine(self.plan, path))
            parts.append(self._lines[-1])
            yield self._lines[-1]

    def _ask_what_is_needed(self, path: str = "") -> None:
        """Show the groups that the plan needs, and leave out the others; not the one that the owner is in.

        path: a field whose group is shown in any case.
        """
        for group, parts in self._groups:
            is_shown = group.is_asked(self.plan) or group.has(path) or any(part.has_focus_within for part in parts)
            for part in parts:
                part.display = is_shown
        for rows in self._tables:
            rows.ask_what_is_needed(self.plan, path)
        self._tell_left_out()

    def _tell_left_out(self) -> None:
        """Say which groups are left out, if any are."""
        text = left_out(group for group, parts in self._groups if not parts[0].display)
        self._left_out.display = bool(text)
        say(self._left_out, text)

    async def put_up(self, least: int = 0) -> None:
        """Mount what is not there yet, some at a time, so that the screen is never held up for long.

        least: so many parts will do for now, with the one that is to have the focus; 0 wants all.
        It stops where it is when the plan is closed meanwhile.
        """
        async with self._is_putting_up:
            mounted = 0
            while portion := list(islice(self._left, _PORTION)):
                for into, parts in groupby(portion, key=itemgetter(0)):
                    if not into.is_attached:
                        return
                    await into.mount(*(part for _, part in parts))
                mounted += len(portion)
                if least and mounted >= least and self._has_place():
                    return
            self.is_all_there = True

    def _has_place(self) -> bool:
        """Whether the field that is to have the focus is mounted."""
        paths = [*(problem.path for problem in stage_problems(self.plan, self.stage)), self.last_path]
        return not paths[0] or self._target(paths[0]) is not None

    @property
    def next_page(self) -> str:
        """The page after this one."""
        return PAGES[PAGES.index(self.stage) + 1]

    @property
    def lines(self) -> list[FieldLine]:
        """The lines of all fields that show, those of the rows of tables last."""
        return [*self._lines, *(line for rows in self._tables for line in rows.lines())]

    def show(self, plan: Plan, path: str = "") -> None:
        """Show a newer plan: one field of it, or all."""
        self.plan = plan
        if not path:
            self._ask_what_is_needed()
        for line in self.lines:
            if not path or line.path == path or line.path in plan.not_known | FOLLOWING:  # these follow the rest
                line.show(plan)
        for rows in self._tables:
            if rows.is_touched_by(path):
                rows.show(plan)

    async def follow(self, plan: Plan) -> None:
        """Take a plan that was changed from elsewhere: rows may have come or gone, also the focused text may differ."""
        await self.put_up()
        self.plan = plan
        for rows in self._tables:
            await rows.follow(plan)
        self.show(plan)
        self.tidy()

    def tidy(self) -> None:
        """Show every text as the plan keeps it, also the one that has the focus."""
        for line in self.lines:
            if isinstance(line.field, FieldInput):
                line.field.tidy()

    async def rebuild_rows(self, plan: Plan, table: str) -> None:
        """Draw a table again after a row came or went; another one may have the chosen row now."""
        await self.put_up()
        self.plan = plan
        for rows in self._tables:
            if rows.table == table:
                await rows.rebuild(plan)
            else:
                rows.show(plan)

    async def reveal(self, path: str) -> None:
        """Show the group and the row in which a field stands, when they have been put away."""
        await self.put_up()
        self._ask_what_is_needed(path)
        for rows in self._tables:
            await rows.reveal(path)

    def show_mend(self, page: str) -> None:
        """Offer the page that can mend what this one waits for; "" offers nothing."""
        self._mend.display = bool(page)
        words = self._mend_words(page)
        if str(self._mend.label) != words:
            self._mend.label = Content(words)
            self._mend.refresh(layout=True)  # a button keeps the width of its first words
        self._mends_at = page

    def _mend_words(self, page: str) -> str:
        """What is missing there, and which page it leads to: in one row of the narrowest form."""
        missing = stage_problems(self.plan, page)
        if not missing:
            return f"This page waits for another one. Go to: {page}"
        return f"Missing: {_label_of(self.plan, missing[0].path)}. Go to: {page}"

    def controls(self) -> list[Widget]:
        """The fields and buttons of the form, in order."""
        found = [widget for widget in self.walk_children(Widget) if isinstance(widget, CONTROLS)]
        return [widget for widget in found if widget.focusable and self._is_shown(widget)]

    def _is_shown(self, widget: Widget) -> bool:
        """Whether neither a widget nor anything it stands in has been left out."""
        within = takewhile(lambda node: node is not self, widget.ancestors_with_self)
        return all(node.display for node in within if isinstance(node, Widget))

    def move(self, from_widget: Widget | None, step: int) -> None:
        """Give the focus to the next (1) or previous (-1) field or button; past the last one it stays."""
        order = self.controls()
        if not order:
            return
        place = order.index(from_widget) if from_widget in order else -step
        reached = order[min(max(place + step, 0), len(order) - 1)]
        self.screen.set_focus(reached)
        if reached is order[0] and self.scroll_y:  # the question over it is to be seen, too
            self.call_after_refresh(self.scroll_home, animate=False)

    def go_on(self, from_widget: Widget | None) -> None:
        """After Enter: on to the next field, or a button that leads on, not to one that removes or searches.

        To one that adds a row only from a row of its table, or where the page is about it: Enter in passing adds none.
        """
        order = self.controls()
        place = order.index(from_widget) if from_widget in order else -1
        following = next((widget for widget in order[place + 1 :] if self._leads_to(widget, from_widget)), None)
        if following is not None:
            self.screen.set_focus(following)

    def _leads_to(self, widget: Widget, from_widget: Widget | None) -> bool:
        """Whether Enter in a field goes on to a widget behind it."""
        action, _, table = (widget.name or "").partition(".")
        if action != "add" or table in _ABOUT:
            return not (widget.name or "").startswith(_PASSED_OVER)
        return isinstance(from_widget, FieldInput | FieldChoice) and from_widget.path.startswith(f"{table}.")

    def _target(self, path: str) -> Widget | None:
        """The widget in which a field is entered; of a row the first one; of both the first button of the row if it is
        put away; of a table, or a row that is not there, the last button. None when it is not here."""
        table, _, index = path.rpartition(".")
        is_row = index.isdigit()
        found = (
            line.field for line in self.lines if line.path == path or (is_row and line.path.startswith(f"{path}."))
        )
        if field := next(found, None):
            return field
        buttons = {button.name: button for button in self.query(Button)}
        put_away = buttons.get(f"turn.{path if is_row else table}")
        return put_away or buttons.get(f"add.{table if is_row else path}")

    def focus_path(self, path: str) -> bool:
        """Give a field the focus. A path of a row means its first field, that of a table its last button.

        Returns: False when it is not here, or left out.
        """
        target = self._target(path)
        if target is None or not self._is_shown(target):
            return False
        self.screen.set_focus(target)
        return True

    def focus_first(self) -> None:
        """Where the owner left this page, else the first thing that is missing, else the first field.

        A needed field whose text was not understood comes first: the page waits for it, and it may be out of sight.
        """
        missing = [problem.path for problem in stage_problems(self.plan, self.stage)]
        blocking = [path for path in missing if path in self.plan.unread and entry_at(path).needed]
        place = [] if blocking and self.last_path not in blocking else [self.last_path]
        for path in (*place, *blocking, *missing):
            if path and self.focus_path(path):
                return
        order = self.controls()
        if order:
            self.screen.set_focus(order[0])

    def field_behind(self, widget: Widget | None) -> str:
        """The path of the field that is missing on the page that a button leads to; "" when none is."""
        if not isinstance(widget, Button) or not widget.has_class("mend"):
            return ""
        return next((problem.path for problem in stage_problems(self.plan, self._mends_at)), "")

    def page_behind(self, widget: Widget | None) -> str:
        """The page that a button leads to; "" for any other widget."""
        if isinstance(widget, Button) and widget.has_class("next"):
            return self.next_page
        if isinstance(widget, Button) and widget.has_class("mend"):
            return self._mends_at or self.stage
        return ""

    @on(Button.Pressed, ".mend, .next")
    def _follow(self, event: Button.Pressed) -> None:
        event.stop()
        self.post_message(GoTo(self.page_behind(event.button), self.field_behind(event.button)))

    @on(Button.Pressed, ".search")
    def _search(self, event: Button.Pressed) -> None:
        event.stop()
        self.post_message(SearchAsked())


def _label_of(plan: Plan, path: str) -> str:
    """What a field is called on its page; a table has its own name."""
    try:
        return label_at(plan, path)
    except KeyError:
        return "an engine" if path.startswith("engine.") else path
