"""Water properties against values printed in ITTC, Recommended Procedure 7.5-02-01-03 (Rev 02, 2011), and formulas.

Few of the printed values are to be had, so every degree of the table is held against formulas of other authors, too:
fresh water's density by Tanaka et al. (2001), Metrologia 38; its viscosity by the correlation for 0.1 MPa of the IAPWS
release of 2008; what salt adds to it by Sharqawy, Lienhard and Zubair (2010), eq. 22-23; sea water's density by EOS-80
(UNESCO technical paper 44, 1983). Their coefficients and the check values, but for eq. 22-23, are from memory; a slip
in them would show, as they and the table agree to the last digit or nearly.
"""

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

EVERY_DEGREE = [float(degree) for degree in range(31)]
# IAPWS-95 against Tanaka; and the ITTC's own sea water, which stands 0.048 above EOS-80 at 15 C, so 5 in 100000.
FRESH_DENSITY_TOLERANCE = 1e-3
SEA_DENSITY_TOLERANCE = 0.05
SALINITY = 0.03516504
PRACTICAL_SALINITY = 35.0


@pytest.mark.parametrize(("kind", "temperature_c", "printed"), PRINTED_DENSITY)
def test_density_is_the_printed_one(kind: WaterKind, temperature_c: float, printed: float) -> None:
    assert water(kind, temperature_c).density == pytest.approx(printed, abs=DENSITY_TOLERANCE, rel=0)


@pytest.mark.parametrize(("kind", "temperature_c", "printed"), PRINTED_VISCOSITY)
def test_kinematic_viscosity_is_the_printed_one(kind: WaterKind, temperature_c: float, printed: float) -> None:
    computed = water(kind, temperature_c).kinematic_viscosity
    assert computed == pytest.approx(printed, abs=VISCOSITY_TOLERANCE, rel=0)


def density_of_tanaka(t: float) -> float:
    """Density of fresh water without air, kg/m3, at t degrees C: Tanaka et al. (2001)."""
    return 999.974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


def viscosity_of_iapws(t: float) -> float:
    """Viscosity of fresh water at 0.1 MPa, Pa s, at t degrees C: IAPWS (2008)."""
    share = (t + 273.15) / 300
    return 1e-6 * (280.68 * share**-1.9 + 511.45 * share**-7.7 + 61.131 * share**-19.6 + 0.45903 * share**-40)


def viscosity_ratio_of_sharqawy(t: float) -> float:
    """Viscosity of standard sea water over that of fresh water, at t degrees C: Sharqawy et al. (2010), eq. 22-23."""
    first = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    second = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return 1 + first * SALINITY + second * SALINITY**2


def density_of_eos_80(t: float) -> float:
    """Density of standard sea water at the surface, kg/m3, at t degrees C: UNESCO (1983)."""
    fresh = (
        (((6.536332e-9 * t - 1.120083e-6) * t + 1.001685e-4) * t - 9.095290e-3) * t**2 + 6.793952e-2 * t + 999.842594
    )
    first = (((5.3875e-9 * t - 8.2467e-7) * t + 7.6438e-5) * t - 4.0899e-3) * t + 0.824493
    power = (-1.6546e-6 * t + 1.0227e-4) * t - 5.72466e-3
    return fresh + first * PRACTICAL_SALINITY + power * PRACTICAL_SALINITY**1.5 + 4.8314e-4 * PRACTICAL_SALINITY**2


@pytest.mark.parametrize(("t", "printed"), [(5.0, 1027.67547), (25.0, 1023.34306)])
def test_eos_80_gives_the_check_values_of_its_paper(t: float, printed: float) -> None:
    assert density_of_eos_80(t) == pytest.approx(printed, abs=1e-5, rel=0)


@pytest.mark.parametrize("t", EVERY_DEGREE)
def test_every_degree_of_fresh_water_is_what_the_formulas_give(t: float) -> None:
    table = water("fresh", t)
    assert table.density == pytest.approx(density_of_tanaka(t), abs=FRESH_DENSITY_TOLERANCE, rel=0)
    by_formula = viscosity_of_iapws(t) / density_of_tanaka(t)
    assert table.kinematic_viscosity == pytest.approx(by_formula, abs=VISCOSITY_TOLERANCE, rel=0)


@pytest.mark.parametrize("t", EVERY_DEGREE)
def test_every_degree_of_sea_water_is_what_the_formulas_give(t: float) -> None:
    table = water("sea", t)
    assert table.density == pytest.approx(density_of_eos_80(t), abs=SEA_DENSITY_TOLERANCE, rel=0)
    by_formula = viscosity_of_iapws(t) * viscosity_ratio_of_sharqawy(t) / table.density
    assert table.kinematic_viscosity == pytest.approx(by_formula, abs=VISCOSITY_TOLERANCE, rel=0)
