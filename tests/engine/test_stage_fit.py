"""The fit page: what the new engine asks of the boat, against what is there."""

from collections.abc import Callable

import pytest

from engine.assessment import Assessment
from engine.findings import Finding, Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan
from engine.stages.fit_answers import CheckRow, FitAnswers
from engine.stages.wording import Wording
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def fit(found: Assessment) -> FitAnswers:
    answers = found.outcomes["fit"].answers
    assert isinstance(answers, FitAnswers)
    return answers


def finding(found: Assessment, words: str) -> Finding:
    (one,) = (finding for finding in found.outcomes["fit"].findings if words in finding.text)
    return one


def row(found: Assessment, item: str) -> CheckRow:
    (one,) = (row for row in fit(found).checks if item in row.item)
    return one


def test_nothing_described_gives_what_is_wanted_and_judges_nothing(launch: Plan) -> None:
    found = assess(launch)
    answers = fit(found)
    assert answers.vent_area_m2
    assert answers.exhaust_bore_m
    assert answers.raw_water_l_per_min
    assert answers.fuel_line_bore_m
    assert all(check.standing == "not given" for check in answers.checks if check.item != "air at the intake")


@pytest.mark.parametrize(
    ("field", "enough", "too_little", "item"),
    [
        ("fit.vent_area", "400 cm2", "60 cm2", "vents"),
        ("fit.exhaust_bore", "76 mm", "25 mm", "bore of the exhaust"),
        ("fit.injection_height", "350 mm", "50 mm", "injection"),
        ("fit.inlet_bore", "32 mm", "10 mm", "raw-water inlet"),
        ("fit.fuel_line_bore", "10 mm", "4 mm", "supply line"),
        ("fit.suction_lift", "0.5 m", "3 m", "pump above"),
    ],
)
def test_each_check_fits_or_asks_to_look_again(
    launch: Plan, change: Change, field: str, enough: str, too_little: str, item: str
) -> None:
    good, bad = (assess(change(launch, {field: text})) for text in (enough, too_little))
    assert row(good, item).standing == Verdict.FITS.value
    assert row(bad, item).standing == Verdict.LOOK.value
    (judged,) = (each for each in bad.outcomes["fit"].findings if each.path == field and item in each.text.lower())
    assert judged.verdict is Verdict.LOOK


def test_a_loop_makes_up_for_a_low_injection(launch: Plan, change: Change) -> None:
    found = assess(change(launch, {"fit.injection_height": "-100 mm", "fit.loop_height": "500 mm"}))
    assert row(found, "injection").standing == Verdict.FITS.value


def test_every_check_names_who_decides(launch: Plan, change: Change) -> None:
    described = {
        "fit.vent_area": "400 cm2",
        "fit.exhaust_bore": "76 mm",
        "fit.riser_height": "0.6 m",
        "fit.muffler_volume": "8 L",
        "fit.inlet_bore": "32 mm",
        "fit.fuel_line_bore": "8 mm",
        "fit.fuel_line_length": "2 m",
        "fit.cranking_current": "500 A",
        "engine.candidate.0.swept_volume": "1.6 L",
    }
    found = assess(change(launch, described))
    judged = [each for each in found.outcomes["fit"].findings if "wanted" in each.text]
    assert len(judged) >= len(described)
    assert all("decide" in each.source for each in judged)
    assert all("(" in each.source for each in judged if "ISO" in each.source)  # number and title


def test_less_weight_floats_her_up_and_trims_her_by_its_place(launch: Plan, change: Change) -> None:
    aft = fit(assess(change(launch, {"fit.present_place": "2 m"})))
    forward = fit(assess(change(launch, {"fit.present_place": "9 m"})))
    assert aft.weight_change_kg == pytest.approx(260.0 - 420.0)
    assert aft.sinkage_m is not None
    assert forward.sinkage_m is not None
    assert aft.sinkage_m < 0.0
    assert forward.sinkage_m == pytest.approx(aft.sinkage_m)
    assert aft.stern_m is not None
    assert aft.bow_m is not None
    assert forward.bow_m is not None
    assert aft.stern_m < aft.bow_m
    assert forward.bow_m < aft.bow_m


def test_a_large_change_of_weight_asks_for_a_stability_check(launch: Plan, change: Change) -> None:
    small = assess(change(launch, {"present.engine_weight": "300 kg"}))
    large = assess(change(launch, {"present.engine_weight": "700 kg"}))
    assert finding(small, "All together").verdict is Verdict.FITS
    judged = finding(large, "All together")
    assert judged.verdict is Verdict.LOOK
    assert "stability" in judged.text
    assert "ISO 12217-1 (" in judged.source


def test_a_generator_is_said_to_be_an_engine_that_nobody_has_checked(launch: Plan, change: Change) -> None:
    electric = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    serial = change(electric, {"engine.motor.0.generator_power": "6 kW"})

    def told(plan: Plan) -> list[str]:
        return [each.text for each in assess(plan).outcomes["fit"].findings if "enerator" in each.text]

    assert not told(launch)
    assert not told(electric)
    own, weight = told(serial)
    assert "exhaust gas kills" in own
    assert "other weight put in" in weight
    assert told(change(serial, {"fit.other_weight": "160 kg"})) == [own]


@pytest.mark.parametrize(
    ("kind", "length", "parts"),
    [
        ("full-keel launch", "11.2 m", ["12217-1"]),
        ("long-keel sailing yacht", "11.2 m", ["12217-2"]),
        ("full-keel launch", "4.7 m", ["12217-3", "12217-1"]),
    ],
)
def test_the_stability_standard_that_is_named_is_the_one_for_her(
    launch: Plan, change: Change, kind: str, length: str, parts: list[str]
) -> None:
    short = {"hull.displacement": "1 t", "hull.hull_draft": "0.3 m", "hull.waterline_beam": "1.8 m"}
    changes = {"hull.kind": kind, "hull.waterline_length": length} | (short if length == "4.7 m" else {})
    source = finding(assess(change(launch, changes)), "All together she gets").source
    named = [part for part in ("12217-3", "12217-2", "12217-1") if f"ISO {part} (" in source]
    assert named == parts


def test_much_more_power_is_a_matter_for_the_law(launch: Plan, change: Change) -> None:
    assert finding(assess(change(launch, {"present.engine_power": "20 kW"})), "European law").verdict is Verdict.LOOK
    assert finding(assess(change(launch, {"present.engine_power": "29 kW"})), "more power").verdict is Verdict.FITS


def test_the_heaviest_mount_bears_its_share_of_weight_and_torque(launch: Plan, change: Change) -> None:
    places = {"fit.mounts_ahead": "300 mm", "fit.mounts_behind": "300 mm", "fit.mount_track": "500 mm"}
    load = fit(assess(change(launch, places))).mount_load_n
    assert load is not None
    assert load > 260.0 * 9.80665 / 4.0


def test_the_mounts_bear_the_torque_and_thrust_of_the_gear_and_shaft_pages(launch: Plan, change: Change) -> None:
    """With the smallest ratio rated for the engine alone, the deepest on offer is not the one recommended."""
    places = {"fit.mounts_ahead": "300 mm", "fit.mounts_behind": "300 mm", "fit.mount_track": "500 mm"}
    found = assess(change(launch, places | {"gear.ratings": "2; 1; 1 kW per 100 rpm"}))
    gear, shaft = found.outcomes["gear"].answers, found.outcomes["shaft"].answers
    assert gear.ratio == 2.0
    load = fit(found).mount_load_n
    assert load == pytest.approx(260.0 * 9.80665 / 4.0 + gear.shaft_torque_nm / (2.0 * 0.5))
    thrust = shaft.static_thrust_n.best
    assert thrust > shaft.thrust_n.best
    assert f"thrust {Wording('metric').force(thrust)} on all" in finding(found, "heaviest mount").text


def test_an_electric_drive_asks_for_no_air_and_no_exhaust(launch: Plan) -> None:
    found = assess(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]))
    answers = fit(found)
    assert answers.vent_area_m2 is None
    assert answers.exhaust_bore_m is None
    assert "conversion" in finding(found, "diesel to electric").text
    assert "ISO 16315" in finding(found, "qualified person: what").source


def test_a_battery_that_was_not_weighed_is_told_to_be_a_guess(launch: Plan, change: Change) -> None:
    plan = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    judged = finding(assess(plan), "battery is reckoned at")
    assert judged.verdict is Verdict.LOOK
    assert "from memory" in judged.source
    weighed = assess(change(plan, {"engine.motor.0.battery_weight": "400 kg"}))
    assert not [each for each in weighed.outcomes["fit"].findings if "reckoned" in each.text]


def test_a_long_exhaust_wants_a_larger_bore(launch: Plan, change: Change) -> None:
    run = {"fit.exhaust_length": "4 m", "fit.exhaust_bore": "60 mm"}
    short, long = (
        row(assess(change(launch, run | {"fit.exhaust_length": text})), "exhaust run") for text in ("3 m", "9 m")
    )
    assert short.standing == Verdict.FITS.value
    assert long.standing == Verdict.LOOK.value


def test_a_wet_line_wants_1_4_times_the_bore_of_a_dry_one(launch: Plan, change: Change) -> None:
    wet, dry = (fit(assess(change(launch, {"fit.exhaust": kind}))).exhaust_bore_m for kind in ("wet", "dry"))
    assert wet == pytest.approx(1.4 * (dry or 0.0))


def test_mounts_that_miss_the_bearers_are_told(launch: Plan, change: Change) -> None:
    track = {"fit.mount_track": "500 mm"}
    good, bad = (
        row(assess(change(launch, track | {"fit.bearers_apart": text})), "bearers") for text in ("490 mm", "420 mm")
    )
    assert (good.standing, bad.standing) == (Verdict.FITS.value, Verdict.LOOK.value)


def test_a_room_that_is_just_large_enough_fits(launch: Plan, change: Change) -> None:
    """0.515 m and twice 25 mm come to a hair over 0.565 m as binary numbers: no order may hang on that."""
    size = {"engine.candidate.0.length": "515 mm"}
    just, short = (change(launch, size | {"fit.room_length": text}) for text in ("0.565 m", "0.564 m"))
    assert row(assess(just), "clear length").standing == Verdict.FITS.value
    assert row(assess(short), "clear length").standing == Verdict.LOOK.value


def test_as_much_weight_in_as_out_moves_her_by_the_trim_alone(launch: Plan, change: Change) -> None:
    same = {"present.engine_weight": "260 kg", "fit.present_place": "3 m"}
    still, moved = (
        finding(assess(change(launch, {**same, "fit.new_place": place})), "All together").text
        for place in ("3 m", "5 m")
    )
    assert "keeps her weight and floats as before, at the bow as before, at the stern as before" in still
    assert "keeps her weight and floats as before, at the bow" in moved
    assert "cm deeper" in moved
    assert "cm higher" in moved


def test_two_engines_stand_side_by_side_in_their_room(launch: Plan, change: Change) -> None:
    twin = {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"}
    size = {"engine.candidate.0.width": "600 mm", "fit.room_width": "1.2 m"}
    one, two, wider = (change(launch, {**size, **more}) for more in ({}, twin, {**twin, "fit.room_width": "1.28 m"}))
    assert row(assess(one), "clear width").standing == Verdict.FITS.value
    narrow = finding(assess(two), "Clear width of the engine room, 2 side by side")
    assert (narrow.verdict, narrow.path) == (Verdict.LOOK, "fit.room_width")
    assert row(assess(wider), "clear width").standing == Verdict.FITS.value


def test_a_dry_exhaust_is_to_be_lagged(launch: Plan, change: Change) -> None:
    """Dry parts with a skin of more than 93 C (200 F): ABYC P-1, as a text prints it."""
    dry = assess(change(launch, {"fit.exhaust": "dry"}))
    said = finding(dry, "The gas in a dry exhaust")
    assert said.verdict is Verdict.LOOK
    assert "lag whatever has a skin of more than 93 C" in said.text
    assert said.path == "fit.exhaust"
    wet = assess(change(launch, {"fit.exhaust": "wet"}))
    assert not any("dry exhaust" in each.text for each in wet.outcomes["fit"].findings)
    motor = change(with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"]), {"fit.exhaust": "dry"})
    assert not any("dry exhaust" in each.text for each in assess(motor).outcomes["fit"].findings)
