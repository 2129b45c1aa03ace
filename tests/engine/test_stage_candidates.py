"""Candidates side by side, diesel and electric, and what the air and the data sheet do to them."""

import re
from collections.abc import Callable

import pytest

from engine.answers import labels, row_tables
from engine.assessment import Assessment, search_market
from engine.constants import KNOT
from engine.findings import Finding, Verdict
from engine.machinery.diesel import full_load_power
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, with_row
from engine.readiness import readiness
from engine.stages.candidates import CandidateRow
from engine.stages.drive import DieselDrive, ElectricDrive
from engine.stages.engine import EngineAnswers
from engine.stages.range_answers import RangeAnswers
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
MOTOR = "invented 12 kW motor"


def engine(found: Assessment) -> EngineAnswers:
    answers = found.outcomes["engine"].answers
    assert isinstance(answers, EngineAnswers)
    return answers


def voyage(found: Assessment) -> RangeAnswers:
    answers = found.outcomes["range"].answers
    assert isinstance(answers, RangeAnswers)
    return answers


def texts(found: Assessment, stage: str, words: str) -> list[Finding]:
    return [finding for finding in found.outcomes[stage].findings if words in finding.text]


@pytest.fixture(scope="module")
def electric(launch: Plan) -> Plan:
    """The launch with an electric candidate chosen beside her diesels."""
    return with_generic(launch, GENERIC_ENGINES[MOTOR])


class TestDerating:
    def test_the_formula_stands_in_until_the_maker_answers(self, launch: Plan, change: Change) -> None:
        by_formula, by_maker = (
            engine(assess(plan)) for plan in (launch, change(launch, {"engine.candidate.0.power_lost": "2 %"}))
        )
        assert 0.90 < by_formula.aboard_fraction < 0.96
        assert by_maker.aboard_fraction == pytest.approx(0.98)

    def test_the_default_says_where_it_is_from_and_how_to_replace_it(self, launch: Plan) -> None:
        (finding,) = texts(assess(launch), "engine", "of its rated power and takes")
        assert finding.verdict is Verdict.LOOK
        assert "from memory" in finding.source
        assert "default" in finding.text
        assert finding.path == "engine.candidate.0.power_lost"

    def test_a_loss_to_thin_air_names_the_height(self, launch: Plan, change: Change) -> None:
        for height, begins in (("2500 m", "2500 m above the sea, with 40 C at the intake"), ("0 m", "With 40 C")):
            (finding,) = texts(
                assess(change(launch, {"engine.altitude": height})), "engine", "its rated power and takes"
            )
            assert finding.text.startswith(begins)

    @pytest.mark.parametrize(
        ("field", "value"), [("engine.intake_air", "55 C"), ("engine.altitude", "1500 m"), ("engine.humidity", "95 %")]
    )
    def test_hotter_thinner_and_wetter_air_leaves_less(
        self, launch: Plan, change: Change, field: str, value: str
    ) -> None:
        assert engine(assess(change(launch, {field: value}))).aboard_fraction < engine(assess(launch)).aboard_fraction

    def test_warm_sea_water_takes_power_of_charge_cooled_engines_alone(self, launch: Plan, change: Change) -> None:
        tropics = {"engine.raw_water": "32 C"}
        cooled = {"engine.candidate.0.kind": "turbocharged and charge-cooled"}
        assert engine(assess(change(launch, tropics))).aboard_fraction == engine(assess(launch)).aboard_fraction
        warm, cool = (engine(assess(change(launch, each))) for each in (tropics | cooled, cooled))
        assert warm.aboard_fraction < cool.aboard_fraction

    def test_nobody_claims_more_than_the_rating(self, launch: Plan, change: Change) -> None:
        cold = change(launch, {"engine.intake_air": "-5 C"})
        assert engine(assess(cold)).aboard_fraction == 1.0


class TestDataSheet:
    CURVE = {  # noqa: RUF012
        "engine.candidate.0.full_load_speeds": "1400; 2000; 2800",
        "engine.candidate.0.full_load_torques": "118; 120; 102.3",
    }

    def test_the_makers_torque_curve_is_the_full_load_curve(self, launch: Plan, change: Change) -> None:
        drive = engine(assess(change(launch, self.CURVE))).drive
        assert isinstance(drive, DieselDrive)
        assert full_load_power(drive.engine, 2000.0 / 60.0) == pytest.approx(120.0 * 2.0 * 3.14159265 * 2000.0 / 60.0)

    def test_power_points_say_the_same_as_torque_points(self, launch: Plan, change: Change) -> None:
        powers = {"engine.candidate.0.full_load_speeds": "1400; 2000; 2800"}
        powers["engine.candidate.0.full_load_powers"] = "17.30; 25.13; 30.0"
        torque, power = (engine(assess(change(launch, each))).drive for each in (self.CURVE, powers))
        assert float(torque.full_load(1700.0 / 60.0)) == pytest.approx(float(power.full_load(1700.0 / 60.0)), rel=2e-3)

    @pytest.mark.parametrize(
        ("speeds", "torques", "words"),
        [
            ("1400; 2000", "118", "one value for each speed"),
            ("2000; 1400", "118; 110", "do not rise"),
            ("", "118", "0 speeds"),
        ],
    )
    def test_a_curve_that_makes_no_sense_is_left_out_with_a_sentence(
        self, launch: Plan, change: Change, speeds: str, torques: str, words: str
    ) -> None:
        fields = {"engine.candidate.0.full_load_torques": torques}
        if speeds:
            fields["engine.candidate.0.full_load_speeds"] = speeds
        (finding,) = texts(assess(change(launch, fields)), "engine", "curve is left out")
        assert words in finding.text

    def test_the_owners_fuel_curve_comes_first(self, launch: Plan, change: Change) -> None:
        thirsty = {
            "engine.candidate.0.fuel_speeds": "1400; 2000; 2800",
            "engine.candidate.0.fuel_flows": "4; 8; 16",
        }
        (finding,) = texts(assess(change(launch, thirsty)), "engine", "your own curve")
        assert finding.verdict is Verdict.FITS
        own, usual = (voyage(assess(plan)) for plan in (change(launch, thirsty), launch))
        assert own.cruise_consumption.best > 1.4 * usual.cruise_consumption.best

    @pytest.mark.parametrize(("hours", "verdict"), [("100 h", Verdict.FITS), ("2500 h", Verdict.LOOK)])
    def test_the_duty_class_is_held_against_hours_and_load(
        self, launch: Plan, change: Change, hours: str, verdict: Verdict
    ) -> None:
        (finding,) = texts(assess(change(launch, {"engine.hours_per_year": hours})), "engine", "hours a year at a load")
        assert finding.verdict is verdict

    @pytest.mark.parametrize("hours", ["100 h", "2500 h", ""])
    def test_the_load_factor_is_told_from_the_share_of_the_power_beside_it(
        self, launch: Plan, change: Change, hours: str
    ) -> None:
        """Two shares at cruise stand on one page: of the power in calm water, and of the fuel with the margin."""
        found = assess(change(launch, {"engine.hours_per_year": hours}))
        (power,) = texts(found, "engine", "of the power it has aboard")
        assert power.text.startswith("In calm water the engine cruises at ")
        (fuel,) = texts(found, "engine", "a load factor of")
        assert "what she burns at cruise with your margin over what full power burns" in fuel.text

    @pytest.mark.parametrize(
        ("duty", "speed", "verdict", "words"),
        [
            ("continuous", "6.5 kn", Verdict.FITS, "any hours"),
            ("light", "6.5 kn", Verdict.LOOK, "Say how many hours a year you run"),
        ],
    )
    def test_without_hours_the_class_is_held_against_the_load_alone(
        self, launch: Plan, change: Change, duty: str, speed: str, verdict: Verdict, words: str
    ) -> None:
        plan = change(launch, {"engine.candidate.0.duty": duty, "speed.cruise": speed})
        (finding,) = texts(assess(plan), "engine", "The engine is sold for")
        assert finding.verdict is verdict
        assert words in finding.text

    def test_a_load_beyond_the_class_is_said_in_the_sentence_that_an_order_repeats(
        self, launch: Plan, change: Change
    ) -> None:
        assessment = assess(change(launch, {"engine.candidate.0.duty": "pleasure", "speed.cruise": "7.4 kn"}))
        (finding,) = texts(assessment, "engine", "however few hours she runs, and the engine is sold for pleasure.")
        assert finding.verdict is Verdict.LOOK
        assert "Pleasure duty: up to" in finding.text
        (ready, *_) = readiness(assessment)
        assert any(reason.text.endswith("and the engine is sold for pleasure.") for reason in ready.reasons)


class TestElectric:
    def test_while_the_chosen_one_is_not_complete_another_that_is_can_be_chosen(
        self, electric: Plan, change: Change
    ) -> None:
        half = change(electric, {"engine.candidate.0.rated_power": "", "engine.candidate.1.rated_power": ""})
        plan = change(half, {"engine.chosen": half.engine.candidate[0].name})
        waits_for = assess(plan).outcomes["engine"].waits_for
        assert waits_for.startswith(f"the rated power of {plan.engine.chosen}, which is chosen; {MOTOR} has all")
        assert assess(change(plan, {"engine.chosen": MOTOR})).outcomes["engine"].answers is not None

    def test_it_is_a_candidate_like_any_other(self, electric: Plan) -> None:
        found = assess(electric)
        rows = {row.name: row for row in engine(found).candidates}
        assert set(rows) == {"first", "second", MOTOR}
        assert rows[MOTOR].chosen
        assert rows[MOTOR].cruise_l_per_h is None
        assert rows[MOTOR].cruise_drawn_kw is not None
        assert rows["first"].cruise_drawn_kw is None
        assert rows["first"].cruise_l_per_h is not None
        assert all(isinstance(outcome.answers, object) and not outcome.waits_for for outcome in found.outcomes.values())

    def test_drawn_energy_is_shaft_power_over_the_chain(self, electric: Plan) -> None:
        answers = engine(assess(electric))
        drive = answers.drive
        assert isinstance(drive, ElectricDrive)
        assert float(drive.consumption(6e3, 20.0)) == pytest.approx(6.0 / 0.97 / 0.985 / drive.chain)

    def test_range_times_energy_per_mile_is_what_may_be_spent(self, electric: Plan) -> None:
        answers = voyage(assess(electric))
        assert answers.planned_kwh == pytest.approx(40.0 * 0.8 * 0.8 * 2.0 / 3.0)
        assert answers.cruise_energy_per_mile_kwh is not None
        spent = answers.cruise_range_nmi.best * answers.cruise_energy_per_mile_kwh.best
        assert spent == pytest.approx(answers.planned_kwh, rel=0.01)

    def test_both_kinds_lie_on_the_same_speeds(self, electric: Plan) -> None:
        answers = voyage(assess(electric))
        assert {row.candidate for row in answers.beside} == {"first", "second"}
        assert {row.candidate for row in answers.at_cruise} == {"first", "second", MOTOR}
        further = {row.candidate: row.range_nmi for row in answers.at_cruise}
        assert further["first"] > 5.0 * further[MOTOR]

    def test_a_generator_lets_the_tank_count(self, electric: Plan, change: Change) -> None:
        with_it = voyage(assess(change(electric, {"engine.motor.0.generator_power": "15 kW"})))
        assert with_it.cruise_generator_range_nmi is not None
        assert with_it.cruise_generator_range_nmi.best > 3.0 * with_it.cruise_range_nmi.best

    def test_a_leg_beyond_the_battery_is_tried_on_the_fuel_of_the_generator(
        self, electric: Plan, change: Change
    ) -> None:
        serial = {"engine.motor.0.generator_power": "15 kW"}
        (alone,) = texts(assess(change(electric, {"range.leg": "300 nmi"})), "range", "leg of 300 nmi")
        assert alone.verdict is Verdict.STOP
        assert "none of 1,000 plausible boats have a speed that makes it" in alone.text
        assert alone.text.endswith("More battery aboard, or a stop on the way to charge.")
        (with_it,) = texts(assess(change(electric, serial | {"range.leg": "300 nmi"})), "range", "leg of 300 nmi")
        assert with_it.verdict is Verdict.FITS
        assert with_it.text.startswith("With the generator"), (
            "not with what the battery cannot do, behind the word fits"
        )
        (hopeless,) = texts(assess(change(electric, serial | {"range.leg": "6000 nmi"})), "range", "leg of 6000 nmi")
        assert hopeless.verdict is Verdict.STOP
        assert "battery or more fuel" in hopeless.text

    @pytest.mark.parametrize("speed", ["5 kn", "7.5 kn"])
    def test_its_owner_reads_of_a_motor_and_of_no_governor(self, electric: Plan, change: Change, speed: str) -> None:
        found = assess(change(electric, {"speed.cruise": speed, "present.engine_power": "20 kW"}))
        market = search_market(found)
        told = [each.text for stage in ("engine", "propeller", "range") for each in found.outcomes[stage].findings]
        assert [text for text in told if "the motor" in text]
        for text in (*told, *(each.text for each in market.findings)):
            assert not re.search(r"\b(the|this|larger) engine\b|governor", text), text

    @pytest.mark.parametrize("stage", ["engine", "gear", "propeller", "range"])
    def test_what_is_drawn_from_the_battery_is_in_kilowatts_for_everybody(self, electric: Plan, stage: str) -> None:
        answers = assess(electric).outcomes[stage].answers
        tables = [rows for _, _, rows in row_tables(answers) if rows]
        drawn = [
            label
            for each in (answers, *(rows[-1] for rows in tables))
            for name, label in labels(each)
            if "drawn" in name
        ]
        assert drawn
        assert {label.imperial for label in drawn} == {"kW"}

    def test_sailing_charges_but_is_never_range(self, electric: Plan, change: Change) -> None:
        sails = assess(change(electric, {"engine.motor.0.regenerates": "yes"}))
        assert voyage(sails).sailing
        assert not voyage(assess(electric)).sailing
        assert voyage(sails).cruise_range_nmi == voyage(assess(electric)).cruise_range_nmi

    def test_peak_power_is_good_for_a_minute_and_no_more(self, electric: Plan, change: Change) -> None:
        weak = {"engine.motor.0.rated_power": "8 kW", "engine.motor.0.peak_power": "40 kW"}
        (finding,) = texts(assess(change(electric, weak)), "engine", "it cannot be reached")
        assert finding.verdict is Verdict.STOP
        assert "for a minute" in finding.text

    def test_a_lead_battery_gives_less_when_drawn_fast(self, electric: Plan, change: Change) -> None:
        found = assess(change(electric, {"engine.motor.0.battery_kind": "lead-acid"}))
        (finding,) = texts(found, "range", "rated for at 20 hours")
        drawn = voyage(found).cruise_consumption.best
        assert f"gives {100 * (40.0 / 20.0 / drawn) ** 0.25:.0f} %" in finding.text

    def test_it_needs_no_fuel_tank(self, electric: Plan, change: Change) -> None:
        found = assess(change(electric, {"range.tank": ""}))
        assert found.is_done("range")
        assert voyage(found).usable_l is None

    def test_the_motor_and_its_battery_are_weighed(self, electric: Plan) -> None:
        """40 kWh of iron phosphate weigh 333 to 444 kg by its specific energy; the middle counts."""
        change = engine(assess(electric)).weight_change_kg
        assert change == pytest.approx(60.0 + 0.5 * (40e3 / 120.0 + 40e3 / 90.0) - 420.0)

    def test_a_motor_without_battery_waits_for_it(self, launch: Plan, change: Change) -> None:
        plan = with_row(launch, "engine.motor")
        plan = change(
            plan, {"engine.motor.0.name": "bare", "engine.motor.0.rated_power": "10 kW", "engine.chosen": "bare"}
        )
        assert "battery" in assess(plan).outcomes["engine"].waits_for


def test_rows_say_what_gear_and_shaft_must_bear(launch: Plan) -> None:
    first, second = engine(assess(launch)).candidates
    assert isinstance(first, CandidateRow)
    assert first.gear_rating_kw_per_100_rpm == pytest.approx(30.0 / 28.0)
    assert first.shaft_diameter_m is not None
    assert second.shaft_diameter_m is not None
    assert first.shaft_diameter_m > second.shaft_diameter_m
    assert first.weight_change_kg == pytest.approx(-160.0)
    assert second.weight_change_kg is None


def test_candidates_of_one_name_are_told_apart(launch: Plan, change: Change) -> None:
    rows = engine(assess(change(launch, {"engine.candidate.1.name": "first"}))).candidates
    assert [row.name for row in rows] == ["first", "first (2)"]


def test_a_mile_costs_its_fuel_or_what_the_plug_gives_for_it(launch: Plan, electric: Plan, change: Change) -> None:
    """The charger keeps 8 % of what is paid for, from memory."""
    diesel = voyage(assess(change(launch, {"range.price": "1.60 per L"})))
    motor = voyage(assess(change(electric, {"range.electricity_price": "0.40 per kWh"})))
    assert diesel.cruise_cost_per_mile_money is not None
    assert diesel.cruise_fuel_per_mile_l is not None
    assert diesel.cruise_cost_per_mile_money.best == pytest.approx(1.6 * diesel.cruise_fuel_per_mile_l.best)
    assert motor.cruise_cost_per_mile_money is not None
    assert motor.cruise_energy_per_mile_kwh is not None
    assert motor.cruise_cost_per_mile_money.best == pytest.approx(0.4 / 0.92 * motor.cruise_energy_per_mile_kwh.best)


def test_the_curve_ends_where_the_power_is_used_in_service(launch: Plan) -> None:
    """The middle boat's full throttle; light running leaves a little of the power unused."""
    last = voyage(assess(launch)).curve[-1]
    assert 0.8 < last.load_fraction.best < 1.05


def test_a_cruise_beyond_the_engine_in_service_stops_the_range(launch: Plan, change: Change) -> None:
    storm = assess(change(launch, {"power.head_wind": "40 kn", "power.wave_height": "1.5 m"}))
    (finding,) = texts(storm, "range", "power that the engine has not")
    assert finding.verdict is Verdict.STOP
    assert not texts(assess(launch), "range", "power that the engine has not")


def test_several_tanks_are_added_up(launch: Plan, change: Change) -> None:
    apart = voyage(assess(change(launch, {"range.tank": "100 L; 150 L; 50 L"})))
    assert apart.usable_l == pytest.approx(voyage(assess(launch)).usable_l or 0.0)


def test_a_measured_tank_holds_its_volume(launch: Plan, change: Change) -> None:
    plan = change(with_row(launch, "range.measured"), {"range.tank": "", "range.measured.0.length": "1.2 m"})
    plan = change(plan, {"range.measured.0.shape": "lying cylinder", "range.measured.0.height": "0.6 m"})
    answers = voyage(assess(change(plan, {"range.measured.0.dip": "20 cm"})))
    (tank,) = answers.tanks
    assert tank.full_l == pytest.approx(339.29, abs=0.01)
    assert tank.aboard_l == pytest.approx(99.0, abs=0.01)
    assert answers.usable_l == pytest.approx(0.9 * tank.full_l)


def test_a_short_leg_can_be_run_no_faster_than_a_boat_goes(launch: Plan, change: Change) -> None:
    """A leg that the fuel allows at any speed: half of the boats end before the curve does, at their own top speed."""
    found = assess(change(launch, {"range.leg": "5 nmi"}))
    leg, last = voyage(found).leg_kn, voyage(found).curve[-1]
    wheel = found.outcomes["propeller"].answers.wheel
    tops = wheel.setting.hull.fleet.band(wheel.full_throttle(wheel.setting.cases.service).boat_speed)
    assert leg is not None
    assert leg.high == pytest.approx(last.speed_kn)
    assert leg.low == pytest.approx(tops.low / KNOT, rel=1e-6)


def test_the_longest_leg_asks_for_a_speed(launch: Plan, change: Change) -> None:
    short, long, hopeless = (
        voyage(assess(change(launch, {"range.leg": text}))).leg_kn for text in ("100 nmi", "400 nmi", "5000 nmi")
    )
    assert short is not None
    assert long is not None
    assert hopeless is None
    assert short.best > long.best
    (finding,) = texts(assess(change(launch, {"range.leg": "5000 nmi"})), "range", "is too long")
    assert finding.verdict is Verdict.STOP


def test_full_throttle_is_not_a_share_of_a_cruise_that_is_beyond_it(launch: Plan, change: Change) -> None:
    weak = assess(change(launch, {"engine.candidate.0.rated_power": "6 kW"}))
    (beyond,) = texts(weak, "range", "for power that the engine has not")
    assert beyond.verdict is Verdict.STOP
    assert not texts(weak, "range", "times as much as at cruise")
    assert texts(assess(launch), "range", "times as much as at cruise")


def test_an_own_reserve_takes_the_place_of_the_rule(launch: Plan, change: Change) -> None:
    answers = voyage(assess(change(launch, {"range.reserve_share": "40 %"})))
    assert answers.planned_l == pytest.approx(0.6 * (answers.usable_l or 0.0))


def test_a_motor_that_turns_the_shaft_itself_asks_for_no_gear(launch: Plan, change: Change) -> None:
    """Beside a diesel, which does."""
    plan = with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])
    plan = change(plan, {"gear.ratios": "1:1", "gear.ratio": "1:1", "gear.rating": "", "gear.ratings": ""})
    rows = engine(assess(plan)).candidates
    assert {row.kind == "electric": row.gear_rating_kw_per_100_rpm is None for row in rows} == {
        True: True,
        False: False,
    }
