"""Letters and digits in a list lead to its lines: one by one, or several in a row."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import pytest
from textual.app import App, ComposeResult
from textual.pilot import Pilot

from engine.plan import PAGES
from wizard.widgets import lines
from wizard.widgets.lines import Lines


@asynccontextmanager
async def listed() -> AsyncIterator[tuple[Lines, Pilot[None]]]:
    """The pages in a list that has the focus."""
    listing = Lines(*(f"{number} {page}" for number, page in enumerate(PAGES, 1)))

    class Bare(App[None]):
        def compose(self) -> ComposeResult:
            yield listing

    async with Bare().run_test() as pilot:
        listing.focus()
        await pilot.pause()
        yield listing, pilot


def at(listing: Lines) -> str:
    assert listing.highlighted is not None
    return str(listing.get_option_at_index(listing.highlighted).prompt)


@pytest.mark.parametrize(
    ("typed", "reached"),
    [
        ("s", "2 speed"),
        ("ss", "7 shaft"),
        ("sss", "2 speed"),
        ("sh", "7 shaft"),
        ("shaft", "7 shaft"),
        ("po", "3 power"),
        ("pr", "6 propeller"),
        ("shr", "8 range"),
        ("12", "12 review"),
        ("7", "7 shaft"),
        ("CO", "10 costs"),
    ],
)
async def test_what_is_typed_in_a_row_leads_to_the_line_that_begins_with_it(typed: str, reached: str) -> None:
    async with listed() as (listing, pilot):
        await pilot.press(*typed)
        assert at(listing) == reached


async def test_a_letter_after_a_while_stands_for_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lines, "IN_A_ROW", 0.0)
    async with listed() as (listing, pilot):
        await pilot.press("s", "h")
        assert at(listing) == "1 hull"


async def test_what_leads_nowhere_moves_nothing() -> None:
    async with listed() as (listing, pilot):
        await pilot.press("s", "z")
        assert at(listing) == "2 speed"
