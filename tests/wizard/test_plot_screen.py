"""The plot on the whole screen, driven by keys."""

import threading
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.binding import Binding
from textual.pilot import Pilot
from textual.widgets import Static

from engine.assessment import Assessment
from engine.plan import Plan
from tests.wizard.driving import focus, is_open, screen_text, until
from tests.wizard.fakes import fake_assessment, made_up, stage_answers
from wizard.app import ShaftlogApp
from wizard.charts import SERIES_COLOURS, Chart, Series, draw
from wizard.rulers import Rulers
from wizard.screens.plot import PlotScreen
from wizard.stages.plots import CHARTS, chart_of

SPEEDS = [4.0 + i / 4 for i in range(17)]
CHART = Chart(
    "Power against speed",
    "Speed, kn",
    "power, hp",
    (
        Series("shaft power, calm", SPEEDS, [v**3 / 20 for v in SPEEDS]),
        Series("your log", [5.1, 6.3], [7.0, 12.0], is_line=False),
    ),
)


@asynccontextmanager
async def opened(
    chart: Chart | Rulers, folder: Path, size: tuple[int, int] = (80, 24)
) -> AsyncIterator[tuple[ShaftlogApp, Pilot[Any]]]:
    """The app with a plot on the whole screen."""
    app = ShaftlogApp(None, folder, assess=fake_assessment)
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        await app.push_screen(PlotScreen(chart))
        await until(lambda: isinstance(app.screen, PlotScreen) and _readout(app), pilot)
        yield app, pilot


def _readout(app: ShaftlogApp) -> list[str]:
    text = str(app.screen.query_one("#readout", Static).content)
    return text.split("\n") if text else []


async def test_the_keys_move_the_cursor_along_the_points(tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        for key, head in (
            ("home", "Speed 4 kn"),
            ("left", "Speed 4 kn"),
            ("right", "Speed 4.25 kn"),
            ("pagedown", "Speed 4.75 kn"),
            ("right", "Speed 5 kn"),
            ("right", "Speed 5.1 kn"),
            ("pageup", "Speed 4.5 kn"),
            ("end", "Speed 8 kn"),
        ):
            await pilot.press(key)
            assert _readout(app)[0] == head, key
        assert "shaft power, calm 25.6 hp" in _readout(app)[1]


async def test_up_and_down_give_the_lead_to_another_series(tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        await pilot.press("down", "down")
        assert _readout(app)[1].startswith("> x your log 12 hp")
        await pilot.press("left")
        assert _readout(app)[0] == "Speed 5.1 kn"
        await pilot.press("up")
        assert _readout(app)[1].startswith("> • shaft power, calm")


@pytest.mark.parametrize("key", ["escape", "enter", "f6", "ctrl+x"])
async def test_every_key_that_closes_the_plot(key: str, tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        await pilot.press(key)
        await pilot.pause()
        assert not isinstance(app.screen, PlotScreen)


async def test_the_line_goes_with_the_cursor_through_the_plot(tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        columns = []
        for key in ("home", "right", "end"):
            await pilot.press(key)
            await pilot.pause()
            rows = [row for row in screen_text(app).split("\n") if "┊" in row]
            assert len(rows) >= 8
            columns.append({row.index("┊") for row in rows})
        assert all(len(found) == 1 for found in columns)
        assert [min(found) for found in columns] == sorted({min(found) for found in columns})


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 18), (30, 8), (28, 7)])
async def test_plot_and_readout_share_the_screen(size: tuple[int, int], tmp_path: Path) -> None:
    async with opened(CHART, tmp_path, size) as (app, pilot):
        await pilot.press("home")
        await pilot.pause()
        assert app.screen.query_one("#readout").size.height <= max(size[1] // 3, 1)
        text = screen_text(app)
        assert "Speed 4 kn" in text
        is_small = size[1] < 18
        assert ("> 4: 3.2" in text) == is_small
        assert ("┊" in text) != is_small


async def test_the_plot_follows_the_theme(tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        colours = []
        for theme in SERIES_COLOURS:
            app.theme = theme
            await pilot.pause()
            colours.append(_colours(app))
        for (theme, mapped), seen, other in zip(SERIES_COLOURS.items(), colours, reversed(colours), strict=True):
            assert {mapped[4], mapped[2]} <= seen, theme
            assert not {mapped[4], mapped[2]} & other, theme


async def test_an_app_in_ascii_has_its_plot_in_ascii(tmp_path: Path) -> None:
    async with opened(CHART, tmp_path) as (app, pilot):
        app.ascii = True
        await pilot.press("home")
        await pilot.pause()
        assert screen_text(app).isascii()


async def test_a_method_is_chosen_on_the_hull_page(tmp_path: Path) -> None:
    rulers = chart_of("hull", stage_answers("hull"), "metric")
    assert isinstance(rulers, Rulers)
    async with opened(rulers, tmp_path) as (app, pilot):
        await pilot.press("down", "right", "up")
        await pilot.pause()
        assert f"(2 of {len(rulers.rulers)})" in _readout(app)[0]
        assert sum(">" in row for row in screen_text(app).split("\n")) == 1


async def test_a_plot_that_was_asked_for_right_after_typing_follows_what_was_typed(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def chart(answers: Any, _: str) -> Chart:
        return replace(CHART, series=(Series("burn", SPEEDS, [answers.cruise_l_per_h.best] * len(SPEEDS)),))

    monkeypatch.setitem(CHARTS, "range", chart)  # type: ignore[arg-type]
    may_go = threading.Event()

    def engine(plan: Plan) -> Assessment:
        found = fake_assessment(plan)
        if not plan.range.tank:
            return found
        assert may_go.wait(10)
        answers = made_up(type(found.outcomes["range"].answers), 2.0)
        return Assessment(plan, {**found.outcomes, "range": replace(found.outcomes["range"], answers=answers)})

    app = ShaftlogApp(range_path, range_path.parent, assess=engine)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        focus(app, "range.tank")
        await pilot.press("3", "f6")
        await until(lambda: isinstance(app.screen, PlotScreen) and _readout(app), pilot)
        await pilot.press("home")
        assert _readout(app) == ["Speed 4 kn", "  • burn 2 hp"]
        may_go.set()
        await until(lambda: _readout(app) == ["Speed 4 kn", "  • burn 4 hp"], pilot)


async def test_an_empty_chart_takes_the_keys_and_closes(tmp_path: Path) -> None:
    app = ShaftlogApp(None, tmp_path, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await app.push_screen(PlotScreen(Chart("Empty", "Speed, kn", "power, kW", ())))
        await pilot.pause()
        await pilot.press("left", "up", "end")
        assert "There is nothing to plot yet." in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert not isinstance(app.screen, PlotScreen)


async def test_a_move_of_the_cursor_draws_the_plot_once_and_lays_nothing_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []

    def noted(word: str, does: Callable[..., Any]) -> Callable[..., Any]:
        def both(*given: Any, **named: Any) -> Any:
            done.append(word)
            return does(*given, **named)

        return both

    async with opened(CHART, tmp_path, (120, 40)) as (app, pilot):
        await pilot.press("home")
        await pilot.pause()
        monkeypatch.setattr("wizard.widgets.plot.draw", noted("drawn", draw))
        monkeypatch.setattr(PlotScreen, "_refresh_layout", noted("laid out", PlotScreen._refresh_layout))
        for key, head in (("right", "Speed 4.25 kn"), ("right", "Speed 4.5 kn"), ("left", "Speed 4.25 kn")):
            done.clear()
            await pilot.press(key)
            await until(lambda head=head: head in screen_text(app), pilot)
            assert done == ["drawn"], key


def test_every_binding_has_an_id_and_no_key_is_given_twice() -> None:
    bindings = [binding for binding in PlotScreen.BINDINGS if isinstance(binding, Binding)]
    assert len(bindings) == len(PlotScreen.BINDINGS)
    assert len({binding.id for binding in bindings}) == len(bindings)
    keys = [key for binding in bindings for key in binding.key.split(",")]
    assert len(set(keys)) == len(keys)
    assert all(binding.description for binding in bindings)


def _colours(app: ShaftlogApp) -> set[str]:
    """The colours of the signs on the screen, as #rrggbb."""
    found = set()
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            colour = segment.style.color if segment.style else None
            if colour is not None and colour.triplet is not None:
                found.add(colour.triplet.hex)
    return found
