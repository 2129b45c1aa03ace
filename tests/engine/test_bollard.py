"""Pull with no way on: which limit holds the shaft, and what the pull and its band are."""

import numpy as np
import pytest

from engine.propeller.bollard import ASTERN_NOTE, ASTERN_STATUS, STOPPING_NOTE, astern_pull, bollard_pull
from engine.propeller.equilibrium import bollard_point
from engine.propeller.handbook import bollard_thrust
from engine.propeller.interaction import bollard_thrust_deduction
from engine.propeller.matching import Limit
from engine.propeller.wageningen import WAGENINGEN_B

RHO = 1025.0
D = 0.66
WHEEL = WAGENINGEN_B.cubics(0.70, 0.50, 3)
RATED_POWER, RATED_SPEED = 60e3, 15.0
DEDUCTION = bollard_thrust_deduction()


def constant_torque(n):
    return RATED_POWER * np.asarray(n) / RATED_SPEED


def pull(open_water=WHEEL, power=constant_torque, highest=RATED_SPEED, **others):
    return bollard_pull(open_water, D, power, highest, RHO, DEDUCTION, **others)


def test_an_engine_of_constant_torque_is_held_where_torque_meets_torque():
    """Q = 2 pi rho n2 D5 KQ / 2 pi by hand: no iteration needed."""
    held = pull()
    torque = RATED_POWER / (2 * np.pi * RATED_SPEED)
    KT, KQ = WHEEL.thrust_coefficient(0.0), WHEEL.torque_coefficient(0.0)
    by_hand = np.sqrt(torque / (RHO * D**5 * KQ))
    assert held.shaft_speed == pytest.approx(by_hand, rel=1e-10)
    assert held.thrust == pytest.approx(torque * KT / (D * KQ), rel=1e-10)
    assert held.delivered_power == pytest.approx(2 * np.pi * by_hand * torque, rel=1e-10)
    assert held.limited_by == Limit.ENGINE


def test_held_by_its_torque_the_engine_gives_less_than_rated_power_and_pull():
    held, all_power = pull(), bollard_point(WHEEL, D, RATED_POWER, RHO)
    assert held.shaft_speed < all_power.shaft_speed < RATED_SPEED
    assert held.delivered_power < 0.9 * RATED_POWER
    assert held.thrust < all_power.thrust


def test_power_that_does_not_change_with_speed_gives_the_known_point():
    constant = pull(power=lambda n: np.full_like(n, RATED_POWER))
    point = bollard_point(WHEEL, D, RATED_POWER, RHO)
    assert constant.shaft_speed == pytest.approx(point.shaft_speed, rel=1e-10)
    assert constant.thrust == pytest.approx(point.thrust, rel=1e-10)


def test_a_fine_wheel_is_held_by_the_governor():
    fine = WAGENINGEN_B.cubics(0.5, 0.50, 3)
    governed = pull(fine, highest=12.0, output=1.5)
    assert governed.limited_by == Limit.GOVERNOR
    assert governed.shaft_speed == 12.0
    assert governed.delivered_power < 1.5 * constant_torque(12.0)


def test_beyond_the_highest_speed_the_engine_is_not_asked():
    """A full load that ends with the governor's speed does not turn its hold into the engine's."""
    fine = WAGENINGEN_B.cubics(0.5, 0.50, 3)
    ends = pull(fine, power=lambda n: np.where(n > 12.0, 0.0, 1.5 * constant_torque(n)), highest=12.0)
    assert ends.limited_by == Limit.GOVERNOR
    assert ends.shaft_speed == 12.0


def test_an_engine_that_cannot_turn_the_wheel_says_so():
    stalled = pull(power=lambda n: 1e-3 * np.asarray(n))
    assert stalled.limited_by == Limit.NOT_FOUND
    assert np.isnan(stalled.shaft_speed)
    assert np.isnan(stalled.pull.middle)


def test_below_its_idle_speed_an_engine_gives_nothing_and_the_meeting_above_it_counts():
    idling = pull(power=lambda n: np.where(n < 4.0, 0.0, constant_torque(n)))
    assert idling.shaft_speed == pytest.approx(pull().shaft_speed, rel=1e-10)


def test_the_band_of_pull_takes_the_far_ends_of_thrust_deduction_and_polynomials():
    held = pull()
    assert held.pull.low == pytest.approx(0.95 * held.thrust * (1 - 0.08), rel=1e-12)
    assert held.pull.middle == pytest.approx(held.thrust * (1 - 0.06), rel=1e-12)
    assert held.pull.high == pytest.approx(1.05 * held.thrust * (1 - 0.04), rel=1e-12)


@pytest.mark.parametrize("column", [False, True])
def test_many_boats_equal_each_alone(column):
    pitches, outputs = np.array([0.60, 0.70, 0.80, 0.45]), np.array([0.9, 1.0, 1.1, 1.6])
    shaped = (lambda x: x[:, None]) if column else (lambda x: x)
    many = pull(WAGENINGEN_B.cubics(shaped(pitches), 0.5, 3), output=shaped(outputs))
    assert np.shape(many.shaft_speed) == np.shape(shaped(pitches))
    for i, (pitch, output) in enumerate(zip(pitches, outputs, strict=True)):
        one = pull(WAGENINGEN_B.cubics(pitch, 0.5, 3), output=output)
        assert np.ravel(many.shaft_speed)[i] == pytest.approx(one.shaft_speed, rel=1e-10)
        assert np.ravel(many.pull.high)[i] == pytest.approx(one.pull.high, rel=1e-10)
        assert np.ravel(many.limited_by)[i] == one.limited_by


def test_one_wheel_on_boats_of_different_output_and_governor():
    many = pull(output=np.array([0.8, 1.0]), highest=np.array([15.0, 8.0]))
    assert list(many.limited_by) == [Limit.ENGINE, Limit.GOVERNOR]
    assert many.shaft_speed[1] == 8.0


def test_the_handbooks_thrust_lies_a_tenth_below_at_the_same_power():
    held = pull()
    assert 0.85 < bollard_thrust(held.delivered_power, D) / held.thrust < 0.95


def test_impossible_sizes_are_refused_by_name():
    with pytest.raises(ValueError, match="diameter"):
        bollard_pull(WHEEL, 0.0, constant_torque, RATED_SPEED, RHO, DEDUCTION)


def test_astern_the_wheel_gives_about_two_thirds_and_says_that_it_has_no_source():
    band = astern_pull(np.array([1000.0, 2000.0]))
    assert band.low == pytest.approx([550.0, 1100.0])
    assert band.middle == pytest.approx([650.0, 1300.0])
    assert band.high == pytest.approx([750.0, 1500.0])
    assert "no source" in ASTERN_STATUS
    assert "no source" in ASTERN_NOTE
    assert "way" in STOPPING_NOTE
