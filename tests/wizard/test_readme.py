"""README.md shows what an owner sees: its picture, its pages and its keys."""

import re
from pathlib import Path

from engine.plan import QUESTIONS
from tests.conftest import ROOT
from tests.wizard.driving import is_open, screen_text, until
from wizard.app import ShaftlogApp
from wizard.keys import PLAN_ACTIONS, printed

_NUMBER = re.compile(r"\d+(?:\.\d+)?")


README = (ROOT / "README.md").read_text(encoding="utf-8")


def pictured() -> list[str]:
    """The rows of the picture."""
    after = README.split("in a window of 80 by 24:\n\n```text\n")[1]
    return after.split("\n```")[0].splitlines()


async def test_the_picture_is_of_the_page_as_it_is_now(tmp_path: Path) -> None:
    shown = tmp_path / "bittern.toml"
    shown.write_text(
        re.sub("(?m)^stage = .*$", 'stage = "propeller"', (ROOT / "saved_plans" / "bittern.toml").read_text("utf-8")),
        encoding="utf-8",
    )
    app = ShaftlogApp(shown, tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "propeller")() and app.assessment and not app.is_updating, pilot, 30.0)
        await pilot.press("f5")
        await until(lambda: "light running" in screen_text(app), pilot)
        rows = [row.rstrip() for row in screen_text(app).splitlines()]
    assert [_NUMBER.sub("#", row) for row in rows] == [_NUMBER.sub("#", row) for row in pictured()]
    for row, other in zip(rows, pictured(), strict=True):
        for now, then in zip(_NUMBER.findall(row), _NUMBER.findall(other), strict=True):
            # another processor may round a boat to the other side of a limit
            assert abs(float(now) - float(then)) <= max(1.0, 0.01 * float(then)), row


def test_the_pages_are_those_of_the_plan() -> None:
    told = re.findall(r"(?m)^\| (\w+) \| (.*\?) \|$", README)
    assert told == list(QUESTIONS.items())


def test_the_keys_are_those_of_an_open_plan() -> None:
    rows = [f"| {' | '.join(map(printed, each.keys))} | {each.title}. {each.tooltip} |" for each in PLAN_ACTIONS]
    assert "\n".join(rows) in README
