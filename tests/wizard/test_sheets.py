"""The order sheets: their numbers are those of the answers, they say what is not yet known, and fit one page."""

import json
import re
from collections import Counter
from dataclasses import replace
from datetime import date
from math import pi
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings

from engine.answers import unit_of
from engine.assessment import Assessment, assess
from engine.constants import RPM
from engine.defaults import amount
from engine.migrations import FORMAT
from engine.plan import Plan, with_row, with_text
from engine.planfile import load_plan
from engine.sections.electric import FIGURES
from tests.conftest import ROOT
from tests.engine.random_plans import any_plans
from tests.how_thorough import NIGHTLY
from tests.wizard.browser import run_browser
from wizard.handover import FORMS, SHEETS, report
from wizard.handover.sheets import ORDER_SHEETS, order_sheet

ORDERS = tuple(ORDER_SHEETS)
LONG = "A name as long as some owners give their boats, of which nobody knows the end | <b> [kW] " * 3
PLANS = ("bittern", "electric", "mirabel", "two-sisters", "empty", "odd", "unsure")
UNSURE = {"hull.hull_draft": "not known", "propeller.room": "not known", "shaft.span": "", "engine.intake_air": ""}
UNSURE |= {"engine.candidate.0.rated_speed": "3600 rpm", "engine.candidate.0.figures": FIGURES[1]}
BARE = {"ratio", "wheels", "blades", "engines", "safety_factor", "actual_safety_factor", "present_propeller_blades"}


def plan_named(name: str) -> Plan:
    match name:
        case "empty":
            return Plan(name="Empty")
        case "electric":
            return with_text(load_plan(ROOT / "saved_plans" / "bittern.toml"), "engine.chosen", "Motor, 15 kW, 40 kWh")
        case "unsure":  # much that is guessed or left to defaults, and a fast engine
            plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
            for path, text in UNSURE.items():
                plan = with_text(plan, path, text)
            return plan
        case "odd":  # much that makes sheets long
            plan = load_plan(ROOT / "saved_plans" / "two-sisters.toml")
            plan = with_text(with_text(plan, "engine.candidate.0.name", LONG), "engine.chosen", LONG)
            plan = with_text(plan, "engine.candidate.0.figures", FIGURES[1])
            return replace(with_text(plan, "hull.displacement", "not known"), name=LONG, units="imperial")
        case _:
            return load_plan(ROOT / "saved_plans" / f"{name}.toml")


class Assessed(dict[str, Assessment]):
    """The plans by name, each worked out when it is first asked for."""

    def __missing__(self, name: str) -> Assessment:
        self[name] = assess(plan_named(name))
        return self[name]


@pytest.fixture(scope="module")
def assessments() -> dict[str, Assessment]:
    return Assessed()


def fields_of(assessment: Assessment, sheet: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(report(assessment, "json", sheet=sheet))
    return found


@pytest.mark.parametrize("sheet", ORDERS)
@pytest.mark.parametrize("name", PLANS)
def test_every_sheet_is_sound_in_every_form(assessments: dict[str, Assessment], name: str, sheet: str) -> None:
    assessment, on = assessments[name], date(2026, 11, 26)
    text = report(assessment, "text", on, sheet=sheet)
    assert max(map(len, text.splitlines())) < 78
    assert "2026-11-26" in text
    assert f"Plan format {FORMAT}." in text
    assert "This plan is an estimate from published formulas" in " ".join(text.split())
    assert "licensed practice" in text
    _check_tables(report(assessment, "markdown", on, sheet=sheet))
    html = report(assessment, "html", on, sheet=sheet)
    assert "<script" not in html
    assert not re.search(r"(src|href)=|url\(|@import", html)
    assert ("<svg" in html) is (sheet in ("propeller", "engine") and name not in ("mirabel", "empty"))


def _check_tables(markdown: str) -> None:
    """Each row of a pipe table has as many cells as the rule under its heading."""
    lines = markdown.splitlines()
    rules = [i for i, line in enumerate(lines) if re.fullmatch(r"\|( -{3}:? \|)+", line)]
    assert rules
    for at in rules:
        wanted = _pipes(lines[at])
        rows = [lines[at - 1]]
        for line in lines[at + 1 :]:
            if not line.startswith("|"):
                break
            rows.append(line)
        assert [_pipes(row) for row in rows] == [wanted] * len(rows)


def _pipes(line: str) -> int:
    return len(re.findall(r"(?<!\\)\|", line))


@pytest.mark.parametrize("sheet", ORDERS)
def test_json_has_one_value_for_each_key_with_its_unit(assessments: dict[str, Assessment], sheet: str) -> None:
    for name in ("bittern", "electric", "two-sisters"):
        lines = list(order_sheet(sheet, assessments[name]).lines)
        assert max(Counter(line.key for line in lines).values()) == 1
        document = fields_of(assessments[name], sheet)
        against = {"reasons", "second_looks", "cautions"}
        assert {"sheet", "plan", "plan_format", "fields", "tables", "assumed"} | against == set(document)
        for key, value in document["fields"].items():
            if isinstance(value, float | int | dict):
                assert unit_of(key) or key in BARE or key.endswith("ratio"), key


@pytest.mark.parametrize("name", ["bittern", "electric", "two-sisters"])
def test_the_propeller_order_has_the_numbers_of_the_answers(assessments: dict[str, Assessment], name: str) -> None:
    outcomes = assessments[name].outcomes
    engine, gear, propeller, shaft = (outcomes[stage].answers for stage in ("engine", "gear", "propeller", "shaft"))
    fields = fields_of(assessments[name], "propeller")["fields"]
    assert fields["wheel_power_kw"] == pytest.approx(engine.drive.power_at_propeller / 1e3, rel=1e-12)
    assert fields["wheel_power_kw"] < engine.drive.usable_power / 1e3
    assert fields["wheel_rpm"] == pytest.approx(engine.rated_rpm / gear.ratio, rel=1e-9)
    assert fields["wheel_torque_nm"] * 2.0 * pi * fields["wheel_rpm"] * RPM == pytest.approx(
        fields["wheel_power_kw"] * 1e3, rel=1e-9
    )
    for key in ("diameter_m", "pitch_m", "blades", "area_ratio", "hand", "reaches_rated_fraction", "series"):
        assert fields[key] == getattr(propeller, key), key
    assert fields["shaft_diameter_m"] == shaft.diameter_m
    assert fields["bore"] == shaft.bore
    assert fields["wheels"] == (2 if name == "two-sisters" else 1)
    assert fields["tip_clearance_m"] == pytest.approx((fields["room_m"] - propeller.diameter_m) / 2.0, rel=1e-9)
    assert fields["wheel_pitch_tolerance_m"] == pytest.approx(0.01 * propeller.pitch_m)
    inch, centimetre = (fields[f"rpm_lost_per_{unit}_of_pitch_rpm"] for unit in ("inch", "centimetre"))
    assert inch == -propeller.inch_of_pitch_rpm > 0.0
    assert inch == pytest.approx(2.54 * centimetre)


def test_two_wheels_are_one_of_each_hand_and_one_wheel_without_a_hand_is_not_ordered(
    assessments: dict[str, Assessment],
) -> None:
    twin = report(assessments["two-sisters"], "text", sheet="propeller")
    assert "left-hand to port, right-hand" in twin
    assert "Do not order" not in twin
    single = fields_of(assessments["bittern"], "propeller")
    assert [reason for reason in single["reasons"] if "which way the gear's output turns" in reason]
    plan = with_text(plan_named("bittern"), "gear.output_turns", "clockwise")
    assert fields_of(assess(plan, assessments["bittern"]), "propeller")["reasons"] == []


@pytest.mark.parametrize("name", ["bittern", "electric", "two-sisters"])
def test_the_engine_enquiry_asks_for_what_the_power_page_needs(assessments: dict[str, Assessment], name: str) -> None:
    assessment = assessments[name]
    power, engine = (assessment.outcomes[stage].answers for stage in ("power", "engine"))
    propeller = assessment.outcomes["propeller"].answers
    document = fields_of(assessment, "engine")
    fields, rows = document["fields"], document["tables"]["demand"]
    to_engine = power.demand.screws * amount(assessment.plan.gear, "efficiency")
    assert fields["top_power_kw"]["high"] * to_engine == pytest.approx(power.top_shaft_power_kw.high)
    delivered = fields["top_power_kw"]["best"] * to_engine * amount(assessment.plan.gear, "shaft_efficiency")
    assert float(engine.drive.at_crankshaft(delivered)) == pytest.approx(
        fields["top_power_kw"]["best"] * power.demand.screws, rel=1e-9
    )
    assert fields["needed_rated_power_kw"]["best"] * 0.9 * engine.drive.derating == pytest.approx(
        fields["top_power_kw"]["best"]
    )
    assert [round(10.0 * row["engine_rpm"] / engine.rated_rpm, 6) for row in rows] == [4, 5, 6, 7, 8, 9, 10]
    match = {row.engine_rpm: row for row in propeller.match}
    for row in rows:
        assert row["power_kw"]["best"] == match[row["engine_rpm"]].demand_kw.best
        assert row["torque_nm"]["high"] * 2.0 * pi * row["engine_rpm"] * RPM == pytest.approx(
            row["power_kw"]["high"] * 1e3
        )
        assert row["worst_kw"] >= row["power_kw"]["high"]
        assert row["full_load_kw"] == pytest.approx(float(engine.drive.full_load(row["engine_rpm"] * RPM)) / 1e3)


def test_without_an_engine_the_enquiry_still_asks_for_a_power(assessments: dict[str, Assessment]) -> None:
    document = fields_of(assessments["mirabel"], "engine")
    assert document["fields"]["needed_rated_power_kw"]["best"] > document["fields"]["top_power_kw"]["best"] > 0.0
    assert document["tables"]["demand"] == []
    assert "indirect injection" in report(assessments["mirabel"], "text", sheet="engine"), "the loss is of that kind"


def test_an_electric_drive_is_asked_for_by_its_battery_and_not_by_its_exhaust(
    assessments: dict[str, Assessment],
) -> None:
    fields = fields_of(assessments["electric"], "engine")["fields"]
    assert fields["battery_kwh"] == pytest.approx(40.0)
    assert fields["peak_power_kw"] == pytest.approx(22.0)
    assert not [key for key in fields if "exhaust" in key or "raw_water_l" in key]
    trial = fields_of(assessments["electric"], "trial")["tables"]
    assert trial["predicted"][3]["drawn_kw"]["best"] > 0.0
    assert trial["predicted"][3]["burn_l_per_h"] is None
    text = report(assessments["electric"], "text", sheet="trial")
    assert "Coolant" not in text
    assert "idle" not in text


@pytest.mark.parametrize("name", ["bittern", "electric", "two-sisters"])
def test_the_trial_card_expects_what_the_trial_page_expects(assessments: dict[str, Assessment], name: str) -> None:
    expected = {row.engine_rpm: row for row in assessments[name].outcomes["trial"].answers.predicted}
    rows = fields_of(assessments[name], "trial")["tables"]["predicted"]
    found = [row for row in rows[:-1] if not row["at"].startswith("idle")]
    assert len(found) > 3
    for row in found:
        assert row["speed_kn"]["low"] == expected[row["engine_rpm"]].speed_kn.low
        taken = expected[row["engine_rpm"]].burn_l_per_h or expected[row["engine_rpm"]].drawn_kw
        assert (row["burn_l_per_h"] or row["drawn_kw"])["best"] == taken.best


@pytest.mark.parametrize("name", ["bittern", "electric", "two-sisters", "empty"])
def test_the_trial_card_has_round_speeds_in_even_steps_up_to_full_throttle(
    assessments: dict[str, Assessment], name: str
) -> None:
    rows = fields_of(assessments[name], "trial")["tables"]["predicted"]
    assert rows[-1]["at"].startswith("full")
    speeds = [row["engine_rpm"] for row in rows[:-1] if not row["at"].startswith("idle")]
    steps = np.diff(speeds)
    assert steps == pytest.approx(steps[0])
    assert steps[0] / 200.0 == pytest.approx(round(steps[0] / 200.0))
    assert 3 <= len(speeds) <= 15
    propeller = assessments[name].outcomes["propeller"].answers
    if propeller is not None:
        assert speeds[-1] < propeller.full_throttle_rpm.best
        top = {end: getattr(propeller.top_kn, end) for end in ("best", "low", "high")}
        assert rows[-1]["speed_kn"] == pytest.approx(top), "each boat at her own full throttle"


@pytest.mark.parametrize(("idle", "slow"), [("800 rpm", ["idle, 800", "1000"]), ("750 rpm", ["idle, 750", "800"])])
@pytest.mark.parametrize("is_known", [True, False])
def test_idle_stands_once_on_the_trial_card(
    assessments: dict[str, Assessment], idle: str, slow: list[str], is_known: bool
) -> None:
    plan = with_text(assessments["bittern"].plan, "engine.candidate.0.idle_speed", idle)
    found = assess(plan if is_known else with_text(plan, "propeller.room", ""))
    first, second, *_ = fields_of(found, "trial")["tables"]["predicted"]
    assert [first["at"], second["at"]] == slow
    assert (second["speed_kn"] is not None) is is_known
    assert (first["speed_kn"] is not None) is (is_known and idle == "800 rpm")


def test_the_trial_card_has_boxes_to_write_in(assessments: dict[str, Assessment]) -> None:
    html = report(assessments["bittern"], "html", sheet="trial").replace("\N{NO-BREAK SPACE}", " ")
    text = report(assessments["bittern"], "text", sheet="trial")
    head = re.search(r"<th [^>]*>Engine, rpm.*?</tr>", html, re.DOTALL)
    assert head
    assert re.findall(r">([^<>]+)</th>", head[0])[3:6] == ["Rpm read", "kn, one way", "kn, back"]
    for words in ("kn, one way", "Remark", "Coolant", "full throttle in neutral", "Water depth", "tachometer"):
        assert words in html
    assert html.count("<td></td>") >= 12 * 6
    assert text.count("______") >= 12 * 6
    assert "3150 to 3300 rpm" in html, "five to ten per cent above the rated 3000"
    assert "167 F to 203 F" in html, "75 to 95 C for an owner who thinks in Fahrenheit"


def test_the_yard_sheet_has_what_the_shaft_and_fit_pages_say(assessments: dict[str, Assessment]) -> None:
    assessment = assessments["bittern"]
    shaft, fit = (assessment.outcomes[stage].answers for stage in ("shaft", "fit"))
    document = fields_of(assessment, "yard")
    for key in ("diameter_m", "taper", "bore", "critical_rpm", "span_m"):
        assert document["fields"][key] == getattr(shaft, key), key
    for key in ("exhaust_bore_m", "weight_change_kg", "stern_m", "vent_area_m2"):
        assert document["fields"][key] == getattr(fit, key), key
    assert [row["item"] for row in document["tables"]["clearances"]] == [row.item for row in shaft.fits]
    cautions = " ".join(document["cautions"])
    for words in ("slings", "Exhaust gas kills", "turning shaft", "Batteries hold", "Hot work", "spilled fuel"):
        assert words in cautions


def test_sheets_of_a_boat_without_fuel_speak_of_no_exhaust() -> None:
    """A generator brings fuel, fumes and hot pipes back."""
    electric = plan_named("electric")
    serial = with_text(electric, "engine.motor.0.generator_power", "6 kW")
    for plan, burns in ((plan_named("bittern"), True), (electric, False), (serial, True)):
        assessment = assess(plan)
        for sheet in ("yard", "trial"):
            text = " ".join(report(assessment, "text", sheet=sheet).split())
            for words in ("Exhaust gas kills", *(("Exhaust gas-tight", "Fuel line tested") if sheet == "yard" else ())):
                assert (words in text) is burns, (sheet, words)
        assert ("Exhaust, air, water and fuel" in report(assessment, "text", sheet="yard")) is burns
        assert ("can pass 400 C" in report(assessment, "text", sheet="trial")) is burns
        assert "Hot work beside fuel" in report(assessment, "text", sheet="yard"), "an old tank may still be there"


def test_a_motor_without_a_gear_is_asked_for_its_thrust_and_not_for_a_gear() -> None:
    """Nor does its card have a box for gear oil, or its enquiry air and water that nothing is reckoned for."""
    electric = plan_named("electric")
    direct = electric
    for path, text in (
        ("gear.ratios", "1"),
        ("gear.ratio", "1"),
        ("gear.rating", ""),
        ("engine.motor.0.rated_speed", "700 rpm"),
        ("engine.motor.0.generator_power", "6 kW"),
    ):
        direct = with_text(direct, path, text)
    for plan, has_gear in ((electric, True), (direct, False)):
        assessment = assess(plan)
        enquiry, card, yard = (
            " ".join(report(assessment, "text", sheet=sheet).split()) for sheet in ("engine", "trial", "yard")
        )
        assert ("Coupling at the gear" in yard) is has_gear
        assert "Exhaust, air, water and electricity" not in enquiry
        assert ("Gear rating needed" in enquiry) is ("Gear: ratios, rating" in enquiry) is has_gear
        assert ("no gear takes it" in enquiry) is not has_gear
        assert ("gear oil" in card) is has_gear
        assert "named here" not in enquiry
        assert "one motor at its shaft" in enquiry
        assert "New engine with gear" not in yard
        assert ("generator wants of exhaust" in yard) is not has_gear


@pytest.mark.parametrize("sheet", ORDERS)
def test_an_unfinished_sheet_says_so_at_its_head_and_what_to_do(assessments: dict[str, Assessment], sheet: str) -> None:
    text = report(assessments["mirabel"], "text", sheet=sheet)
    made = order_sheet(sheet, assessments["mirabel"])
    assert made.refusal in " ".join(text.partition("\n---")[0].split())
    page = "First settle the engine: s" if sheet == "propeller" else "The engine page: S"
    assert any(reason.startswith(f"{page}till missing: Rated power.") for reason in made.reasons)
    flat = " ".join(text.split())
    assert "Not yet: the engine page waits for the rated power of Three-cylinder." in flat
    assert "Fill that in, and print this sheet again." in flat
    assert "nan" not in text.lower().split()
    assert order_sheet(sheet, assessments["two-sisters"]).reasons == ()


def test_stops_guesses_and_invented_figures_stand_at_the_head(assessments: dict[str, Assessment]) -> None:
    reasons = order_sheet("engine", assessments["odd"]).reasons
    assert any("invented" in reason for reason in reasons)
    assert "Displacement, ready for sea: not known, only guessed. Settle this on the hull page." in reasons
    stopped = assess(with_text(plan_named("bittern"), "gear.rating", "0.5 hp per 100 rpm"))
    assert any("The gear page says stop" in reason for reason in order_sheet("engine", stopped).reasons)


def test_what_is_assumed_is_listed_with_its_source(assessments: dict[str, Assessment]) -> None:
    ours = {each.label: each for each in order_sheet("propeller", assessments["bittern"]).assumed}
    assert ours["Gear efficiency"].value == "97 %"
    assert "ISO 8665" in ours["Gear efficiency"].source
    assert "Tip clearance" not in ours, "the owner has given it"
    guessed = {each.label: each for each in order_sheet("engine", assessments["odd"]).assumed}
    assert "not known" in guessed["Displacement, ready for sea"].source
    assert "lb" in guessed["Displacement, ready for sea"].value or "kg" in guessed["Displacement, ready for sea"].value


def test_many_reasons_are_cut_to_what_a_page_holds() -> None:
    reasons = order_sheet("propeller", assess(with_row(Plan(name="Bare"), "engine.candidate"))).reasons
    assert len(reasons) <= 6
    assert any("more reasons" in reason for reason in reasons) or len(reasons) < 5


def test_another_form_or_sheet_is_refused(assessments: dict[str, Assessment]) -> None:
    for form, sheet in (("text", "nothing"), ("rtf", "plan"), ("csv", "yard")):
        with pytest.raises(KeyError):
            report(assessments["empty"], form, sheet=sheet)
    assert set(FORMS) == {"text", "markdown", "html", "json", "csv"}


@settings(max_examples=300 if NIGHTLY else 3)
@given(any_plans())
def test_any_plan_has_all_its_sheets(plan: Plan) -> None:
    assessment = assess(plan)
    for sheet in SHEETS:
        assert max(map(len, report(assessment, "text", sheet=sheet).splitlines())) < 78
        report(assessment, "markdown", sheet=sheet)
        json.loads(report(assessment, "json", sheet=sheet))
        for picture in re.findall("<svg.*?</svg>", report(assessment, "html", sheet=sheet), re.DOTALL):
            ElementTree.fromstring(picture)


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_every_order_sheet_fits_one_page(assessments: dict[str, Assessment], tmp_path: Path, paper: str) -> None:
    """All of them in one print, each on a page of its own: as many pages as sheets, or one runs over."""
    sheets = [
        report(each, "html", date(2026, 11, 26), sheet=sheet)
        for each in (assessments[name] for name in PLANS)
        for sheet in ORDERS
    ]
    head = sheets[0].partition("<body>")[0].replace("size: auto", f"size: {paper}")
    bodies = (sheet.partition("<body>")[2].partition("</body>")[0] for sheet in sheets)
    page = tmp_path / "sheets.html"
    together = "".join(f'<div style="break-after: page">{body}</div>' for body in bodies)
    page.write_text(f"{head}<body>{together}</body></html>", encoding="utf-8")
    printed = tmp_path / "sheets.pdf"
    run = run_browser(page, f"--print-to-pdf={printed}")
    assert printed.exists(), run.stderr.decode(errors="replace")
    pages = len(re.findall(rb"/Type\s*/Page\b", printed.read_bytes()))
    assert pages == len(sheets)
