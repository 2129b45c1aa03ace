"""Earlier versions of a plan: what its file held before it was changed, some from today and some from days before."""

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from engine.disk import Disk, hidden_path, replace_file, sweep

FOLDER = ".earlier"
"""Beside the plans."""
APART = timedelta(minutes=10)
"""At least this long passes between two versions that are kept; ours."""
LATEST, DAYS = 6, 6
"""So many of the latest versions are kept, and of so many days before them the last of each; ours."""
_STAMP = "%Y%m%d-%H%M%S"


@dataclass(frozen=True)
class Version:
    """A kept version.   since: when the plan had become so."""

    path: Path
    since: datetime


def versions(disk: Disk, plan_path: Path) -> list[Version]:
    """The kept versions of a plan, the latest first; none where they cannot be read."""
    first = _first(plan_path)
    found = []
    with contextlib.suppress(OSError):
        for name in disk.names(plan_path.parent / FOLDER):
            with contextlib.suppress(ValueError):
                if name.startswith(first) and name.endswith(".toml"):
                    since = datetime.strptime(name.removeprefix(first).removesuffix(".toml"), _STAMP)
                    found.append(Version(plan_path.parent / FOLDER / name, since))
    return sorted(found, key=lambda version: version.since, reverse=True)


def keep_version(disk: Disk, plan_path: Path, content: bytes, since: datetime) -> None:
    """Keep a content of the file of a plan, and let go of versions that are no longer worth their place.

    Raises: OSError when it cannot be kept.
    """
    disk.make_folder(plan_path.parent / FOLDER)
    taken = {version.since for version in versions(disk, plan_path)}
    since = since.replace(microsecond=0)
    while since in taken:
        since += timedelta(seconds=1)
    replace_file(disk, _path_of(plan_path, since), content)
    kept = versions(disk, plan_path)
    wanted = {since, *worth_keeping([version.since for version in kept])}  # also where the clock has been set back
    for version in kept:
        if version.since not in wanted:
            disk.remove(version.path)


def sweep_versions(disk: Disk, plan_path: Path) -> None:
    """Take away what keeping versions that was cut short has left."""
    with contextlib.suppress(OSError):
        for name in disk.names(plan_path.parent / FOLDER):
            stamp = name.removeprefix(f".{_first(plan_path)}").partition(".toml.")[0]
            with contextlib.suppress(ValueError):
                sweep(disk, _path_of(plan_path, datetime.strptime(stamp, _STAMP)))


def _first(plan_path: Path) -> str:
    """How the names of the versions of a plan begin."""
    return f"{hidden_path(plan_path, '').name[1:]}."


def _path_of(plan_path: Path, since: datetime) -> Path:
    return plan_path.parent / FOLDER / f"{_first(plan_path)}{since.strftime(_STAMP)}.toml"


def worth_keeping(times: Sequence[datetime]) -> set[datetime]:
    """Which versions stay: the latest, and the last of each day before them."""
    newest_first = sorted(times, reverse=True)
    last_of_days = {time.date(): time for time in sorted(newest_first[LATEST:])}
    return {*newest_first[:LATEST], *sorted(last_of_days.values(), reverse=True)[:DAYS]}


def changed_at(disk: Disk, path: Path) -> datetime:
    """When a file was changed last; the beginning of 1970 for a time that no calendar has, as a damaged disk or archive
    may say.

    Raises: OSError when it cannot be looked at.
    """
    changed = disk.look(path).changed
    try:
        return datetime.fromtimestamp(changed)
    except (OSError, OverflowError, ValueError):
        return datetime.fromtimestamp(0)


def is_kept(disk: Disk, plan_path: Path, content: bytes) -> bool:
    """Whether the latest version of a plan is this content."""
    latest = versions(disk, plan_path)[:1]
    with contextlib.suppress(OSError):
        return bool(latest) and disk.read(latest[0].path) == content
    return False
