"""What is printed of shafts' metals in the handbook tradition and in one class table, and what kinds have in common.

Sources: Gerr (2009) and (2011); ABYC P-6 (2002), definitions; a class society's rules for light craft, Table 5.3.1.
"""

import pytest

from engine.constants import INCH, POUND, PSI
from engine.machinery.shaft_materials import MATERIALS


@pytest.mark.parametrize(
    ("key", "printed_psi"),
    [
        ("S30400", 20_000),
        ("S20910 high strength", 70_000),
        ("S17400", 70_000),
        ("N05500", 67_000),
        ("N04400", 40_000),
        ("C46400", 20_000),
    ],
)
def test_shear_yield_is_the_printed_one(key: str, printed_psi: float) -> None:
    # The printed figures are rounded to 1000 psi; the table holds whole MPa.
    assert MATERIALS[key].shear_yield == pytest.approx(printed_psi * PSI, abs=0.6e6)


@pytest.mark.parametrize(
    ("key", "printed_psi"),
    [
        ("S30400", 28.0e6),
        ("S20910 high strength", 28.0e6),
        ("S17400", 28.5e6),
        ("N05500", 26.0e6),
        ("N04400", 26.0e6),
        ("C46400", 16.0e6),
    ],
)
def test_elastic_modulus_is_the_printed_one(key: str, printed_psi: float) -> None:
    # Printed to 0.5e6 psi, which is 3.4 GPa; the table holds whole GPa.
    assert MATERIALS[key].elastic_modulus == pytest.approx(printed_psi * PSI, abs=1e9)


def test_shear_yield_of_steels_and_nickel_alloys_is_two_thirds_of_tensile_yield() -> None:
    # P-6 (2002), definitions. The tensile yields are from memory, so this shows agreement, not proof.
    # 0.7 % for values rounded to whole MPa.
    for material in MATERIALS.values():
        if material.uns[0] in "SNG":
            assert material.shear_yield == pytest.approx(material.tensile_yield * 2.0 / 3.0, rel=7e-3), material.key


def test_shear_yield_of_copper_alloys_is_half_of_yield() -> None:
    # From memory, both the half and the yields: agreement, not proof.
    copper = [material for material in MATERIALS.values() if material.uns.startswith("C")]
    assert len(copper) == 3
    for material in copper:
        assert material.shear_yield == pytest.approx(material.tensile_yield / 2.0, rel=1e-9), material.key


@pytest.mark.parametrize(
    ("key", "printed_pounds_per_cubic_inch"),
    [
        ("S30400", 0.286),
        ("S20910 high strength", 0.285),
        ("S17400", 0.284),
        ("N05500", 0.306),
        ("N04400", 0.319),
        ("C46400", 0.304),
    ],
)
def test_density_is_the_printed_one(key: str, printed_pounds_per_cubic_inch: float) -> None:
    # Half a unit of the last printed digit is 14 kg/m3; the table holds tens.
    printed = printed_pounds_per_cubic_inch * POUND / INCH**3
    assert MATERIALS[key].density == pytest.approx(printed, abs=6.0)


@pytest.mark.parametrize(
    ("key", "yield_ksi", "tensile_ksi"),
    [("S30400", 30, 75), ("S31600", 30, 75), ("S31603", 25, 70), ("S32205", 65, 95), ("S20910 annealed", 55, 100)],
)
def test_strengths_of_bar_are_the_minima_in_inch_units(key: str, yield_ksi: int, tensile_ksi: int) -> None:
    # ASTM A276, from memory. Its metric figures, which the table holds, are rounded by themselves: 3 MPa.
    material = MATERIALS[key]
    assert material.tensile_yield == pytest.approx(yield_ksi * 1e3 * PSI, abs=3e6)
    assert material.tensile_strength == pytest.approx(tensile_ksi * 1e3 * PSI, abs=3e6)


@pytest.mark.parametrize(("key", "yield_mpa", "tensile_mpa"), [("S43100", 675.0, 850.0), ("G10350", 200.0, 400.0)])
def test_strengths_are_those_of_the_class_table(key: str, yield_mpa: float, tensile_mpa: float) -> None:
    material = MATERIALS[key]
    assert (material.tensile_yield, material.tensile_strength) == (yield_mpa * 1e6, tensile_mpa * 1e6)


def test_metals_of_one_kind_weigh_and_bend_alike() -> None:
    # From memory: what any metallurgist's table gives for the kind, whatever the grade.
    kinds = {"S": (7.7e3, 8.0e3, 190e9, 206e9), "N": (8.4e3, 8.9e3, 175e9, 185e9), "C": (7.5e3, 8.6e3, 100e9, 125e9)}
    for material in MATERIALS.values():
        lightest, heaviest, softest, stiffest = kinds["S" if material.uns[0] == "G" else material.uns[0]]
        assert lightest <= material.density <= heaviest, material.key
        assert softest <= material.elastic_modulus <= stiffest, material.key
        assert material.tensile_yield < material.tensile_strength, material.key
