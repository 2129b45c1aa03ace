"""Both methods of Holtrop against tank tests of 22 yacht models: the accuracy that engine/data/holtrop.toml quotes.

Source: Gerritsma, Onnink & Versluis (1981), see data/delft_yacht_series_1981.csv. Residuary resistance there is the
total less ITTC 1957 friction on 0.7 of the waterline length; the estimate is brought to the same definition at a model
length of 1.6 m in fresh water of 15 C. The series gives no waterplane coefficient: 0.69 is taken for all. The models
were towed with keel and rudder, the estimate is for the bare hull.
"""

from pathlib import Path

import numpy as np
import pytest

from engine.constants import GRAVITY
from engine.hull.form import HullForm
from engine.hull.friction import friction_coefficient_ittc57
from engine.hull.methods import METHODS
from engine.numeric import Array
from engine.water import water

COLUMNS = ["model", "lcb_pct", "cp", "l_over_vol13", "b_over_t", "l_over_b", "fn", "rr_permille"]
ROWS = np.loadtxt(
    Path(__file__).parent / "data" / "delft_yacht_series_1981.csv", delimiter=",", skiprows=7, comments="#"
)
MODELS = dict(zip(COLUMNS, ROWS.T, strict=True))
LENGTH = 1.6
WATER = water("fresh", 15.0)


def model_forms() -> HullForm:
    beam = LENGTH / MODELS["l_over_b"]
    draft = beam / MODELS["b_over_t"]
    volume = (LENGTH / MODELS["l_over_vol13"]) ** 3
    return HullForm(
        waterline_length=LENGTH,
        waterline_beam=beam,
        draft=draft,
        volume=volume,
        midship_coefficient=volume / (LENGTH * beam * draft * MODELS["cp"]),
        waterplane_coefficient=0.69,
        lcb_percent=MODELS["lcb_pct"],
    )


def mean_error(method: str, froude_number: float) -> float:
    """Mean estimate over mean measurement of the 22 models, less one."""
    forms = model_forms()
    speed: Array = MODELS["fn"] * np.sqrt(GRAVITY * LENGTH)
    result = METHODS[method].resistance(forms, speed, WATER)
    reynolds = 0.7 * np.asarray(forms.reynolds_number(speed, WATER))
    pressure = 0.5 * WATER.density * speed**2
    flat_plate = pressure * result.wetted_surface * friction_coefficient_ittc57(reynolds)
    residuary = result.wave + result.friction + result.form - flat_plate
    permille = np.asarray(1000.0 * residuary / (WATER.density * GRAVITY * forms.volume))
    chosen = np.isclose(MODELS["fn"], froude_number)
    assert np.count_nonzero(chosen) == 22
    return float(permille[chosen].mean() / MODELS["rr_permille"][chosen].mean() - 1.0)


def test_the_data_set_is_complete() -> None:
    assert ROWS.shape == (308, 8)


@pytest.mark.parametrize("froude_number", [0.20, 0.225, 0.25, 0.275, 0.30, 0.325, 0.35, 0.375, 0.40])
def test_holtrop_1984_is_within_15_percent_on_average_to_froude_number_0_40(froude_number: float) -> None:
    assert abs(mean_error("holtrop_1984", froude_number)) < 0.15


@pytest.mark.parametrize(("froude_number", "quoted"), [(0.425, -0.29), (0.45, -0.43)])
def test_holtrop_1984_is_as_low_on_its_bridge_as_the_owner_is_told(froude_number: float, quoted: float) -> None:
    # Quoted in whole percent.
    assert mean_error("holtrop_1984", froude_number) == pytest.approx(quoted, abs=0.005, rel=0)


@pytest.mark.parametrize("froude_number", [0.30, 0.325, 0.35, 0.375, 0.40, 0.425, 0.45])
def test_holtrop_1982_is_9_to_13_percent_low_on_average_near_hull_speed(froude_number: float) -> None:
    assert -0.13 < mean_error("holtrop_1982", froude_number) < -0.09


def test_holtrop_1982_is_at_most_25_percent_low_in_the_middle_of_the_range() -> None:
    assert -0.25 < mean_error("holtrop_1982", 0.25) < -0.20
