"""The sheets that leave the boat: the report of a plan as text, Markdown, HTML or JSON."""

from datetime import date
from typing import Any

from engine.assessment import Assessment
from engine.findings import Outcome
from wizard.handover.check import checked
from wizard.handover.document import plan_document
from wizard.handover.html import render_html
from wizard.handover.jsonform import render_json
from wizard.handover.markdown import render_markdown
from wizard.handover.text import render_text

__all__ = ["checked", "report"]


def report(assessment: Assessment, form: str, on: date | None = None, market: Outcome[Any] | None = None) -> str:
    """The report of a plan.

    form: "text", "markdown", "html" or "json".   on: the date printed on it; the JSON has none.
    market: what `search_market` came to; None leaves it out.
    """
    if form == "json":
        return render_json(assessment, market)
    renderers = {"text": render_text, "markdown": render_markdown, "html": render_html}
    return renderers[form](plan_document(assessment, on, market))
