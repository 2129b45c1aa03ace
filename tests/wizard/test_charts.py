"""Plots as text: any numbers, any size, ASCII on demand; and one for every page."""

import math
import threading
from dataclasses import replace

import pytest

from engine.plan import STAGES
from tests.wizard.fakes import stage_answers
from wizard.charts import MARKERS, NOTHING, Chart, Series, draw
from wizard.stages.plots import chart_of

SPEEDS = [float(i) for i in range(3, 9)]
CHART = Chart(
    "Power against speed",
    "Speed, kn",
    "power, kW",
    (
        Series("calm", SPEEDS, [v**3 / 20 for v in SPEEDS]),
        Series("with margin", SPEEDS, [v**3 / 15 for v in SPEEDS]),
        Series("your log", [5.0, 6.0], [7.0, 12.0], is_line=False),
    ),
    verticals=(("hull speed, kn", 7.2),),
)


@pytest.mark.parametrize("size", [(10, 3), (29, 8), (30, 7), (30, 8), (50, 12), (80, 24), (200, 60)])
def test_a_chart_fits_its_room(size: tuple[int, int]) -> None:
    width, height = size
    lines = _plain(draw(CHART, width, height)).split("\n")
    assert len(lines) <= height
    assert max(map(len, lines)) <= width


def test_each_series_has_a_marker_of_its_own_and_is_named() -> None:
    text = _plain(draw(CHART, 80, 24))
    for marker, series in zip(MARKERS, CHART.series, strict=False):
        assert f"{marker} {series.name}" in text
    assert "| hull speed, kn 7.2" in text
    assert "Speed, kn" in text
    assert "power, kW" in text


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_points_that_are_no_numbers_are_left_out(bad: float) -> None:
    series = Series("calm", [1.0, 2.0, 3.0, bad], [bad, 2.0, 3.0, 4.0])
    assert series.points() == [(2.0, 2.0), (3.0, 3.0)]
    assert "calm" in draw(replace(CHART, series=(series,)), 60, 16)


@pytest.mark.parametrize("series", [(), (Series("empty", [], []),), (Series("nan", [1.0], [math.nan]),)])
def test_a_chart_without_points_says_so(series: tuple[Series, ...]) -> None:
    assert NOTHING in draw(replace(CHART, series=series), 60, 16)
    assert "calm" in draw(CHART, 60, 16), "an empty chart must not disturb the next one"


def test_ascii_charts_are_plain_ascii() -> None:
    text = draw(CHART, 60, 16, ascii=True)
    assert text.isascii()
    assert "+--" in text


def test_a_small_room_gets_numbers_in_place_of_a_plot() -> None:
    text = draw(CHART, 28, 7)
    assert "3: 1.35" in text


def test_charts_drawn_in_several_threads_do_not_mix() -> None:
    wanted = draw(CHART, 60, 16)
    drawn: list[str] = []
    threads = [threading.Thread(target=lambda: drawn.append(draw(CHART, 60, 16))) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert drawn == [wanted] * 4


def test_labels_keep_their_square_brackets() -> None:
    assert "[kW] [/x]" in draw(replace(CHART, title="[kW] [/x]"), 60, 16)


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_page_has_a_plot(stage: str, units: str) -> None:
    chart = chart_of(stage, stage_answers(stage), units)
    assert chart.drawable
    assert "[" not in chart.x_label + chart.y_label, "units stand after a comma"
    assert chart.title in draw(chart, 70, 20)


def test_power_is_plotted_in_the_owners_units() -> None:
    answers = stage_answers("power")
    metric, imperial = (chart_of("power", answers, units) for units in ("metric", "imperial"))
    assert metric.y_label == "power, kW"
    assert imperial.y_label == "power, hp"
    assert imperial.series[0].y[0] / metric.series[0].y[0] == pytest.approx(1.341, rel=1e-3)


def test_a_method_outside_its_range_leaves_a_gap_in_its_curve() -> None:
    chart = chart_of("power", stage_answers("power"), "metric")
    method_b = next(series for series in chart.series if series.name.endswith("Method B"))
    assert len(method_b.points()) < len(method_b.x)


def test_range_and_burn_have_a_scale_each() -> None:
    chart = chart_of("range", stage_answers("range"), "imperial")
    assert [series.is_right for series in chart.series] == [False, True]
    assert chart.right_label == "burn, US gal/h"
    assert "(left), burn, US gal/h (right)" in draw(chart, 80, 20)


def _plain(text: str) -> str:
    parts = text.split("\x1b[")
    return parts[0] + "".join(part.partition("m")[2] for part in parts[1:])
