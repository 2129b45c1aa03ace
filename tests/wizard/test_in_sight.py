"""What has the focus stays in sight when something comes above it."""

from pathlib import Path

from tests.wizard.driving import focus, is_open, line, planning, until
from tests.wizard.fakes import fake_assessment
from tests.wizard.test_typing_ahead import send
from wizard.app import ShaftlogApp


async def test_a_field_stays_in_sight_when_the_one_before_it_was_not_understood(plan_path: Path) -> None:
    """The sentence that comes under a field once that is left pushed the next one out at the bottom."""
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(60, 18)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.waterline_beam")
        await pilot.pause()
        send(app, *"1 (4 to 11)", "enter")
        screen = planning(app)
        await until(lambda: screen.focused_path not in ("", "hull.waterline_beam"), pilot)
        await until(lambda: line(app, "hull.waterline_beam").texts.under, pilot)
        await pilot.pause(0.1)
        assert screen.focused is not None
        assert screen.find_widget(screen.focused).visible_region
