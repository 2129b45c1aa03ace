"""The printed small-craft spacing formula. Source: ABYC P-6 (2002) clause 6.6 tradition; Gerr (2009), ch. 1."""

import numpy as np
import pytest

from engine.constants import FOOT, GRAVITY, INCH, POUND, PSI, RPM
from engine.machinery.bearings import bearing_spacing_zero_margin


@pytest.mark.parametrize(
    ("diameter_in", "rpm", "modulus_psi", "weight_lb_in3"),
    [(1.0, 1500, 28.0e6, 0.285), (1.5, 1000, 26.0e6, 0.306), (2.0, 800, 16.0e6, 0.304)],
)
def test_spacing_is_the_printed_formula_within_its_rounded_coefficient(
    diameter_in: float, rpm: float, modulus_psi: float, weight_lb_in3: float
) -> None:
    printed_ft = np.sqrt(3.21 * diameter_in / rpm * np.sqrt(modulus_psi / weight_lb_in3))
    density = weight_lb_in3 * POUND / INCH**3
    span = bearing_spacing_zero_margin(diameter_in * INCH, rpm * RPM, modulus_psi * PSI, density)
    # 3.21 has three digits, so it lies within 0.005 of the exact 3.215; the span goes with its square root.
    assert span / FOOT == pytest.approx(printed_ft, rel=0.5 * 0.006 / 3.21)


def test_exact_coefficient_rounds_to_the_printed_theory_value() -> None:
    span_ft = bearing_spacing_zero_margin(INCH, RPM, PSI, POUND / INCH**3) / FOOT
    assert span_ft**2 == pytest.approx(3.215, abs=5e-4)
    assert span_ft**2 == pytest.approx(60.0 * np.pi / 8.0 * np.sqrt(GRAVITY * INCH) * INCH / FOOT**2, rel=1e-9)
