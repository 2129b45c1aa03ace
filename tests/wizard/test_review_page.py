"""The review page by keyboard: along the list, to a field and back, parts opened and closed, the pane beside."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from tests.wizard.driving import field, is_open, planning, screen_text, until, words
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.help import HelpScreen
from wizard.stages.review import HeadInput, ReviewList, ReviewPage
from wizard.widgets.cautions import CautionsPane

SMALL, LARGE = (80, 24), (120, 40)


def review_list(app: ShaftlogApp) -> ReviewList:
    return planning(app).query_one(ReviewList)


def prompts(app: ShaftlogApp) -> list[str]:
    return [str(option.prompt) for option in review_list(app).options]


def highlight(app: ShaftlogApp, text: str) -> None:
    """Go to the first line with these words."""
    lines = review_list(app)
    lines.highlighted = next(i for i, option in enumerate(lines.options) if text in str(option.prompt))


async def at_review(app: ShaftlogApp, pilot: Pilot[Any]) -> None:
    await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
    await planning(app).go_to("review")
    await until(lambda: "Ready to order?" in screen_text(app), pilot)


def app_for(path: Path) -> ShaftlogApp:
    return ShaftlogApp(path, path.parent, assess=fake_assessment)


async def test_a_line_leads_to_its_field_and_esc_comes_back_to_the_line(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        highlight(app, "Still missing: Longest distance")
        await pilot.pause()
        assert "Enter goes to the shaft page: Longest distance between bearings." in words(app, "#line-detail")
        await pilot.press("enter")
        await until(lambda: is_open(app, "shaft")() and field(app, "shaft.span").has_focus, pilot)
        await pilot.press("escape")
        await until(is_open(app, "review"), pilot)
        lines = review_list(app)
        assert lines.has_focus
        assert "Longest distance" in str(lines.get_option_at_index(lines.highlighted or 0).prompt)


async def test_esc_goes_back_only_from_where_the_review_has_led_to(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        highlight(app, "Still missing: Longest distance")
        await pilot.press("enter")
        await until(is_open(app, "shaft"), pilot)
        await pilot.press("f3")
        await until(is_open(app, "propeller"), pilot)
        await pilot.press("escape")
        await pilot.pause(0.2)
        assert is_open(app, "propeller")()


async def test_the_highlight_begins_at_the_top_once_there_is_something_worked_out(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        page = planning(app).current
        assert isinstance(page, ReviewPage)
        page.show_assessment(None)
        assert "What is missing" in prompts(app)[0]
        page.show_assessment(app.assessment)
        assert prompts(app)[review_list(app).highlighted or 0].startswith("- engine")


async def test_every_line_fits_on_one_row_and_a_heading_is_passed_over(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        lines = review_list(app)
        assert all(len(text) <= lines.size.width and "\n" not in text for text in prompts(app))
        count = sum(not option.disabled for option in lines.options)
        seen = [lines.highlighted]
        for _ in range(count + 3):
            await pilot.press("down")
            seen.append(lines.highlighted)
        assert len(set(seen)) == count, "the last line is the end"
        assert not any(lines.get_option_at_index(at or 0).disabled for at in seen)


async def test_a_plot_that_had_the_window_leaves_it_to_the_list_of_the_review(range_path: Path) -> None:
    """Two thirds of the window stood empty below one line of the list."""
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        await planning(app).go_to("review")
        await until(lambda: review_list(app).size.height > 0, pilot)
        rows = review_list(app).size.height
        await planning(app).go_to("range")
        await pilot.press("f5", "f5")
        await until(lambda: planning(app).query_one("#right").has_class("-plot"), pilot)
        await planning(app).go_to("review")
        await until(lambda: review_list(app).size.height == rows, pilot)
        await planning(app).go_to("range")
        await until(lambda: planning(app).query_one("#right").has_class("-plot"), pilot)


async def test_no_heading_is_cut_in_the_smallest_window(range_path: Path) -> None:
    """What the shares over what to measure next are of was cut at 60 columns, and at 120."""
    app = app_for(range_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await at_review(app, pilot)
        over = [str(option.prompt) for option in review_list(app).options if option.disabled]
        assert any(text.endswith("What to measure next (share of doubt)") for text in over)
        assert not any(text.endswith("...") for text in over)


async def test_up_from_the_first_line_leaves_the_list(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        await pilot.press("up")
        await until(lambda: isinstance(app.focused, HeadInput), pilot)
        await pilot.press("down")
        await until(lambda: review_list(app).has_focus, pilot)


async def test_a_part_opens_and_closes_and_the_highlight_stays_on_it(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        before = prompts(app)
        highlight(app, "What fits")
        await pilot.press("enter")
        await until(lambda: any("It fits [kW] well." in text for text in prompts(app)), pilot)
        at = review_list(app).highlighted or 0
        assert "Enter closes" in prompts(app)[at]
        await pilot.press("enter")
        await until(lambda: prompts(app) == before, pilot)
        assert review_list(app).highlighted == at


async def test_even_the_smallest_window_says_that_it_is_an_estimate(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=(60, 18)) as pilot:
        await at_review(app, pilot)
        assert "Estimate, not a certificate." in screen_text(app)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_the_pane_tells_all_of_the_line_and_cautions_stand_beside_where_there_is_room(
    range_path: Path, size: tuple[int, int]
) -> None:
    app = app_for(range_path)
    async with app.run_test(size=size) as pilot:
        await at_review(app, pilot)
        highlight(app, "Look at this [/x] again.")
        await pilot.pause()
        assert "look again, hull: Look at this [/x] again.\nRule: a source" in words(app, "#line-detail")
        assert "Estimate, not a certificate." in screen_text(app)
        assert planning(app).query_one(CautionsPane).display == (size == LARGE)
        await pilot.resize_terminal(*(LARGE if size == SMALL else SMALL))
        await until(lambda: planning(app).query_one(CautionsPane).display == (size == SMALL), pilot)


async def test_help_has_all_of_a_line_that_the_pane_cuts_at_a_word(range_path: Path) -> None:
    """The reasons against an order ended in the middle of a word, and nowhere else stood together."""
    reasons = tuple(f"- Reason {number}: " + "the pitch is not known. " * 6 for number in range(9))
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        page = planning(app).current
        assert isinstance(page, ReviewPage)
        page._lines = [replace(each, detail=reasons) for each in page._lines]
        await pilot.press("down")
        await until(lambda: "F1 has the rest" in words(app, "#line-detail"), pilot)
        told = next(row for row in words(app, "#line-detail").splitlines() if "F1 has" in row)
        assert told.partition(" ... ")[0].split()[-1] in reasons[0].split()
        await pilot.press("f1")
        await until(lambda: isinstance(app.screen, HelpScreen), pilot)
        assert all(reason in words(app, "#help-text") for reason in reasons)
        assert "Enter goes to the page and field of a line" in words(app, "#help-text")


async def test_a_sheet_is_written_from_its_line(range_path: Path) -> None:
    app = app_for(range_path)
    async with app.run_test(size=SMALL) as pilot:
        await at_review(app, pilot)
        await pilot.press("end", "enter")
        await until(lambda: "Write a sheet to a file" in screen_text(app), pilot)
        form = app.screen.query_one("#form", OptionList)
        assert form.has_focus, "the sheet is chosen already"
