"""The finite-element model of a shaft against a second model and exact frequency equations. Not validation."""

from math import cos, cosh, pi, sin, sinh

import numpy as np
import pytest
from scipy.optimize import brentq

from engine.constants import RPM
from engine.machinery.shaft_model import Disc, ElasticShaft, critical_speeds, overhung_critical_speed
from engine.machinery.whirling import propeller_in_water, whirling_inertia

CASES = [  # span, overhang, diameter, modulus, density, dry propeller mass, its radius of gyration, computed [rpm]
    (1.6, 0.12, 0.040, 193e9, 8000.0, 14.0, 0.15, 1586.5),
    (2.0, 0.15, 0.045, 193e9, 7890.0, 22.0, 0.17, 1162.7),
    (1.2, 0.10, 0.030, 200e9, 7800.0, 7.0, 0.12, 2057.1),
]
EACH = pytest.mark.parametrize("case", CASES)
Case = tuple[float, ...]
LENGTH, DIAMETER, MODULUS, DENSITY = 1.7, 0.035, 193e9, 8000.0
AREA, SECOND_MOMENT = pi * DIAMETER**2 / 4.0, pi * DIAMETER**4 / 64.0
BENDING = MODULUS * SECOND_MOMENT


def loaded(case: Case) -> tuple[float, ...]:
    """Arguments of `overhung_critical_speed`, without gyroscopic effect."""
    wheel = propeller_in_water(case[5], case[5] * case[6] ** 2)
    return (*case[:5], float(wheel.mass), float(whirling_inertia(wheel)))


@EACH
def test_it_agrees_with_a_second_model_computed_independently(case: Case) -> None:
    """That model, not ours, reproduces a printed overhung rotor within 0.1 %; here it is met within 0.01 %."""
    assert overhung_critical_speed(*loaded(case)) / RPM == pytest.approx(case[7], rel=1e-4)


@EACH
def test_it_solves_the_exact_frequency_equation(case: Case) -> None:
    """Span: sines and hyperbolic sines with no moment at the far bearing; overhang: all four; the propeller at its end.

    The six conditions make a determinant that is nought at the critical speed; found by bisection, no elements.
    """
    span, overhang, diameter, modulus, density, mass, tilting = loaded(case)
    bending, per_length = modulus * pi * diameter**4 / 64.0, density * pi * diameter**2 / 4.0

    def determinant(omega: float) -> float:
        b = (per_length * omega**2 / bending) ** 0.25
        x, y = b * span, b * overhang
        # unknowns: A sin + B sinh on the span; C cos + D sin + E cosh + F sinh on the overhang, from the bearing on
        matrix = np.array(
            [
                [sin(x), sinh(x), 0.0, 0.0, 0.0, 0.0],
                [0.0, 0.0, 1.0, 0.0, 1.0, 0.0],
                [cos(x), cosh(x), 0.0, -1.0, 0.0, -1.0],
                [-sin(x), sinh(x), 1.0, 0.0, -1.0, 0.0],
                [
                    0.0,
                    0.0,
                    -bending * b**2 * cos(y) + tilting * omega**2 * b * sin(y),
                    -bending * b**2 * sin(y) - tilting * omega**2 * b * cos(y),
                    bending * b**2 * cosh(y) - tilting * omega**2 * b * sinh(y),
                    bending * b**2 * sinh(y) - tilting * omega**2 * b * cosh(y),
                ],
                [
                    0.0,
                    0.0,
                    bending * b**3 * sin(y) + mass * omega**2 * cos(y),
                    -bending * b**3 * cos(y) + mass * omega**2 * sin(y),
                    bending * b**3 * sinh(y) + mass * omega**2 * cosh(y),
                    bending * b**3 * cosh(y) + mass * omega**2 * sinh(y),
                ],
            ]
        )
        return float(np.linalg.det(matrix / np.abs(matrix).max(axis=1, keepdims=True)))

    guess = 2.0 * pi * case[7] * RPM
    exact = brentq(determinant, 0.9 * guess, 1.1 * guess) / (2.0 * pi)
    assert overhung_critical_speed(*loaded(case)) == pytest.approx(exact, rel=1e-5)


@pytest.mark.parametrize("share", [0.2, 1.0, 5.0])
def test_a_cantilever_with_a_mass_at_its_tip_solves_its_frequency_equation(share: float) -> None:
    """share: the tip's mass over the shaft's."""
    mass = share * DENSITY * AREA * LENGTH

    def equation(x: float) -> float:
        return 1.0 + cos(x) * cosh(x) + share * x * (cos(x) * sinh(x) - sin(x) * cosh(x))

    exact = brentq(equation, 0.1, 2.0)
    shaft = ElasticShaft(LENGTH, DIAMETER, MODULUS, DENSITY, (), (0.0,), (Disc(LENGTH, mass, 0.0),))
    omega = 2.0 * pi * critical_speeds(shaft, 1)[0]
    assert omega == pytest.approx((exact / LENGTH) ** 2 * np.sqrt(BENDING / (DENSITY * AREA)), rel=1e-6)


def test_tilting_of_the_shafts_own_slices_lowers_every_mode_as_rayleighs_beam() -> None:
    """Simply supported: omega^2 = k^4 EI/(rho A) / (1 + k^2 I/A), k = mode pi/L. A stout shaft, to see the effect."""
    length = 0.25
    shaft = ElasticShaft(length, DIAMETER, MODULUS, DENSITY, (0.0, length), with_rotary_inertia=True)
    k = np.arange(1, 4) * pi / length
    exact = np.sqrt(k**4 * BENDING / (DENSITY * AREA) / (1.0 + k**2 * SECOND_MOMENT / AREA)) / (2.0 * pi)
    assert critical_speeds(shaft, 3, elements=48) == pytest.approx(exact, rel=1e-5)


def test_bearings_that_give_act_in_series_with_the_shaft() -> None:
    """A heavy disc midway on a shaft that weighs next to nothing: L^3/48EI of the shaft and 1/2k of two bearings."""
    mass, stiffness = 50.0, 2e6
    shaft = ElasticShaft(
        LENGTH,
        DIAMETER,
        MODULUS,
        1e-3,
        (0.0, LENGTH),
        discs=(Disc(0.5 * LENGTH, mass, 0.0),),
        support_stiffness=stiffness,
    )
    flexibility = LENGTH**3 / (48.0 * BENDING) + 0.5 / stiffness
    assert critical_speeds(shaft, 1)[0] == pytest.approx(1.0 / (2.0 * pi * np.sqrt(mass * flexibility)), rel=1e-6)


@pytest.mark.parametrize("spans", [1, 2, 3])
def test_equal_spans_whirl_together_as_one_alone(spans: int) -> None:
    """Neighbours bend opposite ways, so that none holds the other."""
    found = overhung_critical_speed(1.2, 0.0, DIAMETER, MODULUS, DENSITY, 0.0, 0.0, spans_ahead=(1.2,) * (spans - 1))
    exact = 0.5 * pi / 1.2**2 * np.sqrt(BENDING / (DENSITY * AREA))
    assert found == pytest.approx(exact, rel=2e-5)


@EACH
def test_scipys_solver_finds_the_same_eigenvalues(case: Case) -> None:
    """The model reduces the pair of matrices itself, so that a plan is worked out without loading scipy."""
    from scipy.linalg import eigh

    from engine.machinery import shaft_model

    span, overhang, diameter, modulus, density, mass, tilting = loaded(case)
    length = span + overhang
    shaft = ElasticShaft(length, diameter, modulus, density, (0.0, span), discs=(Disc(length, mass, tilting),))
    nodes = shaft_model._nodes(shaft, 24)
    stiffness, inertia = shaft_model._matrices(shaft, nodes)
    inertia[-2, -2] += mass
    inertia[-1, -1] += tilting
    free = [i for i in range(2 * len(nodes)) if i not in (0, 2 * shaft_model._node_at(nodes, span))]
    pair = inertia[np.ix_(free, free)], stiffness[np.ix_(free, free)]
    ours, theirs = shaft_model._eigenvalues(*pair), eigh(*pair, eigvals_only=True)
    assert ours[-3:] == pytest.approx(theirs[-3:], rel=1e-9)
