"""Rows of a text: no number stands at the end of one with its unit on the next."""

import pytest
from textual.content import Content, Span

from wizard.handover.blocks import Document, Paragraph
from wizard.handover.html import render_html
from wizard.tables import value_lines
from wizard.widgets.wrapped import content_rows, wrapped
from wizard.wrapping import joined, parted, rows_of, rows_where_room_is_short, unbroken

SAID = "Of 0.55 m2 and 36 ft 6 1/4 in she burns 0.772 US gal/h at 2,400 rpm, 25 % of her 4.2 kW per 100 rpm."
TOGETHER = ("0.55 m2", "36 ft 6 1/4 in", "0.772 US gal/h", "2,400 rpm", "25 %", "4.2 kW per 100 rpm")
WIDTHS = range(20, 90)


@pytest.mark.parametrize("width", WIDTHS)
def test_a_number_and_its_unit_stand_on_one_row_wherever_rows_are_broken(width: int) -> None:
    for rows in (rows_of(SAID, width), wrapped(SAID, width), value_lines(SAID, width)):
        assert " ".join(rows) == SAID, "no word is lost or changed"
        assert max(map(len, rows)) <= width
        assert all(any(each in row for row in rows) for each in TOGETHER)


def test_a_page_that_breaks_its_rows_itself_keeps_a_number_with_its_unit() -> None:
    kept = unbroken(SAID)
    assert kept.replace("\N{NO-BREAK SPACE}", " ") == SAID
    assert all(each.replace(" ", "\N{NO-BREAK SPACE}") in kept for each in TOGETHER)
    assert render_html(Document("A boat", (Paragraph(SAID),))).count("\N{NO-BREAK SPACE}") == kept.count(
        "\N{NO-BREAK SPACE}"
    )


def test_rows_too_narrow_for_what_belongs_together_end_at_any_space() -> None:
    assert rows_of("It is 36 ft 6 1/4 in", 8) == ["It is 36", "ft 6 1/4", "in"]
    assert wrapped("It is 36 ft 6 1/4 in", 8) == ("It is 36", "ft 6 1/4", "in")


def test_a_field_beside_which_there_is_little_room_keeps_a_number_with_its_unit_too() -> None:
    """Under twenty columns rows ended at any space, as beside every length in a window of 120 by 40."""
    assert wrapped("= 1080 mm = 42.52 in", 19) == ("= 1080 mm =", "42.52 in")
    assert wrapped("= 9.601 m = 31 ft 6 in", 19) == ("= 9.601 m =", "31 ft 6 in")
    assert rows_of("It bears (4.2 kW per 100 rpm).", 19) == ["It bears (4.2 kW", "per 100 rpm)."], "no word is cut"


def test_a_share_of_the_boats_is_not_parted() -> None:
    assert rows_of("In 994 of 1,000 plausible boats", 14) == ["In", "994 of 1,000", "plausible", "boats"]


@pytest.mark.parametrize("text", ["in 3 months", "2 x 4", "page 12 instead", "12 mast", "the 3 tanks", "3 m/sec"])
def test_what_only_begins_like_a_unit_is_no_unit(text: str) -> None:
    assert ("months" in text) is (joined(text, 40) != text)
    assert parted(joined(text, 40)) == text


def test_where_room_is_short_nothing_is_kept_together_that_takes_a_row_more() -> None:
    said = "She weighs as much as 16 lb of salt pork in tins."
    assert rows_of(said, 24) == ["She weighs as much as", "16 lb of salt pork in", "tins."]
    assert rows_where_room_is_short(said, 24) == ["She weighs as much as 16", "lb of salt pork in tins."]
    assert rows_where_room_is_short(said, 23) == rows_of(said, 23)


def test_colours_stay_on_their_words() -> None:
    text = Content("room for a wheel of 18 x 14.5 in here", [Span(20, 29, "bold")])
    first, second = content_rows(text, 30)
    assert (first.plain, second.plain) == ("room for a wheel of", "18 x 14.5 in here")
    assert [second.plain[span.start : span.end] for span in second.spans] == ["18 x 14.5"]
