"""Ratios side by side, the stock propeller, what goes wrong on either side, and the market, on an invented launch."""

import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from engine.assessment import Assessment, search_market
from engine.findings import Finding, Verdict
from engine.plan import Plan, with_row, with_text
from engine.planfile import load_plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
INCH = 0.0254


def answers(assessment: Assessment, stage: str):  # type: ignore[no-untyped-def]
    found = assessment.outcomes[stage]
    assert found.answers is not None, found.waits_for
    return found.answers


def texts(findings: tuple[Finding, ...], part: str) -> list[str]:
    return [finding.text for finding in findings if part in finding.text]


@pytest.fixture(scope="module")
def assessed(launch: Plan) -> Assessment:
    return assess(launch)


@pytest.fixture(scope="module")
def market(assessed: Assessment):  # type: ignore[no-untyped-def]
    found = search_market(assessed)
    assert found.answers is not None, found.waits_for
    return found


def judged_rating(assessed: Assessment) -> Finding:
    (found,) = [each for each in assessed.outcomes["gear"].findings if each.text.startswith("The gear is rated for")]
    return found


class TestGear:
    def test_each_ratio_may_have_a_rating_of_its_own(self, launch: Plan, change: Change) -> None:
        rated = assess(change(launch, {"gear.ratings": "2; 1.5; 1 kW per 100 rpm"}))
        margins = [row.rating_margin_fraction for row in answers(rated, "gear").options]
        needed = 30.0 / 28.0
        assert margins == pytest.approx([2.0 / needed - 1.0, 1.5 / needed - 1.0, 1.0 / needed - 1.0])
        weak = assess(change(launch, {"gear.ratings": "2; 1.5; 1 kW per 100 rpm", "gear.ratio": "2.5"}))
        assert texts(weak.outcomes["gear"].findings, "does not carry this engine in 3:1")
        assert judged_rating(weak).path == "gear.ratings"  # though the launch has a rating of the gear, too

    def test_ratings_that_do_not_match_the_ratios_are_not_used(self, launch: Plan, change: Change) -> None:
        unpaired = assess(change(launch, {"gear.ratings": "2; 1.5 kW per 100 rpm"}))
        assert judged_rating(unpaired).path == "gear.rating"
        found = unpaired.outcomes["gear"]
        assert texts(found.findings, "2 ratings for 3 ratios")
        assert all(
            row.rating_margin_fraction == pytest.approx(2.0 / (30.0 / 28.0) - 1.0) for row in found.answers.options
        )

    def test_the_room_costs_what_the_free_propeller_would_save(self, launch: Plan, change: Change) -> None:
        broad = {"propeller.blades": "4", "propeller.area_ratio": "0.85"}
        found = assess(change(launch, broad | {"propeller.room": "520 mm", "gear.ratio": "3.0"}))
        chosen = answers(found, "gear").chosen
        assert chosen.free_saving_fraction > 0.0
        (text,) = texts(found.outcomes["gear"].findings, "would like")
        assert f"{100 * chosen.free_saving_fraction:.0f} % less" in text

    def test_a_ratio_that_the_gear_does_not_carry_is_not_recommended_while_another_is(
        self, launch: Plan, change: Change
    ) -> None:
        gear = assess(change(launch, {"gear.ratings": "2; 1.5; 1 kW per 100 rpm"})).outcomes["gear"]
        assert answers(assess(launch), "gear").recommended_ratio == 3.0
        assert gear.answers.recommended_ratio == gear.answers.ratio == 2.5
        (text,) = texts(gear.findings, "3:1 would be")
        assert "kn faster at full power, but the gear does not carry this engine in it" in text
        own = assess(change(launch, {"gear.ratings": "2; 1.5; 1 kW per 100 rpm", "gear.ratio": "3.0"})).outcomes["gear"]
        (text,) = texts(own.findings, "2.5:1 would be")
        assert "kn slower at full power" in text
        assert "the gear carries this engine in it" in text

    def test_when_the_gear_carries_no_ratio_the_fastest_is_recommended_and_stops(
        self, launch: Plan, change: Change
    ) -> None:
        gear = assess(change(launch, {"gear.rating": "0.9 kW per 100 rpm"})).outcomes["gear"]
        assert gear.answers.recommended_ratio == 3.0
        assert [f.verdict for f in gear.findings if "must not be used" in f.text] == [Verdict.STOP]

    def test_the_ratios_are_not_those_of_a_wheel_that_is_chosen(self, launch: Plan, change: Change) -> None:
        free = change(launch, {"propeller.diameter": "", "propeller.pitch": ""})
        own = change(launch, {"propeller.diameter": "510 mm", "propeller.pitch": "440 mm"})
        assert not texts(assess(free).outcomes["gear"].findings, "Each ratio is shown with the wheel")
        (text,) = texts(assess(own).outcomes["gear"].findings, "Each ratio is shown with the wheel")
        assert "the propeller page tries that in 3:1" in text

    @pytest.mark.parametrize(("turns", "hand"), [("clockwise", "right-hand"), ("anti-clockwise", "left-hand")])
    def test_the_hand_follows_the_gears_output(self, launch: Plan, change: Change, turns: str, hand: str) -> None:
        found = assess(change(launch, {"gear.output_turns": turns, "present.propeller_hand": "right-hand"}))
        assert answers(found, "propeller").hand.startswith(hand)
        crossed = texts(found.outcomes["gear"].findings, "cannot be used again")
        assert bool(crossed) == (hand == "left-hand")


class TestPropeller:
    def test_sizes_come_in_inches_and_in_centimetres(self, assessed: Assessment, launch: Plan, change: Change) -> None:
        wheel = answers(assessed, "propeller")
        assert wheel.size.endswith("in, 3 blades")
        assert wheel.other_size.endswith("mm, 3 blades")
        metric = answers(assess(change(launch, {"propeller.sizes": "centimetres"})), "propeller")
        chosen, beside = (np.array(re.findall(r"\d+", size), float) for size in (metric.size, wheel.other_size))
        assert chosen == pytest.approx(beside, abs=10.0)  # a stock step: that beside it is found on fewer boats
        assert metric.other_size == wheel.size
        own = change(launch, {"propeller.diameter": "20 in", "propeller.pitch": "15 in"})
        assert answers(assess(own), "propeller").other_size is None

    def test_a_wheel_that_the_owner_has_is_told_as_it_was_made(self, launch: Plan, change: Change) -> None:
        own = assess(change(launch, {"propeller.diameter": "510 mm", "propeller.pitch": "440 mm"}))
        assert answers(own, "propeller").size == "510 x 440 mm, 3 blades"
        (text,) = texts(own.outcomes["propeller"].findings, "less pitch makes it")
        assert "0.5 in (13 mm) less pitch makes it" in text

    def test_boats_reach_rated_speed_or_are_overloaded(self, assessed: Assessment) -> None:
        wheel = answers(assessed, "propeller")
        assert wheel.reaches_rated_fraction + wheel.overloaded_fraction == pytest.approx(1.0)

    def test_a_boat_too_fast_to_be_worked_out_is_not_counted_as_overloaded(self, launch: Plan, change: Change) -> None:
        """190 kW drive some of the boats beyond 1.6 times hull speed, where the curves end."""
        strong = {"engine.candidate.0.rated_power": "190 kW", "propeller.room": "1.2 m"}
        size = {"propeller.diameter": "31 in", "propeller.pitch": "21.5 in"}
        found = assess(change(launch, strong | size))
        wheel = answers(found, "propeller")
        light = wheel.wheel.full_throttle(wheel.wheel.setting.cases.margin).light_running
        assert wheel.overloaded_fraction == pytest.approx(np.mean(light < 0.0))
        rest = 1.0 - wheel.reaches_rated_fraction - wheel.overloaded_fraction
        assert rest > 0.005
        (text,) = texts(found.outcomes["propeller"].findings, "plausible boats the engine reaches")
        assert f"In {rest * 1000:.0f} she is faster than was worked out, so it is not known." in text

    def test_the_quick_method_says_that_five_blades_are_taken_as_four(self, launch: Plan, change: Change) -> None:
        five, four = (assess(change(launch, {"propeller.blades": count})) for count in ("5", "4"))
        (text,) = texts(five.outcomes["propeller"].findings, "quick method")
        assert "for 4 blades, the most it has factors for; this wheel has 5" in text
        assert not texts(four.outcomes["propeller"].findings, "factors for")

    def test_the_quick_method_itself_is_as_much(self, launch: Plan, change: Change, assessed: Assessment) -> None:
        quick = answers(assessed, "propeller")
        size = {
            "propeller.diameter": f"{quick.handbook_diameter_m} m",
            "propeller.pitch": f"{quick.handbook_pitch_m} m",
        }
        found = assess(change(launch, size)).outcomes["propeller"].findings
        assert texts(found, "the size chosen is as much, diameter and pitch added up.")

    def test_both_sides_are_told_with_their_rpm(self, launch: Plan, change: Change, assessed: Assessment) -> None:
        right = answers(assessed, "propeller")
        size = {"propeller.diameter": f"{right.diameter_m / INCH} in"}
        coarse, fine = (
            assess(change(launch, {**size, "propeller.pitch": f"{right.pitch_m / INCH + inches} in"}))
            for inches in (1.0, -1.5)
        )
        (heavy,) = texts(coarse.outcomes["propeller"].findings, "plausible boats the engine reaches")
        (light,) = texts(fine.outcomes["propeller"].findings, "plausible boats the engine reaches")
        assert "overloaded, in one boat of ten by" in heavy
        assert "less pitch makes it" in heavy
        assert "before the power is used; in one boat of ten using it would" in light

    def test_what_a_sea_trial_read_comes_before_a_cure_of_its_own(
        self, launch: Plan, change: Change, assessed: Assessment
    ) -> None:
        wheel = answers(assessed, "propeller")
        run = {"engine_speed": "2700 rpm", "speed": "6.5 kn", "throttle": "full"}
        tried = change(
            with_row(launch, "trial.run"),
            {
                "gear.ratio": f"{answers(assessed, 'gear').ratio}",
                "propeller.diameter": f"{wheel.diameter_m} m",
                "propeller.pitch": f"{wheel.pitch_m + 2.0 * INCH} m",
                **{f"trial.run.0.{name}": text for name, text in run.items()},
            },
        )
        said = assess(tried).outcomes["propeller"].findings
        (text,) = texts(said, "Overloaded: at full throttle")
        assert text.endswith("In the sea trial it reached 2700 rpm: the trial page says what that means.")
        assert not texts(said, "less pitch"), "one page alone says what to do about the pitch"
        another = assess(change(tried, {"trial.propeller_pitch": f"{wheel.pitch_m} m"}))
        assert not texts(another.outcomes["propeller"].findings, "In the sea trial")

    def test_less_pitch_makes_rated_speed_surer(self, assessed: Assessment) -> None:
        wheel = answers(assessed, "propeller")
        same = [row for row in wheel.neighbours if row.diameter_m == pytest.approx(wheel.diameter_m)]
        assert [row.pitch_m for row in same] == sorted(row.pitch_m for row in same)
        shares = [row.reaches_rated_fraction for row in same]
        assert shares == sorted(shares, reverse=True)
        assert shares[0] > shares[-1]

    def test_full_throttle_falls_from_calm_to_foul_and_into_the_wind(self, assessed: Assessment) -> None:
        calm, foul, wind, _ = answers(assessed, "propeller").cases
        assert calm.state.startswith("clean, calm")
        for harder in (foul, wind):
            assert harder.top_kn.best < calm.top_kn.best
            assert harder.reaches_rated_fraction <= calm.reaches_rated_fraction
            assert harder.full_throttle_rpm.best <= calm.full_throttle_rpm.best

    def test_demand_is_higher_foul_and_into_the_wind_over_the_whole_range(self, assessed: Assessment) -> None:
        rows = answers(assessed, "propeller").match
        assert rows[0].engine_rpm < 1000.0
        for row in rows:
            assert row.foul_demand_kw.best > row.demand_kw.best
            assert row.head_wind_demand_kw.best > row.demand_kw.best

    def test_half_load_takes_more_pitch_or_leaves_more_boats_overloaded_at_full_load(
        self, launch: Plan, change: Change, assessed: Assessment
    ) -> None:
        half = change(
            launch,
            {"propeller.margin_state": "new, clean, half load, calm water", "propeller.half_load": "7.5 t"},
        )
        full_load, half_load = answers(assessed, "propeller"), answers(assess(half), "propeller")
        assert half_load.pitch_m * half_load.diameter_m >= full_load.pitch_m * full_load.diameter_m
        calm = half_load.cases[0]
        assert calm.reaches_rated_fraction <= half_load.reaches_rated_fraction

    def test_a_wheel_that_suits_half_load_alone_is_not_passed_in_silence(self, launch: Plan, change: Change) -> None:
        """Between the pitch that suits her loaded and the one that suits her light."""
        half = {"propeller.margin_state": "new, clean, half load, calm water", "propeller.half_load": "6.5 t"}
        size = {"propeller.diameter": "20 in", "propeller.pitch": "17.6 in", "propeller.light_running": "0 %"}
        found = assess(change(launch, {**half, **size}))
        wheel = answers(found, "propeller")
        assert wheel.light_running_fraction.best >= 0.0
        assert wheel.full_throttle_rpm.best < wheel.rated_rpm
        (finding,) = [f for f in found.outcomes["propeller"].findings if "Fully loaded it overloads" in f.text]
        assert finding.verdict is Verdict.LOOK
        assert "light (new, clean, half load, calm water)" in finding.text

    def test_pull_at_the_quay_is_less_than_the_series_would_give_at_full_power(self, assessed: Assessment) -> None:
        wheel, engine, hull = (answers(assessed, stage) for stage in ("propeller", "engine", "hull"))
        series = wheel.wheel.open_water(answers(assessed, "power").cases.calm)
        KT, KQ = (float(np.median(cubic[..., 0])) for cubic in (series.thrust_cubic, series.torque_cubic))
        rho, D, P = hull.water.density, wheel.diameter_m, engine.drive.power_at_propeller
        n = (P / (2.0 * np.pi * rho * D**5 * KQ)) ** (1.0 / 3.0)
        at_full_power = KT * rho * n**2 * D**4
        assert 0.75 * at_full_power < wheel.bollard_pull_n.best < at_full_power
        assert wheel.bollard_pull_n.low < wheel.bollard_pull_n.best < wheel.bollard_pull_n.high
        assert wheel.astern_pull_n.best == pytest.approx(0.65 * wheel.bollard_pull_n.best)

    def test_a_pull_at_the_quay_below_the_full_load_curve_is_told_so(
        self, launch: Plan, change: Change, assessed: Assessment
    ) -> None:
        """With points from 2600 rpm on, what the engine gives held at the quay is a guess."""
        curve = {
            "engine.candidate.0.full_load_speeds": "2600 rpm; 2800 rpm",
            "engine.candidate.0.full_load_powers": "28 kW; 30 kW",
        }
        found = assess(change(launch, curve)).outcomes["propeller"].findings
        (text,) = texts(found, "its full-load curve begins at 2600")
        assert "no full-load torque is known" in text
        assert not texts(assessed.outcomes["propeller"].findings, "full-load curve begins")

    def test_a_wheel_that_the_governor_holds_at_the_quay_is_not_said_to_hold_the_engine_down(
        self, launch: Plan, change: Change, assessed: Assessment
    ) -> None:
        small = {"propeller.diameter": "300 mm", "propeller.pitch": "200 mm"}
        found = assess(change(launch, small)).outcomes["propeller"]
        assert np.min(found.answers.held.shaft_speed) * found.answers.wheel.setting.ratio > 2800.0 / 60.0
        assert texts(found.findings, "where the governor holds the engine")
        assert texts(assessed.outcomes["propeller"].findings, "where the engine is held down")

    def test_blades_on_the_firing_rate_are_named(self, launch: Plan, change: Change) -> None:
        """Four blades behind 2:1 and four cylinders: 2 Z/(G N) = 1, the blade rate is the firing rate."""
        plan = change(launch, {"propeller.blades": "4", "gear.ratio": "2.0", "engine.candidate.0.cylinders": "4"})
        findings = assess(plan).outcomes["propeller"].findings
        assert [f.verdict for f in findings if "the firing rate" in f.text] == [Verdict.LOOK]
        clear = assess(change(plan, {"propeller.blades": "3"})).outcomes["propeller"].findings
        assert texts(clear, "keeps clear")

    def test_a_pitch_alone_gets_its_diameter(self, launch: Plan, change: Change, assessed: Assessment) -> None:
        right = answers(assessed, "propeller")
        by_pitch = answers(assess(change(launch, {"propeller.pitch": f"{right.pitch_m / INCH} in"})), "propeller")
        assert by_pitch.pitch_m == pytest.approx(right.pitch_m)
        assert by_pitch.light_running_fraction.best == pytest.approx(0.03, abs=0.04)

    def test_room_for_far_more_than_the_shaft_wants_takes_no_wheel_away(self, launch: Plan, change: Change) -> None:
        """Of 1.6 m of room the smallest wheel tried was half of what fits, twice what a 2:1 shaft can turn."""
        sizes = []
        for room in ("700 mm", "1.6 m"):
            found = assess(change(launch, {"propeller.room": room, "gear.ratio": "2.0"}))
            sizes.append(answers(found, "propeller").size)
            market = search_market(found)
            assert market.answers is not None
            assert market.answers.rows[0].ratio in (2.0, 2.5, 3.0)
        assert sizes[0] == sizes[1]

    def test_too_little_room_names_what_holds_every_wheel_back(self, launch: Plan, change: Change) -> None:
        plan = change(launch, {"propeller.room": "430 mm", "gear.ratio": "2.0", "propeller.area_ratio": "0.5"})
        found = assess(plan)
        assert found.outcomes["gear"].answers is not None
        outcome = found.outcomes["propeller"]
        assert outcome.answers is None
        assert texts(outcome.findings, "What holds it back")

    def test_where_no_size_suits_the_search_of_all_wheels_and_ratios_is_named(
        self, launch: Plan, change: Change
    ) -> None:
        plan = change(launch, {"propeller.room": "430 mm", "gear.ratio": "2.0", "propeller.area_ratio": "0.5"})
        found = assess(plan).outcomes["propeller"]
        assert found.waits_for.endswith("the findings say what helps."), "a small window shows the answers first"
        (text,) = texts(found.findings, "No stock size")
        assert "Try every stock wheel with every ratio: another ratio" in text
        assert "deeper" not in text, "a shallower one can be what helps"

    def test_blades_that_cavitate_are_not_said_to_hold_the_engine_down(self, launch: Plan, change: Change) -> None:
        """Two narrow blades, as a folding wheel has: the engine reaches its speed, and only the area is short."""
        narrow = {
            "propeller.room": "520 mm",
            "gear.ratio": "2.0",
            "propeller.blades": "2",
            "propeller.area_ratio": "0.3",
        }
        found = assess(change(launch, narrow)).outcomes["propeller"]
        (text,) = texts(found.findings, "too little blade area")
        assert "keeps to every rule" in text
        assert "reach" not in text
        assert "engine" not in text, "it may be a motor"
        assert found.waits_for.startswith("a wheel that keeps to every rule")


class TestMarket:
    def test_it_tries_every_kind_with_every_ratio(self, market) -> None:  # type: ignore[no-untyped-def]
        found = market.answers
        assert found.combinations == 3 * found.wheels
        assert found.wheels > 5000
        assert found.tried <= found.feasible

    def test_the_best_are_those_of_the_sections_asked_for(self, market, launch: Plan, change: Change) -> None:  # type: ignore[no-untyped-def]
        assert {row.sections for row in market.answers.rows} == {"flat-faced (Gawn)"}
        assert {row.sections for row in market.answers.others} == {"airfoil (Wageningen B)"}
        airfoil = search_market(assess(change(launch, {"propeller.sections": "airfoil (Wageningen B)"})))
        assert {row.sections for row in airfoil.answers.rows} == {"airfoil (Wageningen B)"}

    def test_a_row_taken_into_the_plan_is_what_the_propeller_page_then_shows(self, market, launch: Plan) -> None:  # type: ignore[no-untyped-def]
        row = market.answers.rows[0]
        plan = launch
        for path, text in row.changes.items():
            plan = with_text(plan, path, text)
        assert not plan.unread
        wheel = answers(assess(plan), "propeller")
        assert wheel.size == row.size
        assert wheel.reaches_rated_fraction == pytest.approx(row.reaches_rated_fraction, abs=1e-12)
        assert wheel.neighbours[[r.chosen for r in wheel.neighbours].index(True)].cruise_l_per_h == pytest.approx(
            row.cruise_l_per_h, rel=1e-6
        )

    def test_ratios_that_the_gear_does_not_carry_are_left_out(self, launch: Plan, change: Change) -> None:
        weak = change(launch, {"gear.ratings": "2; 1.5; 1 kW per 100 rpm"})
        found = search_market(assess(weak)).answers
        assert found.combinations == 2 * found.wheels
        assert 3.0 not in {row.ratio for row in (*found.rows, *found.others)}
        none = search_market(assess(change(launch, {"gear.rating": "0.5 kW per 100 rpm"})))
        assert none.answers is None
        assert none.findings[0].verdict is Verdict.STOP

    def test_it_waits_for_what_an_unfinished_plan_lacks(self) -> None:
        found = search_market(assess(Plan(name="empty")))
        assert found.answers is None
        assert found.waits_for.startswith("the hull page")

    def test_progress_rises_to_one_and_may_stop_the_search(self, assessed: Assessment) -> None:
        heard: list[float] = []
        search_market(assessed, heard.append)
        assert heard == sorted(heard)
        assert heard[-1] == 1.0

        def stop(_: float) -> None:
            raise KeyboardInterrupt

        with pytest.raises(KeyboardInterrupt):
            search_market(assessed, stop)


@pytest.mark.parametrize("name", ["bittern", "two-sisters"])
def test_the_quick_method_agrees_with_the_series_where_shafts_turn_as_it_expects(name: str) -> None:
    """At the handbook's diameter its pitch lies within 5 % of the flat-faced or the airfoil series at the shallowest
    ratio. At deep ratios its slip, which knows only the boat's speed, makes it coarser than both: by 10 to 20 %."""
    plan = load_plan(Path(__file__).resolve().parents[2] / "saved_plans" / f"{name}.toml")
    ratios = sorted(ratio.si for ratio in plan.gear.ratios)
    gaps = {}
    for ratio in (ratios[0], ratios[-1]):
        for sections in ("flat-faced (Gawn)", "airfoil (Wageningen B)"):
            changed = with_text(with_text(plan, "gear.ratio", f"{ratio}"), "propeller.sections", sections)
            wheel = answers(assess(changed), "propeller")
            gaps[ratio, sections] = wheel.handbook_pitch_m / wheel.series_pitch_m - 1.0
    print(name, gaps)
    assert min(abs(gaps[ratios[0], sections]) for sections in ("flat-faced (Gawn)", "airfoil (Wageningen B)")) < 0.05
