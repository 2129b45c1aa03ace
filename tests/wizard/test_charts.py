"""Plots as text: any numbers, any size, ASCII on demand; and one for every page."""

import math
import threading
from dataclasses import replace

import pytest
from textual.theme import Theme

from engine.answers import columns
from engine.bands import Band
from engine.plan import STAGES
from engine.showing import round_number
from tests.wizard.contrast import contrast, triplet
from tests.wizard.fakes import stage_answers
from wizard.charts import MARKERS, NOTHING, SERIES_COLOURS, Chart, Cursor, Series, draw, in_theme, markers
from wizard.rulers import Rulers, draw_rulers
from wizard.stages import costs, fit, gear, power, propeller, shaft, trial
from wizard.stages import range as range_page
from wizard.stages.plots import chart_of
from wizard.stages.scales import column
from wizard.theme import DAY, NIGHT

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
    unit = replace(CHART, title="Power", y_label="power, kW")
    for cursor in (None, Cursor(5.0)):
        assert draw(unit, 28, 7, cursor=cursor).startswith("Power: power, kW\n"), "what the numbers are in"


def test_charts_drawn_in_several_threads_do_not_mix() -> None:
    charts = [replace(CHART, series=CHART.series[i:], title=f"Chart {i}") for i in range(3)] * 2
    wanted = [draw(chart, 60, 16) for chart in charts]
    drawn: dict[int, str] = {}

    def draw_one(i: int) -> None:
        drawn[i] = draw(charts[i], 60, 16)

    threads = [threading.Thread(target=draw_one, args=(i,)) for i in range(len(charts))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [drawn[i] for i in range(len(charts))] == wanted


def test_labels_keep_their_square_brackets() -> None:
    assert "[kW] [/x]" in draw(replace(CHART, title="[kW] [/x]"), 60, 16)


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_page_has_a_plot(stage: str, units: str) -> None:
    chart = chart_of(stage, stage_answers(stage), units)
    if isinstance(chart, Rulers):
        assert chart.title in draw_rulers(chart, 70, 20)
        return
    assert chart.drawable
    assert "[" not in chart.x_label + chart.y_label, "units stand after a comma"
    assert chart.title in draw(chart, 70, 20)


def test_power_is_plotted_in_the_owners_units() -> None:
    answers = stage_answers("power")
    metric, imperial = (power.chart(answers, units) for units in ("metric", "imperial"))
    assert metric.y_label == "power, kW"
    assert imperial.y_label == "power, hp"
    assert imperial.series[0].y[0] / metric.series[0].y[0] == pytest.approx(1.341, rel=1e-3)


def test_the_costs_plot_is_in_money_where_there_is_a_price_else_in_fuel_or_energy() -> None:
    answers = stage_answers("costs")
    rows = tuple(replace(row, cost_money=None) for row in answers.steps)
    unpriced = replace(answers, spent_money=None, steps=rows)
    assert costs.chart(answers, "metric").y_label == "cost, EUR"
    assert costs.chart(unpriced, "imperial").y_label == "fuel, US gal"
    assert costs.chart(replace(unpriced, fuel_l=None), "metric").y_label == "energy, kWh"


def test_methods_share_one_mark_and_are_drawn_only_where_they_count() -> None:
    answers = stage_answers("power")
    methods = next(series for series in power.chart(answers, "metric").series if series.name == "each method")
    drawn = [row for row in answers.curve if row.speed_kn in methods.x]
    assert drawn
    assert list(methods.y) == [row.methods["Method A"] for row in drawn], "Method B has next to no weight"


def test_the_log_shows_what_counts_and_what_does_not_apart() -> None:
    answers = stage_answers("power")
    logged = [replace(answers.logged[0], counts=word, speed_kn=speed) for word, speed in (("yes", 5.0), ("no", 6.0))]
    chart = power.chart(replace(answers, logged=tuple(logged)), "metric")
    by_name = {series.name: series for series in chart.drawable}
    assert by_name["your log"].x == (5.0,)
    assert by_name["log, left out"].x == (6.0,)


def test_power_far_above_the_top_speed_is_not_drawn() -> None:
    answers = stage_answers("power")
    top = answers.top_shaft_power_kw.best
    assert max(row.shaft_power_kw.best for row in answers.curve) > 3.0 * top
    assert max(power.chart(answers, "metric").series[0].y) <= power.DRAWN_SHARES[1] * top


def test_a_band_has_dots_in_the_colour_of_its_line_and_stands_in_the_legend() -> None:
    band = Series("its band", SPEEDS * 2, [v**3 / 25 for v in SPEEDS] + [v**3 / 16 for v in SPEEDS], False, False, True)
    chart = replace(CHART, series=(CHART.series[0], band, *CHART.series[1:]))
    legend = draw(chart, 80, 24).split("\n")[-1]
    assert "\x1b[38;5;4m•\x1b[0m calm   \x1b[38;5;4m·\x1b[0m its band" in legend
    assert "x with margin" in _plain(legend), "a band takes no marker from the series after it"
    assert draw(chart, 80, 24, ascii=True).isascii()


def test_a_column_of_bands_has_three_parts() -> None:
    rows = stage_answers("power").curve[:1]
    band = rows[0].shaft_power_kw
    assert [column(rows, "shaft_power_kw", "metric", part) for part in ("low", "best", "high")] == [
        (pytest.approx(band.low),),
        (pytest.approx(band.best),),
        (pytest.approx(band.high),),
    ]
    assert column(rows, "speed_kn", "metric", "high") == (rows[0].speed_kn,), "a plain number is all three"


def test_the_propeller_plot_shows_the_spread_of_full_throttle() -> None:
    answers = stage_answers("propeller")
    places = [at for _, at in propeller.chart(answers, "metric").verticals]
    assert places == [answers.rated_rpm, answers.full_throttle_rpm.low, answers.full_throttle_rpm.high]


def test_the_propeller_plot_tells_the_states_of_boat_and_water_apart() -> None:
    chart = propeller.chart(stage_answers("propeller"), "metric")
    assert [series.name for series in chart.series] == ["engine, full load", "clean and calm", "foul", "head wind"]
    legend = _plain(draw(chart, 76, 20)).split("\n")[-2:]
    for marker, series in zip(MARKERS, chart.series, strict=False):
        assert f"{marker} {series.name}" in legend[0], "all four on one line of a small window"
    assert legend[1].startswith("| rated rpm")


def test_a_head_wind_that_is_not_tried_has_no_line_and_no_column() -> None:
    answers = stage_answers("propeller")
    calm = replace(answers, match=tuple(replace(row, head_wind_demand_kw=None) for row in answers.match))
    assert [series.name for series in propeller.chart(calm, "metric").series][-1] == "foul"
    headings = [heading for _, heading in columns(calm.match, "metric")]
    assert [heading for heading in headings if "Demand" in heading] == [
        "Demand, clean and calm, kW",
        "Demand, foul, kW",
    ]


def test_a_ratio_without_a_propeller_has_no_point_on_the_gear_plot() -> None:
    answers = stage_answers("gear")
    lacking = replace(answers.options[0], diameter_m=math.nan, efficiency_fraction=Band(math.nan, math.nan, math.nan))
    chart = gear.chart(replace(answers, options=(lacking, *answers.options[1:])), "metric")
    assert sum(len(series.points()) for series in chart.series) == len(answers.options) - 1
    assert "chosen ratio" in draw(chart, 76, 20)


def test_a_low_room_gives_the_row_of_the_x_label_to_the_plot() -> None:
    low, high = (_plain(draw(CHART, 80, height)).split("\n") for height in (12, 20))
    assert low[0] == "Power against speed: power, kW; across: speed, kn"
    assert "Speed, kn" in [line.strip() for line in high]


def test_range_and_burn_have_a_scale_each() -> None:
    chart = range_page.chart(replace(stage_answers("range"), beside=()), "imperial")
    assert [series.is_right for series in chart.series] == [False, False, True]
    assert [series.is_band for series in chart.series] == [False, True, False]
    assert chart.right_label == "burn, US gal/h"
    assert "(left), burn, US gal/h (right)" in draw(chart, 80, 20)


def test_the_other_candidates_stand_beside_the_range_of_the_chosen_one() -> None:
    answers = stage_answers("range")
    first, second, third, *_ = answers.beside
    rows = (replace(first, candidate="Grey 4"), replace(second, candidate="Grey 4"), replace(third, candidate="Blue"))
    chart = range_page.chart(replace(answers, beside=rows), "metric")
    beside = {series.name: series for series in chart.series[2:-1]}
    assert list(beside) == ["Grey 4", "Blue"]
    assert beside["Grey 4"].points() == [(row.speed_kn, row.range_nmi) for row in (first, second)]
    assert not any(series.is_right or series.is_band for series in beside.values())


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_what_a_motor_draws_is_in_kilowatts_in_all_units(units: str) -> None:
    answers = replace(stage_answers("range"), cruise_l_per_h=None)
    chart = range_page.chart(answers, units)
    assert chart.right_label == "drawn, kW"
    drawn = [row.drawn_kw for row in answers.curve]
    assert [y for _, y in chart.series[-1].points()] == pytest.approx([band.best for band in drawn if band])


def test_the_shaft_plot_has_both_ways_to_the_critical_speed() -> None:
    answers = stage_answers("shaft")
    spans = tuple(replace(row, dunkerley_rpm=row.critical_rpm - 1.0) for row in answers.spans)
    elements, dunkerley = shaft.chart(replace(answers, spans=spans), "metric").series
    assert dunkerley.y == pytest.approx([rpm - 1.0 for rpm in elements.y])


def test_the_fit_plot_draws_the_new_waterline_from_stern_to_bow_in_the_owners_units() -> None:
    answers = replace(stage_answers("fit"), stern_m=-0.0254, bow_m=0.0508)
    assert fit.chart(answers, "metric").series[0].points() == [
        (0.0, pytest.approx(-2.54)),
        (100.0, pytest.approx(5.08)),
    ]
    assert fit.chart(answers, "imperial").series[0].points() == [
        (0.0, pytest.approx(-1.0)),
        (100.0, pytest.approx(2.0)),
    ]


def test_the_fit_plot_is_level_without_places_and_empty_without_weights() -> None:
    level = replace(stage_answers("fit"), stern_m=None, bow_m=None, sinkage_m=0.01)
    assert [y for _, y in fit.chart(level, "metric").series[0].points()] == pytest.approx([1.0, 1.0])
    assert NOTHING in draw(fit.chart(replace(level, sinkage_m=None), "metric"), 76, 12)


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("ascii", [False, True])
def test_no_two_series_of_a_page_share_a_marker(stage: str, ascii: bool) -> None:
    chart = chart_of(stage, stage_answers(stage), "metric")
    if isinstance(chart, Rulers):
        return
    signs = [sign for series, sign, _ in markers(chart, ascii) if not series.is_band]
    assert len(set(signs)) == len(signs)


@pytest.mark.parametrize("ascii", [False, True])
def test_twenty_series_have_twenty_markers_and_none_is_a_sign_of_the_frame(ascii: bool) -> None:
    chart = replace(CHART, series=tuple(Series(f"number {i}", SPEEDS, SPEEDS) for i in range(20)))
    signs = [sign for _, sign, _ in markers(chart, ascii)]
    assert len(set(signs)) == 20
    assert not set(signs) & set("|-:.·┊│─")


def test_a_legend_of_many_candidates_breaks_no_name_and_leaves_the_plot_its_rows() -> None:
    names = [f"Candidate with a long name, {20 + i} hp" for i in range(5)]
    chart = replace(CHART, series=tuple(Series(name, SPEEDS, SPEEDS) for name in names))
    lines = _plain(draw(chart, 80, 24)).split("\n")
    assert all(any(name in line for line in lines) for name in names)
    low = _plain(draw(chart, 40, 12)).split("\n")
    assert low[-1] == "..."
    assert sum("Candidate" in line for line in low) == 3, "the legend has a third of the rows"


@pytest.mark.parametrize("theme", [DAY, NIGHT], ids=lambda theme: theme.name)
@pytest.mark.parametrize("code", range(1, 7))
def test_every_series_can_be_read_on_the_paper_of_both_themes(theme: Theme, code: int) -> None:
    colour = SERIES_COLOURS[theme.name][code]
    for paper in (theme.background, theme.surface):
        assert paper
        assert contrast(triplet(colour), triplet(paper)) >= 4.5, "the least for text, WCAG 2.1 success criterion 1.4.3"


def test_the_colours_of_a_theme_are_all_different() -> None:
    for colours in SERIES_COLOURS.values():
        assert len(set(colours.values())) == len(colours) == 6


def test_the_palette_gives_way_to_the_theme_and_stays_in_the_terminals_own_colours() -> None:
    text = draw(CHART, 60, 16)
    assert in_theme(text, "ansi-dark") == text
    day = in_theme(text, "shaftlog-day")
    assert "\x1b[38;2;28;79;156m•" in day, "#1c4f9c, blue"
    assert "38;5;" not in day
    assert _plain(day) == _plain(text)


@pytest.mark.parametrize("size", [(60, 16), (118, 36)])
@pytest.mark.parametrize("ascii", [False, True])
def test_the_cursor_goes_through_every_row_at_its_point(size: tuple[int, int], ascii: bool) -> None:
    x = [2.0, 3.3, 4.7, 7.9]
    chart = Chart("One", "Speed, kn", "power, kW", (Series("calm", x, [1.0, 2.0, 4.0, 8.0], is_line=False),))
    bare = _plain(draw(chart, *size, ascii)).split("\n")
    for at in x:
        marked = draw(chart, *size, ascii, Cursor(at))
        rows = ["", *_plain(marked).split("\n")[1:]]
        sign = ":" if ascii else "┊"
        column = next(row.index(sign) for row in rows if sign in row)
        canvas = [row for row in rows if row[column : column + 1] in (sign, "*" if ascii else "•")]
        point = "*" if ascii else "•"
        assert sum(row[column] == point for row in canvas) == 1, "the point itself stays to be seen"
        assert len(canvas) == sum(row.rstrip().endswith(("│", "|")) for row in bare)
        assert "\x1b[7m" in marked
        assert [len(row) for row in rows[1:]] == [len(row) for row in bare[1:]]
        assert not ascii or marked.isascii()


def test_a_single_point_has_its_cursor_in_the_middle() -> None:
    chart = Chart("One", "Speed, kn", "power, kW", (Series("calm", [5.0], [3.0]),))
    rows = _plain(draw(chart, 60, 16, cursor=Cursor(5.0))).split("\n")
    assert len({row.index(sign) for row in rows for sign in "┊•" if sign in row[:-8]}) == 1


def test_the_cursor_does_not_change_the_plot_drawn_after_it() -> None:
    bare = draw(CHART, 60, 16)
    assert draw(CHART, 60, 16, cursor=Cursor(5.0)) != bare
    assert draw(CHART, 60, 16) == bare


@pytest.mark.parametrize("lead", [None, 1])
def test_the_table_of_a_small_room_follows_the_cursor(lead: int | None) -> None:
    for at in SPEEDS:
        lines = draw(CHART, 28, 6, cursor=Cursor(at, lead)).split("\n")
        assert len(lines) <= 6
        y = at**3 / (20 if lead is None else 15)
        assert [line for line in lines if line.startswith(">")] == [f"> {at:.0f}: {round_number(y, 3)}"]


def _plain(text: str) -> str:
    parts = text.split("\x1b[")
    return parts[0] + "".join(part.partition("m")[2] for part in parts[1:])


def test_the_trial_plot_shows_the_runs_and_later_the_seasons() -> None:
    answers = stage_answers("trial")
    run, reading = answers.runs[0], answers.seasons[0]
    alone = replace(answers, runs=(run,), seasons=())
    first = trial.chart(alone, "metric")
    assert [series.name for series in first.series] == ["expected", "its band", "your runs"]
    assert first.series[2].points() == [(run.engine_rpm, run.speed_kn)]
    read = ((0.0, 0.0), (2.0, 0.02), (12.0, 0.05))
    seasons = tuple(replace(reading, since_first_months=month, rise_fraction=rise) for month, rise in read)
    (shown,) = trial.chart(replace(alone, seasons=seasons), "metric").series
    assert [x for x, _ in shown.points()] == [0.0, 2.0, 12.0]
    assert [y for _, y in shown.points()] == pytest.approx([0.0, 2.0, 5.0])
    assert trial.chart(replace(alone, seasons=seasons[:2]), "metric").title == first.title
