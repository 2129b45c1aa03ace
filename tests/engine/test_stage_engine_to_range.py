"""The stages from the engine to the range, on an invented launch."""

import re
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from engine.findings import Finding, Verdict
from engine.machinery.shaft import shaft_diameter_small_craft
from engine.plan import Plan, with_value
from engine.propeller.wageningen import WAGENINGEN_B, reynolds_correction
from engine.stages.engine import engine_curve
from engine.stages.full_throttle import try_on_boats
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
KNOT = 1852 / 3600


def outcome(plan: Plan, stage: str):  # type: ignore[no-untyped-def]
    return assess(plan).outcomes[stage]


def answers(plan: Plan, stage: str):  # type: ignore[no-untyped-def]
    found = outcome(plan, stage).answers
    assert found is not None, outcome(plan, stage).waits_for
    return found


def verdicts(findings: tuple[Finding, ...], part: str) -> list[Verdict]:
    return [finding.verdict for finding in findings if part in finding.text]


class TestEngine:
    def test_power_left_is_rated_power_less_what_is_lost_aboard(self, launch: Plan, change: Change) -> None:
        engine = answers(change(launch, {"engine.candidate.0.power_lost": "10 %"}), "engine")
        assert engine.usable_power_kw.best == pytest.approx(27.0, rel=1e-3)
        assert engine.power_at_propeller_kw.best == pytest.approx(27.0 * 0.97 * 0.985, rel=1e-3)
        assert engine.usable_power_kw.low == pytest.approx(0.95 * 27.0, rel=2e-3)  # tolerance of its output

    def test_power_given_at_the_propeller_shaft_is_more_at_the_crankshaft(self, launch: Plan, change: Change) -> None:
        engine = answers(change(launch, {"engine.candidate.0.power_at": "propeller shaft"}), "engine")
        assert engine.rated_power_kw == pytest.approx(30.0 / 0.97)

    def test_what_a_rating_stops_leads_to_its_field(self, launch: Plan, change: Change) -> None:
        weak = {"engine.candidate.0.rated_power": "5 kW", "gear.rating": "0.1 kW per 100 rpm"}
        outcomes = assess(change(launch, weak)).outcomes
        stops = [f for stage in ("engine", "gear") for f in outcomes[stage].findings if f.verdict is Verdict.STOP]
        assert {f.path for f in stops if "cruises at" in f.text} == {"engine.candidate.0.rated_power"}
        assert {f.path for f in stops if "it must not be used" in f.text} == {"gear.rating"}

    def test_the_load_at_cruise_is_told_of_the_power_that_is_left_aboard(self, launch: Plan, change: Change) -> None:
        """With 40 % of it lost, the same load is a far smaller share of the rated power."""
        found = outcome(change(launch, {"engine.candidate.0.power_lost": "40 %"}), "engine")
        share = f"{100 * found.answers.cruise_load_fraction.best:.0f} %"
        assert verdicts(found.findings, f"cruises at {share} of the power it has aboard") == [Verdict.FITS]

    @pytest.mark.parametrize(("air", "told"), [("5 C", "% less fuel"), ("40 C", "% more fuel")])
    def test_cold_air_saves_fuel_and_does_not_take_less_than_none_more(
        self, launch: Plan, change: Change, air: str, told: str
    ) -> None:
        reference = {"engine.humidity": "30 %", "engine.raw_water": "25 C", "engine.intake_air": air}
        (loss,) = [f.text for f in outcome(change(launch, reference), "engine").findings if "at the intake" in f.text]
        assert told in loss
        assert "-" not in loss

    def test_the_chosen_candidate_counts_and_all_are_side_by_side(self, launch: Plan, change: Change) -> None:
        engine = answers(change(launch, {"engine.chosen": "second"}), "engine")
        assert engine.name == "second"
        assert [row.name for row in engine.candidates] == ["first", "second"]

    def test_an_engine_too_small_for_the_top_speed_stops(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"engine.candidate.0.rated_power": "10 kW"}), "engine")
        assert verdicts(found.findings, "cannot be reached") == [Verdict.STOP]

    def test_an_engine_too_big_for_cruising_is_told_what_a_light_load_does(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"engine.candidate.0.rated_power": "55 kW"}), "engine")
        assert verdicts(found.findings, "glazes bores") == [Verdict.LOOK]

    def test_an_engine_that_the_top_speed_wants_is_not_to_be_taken_smaller(self, launch: Plan, change: Change) -> None:
        """One finding said to take a larger engine for the top speed, the next a smaller one for the cruise."""
        slow = {"speed.cruise": "4 kn"}
        for wanted, is_offered in (("5 kn", True), ("8.6 kn", False)):
            found = outcome(change(launch, slow | {"speed.top": wanted}), "engine")
            (light,) = [finding.text for finding in found.findings if "the engine cruises at" in finding.text]
            assert ("or take a smaller one" in light) is is_offered, (light, found.answers.top_load_fraction)
            assert ("would not reach the top speed wanted" in light) is not is_offered

    def test_the_change_of_weight_is_new_less_old(self, launch: Plan) -> None:
        assert answers(launch, "engine").weight_change_kg == pytest.approx(-160.0)

    def test_beyond_the_speeds_worked_out_the_demand_is_not_known(self, launch: Plan) -> None:
        """Boats that come to rated speed just at the end of the curves would be beyond it at 1.05 of rated speed."""
        loading = answers(launch, "engine").chosen.loading
        fast = replace(loading, reachable=np.full_like(loading.reachable, loading.demand.resistance.speed[-1]))
        rows = tuple(engine_curve(fast))
        rated = loading.drive.engine.rated_speed * 60.0
        assert [row.demand_kw.is_known for row in rows] == [row.engine_rpm <= rated * (1.0 + 1e-9) for row in rows]
        known = [row.demand_kw.best for row in rows if row.demand_kw.is_known]
        assert np.all(np.diff(known) > 0.0)

    def test_a_candidates_rate_in_service_is_at_the_engine_speed_of_service(self, launch: Plan, change: Change) -> None:
        foul = change(launch, {"power.time_since_cleaning": "12 months", "power.sea_margin": "25 %"})
        loading = answers(foul, "engine").chosen.loading
        demand, cruise = loading.demand, 6.5 * KNOT
        calm, service = (
            float(np.interp(cruise, demand.resistance.speed, np.asarray(point.shaft_speed)))
            for point in (demand.propeller, demand.service_propeller)
        )
        assert service > 1.02 * calm
        engine_speed = loading.engine_speed(cruise) * service / calm
        each = demand.each_delivered_power(cruise, service=True)
        assert loading.rate(cruise, service=True) == pytest.approx(loading.drive.rate(each, engine_speed))

    def test_a_candidate_without_power_is_waited_for(self, launch: Plan) -> None:
        found = outcome(with_value(launch, "engine.candidate.0.rated_power", None), "engine")
        assert found.answers is None
        assert "rated power" in found.waits_for


class TestGear:
    def test_a_deeper_ratio_turns_a_larger_propeller_more_slowly(self, launch: Plan) -> None:
        options = answers(launch, "gear").options
        assert [option.ratio for option in options] == [2.0, 2.5, 3.0]
        assert np.all(np.diff([option.shaft_rpm for option in options]) < 0.0)
        assert np.all(np.diff([option.free_diameter_m for option in options]) > 0.0)
        assert all(option.tip_clearance_fraction >= 0.1 - 1e-9 for option in options)

    def test_the_recommended_ratio_is_the_fastest_and_the_owner_may_differ(self, launch: Plan, change: Change) -> None:
        gear = answers(launch, "gear")
        best = max(gear.options, key=lambda option: option.top_kn.best)
        assert gear.recommended_ratio == gear.ratio == best.ratio
        own = outcome(change(launch, {"gear.ratio": "2.0"}), "gear")
        assert own.answers.ratio == 2.0
        assert verdicts(own.findings, "would be") == [Verdict.LOOK]

    def test_torque_in_the_shaft_grows_with_the_ratio(self, launch: Plan, change: Change) -> None:
        shallow, deep = (answers(change(launch, {"gear.ratio": ratio}), "gear") for ratio in ("2.0", "3.0"))
        assert deep.shaft_torque_nm / shallow.shaft_torque_nm == pytest.approx(1.5)

    def test_the_gear_rating_is_compared_with_power_over_speed(self, launch: Plan, change: Change) -> None:
        gear = answers(launch, "gear")
        assert gear.needed_rating_kw_per_100_rpm == pytest.approx(30.0 / 28.0)
        weak = outcome(change(launch, {"gear.rating": "0.9 kW per 100 rpm"}), "gear")
        assert verdicts(weak.findings, "must not be used") == [Verdict.STOP]

    def test_without_room_it_says_where_the_room_is_asked(self, launch: Plan) -> None:
        found = outcome(with_value(launch, "propeller.room", None), "gear")
        assert found.answers is None
        assert "propeller page" in found.waits_for

    def test_room_to_spare_changes_nothing_once_the_best_propeller_fits(self, launch: Plan, change: Change) -> None:
        enough, plenty = (answers(change(launch, {"propeller.room": room}), "gear") for room in ("1 m", "3 m"))
        for option, other in zip(enough.options, plenty.options, strict=True):
            assert option.diameter_m == pytest.approx(option.free_diameter_m)
            assert other.diameter_m == pytest.approx(option.diameter_m, rel=0.02)
            assert other.pitch_m == pytest.approx(option.pitch_m, rel=0.05)
        assert plenty.ratio == enough.ratio

    def test_a_room_too_small_for_any_propeller_stops(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"propeller.room": "250 mm"}), "gear")
        assert found.answers is None
        assert [finding.verdict for finding in found.findings] == [Verdict.STOP]


class TestPropeller:
    def test_at_full_throttle_thrust_and_power_balance_to_the_polynomials(self, launch: Plan) -> None:
        """KT and KQ evaluated afresh, boat by boat: thrust as asked, power as the engine has."""
        outcomes = assess(launch).outcomes
        stages = ("hull", "power", "gear", "propeller", "engine")
        hull, power, gear, wheel, engine = (outcomes[stage].answers for stage in stages)
        side, boats, open_water = power.demand.boats_calm, hull.boats, wheel.wheel.open_water(power.cases.calm)
        trial = try_on_boats(open_water, wheel.diameter_m, side, engine.drive, gear.ratio, boats.engine_output)
        n, speed = trial.shaft_speed, trial.boat_speed
        J = speed * side.advance_fraction / (n * wheel.diameter_m)
        KT, KQ = (
            np.asarray(curve(J[:, None]))[:, 0]
            for curve in (open_water.thrust_coefficient, open_water.torque_coefficient)
        )
        thrust = KT * side.density * n**2 * wheel.diameter_m**4
        asked = np.array([np.interp(v, side.speed, row) for v, row in zip(speed, side.thrust, strict=True)])
        assert thrust == pytest.approx(asked, rel=0.01)  # straight lines between speeds a quarter of a knot apart
        delivered = 2 * np.pi * KQ * side.density * n**3 * wheel.diameter_m**5 / side.relative_rotative_efficiency
        available = boats.engine_output[:, 0] * engine.drive.full_load_at_propeller(n, gear.ratio)
        assert delivered == pytest.approx(available, rel=0.01)
        assert wheel.full_throttle_rpm.best == pytest.approx(np.median(n) * 60.0 * gear.ratio, rel=1e-3)

    def test_the_airfoil_series_is_corrected_for_reynolds_number(self, launch: Plan, change: Change) -> None:
        outcomes = assess(change(launch, {"propeller.sections": "airfoil (Wageningen B)"})).outcomes
        wheel, boats = outcomes["propeller"].answers, outcomes["hull"].answers.boats
        clean = wheel.wheel.open_water(outcomes["power"].answers.cases.calm)
        as_ordered = int(np.argmin(np.abs(boats.propeller_pitch[:, 0] - 1.0)))
        made = wheel.pitch_ratio * boats.propeller_pitch[as_ordered, 0]
        bare = WAGENINGEN_B.cubics(made, wheel.area_ratio, wheel.blades)
        at_lower_end = reynolds_correction(made, wheel.area_ratio, wheel.blades, 2e6).open_water
        shift = clean.torque_coefficient(0.4)[as_ordered, 0] - bare.torque_coefficient(0.4)
        assert shift != pytest.approx(at_lower_end.torque_coefficient(0.4), abs=1e-6)
        assert abs(shift) < 0.03 * bare.torque_coefficient(0.4)

    def test_the_recommended_size_is_in_stock_steps_fits_and_lets_the_engine_rev(self, launch: Plan) -> None:
        wheel = answers(launch, "propeller")
        assert wheel.diameter_m / 0.0254 == pytest.approx(round(wheel.diameter_m / 0.0254))
        assert wheel.pitch_m / 0.0127 == pytest.approx(round(wheel.pitch_m / 0.0127))
        assert wheel.tip_clearance_fraction >= 0.1
        assert wheel.full_throttle_rpm.best >= wheel.rated_rpm
        assert 0.02 <= wheel.light_running_fraction.best < 0.06
        assert wheel.reaches_rated_fraction > 0.9

    def test_too_much_pitch_overloads_and_the_cure_it_names_cures_it(self, launch: Plan, change: Change) -> None:
        right = answers(launch, "propeller")
        size = {"propeller.diameter": f"{right.diameter_m * 1e3} mm"}
        coarse = outcome(change(launch, {**size, "propeller.pitch": f"{right.pitch_m * 1e3 + 76.2} mm"}), "propeller")
        (text,) = [f.text for f in coarse.findings if f.verdict is Verdict.STOP]
        assert text.startswith("Overloaded")
        inches = float(text.split("About ")[1].split(" in (")[0])
        mended = change(launch, {**size, "propeller.pitch": f"{coarse.answers.pitch_m * 1e3 - inches * 25.4} mm"})
        assert answers(mended, "propeller").light_running_fraction.best == pytest.approx(0.03, abs=0.015)

    def test_too_little_pitch_is_called_too_light(self, launch: Plan, change: Change) -> None:
        right = answers(launch, "propeller")
        fine = change(
            launch,
            {
                "propeller.diameter": f"{right.diameter_m * 1e3} mm",
                "propeller.pitch": f"{right.pitch_m * 1e3 - 63.5} mm",
            },
        )
        assert Verdict.LOOK in verdicts(outcome(fine, "propeller").findings, "too light")

    def test_more_pitch_or_more_diameter_means_fewer_revolutions(self, launch: Plan) -> None:
        wheel = answers(launch, "propeller")
        rows = {
            (round(row.diameter_m / 0.0254, 3), round(row.pitch_m / 0.0254, 3)): row.light_running_fraction.best
            for row in wheel.neighbours
        }
        D, P = round(wheel.diameter_m / 0.0254, 3), round(wheel.pitch_m / 0.0254, 3)
        assert rows[D, P + 0.5] < rows[D, P] < rows[D, P - 0.5]
        assert rows[D + 1, P] < rows[D, P] < rows[D - 1, P]
        assert -0.95 < wheel.pitch_exponent < -0.5

    def test_a_wheel_larger_than_its_room_stops(self, launch: Plan, change: Change) -> None:
        big = outcome(change(launch, {"propeller.diameter": "670 mm", "propeller.pitch": "410 mm"}), "propeller")
        assert Verdict.STOP in verdicts(big.findings, "larger than the room")

    def test_a_size_that_stalls_the_engine_stops_and_what_follows_waits(self, launch: Plan, change: Change) -> None:
        size = {"propeller.room": "3 m", "propeller.diameter": "1.4 m", "propeller.pitch": "1.9 m"}
        outcomes = assess(change(launch, size)).outcomes
        assert verdicts(outcomes["propeller"].findings, "under a quarter of its rated speed") == [Verdict.STOP]
        assert outcomes["propeller"].answers is None
        assert outcomes["shaft"].waits_for.startswith("the propeller page")

    def test_a_size_that_hardly_grips_is_called_far_too_light(self, launch: Plan, change: Change) -> None:
        small = change(launch, {"propeller.diameter": "200 mm", "propeller.pitch": "130 mm"})
        assert verdicts(outcome(small, "propeller").findings, "far too light") == [Verdict.LOOK]

    def test_the_demand_stays_under_full_load_up_to_rated_speed(self, launch: Plan) -> None:
        for row in answers(launch, "propeller").match:
            if row.engine_rpm <= 2800.0:
                assert row.demand_kw.best <= row.available_kw * 1.001


class TestShaft:
    def test_the_diameter_is_the_formulas_and_the_stock_size_above_it(self, launch: Plan) -> None:
        shaft, gear = answers(launch, "shaft"), answers(launch, "gear")
        needed = shaft_diameter_small_craft(30e3 * 0.97, gear.shaft_rpm / 60.0, 137e6, 4.0)
        assert shaft.needed_diameter_m == pytest.approx(needed)
        assert shaft.diameter_m >= shaft.needed_diameter_m
        assert shaft.actual_safety_factor >= shaft.safety_factor

    def test_a_strong_material_needs_a_thinner_shaft(self, launch: Plan, change: Change) -> None:
        strong = change(launch, {"shaft.material": "S20910 high strength"})
        assert answers(strong, "shaft").needed_diameter_m < 0.72 * answers(launch, "shaft").needed_diameter_m

    def test_the_old_shaft_is_judged_with_the_new_engine(self, launch: Plan) -> None:
        found = outcome(launch, "shaft")
        expected = answers(launch, "shaft").actual_safety_factor * (0.030 / found.answers.diameter_m) ** 3
        assert found.answers.present_safety_factor == pytest.approx(expected, rel=1e-6)
        assert verdicts(found.findings, "the present shaft")

    def test_bearings_too_far_apart_stop(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"shaft.span": "2.6 m"}), "shaft")
        assert Verdict.STOP in verdicts(found.findings, "shaft diameters apart")

    def test_the_propeller_on_the_end_lowers_the_critical_speed(self, launch: Plan) -> None:
        bare = outcome(with_value(launch, "shaft.propeller_weight", None), "shaft")
        assert bare.answers.critical_rpm > answers(launch, "shaft").critical_rpm
        assert verdicts(bare.findings, "bare shaft") == [Verdict.LOOK]

    def test_steel_that_is_not_for_sea_water_stops(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"shaft.material": "S30400"}), "shaft")
        assert Verdict.STOP in verdicts(found.findings, "not for sea water")

    @pytest.mark.parametrize(
        ("metal", "at_sea", "in_a_lake"),
        [
            ("S30400", Verdict.STOP, Verdict.LOOK),
            ("G10350", Verdict.STOP, Verdict.LOOK),
            ("S31600", Verdict.LOOK, Verdict.FITS),
        ],
    )
    def test_what_sea_water_does_to_a_metal_is_not_held_against_it_in_a_lake(
        self, launch: Plan, change: Change, metal: str, at_sea: Verdict, in_a_lake: Verdict
    ) -> None:
        for water, verdict in (("sea", at_sea), ("brackish", at_sea), ("fresh", in_a_lake)):
            found = outcome(change(launch, {"shaft.material": metal, "hull.water": water}), "shaft").findings
            (told,) = [each for each in found if each.text.startswith(metal) and "sea water" in each.text]
            assert told.verdict is verdict, water
            assert ("in fresh water" in told.text) == (water == "fresh") or metal == "G10350"

    def test_the_gear_is_asked_for_the_thrust_and_not_for_the_pull_on_the_rope(
        self, launch: Plan, change: Change
    ) -> None:
        """Thrust deduction at rest, 6 %, is between the boat and the rope: the thrust bearing carries it too."""
        twin = {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"}
        for plan, screws in ((launch, 1), (change(launch, twin), 2)):
            shaft, wheel = answers(plan, "shaft"), answers(plan, "propeller")
            each = wheel.bollard_pull_n.best / screws
            assert shaft.static_thrust_n.best == pytest.approx(each / 0.94, rel=1e-9)
            assert shaft.static_thrust_n.low == pytest.approx(0.95 * shaft.static_thrust_n.best, rel=1e-9)
            assert shaft.static_thrust_n.high == pytest.approx(1.05 * shaft.static_thrust_n.best, rel=1e-9)


class TestRange:
    def test_range_is_hours_times_speed_on_the_fuel_planned(self, launch: Plan) -> None:
        voyage = answers(launch, "range")
        assert voyage.usable_l == pytest.approx(270.0)
        assert voyage.planned_l == pytest.approx(180.0)
        hours = voyage.planned_l / voyage.cruise_l_per_h.best
        assert voyage.cruise_endurance_h.best == pytest.approx(hours, rel=1e-4)
        assert voyage.cruise_range_nmi.best == pytest.approx(hours * 6.5, rel=1e-4)
        thirsty = voyage.planned_l / voyage.cruise_l_per_h.high
        assert voyage.cruise_endurance_h.low == pytest.approx(thirsty, rel=1e-4)

    def test_the_trades_rules_of_thumb_stand_beside_the_burn(self, launch: Plan) -> None:
        """Power at cruise in service by the load and what is left aboard; 0.054 US gallon a horsepower-hour by hand."""
        (said,) = [each.text for each in outcome(launch, "range").findings if "rules of thumb" in each.text]
        row = min(answers(launch, "range").curve, key=lambda each: abs(each.speed_kn - 6.5))
        usable = answers(launch, "engine").usable_power_kw
        kilowatts = float(re.findall(r"the ([\d.]+) kW that", said)[0])
        assert kilowatts == pytest.approx(row.load_fraction.best * usable.best, rel=0.05)
        low, high, gerr = (float(number) for number in re.findall(r"([\d.]+) L/h", said))
        assert gerr == pytest.approx(kilowatts / 0.7457 * 0.054 * 3.785412, rel=0.03)
        assert low < gerr < high

    def test_the_power_of_two_engines_is_called_that_of_both(self, launch: Plan, change: Change) -> None:
        twin = change(launch, {"hull.screws": "2", "hull.propeller_place": "twin screws on struts"})
        for plan, words in ((launch, "at cruise, at the crankshaft, burns"), (twin, "at both crankshafts together,")):
            (said,) = [each.text for each in outcome(plan, "range").findings if "rules of thumb" in each.text]
            assert words in said

    def test_a_head_current_takes_its_share_and_raises_the_best_speed(self, launch: Plan, change: Change) -> None:
        still = answers(launch, "range")
        against = answers(change(launch, {"range.current": "1.5 kn"}), "range")
        assert against.cruise_range_nmi.best == pytest.approx(still.cruise_range_nmi.best * 5.0 / 6.5, rel=1e-6)
        assert against.best_kn > still.best_kn

    def test_a_current_as_fast_as_she_is_stops(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"range.current": "6 kn", "speed.cruise": "5.8 kn"}), "range")
        assert [finding.verdict for finding in found.findings] == [Verdict.STOP]

    @pytest.mark.parametrize(
        ("given", "path"),
        [({"range.reserve": "ten percent"}, "range.reserve"), ({"range.reserve_share": "10 %"}, "range.reserve_share")],
    )
    def test_too_small_a_reserve_leads_to_where_it_was_given(
        self, launch: Plan, change: Change, given: dict[str, str], path: str
    ) -> None:
        """The share of her own goes before the rule, which changes nothing beside it."""
        (said,) = (
            each for each in outcome(change(launch, given), "range").findings if "A reserve of 10 %" in each.text
        )
        assert said.path == path

    def test_at_either_end_of_the_curve_the_best_speed_says_which(self, launch: Plan, change: Change) -> None:
        slow = outcome(launch, "range")
        fast = outcome(change(launch, {"range.current": "5.8 kn", "engine.candidate.0.rated_power": "14 kW"}), "range")
        assert slow.answers.best_lies.startswith("at the slowest of these speeds")
        assert fast.answers.best_kn == pytest.approx(fast.answers.curve[-1].speed_kn)
        assert fast.answers.best_lies.startswith("at full throttle")
        assert verdicts(slow.findings, "The slower she goes")
        assert not verdicts(fast.findings, "The slower she goes")

    def test_burn_rises_with_speed_but_not_with_its_cube(self, launch: Plan) -> None:
        curve = answers(launch, "range").curve
        burn = np.array([row.burn_l_per_h.best for row in curve])
        assert np.all(np.diff(burn) > 0.0)
        low, high = curve[0], curve[-1]
        cube = (low.engine_rpm.best / high.engine_rpm.best) ** 3
        assert low.burn_l_per_h.best > high.burn_l_per_h.best * cube

    def test_a_price_gives_a_cost_per_mile(self, launch: Plan, change: Change) -> None:
        voyage = answers(change(launch, {"range.price": "1.60 per L"}), "range")
        cost = voyage.cruise_cost_per_mile_money
        assert cost.best == pytest.approx(1.6 * voyage.cruise_fuel_per_mile_l.best, rel=1e-6)
        assert answers(launch, "range").cruise_cost_per_mile_money is None
