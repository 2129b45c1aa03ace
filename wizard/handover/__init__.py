"""The sheets that leave the boat, as text, Markdown, HTML, JSON or CSV."""

from datetime import date
from typing import Any

from engine.assessment import Assessment
from engine.findings import Outcome
from wizard.handover.check import checked
from wizard.handover.csvform import curves, render_csv
from wizard.handover.document import plan_document
from wizard.handover.html import render_html
from wizard.handover.jsonform import render_json, sheet_json
from wizard.handover.markdown import render_markdown
from wizard.handover.sheet import sheet_document
from wizard.handover.sheets import order_sheet
from wizard.handover.text import render_text
from wizard.sheet_choice import FORMS, SHEETS

__all__ = ["FORMS", "SHEETS", "checked", "curves", "report"]


def report(
    assessment: Assessment,
    form: str,
    on: date | None = None,
    market: Outcome[Any] | None = None,
    sheet: str = "plan",
) -> str:
    """One sheet of a plan.

    form: one of FORMS; CSV is of the whole plan.   on: the date printed on it; JSON and CSV have none.
    market: what `search_market` came to, for the sheet of the whole plan; None leaves it out.
    sheet: one of SHEETS.   Raises: KeyError for another form or sheet, and for CSV of an order sheet.
    """
    if form == "csv":
        if sheet != "plan":
            raise KeyError(sheet)
        return render_csv(assessment, market)
    if form == "json":
        return render_json(assessment, market) if sheet == "plan" else sheet_json(order_sheet(sheet, assessment))
    renderers = {"text": render_text, "markdown": render_markdown, "html": render_html}
    render = renderers[form]
    if sheet == "plan":
        return render(plan_document(assessment, on, market))
    return render(sheet_document(order_sheet(sheet, assessment), on))
