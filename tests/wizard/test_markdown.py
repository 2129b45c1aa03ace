"""Markdown shows what the owner wrote as it was typed, wherever it stands."""

import re

from wizard.handover.blocks import Document, Grid, Listing
from wizard.handover.markdown import render_markdown

NAME = "a | b **c** <d> \N{ESCAPE}[31m"
SHOWN = r"a \| b \*\*c\*\* \<d\>"


def test_names_that_head_the_columns_of_a_table_do_not_break_it() -> None:
    wide = Grid("Title", tuple(f"heading {i}" for i in range(10)), ((NAME, *("1" for _ in range(9))),))
    for grid in (wide, Grid("Title", ("", NAME), (("power", "1 kW"),))):
        text = render_markdown(Document("Title", (grid,)))
        assert SHOWN in text
        assert "\N{ESCAPE}" not in text
        assert {len(re.findall(r"(?<!\\)\|", row)) for row in text.splitlines() if row.startswith("|")} == {3}


def test_a_name_that_leads_a_sentence_shows_as_typed() -> None:
    text = render_markdown(Document("Title", (Listing(((f"{NAME} against the plan", "faster."),)),)))
    assert f"- **{SHOWN}" in text
    assert "\N{ESCAPE}" not in text
