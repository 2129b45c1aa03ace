"""Lateral vibration of uniform beams against the constants that every text on vibration prints.

beta L to four decimals. Simply supported pi, 2 pi, 3 pi; clamped and pinned 3.9266, 7.0686; clamped at both ends
4.7300, 7.8532; cantilever 1.8751, 4.6941; with a mass as large as its own at the tip 1.2479. Source: Rao,
S.S., Mechanical Vibrations; Blevins, R.D. (1979), Formulas for Natural Frequency and Mode Shape; quoted from memory.
"""

from math import pi

import numpy as np
import pytest

from engine.machinery.shaft_model import Disc, ElasticShaft, critical_speeds

LENGTH, DIAMETER, MODULUS, DENSITY = 1.7, 0.035, 193e9, 8000.0
MASS = DENSITY * pi * DIAMETER**2 / 4.0 * LENGTH


def beta(shaft: ElasticShaft, modes: int = 1) -> list[float]:
    """beta L of the first modes of a shaft."""
    stiffness_speed = 0.25 * DIAMETER * np.sqrt(MODULUS / DENSITY)
    omega = 2.0 * pi * critical_speeds(shaft, modes)
    return [float(LENGTH * np.sqrt(each / stiffness_speed)) for each in omega]


def shaft(supports: tuple[float, ...], clamped: tuple[float, ...] = (), discs: tuple[Disc, ...] = ()) -> ElasticShaft:
    return ElasticShaft(LENGTH, DIAMETER, MODULUS, DENSITY, supports, clamped, discs)


@pytest.mark.parametrize(
    ("held", "printed"),
    [
        (shaft((0.0, LENGTH)), [3.1416, 6.2832, 9.4248]),
        (shaft((LENGTH,), (0.0,)), [3.9266, 7.0686]),
        (shaft((), (0.0, LENGTH)), [4.7300, 7.8532]),
        (shaft((), (0.0,)), [1.8751, 4.6941]),
        (shaft((), (0.0,), (Disc(LENGTH, MASS, 0.0),)), [1.2479]),
    ],
    ids=["simply supported", "clamped and pinned", "clamped", "cantilever", "cantilever with its own mass at the tip"],
)
def test_the_model_gives_the_printed_constants(held: ElasticShaft, printed: list[float]) -> None:
    """Half a unit of the fourth decimal, and 0.001 % for 24 elements."""
    assert beta(held, len(printed)) == pytest.approx(printed, rel=1e-5, abs=5e-5)
