"""The whole plan as a browser sets it on paper: nothing is cut off at the edge, and numbers stay on one row."""

import json
import re
from datetime import date
from html import unescape
from pathlib import Path

import pytest

from engine import assess, load_plan
from engine.assessment import search_market
from tests.conftest import ROOT
from tests.wizard.browser import run_browser
from wizard.handover import report

WIDTHS = {"A4": "174mm", "Letter": "179mm"}
"""Of the paper between its margins."""
LOOK = """<script>
const rows = (cell) => {
  const range = document.createRange();
  range.selectNodeContents(cell);
  return new Set([...range.getClientRects()].map((at) => Math.round(at.top))).size;
};
const edge = document.body.getBoundingClientRect().right + 1;
const told = (found) => [...found].map((each) => each.textContent.slice(0, 60));
const all = [...document.body.querySelectorAll("*")];
const seen = {
  cut: told(all.filter((each) => each.getBoundingClientRect().right > edge)),
  broken: told([...document.querySelectorAll(".grid td + td:not(.words)")].filter((each) => rows(each) > 1)),
};
document.title = JSON.stringify(seen);
</script>"""


@pytest.mark.parametrize("paper", list(WIDTHS))
@pytest.mark.parametrize("name", ["bittern", "two-sisters", "dunlin"])
def test_the_whole_plan_keeps_to_its_paper(name: str, paper: str, tmp_path: Path) -> None:
    assessment = assess(load_plan(ROOT / "saved_plans" / f"{name}.toml"))
    html = report(assessment, "html", date(2026, 11, 27), search_market(assessment))
    printed = html.replace("@media print", "@media all")
    assert printed != html
    narrow = f"<style>body {{ width: {WIDTHS[paper]} !important; padding: 0 !important; }}</style></head>"
    page = tmp_path / "plan.html"
    page.write_text(printed.replace("</head>", narrow).replace("</body>", f"{LOOK}</body>"), encoding="utf-8")
    run = run_browser(page, "--dump-dom")
    title = re.search(r"<title>(\{.*?\})</title>", run.stdout.decode(errors="replace"), re.DOTALL)
    assert title, run.stderr.decode(errors="replace")
    seen = json.loads(unescape(title[1]))
    assert seen["cut"] == []
    assert seen["broken"] == []


def test_nothing_that_leads_on_is_left_at_the_foot_of_a_page() -> None:
    """Headings, and the title of a table, which a browser else leaves there alone."""
    assessment = assess(load_plan(ROOT / "saved_plans" / "bittern.toml"))
    style = report(assessment, "html").partition("<style>")[2].partition("</style>")[0]
    for leads_on in ("h2", "h3", "caption"):
        assert re.search(rf"^{leads_on} {{[^}}]*break-after: avoid", style, re.MULTILINE), leads_on
