"""A table of the plan as an editable list: add a row, change its fields, take it out, choose one."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import partial
from itertools import pairwise
from operator import attrgetter
from typing import Any

from textual import on
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Button, Static

from engine.entries import entries, table_words, tables
from engine.plan import SECTIONS, Plan, problems, text_at
from wizard.examples import TABLES
from wizard.stages.forms import is_asked_in_row
from wizard.widgets.field import FieldLine
from wizard.widgets.say import say
from wizard.widgets.styled import LaidOutOnce, StyledWhenMounted

_FOLDED = {
    **dict.fromkeys(TABLES, ("name",)),
    "trial.run": ("engine_speed", "speed", "speed_back"),
    "trial.season": ("day", "what", "engine_speed", "speed"),
}
"""Tables whose complete rows are one line each at first, and the fields that stand in it."""


@dataclass
class RowAdded(Message):
    """The owner wants one row more."""

    table: str


@dataclass
class RowRemoved(Message):
    """The owner wants a row out."""

    table: str
    index: int


@dataclass
class RowChosen(Message):
    """The owner chose a candidate."""

    table: str
    index: int


@dataclass
class RowTurned(Message):
    """The owner wants to see the fields of one candidate, or to put them away."""

    table: str
    index: int


@dataclass
class ExampleAsked(Message):
    """The owner wants to start a row from an invented example."""

    table: str


def rows_of(plan: Plan, table: str) -> tuple[Any, ...]:
    """All rows of a table as a plan has them."""
    rows: tuple[Any, ...] = attrgetter(table)(plan)
    return rows


class RowButton(StyledWhenMounted, LaidOutOnce, Button):
    """A button that belongs to one row of a table."""

    def __init__(self, label: str, message: Callable[[], Message], key: str) -> None:
        super().__init__(Content(label), compact=True, name=key)
        self.message = message

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        event.stop()
        self.post_message(self.message())


class RowsEditor(LaidOutOnce, Vertical):
    """All rows of one table, each with its fields; the page puts its parts into it. Of candidates and of the runs of a
    trial only what is chosen, or not complete, shows its fields at first; the others have a button for that."""

    def __init__(self, plan: Plan, table: str) -> None:
        super().__init__(classes="rows")
        self.table = table
        self.plan = plan
        section, name = table.split(".")
        self._called = table_words(SECTIONS[section])[name]
        self._shut = self._shut_at_first()
        self._headings: list[Static] = []
        self._choosing: list[RowButton] = []

    def _shut_at_first(self) -> set[int]:
        if self.table not in _FOLDED:
            return set()
        wanting = {problem.path.rpartition(".")[0] for problem in problems(self.plan, self.table.partition(".")[0])}
        return {
            index
            for index, row in enumerate(self._rows())
            if row is not self.plan.engine.selected and f"{self.table}.{index}" not in wanting
        }

    def parts(self) -> Iterator[Widget]:
        """All that stands in it, in order."""
        section, name = self.table.split(".")
        described = entries(tables(SECTIONS[section])[name])
        self._headings, self._choosing = [], []
        for index in range(len(self._rows())):
            heading = Static(self.heading(index), classes="row-heading", markup=False, name=f"{self.table}.{index}")
            self._headings.append(heading)
            yield heading
            if index not in self._shut:
                for field in sorted(described, key=lambda key: not described[key].needed):
                    line = FieldLine(self.plan, f"{self.table}.{index}.{field}")
                    line.display = is_asked_in_row(self.plan, line.path)
                    yield line
            yield Horizontal(*self._buttons(index), classes="row-buttons")
        add = [RowButton(self._called.add, partial(RowAdded, self.table), f"add.{self.table}")]
        if self.table in TABLES:
            add.append(RowButton("Start from an example", partial(ExampleAsked, self.table), f"example.{self.table}"))
        yield Horizontal(*add, classes="row-buttons")

    def _buttons(self, index: int) -> Iterator[RowButton]:
        """What can be done with a row."""
        if self.table in _FOLDED:
            turn = "Show it" if index in self._shut else "Put it away"
            yield RowButton(turn, partial(RowTurned, self.table, index), f"turn.{self.table}.{index}")
        if self.table in TABLES:
            choose = partial(RowChosen, self.table, index)
            self._choosing.append(RowButton(self._choose_words(index), choose, f"choose.{self.table}.{index}"))
            yield self._choosing[-1]
        words = "Remove it" if self.table in TABLES else f"Remove this {self._called.one}"
        yield RowButton(words, partial(RowRemoved, self.table, index), f"remove.{self.table}.{index}")

    async def _draw_anew(self) -> None:
        with self.app.batch_update():
            await self.remove_children()
            await self.mount(*self.parts())

    def shut_in(self, plan: Plan) -> set[int]:
        """Which rows of a newer plan are put away: those that are now, wherever they stand there. One that has been
        changed is known by its place among the others; one that has come shows its fields."""
        found = set()
        matcher = SequenceMatcher(None, self._rows(), rows_of(plan, self.table), autojunk=False)
        for _, first, last, begin, end in matcher.get_opcodes():
            found |= {new for old, new in zip(range(first, last), range(begin, end), strict=False) if old in self._shut}
        return found

    async def rebuild(self, plan: Plan) -> None:
        """Draw the rows anew after some came or went."""
        self._shut = self.shut_in(plan)
        self.plan = plan
        await self._draw_anew()

    async def follow(self, plan: Plan) -> None:
        """Take a plan that was changed from elsewhere."""
        if len(self._headings) == len(rows_of(plan, self.table)) and self.shut_in(plan) == self._shut:
            self.show(plan)
        else:
            await self.rebuild(plan)

    async def reveal(self, path: str) -> None:
        """Show the fields of the row in which a field stands."""
        head, _, index = path.rpartition(".")[0].rpartition(".")
        if head == self.table and index.isdigit() and int(index) in self._shut:
            self._shut.discard(int(index))
            await self._draw_anew()

    @on(RowTurned)
    async def _turned(self, message: RowTurned) -> None:
        message.stop()
        await self.turn(message.index)

    async def turn(self, index: int) -> None:
        """Show the fields of a row, or put them away."""
        self._shut ^= {index}
        await self._draw_anew()
        name = f"turn.{self.table}.{index}"
        shown = [line for line in self.lines() if line.path.startswith(f"{self.table}.{index}.")]
        button = next(found for found in self.query(RowButton) if found.name == name)
        self.screen.set_focus(shown[0].field if shown else button)

    def lines(self) -> list[FieldLine]:
        """The lines of the fields that show."""
        return [child for child in self.children if isinstance(child, FieldLine)]

    def ask_what_is_needed(self, plan: Plan, path: str) -> None:
        """Show the fields that the plan needs, and leave out the others; not the one that the owner is in.

        path: a field that is shown in any case.
        """
        for line in self.lines():
            line.display = is_asked_in_row(plan, line.path) or line.path == path or line.has_focus_within

    def is_touched_by(self, path: str) -> bool:
        """Whether a change of this field shows in a heading: those of candidates say which one is chosen."""
        return not path or path.startswith(f"{self.table}.") or self.table in TABLES

    def show(self, plan: Plan) -> None:
        """Bring the headings up to date; the fields look after themselves."""
        self.plan = plan
        for index, heading in enumerate(self._headings):
            say(heading, self.heading(index), fits=True)
        for index, button in enumerate(self._choosing):
            words = Content(self._choose_words(index))
            if not words.is_same(Content(str(button.label))):
                button.label = words
                button.refresh(layout=True)  # it is longer or shorter now

    def _choose_words(self, index: int) -> str:
        is_chosen = self._rows()[index] is self.plan.engine.selected
        return "Chosen: later pages use it" if is_chosen else "Choose it"

    def show_heading_over(self, part: Widget) -> None:
        """Scroll to the heading that stands right above a field or button, if one does."""
        line = part if part.parent is self else part.parent
        for above, below in pairwise(self.children):
            if below is line and above in self._headings:
                above.scroll_visible(animate=False)

    def heading(self, index: int) -> str:
        """What stands over a row: its number, and what is told of it in one line."""
        number = f"{self._called.one.capitalize()} {index + 1}"
        texts = [text_at(self.plan, f"{self.table}.{index}.{name}") for name in _FOLDED.get(self.table, ())]
        said = ", ".join(text for text in texts if text)
        if self.table not in TABLES:
            return f"{number}: {said}" if said else number
        is_chosen = self._rows()[index] is self.plan.engine.selected
        return f"{number}: {said or 'no name yet'}{' (chosen)' if is_chosen else ''}"

    def _rows(self) -> tuple[Any, ...]:
        return rows_of(self.plan, self.table)
