"""What stands between the clean hull in calm water and service, line by line, and what the power page says of it."""

import re
from collections.abc import Callable

import numpy as np
import pytest

from engine.findings import Finding, Verdict
from engine.hull.appendages import APPENDAGE_KINDS
from engine.plan import Plan, with_row, with_units, with_value
from engine.stages.power import PowerAnswers
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def power(plan: Plan) -> tuple[PowerAnswers, tuple[Finding, ...]]:
    found = assess(plan).outcomes["power"]
    assert found.answers is not None, found.waits_for
    return found.answers, found.findings


def parts(plan: Plan) -> dict[str, float]:
    return {row.part: row.resistance_n.best for row in power(plan)[0].parts}


def test_the_parts_add_up_and_only_those_asked_for_are_there(launch: Plan, change: Change) -> None:
    service = change(
        launch,
        {
            "power.sea_margin": "0 %",
            "power.time_since_cleaning": "6 months",
            "power.wave_height": "0.3 m",
            "power.head_wind": "10 kn",
        },
    )
    found = parts(service)
    assert set(found) == {
        "clean hull, keel and rudder, calm deep water",
        "fouling",
        "air and wind",
        "head sea",
        "in service, all together",
    }
    total = found.pop("in service, all together")
    assert sum(found.values()) == pytest.approx(total, rel=0.02)  # medians of each
    assert set(parts(launch)) == {
        "clean hull, keel and rudder, calm deep water",
        "air and wind",
        "sea margin",
        "in service, all together",
    }


def test_half_a_year_without_cleaning_is_like_heavy_slime(launch: Plan, change: Change) -> None:
    _, findings = power(change(launch, {"power.time_since_cleaning": "6 months"}))
    assert any("After 6 months without cleaning she is as with heavy slime" in finding.text for finding in findings)


@pytest.mark.parametrize(
    ("given", "told"), [("1 month", "1 month"), ("10 days", "0.33 months"), ("1 year", "12 months")]
)
def test_a_short_time_without_cleaning_is_not_told_as_none(launch: Plan, change: Change, given: str, told: str) -> None:
    outcomes = assess(change(launch, {"power.time_since_cleaning": given})).outcomes
    assert any(f.text.startswith(f"After {told} without cleaning she") for f in outcomes["power"].findings)
    assert f"{told} without cleaning, calm water" in [row.state for row in outcomes["propeller"].answers.cases]


def test_growth_beyond_the_heaviest_class_is_said(launch: Plan, change: Change) -> None:
    _, findings = power(change(launch, {"power.time_since_cleaning": "5 years"}))
    assert any("heavy shell" in f.text and f.verdict is Verdict.LOOK for f in findings)


def test_warm_water_fouls_faster(launch: Plan, change: Change) -> None:
    months = {"power.time_since_cleaning": "6 months", "hull.water_temperature": "27 C"}
    cold, warm = (parts(change(launch, months | more)) for more in ({"hull.water_temperature": "15 C"}, {}))
    assert warm["fouling"] > 1.3 * cold["fouling"]
    for temperature, told in (("15 C", False), ("27 C", True)):
        _, findings = power(change(launch, months | {"hull.water_temperature": temperature}))
        (growth,) = [f for f in findings if "without cleaning she is" in f.text]
        assert ("tropics" in growth.source) == told


def test_foul_blades_lower_full_throttle_in_service_only(launch: Plan, change: Change) -> None:
    size = {"propeller.diameter": "22 in", "propeller.pitch": "15 in", "power.sea_margin": "0 %"}
    clean, foul = (
        assess(change(launch, size | more)).outcomes["propeller"]
        for more in ({}, {"power.time_since_cleaning": "8 months"})
    )
    assert foul.answers.full_throttle_rpm == clean.answers.full_throttle_rpm
    assert foul.answers.service_full_throttle_rpm.best < clean.answers.service_full_throttle_rpm.best - 5.0
    assert any("barnacles" in finding.text for finding in foul.findings)


def test_a_head_sea_says_how_rough_a_guess_it_is_and_where_the_formula_ends(launch: Plan, change: Change) -> None:
    _, findings = power(change(launch, {"power.wave_height": "1.2 m", "power.sea_margin": "40 %"}))
    texts = " ".join(finding.text for finding in findings)
    assert "rough guess" in texts
    assert "STAWAVE-1" in texts
    assert "both allowed for" in texts


def test_weather_given_beside_a_margin_by_default_is_told(launch: Plan, change: Change) -> None:
    """The margin stands for wind and waves: an owner who has not seen it would pay for them twice."""
    wind = {"power.head_wind": "15 kn"}
    for margin, told in (("", True), ("10 %", False), ("0 %", False)):
        _, findings = power(change(launch, wind | {"power.sea_margin": margin}))
        found = [finding for finding in findings if "both allowed for" in finding.text]
        assert len(found) == told
        assert all("15 % that stands there by default" in finding.text for finding in found)


def test_a_wind_without_a_frontal_area_is_not_allowed_for_and_not_said_to_be(launch: Plan, change: Change) -> None:
    bare = change(with_value(launch, "hull.windage_area", None), {"power.head_wind": "15 kn"})
    answers, findings = power(bare)
    calm, _ = power(change(bare, {"power.head_wind": "0 kn"}))
    assert answers.cruise_service_power_kw == calm.cruise_service_power_kw
    assert any("the head wind that you give counts for nothing" in finding.text for finding in findings)
    assert not any("both allowed for" in finding.text for finding in findings)


class TestDepth:
    def test_water_shallower_than_the_hull_stops(self, launch: Plan, change: Change) -> None:
        _, findings = power(change(launch, {"power.water_depth": "0.6 m"}))
        assert any(f.verdict is Verdict.STOP and "aground" in f.text for f in findings)

    def test_water_shallower_than_the_keel_stops(self, launch: Plan, change: Change) -> None:
        """The hull floats in a metre of water; her keel, 1.1 m deep, does not."""
        _, findings = power(change(launch, {"power.water_depth": "1 m"}))
        assert [f.text for f in findings if f.verdict is Verdict.STOP] == [
            "The water is no deeper than the draft to the bottom of her keel: she is aground."
        ]

    def test_what_the_depth_does_at_the_top_speed_is_said_where_cruise_is_spared(
        self, launch: Plan, change: Change
    ) -> None:
        slow = {"power.water_depth": "1.8 m", "speed.cruise": "4 kn", "speed.top": "6.5 kn"}
        _, findings = power(change(launch, slow))
        told = [f.text for f in findings if f.path == "power.water_depth" and "top speed" in f.text]
        assert told == [
            "At the top speed wanted, 6.5 kn, in this depth she squats and power climbs. Slow down to about 4.9 kn, or "
            "find about 3.2 m of water.",  # 0.6 sqrt(9.80665 x 1.8 m) = 2.521 m/s; (6.5 kn / 0.6)^2 / g = 3.167 m
            "At the top speed wanted, 6.5 kn, in this depth she is too fast for the formula to hold.",
        ]

    def test_about_so_much_water_is_told_in_feet_and_quarters_of_one(self, launch: Plan, change: Change) -> None:
        """3.167 m are 10 ft 4.7 in."""
        slow = {"power.water_depth": "1.8 m", "speed.cruise": "4 kn", "speed.top": "6.5 kn"}
        _, findings = power(with_units(change(launch, slow), "imperial"))
        assert any(f.text.endswith("find about 10 ft 6 in of water.") for f in findings)

    def test_what_is_close_to_too_shallow_is_told_in_numbers_with_what_to_do(
        self, launch: Plan, change: Change
    ) -> None:
        answers, findings = power(change(launch, {"power.water_depth": "2.7 m", "speed.cruise": "6.2 kn"}))
        (told,) = [f.text for f in findings if "squats" in f.text and "At cruise" in f.text]
        (lost,) = re.findall(r"At cruise this depth costs (\d+\.\d) % of her speed: she squats", told)
        assert "Slow down to about 6.0 kn, or find about 2.9 m of water." in told
        slower = 6.2 / (1.0 - float(lost) / 100.0)  # what she would make in deep water
        assert 0.02 < float(lost) / 100.0 < 0.15
        in_deep = np.interp(
            slower, *zip(*((row.speed_kn, row.resistance_n.best) for row in answers.curve), strict=True)
        )
        calm = np.interp(6.2, *zip(*((row.speed_kn, row.resistance_n.best) for row in answers.curve), strict=True))
        (shallow,) = [row.share_fraction for row in answers.parts if row.part == "shallow water"]
        assert shallow.best == pytest.approx(in_deep / calm - 1.0, abs=0.03)

    @pytest.mark.parametrize(("depth", "verdict"), [("1.7 m", Verdict.LOOK), ("2.2 m", Verdict.FITS)])
    def test_who_is_on_a_canal_is_told_that_its_banks_are_not_in_the_numbers(
        self, launch: Plan, change: Change, depth: str, verdict: Verdict
    ) -> None:
        """The hull of the launch draws 0.65 m: three times that is 1.95 m."""
        _, findings = power(change(launch, {"power.water_depth": depth, "speed.cruise": "5 kn", "speed.top": "6 kn"}))
        (told,) = [finding for finding in findings if "not in the numbers" in finding.text]
        assert told.verdict is verdict
        assert ("2.6 times as deep" in told.text) is (verdict is Verdict.LOOK)

    @pytest.mark.parametrize(("depth", "verdict"), [("1.8 m", Verdict.FITS), ("1.25 m", Verdict.LOOK)])
    def test_how_far_she_settles_is_set_beside_the_water_under_her(
        self, launch: Plan, change: Change, depth: str, verdict: Verdict
    ) -> None:
        _, findings = power(change(launch, {"power.water_depth": depth, "speed.cruise": "5 kn", "speed.top": "6 kn"}))
        (told,) = [f for f in findings if "settles by about" in f.text]
        assert told.verdict is verdict
        assert ("0.15 m" if verdict is Verdict.LOOK else "0.7 m") in told.text
        assert "Barrass (1979)" in told.source

    def test_shallow_water_near_its_critical_speed_is_named(self, launch: Plan, change: Change) -> None:
        _, findings = power(change(launch, {"power.water_depth": "2 m"}))
        assert any("squats" in finding.text for finding in findings)

    def test_water_too_shallow_for_the_formula_is_not_put_down_to_her_weight_or_to_the_margin(
        self, launch: Plan, change: Change
    ) -> None:
        """There is no power in service to set beside the rules, and more of it would not help."""
        outcomes = assess(change(launch, {"power.water_depth": "1.15 m"})).outcomes
        assert not outcomes["power"].answers.cruise_service_power_kw.is_known
        (told,) = [f.text for f in outcomes["power"].findings if "displacement rules give" in f.text]
        assert "cannot be worked out" in told
        assert "unusual" not in told
        (load,) = [f for f in outcomes["engine"].findings if "cannot be worked out" in f.text]
        assert (load.path, "too shallow" in load.text) == ("power.water_depth", True)
        assert not any(f.path == "power.sea_margin" for f in outcomes["engine"].findings)
        (reach,) = outcomes["range"].findings
        assert (reach.path, "too shallow" in reach.text) == ("power.water_depth", True)

    def test_deep_water_does_not_slow_her(self, launch: Plan, change: Change) -> None:
        answers, findings = power(change(launch, {"power.water_depth": "40 m"}))
        assert any("does not slow her" in finding.text for finding in findings)
        assert answers.cruise_service_power_kw == power(launch)[0].cruise_service_power_kw


class TestAppendages:
    def test_what_is_listed_by_kind_comes_before_the_one_surface(self, launch: Plan, change: Change) -> None:
        listed = change(
            with_row(with_row(launch, "hull.appendage"), "hull.appendage"),
            {
                "hull.appendage.0.kind": "skeg",
                "hull.appendage.0.area": "2 m2",
                "hull.appendage.1.kind": "shaft brackets",
                "hull.appendage.1.area": "0.5 m2",
            },
        )
        form = assess(listed).outcomes["hull"].answers.form
        assert form.appendage_area == pytest.approx(2.5)
        skeg, brackets = APPENDAGE_KINDS["skeg"].factor, APPENDAGE_KINDS["shaft brackets"].factor
        assert form.appendage_factor == pytest.approx((2.0 * skeg + 0.5 * brackets) / 2.5)

    def test_brackets_cost_more_than_a_skeg_of_the_same_surface(self, launch: Plan, change: Change) -> None:
        costs = [
            power(
                change(
                    with_row(launch, "hull.appendage"),
                    {"hull.appendage.0.kind": kind, "hull.appendage.0.area": "3 m2"},
                )
            )[0].cruise_resistance_n.best
            for kind in ("skeg", "shaft brackets")
        ]
        assert costs[1] > costs[0]


@pytest.mark.parametrize(
    ("block", "told"), [(0.353, False), (0.3465, False), (0.33, True), (0.504, False), (0.52, True)]
)
def test_a_block_that_reads_as_inside_the_range_of_the_wake_is_not_called_outside(
    launch: Plan, change: Change, block: float, told: bool
) -> None:
    """From 0.35 to 0.50 the formulas were compared."""
    draft = 9000.0 / 1025.9 / (11.2 * 3.1 * block)
    findings = power(change(launch, {"hull.hull_draft": f"{draft:.4f} m"}))[1]
    assert any("the wake formulas were compared" in finding.text for finding in findings) == told


@pytest.mark.parametrize("depth", ["1.3 m", "1.5 m", "1.8 m", "2 m", "2.4 m"])
def test_who_slows_down_as_told_is_not_told_so_again(launch: Plan, change: Change, depth: str) -> None:
    shallow = change(launch, {"power.water_depth": depth, "speed.cruise": "3 kn"})
    (told,) = [finding.text for finding in power(shallow)[1] if "Slow down to about" in finding.text]
    (slower,) = re.findall(r"Slow down to about ([\d.]+ kn)", told)
    followed = power(change(shallow, {"speed.top": slower}))[1]
    assert not any("Slow down to about" in finding.text for finding in followed)
