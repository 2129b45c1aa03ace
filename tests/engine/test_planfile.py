"""The plan as a TOML file: what was written comes back, nothing is lost."""

import os
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from engine.migrations import FORMAT
from engine.odd_keys import odd_keys
from engine.plan import Plan, text_at, why_unread, with_row, with_text, without_row
from engine.planfile import PlanFileError, content_of, load_plan, plan_from_text, plan_text, save_plan
from tests.faulty_disk import FaultyDisk


def sample() -> Plan:
    plan = Plan(name='Teasel "[/x] [kW]"', units="imperial", stage="power", notes="two lines\nof notes")
    for path, text in (
        ("hull.kind", "full-keel launch"),
        ("hull.waterline_length", "31 ft 6 in"),
        ("hull.displacement", "14800 lb (14000 lb to 16500 lb)"),
        ("hull.screws", "1"),
        ("hull.hull_draft", "rather deep"),
        ("gear.ratios", "2.0; 2,5; 3"),
    ):
        plan = with_text(plan, path, text)
    plan = with_row(with_row(plan, "engine.candidate"), "present.log")
    plan = with_text(plan, "engine.candidate.0.rated_power", "55 hp")
    return with_text(plan, "present.log.0.engine_speed", "1800 rpm")


def test_a_plan_comes_back_as_it_was_saved(tmp_path: Path) -> None:
    save_plan(sample(), tmp_path / "plan.toml")
    assert load_plan(tmp_path / "plan.toml") == sample()


def test_the_file_holds_quantities_as_the_owner_wrote_them() -> None:
    document = tomllib.loads(plan_text(sample()))
    assert document["format"] == FORMAT
    assert document["hull"]["waterline_length"] == "31 ft 6 in"
    assert document["hull"]["displacement"] == {"best": "14800 lb", "low": "14000 lb", "high": "16500 lb"}
    assert document["hull"]["hull_draft"] == "rather deep"
    assert document["gear"]["ratios"] == ["2.0", "2,5", "3"]
    assert document["engine"]["candidate"][0]["rated_power"] == "55 hp"


def test_keys_that_mean_nothing_here_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(
        'format = 1\nname = "x"\nboatyard = "north quay"\n[hull]\ncolour = "green"\n'
        '[[engine.candidate]]\nname = "a"\npaint = "grey"\n[garden]\ntrees = 3\n',
        encoding="utf-8",
    )
    save_plan(load_plan(path), path)
    document = tomllib.loads(path.read_text(encoding="utf-8"))
    assert document["boatyard"] == "north quay"
    assert document["hull"] == {"colour": "green"}
    assert document["engine"]["candidate"] == [{"name": "a", "paint": "grey"}]
    assert document["garden"] == {"trees": 3}


def test_a_bare_number_in_the_file_is_in_the_plans_units(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text('format = 1\nunits = "imperial"\n[hull]\nwaterline_length = 36.5\nscrews = 2\n', encoding="utf-8")
    plan = load_plan(path)
    assert text_at(plan, "hull.waterline_length") == "36.5 ft"
    assert plan.hull.screws == 2


def test_a_value_of_the_wrong_shape_waits_and_is_written_back(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text("format = 1\n[hull]\ndisplacement = { best = 1 }\nkind = true\nscrews = 1.5\n", encoding="utf-8")
    plan = load_plan(path)
    assert set(plan.unread) == {"hull.displacement", "hull.kind", "hull.screws"}
    assert tomllib.loads(plan_text(plan))["hull"] == {"displacement": {"best": 1}, "kind": True, "screws": 1.5}


def test_a_list_with_one_wrong_value_is_told_as_it_would_be_typed(tmp_path: Path) -> None:
    """Not as Python writes it: the owner is told which of the values is wrong, and finds them all in the field."""
    path = tmp_path / "plan.toml"
    path.write_text(
        'format = 1\n[hull]\ndisplacement = { best = "9 t", low = "eight", high = "10 t" }\n'
        '[gear]\nratios = ["2.5", "abc"]\n',
        encoding="utf-8",
    )
    plan = load_plan(path)
    assert text_at(plan, "gear.ratios") == "2.5; abc"
    assert why_unread(plan, "gear.ratios").startswith("'abc' has no number in it")
    assert text_at(plan, "hull.displacement") == "9 t (eight to 10 t)"
    assert "'eight" in why_unread(plan, "hull.displacement")
    assert tomllib.loads(plan_text(plan))["gear"]["ratios"] == ["2.5", "abc"]


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (b"format = 99\n", f"format 99, and this program knows formats up to {FORMAT}"),
        (b"name = 'x'\n", f"no line 'format = {FORMAT}'"),
        (b"format = true\n", f"no line 'format = {FORMAT}'"),
        (b"format = 1\nname = \n", "not a readable plan"),
        (b"\xff\xfe\x00", "not text in UTF-8"),
    ],
)
def test_an_unreadable_plan_is_refused_in_one_sentence_and_left_alone(
    tmp_path: Path, content: bytes, part: str
) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(content)
    with pytest.raises(PlanFileError, match=part):
        load_plan(path)
    assert path.read_bytes() == content


def test_a_missing_file_and_a_folder_are_named_as_such(tmp_path: Path) -> None:
    with pytest.raises(PlanFileError, match="There is no plan at"):
        load_plan(tmp_path / "none.toml")
    with pytest.raises(PlanFileError, match="is a folder"):
        load_plan(tmp_path)


def test_a_failed_save_leaves_the_old_plan_and_no_litter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "plan.toml"
    save_plan(Plan(name="old"), path)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(PlanFileError, match="the disk is full"):
        save_plan(Plan(name="new"), path)
    assert load_plan(path).name == "old"
    assert [item.name for item in tmp_path.iterdir()] == ["plan.toml"]


def test_saving_through_a_link_replaces_the_plan_and_keeps_the_link_and_mode(tmp_path: Path) -> None:
    real, link = tmp_path / "real.toml", tmp_path / "link.toml"
    save_plan(Plan(name="old"), real)
    real.chmod(0o600)
    link.symlink_to(real)
    save_plan(Plan(name="new"), link)
    assert link.is_symlink()
    assert load_plan(real).name == "new"
    assert real.stat().st_mode & 0o777 == 0o600


def test_rows_stand_under_headings_of_their_own_and_unsure_values_in_them_survive(tmp_path: Path) -> None:
    plan = with_row(sample(), "engine.candidate")
    plan = with_text(plan, "engine.candidate.1.rated_power", "40 hp (38 hp to 42 hp)")
    plan = with_row(plan, "engine.candidate")
    text = plan_text(plan)
    assert text.count("[[engine.candidate]]") == 3
    assert text.count("[[present.log]]") == 1
    save_plan(plan, tmp_path / "plan.toml")
    assert load_plan(tmp_path / "plan.toml") == plan


def test_a_table_that_is_no_table_is_kept_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text('format = 1\n[engine]\ncandidate = [1, 2]\n[present]\nlog = "none"\n', encoding="utf-8")
    document = tomllib.loads(plan_text(load_plan(path)))
    assert document["engine"] == {"candidate": [1, 2]}
    assert document["present"] == {"log": "none"}


@pytest.mark.parametrize(
    ("written", "litres"),
    [
        ('"60 US gal"', [227.12]),
        ("300", [300.0]),
        ('{ best = "300 L", low = "280 L", high = "310 L" }', [300.0]),
        ('["100 L", 50]', [100.0, 50.0]),
    ],
)
def test_a_list_of_quantities_is_also_read_from_one(tmp_path: Path, written: str, litres: list[float]) -> None:
    """Older plans have one tank."""
    path = tmp_path / "plan.toml"
    path.write_text(f'format = 1\nname = "x"\n[range]\ntank = {written}\n', encoding="utf-8")
    for _ in range(2):
        plan = load_plan(path)
        assert [tank.si * 1e3 for tank in plan.range.tank] == pytest.approx(litres, abs=0.01)
        save_plan(plan, path)


@pytest.mark.parametrize(
    ("content", "part"),
    [
        (b"x" * 5_000_000, "has 5 MB"),
        (b"format = 1\nnotes = '" + b"a" * 5_000_000 + b"'\n", "has 5 MB"),
        (b"\x00" * 900_000, "not a readable plan"),
        (b"format = 1\nx = " + b"[" * 300 + b"]" * 300 + b"\n", "nests too deeply"),
        (b"format = 1\nx = " + b"[" * 100_000, "nests too deeply"),
        (b"format = 1\nx = " + b"9" * 5000 + b"\n", "a number in it is too long"),
        (b"format = 1\nx = 0x" + b"f" * 5000 + b"\n", "a number in it is too long"),
    ],
)
def test_junk_of_any_size_is_refused_in_one_sentence(tmp_path: Path, content: bytes, part: str) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(content)
    with pytest.raises(PlanFileError, match=part) as refused:
        load_plan(path)
    assert str(refused.value).endswith("The file is left as it is.")
    assert "\n" not in str(refused.value)
    assert path.read_bytes() == content


def test_what_is_no_ordinary_file_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    with pytest.raises(PlanFileError, match="is not a file"):
        load_plan(tmp_path / "pipe.toml")


def test_a_plan_that_may_not_be_read_says_so(tmp_path: Path) -> None:
    save_plan(Plan(), tmp_path / "plan.toml")
    for number in (1, 2):
        with pytest.raises(PlanFileError, match="you have no permission for it"):
            load_plan(tmp_path / "plan.toml", FaultyDisk(number, "EACCES"))


def test_the_mark_and_line_ends_of_other_editors_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_bytes(b'\xef\xbb\xbfformat = 1\r\nname = "x" # mine\r\n')
    plan = load_plan(path)
    assert plan.name == "x"
    save_plan(plan, path)
    written = f'format = {FORMAT}\nname = "x"  # mine\nstage = "hull"\nunits = "metric"\n'
    assert path.read_bytes() == written.encode()


def test_comments_made_by_hand_outlive_every_save(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text(
        '# of the sloop\nformat = 1\n[hull] # in May\n# by crane\ndisplacement = "9 t"\n[[engine.candidate]]\n'
        'name = "a" # the old one\n',
        encoding="utf-8",
    )
    plan = load_plan(path)
    for tonnes in ("9.1 t", "9.2 t"):
        plan = with_text(plan, "hull.displacement", tonnes)
        save_plan(plan, path)
    plan = with_row(plan, "engine.candidate")
    save_plan(plan, path)
    text = path.read_text(encoding="utf-8")
    assert '# by crane\ndisplacement = "9.2 t"' in text
    assert "[hull]  # in May" in text
    assert 'name = "a"  # the old one' in text
    assert text.startswith(f"# of the sloop\nformat = {FORMAT}\n")
    assert load_plan(path) == plan


def test_a_number_where_a_table_belongs_is_kept_until_there_is_a_table(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text('format = 1\nhull = 3\n"odd.key" = 1\n[gear]\n"a.b" = 2\n', encoding="utf-8")
    plan = load_plan(path)
    save_plan(plan, path)
    document = tomllib.loads(path.read_text(encoding="utf-8"))
    assert (document["hull"], document["odd.key"], document["gear"]) == (3, 1, {"a.b": 2})
    save_plan(with_text(plan, "hull.displacement", "9 t"), path)
    assert load_plan(path).hull.displacement is not None


def test_a_word_of_the_head_that_was_not_understood_gives_way_to_the_owners(tmp_path: Path) -> None:
    path = tmp_path / "plan.toml"
    path.write_text('format = 1\nname = 3\nunits = "furlongs"\n', encoding="utf-8")
    plan = load_plan(path)
    assert (plan.name, plan.units) == ("Untitled", "metric")
    save_plan(plan, path)
    assert tomllib.loads(path.read_text(encoding="utf-8"))["units"] == "furlongs"
    save_plan(replace(plan, name="Heron", units="imperial"), path)
    assert (load_plan(path).name, load_plan(path).units) == ("Heron", "imperial")


@pytest.mark.parametrize(
    ("text", "path", "part"),
    [
        ("[hull]\ndisplacment = 1", "hull.displacment", "The nearest key that does is displacement."),
        ("[hull]\ncruise = 1", "hull.cruise", "The nearest key that does is speed.cruise."),
        (
            "[[engine.candidate]]\nraetd_power = 1",
            "engine.candidate.0.raetd_power",
            "The nearest key that does is rate",
        ),
        ("displacement = 1", "displacement", "The nearest key that does is hull.displacement."),
        ("nmae = 1", "nmae", "The nearest key that does is name."),
        ("zzz = 1", "zzz", "zzz means nothing here and is kept."),
        ('"a\\u0007 b" = 1', "a\x07 b", "'a\\x07 b' means nothing here and is kept."),
        ("hull = 1", "hull", "hull: 1 is not the table that belongs there. It is kept until one is."),
        (
            "[engine]\ncandidate = 3",
            "engine.candidate",
            "candidate: 3 is not the table that belongs there. It is kept until one is.",
        ),
        (
            'units = "furlongs"',
            "units",
            "units: 'furlongs' was not understood, so 'metric' stands. Write metric",
        ),
    ],
)
def test_a_key_that_means_nothing_is_named_with_the_nearest_that_does(text: str, path: str, part: str) -> None:
    problems = odd_keys(plan_from_text(f"format = 1\n{text}\n".encode(), "x"))
    assert [problem.path for problem in problems] == [path]
    assert part in problems[0].text


def test_a_row_under_a_heading_in_single_brackets_is_a_row() -> None:
    content = b'format = 1\n[engine.candidate] # the only one\nname = "a"\nrated_power = "30 hp" # by its plate\n'
    plan = plan_from_text(content, "x")
    assert [row.name for row in plan.engine.candidate] == ["a"]
    assert not plan.extra
    kept = content_of(with_row(plan, "engine.candidate", {"name": "b"}), content).decode()
    assert [row["name"] for row in tomllib.loads(kept)["engine"]["candidate"]] == ["a", "b"]
    assert kept.index("# the only one") > 0
    assert kept.index("# by its plate") > 0


def test_a_row_taken_out_takes_along_what_was_kept_for_it() -> None:
    text = '[[engine.candidate]]\nname = "a"\npaint = 1\n[[engine.candidate]]\nname = "b"\npaint = 2\n'
    plan = without_row(plan_from_text(f"format = 1\n{text}".encode(), "x"), "engine.candidate", 0)
    assert tomllib.loads(plan_text(plan))["engine"]["candidate"] == [{"name": "b", "paint": 2}]


@pytest.mark.parametrize("spoiled", ["name = 'other'\n", "name = \n"], ids=["another plan", "no TOML"])
def test_comments_are_left_behind_when_carrying_them_over_would_spoil_the_plan(
    spoiled: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("engine.planfile.with_comments", lambda *_: spoiled)
    plan = Plan(name="Teasel")
    content = content_of(plan, b"# a note\nname = 'Teasel'\n")
    assert plan_from_text(content, "it") == plan
