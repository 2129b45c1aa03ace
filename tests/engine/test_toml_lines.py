"""A TOML text statement by statement: lines, paths, comments; and comments carried over to a newer text."""

import tomllib

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from engine.toml_comments import with_comments
from engine.toml_lines import lines_of

BY_HAND = '''# Teasel, measured on the hard
format = 1  # one
name = "a # b"
notes = """x
# no comment
y"""

# taken with a tape
[hull] # May
displacement = { best = "9 t", low = "8 t", high = "10 t" } # crane
"odd key".'b.c'.d = 3
ratios = [
  2.0, # measured
  # between
  2.5,
] # both
[[engine.candidate]]
name = "first"
# from the data sheet
rated_power = "30 kW"
[[engine.candidate]]
name = 'second' # why
# the end
'''


def test_every_statement_has_its_path_and_lines() -> None:
    found = {statement.path: (statement.line, statement.last) for statement in lines_of(BY_HAND).statements}
    assert found == {
        ("format",): (2, 2),
        ("name",): (3, 3),
        ("notes",): (4, 6),
        ("hull",): (9, 9),
        ("hull", "displacement"): (10, 10),
        ("hull", "odd key", "b.c", "d"): (11, 11),
        ("hull", "ratios"): (12, 16),
        ("engine", "candidate", 0): (17, 17),
        ("engine", "candidate", 0, "name"): (18, 18),
        ("engine", "candidate", 0, "rated_power"): (20, 20),
        ("engine", "candidate", 1): (21, 21),
        ("engine", "candidate", 1, "name"): (22, 22),
    }


def test_comments_are_found_outside_of_strings_alone() -> None:
    lines = lines_of(BY_HAND)
    found = {each.path[-1]: (each.above, each.aside) for each in reversed(lines.statements)}
    assert found["format"] == (("# Teasel, measured on the hard",), "# one")
    assert found["name"][1] == ("")
    assert found["notes"] == ((), "")
    assert found["hull"] == (("# taken with a tape",), "# May")
    assert found["ratios"] == (("# measured", "# between"), "# both")
    assert lines.tail == ("# the end",)


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("engine", "candidate", 1, "name"), 22),
        (("engine", "candidate", 1, "rated_power"), 21),
        (("hull", "displacement", "low"), 10),
        (("hull", "screws"), 9),
        (("shaft", "span"), None),
    ],
)
def test_the_line_of_what_is_not_there_is_that_of_its_table(path: tuple[str | int, ...], line: int | None) -> None:
    assert lines_of(BY_HAND).line_of(path) == line


def test_a_list_that_is_never_closed_costs_its_own_line_alone() -> None:
    statements = lines_of('a = [1,\nb = 2\n[hull\nc = """x\nd = 4\n').statements
    assert [(each.path, each.line, bool(each.trouble)) for each in statements] == [
        ((), 1, True),
        (("b",), 2, False),
        ((), 3, True),
        ((), 4, True),
        (("d",), 5, False),
    ]


def test_windows_line_ends_count_as_one() -> None:
    assert lines_of("# a\r\nb = 1\r\nc = 2 # d\r\n").statements[1].line == 3


# comments in a newer text


def test_comments_stay_at_their_keys() -> None:
    new = """format = 1
name = "b"
[hull]
beam = "3 m"
displacement = "9.2 t"
[[engine.candidate]]
name = "first"
rated_power = "31 kW"
[[engine.candidate]]
name = "second"
[[engine.candidate]]
name = "third"
"""
    found = with_comments(new, BY_HAND)
    assert tomllib.loads(found) == tomllib.loads(new)
    before = {statement.path: statement for statement in lines_of(BY_HAND).statements}
    after = {statement.path: statement for statement in lines_of(found).statements}
    assert after["hull",].above == ("# taken with a tape", "# measured", "# between", "# both"), "ratios are gone"
    for path in (("format",), ("hull", "displacement"), ("engine", "candidate", 0, "rated_power")):
        assert (after[path].above, after[path].aside) == (before[path].above, before[path].aside)
    assert lines_of(found).tail == ("# the end",)
    assert with_comments(new, found) == found, "a second save changes nothing"


def test_a_renamed_row_keeps_its_comments_and_those_of_a_row_taken_out_go_to_the_end() -> None:
    old = '[[a.row]]\nname = "x" # of x\n[[a.row]]\nname = "y" # of y\n'
    renamed = with_comments('[[a.row]]\nname = "x2"\n[[a.row]]\nname = "y"\n', old)
    assert renamed == '[[a.row]]\nname = "x2"  # of x\n[[a.row]]\nname = "y"  # of y\n'
    shorter = with_comments('[[a.row]]\nname = "y"\n', old)
    assert shorter == '[[a.row]]\nname = "y"  # of y\n# of x\n'


def test_the_comment_on_a_key_that_is_gone_moves_to_its_heading() -> None:
    old = "[hull]\nbeam = 3 # by tape\n# from the yard\ndraft = 1\n"
    assert with_comments("[hull]\nlength = 9\n", old) == "# by tape\n# from the yard\n[hull]\nlength = 9\n"


def test_without_comments_the_new_text_is_left_as_it_is() -> None:
    assert with_comments("a = 1\n\n\nb = 2\n", 'a = "# none"\n') == "a = 1\n\n\nb = 2\n"


NAMES = st.sampled_from(["a", "b c", "d.e", "name", "é", '"', "#", ""])
VALUES = st.recursive(
    st.one_of(st.integers(-9, 9), st.booleans(), st.text(alphabet=" ab#\"'\\\n[]=\u2028\x85,{}", max_size=9)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(NAMES, inner, max_size=3)),
    max_leaves=8,
)


@given(
    st.dictionaries(NAMES, VALUES, max_size=5),
    st.dictionaries(NAMES, VALUES, max_size=5),
    st.booleans(),
    st.lists(st.integers(0, 30), max_size=4),
)
def test_whatever_the_documents_no_comment_and_no_value_is_lost(
    old: dict[str, object], new: dict[str, object], long: bool, places: list[int]
) -> None:
    text = tomli_w.dumps(old, multiline_strings=long)
    statements = lines_of(text).statements
    lines = text.split("\n")
    comments = [f"# comment {number}." for number in range(len(places) if statements else 0)]
    for comment, place in zip(comments, places, strict=False):
        lines[statements[place % len(statements)].last - 1] += f" {comment}"
    if statements:
        comments.append("# above.")
        lines.insert(statements[sum(places) % len(statements)].line - 1, "# above.")
    commented = "\n".join(lines)
    assert tomllib.loads(commented) == old
    found = with_comments(tomli_w.dumps(new), commented)
    assert tomllib.loads(found) == new
    assert all(comment in found for comment in comments)
    assert with_comments(tomli_w.dumps(new), found) == found
