"""The four fuel maps as digitised by Markel, T. (1998), NREL; sources of each in engine/data/fuel_maps.toml."""

import numpy as np
import pytest

from engine.data import table
from engine.machinery.fuel import DIESEL, G_PER_KWH
from engine.machinery.fuel_maps import fuel_map


@pytest.mark.parametrize(("name", "best"), [("A", 260.0), ("B", 203.0), ("C", 220.0), ("D", 189.5)])
def test_best_point_of_each_map_is_the_published_one(name: str, best: float) -> None:
    assert float(np.min(table("fuel_maps")["map"][name]["bsfc_g_per_kwh"])) == best


def test_best_point_of_map_b_has_the_efficiency_printed_beside_it() -> None:
    best = float(np.min(table("fuel_maps")["map"]["B"]["bsfc_g_per_kwh"])) * G_PER_KWH
    # 41.8 % printed; the heating value behind it is not, and diesel's spread of 42.6 to 43.0 MJ/kg is worth 0.4 points.
    assert 1.0 / (best * DIESEL.heating_value) == pytest.approx(0.418, abs=0.004)


@pytest.mark.parametrize(("name", "power_kw"), [("A", 54), ("B", 67), ("D", 332)])
def test_full_load_curve_reaches_the_power_of_the_engine(name: str, power_kw: float) -> None:
    data = table("fuel_maps")["map"][name]
    speed, torque = np.asarray(data["full_load_speed_rpm"]), np.asarray(data["full_load_torque_nm"])
    power = speed * torque * np.pi / 30e3
    assert float(np.max(power)) == pytest.approx(power_kw, abs=0.5)


@pytest.mark.parametrize(
    ("name", "shape", "by_row", "by_column", "of_full_load"),
    [
        ("A", (9, 8), 147333.0, 104389.0, 5271.2),
        ("B", (16, 13), 536979.0, 357086.0, 21881.7),
        ("C", (6, 9), 46033.5, 63141.5, 7658.0),
        ("D", (6, 9), 40231.0, 53988.5, 35229.0),
    ],
)
def test_no_cell_of_a_map_was_mistyped(
    name: str, shape: tuple[int, int], by_row: float, by_column: float, of_full_load: float
) -> None:
    """Sums of the digitised files, each cell times the number of its speed, and of its torque: two places that any
    one slip shows up in. Torques at full load times the number of their speed."""
    data = table("fuel_maps")["map"][name]
    cells, torque = np.array(data["bsfc_g_per_kwh"]), np.array(data["full_load_torque_nm"])
    rows, columns = (np.arange(1.0, size + 1.0) for size in shape)
    assert cells.shape == shape
    assert float(rows @ cells.sum(axis=1)) == pytest.approx(by_row, rel=1e-12)
    assert float(columns @ cells.sum(axis=0)) == pytest.approx(by_column, rel=1e-12)
    assert float(np.arange(1.0, torque.size + 1.0) @ torque) == pytest.approx(of_full_load, rel=1e-12)


@pytest.mark.parametrize(
    ("name", "speeds", "torques"),
    [("A", 27000.0, 569.52), ("B", 42000.0, 1310.8), ("C", 13500.0, 2360.0), ("D", 10100.0, 9000.0)],
)
def test_the_axes_of_the_maps_add_up(name: str, speeds: float, torques: float) -> None:
    data = table("fuel_maps")["map"][name]
    assert sum(data["speed_rpm"]) == pytest.approx(speeds, rel=1e-12)
    assert sum(data["torque_nm"]) == pytest.approx(torques, rel=1e-12)
    assert data["full_load_speed_rpm"] == data["speed_rpm"]  # the file has a torque at full load for each row


@pytest.mark.parametrize("name", ["A", "B", "C", "D"])
def test_cells_in_use_burn_more_fuel_for_more_torque(name: str) -> None:
    assert np.all(np.diff(fuel_map(name).fuel_per_revolution, axis=1) > 0.0)
