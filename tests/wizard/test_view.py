"""What a page's answers stand in: rows of a long text, scrolled by key, from the top of each page."""

import dataclasses
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from textual.app import App, ComposeResult
from textual.content import Content
from textual.pilot import Pilot

from engine.plan import with_text
from engine.planfile import load_plan
from tests.conftest import ROOT
from tests.wizard.driving import is_open, planning, until, words
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.widgets.scrolled import ScrolledText
from wizard.widgets.view import StageView

LOW = (80, 20)


class Alone(App[None]):
    """A text by itself."""

    def __init__(self, height: str) -> None:
        self.CSS = f"ScrolledText {{ height: {height}; max-height: 10; width: 30; }}"
        super().__init__()

    def compose(self) -> ComposeResult:
        yield ScrolledText(id="text")


@asynccontextmanager
async def standing_alone(
    paragraphs: Iterable[str], height: str = "10"
) -> AsyncIterator[tuple[ScrolledText, Pilot[Any]]]:
    """A text by itself that shows these paragraphs."""
    app = Alone(height)
    async with app.run_test(size=(40, 20)) as pilot:
        text = app.query_one(ScrolledText)
        text.show(map(Content, paragraphs))
        await pilot.pause()
        yield text, pilot


def rows(text: ScrolledText) -> list[str]:
    return [text.render_line(y).text.rstrip() for y in range(text.size.height)]


async def test_a_long_text_is_broken_at_words_and_all_of_it_can_be_reached() -> None:
    long = [f"{number} follows, with more words than a row has room for" for number in range(30)]
    async with standing_alone(long) as (text, pilot):
        assert rows(text)[:2] == ["0 follows, with more words", "than a row has room for"]
        text.scroll_to(y=1000, animate=False)
        await pilot.pause()
        assert rows(text)[-2:] == ["29 follows, with more words", "than a row has room for"]
        assert str(text.render()).count("follows") == 30


async def test_a_text_that_becomes_short_is_seen_from_its_top() -> None:
    async with standing_alone(f"row {number}" for number in range(50)) as (text, pilot):
        text.scroll_to(y=1000, animate=False)
        text.show([Content("the only row")])
        await pilot.pause()
        assert rows(text)[0] == "the only row"


@pytest.mark.parametrize(("height", "changes"), [("10", 0), ("auto", 1)])
async def test_a_longer_text_lays_the_window_out_only_when_it_takes_more_of_it(
    height: str, changes: int, layouts: list[object]
) -> None:
    def numbered(last: int) -> list[Content]:
        return [Content(f"row {number}") for number in range(last + 1)]

    async with standing_alone(["row 0", "row 1"], height) as (text, pilot):
        layouts.clear()
        text.show(numbered(4))
        await pilot.pause(0.1)
        assert rows(text)[4:] == ["row 4", "", "", "", "", ""][: text.size.height - 4]
        assert len(layouts) == changes
        text.show(numbered(20))
        await pilot.pause(0.1)
        assert text.size.height == 10
        assert text.show_vertical_scrollbar
        layouts.clear()
        text.show(numbered(40))
        await pilot.pause(0.1)
        assert text.max_scroll_y == 41 - 10
        assert text.vertical_scrollbar.window_virtual_size == 41
        assert layouts == []


async def test_a_text_is_broken_anew_for_another_width_and_painted_anew_for_other_colours() -> None:
    async with standing_alone(["one two three four five six seven"]) as (text, pilot):
        assert rows(text)[:2] == ["one two three four five six", "seven"]
        text.styles.width = 12
        await pilot.pause()
        assert rows(text)[:3] == ["one two", "three four", "five six"]
        plain = text.render_line(0)
        text.show([Content.styled("one two three four five six seven", "bold")])
        await pilot.pause()
        assert text.render_line(0).text == plain.text
        assert text.render_line(0) != plain


async def test_each_page_shows_its_answers_from_the_top_and_typing_leaves_them_where_they_are(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=LOW) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        answers = planning(app).query_one("#answers", ScrolledText)
        await pilot.press("pagedown")
        await until(lambda: answers.scroll_offset.y > 0, pilot)
        place = answers.scroll_offset.y
        await pilot.press("1")
        await until(lambda: not app.is_updating, pilot)
        assert answers.scroll_offset.y == place
        await pilot.press("f4")
        await until(is_open(app, "speed"), pilot)
        assert answers.scroll_offset.y == 0


async def test_a_page_that_waits_for_an_engine_says_below_it_what_power_to_look_for(tmp_path: Path) -> None:
    """In a narrow window too, where findings and answers take turns."""
    app = ShaftlogApp(None, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        app.begin_plan(dataclasses.replace(load_plan(ROOT / "saved_plans" / "mirabel.toml"), name="Shopping"))
        await until(lambda: is_open(app, "engine")() and app.assessment and not app.is_updating, pilot)
        first, *_, last = planning(app).query_one("#answers", ScrolledText).render().plain.split("\n")
        assert first == "Waits for: the rated power of Three-cylinder."
        assert last.startswith("Look for an engine rated about ")
        await pilot.press("f5", "f5")  # past the findings to the plot, of which there is none yet
        await until(lambda: planning(app).query_one(StageView).current == "plot", pilot)
        await pilot.pause()
        assert planning(app).query_one("#answers", ScrolledText).display
        assert planning(app).query_one("#hint").display, "only a plot that is there takes room from the form"
        first, *_, last = planning(app).query_one("#answers", ScrolledText).render().plain.split("\n")
        assert first.startswith("Waits for: ")
        assert last.startswith("Look for an engine rated about ")


async def test_what_stops_the_plan_stands_before_answers_whose_findings_are_out_of_sight(tmp_path: Path) -> None:
    """The answers of a hull that cannot be looked sound: only a mark in the line of pages told otherwise."""
    app = ShaftlogApp(None, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        plan = with_text(load_plan(ROOT / "saved_plans" / "bittern.toml"), "hull.hull_draft", "6 ft 6 in")
        app.begin_plan(dataclasses.replace(plan, name="To the keel", stage="hull"))
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        view = planning(app).query_one(StageView)
        answers = planning(app).query_one("#answers", ScrolledText)
        assert answers.render().plain.startswith("! stop: The block coefficient comes out at ")
        assert " findings !  plot " in words(app, "#view-title")
        await planning(app).go_to("power")
        await until(lambda: "Wake" in answers.render().plain, pilot)
        assert view.outcome
        assert "stop" not in answers.render().plain
        assert " findings ?  plot " in words(app, "#view-title")
