"""A sheet as files: one, or for CSV a folder with one for each curve."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from engine.assessment import Assessment
from engine.disk import Disk
from engine.findings import Outcome
from wizard.handover import curves, report
from wizard.keeping.side_file import write_out
from wizard.sheet_choice import Wanted


def files_of(
    assessment: Assessment, wanted: Wanted, on: date | None = None, market: Outcome[Any] | None = None
) -> Mapping[Path, str]:
    """What is written where.   on, market: as `wizard.handover.report` takes them."""
    if wanted.is_folder:
        return {wanted.target / f"{curve.name}.csv": curve.text for curve in curves(assessment, market)}
    return {wanted.target: report(assessment, wanted.form, on, market, wanted.sheet)}


def write_files(disk: Disk, wanted: Wanted, files: Mapping[Path, str]) -> None:
    """Write them, each whole or not at all; a folder is made when it is not there.

    Raises: OSError when one cannot be written.
    """
    if wanted.is_folder:
        disk.make_folder(wanted.target)
    for path, text in files.items():
        write_out(disk, path, text)
