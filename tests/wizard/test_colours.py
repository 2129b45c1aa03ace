"""Without colour the wizard uses the terminal's own, and says everything in words."""

from pathlib import Path

import pytest

from tests.wizard.driving import is_open, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp


async def test_no_color_is_honoured(range_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    assert app.theme == "ansi-dark"
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment, pilot)
        await pilot.pause()
        assert "- wants" in screen_text(app)
