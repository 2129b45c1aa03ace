"""Shear yields printed in the handbook tradition. Source: Gerr (2009) and (2011); ABYC P-6 (2002), definitions."""

import pytest

from engine.constants import PSI
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
