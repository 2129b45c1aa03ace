"""Water properties against values printed in ITTC, Recommended Procedure 7.5-02-01-03 (Rev 02, 2011)."""

import pytest

from engine.water import WaterKind, water

PRINTED_DENSITY: list[tuple[WaterKind, float, float]] = [
    ("fresh", 15.0, 999.1026),
    ("fresh", 17.7, 998.6536),
    ("fresh", 18.5, 998.5048),
    ("sea", 15.0, 1026.0210),
    ("sea", 12.0, 1026.6376),
    ("sea", 19.2, 1025.0187),
]
PRINTED_VISCOSITY: list[tuple[WaterKind, float, float]] = [
    ("fresh", 15.0, 1.1386e-6),
    ("fresh", 17.7, 1.0621e-6),
    ("fresh", 18.5, 1.0411e-6),
    ("sea", 15.0, 1.1892e-6),
    ("sea", 19.2, 1.0711e-6),
]

# Half a unit of the last printed digit, and as much again because the 1 C table is itself rounded to that digit.
DENSITY_TOLERANCE = 1e-4
VISCOSITY_TOLERANCE = 1e-10


@pytest.mark.parametrize(("kind", "temperature_c", "printed"), PRINTED_DENSITY)
def test_density_is_the_printed_one(kind: WaterKind, temperature_c: float, printed: float) -> None:
    assert water(kind, temperature_c).density == pytest.approx(printed, abs=DENSITY_TOLERANCE, rel=0)


@pytest.mark.parametrize(("kind", "temperature_c", "printed"), PRINTED_VISCOSITY)
def test_kinematic_viscosity_is_the_printed_one(kind: WaterKind, temperature_c: float, printed: float) -> None:
    computed = water(kind, temperature_c).kinematic_viscosity
    assert computed == pytest.approx(printed, abs=VISCOSITY_TOLERANCE, rel=0)
