"""Pages, plots, workings and paper speak of a motor to who has one, and of an engine to who has that."""

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest

from engine.assessment import Assessment, assess
from engine.entries import entries
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, chosen_path, label_at, paths, problems, with_row, with_text
from engine.sections.trial import TrialRun
from tests.conftest import changed
from tests.engine.generic_candidates import with_generic
from wizard.charts import Chart
from wizard.handover.blocks import Document, Grid, Heading, Pairs, Picture
from wizard.handover.document import plan_document
from wizard.handover.sheet import sheet_document
from wizard.handover.sheets import ORDER_SHEETS, order_sheet
from wizard.handover.text import render_text
from wizard.review_lines import review_lines
from wizard.stages.forms import groups, is_asked_in_row
from wizard.stages.plots import chart_of
from wizard.tables import answer_lines, tables_of
from wizard.widgets.field_texts import texts_of
from wizard.working_text import label_text, numbers_of

STAGES = ("engine", "gear", "propeller", "shaft", "range", "trial")
LEFT = re.compile(r"(?i)present engine|engine room|old engine|engine enquiry|: engine$|engine: which|electric|maker")
"""Words on an engine that stay: of what comes out, of the room, and of the page."""


@pytest.fixture(scope="module")
def electric(launch: Plan) -> Assessment:
    return assess(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]))


def of_an_engine(texts: Iterator[str]) -> list[str]:
    return [text for text in texts if re.search(r"(?i)\bengine|crankshaft", text) and not LEFT.search(text)]


def words_of_chart(chart: Chart) -> Iterator[str]:
    yield from (chart.title, chart.x_label, chart.y_label)
    yield from (series.name for series in chart.series)
    yield from (name for name, _ in chart.verticals)


def on_paper(document: Document, skip: str = "") -> Iterator[str]:
    """Labels, headings and words of plots; not what the owner gave, nor the pages named."""
    is_told = not skip
    for block in document.blocks:
        for each in getattr(block, "blocks", (block,)):
            if isinstance(each, Heading):
                is_told = not skip or (each.text == "Worked out" if each.level > 2 else False)
            if not is_told:
                continue
            if isinstance(each, Pairs):
                yield from (label for label, *_ in each.rows)
            elif isinstance(each, Grid):
                yield from (each.title, *each.headings)
            elif isinstance(each, Picture) and isinstance(each.chart, Chart):
                yield from words_of_chart(each.chart)


@pytest.mark.parametrize("stage", STAGES)
def test_a_page_and_its_plot_speak_of_a_motor(electric: Assessment, stage: str) -> None:
    outcome = electric.outcomes[stage]
    lines = answer_lines(outcome.answers, "metric", 60, of_motor=outcome.of_motor)
    for title, table in tables_of(outcome.answers, "metric", 200, of_motor=outcome.of_motor):
        lines += [title, table[0]]
    chart = chart_of(stage, outcome.answers, "metric", of_motor=outcome.of_motor)
    assert isinstance(chart, Chart)
    assert not of_an_engine(iter([*lines, *words_of_chart(chart)]))


@pytest.mark.parametrize("stage", STAGES)
def test_how_it_was_worked_out_has_the_names_of_the_page(electric: Assessment, stage: str) -> None:
    assert not of_an_engine(label_text(number, electric) for number in numbers_of(stage, electric))


@pytest.mark.parametrize("sheet", ORDER_SHEETS)
def test_an_order_sheet_speaks_of_a_motor(electric: Assessment, sheet: str) -> None:
    assert not of_an_engine(on_paper(sheet_document(order_sheet(sheet, electric))))


def test_the_whole_plan_speaks_of_a_motor_where_it_is_the_one_that_is_planned(electric: Assessment) -> None:
    told = list(on_paper(plan_document(electric), skip="given"))
    assert "Rated motor speed" in told
    assert not [text for text in of_an_engine(iter(told)) if "Engine speed" not in text], "but the log of the engine"


def test_of_an_engine_nothing_changes(launch: Plan) -> None:
    found = assess(launch)
    told = list(on_paper(plan_document(found), skip="given"))
    assert "Rated engine speed" in told
    assert "Rated motor speed" not in told
    assert any("engine" in text for text in on_paper(sheet_document(order_sheet("propeller", found))))


def test_the_trial_card_stops_for_what_a_motor_has(electric: Assessment, launch: Plan) -> None:
    (fair, *_), (of_diesel, *_) = (order_sheet("trial", found).parts for found in (electric, assess(launch)))
    assert "warm motor" in fair.sentences[0]
    assert any("controller, battery or cables" in text for text in fair.sentences)
    assert not any("coolant" in text for text in fair.sentences)
    assert any("coolant" in text for text in of_diesel.sentences)


def test_the_trial_card_of_a_motor_asks_for_what_the_trial_page_takes(electric: Assessment, launch: Plan) -> None:
    of_motor, of_diesel = (order_sheet("trial", found) for found in (electric, assess(launch)))
    boxes, of_engine = (
        next(part.table.boxes for part in card.parts if part.table and part.table.key == "predicted")
        for card in (of_motor, of_diesel)
    )
    labels = {entry.label for entry in entries(TrialRun).values()}
    assert {"Power drawn by one motor", "Fuel flow of one engine", "Coolant", "Exhaust back pressure"} <= labels
    assert boxes == ("Rpm read", "kn, one way", "kn, back", "Drawn, kW", "Remark")
    assert set(of_engine) - set(boxes) == {"Fuel, L/h", "Coolant, C", "Exhaust, kPa"}
    told, with_fuel = (in_one_line(sheet_document(card)) for card in (of_motor, of_diesel))
    assert "at least half the water" in told
    assert "at least half the fuel and water" in with_fuel
    assert "goes into the note of a run" in told
    assert not re.search(r"(?i)\bfuel\b", told)


def test_a_motor_with_a_generator_has_fuel_aboard_at_her_trial(electric: Assessment) -> None:
    plan = changed(electric.plan, {f"{chosen_path(electric.plan)}.generator_power": "6 kW"})
    assert "at least half the fuel and water" in in_one_line(sheet_document(order_sheet("trial", assess(plan))))


def in_one_line(document: Document) -> str:
    return " ".join(render_text(document).split())


def test_the_yard_tries_the_stop_of_what_is_fitted(electric: Assessment, launch: Plan) -> None:
    for found, stop in ((electric, "motor stop works"), (assess(launch), "engine stop works")):
        (part,) = (each for each in order_sheet("yard", found).parts if each.title == "Before launching")
        assert any(stop in text for text in part.to_do)
        assert any("Carbon monoxide alarms" in text for text in part.to_do)


def test_who_has_no_gear_asks_for_the_thrust_that_the_motor_bears(electric: Assessment) -> None:
    direct = {"gear.ratios": "1", "gear.rating": "", "gear.ratio": "1"}
    without = assess(changed(electric.plan, direct))
    asked, asked_without = (
        {part.title: part for part in order_sheet("engine", found).parts} for found in (electric, without)
    )
    assert "Gear" in asked
    assert any("thrust it carries" in text for text in asked["Please send"].to_do)
    assert "Shaft, with no gear between" in asked_without
    assert not any(text.startswith("Gear") for text in asked_without["Please send"].to_do)
    assert any("motor's own bearings" in text for text in asked_without["Please send"].to_do)
    assert "needed_rating_kw_per_100_rpm" not in {line.key for line in order_sheet("engine", without).lines}


def labels_asked(plan: Plan, stage: str) -> Iterator[str]:
    """The labels of all fields that a page asks, its tables with a row."""
    for group in groups(stage):
        if group.is_asked(plan):
            rowed = with_row(plan, group.table) if group.table else plan
            rows = (path for path in paths(rowed, stage) if path.startswith(f"{group.table}.0."))
            fields = (path for path in rows if is_asked_in_row(rowed, path)) if group.table else group.paths
            yield from (label_at(rowed, path) for path in fields)


@pytest.mark.parametrize("stage", ["gear", "propeller", "shaft", "range", "fit", "trial"])
def test_the_form_of_who_has_a_motor_alone_asks_of_it_and_not_of_an_engine(electric: Assessment, stage: str) -> None:
    alone = replace(electric.plan, engine=replace(electric.plan.engine, candidate=()))
    asked = list(labels_asked(alone, stage))
    assert asked
    assert not of_an_engine(iter(asked))


def test_what_is_missing_is_called_as_it_is_on_the_form(electric: Assessment, launch: Plan) -> None:
    path = "fit.new_place"
    assert label_at(launch, path) == "New engine, ahead of the stern"
    assert label_at(electric.plan, path) == "New motor, ahead of the stern"
    assert label_at(electric.plan, "fit.present_place") == "Present engine, ahead of the stern"
    assert label_at(electric.plan, "engine.candidate.0.rated_speed") == "Rated engine speed"
    (problem,) = problems(with_text(electric.plan, path, "far aft"), "fit")
    assert problem.text.startswith("New motor, ahead of the stern: ")
    (missing, *_) = problems(with_row(electric.plan, "trial.run"), "trial")
    assert missing.text == "Still missing: Motor speed."
    assert texts_of(electric.plan, path).label == "New motor, ahead of the stern"
    odd = with_text(electric.plan, path, "far aft")
    (line,) = (each for each in review_lines(odd, assess(odd)) if "far aft" in each.text)
    assert line.on_enter == "Enter goes to the fit page: New motor, ahead of the stern. Esc comes back."


def given_on(document: Document, page: str) -> list[str]:
    """The labels under "Given" of one page of the whole plan; none where nothing stands there."""
    blocks = iter(document.blocks)
    next(block for block in blocks if isinstance(block, Heading) and f"{page}:" in block.text)
    heading, first = next(blocks), next(blocks)
    if heading != Heading(3, "Given"):
        return []
    return [label for label, *_ in first.rows] if isinstance(first, Pairs) else []


def test_the_whole_plan_lists_no_default_that_nothing_takes(electric: Assessment, launch: Plan) -> None:
    """An electric boat had a wet exhaust, straight air ducts and so many degrees at her engine's intake."""
    told, of_diesel = plan_document(electric), plan_document(assess(launch))
    assert "Exhaust" in given_on(of_diesel, "Fit")
    assert "Exhaust" not in given_on(told, "Fit")
    assert "Air ducts" not in given_on(told, "Fit")
    assert "Humidity of that air" in given_on(of_diesel, "Engine")
    assert "Humidity of that air" not in given_on(told, "Engine")
