"""Behaviour of van Oortmerssen's method: where it refuses, what it smooths, and that fleets are boats side by side."""

from dataclasses import fields, replace

import numpy as np
import pytest
from scipy.optimize import isotonic_regression

from engine.constants import GRAVITY
from engine.hull.curves import rising_fit
from engine.hull.form import HullForm
from engine.hull.methods import METHODS, range_report
from engine.hull.resistance import Resistance
from engine.hull.van_oortmerssen_1971 import (
    FROUDE_NUMBERS,
    is_anomalous,
    printed_shares,
    resistance_van_oortmerssen_1971,
    rising_shares,
)
from engine.plan import Plan, with_text
from engine.stages.hull_findings import method_findings
from engine.water import Water, water

SEA = water("sea", 15.0)
SPEEDS = FROUDE_NUMBERS * np.sqrt(GRAVITY * 13.0)


def vessel(*, beam_draft_ratio: float = 4.3 / 1.45, **changes) -> HullForm:
    """A vessel of 13 m; her draft follows from the beam-draft ratio, her volume from the coefficients."""
    beam, prismatic, midship = changes.get("waterline_beam", 4.3), changes.pop("prismatic", 0.62), 0.82
    draft = beam / beam_draft_ratio
    form = HullForm(
        waterline_length=13.0,
        waterline_beam=beam,
        draft=draft,
        volume=13.0 * beam * draft * midship * prismatic,
        midship_coefficient=midship,
        waterplane_coefficient=0.75,
        lcb_percent=-2.0,
        half_entrance_angle_deg=25.0,
        appendage_area=6.0,
        appendage_factor=1.5,
    )
    return replace(form, **changes)


FALSE_HUMP = vessel(prismatic=0.66, lcb_percent=-3.0)


def test_a_boat_at_rest_has_no_resistance_and_slow_speeds_raise_no_warning() -> None:
    speeds = np.concatenate([[0.0], np.geomspace(1e-9, 3.0, 100)])
    total = np.asarray(resistance_van_oortmerssen_1971(vessel(), speeds, SEA).total)
    assert total[0] == 0.0
    assert np.all(np.diff(total) > 0.0)


def test_scalars_give_floats_and_a_negative_speed_is_refused() -> None:
    result = resistance_van_oortmerssen_1971(vessel(), 3.0, SEA)
    assert all(isinstance(getattr(result, field.name), float) for field in fields(Resistance))
    with pytest.raises(ValueError, match="speed must not be negative"):
        resistance_van_oortmerssen_1971(vessel(), -1.0, SEA)


def test_a_shallow_wide_boat_is_refused_and_gets_no_negative_resistance() -> None:
    """Beam over draft 6.18: the formula as printed would push her along above Fn 0.36."""
    shallow = vessel(beam_draft_ratio=6.18, waterline_beam=13.0 / 3.17, prismatic=0.60, midship_coefficient=0.82)
    assert np.all(np.isnan(resistance_van_oortmerssen_1971(shallow, SPEEDS[1:], SEA).total))
    method = METHODS["van_oortmerssen_1971"]
    (outside,) = [one for one in range_report(method, shallow, 3.0) if one.limit.parameter == "beam_draft_ratio"]
    assert "no value is given" in outside.sentence
    assert outside.limit.fades_out_at == (1.7, 4.5)


@pytest.mark.parametrize(("ratio", "held"), [(4.3, 4.0), (4.5, 4.0), (1.8, 1.9), (1.7, 1.9)])
def test_near_the_range_the_beam_draft_ratio_is_held_at_its_end(ratio: float, held: float) -> None:
    out, end = vessel(beam_draft_ratio=ratio), vessel(beam_draft_ratio=held)
    np.testing.assert_allclose(rising_shares(out), rising_shares(end), rtol=1e-9)
    (sentence,) = [one.sentence for one in range_report(METHODS["van_oortmerssen_1971"], out, 3.0)]
    assert "held at" in sentence


@pytest.mark.parametrize("ratio", [1.69, 4.51])
def test_farther_out_there_is_no_value(ratio: float) -> None:
    assert np.isnan(resistance_van_oortmerssen_1971(vessel(beam_draft_ratio=ratio), 3.0, SEA).total)
    assert not is_anomalous(vessel(beam_draft_ratio=ratio))


def test_it_is_never_extrapolated_past_froude_number_0_50() -> None:
    root = np.sqrt(GRAVITY * 13.0)
    total = np.asarray(resistance_van_oortmerssen_1971(vessel(), np.array([0.4999, 0.5001]) * root, SEA).total)
    assert np.isfinite(total).tolist() == [True, False]


def test_a_false_hump_is_told_and_smoothed_to_a_step_at_its_mean() -> None:
    printed, risen = printed_shares(FALSE_HUMP), rising_shares(FALSE_HUMP)
    assert is_anomalous(FALSE_HUMP)
    assert np.min(np.diff(printed)) < 0.0
    assert np.all(np.diff(risen) >= 0.0)
    assert np.sum(risen) == pytest.approx(np.sum(printed), rel=1e-9)


def test_the_owner_is_told_of_a_smoothed_curve_while_its_method_counts() -> None:
    assert [name for name, method in METHODS.items() if method.is_smoothed(FALSE_HUMP)] == ["van_oortmerssen_1971"]
    of_all = list(method_findings(Plan(), FALSE_HUMP, ("inside its ranges",)))
    assert [finding.path for finding in of_all] == ["power.method"]
    assert of_all[0].text.startswith("The curve of van Oortmerssen 1971 sags")
    of_another = with_text(Plan(), "power.method", METHODS["holtrop_1984"].label)
    assert not list(method_findings(of_another, FALSE_HUMP, ("inside its ranges",)))
    assert not list(method_findings(Plan(), vessel(prismatic=0.60), ("inside its ranges",)))


def test_a_rising_curve_is_left_as_printed() -> None:
    rising = vessel(prismatic=0.60)
    assert not is_anomalous(rising)
    np.testing.assert_array_equal(rising_shares(rising), printed_shares(rising))


def test_a_dip_of_less_than_two_percent_is_smoothed_but_not_told() -> None:
    printed, risen = printed_shares(vessel()), rising_shares(vessel())
    assert not is_anomalous(vessel())
    assert np.min(np.diff(printed)) < 0.0
    assert np.all(np.diff(risen) >= 0.0)
    np.testing.assert_allclose(risen, printed, rtol=0.01)


def fleet(size: int = 300) -> HullForm:
    """Hulls all over the range, well-behaved and anomalous."""
    random = np.random.default_rng(1971)

    def between(low: float, high: float) -> np.ndarray:
        return random.uniform(low, high, (size, 1))

    length, midship, prismatic = between(9.0, 20.0), between(0.70, 0.95), between(0.52, 0.72)
    beam = length / between(3.0, 6.0)
    draft = beam / between(1.75, 4.45)
    return HullForm(
        waterline_length=length,
        waterline_beam=beam,
        draft=draft,
        volume=length * beam * draft * midship * prismatic,
        midship_coefficient=midship,
        waterplane_coefficient=0.80,
        lcb_percent=between(-6.0, 2.0),
        half_entrance_angle_deg=between(12.0, 45.0),
    )


def test_over_the_whole_range_resistance_is_finite_and_rises_with_speed() -> None:
    forms = fleet()
    speeds = np.linspace(0.0, 0.5, 173) * (1 - 1e-12) * np.sqrt(GRAVITY * np.asarray(forms.waterline_length))
    result = resistance_van_oortmerssen_1971(forms, speeds, SEA)
    assert 0.1 < np.mean(is_anomalous(forms)) < 0.6
    assert np.all(np.asarray(result.wave) >= 0.0)
    assert np.all(np.diff(np.asarray(result.total), axis=1) > 0.0)
    # No cliff: in a step of Fn 0.003 nothing jumps by more than a hundredth of the weight.
    weight = GRAVITY * SEA.density * np.asarray(forms.volume)
    assert np.max(np.diff(np.asarray(result.wave), axis=1) / weight) < 0.01


def test_a_fleet_at_many_speeds_gives_what_each_boat_gives_alone() -> None:
    ratios = np.array([1.6, 2.5, 3.2, 4.2, 5.0])
    boats = [replace(FALSE_HUMP, draft=4.3 / ratio, volume=13.0 * 4.3 * 4.3 / ratio * 0.82 * 0.66) for ratio in ratios]
    together = replace(
        FALSE_HUMP,
        draft=np.array([boat.draft for boat in boats])[:, None],
        volume=np.array([boat.volume for boat in boats])[:, None],
    )
    speeds = np.linspace(0.1, 5.6, 12)
    total = resistance_van_oortmerssen_1971(together, speeds, SEA).total
    assert np.shape(total) == (5, 12)
    alone = [[resistance_van_oortmerssen_1971(boat, float(v), SEA).total for v in speeds] for boat in boats]
    np.testing.assert_allclose(total, alone, rtol=1e-10)
    assert np.isnan(total[:, 0]).tolist() == [True, False, False, False, True]


def test_allowance_is_its_own_without_the_air_and_lies_on_hull_and_appendages() -> None:
    result = resistance_van_oortmerssen_1971(vessel(), 3.0, SEA)
    pressure = 0.5 * SEA.density * 9.0
    assert result.correlation == pytest.approx((0.00051 - 0.00008) * pressure * result.total_wetted_surface, rel=1e-12)
    assert result.appendages == pytest.approx(1.5 * 6.0 / result.wetted_surface * result.friction, rel=1e-12)


def test_denser_water_raises_every_force_in_proportion() -> None:
    heavy = Water(density=2.0 * float(SEA.density), kinematic_viscosity=SEA.kinematic_viscosity)
    twice = resistance_van_oortmerssen_1971(vessel(), SPEEDS, heavy).total
    np.testing.assert_allclose(twice, 2.0 * np.asarray(resistance_van_oortmerssen_1971(vessel(), SPEEDS, SEA).total))


def test_the_rising_fit_is_that_of_isotonic_regression() -> None:
    curves = np.random.default_rng(5).normal(size=(60, 40)).cumsum(axis=1)
    expected = [isotonic_regression(curve).x for curve in curves]
    np.testing.assert_allclose(rising_fit(curves), expected, atol=1e-12)
