"""What could not be put into the file of a plan, kept elsewhere until the owner decides."""

import contextlib
import os
from dataclasses import dataclass
from pathlib import Path

from engine.disk import Disk, hidden_path, mark_of, replace_file
from engine.plan import Plan
from engine.planfile import PlanFileError, content_of, plan_from_text, read_plan_file
from wizard.history import changes

UNSAVED = ".unsaved"


@dataclass(frozen=True)
class Other:
    """Another version of an open plan.   plan: None when it cannot be read as one, then `trouble` says why."""

    path: Path
    content: bytes
    plan: Plan | None
    trouble: str = ""


def places(plan_path: Path, spare_folder: Path) -> list[Path]:
    """Where what could not be saved is put: beside the plan, else in the folder of plans under a name of its own."""
    beside = hidden_path(plan_path, UNSAVED)
    if plan_path.parent == spare_folder:
        return [beside]
    mark = mark_of(os.fsencode(plan_path))
    return [beside, hidden_path(spare_folder / plan_path.name, f".{mark}{UNSAVED}")]


def keep_unsaved(disk: Disk, plan: Plan, plan_path: Path, spare_folder: Path) -> Path | None:
    """Keep a plan that could not be saved. Returns: where; None when it could be kept nowhere."""
    for place in places(plan_path, spare_folder):
        with contextlib.suppress(OSError):
            disk.make_folder(place.parent)
            replace_file(disk, place, content_of(plan))
            return place
    return None


def find_unsaved(disk: Disk, plan: Plan, plan_path: Path, spare_folder: Path) -> Other | None:
    """What could not be saved the last time and differs from the plan as it is in its file; of two versions the newer.

    What does not differ is taken away; what cannot be read is left.
    """
    for place in sorted(places(plan_path, spare_folder), key=lambda place: _changed(disk, place), reverse=True):
        try:
            content = read_plan_file(place, disk)
            found = plan_from_text(content, place.name)
        except PlanFileError:
            continue
        if not changes(plan, found).is_empty:
            return Other(place, content, found)
        with contextlib.suppress(OSError):
            disk.remove(place)
    return None


def _changed(disk: Disk, place: Path) -> float:
    """When a file was changed last [s since 1970]; 0 where there is none."""
    with contextlib.suppress(OSError):
        return disk.look(place).changed
    return 0.0


def forget_unsaved(disk: Disk, plan_path: Path, spare_folder: Path) -> None:
    """Take away what was kept, once it is in the file or the owner has decided."""
    for place in places(plan_path, spare_folder):
        with contextlib.suppress(OSError):
            disk.remove(place)
