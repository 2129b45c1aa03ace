"""How a change of weight moves the boat in the water: sinkage and trim, for small changes."""

from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.numeric import Real, plain
from engine.validity import positive

_FLOAT = table("installation")["float"]
STABILITY_SHARE: float = _FLOAT["stability_share"]
"""Share of the displacement beyond which a change wants a stability check; ours."""
MOMENT_DOUBT: float = _FLOAT["moment_doubt"]
_SEA_WATER = 1025.0
"""Density that the handbook's coefficient is for [kg/m3]."""
_TONNE_METRE_PER_CENTIMETRE = 1000.0 / 0.01


def mass_per_immersion(waterplane_area: Real, density: Real) -> Real:
    """Mass that sinks a boat by a metre [kg/m], waterplane [m2] times density of the water [kg/m3].

    Raises: ValueError naming the argument.   Source: Archimedes; 1.025 t/m2 is 0.01025 t/cm.
    """
    return plain(positive("waterplane_area", waterplane_area) * positive("density", density))


def moment_per_trim(waterplane_area: Real, waterline_beam: Real, density: Real) -> Real:
    """Moment of mass that changes trim, bow against stern, by a metre [kg m/m].

    waterplane_area: [m2], > 0.   waterline_beam: [m], > 0.   density: of the water [kg/m3], > 0.
    Raises: ValueError naming the argument.
    Error: 15 %. Valid: small changes of trim of hulls of usual shape.
    Source: MCT1cm = 0.00073 A^2/B, t m, in sea water; ours between the handbook's 0.35 A^2/B in ft lb per inch (from
    memory) and beam-shaped waterplanes (0.400 to 0.444).
    """
    area, beam = positive("waterplane_area", waterplane_area), positive("waterline_beam", waterline_beam)
    in_sea_water = _FLOAT["moment_coefficient"] * _TONNE_METRE_PER_CENTIMETRE * area**2 / beam
    return plain(in_sea_water * positive("density", density) / _SEA_WATER)


@dataclass(frozen=True)
class FloatChange:
    """sinkage: deeper all over [m].   trim: bow deeper against stern [m].   bow, stern: deeper there [m]."""

    sinkage: float
    trim: float
    bow: float
    stern: float


def float_change(
    mass: float, moment: float, flotation: float, length: float, per_immersion: float, per_trim: float
) -> FloatChange:
    """How a boat floats after weight came aboard, moved or left.

    mass: added, minus when taken off [kg].   moment: of all that changed about the stern end of the waterline, mass
    times distance ahead of it [kg m].   flotation: centre of flotation ahead of the stern [m].   length: of the
    waterline [m], > 0.   per_immersion: [kg/m], > 0.   per_trim: [kg m/m], > 0.
    Raises: ValueError naming the argument.
    Valid: changes of a few per cent of the displacement.   Source: statics of floating bodies.
    """
    sinkage = mass / float(positive("per_immersion", per_immersion))
    trim = (moment - mass * flotation) / float(positive("per_trim", per_trim))
    size = float(positive("length", length))
    return FloatChange(
        sinkage=sinkage,
        trim=trim,
        bow=sinkage + trim * (size - flotation) / size,
        stern=sinkage - trim * flotation / size,
    )


def added_weights(changes: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """(mass [kg], moment [kg m]) of several changes, each (mass [kg], distance ahead of the stern [m]).

    Source: definition.
    """
    masses, places = (np.array(column) for column in zip(*changes, strict=True)) if changes else (np.zeros(0),) * 2
    return float(np.sum(masses)), float(np.sum(masses * places))
