"""The glossary: from any page, narrowed down by typing."""

from pathlib import Path

from tests.wizard.driving import is_open, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.screens.glossary import GlossaryScreen


async def test_a_word_is_looked_up_from_the_plan_and_from_the_list(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await pilot.press("ctrl+v")
        await until(lambda: "Glossary" in screen_text(app), pilot)
        before = screen_text(app)
        await pilot.press("pagedown")
        await until(lambda: screen_text(app) != before, pilot)
        await type_text(pilot, "thrust ded")
        await until(lambda: "Full sterns and tight apertures" in screen_text(app), pilot)
        await type_text(pilot, "[x]")
        await until(lambda: "No word like that here." in screen_text(app), pilot)
        await pilot.press("escape", "f9")
        await until(lambda: "Plan a repower" in screen_text(app), pilot)
        await pilot.press("shift+f1")
        await until(lambda: isinstance(app.screen, GlossaryScreen), pilot)
        await pilot.press("enter")
        await until(lambda: not isinstance(app.screen, GlossaryScreen), pilot)
