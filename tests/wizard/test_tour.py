"""The guided tour: it goes on as the owner does what it asks, keeps nothing, and can be left at any stop."""

from pathlib import Path

import pytest

from engine.plan import PAGES
from tests.wizard.driving import focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment, made_up_market
from wizard.app import ShaftlogApp
from wizard.keys import PLAN_ACTIONS, printed
from wizard.screens.plans import PlansScreen
from wizard.tour import CHANGED, STOPS, Sight, Stop, Tour

SIGHT = Sight("hull", "hull.kind", "9 t", "answers", "")


def app_in(folder: Path) -> ShaftlogApp:
    return ShaftlogApp(None, folder, assess=fake_assessment, search=lambda *_: made_up_market())


def is_at(app: ShaftlogApp, words: str) -> bool:
    return words in screen_text(app).replace("\n", " ")


async def test_the_tour_follows_what_the_owner_does(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=(120, 40)) as pilot:
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
        await pilot.press("f3")
        await until(is_open(app, "hull"), pilot)
        await until(lambda: is_at(app, f"Tour, 1 of {len(STOPS)}"), pilot)
        focus(app, CHANGED)
        await until(lambda: is_at(app, "Tour, 2 of"), pilot)
        await pilot.press("end", *["backspace"] * 40)
        await type_text(pilot, "7 t\n")
        await until(lambda: is_at(app, "Tour, 3 of"), pilot)
        await pilot.press("ctrl+u")
        await until(lambda: is_at(app, "Tour, 4 of"), pilot)
        for key in ("ctrl+a", "f1"):
            await pilot.press(key)
            await pilot.pause(0.5)
            await pilot.press("escape")
            await pilot.pause(0.5)
        await until(lambda: is_at(app, "Tour, 6 of"), pilot)
        await pilot.press("f4")
        await until(lambda: is_at(app, "Tour, 7 of"), pilot)
        await pilot.press("f5")
        await until(lambda: is_at(app, "Tour, 8 of"), pilot)
        await pilot.press("escape")
        await until(lambda: is_at(app, "Tour, 9 of"), pilot)
        await pilot.press("f4")
        await until(lambda: is_at(app, "Tour, 10 of"), pilot)
        await pilot.press("f9")
        await until(lambda: isinstance(app.screen, PlansScreen), pilot)
    assert list(tmp_path.iterdir()) == [], "a tour writes nothing"


async def test_esc_leads_to_the_end_and_no_further(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        app.begin_tour()
        await until(is_open(app, "hull"), pilot)
        for _ in range(len(STOPS) + 2):
            await pilot.press("escape")
        await until(lambda: is_at(app, f"Tour, {len(STOPS)} of {len(STOPS)}"), pilot)
        await pilot.press("f8")
        await until(lambda: "The tour keeps nothing." in screen_text(app), pilot)
        await planning(app).go_to("range")
        await pilot.press("f10")
    assert list(tmp_path.iterdir()) == []


async def test_a_tour_without_its_boat_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("wizard.locations.demonstration_folder", lambda: tmp_path / "none")
    app = app_in(tmp_path)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await pilot.press("f3")
        await until(lambda: "The tour needs its invented plan." in screen_text(app), pilot)


def test_every_stop_can_be_done_and_names_keys_that_are_there() -> None:
    keys = {printed(key) for action in PLAN_ACTIONS for key in action.keys}
    for stop in STOPS[:-1]:
        assert stop != Stop(stop.words), "nothing is asked for"
        assert stop.page in ("", *PAGES)
        for word in stop.words.replace(".", " ").replace(",", " ").split():
            if word.startswith("ctrl+") or (word[:1] == "F" and word[1:].isdigit()):
                assert word in keys, word


def test_a_dialog_has_to_be_opened_and_closed() -> None:
    tour = Tour()
    tour.at = next(i for i, stop in enumerate(STOPS) if stop.over == "HelpScreen")
    at = tour.at
    assert not tour.look(SIGHT)
    assert not tour.look(Sight("hull", "", "9 t", "answers", "PlotScreen"))
    assert not tour.look(SIGHT)
    assert not tour.look(Sight("hull", "", "9 t", "answers", "HelpScreen"))
    assert tour.look(SIGHT)
    assert tour.at == at + 1


def test_the_last_stop_stays() -> None:
    tour = Tour()
    tour.at = len(STOPS) - 1
    assert not tour.look(SIGHT)
    tour.go_on()
    assert tour.at == len(STOPS) - 1
