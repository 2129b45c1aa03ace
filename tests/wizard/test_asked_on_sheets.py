"""The sheets have what a propeller shop, a yard and a dealer ask, and say what is still to be agreed with them."""

import json
import re
from dataclasses import replace
from typing import Any

import pytest

from engine import assess
from engine.findings import Verdict
from engine.plan import Plan, entry_at, value_at, with_text
from engine.planfile import load_plan
from tests.conftest import ROOT
from wizard.echo import understood
from wizard.handover import report


def sheet_of(plan: Plan, sheet: str) -> tuple[dict[str, Any], str]:
    """Its figures, and its words on one line."""
    assessment = assess(plan)
    fields: dict[str, Any] = json.loads(report(assessment, "json", sheet=sheet)).get("fields", {})
    return fields, " ".join(report(assessment, "text", sheet=sheet).split())


def order(plan: Plan) -> tuple[dict[str, Any], str]:
    return sheet_of(plan, "propeller")


def bittern() -> Plan:
    return load_plan(ROOT / "saved_plans" / "bittern.toml")


def test_the_order_says_what_boat_the_wheel_drives_and_what_she_has_now() -> None:
    fields, text = order(bittern())
    assert fields["kind"] == "full-keel launch"
    assert fields["propeller_place"] == "in an aperture behind a full keel"
    assert fields["waterline_length_m"] == 31.5 * 0.3048
    assert fields["displacement_kg"]["best"] == 14800 * 0.45359237
    assert fields["cruise_kn"] == 6.3
    assert fields["present_propeller_diameter_m"] == 18 * 0.0254
    assert fields["present_propeller_pitch_m"] == 13 * 0.0254
    assert "Present propeller, diameter ................. 18 in" in text
    assert "Present gear ratio .......................... 2:1" in text, (
        "as the gear ratio of the plan, and as it is typed"
    )


def test_what_is_not_known_of_the_present_wheel_takes_no_room() -> None:
    fields, text = order(with_text(bittern(), "present.propeller_pitch", ""))
    assert "present_propeller_pitch_m" not in fields
    assert "Present propeller, pitch" not in text
    assert "Present propeller, diameter" in text


def test_the_bore_is_set_beside_the_shaft_that_is_in_her_now() -> None:
    fields, text = order(bittern())
    assert fields["shaft_diameter_m"] == 1.125 * 0.0254
    assert fields["present_shaft_diameter_m"] == 1.25 * 0.0254
    assert "The bore above is for the new shaft" in text
    same, words = order(with_text(bittern(), "present.shaft_diameter", "1 1/8 in"))
    assert same["present_shaft_diameter_m"] == 1.125 * 0.0254
    assert "The bore above is for the new shaft" not in words


def test_metal_and_cup_are_named_and_what_is_to_be_agreed_has_room_to_write() -> None:
    for plan in (bittern(), Plan(name="Bare")):
        fields, text = order(plan)
        assert fields["cup"] == "none"
        assert fields["metal"] is None
        assert "Metal ....................................... to be agreed" in text
        assert "a cup takes power like more pitch" in text
        for words in ("Metal of wheel and nut ___", "Taper and keyway, measured ___", "Owner, and how to reach ___"):
            assert words in text


def test_the_yard_sees_what_goes_in() -> None:
    fields, text = sheet_of(bittern(), "yard")
    assert fields["name"] == "Three-cylinder, 27 hp"
    assert fields["rated_rpm"] == 3000
    assert fields["ratio"] == 2.99
    assert fields["size"] == "18 x 14.5 in, 3 blades"
    assert "Engine ...................................... Three-cylinder, 27 hp" in text
    electric, words = sheet_of(with_text(bittern(), "engine.chosen", "Motor, 15 kW, 40 kWh"), "yard")
    assert electric["name"] == "Motor, 15 kW, 40 kWh"
    assert "Motor ....................................... Motor, 15 kW, 40 kWh" in words
    bare, waiting = sheet_of(Plan(name="Bare"), "yard")
    assert bare["name"] is None
    assert "Engine ...................................... not yet" in waiting


def test_what_is_not_given_to_a_check_of_the_yard_is_said_in_one_piece() -> None:
    _, text = sheet_of(bittern(), "yard")
    assert "Bearers apart: wanted 16 in, as the new mounts; not given: find it out." in text
    assert "yours -" not in text


def test_the_enquiry_has_its_fuel_in_its_own_units_and_names_each_side_of_the_room() -> None:
    plan = bittern()
    fields, text = sheet_of(replace(plan, units="metric"), "engine")
    assert "US gal" not in text
    assert fields["usable_l"] == assess(plan).outcomes["range"].answers.usable_l
    for words in ("Engine room, length ...", "Engine room, width ...", "Engine room, height ..."):
        assert words in text


def test_the_enquiry_says_what_turns_in_her_now() -> None:
    fields, text = sheet_of(bittern(), "engine")
    assert fields["present_engine_power_kw"] == bittern().present.engine_power.si / 1e3
    assert fields["present_gear_ratio"] == 2.0
    assert "Present engine, rated power ................. 42 hp" in text


def test_what_the_owner_gave_stands_on_the_sheets_as_the_screen_shows_it() -> None:
    plan = bittern()
    typed = {"present.propeller_diameter": "18.25 in", "shaft.overhang": "3.625 in", "hull.displacement": "14850 lb"}
    for path, text in typed.items():
        plan = with_text(plan, path, text)
    _, words = sheet_of(plan, "propeller")
    for path, text in typed.items():
        assert text in understood(entry_at(path), value_at(plan, path))
        assert f".. {text}" in words


def test_a_ratio_and_the_speed_of_the_shaft_are_the_same_on_every_paper() -> None:
    plan = with_text(bittern(), "gear.ratios", "2.045; 2.955")
    texts = {sheet: sheet_of(plan, sheet)[1] for sheet in ("engine", "propeller", "yard", "plan")}
    for sheet, text in texts.items():
        assert "2.955" in text, sheet
        assert "1015 rpm" in text, sheet
        assert "1020 rpm" not in text, sheet
        assert sheet == "plan" or "2.96" not in text


def test_the_demand_is_headed_by_the_states_that_were_tried() -> None:
    """Without a frontal area no wind is tried; before there is a propeller, only what the margin makes of it."""
    windless = with_text(bittern(), "hull.windage_area", "")
    waiting = with_text(bittern(), "propeller.room", "")
    for plan, column, head, others in (
        (bittern(), "foul_or_wind_kw", "Foul or into wind, at most", ("foul_kw", "service_kw")),
        (windless, "foul_kw", "Foul, at most", ("foul_or_wind_kw", "service_kw")),
        (waiting, "service_kw", "With the margin, at most", ("foul_or_wind_kw", "foul_kw")),
    ):
        assessment = assess(plan)
        rows = json.loads(report(assessment, "json", sheet="engine"))["tables"]["demand"]
        assert rows
        assert all(row[column] == row["worst_kw"] > row["power_kw"]["best"] for row in rows)
        assert all(row[other] is None for row in rows for other in others)
        markdown = report(assessment, "markdown", sheet="engine")
        assert f"| {head}" in markdown
        assert ("wind, at most" in markdown) is (column == "foul_or_wind_kw")
        assert f"{head[0].lower()}{head[1:]}" in report(assessment, "html", sheet="engine")


def test_the_yard_is_told_of_two_engines_and_that_a_weight_is_that_of_each() -> None:
    twin = load_plan(ROOT / "saved_plans" / "two-sisters.toml")
    fields, text = sheet_of(twin, "yard")
    assert re.search(r"Engine \.{9,} \S.* \(two of them\)", text)
    assert "Weights of each engine, and trim" in text
    change = 2.0 * (fields["engine_weight_kg"] - fields["present_engine_weight_kg"])
    assert abs(fields["weight_change_kg"] - change) < 1.0
    _, words = sheet_of(bittern(), "yard")
    assert "each engine" not in words
    assert "two of them" not in words


def test_a_dry_exhaust_is_lagged_and_has_neither_hose_nor_anti_siphon_loop() -> None:
    """A hand laid on a dry pipe to feel whether it keeps under 70 C is burnt."""
    for exhaust, is_wet in (("wet", True), ("dry", False)):
        plan = with_text(bittern(), "fit.exhaust", exhaust)
        yard, card = sheet_of(plan, "yard")[1], sheet_of(plan, "trial")[1]
        assert ("anti-siphon valve free" in yard) is is_wet
        assert ("lagged from end to end" in yard) is not is_wet
        assert ("can pass 400 C" in yard) is not is_wet
        assert ("skin of the exhaust hose" in card) is is_wet


def test_the_shop_is_told_what_the_propeller_page_wants_looked_at_again() -> None:
    """A wheel with less blade area than cavitation asks for is not ordered from a sheet that is silent on it."""
    small = with_text(load_plan(ROOT / "saved_plans" / "two-sisters.toml"), "propeller.area_ratio", "0.35")
    chosen = with_text(with_text(small, "propeller.diameter", "600 mm"), "propeller.pitch", "450 mm")
    looks = [f.text for f in assess(chosen).outcomes["propeller"].findings if f.verdict is Verdict.LOOK]
    area = [text for text in looks if "Take more blade area" in text]
    said = order(chosen)[1].partition("look at again before it is made")[2]
    assert area
    assert all(text in said for text in area)
    assert f"{len(looks) - 2} more second looks: see the sheet of the whole plan." in said
    in_json = json.loads(report(assess(chosen), "json", sheet="propeller"))["second_looks"]
    assert all(text in in_json for text in area)
    assert sorted(in_json) == sorted(looks), "another program is told all of them"
    assert "look at again" not in order(load_plan(ROOT / "saved_plans" / "two-sisters.toml"))[1]


def test_the_order_has_every_row_of_the_class_and_the_pull_at_the_bollard() -> None:
    """The four rows of a class: wheel, blade, radius, any place (ISO 484-2, as printed in two summaries)."""
    plan = bittern()
    fields, _ = order(plan)
    rows = [fields[f"{part}_pitch_tolerance_m"] / fields["pitch_m"] for part in ("wheel", "blade", "radius", "local")]
    assert rows == pytest.approx([0.01, 0.015, 0.02, 0.03])
    pull = assess(plan).outcomes["propeller"].answers.bollard_pull_n
    assert fields["bollard_pull_n"] == {"best": pull.best, "low": pull.low, "high": pull.high}


def test_a_sheet_is_understood_by_one_who_has_not_seen_the_program() -> None:
    """Each label says what it is of; what stands in brackets is explained where there are any."""
    plan = bittern()
    wheel, engine, yard, card = (sheet_of(plan, sheet)[1] for sheet in ("propeller", "engine", "yard", "trial"))
    assert re.search(r"\bPitch \.+ 14.5 in \(of the driving face, at 0.7 of the radius\)", wheel)
    for sheet in (wheel, engine, yard):
        assert "Rated power at the crankshaft" in sheet
        assert "Gear ratio ....." in sheet
        assert " Ratio ....." not in sheet
    for sheet in (engine, yard):
        assert "Hand of the propeller" in sheet
    assert "Engine reckoned with, length" in engine
    assert "The engine that is reckoned with" in engine
    assert "Propeller ........................" in yard
    for sheet in (wheel, engine, yard, card):
        assert "In brackets: 10th and 90th percentile of many plausible versions" in sheet
    assert "In brackets" not in sheet_of(Plan(name="Bare"), "propeller")[1]
    assert "- Blade area is given as: expanded area ratio (default" in wheel, "there is nothing above it on paper"
    assert "repitched by about 2 in (50 mm); stainless by about 1 in (25 mm" in wheel


def test_the_room_round_the_wheel_is_that_of_her_stern() -> None:
    """A strut has no sole piece below it; the gap that this wheel has is not the one that was asked for."""
    in_aperture = bittern()
    fields, text = order(in_aperture)
    assert fields["below_m"] == pytest.approx(0.03 * fields["diameter_m"])
    assert "Tip clearance of this wheel ................. 3 in (17 % of the diameter)" in text
    assert "The standard is for 31.5 in to 98.4 in" in text, "inches for one who thinks in them"
    on_strut, words = order(with_text(in_aperture, "hull.propeller_place", "on a shaft and strut in clear water"))
    assert "below_m" not in on_strut
    assert "sole piece" not in words


def card_of(plan: Plan) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(report(assess(plan), "json", sheet="trial"))
    return found


def test_the_top_of_the_trial_card_and_its_last_row_say_the_same() -> None:
    """Also once a trial is entered, which moves what the propeller page expects."""
    for name in ("bittern", "dunlin"):
        plan = load_plan(ROOT / "saved_plans" / f"{name}.toml")
        card = card_of(plan)
        fields, last = card["fields"], card["tables"]["predicted"][-1]
        assert fields["top_kn"] == last["speed_kn"]
        assert last["at"].startswith(f"full, {fields['full_throttle_rpm']['best']:.0f} ")
        assert fields["size"] == assess(plan).outcomes["trial"].answers.size
        assert ("reaches_rated_fraction" in fields) is (name == "bittern")


def test_no_speed_below_idle_is_asked_for() -> None:
    for path, text in (("propeller.room", "24 in"), ("propeller.room", "")):
        plan = with_text(with_text(bittern(), "engine.candidate.0.idle_speed", "1050 rpm"), path, text)
        idle, *rows = card_of(plan)["tables"]["predicted"]
        assert idle["at"] == "idle, 1050"
        assert [row["engine_rpm"] for row in rows][:2] == pytest.approx([1200.0, 1400.0])


def test_the_boxes_of_the_trial_card_say_their_units_and_how_deep_the_water_is_to_be() -> None:
    """Five draughts of 3 ft 4 in are 16 ft 8 in, and more than four tenths of her length (from memory)."""
    text = sheet_of(bittern(), "trial")[1]
    for words in ("Fuel, US gal/h", "Coolant, F", "Exhaust, in Hg"):
        assert words in re.sub(r" +", " ", " ".join(report(assess(bittern()), "html", sheet="trial").split())), words
    assert "Water depth, at least 16 ft 8 in ___" in text
    assert "Both engines alike" not in text
    twin = load_plan(ROOT / "saved_plans" / "two-sisters.toml")
    assert "Both engines alike at each speed" in sheet_of(twin, "trial")[1]
    assert "Water depth ___" in sheet_of(Plan(name="Bare"), "trial")[1]
    assert "_" * 16 in report(assess(twin), "text", sheet="trial").partition("Remark")[2]


def test_a_flexible_seal_has_no_packing() -> None:
    for seal, has_packing in (("stuffing box", True), ("flexible seal", False)):
        assert (
            "packing of a stuffing box" in sheet_of(with_text(bittern(), "shaft.seal", seal), "yard")[1]
        ) is has_packing


def test_who_is_sent_a_sheet_is_not_told_how_he_runs_his_engine() -> None:
    plan = with_text(with_text(bittern(), "engine.hours_per_year", "900 h"), "engine.candidate.0.duty", "light")
    for sheet in ("engine", "yard", "propeller"):
        text = sheet_of(plan, sheet)[1]
        assert "engine runs some 900 hours a year" in text
        assert "ou run it" not in text


def test_the_yard_has_the_size_of_what_it_carries_in_and_the_weight_of_the_wheel() -> None:
    fields, text = sheet_of(bittern(), "yard")
    assert fields["engine_size"] == "33 in x 20 in x 24 in"
    assert fields["opening_width_m"] == pytest.approx(26.0 * 0.0254)
    assert sheet_of(with_text(bittern(), "engine.candidate.0.height", ""), "yard")[0]["engine_size"] is None
    assert fields["propeller_weight_kg"] == pytest.approx(26.0 * 0.45359237)
    assert "Narrowest opening on the way in ............. 2 ft 2 in" in text


def test_the_margin_of_the_critical_speed_says_over_what(launch: Plan) -> None:
    """A surveyor who takes it over the rated shaft speed, which stands beside it, finds another number."""
    found = assess(launch)
    shaft, wheel = (found.outcomes[stage].answers for stage in ("shaft", "propeller"))
    highest = wheel.full_throttle_rpm.high / found.outcomes["gear"].answers.ratio
    assert shaft.whirling_margin_fraction == pytest.approx(shaft.critical_rpm / highest - 1.0)
    assert "Critical speed above fastest by" in sheet_of(launch, "yard")[1]


def test_a_default_that_follows_another_page_stands_on_the_enquiry_as_it_is_reckoned_with() -> None:
    plan = replace(bittern(), units="metric")
    tropics = with_text(with_text(plan, "engine.raw_water", ""), "hull.water_temperature", "29 C")
    fields, text = sheet_of(tropics, "engine")
    assert fields["raw_water_c"] == 29.0
    assert re.search(r"Raw water \.+ 29 C \(default\)", text)


def test_of_two_screws_it_is_said_that_their_hands_are_only_the_usual_ones() -> None:
    """The enquiry had "Output turns: not given" above the hand of each wheel, and nothing said where that was from."""
    twin = load_plan(ROOT / "saved_plans" / "two-sisters.toml")
    assert "Two wheels, tops outward as is usual: ask the gear's maker" in order(twin)[1]
    fields, _ = sheet_of(twin, "engine")
    assert fields["output_turns"] == "usually one each way"
    fields, _ = sheet_of(with_text(twin, "gear.output_turns", "clockwise"), "engine")
    assert fields["output_turns"] == "clockwise", "what the owner gave comes first"
