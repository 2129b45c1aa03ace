"""The table of keys: no clashes, a ctrl twin for every F-key, nothing that a terminal keeps for itself."""

from pathlib import Path

import pytest
from textual.binding import Binding

from tests.wizard.driving import is_open, planning, screen_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.keys import LIST_ACTIONS, PLAN_ACTIONS, Action, key_line
from wizard.screens.planning import PlanningScreen
from wizard.screens.plans import PlansScreen

TABLES = {"plan": PLAN_ACTIONS, "list": LIST_ACTIONS}
SWALLOWED = frozenset(f"ctrl+{letter}" for letter in "bszcjmih")
"""Keys that tmux, the terminal or its flow control keep, or that arrive as Enter, Tab or Backspace."""


def clashes(actions: tuple[Action, ...]) -> list[str]:
    """Keys that are given twice, or that would not arrive."""
    found, seen = [], set()
    for action in actions:
        for key in action.keys:
            if key in seen or key in SWALLOWED or len(key) == 1:
                found.append(key)
            seen.add(key)
    return found


@pytest.mark.parametrize("actions", TABLES.values(), ids=TABLES)
def test_no_key_is_given_twice_or_swallowed(actions: tuple[Action, ...]) -> None:
    assert clashes(actions) == []


def test_the_check_finds_clashes_and_swallowed_keys() -> None:
    twice = (Action("a", ("f1",), "A", "a"), Action("b", ("f1", "ctrl+s", "q"), "B", "b"))
    assert clashes(twice) == ["f1", "ctrl+s", "q"]


@pytest.mark.parametrize("actions", TABLES.values(), ids=TABLES)
def test_every_action_has_an_f_key_with_a_ctrl_twin_and_is_explained(actions: tuple[Action, ...]) -> None:
    for action in actions:
        f_key, twin = action.keys
        assert f_key.removeprefix("shift+").startswith("f"), action.id
        assert f_key != "shift+f3", "many terminals send it as the place of the cursor"
        assert twin.startswith("ctrl+"), action.id
        assert action.tooltip.endswith("."), action.id


def test_every_binding_of_the_screens_has_an_id_and_a_description() -> None:
    for screen in (PlanningScreen, PlansScreen):
        seen: set[str] = set()
        for binding in screen.BINDINGS:
            assert isinstance(binding, Binding)
            assert binding.id, binding.key
            assert binding.description, binding.key
            keys = set(binding.key.split(","))
            assert not keys & seen, binding.key
            seen |= keys


def test_every_action_has_its_method() -> None:
    for screen, actions in ((PlanningScreen, PLAN_ACTIONS), (PlansScreen, LIST_ACTIONS)):
        for action in actions:
            assert callable(getattr(screen, f"action_{action.id}")), action.id


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_key_line_fits_and_always_shows_the_way_out(width: int) -> None:
    text = key_line(PLAN_ACTIONS, width)
    assert len(text) <= width - 2
    assert text.startswith("F1 help")
    assert text.endswith("F10 quit")


async def test_the_key_line_of_a_page_has_no_key_that_comes_to_nothing_there(plan_path: Path) -> None:
    """Gone to and come back to: the line follows."""
    idle = {"hull": {"F3 back"}, "speed": set(), "review": {"F4 next", "F5 view", "F6 plot"}}
    app = ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        for page in ("speed", "review", "hull", "review", "speed", "hull"):
            await planning(app).go_to(page)
            await pilot.pause()
            shown = screen_text(app).splitlines()[-1]
            lacks = {key for key in ("F3 back", "F4 next", "F5 view", "F6 plot", "F10 quit") if key not in shown}
            assert lacks == idle[page], page
