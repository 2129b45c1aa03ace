"""The wizard is killed while a plan is being edited: it can always be read, and a second of typing goes at most."""

import re
import subprocess
import sys
from pathlib import Path


def killed(root: Path, folder: Path, kind: str, kills: int) -> tuple[int, int]:
    """Returns: how many plans could not be read, and from how many too much was lost."""
    run = subprocess.run(
        [sys.executable, "-m", "tests.wizard.killed", str(folder), kind, str(kills)],
        cwd=root,
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
    )
    found = re.match(rf"{kills} kills, (\d+) unreadable, (\d+) lost too much", run.stdout)
    assert found, run.stdout + run.stderr
    return int(found[1]), int(found[2])


def test_two_hundred_kills_between_and_during_saves_lose_nothing_that_was_reported_as_saved(
    root: Path, tmp_path: Path
) -> None:
    assert killed(root, tmp_path, "saving", 200) == (0, 0)


def test_kills_while_typing_lose_a_second_of_it_at_most(root: Path, tmp_path: Path, nightly: bool) -> None:
    assert killed(root, tmp_path, "typing", 200 if nightly else 9) == (0, 0)


def test_the_kills_do_find_a_program_that_saves_carelessly(root: Path, tmp_path: Path) -> None:
    unreadable, _ = killed(root, tmp_path, "careless", 20)
    assert unreadable > 0
