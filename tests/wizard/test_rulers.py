"""The hull page's plot: a ruler for each method, at any size."""

import re

import pytest

from engine.stages.wording import percent
from tests.wizard.fakes import stage_answers
from wizard.rulers import Ruler, Rulers, draw_rulers
from wizard.stages.hull import chart

METHODS = ("Holtrop & Mennen 1982", "Holtrop 1984", "van Oortmerssen 1971", "Delft 1992", "Delft 1998", "Delft 2008")
RULERS = Rulers(
    "The boat in the ranges of the methods",
    ("Method", "weight", "doubt"),
    tuple(
        Ruler((name, f"{10 + i}%", f"{20 + i}%"), (0.5, -0.1, 1.04, 40.0), "outside: a range " * 4)
        for i, name in enumerate(METHODS)
    ),
)


def plain(text: str) -> str:
    return re.sub(r"\x1b\[[\d;]*m", "", text)


@pytest.mark.parametrize("size", [(30, 8), (54, 12), (60, 12), (78, 12), (118, 36)])
def test_rulers_fit_their_room(size: tuple[int, int]) -> None:
    lines = plain(draw_rulers(RULERS, *size)).split("\n")
    assert len(lines) <= size[1]
    assert max(map(len, lines)) <= size[0]


@pytest.mark.parametrize("width", [54, 60, 78])
def test_twelve_rows_show_every_method_with_its_weight(width: int) -> None:
    text = plain(draw_rulers(RULERS, width, 12))
    for i, name in enumerate(METHODS):
        assert re.search(rf"^{name} +{10 + i}%", text, re.MULTILINE), name


def test_marks_inside_stand_between_the_ends_and_others_beside_them() -> None:
    row = plain(draw_rulers(RULERS, 78, 12)).split("\n")[2]
    low, high = row.index("["), row.index("]")
    assert low < row.index("•") < high
    outside = [i for i, sign in enumerate(row) if sign == "x"]
    assert len(outside) == 3
    assert all(i < low or i > high for i in outside)


def test_a_hair_outside_is_not_drawn_inside() -> None:
    rulers = Rulers("Title", ("Method",), (Ruler(("A",), (-0.0001, 1.0001)), Ruler(("B",), (0.0, 1.0))))
    outside, inside = plain(draw_rulers(rulers, 60, 12)).split("\n")[2:4]
    assert "x[" in outside
    assert "]x" in outside
    assert "x" not in inside


def test_notes_come_where_there_is_room() -> None:
    assert "outside: a range" not in draw_rulers(RULERS, 78, 12)
    assert draw_rulers(RULERS, 100, 30).count("outside: a range") >= len(METHODS)


def test_ascii_rulers_are_plain_ascii() -> None:
    assert draw_rulers(RULERS, 78, 12, ascii=True).isascii()


def test_too_small_a_room_says_that_there_is_more() -> None:
    assert "F6 shows the rest." in draw_rulers(RULERS, 40, 6)


def test_a_hull_without_methods_says_so() -> None:
    assert "nothing to plot" in draw_rulers(Rulers("Title", (), ()), 60, 12)


def test_the_hull_page_shows_the_places_of_each_method() -> None:
    answers = stage_answers("hull")
    rulers = chart(answers, "metric").rulers
    assert [ruler.lead[0] for ruler in rulers] == [row.method for row in answers.methods]
    assert rulers[0].lead[1] == percent(answers.methods[0].weight_fraction)
