"""Files are replaced whole or not at all, whatever fails on the way."""

import os
from pathlib import Path

import pytest

from engine.disk import Disk, hidden_path, replace_file, sweep, why
from tests.faulty_disk import FAULTS, Died, FaultyDisk

OLD, NEW = b"old " * 1000, b"new content " * 900


def replaced_with_fault(target: Path, number: int, fault: str) -> FaultyDisk:
    disk = FaultyDisk(number, fault)
    try:
        replace_file(disk, target, NEW)
    except (OSError, Died):
        assert disk.has_failed
    disk.let_go()
    return disk


@pytest.mark.parametrize("fault", FAULTS)
def test_whichever_call_fails_the_file_holds_the_old_content_or_the_new(tmp_path: Path, fault: str) -> None:
    target = tmp_path / "a plan é.toml"
    outcomes = []
    for number in range(1, 40):
        target.write_bytes(OLD)
        disk = replaced_with_fault(target, number, fault)
        content = target.read_bytes()
        assert content in (OLD, NEW), f"call {number}, {disk.calls[-1]}"
        outcomes.append(content)
        if fault not in ("killed", "power"):
            left = [name for name in os.listdir(tmp_path) if name != target.name]
            assert left == [] or disk.calls[number - 1] == "remove", f"call {number}, {disk.calls[number - 1]}"
        sweep(Disk(), target)
        assert os.listdir(tmp_path) == [target.name]
        if not disk.has_failed:
            break
    assert number == len(disk.calls) + 1, "the last run was clean"
    assert outcomes[0] == OLD
    assert outcomes[-1] == NEW


@pytest.mark.parametrize("is_new", [False, True])
def test_what_was_replaced_outlives_a_loss_of_power_right_after(tmp_path: Path, is_new: bool) -> None:
    target = tmp_path / "plan.toml"
    if not is_new:
        target.write_bytes(OLD)
    disk = FaultyDisk()
    replace_file(disk, target, NEW)
    disk.loses_power()
    assert target.read_bytes() == NEW


def test_without_syncing_a_loss_of_power_would_show(tmp_path: Path) -> None:
    """The disk that loses what was not synced does find a replacement that does not sync."""

    class Careless(FaultyDisk):
        def sync(self, handle: int) -> None:
            self.calls.append(f"sync of {handle} left out")

    target = tmp_path / "plan.toml"
    for number in range(1, 10):
        target.write_bytes(OLD)
        try:
            replace_file(Careless(number, "power"), target, NEW)
        except Died:
            if target.read_bytes() not in (OLD, NEW):
                return
    pytest.fail("nothing was ever lost")


def test_the_mode_is_kept_and_a_new_file_has_the_usual_one(tmp_path: Path) -> None:
    kept, new, usual = tmp_path / "kept", tmp_path / "new", tmp_path / "usual"
    kept.write_bytes(OLD)
    kept.chmod(0o640)
    usual.write_bytes(OLD)
    for target in (kept, new):
        replace_file(Disk(), target, NEW)
    assert kept.stat().st_mode & 0o777 == 0o640
    assert new.stat().st_mode == usual.stat().st_mode


def test_a_file_marked_as_read_only_is_left_alone(tmp_path: Path) -> None:
    target = tmp_path / "plan.toml"
    target.write_bytes(OLD)
    target.chmod(0o444)
    with pytest.raises(PermissionError):
        replace_file(Disk(), target, NEW)
    assert target.read_bytes() == OLD


def test_sweeping_takes_away_our_own_leftovers_of_that_file_alone(tmp_path: Path) -> None:
    target = tmp_path / "plan.toml"
    ours, of_others = tmp_path / ".plan.toml.0a1b2c3d.part", [".plan.toml.steps", ".plan2.toml.0a1b2c3d.part", "x.part"]
    for name in (ours.name, *of_others):
        (tmp_path / name).write_text("x", encoding="utf-8")
    sweep(Disk(), target)
    assert sorted(os.listdir(tmp_path)) == sorted(of_others)


def test_a_name_of_any_length_has_hidden_files_of_its_own(tmp_path: Path) -> None:
    long = [tmp_path / ("é" * 120 + sign + ".toml") for sign in "ab"]
    hidden = {hidden_path(path, ".steps").name for path in long}
    assert len(hidden) == 2
    for path in long:
        replace_file(Disk(), path, NEW)
        hidden_path(path, ".1234abcd.part").write_bytes(OLD)
        assert path.read_bytes() == NEW


def test_a_lock_has_one_holder_and_falls_free_with_him(tmp_path: Path) -> None:
    path, disk = tmp_path / ".plan.toml.lock", Disk()
    first = disk.lock(path)
    with pytest.raises(BlockingIOError):
        disk.lock(path)
    os.unlink(path)
    second = disk.lock(path)
    disk.close(first)
    with pytest.raises(BlockingIOError):
        disk.lock(path)
    disk.close(second)
    disk.close(disk.lock(path))


@pytest.mark.parametrize(
    ("number", "words"),
    [(28, "the disk is full"), (13, "you have no permission for it"), (5, "the disk reports a fault")],
)
def test_reasons_are_plain_words(number: int, words: str) -> None:
    assert why(OSError(number, os.strerror(number))) == words


def test_a_reason_without_words_of_ours_is_the_systems() -> None:
    assert why(OSError(24, "Too many open files")) == "too many open files"
    assert why(OSError("odd")) == "the disk refused"
