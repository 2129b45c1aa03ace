"""No network; files only among the plans and where the owner says; and one clear sentence wherever it cannot work."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from engine.plan import PAGES
from engine.planfile import load_plan
from tests.wizard.command import Ran, shaftlog
from tests.wizard.window import WAY_OUT, Window
from wizard.cli import main

F = {4: b"\x1bOS", 6: b"\x1b[17~", 8: b"\x1b[19~", 9: b"\x1b[20~", 10: b"\x1b[21~", 11: b"\x1b[23~", 12: b"\x1b[24~"}
ESC = b"\x1b"


def test_a_whole_walk_needs_no_network_and_writes_among_the_plans_and_where_the_owner_says(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plans, log, sheet = tmp_path / "plans", tmp_path / "log", tmp_path / "out" / "sheet.txt"
    plans.mkdir()
    sheet.parent.mkdir()
    shutil.copy(root / "saved_plans" / "mirabel.toml", plans / "m.toml")
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv("PYTHONPATH", str(root))
    program = [str(root / "tests" / "wizard" / "watched.py"), str(log), "--plans", str(plans), str(plans / "m.toml")]
    window = Window(tmp_path, program, is_module=False)
    window.sees(b"F10 quit")
    for key in (F[6], ESC, F[11], ESC, F[12]):
        window.types(key)
    window.read(1.0)
    window.types(ESC)
    for _ in PAGES[PAGES.index(load_plan(plans / "m.toml").stage) + 1 :]:
        window.types(F[4])
    window.until(F[4], b"What is the plan?")
    window.types(b"\x10").types(ESC).until(F[8], b"Write a sheet")
    window.types(b"\r\r").types(b"\x7f" * 200 + str(sheet).encode()).types(b"\r").sees(b"The sheet")
    window.types(F[9]).types(b"\x1bOR").types(F[9])
    window.types(F[10]).sees(WAY_OUT)
    assert window.status() == 0
    noted = [line.split("\t", 1) for line in log.read_text(encoding="utf-8").splitlines()]
    assert [what for word, what in noted if word in ("network", "program")] == []
    written = {Path(what) for word, what in noted if word == "written"}
    outside = {path for path in written if not path.is_relative_to(plans) and path.parent != sheet.parent}
    assert outside <= {Path("/dev/null"), Path("/dev/tty")}
    assert sheet in written
    assert "Mirabel" in sheet.read_text(encoding="utf-8")
    assert [path.name for path in sheet.parent.iterdir()] == [sheet.name]
    assert sorted(path.name for path in tmp_path.iterdir()) == ["log", "out", "plans"]
    assert plans / "m.toml" in written


def in_a_locale(root: Path, *words: str, **environment: str | None) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own: Python asks once, when it starts, which letters its system has."""
    kept = {name: value for name, value in (os.environ | environment).items() if value is not None}
    return subprocess.run(
        [sys.executable, "-m", "wizard", *words],
        cwd=root,
        env=kept | {"PYTHONPATH": str(root)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        errors="surrogateescape",
        timeout=60,
        check=False,
    )


def refusal(run: subprocess.CompletedProcess[str] | Ran) -> str:
    assert run.returncode == 2, run
    assert run.stderr.startswith("shaftlog: ")
    assert run.stderr.count("\n") == 1, run.stderr
    assert "Traceback" not in run.stderr
    return run.stderr


@pytest.mark.parametrize("command", [(), ("check",), ("report",)])
def test_what_is_no_plan_gets_one_sentence_from_every_command(
    root: Path, tmp_path: Path, command: tuple[str, ...]
) -> None:
    junk = tmp_path / "junk.toml"
    junk.write_bytes(os.urandom(5_000_000))
    assert "5 MB" in refusal(shaftlog(*command, str(junk), cwd=root))
    told = refusal(shaftlog(*command, str(tmp_path), cwd=root))
    assert "is a folder, not the file of a plan. Name the file of a plan; shaftlog alone lists the plans." in told
    assert "There is no plan at" in refusal(shaftlog(*command, str(tmp_path / "none.toml"), cwd=root))
    assert "is not a file" in refusal(shaftlog(*command, "/dev/null", cwd=root))


def test_names_with_spaces_and_letters_of_any_kind_work_in_a_c_locale(root: Path, tmp_path: Path) -> None:
    plan = tmp_path / "Ångström's boat №1 (neu).toml"
    shutil.copy(root / "saved_plans" / "mirabel.toml", plan)
    for language in ("C", "POSIX", "en_US.ISO-8859-1"):
        run = in_a_locale(
            root, "check", str(plan), LC_ALL=language, LANG=language, PYTHONUTF8=None, PYTHONCOERCECLOCALE="0"
        )
        assert run.returncode == 1, run
        assert run.stdout.startswith("line 34: engine: Still missing")
    odd = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.toml"))
    shutil.copy(plan, odd)
    assert in_a_locale(root, "check", str(odd)).returncode == 1
    odd.write_bytes(b"junk")
    assert "caf?.toml" in refusal(in_a_locale(root, "check", str(odd))).replace("\ufffd", "?")


def test_the_list_shows_a_plan_whose_name_is_no_text_and_opens_it(root: Path, tmp_path: Path) -> None:
    odd = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.toml"))
    shutil.copy(root / "saved_plans" / "mirabel.toml", odd)
    window = Window(root, ["--plans", str(tmp_path)])
    window.sees(b"F10 quit")
    window.types(b"\r").sees(b"F7 units")
    window.types(F[10]).sees(WAY_OUT)
    assert window.status() == 0
    assert "caf\ufffd.toml".encode() in window.seen
    assert load_plan(odd).name == "Mirabel"


def test_without_a_home_the_owner_is_asked_for_a_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def nobody(user: int) -> None:
        raise KeyError(user)

    monkeypatch.chdir(tmp_path)
    for name in ("HOME", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("pwd.getpwuid", nobody)
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        monkeypatch.setattr(stream, "isatty", lambda: True)
    assert main([]) == 2
    assert capsys.readouterr().err == (
        "shaftlog: No home folder is known here. Say where plans live: shaftlog --plans DIR\n"
    )
    assert main(["check", "heron"]) == 2
    assert "There is no plan at heron." in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_folder_of_plans_that_is_a_file_is_named(root: Path, tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("x", encoding="utf-8")
    window = Window(root, ["--plans", str(file)])
    window.read(5.0)
    assert window.status() == 2
    assert b"is a file, not a folder. Name a folder after --plans." in window.seen


def test_a_folder_of_plans_that_is_missing_is_made_when_the_first_plan_is(root: Path, tmp_path: Path) -> None:
    folder = tmp_path / "not" / "there"
    window = Window(root, ["--plans", str(folder)])
    window.sees(b"F10 quit")
    assert not folder.exists()
    window.types(b"\x1bOQ").types(b"Heron\r").types(b"\x1b[B").types(b"\r").sees(b"F7 units")
    window.types(F[10]).sees(WAY_OUT)
    assert window.status() == 0
    assert load_plan(folder / "heron.toml").name == "Heron"


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("/dev/full", "the disk is full"),
        ("none/report.txt", "the folder is not there"),
        (".", "it is a folder"),
        ("a" * 300, "the name is too long"),
    ],
)
def test_a_report_that_cannot_be_written_is_told_in_a_sentence(
    root: Path, tmp_path: Path, target: str, words: str
) -> None:
    plan = tmp_path / "m.toml"
    shutil.copy(root / "saved_plans" / "mirabel.toml", plan)
    assert words in refusal(shaftlog("report", str(plan), "--to", str(tmp_path / target), cwd=root))
    assert [path.name for path in tmp_path.iterdir()] == ["m.toml"]


def test_a_disk_that_takes_no_more_leaves_the_plan_and_says_so(root: Path, tmp_path: Path) -> None:
    """The system itself refuses: a limit on the size of files."""
    plan = tmp_path / "m.toml"
    shutil.copy(root / "saved_plans" / "mirabel.toml", plan)
    before = plan.read_bytes()
    script = (
        "import resource, signal, sys\n"
        "from engine.planfile import load_plan, save_plan, PlanFileError\n"
        "plan = load_plan(sys.argv[1])\n"
        "import tomli_w\n"
        "signal.signal(signal.SIGXFSZ, signal.SIG_IGN)\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (100, 100))\n"
        "try:\n    save_plan(plan, sys.argv[1])\n"
        "except PlanFileError as error:\n    print(error)\n"
    )
    run = subprocess.run(
        [sys.executable, "-c", script, str(plan)], cwd=root, capture_output=True, text=True, timeout=60, check=False
    )
    assert "larger than the disk or your limits allow" in run.stdout, run.stderr
    assert plan.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["m.toml"]
