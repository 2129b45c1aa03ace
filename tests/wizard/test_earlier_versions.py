"""Earlier versions of a plan: which are kept, and for how long."""

import os
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from engine.disk import Disk, Look
from engine.plan import Plan
from engine.planfile import save_plan
from tests.wizard.kept import NOON, Clock, opened_at, tank_in, with_tank
from wizard.history import History
from wizard.keeping.earlier import FOLDER, keep_version, versions, worth_keeping


class DiskOfAnotherAge(Disk):
    """A disk whose files were changed last in a year that no calendar has."""

    def look(self, path: Path) -> Look:
        return replace(super().look(path), changed=1e12)


def test_the_first_change_keeps_the_plan_as_it_was_and_so_does_every_tenth_minute(range_path: Path) -> None:
    original, clock = range_path.read_bytes(), Clock()
    os.utime(range_path, (NOON.timestamp() - 3600, NOON.timestamp() - 3600))
    opened = opened_at(range_path, now=clock)
    for minutes, litres in enumerate(range(300, 325)):
        clock.time = NOON + timedelta(minutes=minutes)
        assert opened.keeper.save(with_tank(opened.plan, f"{litres} L"), History()).is_done
        os.utime(range_path, (clock.time.timestamp(), clock.time.timestamp()))
    kept = versions(Disk(), range_path)
    assert kept[-1].since == NOON - timedelta(hours=1)
    assert kept[-1].path.read_bytes() == original
    assert sorted(tank_in(version.path) for version in kept) == ["", "309 L", "319 L"]
    opened.keeper.close()


def test_a_clock_that_is_set_back_does_not_end_the_keeping_of_versions(range_path: Path) -> None:
    clock = Clock()
    opened = opened_at(range_path, now=clock)
    for hours, litres in ((0, 300), (-2, 301), (-5, 302)):
        clock.time = NOON + timedelta(hours=hours)
        assert opened.keeper.save(with_tank(opened.plan, f"{litres} L"), History()).is_done
    assert sorted(tank_in(version.path) for version in versions(Disk(), range_path)) == ["", "300 L", "301 L"]
    opened.keeper.close()


def test_with_a_clock_that_is_set_back_far_the_version_just_kept_stays(range_path: Path) -> None:
    """A computer without a clock of its own begins in the past, and the other of two versions was gone at once."""
    for days in range(20):
        keep_version(Disk(), range_path, b"%d" % days, NOON - timedelta(days=days))
    keep_version(Disk(), range_path, b"theirs", NOON - timedelta(days=9000))
    assert versions(Disk(), range_path)[-1].path.read_bytes() == b"theirs"


def test_a_time_that_no_calendar_has_does_not_keep_a_plan_from_being_saved(range_path: Path) -> None:
    opened = opened_at(range_path, DiskOfAnotherAge())
    saved = opened.keeper.save(with_tank(opened.plan, "300 L"), History())
    assert (saved.is_done, saved.told) == (True, ())
    assert tank_in(range_path) == "300 L"
    assert [tank_in(version.path) for version in versions(Disk(), range_path)] == [""]
    opened.keeper.close()


def test_what_is_the_latest_version_already_is_not_kept_twice(range_path: Path) -> None:
    keep_version(Disk(), range_path, range_path.read_bytes(), NOON)
    opened = opened_at(range_path)
    assert opened.keeper.save(with_tank(opened.plan, "300 L"), History()).is_done
    assert [version.since for version in versions(Disk(), range_path)] == [NOON]
    opened.keeper.close()


def test_two_versions_of_one_second_are_both_kept(range_path: Path) -> None:
    for content in (b"one", b"two", b"three"):
        keep_version(Disk(), range_path, content, NOON)
    found = [(version.since, version.path.read_bytes()) for version in versions(Disk(), range_path)]
    assert found == [(NOON + timedelta(seconds=2), b"three"), (NOON + timedelta(seconds=1), b"two"), (NOON, b"one")]


def test_an_opened_plan_that_is_not_changed_keeps_nothing(range_path: Path) -> None:
    opened_at(range_path).keeper.close()
    assert [path.name for path in range_path.parent.iterdir()] == [range_path.name]


def test_the_latest_versions_stay_and_one_of_each_day_before(tmp_path: Path) -> None:
    times = [NOON + timedelta(days=day, minutes=10 * step) for day in range(10) for step in range(9)]
    kept = sorted(worth_keeping(times), reverse=True)
    assert kept[:6] == sorted(times, reverse=True)[:6]
    rest = kept[6:]
    assert [time.date() for time in rest] == [(NOON + timedelta(days=day)).date() for day in range(9, 3, -1)]
    assert all(time == max(t for t in times if t.date() == time.date() and t not in kept[:6]) for time in rest)
    path = tmp_path / "plan.toml"
    save_plan(Plan(), path)
    for time in times:
        keep_version(Disk(), path, b"x", time)
    assert [version.since for version in versions(Disk(), path)] == kept
    assert len(list((tmp_path / FOLDER).iterdir())) == len(kept)


def test_versions_of_plans_with_like_names_are_kept_apart(tmp_path: Path) -> None:
    for name in ("a.toml", "a.toml.toml", "a", "b.toml"):
        keep_version(Disk(), tmp_path / name, name.encode(), NOON)
    (tmp_path / FOLDER / "a.toml.notes.toml").write_bytes(b"x")
    for name in ("a.toml", "a.toml.toml", "a", "b.toml"):
        assert [version.path.read_bytes() for version in versions(Disk(), tmp_path / name)] == [name.encode()]
