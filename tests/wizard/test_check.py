"""Every problem of a plan's file at once, with its line."""

import re
from pathlib import Path

import pytest

from tests.wizard.conftest import ENOUGH
from wizard.cli import main
from wizard.handover import checked

SPOILT = """format = 1
name = "x"
nmae = "y"
[hull]
kind = "full-keel launch"
displacement = 9 t
waterline_length = "long"
waterline_length = "12 m"
displacment = "3"
[[engine.candidate]]
rated_power = "x"
[oops
"""
READABLE = SPOILT.replace("= 9 t", '= "9 t"').replace('waterline_length = "12 m"\n', "").replace("[oops", "")


def test_all_problems_of_a_readable_file_are_listed_with_their_lines() -> None:
    refusal, lines, is_sound = checked(READABLE.encode(), "x.toml")
    assert refusal == ""
    assert not is_sound
    assert "line 3: the key nmae means nothing here and is kept. The nearest key that does is name." in lines
    assert any(line.startswith("line 8: the key displacment") and "displacement" in line for line in lines)
    assert any(line.startswith("line 7: hull: Waterline length: 'long'") for line in lines)
    assert any(line.startswith("line 10: engine: Rated power: 'x'") for line in lines)
    assert "line 4: hull: Still missing: Waterline beam." in lines, "the line of its heading"
    assert "speed: Still missing: Cruising speed." in lines, "nothing in the file has to do with it"


def test_a_word_of_the_head_that_is_not_understood_is_no_unknown_key() -> None:
    _, lines, _ = checked(b'format = 1\nstage = "propelller"\n[propellerr]\nblades = 3\n', "x.toml")
    assert "line 2: stage: 'propelller' was not understood, so 'hull' stands." in lines
    told = "the table propellerr means nothing here and is kept. The nearest key that does is propeller."
    assert f"line 3: {told}" in lines


def test_a_file_that_is_not_toml_is_refused_and_its_problems_are_listed_all_the_same() -> None:
    refusal, lines, is_sound = checked(SPOILT.encode(), "x.toml")
    assert refusal.startswith("x.toml is not a readable plan")
    assert not is_sound
    assert [line for line in lines if not line.count(": ", 8) and "the key" not in line] == [
        "line 6: Expected newline or end of document after a statement.",
        "line 8: Cannot overwrite a value.",
        "line 12: Expected ']' at the end of a table declaration.",
    ]
    assert any(line.startswith("line 9: the key displacment") for line in lines)
    assert any(line.startswith("line 11: engine: Rated power") for line in lines)


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"", []),
        (b"format = 1\n\n\xff = 3\n", ["line 3: the first sign that is not UTF-8."]),
        (b"format = 99\n", []),
        (b'notes = """\nno end\n', ["line 1: Unterminated string."]),
        (b"format = 1\nx = " + b"[" * 3000, []),
    ],
)
def test_whatever_the_file_there_is_a_sentence_and_no_more_than_can_be_said(
    content: bytes, expected: list[str]
) -> None:
    refusal, lines, _ = checked(content, "x.toml")
    assert refusal.startswith("x.toml ")
    assert [line for line in lines if line in expected] == expected


def test_the_command_prints_the_list_and_refuses_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "x.toml"
    path.write_text(SPOILT, encoding="utf-8")
    assert main(["check", str(path)]) == 2
    printed = capsys.readouterr()
    assert "\nline 6: Expected newline" in printed.out
    assert printed.err.count("\n") == 1
    path.write_text(ENOUGH, encoding="utf-8")
    assert main(["check", str(path)]) == 1
    assert "line 6: hull: Still missing: Hull draft" in capsys.readouterr().out


@pytest.mark.parametrize("content", [READABLE, SPOILT], ids=["readable", "not TOML"])
def test_the_list_goes_down_the_file_and_ends_with_what_has_no_line(content: str) -> None:
    _, lines, _ = checked(content.encode(), "x.toml")
    placed = [int(match[1]) for match in (re.match(r"line (\d+): ", line) for line in lines) if match]
    assert placed == sorted(placed)
    assert len(set(placed)) > 4
    assert all(line.startswith("line ") for line in lines[: len(placed)])
    assert not any(line.startswith("line ") for line in lines[len(placed) :])


def test_a_quote_that_is_forgotten_is_told_in_words() -> None:
    refusal, lines, _ = checked(b'format = 1\n[hull]\ndisplacement = "12 t\nwater = "sea"\n', "x.toml")
    assert "A text begins with a quote and has none at its end (at line 3" in refusal
    assert "line 3: A text begins with a quote and has none at its end." in lines
