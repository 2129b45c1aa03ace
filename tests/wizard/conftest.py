"""The same terminal for every test, and a plan with some fields filled in."""

import asyncio
import contextlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from textual._animator import Animator
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet
from textual.screen import Screen

from engine.migrations import FORMAT

ENOUGH = f"""format = {FORMAT}
name = "Teasel"
stage = "hull"
units = "imperial"

[hull]
kind = "full-keel launch"
waterline_length = "31 ft 6 in"
waterline_beam = "10.2 ft"
displacement = "14800 lb"

[speed]
cruise = "6 kn"
top = "7 kn"

[[engine.candidate]]
name = "Grey 4"
rated_power = "55 hp"
rated_speed = "2800 rpm"
"""


@pytest.fixture(autouse=True)
def calm_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """No colours switched off by the machine that runs the tests, no animations, a known terminal."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")


@pytest.fixture(autouse=True)
def no_endless_wait(monkeypatch: pytest.MonkeyPatch) -> None:
    """Textual's pilot waits for every scroll to come to rest; one that the end of the app has cut short never does."""
    whole_wait = Animator.wait_until_complete

    async def wait(animator: Animator) -> None:
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(whole_wait(animator), 2.0)

    monkeypatch.setattr(Animator, "wait_until_complete", wait)


@pytest.fixture(scope="session", autouse=True)
def style_sheets_read_once() -> Iterator[None]:
    """The rules of a style sheet are the same in every app with the same colours: they are read in the first of them.
    Else that takes an eighth of the time of a test that opens the app."""
    read: dict[tuple[object, ...], list[RuleSet]] = {}
    whole_reading = Stylesheet._parse_rules

    def parse_rules(sheet: Stylesheet, *given: object, **named: object) -> list[RuleSet]:
        key = (frozenset(sheet._variables.items()), given, frozenset(named.items()))
        if key not in read:
            read[key] = whole_reading(sheet, *given, **named)  # type: ignore[arg-type]
        return read[key]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(Stylesheet, "_parse_rules", parse_rules)
        yield


@pytest.fixture
def plan_path(tmp_path: Path) -> Path:
    """A plan on disk with some fields filled in, alone in a folder of plans."""
    path = tmp_path / "plans" / "teasel.toml"
    path.parent.mkdir()
    path.write_text(ENOUGH, encoding="utf-8")
    return path


def _left_on(stage: str, path: Path) -> Path:
    path.write_text(ENOUGH.replace('stage = "hull"', f'stage = "{stage}"'), encoding="utf-8")
    return path


@pytest.fixture
def range_path(plan_path: Path) -> Path:
    """The same plan, left on the range page: a small form that opens quickly, with the tank still missing."""
    return _left_on("range", plan_path)


@pytest.fixture
def engine_path(plan_path: Path) -> Path:
    """The same plan, left on the engine page with one candidate."""
    return _left_on("engine", plan_path)


@pytest.fixture
def layouts(monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """The screens that are laid out in the test, once for each time."""
    done: list[object] = []
    whole_layout = Screen._refresh_layout

    def layout(self: Screen[object], *given: object, **named: object) -> None:
        done.append(self)
        whole_layout(self, *given, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(Screen, "_refresh_layout", layout)
    return done
