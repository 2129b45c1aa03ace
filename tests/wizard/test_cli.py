"""The command line without a terminal: most of it called as a function; in processes of their own, what only a process
has, its streams, its exit status and what it loads."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.wizard.command import shaftlog
from wizard.cli import main


def in_a_shell(root: Path, words: list[str], where_to: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """Run the command with its streams as a shell directs them; `$?` is its own status, whatever reads from it."""
    return subprocess.run(
        ["bash", "-c", f'set -o pipefail; "$@" {where_to}', "bash", sys.executable, "-m", "wizard", *words],
        cwd=root,
        env={"PATH": "/usr/bin:/bin", "PYTHONPATH": str(root), "HOME": str(root), **environment},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )


def modules_after(root: Path, code: str) -> set[str]:
    """The top-level modules that are loaded after some code has run in a fresh interpreter."""
    run = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print('\\n'.join(sys.modules))"],
        cwd=root,
        capture_output=True,
        text=True,
        check=True,
    )
    return {name.split(".")[0] for name in run.stdout.split()}


def test_help_loads_neither_numpy_nor_textual(root: Path) -> None:
    code = "import contextlib\nfrom wizard.cli import main\nwith contextlib.suppress(SystemExit): main(['--help'])"
    loaded = modules_after(root, code)
    assert "wizard" in loaded
    assert not loaded & {"numpy", "scipy", "textual", "rich", "plotext"}


def test_the_library_names_load_numpy_only_when_used(root: Path) -> None:
    assert not modules_after(root, "import engine\nengine.load_plan") & {"numpy", "textual"}
    loaded = modules_after(root, "import engine\nengine.assess(engine.load_plan('saved_plans/bittern.toml'))")
    assert "numpy" in loaded
    assert not loaded & {"scipy", "textual", "rich", "plotext"}


@pytest.mark.parametrize(("name", "status"), [("bittern", 0), ("mirabel", 1), ("two-sisters", 0)])
def test_check_tells_complete_from_incomplete(root: Path, name: str, status: int) -> None:
    run = shaftlog("check", f"saved_plans/{name}.toml", cwd=root)
    assert run.returncode == status
    assert run.stderr == ""
    assert ("complete:" in run.stdout) is (status == 0)


def test_check_prints_one_line_for_each_thing_missing(root: Path) -> None:
    lines = shaftlog("check", "mirabel", cwd=root).stdout.splitlines()
    assert "line 34: engine: Still missing: Rated power." in lines
    assert "gear: Still missing: Ratios on offer." in lines


def test_check_names_text_that_cannot_be_read_and_keys_that_mean_nothing(root: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text('format = 1\nmast = 1\n[hull]\ndisplacement = "heavy"\n', encoding="utf-8")
    run = shaftlog("check", str(plan), cwd=root)
    assert run.returncode == 1
    assert "line 2: the key mast means nothing here" in run.stdout
    assert "'heavy' has no number" in run.stdout


@pytest.mark.parametrize("command", ["check", "report", "open"])
@pytest.mark.parametrize(
    ("content", "part"),
    [
        (None, "There is no plan"),
        (b"format = 7\n", "format 7"),
        (b"\xff\xfe", "UTF-8"),
        (b"[[[", "not a readable plan"),
    ],
)
def test_an_unreadable_plan_is_one_sentence_and_exit_two(
    root: Path, tmp_path: Path, command: str, content: bytes | None, part: str
) -> None:
    plan = tmp_path / "plan.toml"
    if content is not None:
        plan.write_bytes(content)
    words = [str(plan)] if command == "open" else [command, str(plan)]
    run = shaftlog(*words, cwd=root)
    assert run.returncode == 2
    assert part in run.stderr
    assert "Traceback" not in run.stderr
    assert len(run.stderr.splitlines()) == 1
    assert content is None or plan.read_bytes() == content


@pytest.mark.parametrize(
    "words", [["--nonsense"], ["report"], ["report", "bittern", "--format", "pdf"], ["check"], ["a", "b"]]
)
def test_a_bad_command_line_is_one_sentence_and_exit_two(root: Path, words: list[str]) -> None:
    run = shaftlog(*words, cwd=root)
    assert run.returncode == 2
    assert len(run.stderr.splitlines()) == 1
    assert run.stderr.startswith("shaftlog: ")


@pytest.mark.parametrize(
    "words",
    [["x" * 300], ["check", "x" * 300], ["report", "bittern", "--format", "csv", "--to", "x" * 300]],
    ids=["open", "check", "to"],
)
def test_a_name_that_no_file_can_have_is_one_sentence_and_exit_two(root: Path, words: list[str]) -> None:
    run = shaftlog(*words, cwd=root)
    assert run.returncode == 2
    assert "the name is too long" in run.stderr
    assert len(run.stderr.splitlines()) == 1


def test_without_a_terminal_the_wizard_names_the_command_that_works(root: Path) -> None:
    run = in_a_shell(root, ["bittern"], "</dev/null")
    assert run.returncode == 2
    assert "shaftlog report PLAN" in run.stderr


def test_plans_folder_can_be_named_before_or_after_the_command(root: Path, tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text("format = 1\n", encoding="utf-8")
    for words in (["--plans", str(tmp_path), "check", "mine"], ["check", "mine", f"--plans={tmp_path}"]):
        run = shaftlog(*words, cwd=root)
        assert run.returncode == 1, run.stderr
        assert "Still missing" in run.stdout


def test_the_report_can_be_written_to_a_file_but_not_over_a_plan(root: Path, tmp_path: Path) -> None:
    plan, sheet = tmp_path / "plan.toml", tmp_path / "sheet.html"
    plan.write_bytes((root / "saved_plans/mirabel.toml").read_bytes())
    assert shaftlog("report", str(plan), "--format", "html", "--to", str(sheet), cwd=root).returncode == 0
    assert sheet.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    for name in ("plan.toml", "another.toml", "link.txt"):
        target = tmp_path / name
        if name == "link.txt":
            target.symlink_to(plan)
        else:
            target.write_bytes(plan.read_bytes())
        refused = shaftlog("report", str(plan), "--to", str(target), cwd=root)
        assert refused.returncode == 2
        assert target.read_bytes() == (root / "saved_plans/mirabel.toml").read_bytes()
    nowhere = shaftlog("report", str(plan), "--to", str(tmp_path / "none" / "x.txt"), cwd=root)
    assert nowhere.returncode == 2
    assert "could not be written" in nowhere.stderr


def test_json_goes_to_standard_output_whole(root: Path) -> None:
    run = in_a_shell(root, ["report", "saved_plans/two-sisters.toml", "--format", "json"], "| cat")
    assert run.returncode == 0
    document = json.loads(run.stdout)
    assert document["plan"]["name"] == "Two Sisters"
    assert document["market"]["answers"]["rows"], "the stock has been searched"


def test_outside_a_checkout_it_says_that_there_is_no_such_plan_and_writes_nothing(tmp_path: Path) -> None:
    run = shaftlog("check", "none", cwd=tmp_path)
    assert run.returncode == 2
    assert "There is no plan at none." in run.stderr
    assert list(tmp_path.iterdir()) == []


def test_keys_are_printed(root: Path) -> None:
    run = shaftlog("--keys", cwd=root)
    assert run.returncode == 0
    assert run.stderr == ""
    for words in ("F4 or ctrl+n", "Next page. Go on to the next page.", "F10 or ctrl+q", "New plan", "ctrl+p"):
        assert words in run.stdout
    assert all(len(text) <= 110 for text in run.stdout.splitlines())


@pytest.mark.parametrize("words", [["--theme", "pink"], ["--theme="], ["--theme", "pink", "bittern"]])
def test_a_theme_that_does_not_exist_is_one_sentence_with_those_that_do(root: Path, words: list[str]) -> None:
    run = shaftlog(*words, cwd=root)
    assert run.returncode == 2
    assert "the themes are day, night and terminal" in run.stderr
    assert len(run.stderr.splitlines()) == 1


def test_the_help_names_what_can_be_said(root: Path) -> None:
    printed = shaftlog("--help", cwd=root).stdout
    assert all(word in printed for word in ("--keys", "--ascii", "--theme", "day, night and terminal", "--plans"))


PRINTED = (["check", "saved_plans/mirabel.toml"], ["report", "saved_plans/mirabel.toml"], ["--keys"])
STATUS = {"check": 1, "report": 0, "--keys": 0}


@pytest.mark.parametrize("words", PRINTED)
def test_who_reads_may_stop_when_it_has_seen_enough(root: Path, words: list[str]) -> None:
    run = in_a_shell(root, words, "| true")
    assert (run.returncode, run.stderr) == (STATUS[words[0]], "")


@pytest.mark.parametrize(("where_to", "reason"), [(">/dev/full", "the disk is full"), (">&-", "output is closed")])
@pytest.mark.parametrize("words", PRINTED)
def test_what_cannot_be_printed_is_told_in_a_sentence(root: Path, words: list[str], where_to: str, reason: str) -> None:
    run = in_a_shell(root, words, where_to)
    assert run.returncode == 2
    assert len(run.stderr.splitlines()) == 1
    assert reason in run.stderr


def test_letters_that_the_terminal_lacks_are_printed_as_question_marks(root: Path, tmp_path: Path) -> None:
    plan = tmp_path / "plan.toml"
    plan.write_text('format = 1\nname = "Źrebię"\n[hull]\ndisplacement = "ź kg"\n', encoding="utf-8")
    run = in_a_shell(root, ["check", str(plan)], "", PYTHONIOENCODING="latin-1")
    assert (run.returncode, run.stderr) == (1, "")
    assert "'? kg'" in run.stdout


def test_without_an_input_there_is_no_terminal(root: Path) -> None:
    run = in_a_shell(root, [], "<&-")
    assert run.returncode == 2
    assert run.stderr.startswith("shaftlog: The wizard needs a terminal.")


def test_a_command_that_is_interrupted_ends_without_a_word(
    root: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(_: Path) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("engine.planfile.load_plan", interrupted)
    assert main(["report", str(root / "saved_plans" / "mirabel.toml")]) == 130
    assert capsys.readouterr() == ("", "")
