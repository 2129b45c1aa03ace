"""The button of a page that waits: what is missing and where, told to the end in every window."""

from itertools import product
from pathlib import Path

import pytest
from textual.widgets import Button

from engine.plan import SECTIONS, Plan, Problem, entry_at, page_of, paths
from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.stages.page import StagePage

NEEDED = [path for section in SECTIONS for path in paths(Plan(), section) if entry_at(path).needed]
NEEDED.remove("shaft.span")
"""What other pages can wait for; nothing waits for the shaft page."""


async def test_what_a_page_waits_for_is_told_to_the_end(plan_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In a window of 120 columns it broke off in the middle of the sentence."""
    missing: list[Problem] = []
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 30)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        shown = planning(app).query_one("#page-hull", StagePage)
        await shown.put_up()
        monkeypatch.setattr("wizard.stages.page.stage_problems", lambda *_: missing)
        paths_of_all = (*NEEDED, "engine.candidate", "range.tank", "engine.candidate.0.rated_speed", "")
        for width, path in product((60, 80, 110, 120), paths_of_all):
            if app.screen.size.width != width:
                await pilot.resize_terminal(width, 30)
                await until(lambda width=width: app.screen.size.width == width, pilot)
            page = page_of(path) or "propeller"
            missing[:] = [Problem(path, "")] if path else []
            shown.show_mend(page)
            button = shown.query_one("#mend-hull", Button)
            button.focus()  # the screen keeps in sight what has it
            await until(lambda page=page: f"Go to: {page}" in screen_text(app), pilot)
