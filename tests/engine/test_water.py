"""Behaviour of engine.water."""

import numpy as np
import pytest

from engine.water import WATER_KINDS, water


@pytest.mark.parametrize("kind", WATER_KINDS)
def test_density_and_viscosity_keep_the_shape_of_the_temperature(kind) -> None:
    temperatures = np.linspace(0.0, 30.0, 12).reshape(3, 4)
    result = water(kind, temperatures)
    assert np.shape(result.density) == np.shape(result.kinematic_viscosity) == (3, 4)
    assert isinstance(water(kind, 10.0).density, float)


@pytest.mark.parametrize("kind", WATER_KINDS)
def test_viscosity_falls_steadily_as_water_warms(kind) -> None:
    viscosity = np.asarray(water(kind, np.linspace(0.0, 30.0, 601)).kinematic_viscosity)
    assert np.all(np.diff(viscosity) < 0.0)


def test_fresh_water_is_densest_near_4_degrees() -> None:
    temperatures = np.linspace(0.0, 30.0, 3001)
    assert temperatures[np.argmax(water("fresh", temperatures).density)] == pytest.approx(4.0, abs=0.1)


def test_brackish_water_lies_halfway_between_fresh_and_sea() -> None:
    fresh, brackish, sea = (water(kind, 13.3) for kind in ("fresh", "brackish", "sea"))
    assert brackish.density == pytest.approx((fresh.density + sea.density) / 2)
    assert brackish.kinematic_viscosity == pytest.approx((fresh.kinematic_viscosity + sea.kinematic_viscosity) / 2)


@pytest.mark.parametrize("temperature_c", [-0.1, 30.1, float("nan"), np.array([10.0, 31.0])])
def test_a_temperature_outside_the_table_is_refused_in_plain_words(temperature_c) -> None:
    with pytest.raises(ValueError, match="between 0 and 30 degrees Celsius"):
        water("sea", temperature_c)


def test_an_unknown_kind_of_water_is_refused_naming_the_kinds() -> None:
    with pytest.raises(ValueError, match="sea, fresh, brackish"):
        water("salt", 15.0)  # type: ignore[arg-type]
