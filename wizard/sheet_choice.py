"""Which sheets there are, in which forms, and what their files are called."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from engine.assessment import Assessment
    from engine.findings import Outcome


@dataclass(frozen=True)
class Form:
    """One way to write a sheet.   words: what it is good for.   ending: of the file."""

    words: str
    ending: str


FORMS: Mapping[str, Form] = {
    "text": Form("for any screen or printer", ".txt"),
    "html": Form("a page to print", ".html"),
    "markdown": Form("headings, tables", ".md"),
    "json": Form("in SI, for other programs", ".json"),
}
"""Form, as `wizard.handover.report` knows it -> what the owner reads about it."""


@dataclass(frozen=True)
class Wanted:
    """What the owner wants written, and where."""

    sheet: str
    form: str
    target: Path


def sheets() -> Mapping[str, str]:
    """Sheet -> its title, the whole plan first."""
    return {"plan": "The whole plan"}


def sheet_text(
    assessment: "Assessment", wanted: Wanted, on: date | None = None, market: "Outcome[Any] | None" = None
) -> str:
    """What is written to the file."""
    from wizard.handover import report

    return report(assessment, wanted.form, on, market)


def proposed(plan_path: Path, sheet: str, form: str) -> Path:
    """The file that is proposed for a sheet: beside the plan, named after it."""
    return plan_path.with_name(f"{plan_path.stem}-{sheet}{FORMS[form].ending}")
