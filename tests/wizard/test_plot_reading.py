"""What a plot says at its cursor, and where the cursor goes."""

import math
import re
from dataclasses import replace

import pytest

from engine.plan import STAGES
from tests.wizard.fakes import stage_answers
from wizard.charts import Chart, Cursor, Series
from wizard.reading import (
    chosen,
    cut,
    moved,
    opening_cursor,
    read,
    readout,
    readout_rows,
    rulers_readout,
    with_choice,
    words_and_unit,
)
from wizard.rulers import Ruler, Rulers, draw_rulers
from wizard.stages.plots import chart_of

CALM = Series("shaft power, calm", [4.0, 6.0, 8.0], [2.0, 8.0, 24.0])
BAND = Series("its band", [4.0, 6.0, 8.0] * 2, [1.0, 7.0, 20.0, 3.0, 9.0, 30.0], is_line=False, is_band=True)
LOG = Series("your log", [5.0, 6.0, 6.0], [4.5, 8.5, 9.5], is_line=False)
BURN = Series("burn", [5.0, 7.0], [0.5, 1.5], is_right=True)
CHART = Chart("Power", "Speed, kn", "power, hp", (CALM, BAND, LOG, BURN), right_label="burn, US gal/h")
RULERS = Rulers(
    "Ranges",
    ("Method", "weight"),
    tuple(Ruler((f"Method {i}", f"{i} %"), (0.5, -0.1 * i), f"note {i}") for i in range(9)),
)


@pytest.mark.parametrize(
    ("label", "wanted"),
    [
        ("Speed, kn", ("Speed", "kn")),
        ("efficiency, %", ("efficiency", "%")),
        ("Speed", ("Speed", "")),
        ("Ratio: turns of the engine", ("Ratio", "")),
        ("shaft power, one engine, kW", ("shaft power, one engine", "kW")),
    ],
)
def test_labels_give_words_and_unit(label: str, wanted: tuple[str, str]) -> None:
    assert words_and_unit(label) == wanted


def _said(at: float, chart: Chart = CHART, lead: int | None = None) -> dict[str, str]:
    return {value.name: value.words for value in read(chart, Cursor(at, lead)).values}


def test_a_line_is_read_between_its_points_with_its_band() -> None:
    assert read(CHART, Cursor(6.5)).head == "Speed 6.5 kn"
    assert _said(7.0)["shaft power, calm"] == "16 hp (13.5 to 19.5)"
    assert _said(6.0)["shaft power, calm"] == "8 hp (7 to 9)"


def test_single_points_are_read_only_where_they_are() -> None:
    assert "your log" not in _said(6.5)
    assert _said(5.0)["your log"] == "4.5 hp"
    assert _said(6.0)["your log"] == "8.5 to 9.5 hp, 2 points"


def test_a_line_that_does_not_reach_the_place_says_so() -> None:
    assert _said(4.0)["burn"] == "none here"
    assert _said(8.0)["burn"] == "none here"
    assert _said(7.0)["burn"] == "1.5 US gal/h", "its last point is still on it"


def test_the_right_scale_has_its_own_unit() -> None:
    assert _said(6.0)["burn"] == "1 US gal/h"


def test_words_of_the_scale_stand_in_place_of_numbers() -> None:
    chart = replace(CHART, series=(LOG,), y_ticks=((4.5, "light"), (8.5, "heavy")))
    assert _said(5.0, chart) == {"your log": "light"}


def test_a_band_without_one_of_its_ends_is_not_read() -> None:
    band = replace(BAND, y=[1.0, math.nan, 20.0, 3.0, 9.0, math.nan])
    chart = replace(CHART, series=(CALM, band))
    assert _said(4.0, chart) == {"shaft power, calm": "2 hp (1 to 3)"}
    assert _said(8.0, chart) == {"shaft power, calm": "24 hp"}


def test_a_band_belongs_to_the_line_before_it_even_when_that_has_no_point() -> None:
    empty = Series("nothing", [], [])
    assert _said(6.0, replace(CHART, series=(CALM, empty, BAND))) == {"shaft power, calm": "8 hp"}


def test_points_that_differ_by_rounding_are_one_place() -> None:
    chart = replace(CHART, series=(Series("one", [0.3], [1.0]), Series("other", [0.1 + 0.2], [2.0])))
    assert chart.stops() == [0.3]
    assert _said(0.3, chart) == {"one": "1 hp", "other": "2 hp"}


def test_the_cursor_halts_at_the_points_of_all_series() -> None:
    cursor = Cursor(4.0)
    seen = [cursor.at]
    for _ in range(6):
        cursor = moved(CHART, cursor, "on")
        seen.append(cursor.at)
    assert seen == [4.0, 5.0, 6.0, 7.0, 8.0, 8.0, 8.0], "at the end it stays"
    assert moved(CHART, cursor, "back").at == 7.0
    assert moved(CHART, Cursor(4.0), "back").at == 4.0


def test_the_cursor_follows_the_points_of_the_leading_series() -> None:
    cursor = moved(CHART, Cursor(7.0), "lead_after")
    assert cursor.lead == 0
    assert cursor.at in (6.0, 8.0), "the nearest of its own points"
    assert moved(CHART, Cursor(4.0, 0), "on") == Cursor(6.0, 0)
    assert moved(CHART, Cursor(5.0, 2), "last") == Cursor(7.0, 2)


def test_the_lead_goes_round_by_no_series_and_past_bands() -> None:
    cursor = Cursor(6.0)
    leads = []
    for _ in range(5):
        cursor = moved(CHART, cursor, "lead_after")
        leads.append(cursor.lead)
    assert leads == [0, 1, 2, None, 0]
    assert moved(CHART, Cursor(6.0), "lead_before").lead == 2


def test_jumps_go_a_tenth_of_the_axis_and_no_further_than_the_ends() -> None:
    fine = replace(CHART, series=(Series("fine", [i / 10 for i in range(101)], [1.0] * 101),))
    assert moved(fine, Cursor(5.0), "jump_on").at == pytest.approx(6.0)
    assert moved(fine, Cursor(5.0), "jump_back").at == pytest.approx(4.0)
    assert moved(fine, Cursor(9.5), "jump_on").at == 10.0
    assert moved(fine, Cursor(0.5), "jump_back").at == 0.0
    assert moved(CHART, Cursor(4.0), "jump_on").at == 5.0, "never less than one point"


def test_the_ends() -> None:
    assert moved(CHART, Cursor(6.0), "first").at == 4.0
    assert moved(CHART, Cursor(6.0), "last").at == 8.0


def test_the_leading_series_stands_first_and_is_marked() -> None:
    lines = _plain(readout(CHART, Cursor(6.0, 2), 60, 10)).split("\n")
    assert lines == [
        "Speed 6 kn",
        "> + burn 1 US gal/h",
        "  • shaft power, calm 8 hp (7 to 9)",
        "  x your log 8.5 to 9.5 hp, 2 points",
    ]
    assert len(lines) == readout_rows(CHART)


@pytest.mark.parametrize("width", [20, 30, 80])
@pytest.mark.parametrize("height", [1, 2, 3, 8])
@pytest.mark.parametrize("ascii", [False, True])
def test_a_readout_fits_its_room(width: int, height: int, ascii: bool) -> None:
    text = _plain(readout(CHART, Cursor(6.0, 1), width, height, ascii))
    lines = text.split("\n")
    assert len(lines) <= height
    assert max(map(len, lines)) <= width
    assert text.isascii() or not ascii
    assert "6 kn" in text


def test_a_readout_says_how_much_is_cut_and_keeps_the_number() -> None:
    assert _plain(readout(CHART, Cursor(6.0), 40, 2)).split("\n") == [
        "Speed 6 kn   ... 2 more",
        "  • shaft power, calm 8 hp (7 to 9)",
    ]
    assert _plain(readout(CHART, Cursor(6.0), 30, 2)).split("\n")[1] == "  • shaft pow... 8 hp (7 to 9)"
    assert _plain(readout(CHART, Cursor(6.0), 30, 1)) == "Speed 6 kn: s... 8 hp (7 to 9)"
    assert _plain(readout(CHART, Cursor(6.0), 20, 1)) == "Speed 6 kn: 8 hp", "first the name goes, then the band"


def test_texts_are_cut_with_dots() -> None:
    assert cut("shaft power", 11) == "shaft power"
    assert cut("shaft power", 9) == "shaft..."
    assert cut("shaft power", 2) == ".."


def test_a_chart_without_points_has_no_cursor() -> None:
    assert opening_cursor(replace(CHART, series=())) is None


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_every_page_is_read_at_each_of_its_points(stage: str, units: str) -> None:
    chart = chart_of(stage, stage_answers(stage), units)
    if isinstance(chart, Rulers):
        assert chart.rulers[0].lead[0] in rulers_readout(chart, 0, 80, 8)
        return
    cursor = opening_cursor(chart)
    assert cursor is not None
    for lead in (None, *range(len(chart.readable))):
        for at in chart.stops(lead):
            values = read(chart, Cursor(at, lead)).values
            assert any(value.number != "none here" for value in values)
            assert lead is None or (values[0].is_lead and values[0].number != "none here")


def test_rulers_are_chosen_one_by_one() -> None:
    assert chosen(RULERS, 0, "lead_after") == chosen(RULERS, 0, "on") == 1
    assert chosen(RULERS, 0, "back") == 0
    assert chosen(RULERS, 3, "last") == chosen(RULERS, 8, "on") == 8
    assert chosen(RULERS, 3, "first") == 0


@pytest.mark.parametrize("choice", range(9))
@pytest.mark.parametrize("height", [5, 9, 30])
def test_the_chosen_ruler_is_marked_and_in_sight(choice: int, height: int) -> None:
    text = _plain(draw_rulers(with_choice(RULERS, choice, height), 60, height))
    marked = [line for line in text.split("\n") if line.startswith(">")]
    assert len(marked) == 1
    assert marked[0].startswith(f"> Method {choice}")
    assert len(text.split("\n")) <= height


def test_a_ruler_is_read_with_its_places_and_its_note() -> None:
    lines = rulers_readout(RULERS, 2, 80, 8).split("\n")
    assert lines == [
        "Method 2 (3 of 9)  weight 2 %",
        "Inside 1 of 2 ranges; from low (0) to high (1) she lies at -0.2 outside, 0.5.",
        "note 2",
    ]
    assert rulers_readout(RULERS, 2, 80, 2).endswith("...")
    assert rulers_readout(RULERS, 2, 80, 1) == lines[0]


def test_the_ranges_that_she_is_outside_are_said_first() -> None:
    ruler = Ruler(("Method", "5 %"), (0.5, 1.25, 0.125, -0.5))
    text = rulers_readout(Rulers("Ranges", ("Method", "weight"), (ruler,)), 0, 200, 3)
    assert text.endswith("she lies at 1.2 outside, -0.5 outside, 0.5, 0.12.")


@pytest.mark.parametrize("choice", [0, 4, 8])
@pytest.mark.parametrize("height", [6, 9])
def test_the_rulers_about_the_chosen_one_leave_room_for_the_whole_legend(choice: int, height: int) -> None:
    lines = _plain(draw_rulers(with_choice(RULERS, choice, height), 40, height)).split("\n")
    assert lines[-1].endswith("x outside"), "also where it takes two lines"
    assert sum(bool(re.match(r"[> ] Method \d", line)) for line in lines) == height - 4


def _plain(text: str) -> str:
    return re.sub(r"\x1b\[[\d;]*m", "", text)
