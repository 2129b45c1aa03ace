"""Every figure of an order sheet is that of the plan's own field, or of an answer of the page that it is taken from."""

import json
import re
from typing import Any

import pytest

from engine.assessment import Assessment, assess
from engine.plan import Plan, label_at, value_at, with_text
from engine.planfile import load_plan
from engine.readiness import readiness
from engine.units import Quantity
from tests.conftest import ROOT
from wizard.handover import report
from wizard.handover.sheets import order_sheet

DIESEL, MOTOR = "engine.candidate.0", "engine.motor.0"
FILLED = {
    "gear.output_turns": "anti-clockwise",
    "present.propeller_hand": "left-hand",
    "propeller.sections": "flat-faced (Gawn)",
    "engine.altitude": "210 m",
    "shaft.length": "2.15 m",
    "fit.bearers_apart": "410 mm",
    "fit.inlet_bore": "31 mm",
    "fit.cranking_current": "430 A",
    "fit.battery_place": "3.7 m",
    "fit.present_place": "4.1 m",
    "fit.new_place": "4.4 m",
    "engine.motor.0.voltage": "52 V",
}
"""What the launch has not given that stands on a sheet, no two alike."""
GIVEN = {
    "propeller": {
        "kind": "hull.kind",
        "waterline_length_m": "hull.waterline_length",
        "displacement_kg": "hull.displacement",
        "propeller_place": "hull.propeller_place",
        "sections": "propeller.sections",
        "room_m": "propeller.room",
        "overhang_m": "shaft.overhang",
        "present_gear_ratio": "present.gear_ratio",
        "present_propeller_diameter_m": "present.propeller_diameter",
        "present_propeller_pitch_m": "present.propeller_pitch",
        "present_propeller_blades": "present.propeller_blades",
        "present_propeller_hand": "present.propeller_hand",
        "present_shaft_diameter_m": "present.shaft_diameter",
    },
    "engine": {
        "kind": "hull.kind",
        "waterline_length_m": "hull.waterline_length",
        "displacement_kg": "hull.displacement",
        "engines": "hull.screws",
        "hours_per_year_h": "engine.hours_per_year",
        "output_turns": "gear.output_turns",
        "room_length_m": "fit.room_length",
        "room_width_m": "fit.room_width",
        "room_height_m": "fit.room_height",
        "opening_width_m": "fit.opening_width",
        "bearers_apart_m": "fit.bearers_apart",
        "shaft_angle_deg": "shaft.angle",
        "present_engine_power_kw": "present.engine_power",
        "present_gear_ratio": "present.gear_ratio",
        "present_engine_weight_kg": "present.engine_weight",
    },
    "yard": {
        "opening_width_m": "fit.opening_width",
        "overhang_m": "shaft.overhang",
        "propeller_weight_kg": "shaft.propeller_weight",
        "length_m": "shaft.length",
        "angle_deg": "shaft.angle",
        "coupling": "shaft.coupling",
        "flange_m": "shaft.flange",
        "seal": "shaft.seal",
        "present_engine_weight_kg": "present.engine_weight",
    },
}
SIDES = ("length", "width", "height")
OF_DIESEL = {
    "duty": f"{DIESEL}.duty",
    "intake_air_c": "engine.intake_air",
    "altitude_m": "engine.altitude",
    "raw_water_c": "engine.raw_water",
    "exhaust": "fit.exhaust",
    "present_exhaust_bore_m": "fit.exhaust_bore",
    "vent_area_m2": "fit.vent_area",
    "inlet_bore_m": "fit.inlet_bore",
    "battery_cranking_current_a": "fit.cranking_current",
    "engine_weight_kg": f"{DIESEL}.weight",
    **{f"engine_{side}_m": f"{DIESEL}.{side}" for side in SIDES},
}
OF_MOTOR = {
    "peak_power_kw": f"{MOTOR}.peak_power",
    "battery_kwh": f"{MOTOR}.battery",
    "battery_kind": f"{MOTOR}.battery_kind",
    "charge_power_kw": f"{MOTOR}.charge_power",
    "house_load_kw": f"{MOTOR}.house_load",
    "battery_weight_kg": f"{MOTOR}.battery_weight",
    "battery_place_m": "fit.battery_place",
    "engine_weight_kg": f"{MOTOR}.weight",
    **{f"engine_{side}_m": f"{MOTOR}.{side}" for side in SIDES},
}
"""Of the enquiry: what only a diesel has to do with, and only a motor."""
SI = {"_kw": 1e3, "_kwh": 3.6e6, "_h": 3600.0}
"""What one of the unit in which a key ends is where the plan keeps it; the others are as the plan keeps them."""
ANSWERED = {
    "propeller": {
        "speed": "cruise_kn",
        "engine": "rated_power_kw rated_rpm",
        "gear": "ratio",
        "propeller": "size hand diameter_m pitch_m blades area_ratio disc_area_ratio mean_width_ratio series "
        "hub_diameter_m full_throttle_rpm reaches_rated_fraction light_running_fraction top_kn cruise_rpm "
        "bollard_pull_n",
        "shaft": "taper bore",
    },
    "engine": {
        "speed": "cruise_kn top_kn",
        "engine": "rated_power_kw rated_rpm usable_power_kw top_load_fraction cruise_service_load_fraction",
        "gear": "ratio shaft_rpm shaft_torque_nm needed_rating_kw_per_100_rpm",
        "propeller": "hand",
        "shaft": "thrust_n static_thrust_n",
    },
    "yard": {
        "engine": "rated_power_kw rated_rpm",
        "gear": "ratio",
        "propeller": "size hand",
        "shaft": "material diameter_m needed_diameter_m actual_safety_factor taper bore torque_nm shaft_rpm thrust_n "
        "static_thrust_n span_m largest_span_m critical_rpm whirling_margin_fraction",
        "fit": "weight_change_kg sinkage_m trim_m bow_m stern_m",
    },
    "trial": {"trial": "size gear_ratio rated_rpm full_throttle_rpm", "propeller": "reaches_rated_fraction"},
}
OF_BURNING = {
    "propeller": {"engine": "aboard_fraction"},
    "engine": {
        "fit": "back_pressure_limit_kpa back_pressure_kpa airflow_m3_per_min raw_water_l_per_min cranking_current_a",
        "range": "usable_l",
    },
    "yard": {
        "fit": "exhaust_bore_m back_pressure_limit_kpa back_pressure_kpa muffler_volume_l vent_area_m2 "
        "airflow_m3_per_min radiated_heat_kw raw_water_l_per_min inlet_bore_m fuel_line_bore_m cranking_current_a"
    },
}
OF_BATTERY = {
    "engine": {
        "range": "usable_kwh cruise_drawn_kw battery_v full_throttle_battery_a cruise_range_nmi cruise_endurance_h"
    }
}


@pytest.fixture(scope="module", params=[True, False], ids=["diesel", "motor"])
def launch(request: pytest.FixtureRequest) -> Assessment:
    """The launch of the demonstration with all her fields filled, driven by either."""
    plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
    chosen = plan.engine.candidate[0] if request.param else plan.engine.motor[0]
    for path, text in {**FILLED, "engine.chosen": chosen.name}.items():
        plan = with_text(plan, path, text)
    return assess(plan)


def burns(assessment: Assessment) -> bool:
    return assessment.plan.engine.selected in assessment.plan.engine.candidate


def fields_of(assessment: Assessment, sheet: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(report(assessment, "json", sheet=sheet))["fields"]
    return found


def in_si(key: str, number: float) -> float:
    return number * next((SI[ending] for ending in sorted(SI, key=len, reverse=True) if key.endswith(ending)), 1.0)


def check_given(plan: Plan, key: str, path: str, figure: Any) -> None:
    value = value_at(plan, path)
    assert value is not None, path
    if not isinstance(value, Quantity):
        assert figure == value, key
    elif value.low is None:
        assert in_si(key, figure) == pytest.approx(value.si, rel=1e-9), key
    else:
        found = [in_si(key, figure[end]) for end in ("low", "best", "high")]
        assert found == pytest.approx([value.low.si, value.si, value.high.si], rel=1e-9), key


@pytest.mark.parametrize("sheet", GIVEN)
def test_what_was_given_stands_on_each_sheet_as_it_was_given(launch: Assessment, sheet: str) -> None:
    paths = dict(GIVEN[sheet])
    if sheet == "engine":
        paths |= OF_DIESEL if burns(launch) else OF_MOTOR
    if sheet == "yard":
        chosen = DIESEL if burns(launch) else MOTOR
        paths |= {"engine_weight_kg": f"{chosen}.weight"}
        paths |= {} if burns(launch) else {"battery_weight_kg": f"{chosen}.battery_weight"}
    fields = fields_of(launch, sheet)
    for key, path in paths.items():
        check_given(launch.plan, key, path, fields[key])


@pytest.mark.parametrize("sheet", ANSWERED)
def test_each_sheet_has_the_answers_of_the_pages_it_rests_on(launch: Assessment, sheet: str) -> None:
    """The answers as other programs are given them, from the report of the whole plan."""
    stages = json.loads(report(launch, "json"))["stages"]
    fields, more = fields_of(launch, sheet), OF_BURNING if burns(launch) else OF_BATTERY
    for names in (ANSWERED[sheet], more.get(sheet, {})):
        for stage, keys in names.items():
            for key in keys.split():
                assert fields[key] == stages[stage]["answers"][key], (stage, key)
    assert sum(value is None for value in fields.values()) <= 3, "the launch has given nearly all"


def test_a_default_and_a_guess_are_told_from_what_was_given(launch: Assessment) -> None:
    """On the line itself, and under what is assumed; the air takes power from a diesel only."""
    plan = with_text(with_text(launch.plan, "hull.displacement", "not known"), "hull.screws", "")
    assessment = assess(with_text(plan, "engine.intake_air", ""))
    text = report(assessment, "text", sheet="engine")
    assert re.search(r"Displacement, ready for sea \.+ \d+ lb\s+\(\d+ to \d+\) \(a guess\)", text)
    assert re.search(r"Number of (engines|motors) \.+ 1 \(default\)", text)
    assert re.search(r"Engine room, length \.+ 4 ft 2 in$", text, re.MULTILINE)
    assumed = {
        each["label"]: each["source"] for each in json.loads(report(assessment, "json", sheet="engine"))["assumed"]
    }
    assert assumed["Displacement, ready for sea"].startswith("not known: what is usual for such boats")
    assert (label_at(plan, "engine.intake_air") in assumed) is burns(launch)


@pytest.mark.parametrize(
    ("sheet", "what"), [("propeller", "Stamp diameter"), ("engine", "Data sheet"), ("yard", "Hub seated")]
)
def test_what_is_to_be_done_has_a_box_to_tick_in_every_form(sheet: str, what: str) -> None:
    assessment = assess(load_plan(ROOT / "saved_plans" / "bittern.toml"))
    assert f"\n[ ] {what}" in report(assessment, "text", sheet=sheet)
    assert f"\n- \\[ \\] {what}" in report(assessment, "markdown", sheet=sheet)
    html = report(assessment, "html", sheet=sheet).replace("\N{NO-BREAK SPACE}", " ")
    (kind,) = re.findall(rf"<ul([^>]*)>(?:(?!</ul>).)*<li>{what}", html, re.DOTALL)
    assert kind == ' class="tick"'


def test_the_report_says_go_or_not_yet_and_why_as_the_review_page_does() -> None:
    """Not "go" for a gear whose rotation nobody knows, nor "not yet" for the engine before it."""
    assessment = assess(load_plan(ROOT / "saved_plans" / "bittern.toml"))
    text = " ".join(report(assessment, "text").split())
    items = {item.called: item for item in readiness(assessment)}
    assert {item.go for item in items.values()} == {True, False}
    for called, item in items.items():
        (told,) = re.findall(rf"- {called}: (go|not yet)(?=[.,])", text)
        assert (told == "go") is item.go
        assert all(reason.text in text for reason in item.reasons)


def test_a_hand_that_is_not_known_is_asked_for_on_every_sheet_it_stands_on() -> None:
    """A shop that sees no line for it makes what it makes most."""
    assessment = assess(load_plan(ROOT / "saved_plans" / "bittern.toml"))
    hand = assessment.outcomes["propeller"].answers.hand
    assert "ask its maker" in hand
    for sheet in ("propeller", "engine", "yard"):
        assert fields_of(assessment, sheet)["hand"] == hand
        assert "as the gear's output turns: ask its maker" in " ".join(report(assessment, "text", sheet=sheet).split())
    enquiry = report(assessment, "text", sheet="engine")
    assert re.search(r"^Output turns, ahead, seen from astern \.+ not given$", enquiry, re.MULTILINE)


def test_the_shop_is_told_how_much_of_the_doubt_is_the_pitch_as_it_is_made() -> None:
    """Not how much the largest of all is; nothing where the page has no row for it."""
    for name, rows_of_pitch in (("bittern", 1), ("two-sisters", 1), ("dunlin", 0)):
        assessment = assess(load_plan(ROOT / "saved_plans" / f"{name}.toml"))
        rows = {row.action: row.share_fraction for row in assessment.outcomes["propeller"].answers.doubt}
        mine = [share for action, share in rows.items() if "pitch" in action.lower()]
        text = " ".join(report(assessment, "text", sheet="propeller").split())
        told = re.findall(r"How exactly the pitch is made is worth (\d+) % of the doubt", text)
        assert told == [f"{100.0 * share:.0f}" for share in mine]
        assert len(told) == rows_of_pitch
        assert max(rows.values()) not in mine, "the largest is another"


def test_what_is_from_memory_or_a_choice_of_standard_says_so_beside_its_figure(launch: Assessment) -> None:
    order = " ".join(report(launch, "text", sheet="propeller").split())
    for label, note in (
        ("Hub", "from memory"),
        ("Rated power at the wheel", "all losses taken off"),
        ("Pitch, whole wheel, + or -", "1 %"),
    ):
        assert re.search(rf"{re.escape(label)}[^.]* \.+ [\d./ ]+ (in|hp) (\([\d./ to]+\) )?\({note}\)", order), label


def test_the_card_has_the_band_of_what_is_burnt_or_drawn(launch: Assessment) -> None:
    """A single figure would be held against a reading to its last digit. The box beside it is of the same."""
    head = re.search(r"^\| (?:Engine|Motor), rpm .*$", report(launch, "markdown", sheet="trial"), re.MULTILINE)
    assert head
    assert ("| Fuel, US gal/h |" in head[0], "| Drawn, kW |" in head[0]) == (burns(launch), not burns(launch))
    markdown = report(launch, "markdown", sheet="trial")
    (row,) = re.findall(r"^\| 1200 \|.*$", markdown, re.MULTILINE)
    for cell in row.split("|")[2:4]:
        assert re.fullmatch(r" [\d.]+ \([\d.]+-[\d.]+\) ", cell), cell


def test_nothing_is_printed_for_a_page_that_waits(launch: Assessment) -> None:
    """Each figure of it says "not yet", also one that is left out where it is not known; no line is without a name."""
    waiting = assess(with_text(launch.plan, "propeller.room", ""))
    stages = json.loads(report(waiting, "json"))["stages"]
    assert {stage for stage, found in stages.items() if found["answers"] is None} >= {"gear", "propeller", "shaft"}
    more = OF_BURNING if burns(launch) else OF_BATTERY
    for sheet, names in ANSWERED.items():
        lines = {line.key: line for line in order_sheet(sheet, waiting).lines}
        assert all(line.label.text for line in lines.values())
        for stage, keys in (*names.items(), *more.get(sheet, {}).items()):
            if stages[stage]["answers"] is None and sheet != "trial":
                assert {lines[key].text("imperial") for key in keys.split()} == {"not yet"}, (sheet, stage)


def test_the_report_marks_what_was_not_understood_and_nothing_else(launch: Assessment) -> None:
    odd = assess(with_text(launch.plan, "fit.opening_width", "wide"))
    assert report(launch, "text").count("not understood") == 0
    assert re.search(r" \.+ wide \(not understood\)", report(odd, "text"))
    assert report(odd, "text").count("(not understood)") == 1


ASSUMED = {
    "engine": "speed.cruise speed.top power.sea_margin engine.intake_air engine.humidity engine.altitude "
    "engine.raw_water kind power_at gear.efficiency gear.shaft_efficiency",
    "propeller": "kind power_at gear.efficiency gear.shaft_efficiency propeller.tip_clearance propeller.blades "
    "propeller.area_measure propeller.sections propeller.light_running propeller.margin_state propeller.room "
    "shaft.material",
    "yard": "kind shaft.material shaft.use fit.exhaust fit.ducts fit.outside_air gear.efficiency",
    "trial": "power.time_since_cleaning kind gear.efficiency gear.shaft_efficiency",
}
GUESSED = ("speed.cruise", "speed.top", "propeller.room")


def test_what_each_sheet_rests_on_and_nobody_has_said_stands_on_it_as_assumed() -> None:
    """Everything is left empty that may be, and what is needed is not known."""
    plan = load_plan(ROOT / "saved_plans" / "bittern.toml")
    paths = {path if "." in path else f"{DIESEL}.{path}" for names in ASSUMED.values() for path in names.split()}
    for path in (*sorted(paths), f"{DIESEL}.power_lost"):
        plan = with_text(plan, path, "not known" if path in GUESSED else "")
    assessment = assess(plan)
    for sheet, names in ASSUMED.items():
        told = {each["label"] for each in json.loads(report(assessment, "json", sheet=sheet))["assumed"]}
        wanted = {label_at(plan, path if "." in path else f"{DIESEL}.{path}") for path in names.split()}
        assert wanted <= told, sheet


def test_the_shop_has_the_room_that_boat_practice_wants_and_is_told_of_two_wheels() -> None:
    """0.15 of the diameter ahead at the least and 0.10 aft: boat practice, from memory."""
    for name, is_twin in (("bittern", False), ("two-sisters", True)):
        assessment = assess(load_plan(ROOT / "saved_plans" / f"{name}.toml"))
        fields = fields_of(assessment, "propeller")
        assert [fields[f"{side}_m"] / fields["diameter_m"] for side in ("ahead", "aft")] == pytest.approx([0.15, 0.10])
        text = " ".join(report(assessment, "text", sheet="propeller").split())
        assert ("Two wheels, tops outward as is usual: ask the gear's maker" in text) is is_twin
