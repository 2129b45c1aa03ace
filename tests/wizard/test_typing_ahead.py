"""Keys typed faster than the screen is drawn go where the owner means them."""

from pathlib import Path

from textual import events
from textual.keys import _character_to_key

from engine.plan import text_at
from tests.wizard.driving import field, focus, is_open, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp


def send(app: ShaftlogApp, *keys: str) -> None:
    """Hand keys to the app all at once, as a terminal under load does; longer words are names of keys."""
    for key in keys:
        is_sign = len(key) == 1
        app.post_message(events.Key(_character_to_key(key) if is_sign else key, key if is_sign else None))


async def test_letters_after_enter_go_to_the_next_field(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.hull_draft")
        await pilot.pause()
        field(app, "hull.displacement").value = ""
        await until(lambda: text_at(app.plan, "hull.displacement") == "", pilot)
        send(app, *"3.1", "enter", *"9 t", "tab", "tab", *"4 ft", "down", "up")
        await until(lambda: text_at(app.plan, "hull.keel_draft") == "4 ft", pilot)
        assert text_at(app.plan, "hull.hull_draft") == "3.1 ft"
        assert text_at(app.plan, "hull.displacement") == "9 t"
        assert field(app, "hull.keel_draft").has_focus


async def test_letters_after_the_button_that_adds_a_row_go_into_the_row(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        focus(app, "engine.candidate")
        await pilot.pause()
        send(app, "enter", *"Blue 3", "enter", *"40 hp", "enter", *"2800")
        await until(lambda: len(app.plan.engine.candidate) == 2, pilot)
        await until(lambda: text_at(app.plan, "engine.candidate.1.rated_speed") == "2800 rpm", pilot)
        assert text_at(app.plan, "engine.candidate.1.name") == "Blue 3"
        assert text_at(app.plan, "engine.candidate.1.rated_power") == "40 hp"


async def test_letters_after_the_button_that_leads_on_go_to_the_next_page(range_path: Path) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        app.screen.set_focus(app.screen.query_one("#next-range"))
        await pilot.pause()
        send(app, "enter", *"2.4 m")
        await until(lambda: text_at(app.plan, "fit.room_length") == "2.4 m", pilot)


async def test_a_field_that_is_slow_to_see_its_keys_gets_them_all_before_enter_leaves_it(plan_path: Path) -> None:
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        focus(app, "hull.displacement")
        await pilot.pause()
        field(app, "hull.displacement").value = "14800 lb (14000 lb to 16500 lb)"
        await pilot.pause()
        send(app, "end", *["backspace"] * 40, *"9 t", "enter")
        await until(lambda: not field(app, "hull.displacement").has_focus, pilot)
        await pilot.pause(0.3)
        assert text_at(app.plan, "hull.displacement") == "9 t"
        assert field(app, "hull.displacement").value == "9 t"
        assert [step.path for step in app.history.steps] == ["hull.displacement"], "and it is one step"
