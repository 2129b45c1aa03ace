"""Behaviour of rough and foul propeller blades."""

from math import log10

import numpy as np
import pytest

from engine.propeller.blade_roughness import (
    BLADE_STATES,
    blade_drag_coefficient,
    blade_roughness_after,
    blade_roughness_effect,
)
from engine.propeller.wageningen import WAGENINGEN_B, blade_chord, blade_thickness

DIAMETER, PITCH_RATIO, BLADES, AREA = 0.5, 0.8, 3, 0.5
CHORD = blade_chord(DIAMETER, AREA, BLADES)
THICKNESS_RATIO = blade_thickness(DIAMETER, BLADES) / CHORD


def effect(height):
    return blade_roughness_effect(DIAMETER, PITCH_RATIO, BLADES, CHORD, THICKNESS_RATIO, height)


class TestEffect:
    def test_the_clean_wheel_changes_nothing(self) -> None:
        clean = effect(30e-6)
        assert (clean.drag_coefficient, clean.thrust_coefficient, clean.torque_coefficient) == (0.0, 0.0, 0.0)

    def test_the_effect_is_the_formula(self) -> None:
        # A chord of 0.1 m and roughness of 1 mm: log10(100) is 2.
        rough, clean = (2.2 * (1.89 + 1.62 * power) ** -2.5 for power in (2.0, log10(0.1 / 30e-6)))
        assert blade_drag_coefficient(0.1, 0.05, 1e-3) == pytest.approx(rough)
        result = blade_roughness_effect(0.4, 0.7, 4, 0.1, 0.05, 1e-3)
        assert result.drag_coefficient == pytest.approx(rough - clean)
        assert result.thrust_coefficient == pytest.approx(-0.3 * 0.7 * 0.1 * 4 / 0.4 * (rough - clean))
        assert result.torque_coefficient == pytest.approx(0.25 * 0.1 * 4 / 0.4 * (rough - clean))

    def test_growth_takes_thrust_and_asks_torque_the_more_the_coarser(self) -> None:
        result = effect(np.array([state.roughness_height for state in BLADE_STATES.values()]))
        assert np.all(np.diff(result.thrust_coefficient) < 0.0)
        assert np.all(np.diff(result.torque_coefficient) > 0.0)

    def test_it_adds_to_a_series_at_every_advance_ratio(self) -> None:
        clean = WAGENINGEN_B.cubics(PITCH_RATIO, AREA, BLADES)
        grown = effect(300e-6)
        J = np.array([0.0, 0.3, 0.6])
        foul = clean + grown.open_water
        thrust, torque = grown.thrust_coefficient, grown.torque_coefficient
        np.testing.assert_allclose(foul.thrust_coefficient(J), clean.thrust_coefficient(J) + thrust)
        np.testing.assert_allclose(foul.torque_coefficient(J), clean.torque_coefficient(J) + torque)

    def test_light_growth_costs_a_tenth_of_efficiency_in_the_working_range(self) -> None:
        # As computed here: 0.887 of the clean wheel's at J 0.5; a guard, not a validation.
        clean = WAGENINGEN_B.cubics(PITCH_RATIO, AREA, BLADES)
        foul = clean + effect(300e-6).open_water
        assert foul.efficiency(0.5) / clean.efficiency(0.5) == pytest.approx(0.887, abs=1e-3)

    def test_wheels_and_heights_broadcast(self) -> None:
        result = blade_roughness_effect(
            np.array([[0.4], [0.6]]), PITCH_RATIO, BLADES, CHORD, THICKNESS_RATIO, np.array([30e-6, 3e-4, 3e-3])
        )
        assert np.shape(result.thrust_coefficient) == np.shape(result.torque_coefficient) == (2, 3)
        assert result.open_water.thrust_cubic.shape == (2, 3, 4)


class TestRange:
    def test_there_is_no_drag_of_roughness_many_times_the_chord(self) -> None:
        assert np.isnan(blade_drag_coefficient(0.01, 0.05, 0.2))

    @pytest.mark.parametrize(("chord", "height", "name"), [(0.0, 1e-4, "chord"), (0.1, 0.0, "roughness height")])
    def test_a_blade_without_chord_or_height_is_refused(self, chord, height, name) -> None:
        with pytest.raises(ValueError, match=name):
            blade_drag_coefficient(chord, 0.05, height)


class TestMonths:
    @pytest.mark.parametrize(
        ("months", "name"), [(1.0, "light growth"), (5.9, "light growth"), (6.0, "barnacles"), (60.0, "barnacles")]
    )
    def test_a_wheel_left_alone_fouls_in_steps(self, months, name) -> None:
        assert blade_roughness_after(months) == BLADE_STATES[name].roughness_height

    def test_a_fleet_gets_its_heights(self) -> None:
        np.testing.assert_allclose(blade_roughness_after(np.array([[0.0], [3.0], [9.0]])), [[30e-6], [300e-6], [3e-3]])

    def test_the_blades_do_not_foul_in_a_day(self):
        """Up to the first month roughness rises evenly: half way in half of it, and the day before is as the day."""
        assert blade_roughness_after(0.5) == pytest.approx(165e-6)
        assert blade_roughness_after(0.999) == pytest.approx(blade_roughness_after(1.0), rel=1e-3)

    def test_time_before_the_cleaning_is_refused(self) -> None:
        with pytest.raises(ValueError, match="months"):
            blade_roughness_after(-1.0)

    def test_every_state_says_where_it_comes_from(self) -> None:
        assert [state.status for state in BLADE_STATES.values()] == ["from memory, ITTC (1978)", "ours", "ours"]
