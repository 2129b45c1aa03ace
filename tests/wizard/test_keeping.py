"""The file of an open plan: whatever fails, the old plan or the new one is there, and the owner is told."""

import os
from pathlib import Path

import pytest

from engine.disk import Disk
from engine.migrations import FORMAT
from engine.plan import text_at
from engine.planfile import PlanFileError, content_of, load_plan
from tests.faulty_disk import FAULTS, Died, FaultyDisk
from tests.wizard.kept import Clock, opened_at, tank_in, with_tank
from wizard.history import History
from wizard.keeping.earlier import versions
from wizard.keeping.keeper import Keeper, open_kept
from wizard.keeping.unsaved import UNSAVED, keep_unsaved

# faults

TANKS = ("", "300 L", "310 L")


def session(path: Path, disk: Disk, done: list[str], told: list[str]) -> Keeper | None:
    """Open, change three times, close. done: what was reported as saved.   told: every sentence."""
    keeper = None
    try:
        opened = open_kept(path, path.parent / "spare", disk, Clock())
        keeper = opened.keeper
        told += opened.told
        if opened.keeper.held_by:
            return keeper
        for text in TANKS[1:]:
            saved = keeper.save(with_tank(opened.plan, text), History())
            told += saved.told
            if saved.is_done:
                done.append(text)
        keeper.close()
    except PlanFileError as error:
        told.append(str(error))
    return keeper


@pytest.mark.parametrize("fault", FAULTS)
def test_whichever_disk_call_fails_nothing_is_lost_and_the_owner_is_told(range_path: Path, fault: str) -> None:
    original = range_path.read_bytes()
    for number in range(1, 200):
        for path in sorted(range_path.parent.rglob("*"), reverse=True):
            path.rmdir() if path.is_dir() else path.unlink()
        range_path.write_bytes(original)
        disk, done, told = FaultyDisk(number, fault), [], []
        keeper = None
        try:
            keeper = session(range_path, disk, done, told)
        except Died:
            assert disk.has_failed
        disk.let_go()
        if not disk.has_failed:
            break
        where = f"call {number}, {disk.calls[number - 1]}"
        found = tank_in(range_path)
        assert found in TANKS, where
        assert TANKS.index(found) >= (TANKS.index(done[-1]) if done else 0), f"{where}: less than was said to be saved"
        if fault in ("killed", "power"):
            again = opened_at(range_path, spare=range_path.parent / "spare")
            assert again.keeper.lock is not None, f"{where}: the lock of a dead process is free"
            again.keeper.close()
            assert not list(range_path.parent.rglob("*.part")), where
        elif done != list(TANKS[1:]):
            assert any(sentence.endswith(".") and "Errno" not in sentence for sentence in told), where
            if keeper is not None and not keeper.held_by:
                assert keeper.save(with_tank(load_plan(range_path), "330 L"), History()).is_done, f"{where}: goes on"
                assert tank_in(range_path) == "330 L"
                keeper.close()
    assert number > 40, "a whole session has many calls"
    assert done == list(TANKS[1:])
    assert told == []


# two windows


def test_a_second_window_can_only_read_and_says_who_has_the_plan(range_path: Path) -> None:
    first = opened_at(range_path)
    second = opened_at(range_path)
    assert first.keeper.held_by == ""
    assert f"process {os.getpid()}" in second.keeper.held_by
    assert "since 12 May 12:00" in second.keeper.held_by
    first.keeper.close()
    third = opened_at(range_path)
    assert third.keeper.held_by == ""
    assert third.told == ()
    third.keeper.close()


def test_a_window_that_can_only_read_is_neither_asked_about_unsaved_work_nor_given_steps_back(range_path: Path) -> None:
    first = opened_at(range_path)
    plan = with_tank(first.plan, "300 L")
    assert first.keeper.save(plan, History().recorded(first.plan, plan, "range.tank")).is_done
    keep_unsaved(Disk(), with_tank(plan, "310 L"), first.keeper.path, first.keeper.spare_folder)
    second = opened_at(range_path)
    assert second.keeper.held_by
    assert (second.unsaved, second.history) == (None, History())
    first.keeper.close()
    third = opened_at(range_path)
    assert third.unsaved is not None
    assert third.history != History()
    third.keeper.close()


def test_through_a_link_it_is_the_same_plan(range_path: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(range_path)
    first = opened_at(link)
    assert "Open in another window" in opened_at(range_path).keeper.held_by
    assert first.keeper.save(with_tank(first.plan, "300 L"), History()).is_done
    assert link.is_symlink()
    assert tank_in(range_path) == "300 L"
    first.keeper.close()


def test_a_link_that_comes_into_the_place_of_an_open_plan_is_written_through(range_path: Path, tmp_path: Path) -> None:
    """The plan was moved to a folder that is kept in step elsewhere: the next save replaced the link."""
    first = opened_at(range_path)
    moved = tmp_path / "elsewhere" / "moved.toml"
    moved.parent.mkdir()
    range_path.rename(moved)
    range_path.symlink_to(moved)
    plan = with_tank(first.plan, "300 L")
    assert first.keeper.save(plan, History().recorded(first.plan, plan, "range.tank")).is_done
    first.keeper.close()
    assert range_path.is_symlink()
    assert tank_in(moved) == "300 L"
    assert len(opened_at(range_path).history.steps) == 1, "what can be taken back is where the plan is"


def test_a_link_that_leads_nowhere_is_written_through_too(range_path: Path, tmp_path: Path) -> None:
    first = opened_at(range_path)
    range_path.unlink()
    range_path.symlink_to(tmp_path / "moved.toml")
    assert first.keeper.save(with_tank(first.plan, "300 L"), History()).is_done
    assert range_path.is_symlink()
    assert tank_in(tmp_path / "moved.toml") == "300 L"


def test_the_lock_of_a_dead_window_is_taken_over_with_a_word(range_path: Path) -> None:
    disk = FaultyDisk()
    dead = opened_at(range_path, disk)
    assert dead.keeper.lock is not None
    disk.let_go()  # as the system does for a process that was killed
    after = opened_at(range_path)
    assert after.keeper.held_by == ""
    assert "was not closed in the usual way" in after.told[0]
    after.keeper.close()
    assert opened_at(range_path).told == ()


def test_a_plan_that_goes_away_while_it_is_opened_leaves_no_lock_behind(range_path: Path) -> None:
    class Going(Disk):
        """A disk from which the plan is taken away at the moment the lock is taken."""

        def lock(self, path: Path) -> int:
            range_path.rename(range_path.with_suffix(".away"))
            return super().lock(path)

    with pytest.raises(PlanFileError, match="There is no plan"):
        opened_at(range_path, Going())
    range_path.with_suffix(".away").rename(range_path)
    opened = opened_at(range_path)
    assert opened.keeper.lock is not None
    opened.keeper.close()


@pytest.mark.parametrize("content", [b"", b"\xff", b"process = 1", b"since = 3\nprocess = 1\ncomputer = 2"])
def test_a_lock_file_of_any_content_does_no_harm(range_path: Path, content: bytes) -> None:
    (range_path.parent / f".{range_path.name}.lock").write_bytes(content)
    opened = opened_at(range_path)
    assert opened.keeper.lock is not None
    assert "Open in another window" in opened_at(range_path).keeper.held_by
    opened.keeper.close()


def test_a_file_marked_read_only_can_be_read_and_is_not_changed(range_path: Path) -> None:
    range_path.chmod(0o444)
    opened = opened_at(range_path)
    assert "marked as read-only" in opened.keeper.held_by
    assert [path.name for path in range_path.parent.iterdir()] == [range_path.name]


def test_in_a_folder_where_nothing_can_be_written_a_plan_can_only_be_read(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.access", lambda path, mode: not (Path(path) == range_path.parent and mode == os.W_OK))
    opened = opened_at(range_path)
    assert opened.keeper.held_by == (
        f"Nothing can be written in {range_path.parent}: the plan can only be read. To change it, copy it first."
    )
    assert [path.name for path in range_path.parent.iterdir()] == [range_path.name]


# changes by other programs


def change_outside(path: Path, span: str = "3 ft") -> bytes:
    content = path.read_bytes() + f'\n[shaft]\nspan = "{span}"\n'.encode()
    path.write_bytes(content)
    return content


def test_a_change_by_another_program_is_not_overwritten_and_ours_is_kept_beside(range_path: Path) -> None:
    opened = opened_at(range_path)
    theirs = change_outside(range_path)
    saved = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert not saved.is_done
    assert saved.other is not None
    assert saved.other.content == theirs == range_path.read_bytes()
    assert text_at(saved.other.plan, "shaft.span") == "3 ft"  # type: ignore[arg-type]
    opened.keeper.close()
    again = opened_at(range_path)
    assert again.unsaved is not None
    assert text_at(again.unsaved.plan, "range.tank") == "300 L"  # type: ignore[arg-type]
    again.keeper.close()


def test_once_the_owner_has_decided_ours_is_saved_and_theirs_is_among_the_earlier_ones(range_path: Path) -> None:
    opened = opened_at(range_path)
    theirs = change_outside(range_path)
    plan = with_tank(opened.plan, "300 L")
    other = opened.keeper.save(plan, History()).other
    assert other is not None
    assert opened.keeper.keep_other(other)
    opened.keeper.decided(other)
    assert opened.keeper.save(plan, History()).is_done
    assert theirs in [version.path.read_bytes() for version in versions(Disk(), range_path)]
    opened.keeper.close()
    assert opened_at(range_path).unsaved is None


def test_a_change_of_nothing_but_layout_is_taken_without_a_question(range_path: Path) -> None:
    opened = opened_at(range_path)
    range_path.write_text("# by hand\n" + range_path.read_text(encoding="utf-8").replace('"range"', '"hull"'))
    assert opened.keeper.save(with_tank(opened.plan, "300 L"), History()).is_done
    assert range_path.read_text(encoding="utf-8").startswith(f"# by hand\nformat = {FORMAT}\n")
    opened.keeper.close()


@pytest.mark.parametrize("content", [b"format = 99\n", b"junk [", b"\xff\xfe"])
def test_what_is_no_plan_any_more_is_not_overwritten_either(range_path: Path, content: bytes) -> None:
    opened = opened_at(range_path)
    range_path.write_bytes(content)
    saved = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert saved.other is not None
    assert saved.other.plan is None
    assert saved.other.trouble
    assert range_path.read_bytes() == content
    opened.keeper.close()


def test_a_file_that_is_mended_while_the_question_about_it_stands_is_asked_about_anew(range_path: Path) -> None:
    opened = opened_at(range_path)
    range_path.write_bytes(b"half a pl")
    first = opened.keeper.save(with_tank(opened.plan, "300 L"), History()).other
    assert first is not None
    theirs = with_tank(opened.plan, "900 L")
    range_path.write_bytes(content_of(theirs))
    opened.keeper.decided(first)
    second = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert second.told == ()
    assert second.other is not None
    assert second.other.plan == theirs
    opened.keeper.decided(second.other)
    assert opened.keeper.save(with_tank(opened.plan, "300 L"), History()).is_done


@pytest.mark.parametrize("is_empty", [False, True])
def test_a_file_that_is_gone_or_empty_is_written_anew_with_a_word(range_path: Path, is_empty: bool) -> None:
    range_path.write_bytes(b"# as the yard has it\n" + range_path.read_bytes())
    opened = opened_at(range_path)
    range_path.write_bytes(b"") if is_empty else range_path.unlink()
    assert opened.keeper.other_version() is None, "a look between the changes"
    saved = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert saved.is_done
    assert "written anew" in saved.told[0]
    assert opened.keeper.save(with_tank(opened.plan, "310 L"), History()).told == ()
    assert tank_in(range_path) == "310 L"
    assert range_path.read_text(encoding="utf-8").startswith("# as the yard has it")
    opened.keeper.close()


# what could not be saved


def test_what_cannot_be_saved_is_kept_in_the_folder_of_plans_when_nothing_else_can_be_written(
    range_path: Path, tmp_path: Path
) -> None:
    class Stick(Disk):
        """A disk on which the plan's own folder can only be read."""

        def create(self, path: Path) -> int:
            if path.parent == range_path.parent:
                raise PermissionError(30, "Read-only file system")
            return super().create(path)

    spare = tmp_path / "spare"
    opened = opened_at(range_path, Stick(), spare)
    saved = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert not saved.is_done
    assert "that disk can only be read" in saved.told[0]
    assert str(spare) in saved.told[0]
    opened.keeper.close()
    namesake = tmp_path / range_path.name
    namesake.write_bytes(range_path.read_bytes())
    assert opened_at(namesake, spare=spare).unsaved is None, "it belongs to another plan of that name"
    again = opened_at(range_path, spare=spare)
    assert again.unsaved is not None
    assert again.keeper.save(with_tank(again.plan, "310 L"), History()).is_done
    again.keeper.close()
    assert opened_at(range_path, spare=spare).unsaved is None


@pytest.mark.parametrize(
    ("at_fault", "part"),
    [
        (("keeper",), "kept in"),
        (("keeper", "unsaved"), "Leave this window open"),
    ],
)
def test_a_fault_of_the_program_in_saving_is_told_and_saving_goes_on(
    range_path: Path, monkeypatch: pytest.MonkeyPatch, at_fault: tuple[str, ...], part: str
) -> None:
    opened, before = opened_at(range_path), range_path.read_bytes()
    plan = with_tank(opened.plan, "300 L")
    with monkeypatch.context() as faulty:
        for module in at_fault:
            faulty.setattr(f"wizard.keeping.{module}.content_of", lambda *_: "".join(3))
        saved = opened.keeper.save(plan, History())
    assert not saved.is_done
    assert "a fault of the program: TypeError" in saved.told[0]
    assert part in saved.told[0]
    assert range_path.read_bytes() == before
    assert opened.keeper.save(plan, History()).is_done
    assert tank_in(range_path) == "300 L"
    opened.keeper.close()


def test_of_two_versions_that_could_not_be_saved_the_newer_is_offered(range_path: Path, tmp_path: Path) -> None:
    class Closing(Disk):
        """A disk on which at first the plan alone cannot be written, and later nothing in its folder."""

        is_closed = False

        def create(self, path: Path) -> int:
            if path.parent == range_path.parent and (self.is_closed or UNSAVED not in path.name):
                raise PermissionError(30, "Read-only file system")
            return super().create(path)

    disk, spare = Closing(), tmp_path / "spare"
    opened = opened_at(range_path, disk, spare)
    opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    beside = range_path.with_name(f".{range_path.name}{UNSAVED}")
    os.utime(beside, (0, 0))
    disk.is_closed = True
    opened.keeper.save(with_tank(opened.plan, "310 L"), History())
    opened.keeper.close()
    again = opened_at(range_path, spare=spare).unsaved
    assert again is not None
    assert again.plan is not None
    assert text_at(again.plan, "range.tank") == "310 L"


def test_what_does_not_differ_is_not_offered(range_path: Path) -> None:
    beside = range_path.parent / f".{range_path.name}.unsaved"
    beside.write_bytes(range_path.read_bytes().replace(b'"range"', b'"hull"'))
    opened = opened_at(range_path)
    assert opened.unsaved is None
    assert not beside.exists()
    opened.keeper.close()


def test_what_cannot_be_read_is_not_thrown_away(range_path: Path) -> None:
    beside = range_path.parent / f".{range_path.name}.unsaved"
    beside.write_bytes(b"format = 99\n")
    opened = opened_at(range_path)
    assert opened.unsaved is None
    assert beside.exists()
    opened.keeper.close()
