"""Answers and tables as text: bands, long texts, and headings in a narrow window."""

import typing
from dataclasses import dataclass
from importlib import import_module

import pytest

from engine.answers import answer, labels
from engine.bands import Band
from engine.plan import STAGES
from engine.stages.doubt import DoubtRow
from engine.stages.hull import MethodRow
from engine.stages.market import MarketAnswers, WheelRow
from tests.wizard.fakes import made_up_wheel
from wizard.tables import answer_lines, grid_lines, table_cells, table_lines, text_columns, value_lines
from wizard.wheels import detail_lines, wheel_lines

ACTIONS = (
    DoubtRow(
        "Order the wheel to a closer tolerance class, and have its pitch measured before it is fitted.",
        0.46,
        "it",
        "propeller.pitch",
    ),
    DoubtRow(
        "Weigh her on the travel lift.",
        0.06,
        "which method is right, error of the method, wake, thrust deduction",
        "hull.displacement",
    ),
)


@dataclass(frozen=True)
class Lengths:
    waterline_length_m: Band = answer("Waterline length", digits=4)
    block_coefficient: Band = answer("Block coefficient")


@dataclass(frozen=True)
class Shares:
    off_fraction: float = answer("Off")
    light_fraction: Band = answer("Light running", spread=True)


@dataclass(frozen=True)
class SharesOfBoats:
    size_m: float = answer("Size", metric="mm", imperial="in")
    reaches_fraction: float = answer("Boats that reach rated speed", of_boats=True)
    burn_l_per_h: float = answer("Burn at cruise, calm")


ANSWERS = Lengths(Band(9.6, 9.5, 9.7), Band(0.389, 0.355, 0.434))


def test_a_band_that_is_too_long_goes_under_its_best_whole() -> None:
    lines = answer_lines(ANSWERS, "imperial", 50)
    assert max(map(len, lines)) <= 50
    assert lines[0].endswith("31 ft 6 in")
    assert lines[1].strip() == "(31 ft 2 in to 31 ft 10 in)"
    assert lines[2].endswith("0.389 (0.355 to 0.434)")


@pytest.mark.parametrize(
    ("share", "said"), [(-0.000867, "-0.1 %"), (-0.0004, "0 %"), (0.0858, "8.6 %"), (1.284, "128 %")]
)
def test_a_share_is_shown_to_the_tenth_of_a_per_cent_at_most(share: float, said: str) -> None:
    shares = Shares(share, Band(0.026, 0.00156, 0.0499))
    assert [line.split("  ")[-1] for line in answer_lines(shares, "metric", 76)] == [said, "2.6 % (0.2 to 5)"]
    assert table_cells([shares], "metric")[1] == [[said.removesuffix(" %"), "2.6 (0.2-5)"]]


def test_a_band_stays_on_one_line_when_it_fits() -> None:
    assert len(answer_lines(ANSWERS, "imperial", 76)) == 2


def test_a_value_is_wrapped_only_when_even_its_bracket_is_too_long() -> None:
    assert value_lines("14.2 hp (12.1 to 17)", 20) == ["14.2 hp (12.1 to 17)"]
    assert value_lines("14.2 hp (12.1 to 17)", 14) == ["14.2 hp", "(12.1 to 17)"]
    assert value_lines("31 ft 6 in (31 ft 2 1/4 in to 31 ft 9 3/4 in)", 20) == [
        "31 ft 6 in",
        "(31 ft 2 1/4 in",
        "to 31 ft 9 3/4 in)",
    ]


@pytest.mark.parametrize("width", [51, 76])
def test_long_texts_are_wrapped_beside_their_numbers(width: int) -> None:
    lines = table_lines(ACTIONS, "metric", width)
    assert max(map(len, lines)) <= width
    assert sum("---" in line for line in lines) == 1, "one block"
    row = next(line for line in lines if line.startswith("Weigh her on"))
    assert "6" in row
    assert "which method" in row
    words = " ".join(" ".join(line[:20] for line in lines).split())
    assert "tolerance" in words


def test_texts_stand_on_the_left_and_numbers_on_the_right() -> None:
    rows = [["A", "1.5", "yes"], ["B", "12 (9-15)", "no"], ["C", "-", "no"]]
    assert text_columns(rows) == [True, False, True]
    lines = grid_lines(("Row", "Number", "Inside"), rows, 60)
    assert lines[2] == "A          1.5  yes"
    assert lines[3] == "B    12 (9-15)  no"


def test_a_share_of_the_boats_is_told_as_in_the_findings() -> None:
    """One screen told 988 of 1,000 in its list and 98.8 % below for the same wheel."""
    shares = SharesOfBoats(0.48, 0.9884, 2.4)
    assert answer_lines(shares, "metric", 76)[1] == "Boats that reach rated speed  988 of 1,000"
    heads, cells, _ = table_cells([shares, SharesOfBoats(0.5, 1.0, 2.4)], "metric")
    assert heads[1] == "Boats that reach rated speed, of 1,000"
    assert [row[1] for row in cells] == ["988", "1,000"]


@pytest.mark.parametrize("width", range(18, 60))
def test_a_heading_keeps_a_unit_of_two_words_together(width: int) -> None:
    for line in table_lines([SharesOfBoats(0.48, 0.9884, 2.4)] * 7, "imperial", width):
        assert not line.rstrip().endswith((" of", "US")), line


def test_every_share_of_the_boats_is_told_the_same_way() -> None:
    for stage in STAGES:
        module = import_module(f"engine.stages.{stage}")
        kinds = [getattr(module, f"{stage.capitalize()}Answers")]
        kinds += [typing.get_args(hint)[0] for hint in typing.get_type_hints(kinds[0]).values() if is_table(hint)]
        for kind in [*kinds, MarketAnswers, WheelRow]:
            for name, label in labels(kind):
                if name.endswith("_fraction"):
                    assert label.of_boats is ("oats " in label.text), f"{kind.__name__}.{name}"


def is_table(hint: object) -> bool:
    return typing.get_origin(hint) is tuple


def test_a_heading_is_at_most_three_lines_deep_where_there_is_room() -> None:
    lines = grid_lines(("Speed, kn", "Power for the last half knot, %"), [["1", "2"], ["3", "4"]], 60)
    assert lines.index(next(line for line in lines if "---" in line)) <= 3


def test_the_last_words_of_all_headings_stand_on_the_line_over_the_table() -> None:
    lines = grid_lines(("Row", "Power for the last half knot, %"), [["1", "2"], ["3", "4"]], 60)
    foot = next(i for i, line in enumerate(lines) if "---" in line) - 1
    assert foot > 0
    assert lines[foot].startswith("Row")
    assert lines[foot].endswith("%")


@dataclass(frozen=True)
class Wide:
    first_rpm: float = answer("First speed")
    second_rpm: float = answer("Second speed")
    third_rpm: float = answer("Third speed")
    fourth_rpm: float = answer("Fourth speed")
    fifth_rpm: float = answer("Fifth speed")
    sixth_rpm: float = answer("Sixth speed")
    seventh_rpm: float = answer("Seventh speed")
    eighth_rpm: float = answer("Eighth speed")


def test_a_wide_table_of_six_rows_stands_on_its_side_and_one_of_seven_in_blocks() -> None:
    row = Wide(*(1000.0 + 100.0 * step for step in range(8)))
    six, seven = (table_lines([row] * count, "metric", 60) for count in (6, 7))
    assert six[0].split() == ["First", "speed,", "rpm", *["1000"] * 6]
    assert len(six) == 8, "a line for each column"
    assert sum("---" in line for line in seven) > 1, "blocks"


def test_the_methods_of_the_hull_page_fit_a_small_window() -> None:
    rows = tuple(
        MethodRow(
            "Holtrop & Mennen 1982", 0.09, 0.18, "outside: length-beam ratio 3.44, range 3.9 to 6.3; " * 3, "11 %", "a"
        )
        for _ in range(6)
    )
    lines = table_lines(rows, "metric", 76)
    assert max(map(len, lines)) <= 76
    assert sum("---" in line for line in lines) == 1


@dataclass(frozen=True)
class Offered:
    ratio: float = answer("Ratio")
    shaft_rpm: float = answer("Shaft speed")
    chosen: bool = answer("Chosen")


OFFERED = (Offered(2.05, 1366.0, False), Offered(2.63, 1065.0, True))


def test_the_chosen_row_has_a_mark_in_place_of_a_column() -> None:
    heads, cells, note = table_cells(OFFERED, "metric")
    assert heads == ["Ratio", "Shaft speed, rpm"]
    assert [row[0] for row in cells] == ["  2.05", "* 2.63"]
    assert note == "* chosen"
    assert table_cells(OFFERED[:1], "metric") == (heads, [["2.05", "1370"]], ""), "none is chosen, none is marked"


@pytest.mark.parametrize("width", [60, 20])
def test_the_mark_stands_in_every_block_and_is_explained_under_the_table(width: int) -> None:
    lines = table_lines(OFFERED * 4, "metric", width)
    assert lines[-1] == "* chosen"
    assert sum(found.startswith("* 2.63") for found in lines) == 4
    assert not any("Chosen" in found for found in lines)


def test_a_list_of_numbers_is_wrapped_like_a_text() -> None:
    speeds = "; ".join(f"{rpm} rpm" for rpm in range(800, 3200, 200))
    lines = grid_lines(["Name", "Speeds"], [["first", speeds], ["second", "-"]], 77)
    assert max(map(len, lines)) <= 77
    assert " ".join(" ".join(lines).split()).count("rpm") == 12


def test_even_an_absurd_number_stays_within_the_width() -> None:
    lines = grid_lines(["Name", "Lost, %"], [["first", "0." + "0" * 90 + "16"]], 77)
    assert max(map(len, lines)) <= 77
    assert "".join(lines).count("0") == 91


def test_a_ratio_reads_alike_in_the_list_of_wheels_and_beside_it() -> None:
    """It was "2.99:1" in one and "2.99" in the other."""
    wheel = made_up_wheel(ratio=2.99)
    assert "2.99:1" in wheel_lines([wheel], None, "metric", 80)[1][0]
    (told,) = (line for line in detail_lines(wheel, "metric", 60) if line.startswith("Gear ratio"))
    assert told.endswith(" 2.99:1")
