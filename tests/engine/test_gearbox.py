"""Behaviour of gears, the sea trial, cautions and the list of standards."""

import numpy as np
import pytest

from engine.constants import RPM
from engine.findings import Verdict
from engine.machinery.cautions import CAUTIONS
from engine.machinery.gearbox import (
    DISPLACEMENT_BOAT_DUTY,
    GEAR_DUTIES,
    ROTATION_RULES,
    crankshaft_power,
    delivered_power,
    engine_speed,
    gear_duties_for,
    gear_output_torque,
    gear_rating_required,
    judge_gear_rating,
    power_after_gear,
    shaft_speed,
)
from engine.machinery.sea_trial import propeller_slip
from engine.machinery.shaft import shaft_torque
from engine.machinery.standards import STANDARDS
from engine.reading import read_quantity
from engine.units import Dimension


class TestGear:
    def test_speed_through_the_gear_turns_round(self) -> None:
        ratios = np.array([1.5, 2.0, 2.63])
        assert shaft_speed(3000 * RPM, 2.5) == pytest.approx(1200 * RPM)
        assert np.asarray(engine_speed(shaft_speed(50.0, ratios), ratios)) == pytest.approx([50.0] * 3, rel=1e-12)

    def test_power_through_the_gear_turns_round(self) -> None:
        assert power_after_gear(40e3) == pytest.approx(38.8e3)
        assert delivered_power(40e3) == pytest.approx(40e3 * 0.97 * 0.985)
        assert crankshaft_power(delivered_power(40e3)) == pytest.approx(40e3, rel=1e-12)

    def test_a_gear_makes_torque_but_no_power(self) -> None:
        torque = gear_output_torque(40e3, 50.0, 2.5)
        assert torque == pytest.approx(np.asarray(shaft_torque(power_after_gear(40e3), shaft_speed(50.0, 2.5))))

    @pytest.mark.parametrize(
        ("share", "verdict"), [(0.9, "STOP"), (0.99, "STOP"), (1.0, "LOOK"), (1.09, "LOOK"), (1.10, "FITS")]
    )
    def test_rating_is_judged_with_a_tenth_in_hand(self, share: float, verdict: str) -> None:
        required = float(np.asarray(gear_rating_required(75e3, 3000 * RPM)))
        assert judge_gear_rating(required, share * required).verdict is Verdict[verdict]

    def test_a_gear_that_is_rated_for_just_the_engine_carries_it(self) -> None:
        """10.5 kW at 2500 rpm and 0.42 kW per 100 rpm are the same, and 1e-16 less as a computer reckons."""
        required = float(np.asarray(gear_rating_required(10.5e3, 2500 * RPM)))
        rating = read_quantity("0.42 kW per 100 rpm", Dimension.GEAR_RATING).si
        assert rating < required
        found = judge_gear_rating(required, rating)
        assert found.verdict is Verdict.LOOK
        assert found.text.startswith("The gear is rated for just what the engine gives; keep 10 %")

    @pytest.mark.parametrize(("share", "words"), [(0.997, "0.3 % less"), (1.097, "9.7 % more"), (2.777, "178 % more")])
    def test_a_rating_near_its_limit_is_told_to_the_tenth_of_a_per_cent(self, share: float, words: str) -> None:
        """'0 % less: it must not be used' and '10 % more; keep 10 %' contradict themselves."""
        assert words in judge_gear_rating(1000.0, share * 1000.0).text

    def test_an_impossible_ratio_is_refused(self) -> None:
        with pytest.raises(ValueError, match="ratio"):
            shaft_speed(50.0, 0.0)


@pytest.mark.parametrize(
    ("hours", "names"),
    [
        (500, ["light", "intermediate", "medium", "continuous"]),
        (2000, ["light", "intermediate", "medium", "continuous"]),
        (2500, ["light", "medium", "continuous"]),
        (3500, ["medium", "continuous"]),
        (3600, ["continuous"]),
    ],
)
def test_classes_of_gears_by_hours_leave_out_that_of_planing_boats(hours: float, names: list[str]) -> None:
    """Printed by two makers: pleasure to 500 h, light to 2500, intermediate to 2000, medium to 3500."""
    assert [duty.name for duty in gear_duties_for(hours)] == names


def test_duty_words_send_a_displacement_boat_past_pleasure() -> None:
    assert [duty.name for duty in GEAR_DUTIES] == ["pleasure", "light", "intermediate", "medium", "continuous"]
    assert GEAR_DUTIES[-1].hours_per_year is None
    assert "continuous for passage-making" in DISPLACEMENT_BOAT_DUTY


def test_rotation_is_named_from_astern() -> None:
    assert "from astern" in ROTATION_RULES[0]
    assert all(rule.endswith(".") for rule in ROTATION_RULES)


class TestSeaTrial:
    def test_a_screw_in_a_solid_has_no_slip_and_a_moored_boat_all(self) -> None:
        assert propeller_slip(0.4 * 20.0, 0.4, 20.0) == pytest.approx(0.0)
        assert propeller_slip(0.0, 0.4, 20.0) == 1.0


class TestCautions:
    def test_there_are_thirteen_and_each_speaks(self) -> None:
        assert len(CAUTIONS) == 13
        for key, caution in CAUTIONS.items():
            assert key == caution.id
            assert caution.applies
            assert len(caution.text) > 60
            assert caution.text.endswith(".")

    def test_what_can_kill_is_there(self) -> None:
        assert {"carbon-monoxide", "fuel-vapour", "lifting", "flooding", "plan-not-certificate"} <= set(CAUTIONS)
        assert "alarms" in CAUTIONS["carbon-monoxide"].text
        assert "qualified person" in CAUTIONS["plan-not-certificate"].text

    def test_batteries_gas_and_a_motor_that_is_turned_makes_voltage(self) -> None:
        assert "hydrogen" in CAUTIONS["battery"].text
        assert "voltage though switched off" in CAUTIONS["rotating-shaft"].text


class TestStandards:
    def test_numbers_are_listed_once_each_and_say_what_was_seen_of_them(self) -> None:
        designations = [standard.designation for standard in STANDARDS]
        assert len(set(designations)) == len(designations)
        assert all(any(word in s.status for word in ("verified", "number cited", "from memory")) for s in STANDARDS)

    def test_numbers_known_to_be_wrong_for_the_job_or_cancelled_are_not_listed(self) -> None:
        designations = {standard.designation for standard in STANDARDS}
        assert not designations & {"ISO 4567", "ISO 5778", "SAE J756", "ISO 10133"}
        assert {"ISO 8665", "ISO 4566", "SAE J755", "ABYC P-6"} <= designations
