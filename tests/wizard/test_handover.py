"""The report in its four forms."""

import json
import re
from dataclasses import replace
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from engine import assess, load_plan
from engine.assessment import Assessment, search_market
from engine.plan import STAGES, Plan, Variant, with_row, with_text
from engine.sections.voyage import TANK_SHAPES
from tests.wizard.fakes import fake_assessment, made_up_market
from wizard.handover import report
from wizard.handover.blocks import Document, Grid, Heading
from wizard.handover.check import problems_of
from wizard.handover.document import plan_document
from wizard.handover.text import render_text
from wizard.measures import measures

BOAT = with_text(Plan(), "hull.waterline_length", "31 ft 6 in").hull
FORMS = ("text", "markdown", "html", "json")
UNIT_ENDINGS = ("_m", "_kg", "_kw", "_kn", "_rpm", "_l_per_h", "_nmi", "_m2", "_m3", "_n", "_nm", "_deg", "_h", "_l")
FLOWS_AND_SO_ON = ("_m3_per_min", "_l_per_min", "_kpa", "_a")


@pytest.fixture(scope="module", params=["bittern", "mirabel", "two-sisters", "dunlin"])
def assessment(request: pytest.FixtureRequest, root: Path) -> Assessment:
    return assess(load_plan(root / "saved_plans" / f"{request.param}.toml"))


class Balance(HTMLParser):
    """Notes what is opened and not closed, and anything that would be fetched or run."""

    VOID = frozenset({"meta", "br", "hr"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.texts: list[str] = []
        self.forbidden: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in self.VOID:
            self.open.append(tag)
        if tag in ("script", "link", "img", "iframe") or any(name in ("src", "href") for name, _ in attrs):
            self.forbidden.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.texts.append(data)


def test_text_stays_under_78_columns(assessment: Assessment) -> None:
    assert max(len(line) for line in report(assessment, "text").splitlines()) < 78


def test_no_heading_stands_over_nothing(assessment: Assessment) -> None:
    """A plan without a trial had "Given" there, with nothing below it."""
    blocks = list(plan_document(assessment, date(2026, 5, 3)).blocks)
    over_nothing = [
        block.text
        for block, following in zip(blocks, [*blocks[1:], Heading(1, "end")], strict=True)
        if isinstance(block, Heading) and isinstance(following, Heading) and following.level <= block.level
    ]
    assert over_nothing == []


def test_html_is_balanced_and_fetches_nothing(assessment: Assessment) -> None:
    page = Balance()
    page.feed(report(assessment, "html"))
    assert page.open == []
    assert page.forbidden == []


def test_json_has_the_documented_keys(assessment: Assessment) -> None:
    document = json.loads(report(assessment, "json"))
    assert set(document) == {"plan", "stages", "market"}
    assert document["market"] is None, "it was not searched"
    assert tuple(document["stages"]) == STAGES
    # The names that other programs rely on.
    assert {"hull", "speed", "power", "engine", "gear", "propeller", "shaft", "range"} <= set(document["stages"])
    for stage in document["stages"].values():
        assert {"answers", "findings"} <= set(stage)
        for finding in stage["findings"]:
            assert finding["verdict"] in ("fits", "look again", "stop")
            assert finding["source"]


def test_json_has_a_number_that_json_has_none_for_as_a_word(launch: Plan) -> None:
    plan = replace(launch, unread={"speed.top": float("nan")}, extra={"": {"odd": [float("-inf")]}})
    written = json.loads(report(assess(plan), "json"))["plan"]
    assert written["speed"]["top"] == "nan"
    assert written["odd"] == ["-inf"]


def test_the_power_curve_of_the_json_is_a_list_of_rows(assessment: Assessment) -> None:
    curve = json.loads(report(assessment, "json"))["stages"]["power"]["answers"]["curve"]
    assert len(curve) > 10
    for row in curve:  # the names that other programs rely on
        assert {"speed_kn", "resistance_n", "effective_power_kw", "shaft_power_kw", "methods"} <= set(row)
        knots = row["speed_kn"] * 1852 / 3600
        power, resistance = (row[name] for name in ("effective_power_kw", "resistance_n"))
        for part in ("best", "low", "high"):
            assert power[part] == pytest.approx(resistance[part] * knots / 1e3, rel=1e-9)
        assert power["low"] <= power["best"] <= power["high"]
        assert row["methods"]["Delft 1998"] > 0.0


def numbers(value: Any, path: str = "") -> list[str]:
    if isinstance(value, dict):
        return [found for key, item in value.items() for found in numbers(item, f"{path}.{key}")]
    if isinstance(value, list):
        return [found for item in value for found in numbers(item, path)]
    return [path] if isinstance(value, float) and not isinstance(value, bool) else []


def test_every_number_with_a_dimension_has_its_unit_in_its_key(assessment: Assessment) -> None:
    pure = ("fraction", "ratio", "coefficient", "number", "factor", "deduction", "efficiency", "diameter", "per_s")
    money_or_energy = ("_kwh", "_money", "months", "_years", "per_100_rpm")
    parts = (".best", ".low", ".high")
    ranges = (".value", ".low", ".high")
    for stage, content in json.loads(report(assessment, "json"))["stages"].items():
        for path in numbers(content["answers"]):
            whole = path.rsplit(".", 1)[0] if path.endswith(parts) or ".by_method_" in path else path
            key = whole.rsplit(".", 1)[1] if "." in whole else ""
            known = key.endswith((*UNIT_ENDINGS, *FLOWS_AND_SO_ON, *pure, *money_or_energy))
            assert known or ".curve.methods." in path or path.endswith(ranges), f"{stage}{path}"


def test_every_form_says_what_it_rests_on(assessment: Assessment) -> None:
    for form in ("text", "markdown", "html"):
        sheet = " ".join(report(assessment, form, date(2026, 11, 25)).split())
        assert "2026-11-25" in sheet
        assert "This plan is an estimate from published formulas" in sheet
        assert "Holtrop" in sheet


def test_the_whole_plan_says_on_its_first_page_that_it_is_an_estimate(assessment: Assessment) -> None:
    head = " ".join(report(assessment, "text").partition("Ready to order?")[0].split())
    assert "This plan is an estimate from published formulas" in head
    assert "confirmed by the makers' data and a qualified person" in head


def test_every_form_explains_the_numbers_in_brackets_near_its_top(assessment: Assessment) -> None:
    for form in ("text", "markdown", "html"):
        top = " ".join(report(assessment, form).split()).partition("What to measure next")[0]
        assert "Numbers in brackets are the 10th and 90th percentile of 1,024 plausible boats" in top


def test_what_to_measure_next_stands_between_what_is_urgent_and_the_first_stage(assessment: Assessment) -> None:
    text = report(assessment, "text")
    places = [text.index(f"\n{words}") for words in ("To look at first\n--", "What to measure next\n--", "1. Hull")]
    assert places == sorted(places)
    first = measures(assessment)[0]
    flat = " ".join(text[places[1] : places[2]].split())
    assert first.shares[0 if first.power >= first.full_throttle else 1] in flat
    assert first.action.split()[0] in flat


def test_tables_set_words_on_the_left_and_numbers_on_the_right(assessment: Assessment) -> None:
    markdown, html = (report(assessment, form) for form in ("markdown", "html"))
    rule = markdown.partition("| Do this |")[2].splitlines()[1]
    assert rule == "| --- | ---: | ---: | --- |"
    assert '<th scope="col" class="words">It settles</th>' in html
    assert '<th scope="col">Power at cruise</th>' in html


def test_a_plan_without_answers_has_no_word_of_bands_or_measures() -> None:
    text = report(assess(Plan(name="Empty")), "text")
    assert "percentile" not in text
    assert "What to measure next" not in text


def test_an_unfinished_plan_says_so_on_its_first_lines(root: Path) -> None:
    text = report(assess(load_plan(root / "saved_plans" / "mirabel.toml")), "text")
    assert "This plan is not complete. Still open: engine, gear, propeller" in " ".join(text.split())


@pytest.mark.parametrize("form", FORMS)
def test_square_brackets_and_angle_brackets_show_as_typed(form: str) -> None:
    plan = with_text(Plan(name="[/x] [kW] <b>&"), "hull.displacement", "[/x] <i>|")
    sheet = report(assess(plan), form)
    if form == "html":
        page = Balance()
        page.feed(sheet)
        assert any("[/x] [kW] <b>&" in text for text in page.texts)
        assert any("[/x] <i>|" in text for text in page.texts)
        assert page.open == []
    elif form == "json":
        assert json.loads(sheet)["plan"]["name"] == "[/x] [kW] <b>&"
    elif form == "markdown":
        assert r"\[/x\] \[kW\] \<b\>\&" in sheet
    else:
        assert "[/x] [kW] <b>&" in sheet


def test_check_lines_name_a_stop(root: Path) -> None:
    plan = with_text(load_plan(root / "saved_plans" / "bittern.toml"), "hull.hull_draft", "3 ft 6 in")
    assert any(problem.text.startswith("hull: stop: ") for problem in problems_of(assess(plan)))


@pytest.mark.parametrize("form", ["text", "markdown", "html"])
def test_the_stock_wheels_follow_the_propeller(form: str) -> None:
    sheet = report(fake_assessment(Plan(hull=BOAT)), form, market=made_up_market())
    flat = " ".join(sheet.split())
    places = [flat.index(words) for words in ("6. Propeller", "Stock wheels: every wheel that fits", "7. Shaft")]
    assert places == sorted(places)
    for words in ("18 x 13.5 in, 3 blades", "20 x 12 in, 3 blades", "The best with other sections", "Ask the shop."):
        assert words in flat[places[1] : places[2]]
    assert "propeller.area" not in flat, "what Enter would change is not for the reader"


def test_json_has_the_market_in_the_form_of_a_stage() -> None:
    document = json.loads(report(fake_assessment(Plan(hull=BOAT)), "json", market=made_up_market()))
    market = document["market"]
    assert market["answers"]["combinations"] == 18936
    assert [row["size"] for row in market["answers"]["rows"]] == ["19 x 13 in, 3 blades", "18 x 13.5 in, 3 blades"]
    assert "changes" not in market["answers"]["rows"][0]
    assert market["findings"][1] == {"verdict": "look again", "text": "Ask the shop.", "source": "no source"}


def test_a_plan_whose_market_cannot_be_searched_says_what_it_waits_for_and_json_has_null() -> None:
    assessment = assess(Plan(name="Empty"))
    market = search_market(assessment)
    assert "Not worked out yet: the hull page:" in report(assessment, "text", market=market).partition("7. Shaft")[0]
    assert json.loads(report(assessment, "json", market=market))["market"] is None


@pytest.mark.parametrize(("form", "mark"), [("text", "* chosen"), ("markdown", r"\* chosen"), ("html", "* chosen")])
def test_the_chosen_row_is_marked_in_every_form(root: Path, form: str, mark: str) -> None:
    assessment = assess(load_plan(root / "saved_plans" / "bittern.toml"))
    sheet = report(assessment, form)
    assert sheet.count(mark) == 3, "candidates, ratios, and sizes beside the chosen one"
    assert not re.search(r"\bChosen\b(?! candidate)", sheet), "no column of its own"
    rows = json.loads(report(assessment, "json"))["stages"]["gear"]["answers"]["options"]
    assert sum(row["chosen"] for row in rows) == 1


def test_electric_candidates_measured_tanks_and_checks_are_in_every_form(root: Path) -> None:
    plan = load_plan(root / "saved_plans" / "bittern.toml")
    plan = with_row(plan, "range.measured", {"name": "wing tank", "shape": TANK_SHAPES[0], "length": "30 in"})
    assessment = assess(plan)
    for form in ("text", "markdown", "html"):
        sheet = " ".join(report(assessment, form).split())
        for words in ("Electric candidates as entered", "Tanks as measured", "wing tank", "What must fit", "9. Fit"):
            assert words in sheet.replace("\\.", "."), (form, words)
    document = json.loads(report(assessment, "json"))
    assert document["plan"]["engine"]["motor"][0]["battery"] == "40 kWh"
    assert document["plan"]["range"]["measured"][0]["length"] == "30 in"
    assert {"item", "wanted", "yours", "standing"} == set(document["stages"]["fit"]["answers"]["checks"][0])


def test_variants_stand_beside_the_plan_with_their_differences(launch: Plan) -> None:
    slower = Variant("Slower | <b>", {"speed.cruise": "5.5 kn", "gear.ratio": "2.5"})
    plan = replace(launch, variants=(slower,))
    for form in ("text", "markdown", "html"):
        sheet = " ".join(report(assess(plan), form).split()).replace("\\", "")
        place = sheet.index("Variants of this plan, side by side")
        assert "*5.5 kn" in sheet[place:]
        assert "cruising speed 5.5 kn instead of 6.5 kn (15 % less)" in sheet[place:]
    assert "side by side" not in report(assess(launch), "text").partition("9. Fit")[2]


def test_a_table_of_many_columns_and_few_rows_goes_on_paper_on_its_side() -> None:
    wide = Grid("t", tuple("abcdefghijk"), (tuple("ABCDEFGHIJK"), tuple("1234567890x")))
    assert wide.turned.headings == ("a", "A", "1")
    assert wide.turned.rows[0] == ("b", "B", "2")
    assert len(wide.turned.rows) == 10
    narrow = Grid("t", ("a", "b"), (("1", "2"),))
    assert narrow.turned is narrow
    long = Grid("t", tuple("abcdefghijk"), (tuple("ABCDEFGHIJK"),) * 5)
    assert long.turned is long


@pytest.mark.parametrize("is_form", [True, False])
def test_only_a_form_has_boxes_to_write_in(is_form: bool) -> None:
    """An empty cell of any other table is not to be filled in by hand."""
    text = render_text(Document("t", (Grid("t", ("a", "b"), (("1", ""), ("2", "3")), is_form=is_form),)))
    assert ("____" in text) is is_form
