"""Names in other scripts, emoji and very long ones: kept as typed, and no page or screen falls over them."""

from pathlib import Path

import pytest
from textual import events

from engine.plan import PAGES
from engine.planfile import load_plan
from tests.wizard.conftest import ENOUGH
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment, made_up_market
from wizard.app import ShaftlogApp
from wizard.screens.plans import PlansScreen

RIGHT_TO_LEFT = "سفينة שלום"
EMOJI = "⛵🚢👩‍🔧"
JOINER = "\N{ZERO WIDTH JOINER}"
ODD = f"{RIGHT_TO_LEFT} {EMOJI} [/x] " + "very long " * 20
OVER = ("f1", "f2", "f6", "f11", "f12", "ctrl+a", "ctrl+d", "ctrl+v")


@pytest.mark.parametrize("size", [(60, 18), (120, 40)], ids=str)
async def test_odd_names_pass_through_every_page_and_screen(
    plan_path: Path, size: tuple[int, int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.screens.market.SETTLES", 0.0)
    plan_path.write_text(ENOUGH.replace("Teasel", ODD).replace("Grey 4", ODD.strip()), encoding="utf-8")
    market = made_up_market()
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment, search=lambda *_: market)
    async with app.run_test(size=size, notifications=True) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        for page in PAGES:
            await planning(app).go_to(page)
            await pilot.pause()
            if page == "engine":
                assert field(app, "engine.candidate.0.name").value == ODD.strip()
        assert RIGHT_TO_LEFT in screen_text(app), "the review has the name of the plan"
        await planning(app).go_to("propeller")
        for key in OVER:
            before = app.screen
            await pilot.press(key)
            await until(lambda before=before: app.screen is not before, pilot)
            await pilot.press("escape")
            await until(lambda before=before: app.screen is before, pilot)
        await pilot.press("f9")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
        assert RIGHT_TO_LEFT in screen_text(app), "the list of plans has it too"
    kept = load_plan(plan_path)
    assert (kept.name, kept.engine.candidate[0].name) == (ODD, ODD.strip())


async def test_odd_signs_are_typed_moved_through_and_rubbed_out(engine_path: Path) -> None:
    path = "engine.candidate.0.name"
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        focus(app, path)
        await pilot.press("end", *["backspace"] * 10)
        for sign in f"{RIGHT_TO_LEFT} {EMOJI}":
            if sign == JOINER:  # Pilot has no key for it; this is what a terminal's driver makes of it
                app.post_message(events.Key("zero_width_joiner", sign))
            else:
                await type_text(pilot, sign)
        await until(lambda: app.plan.engine.candidate[0].name == f"{RIGHT_TO_LEFT} {EMOJI}", pilot)
        assert RIGHT_TO_LEFT in screen_text(app)
        await pilot.press("home", "right", "delete", "end", *["backspace"] * len(EMOJI))
        await until(lambda: field(app, path).value == f"{RIGHT_TO_LEFT[0]}{RIGHT_TO_LEFT[2:]} ", pilot)
        await pilot.press("f4")
        await pilot.press("f9")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
    assert load_plan(engine_path).engine.candidate[0].name.startswith(RIGHT_TO_LEFT[0] + RIGHT_TO_LEFT[2:])
