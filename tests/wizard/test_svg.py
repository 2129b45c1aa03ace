"""Charts as pictures: well-formed, round marks, readable in black and white, nothing lost of what is plotted."""

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.assessment import Assessment, assess
from engine.plan import STAGES
from tests.conftest import ROOT
from wizard.charts import Chart, Series
from wizard.handover.chart_svg import NARROW, WIDE, chart_svg, picture_svg
from wizard.handover.svg import FONT, nice_ticks, room_for
from wizard.rulers import Ruler, Rulers
from wizard.stages.plots import chart_of

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module", params=["bittern", "mirabel", "two-sisters", "dunlin"])
def assessment(request: pytest.FixtureRequest) -> Assessment:
    from engine.planfile import load_plan

    return assess(load_plan(ROOT / "saved_plans" / f"{request.param}.toml"))


@given(st.floats(-1e9, 1e9), st.floats(1e-9, 1e9), st.integers(2, 20))
def test_marks_are_round_even_and_hold_the_values(low: float, span: float, most: int) -> None:
    high = low + span
    ticks = nice_ticks(low, high, most)
    step = ticks[1] - ticks[0]
    assert ticks[0] <= low + 1e-6 * step
    assert ticks[-1] >= high - 1e-6 * step
    assert 2 <= len(ticks) <= most + 1
    if span > 1e-9 * abs(low):
        digits = step / 10.0 ** math.floor(math.log10(step) + 1e-6)
        assert round(digits, 3) in (1.0, 2.0, 5.0)


def test_marks_of_one_value_stand_about_it_and_an_endless_axis_is_refused() -> None:
    ticks = nice_ticks(3.0, 3.0, 5)
    assert ticks[0] < 3.0 < ticks[-1]
    with pytest.raises(ValueError, match="finite"):
        nice_ticks(0.0, math.inf, 5)
    with pytest.raises(ValueError, match="most"):
        nice_ticks(0.0, 1.0, 1)


def test_every_chart_of_the_demonstrations_is_a_titled_picture(assessment: Assessment) -> None:
    drawn = 0
    for stage in STAGES:
        answers = assessment.outcomes[stage].answers
        if answers is None:
            continue
        chart = chart_of(stage, answers, assessment.plan.units)
        for width in (NARROW, WIDE):
            root = ElementTree.fromstring(picture_svg(chart, width))
            assert root.get("role") == "img"
            title = root.find(f"{SVG}title")
            assert title is not None
            assert (title.text or "").startswith(chart.title)
            _everything_lies_inside(root)
        drawn += 1
    assert drawn >= 3


def _everything_lies_inside(root: ElementTree.Element) -> None:
    _, _, width, height = map(float, root.attrib["viewBox"].split())
    places = [
        tuple(map(float, pair.split(",")))
        for shape in ("polyline", "polygon")
        for each in root.iter(f"{SVG}{shape}")
        for pair in each.attrib["points"].split()
    ]
    places += [(float(each.attrib["x"]), float(each.attrib["y"])) for each in root.iter(f"{SVG}text")]
    assert places
    for x, y in places:
        assert 0.0 <= x <= width
        assert 0.0 <= y <= height


def test_a_point_lies_where_the_marks_say() -> None:
    chart = Chart("t", "x", "y", (Series("s", (0.0, 5.0, 10.0), (0.0, 20.0, 100.0)),))
    root = ElementTree.fromstring(chart_svg(chart))
    at = {text.text: float(text.attrib["x"]) for text in root.iter(f"{SVG}text")}
    (line,) = root.iter(f"{SVG}polyline")
    points = [tuple(map(float, pair.split(","))) for pair in line.attrib["points"].split()]
    assert points[1][0] == pytest.approx((points[0][0] + points[2][0]) / 2.0, abs=0.1)
    assert points[2][0] == pytest.approx(at["10"], abs=0.1)
    assert (points[0][1] - points[1][1]) / (points[0][1] - points[2][1]) == pytest.approx(0.2, abs=0.002)


def test_lines_differ_without_colour_and_the_legend_names_them_all() -> None:
    lines = tuple(Series(f"line {i}", (0.0, 1.0), (float(i), 2.0 * i)) for i in range(5))
    chart = Chart("t", "x", "y", lines, verticals=(("here", 0.5),))
    picture = chart_svg(chart)
    root = ElementTree.fromstring(picture)
    dashes = {each.get("stroke-dasharray") for each in root.iter(f"{SVG}polyline")}
    assert len(dashes) == 5
    for name in (*(line.name for line in lines), "here 0.5"):
        assert f">{name}<" in picture


def test_a_band_is_filled_between_its_ends_and_odd_points_are_left_out() -> None:
    x = (0.0, 1.0, math.nan, 2.0)
    band = Series("band", x + x, (1.0, 2.0, 9.0, 3.0, 2.0, 4.0, 9.0, 6.0), is_line=False, is_band=True)
    chart = Chart("t", "x", "y", (Series("best", x, (1.5, 3.0, math.inf, 4.0)), band))
    root = ElementTree.fromstring(chart_svg(chart))
    (shape,) = [p for p in root.iter(f"{SVG}polygon") if len(p.attrib["points"].split()) > 4]
    assert len(shape.attrib["points"].split()) == 6
    assert not re.search("nan|inf", chart_svg(chart))


def test_words_of_the_owner_cannot_break_the_picture() -> None:
    odd = '<b>&"\x07]]> ' + "long " * 60
    chart = Chart(odd, odd, odd, (Series(odd, (1.0, 2.0), (1.0, 2.0)),), horizontals=((odd, 1.0),))
    ElementTree.fromstring(chart_svg(chart, NARROW))
    ElementTree.fromstring(picture_svg(Rulers(odd, (odd,), (Ruler((odd,), (0.5, 40.0)),))))


def test_an_empty_chart_says_so() -> None:
    assert "There is nothing to plot yet." in chart_svg(Chart("Nothing", "x", "y", ()))


@pytest.mark.parametrize("width", [NARROW, WIDE])
def test_long_numbers_on_an_axis_keep_clear_of_its_name(width: float) -> None:
    right = Series("hours", (1.0, 2.0), (123000.0, 987000.0), is_right=True)
    chart = Chart("Cost", "Speed, kn", "cost, EUR", (Series("cost", (1.0, 2.0), (0.0, 160000.0)), right))
    root = ElementTree.fromstring(chart_svg(replace(chart, right_label="hours, h"), width))
    texts = list(root.iter(f"{SVG}text"))
    upright = sorted(float(text.get("x", "")) for text in texts if "rotate" in text.get("transform", ""))
    assert len(upright) == 2
    sides: dict[str, list[tuple[float, float]]] = {"end": [], "start": []}
    for text in texts:
        if re.fullmatch(r"\d{6}", text.text or ""):
            sides[text.get("text-anchor", "")].append((float(text.get("x", "")), room_for(text.text or "")))
    assert all(sides.values())
    assert all(x - room > upright[0] + 0.3 * FONT for x, room in sides["end"])
    assert all(x + room < upright[1] - 0.8 * FONT for x, room in sides["start"])


def test_a_line_across_never_lies_on_the_edge_of_the_plot() -> None:
    curve = Series("s", (1.0, 2.0), (1400.0, 3700.0))
    chart = Chart("T", "x, m", "y, rpm", (curve,), horizontals=(("turns at", 1003.0),))
    heights = {
        width: max(
            float(each.get("y1", ""))
            for each in ElementTree.fromstring(chart_svg(chart)).iter(f"{SVG}line")
            if each.get("stroke-width") == width and float(each.get("x2", "")) - float(each.get("x1", "")) > 100.0
        )
        for width in ("1", "1.1")
    }
    assert heights["1.1"] < heights["1"] - 5.0, "the line and the frame"
