"""What the owner of a motor and a battery is told of them."""

import re
from collections.abc import Callable
from itertools import pairwise

import pytest

from engine.answers import labels, said_of_motor
from engine.assessment import Assessment
from engine.assumptions import assumptions
from engine.findings import Finding, Verdict
from engine.machinery.generic_engines import GENERIC_ENGINES
from engine.plan import Plan, with_row
from engine.plan_defaults import default_in, gear_efficiency
from engine.readiness import readiness
from engine.stages.trial_checks import trial_checks
from tests.engine.generic_candidates import with_generic
from tests.engine.one_after_another import assess
from wizard.echo import echo

Change = Callable[[Plan, dict[str, str]], Plan]


def texts(found: Assessment, stage: str, words: str) -> list[Finding]:
    return [finding for finding in found.outcomes[stage].findings if words in finding.text]


@pytest.fixture(scope="module")
def electric(launch: Plan) -> Plan:
    """The launch with an electric candidate of 12 kW and 40 kWh chosen beside her diesels."""
    return with_generic(launch, GENERIC_ENGINES["invented 12 kW motor"])


def test_a_short_range_is_told_in_parts_of_miles_and_hours(electric: Plan, change: Change) -> None:
    """With a day sailer's battery whole miles and hours came out as "2 nmi in 0 hours"."""
    found = assess(change(electric, {"engine.motor.0.battery": "3 kWh"}))
    answers = found.outcomes["range"].answers
    (finding,) = texts(found, "range", "At cruise she goes")
    assert f"in {answers.cruise_endurance_h.best:.2g} hours" in finding.text
    assert f"goes {answers.cruise_range_nmi.best:.2g} nmi ({answers.cruise_range_nmi.low:.2g} to" in finding.text
    assert answers.cruise_endurance_h.best < 1.0


OF_THE_DRIVE = {"engine", "gear", "propeller", "shaft", "range", "fit", "trial"}


def test_the_stages_of_the_drive_say_that_a_motor_turns_the_propeller(electric: Plan, launch: Plan) -> None:
    """Hull, power and costs speak of the engine that is in her now, too."""
    said = {stage for stage, outcome in assess(electric).outcomes.items() if outcome.of_motor}
    assert said == OF_THE_DRIVE
    assert not [stage for stage, outcome in assess(launch).outcomes.items() if outcome.of_motor]


@pytest.mark.parametrize(
    ("engine", "motor"),
    [
        ("Rated engine speed", "Rated motor speed"),
        ("Number of engines", "Number of motors"),
        ("Engine", "Motor"),
        ("Power at crankshaft", "Power at motor shaft"),
        ("one engine at its crankshaft", "one motor at its shaft"),
        ("Engine room, length", "Engine room, length"),
        ("Present engine and gear, weight", "Present engine and gear, weight"),
        ("less the old engine", "less the old engine"),
    ],
)
def test_a_label_is_said_of_a_motor_but_for_what_comes_out_and_its_room(engine: str, motor: str) -> None:
    assert said_of_motor(engine) == motor


def test_a_motor_is_not_told_what_air_and_water_leave_it(electric: Plan, launch: Plan) -> None:
    for plan, is_told in ((launch, True), (electric, False)):
        told = [label.text for _, label in labels(assess(plan).outcomes["engine"].answers)]
        assert ("Left of it in your air and water" in told) is is_told
        assert "Load at cruise into a head wind" in told  # whether the plan has one, or one is tried


def test_what_to_measure_next_and_to_order_is_a_motor(electric: Plan) -> None:
    found = assess(electric)
    actions = [row.action for row in found.outcomes["propeller"].answers.doubt]
    assert "Ask the maker for the test sheet of this motor, or its power tolerance." in actions
    item = next(each for each in readiness(found) if each.item == "engine")
    assert item.called == "motor"


@pytest.mark.parametrize(("battery", "verdict"), [("40 kWh", Verdict.FITS), ("4 kWh", Verdict.LOOK)])
def test_the_current_and_the_rate_of_the_battery_are_told(
    electric: Plan, change: Change, battery: str, verdict: Verdict
) -> None:
    """12 kW at the shaft over a chain of 0.848 are some 14 kW: 0.35 C of 40 kWh, 3.5 C of 4 kWh, and 295 A at 48 V."""
    found = assess(change(electric, {"engine.motor.0.battery": battery}))
    (finding,) = texts(found, "range", "the battery gives")
    kilowatts = found.outcomes["range"].answers.full_throttle_drawn_kw.best
    assert kilowatts == pytest.approx(12.0 / 0.848, rel=0.02)
    rate = kilowatts / float(battery.split()[0])
    assert (
        f"{rate:.2g} times its rated energy in an hour ({rate:.2g} C). Its voltage is not given: at 48 V that would be "
        f"{kilowatts * 1e3 / 48.0:.0f} A" in finding.text
    )
    assert finding.verdict is verdict
    assert finding.path == ("engine.motor.0.battery" if verdict is Verdict.LOOK else "")


@pytest.mark.parametrize(
    ("given", "volts"),
    [
        ({"voltage": "96 V"}, 96.0),
        ({"battery": "48 V 833 Ah"}, 48.0),
        ({"battery": "833 Ah x 51,2 V"}, 51.2),
        ({"battery": "51.2 V 800 Ah", "voltage": "51.2"}, 51.2),
    ],
)
def test_the_current_is_that_at_the_voltage_of_the_battery(
    electric: Plan, change: Change, given: dict[str, str], volts: float
) -> None:
    """Power over voltage, given for itself or with the ampere-hours."""
    found = assess(change(electric, {f"engine.motor.0.{name}": text for name, text in given.items()}))
    answers = found.outcomes["range"].answers
    full = answers.full_throttle_drawn_kw
    assert answers.battery_v == volts
    assert answers.full_throttle_battery_a.best == pytest.approx(full.best * 1e3 / volts, rel=1e-9)
    assert answers.cruise_battery_a.high == pytest.approx(answers.cruise_drawn_kw.high * 1e3 / volts, rel=1e-9)
    (finding,) = texts(found, "range", "the battery gives")
    assert f"At {volts:g} V that is {full.best * 1e3 / volts:.0f} A in cables" in finding.text
    assert not texts(found, "range", "is written with")


def test_at_full_throttle_no_boat_takes_more_than_her_motor_gives(electric: Plan) -> None:
    """At the one speed that ends the curve some did: 30 % more than 12 kW, turned out 5 % strong in one of ten."""
    answers = assess(electric).outcomes["range"].answers
    band = answers.full_throttle_drawn_kw
    assert band.low == pytest.approx(0.95 * 12.0 / 0.848, rel=0.02)
    assert band.high == pytest.approx(1.05 * 12.0 / 0.848, rel=0.02)
    last = answers.curve[-1]
    assert last.drawn_kw.high > band.high
    assert last.reached_fraction == pytest.approx(0.5, abs=0.02), "the curve says how many boats make its end"
    made = [row.reached_fraction for row in answers.curve]
    assert made[0] == pytest.approx(1.0)
    assert all(later <= earlier for earlier, later in pairwise(made))
    assert all(row.drawn_kw.high < 1.01 * band.high for row in answers.curve if row.reached_fraction > 0.9)


def test_without_a_voltage_no_current_is_told_among_the_answers(electric: Plan) -> None:
    answers = assess(electric).outcomes["range"].answers
    assert answers.cruise_battery_a is None
    assert answers.full_throttle_battery_a is None


def test_two_voltages_of_one_battery_are_named(electric: Plan, change: Change) -> None:
    twice = {"engine.motor.0.battery": "24 V 800 Ah", "engine.motor.0.voltage": "48 V"}
    (finding,) = texts(assess(change(electric, twice)), "range", "is written with 24 V")
    assert finding.verdict is Verdict.LOOK
    assert finding.path == "engine.motor.0.voltage"
    usual = {"engine.motor.0.battery": "48 V 400 Ah", "engine.motor.0.voltage": "51.2 V"}
    assert not texts(assess(change(electric, usual)), "range", "is written with")


def test_what_a_motor_costs_is_not_said_of_an_engine(electric: Plan, launch: Plan, change: Change) -> None:
    """Nobody changes a diesel for a battery to go further."""
    prices = {"costs.engine": "20000", "costs.upkeep_now": "900", "range.electricity_price": "0.40 per kWh"}
    told = assess(change(electric, prices)).outcomes["costs"].findings
    (why,) = (each for each in told if "seldom repays" in each.text)
    assert "a motor with its battery" in why.text
    assert "seldom range" in why.text
    assert "no source" in why.source
    assert any("needs no new motor" in each.text for each in told)
    assert any(each.text.startswith("Upkeep with the new motor is not given") for each in told)
    assert any("seldom repays a new engine" in each.text for each in assess(launch).outcomes["costs"].findings)


TRIED = {
    "trial.gear_ratio": "2",
    "trial.propeller_diameter": "18 in",
    "trial.propeller_pitch": "17 in",
    "trial.propeller_blades": "3",
    "trial.air": "20 C",
    "trial.engine_room": "45 C",
    "trial.gear_oil": "99 C",
    "trial.run.0.engine_speed": "1200 rpm",
    "trial.run.0.speed": "5 kn",
    "trial.run.0.throttle": "full",
}


def test_a_trial_is_told_to_the_owner_of_a_motor(electric: Plan, change: Change) -> None:
    """It said that the engine is held down by its propeller, and runs hot and smokes."""
    told = [each.text for each in assess(change(with_row(electric, "trial.run"), TRIED)).outcomes["trial"].findings]
    assert any("motor down, and a motor held down gives less than its power" in text for text in told), told
    assert any("Gear oil" in text for text in told)
    for text in told:
        assert not re.search(r"(?i)\ban? engine|the engine\b(?! room)|governor|smoke", text), text


def test_no_gear_oil_is_read_where_the_motor_turns_the_shaft(electric: Plan, change: Change) -> None:
    direct = change(with_row(electric, "trial.run"), TRIED | {"gear.ratios": "1", "gear.rating": "", "gear.ratio": "1"})
    found = assess(direct)
    assert found.outcomes["gear"].answers.ratio == 1.0
    assert not texts(found, "trial", "Gear oil")
    assert "gear oil" not in [check.row.item for check in trial_checks(direct, 25.0, 1.0)]
    assert "gear oil" in [check.row.item for check in trial_checks(electric, 25.0, 2.0)]


def test_the_shaft_is_held_against_the_peak_of_a_motor(electric: Plan, change: Change) -> None:
    """Torque goes with power: at twice the power, half the safety factor is left."""
    assert not texts(assess(change(electric, {"engine.motor.0.peak_power": ""})), "shaft", "On its peak power")
    factor = assess(electric).outcomes["shaft"].answers.actual_safety_factor
    rated = electric.engine.motor[0].rated_power
    assert rated is not None
    for times, verdict in ((0.98 * factor / 2.0, Verdict.FITS), (1.02 * factor / 2.0, Verdict.LOOK)):
        peak = {"engine.motor.0.peak_power": f"{times * rated.si / 1e3:.6f} kW"}
        found = assess(change(electric, peak)).outcomes["shaft"].findings
        (told,) = [each for each in found if "On its peak power" in each.text]
        assert told.verdict is verdict
        assert f"{times:.1f} times as much" in told.text
        left = re.search(r"safety factor is then (\d+\.\d+)", told.text)
        assert left
        assert float(left[1]) == pytest.approx(factor / times, abs=0.05)
        assert (float(left[1]) < 2.0) is (verdict is Verdict.LOOK)
        of_gear = "; for the gear see its page." if verdict is Verdict.FITS else "what gear and coupling"
        assert of_gear in told.text
    assert not texts(assess(change(electric, {"engine.motor.0.peak_power": "1 kW"})), "shaft", "On its peak power")
    direct = change(electric, {"gear.ratios": "1", "gear.rating": "", "engine.motor.0.rated_speed": "700 rpm"})
    assert texts(assess(direct), "shaft", "Ask the makers whether the coupling may carry that, too.")


@pytest.mark.parametrize(("engine", "motor"), [("an engine held by its governor", "a motor held by its controller")])
def test_a_sentence_keeps_its_article(engine: str, motor: str) -> None:
    assert said_of_motor(engine) == motor


def test_no_rating_is_wanted_of_a_gear_that_is_not_there(electric: Plan, change: Change) -> None:
    """The page said in one line that there is no gear to be rated, and in another what it must be rated for."""
    without = assess(change(electric, {"gear.ratios": "1", "gear.rating": "", "gear.ratio": "1"}))
    assert texts(without, "gear", "there is no gear to be rated")
    assert "needed_rating_kw_per_100_rpm" not in dict(labels(without.outcomes["gear"].answers))
    assert assess(electric).outcomes["gear"].answers.needed_rating_kw_per_100_rpm == pytest.approx(12.0 / 15.0, rel=0.5)


def test_where_there_is_no_gear_none_takes_power(electric: Plan, change: Change) -> None:
    """3 % were put down to a gear until the owner said otherwise: the wheel was too fine, and the range too short."""
    direct = change(electric, {"gear.ratios": "1", "gear.rating": "", "engine.motor.0.rated_speed": "700 rpm"})
    found, told = assess(direct), assess(change(direct, {"gear.efficiency": "100 %"}))
    for stage in ("engine", "gear", "propeller", "shaft", "range"):
        one, other = (each.outcomes[stage].answers for each in (found, told))
        for name, _ in labels(one):
            assert getattr(one, name) == getattr(other, name), (stage, name)
    assert found.outcomes["engine"].answers.drive.gear_efficiency == 1.0
    (finding,) = texts(found, "gear", "there is no gear to be rated")
    assert finding.verdict is Verdict.FITS
    assert "No power is put down to one" in finding.text


@pytest.mark.parametrize(
    "gear",
    [
        {"gear.ratios": "1; 2", "gear.rating": ""},
        {"gear.ratios": "1", "gear.rating": "2 kW per 100 rpm"},
        {"gear.ratios": "2", "gear.rating": ""},
    ],
)
def test_a_gear_that_may_be_there_takes_what_a_gear_takes(electric: Plan, change: Change, gear: dict[str, str]) -> None:
    plan = change(electric, gear | {"gear.ratio": ""})
    assert gear_efficiency(plan, plan.engine.motor[0]) == 0.97
    assert default_in(plan, "gear.efficiency") == "97 %"


def test_a_ratio_of_one_out_of_several_still_has_a_loss_and_says_so(electric: Plan, change: Change) -> None:
    slow = {"gear.ratios": "1; 3", "gear.rating": "", "gear.ratio": "", "engine.motor.0.rated_speed": "700 rpm"}
    plan = change(electric, slow)
    found = assess(plan)
    assert found.outcomes["gear"].answers.ratio == 1.0
    (finding,) = texts(found, "gear", "is still put down to a gear")
    assert finding.verdict is Verdict.LOOK
    assert finding.path == "gear.ratio"
    mended = assess(change(plan, {"gear.ratio": "1"}))
    assert not texts(mended, "gear", "is still put down to a gear")


@pytest.mark.parametrize(
    ("gear", "said"),
    [({}, True), ({"gear.ratios": "2; 3"}, False), ({"gear.efficiency": "96 %"}, False), ({"gear.ratio": "1"}, False)],
)
def test_a_ratio_of_one_that_is_not_taken_is_said_to_be_shown_with_a_gear(
    electric: Plan, change: Change, gear: dict[str, str], said: bool
) -> None:
    plan = change(electric, {"gear.ratios": "1; 2", "gear.rating": "", "gear.ratio": "2"} | gear)
    found = texts(assess(plan), "gear", "At 1:1 the motor would turn the shaft itself")
    assert ["with the 3 % that a gear takes" in each.text for each in found] == ([True] if said else [])


def test_a_diesel_beside_it_keeps_its_gear(electric: Plan, change: Change) -> None:
    plan = change(electric, {"gear.ratios": "1", "gear.rating": ""})
    assert gear_efficiency(plan, plan.engine.candidate[0]) == 0.97
    assert gear_efficiency(plan, plan.engine.motor[0]) == 1.0


def test_what_is_taken_for_a_gear_that_is_not_there_is_told_as_that(electric: Plan, change: Change) -> None:
    direct = assess(change(electric, {"gear.ratios": "1", "gear.rating": ""}))
    (row,) = (each for each in assumptions(direct) if each.path == "gear.efficiency")
    assert row.text == "100 %"
    assert "no gear takes power" in row.source
    assert echo(direct.plan, "gear.efficiency") == "empty: 100 %"
    (usual,) = (each for each in assumptions(assess(electric)) if each.path == "gear.efficiency")
    assert usual.text == "97 %"


def test_what_a_lead_battery_gives_at_full_throttle_is_told_as_well(electric: Plan, change: Change) -> None:
    """Peukert's law, t = 20 (C / 20 P)^1.25, so of the energy (C / 20 P)^0.25: 40 kWh at 14.2 kW give 61 %."""
    found = assess(change(electric, {"engine.motor.0.battery_kind": "lead-acid"}))
    (finding,) = texts(found, "range", "rated for at 20 hours")
    kilowatts = found.outcomes["range"].answers.full_throttle_drawn_kw.best
    share = (40.0 / 20.0 / kilowatts) ** 0.25
    assert f"at full throttle, {kilowatts:.1f} kW, {100.0 * share:.0f} %" in finding.text


def test_the_gear_is_held_against_the_peak_of_a_motor(electric: Plan, change: Change) -> None:
    """What a gear must be rated for goes with power at a speed, so at twice the power it is twice as much."""
    said = "On its peak power the motor asks the gear"
    rated = electric.engine.motor[0].rated_power
    assert rated is not None
    for rating, times, verdict in (
        ("1.2", 1.1, Verdict.FITS),
        ("1.2", 1.9, Verdict.LOOK),
        ("", 1.9, Verdict.LOOK),
    ):
        peak = {"engine.motor.0.peak_power": f"{times * rated.si / 1e3:.6f} kW"}
        told = assess(change(electric, peak | {"gear.rating": rating and f"{rating} kW per 100 rpm"}))
        needed = told.outcomes["gear"].answers.needed_rating_kw_per_100_rpm
        (found,) = texts(told, "gear", said)
        assert found.verdict is verdict, found.text
        asked = re.search(r"for ([\d.]+) (kW|hp) per 100 rpm", found.text)
        assert asked
        kilowatts = float(asked[1]) * (0.7457 if asked[2] == "hp" else 1.0)
        assert kilowatts == pytest.approx(times * needed, rel=0.01)
        assert ("more than the gear is rated for" in found.text) is (bool(rating) and verdict is Verdict.LOOK)
        assert (found.path == "gear.rating") is (verdict is Verdict.LOOK)
    for nothing in ("", "1 kW"):
        assert not texts(assess(change(electric, {"engine.motor.0.peak_power": nothing})), "gear", said)
    just = {"rated_power": "10.5 kW", "rated_speed": "2500 rpm", "peak_power": "21 kW"}
    at_rated = change(electric, {f"engine.motor.0.{name}": text for name, text in just.items()})
    for rating, text in (("0.42", "The gear is rated for just what the motor gives"), ("0.84", said)):
        (found,) = texts(assess(change(at_rated, {"gear.rating": f"{rating} kW per 100 rpm"})), "gear", text)
        assert found.verdict is (Verdict.FITS if text is said else Verdict.LOOK), found.text
    weak = {"gear.rating": "0.1 kW per 100 rpm", "engine.motor.0.peak_power": f"{2e-3 * rated.si} kW"}
    assert not texts(assess(change(electric, weak)), "gear", said)
