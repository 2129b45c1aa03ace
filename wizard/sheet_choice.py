"""Which sheets there are, in which forms, and what their files are called. Light: the command line always loads it."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple


class Form(NamedTuple):
    """One way to write a sheet.   words: what it is good for.   ending: of the file."""

    words: str
    ending: str


FORMS: Mapping[str, Form] = {
    "text": Form("for any screen or printer", ".txt"),
    "html": Form("a page to print", ".html"),
    "markdown": Form("headings, tables", ".md"),
    "json": Form("in SI, for other programs", ".json"),
    "csv": Form("a folder of all curves", ""),
}
"""Form, as `wizard.handover.report` knows it -> what the owner reads about it."""

SHEETS: Mapping[str, str] = {
    "plan": "The whole plan",
    "propeller": "Propeller order",
    "engine": "Engine enquiry",
    "yard": "Yard sheet",
    "trial": "Trial card",
}
"""Sheet -> its title, the whole plan first."""


class Wanted(NamedTuple):
    """What the owner wants written, and where."""

    sheet: str
    form: str
    target: Path

    @property
    def is_folder(self) -> bool:
        """Whether the target is a folder of files."""
        return self.form == "csv"


def proposed(plan_path: Path, sheet: str, form: str) -> Path:
    """The file that is proposed for a sheet, or the folder of the curves: beside the plan, named after it."""
    return plan_path.with_name(f"{plan_path.stem}-{'curves' if form == 'csv' else sheet}{FORMS[form].ending}")


def is_of_a_plan(target: Path, plan_path: Path) -> bool:
    """Whether a file is that of the plan itself, by whatever name, or has the ending of plans: no sheet goes there."""
    try:
        is_the_plan = os.path.samefile(target, plan_path)
    except OSError:  # one of them is not there yet
        is_the_plan = False
    return is_the_plan or target.suffix.lower() == ".toml"
