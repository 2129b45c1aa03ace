"""What every resistance method gives back."""

from dataclasses import dataclass

import numpy as np

from engine.numeric import Real, plain


@dataclass(frozen=True, eq=False)
class Resistance:
    """Calm-water resistance at a speed, as a whole and part by part [N].

    Everything broadcasts to the shape of hull and speed, which the total has. The parts are worked out when they are
    asked for, since a fleet of boats is asked for the total alone. A method without a part leaves it zero; one that
    knows only residuary resistance puts it in `wave`.
    """

    pressure: Real
    """Of the flow at rest against the hull, rho V^2/2 [Pa]"""
    friction_coefficient: Real
    """CF, of a flat plate [-]"""
    form_factor: Real
    """1 + k1 [-]"""
    wetted_surface: Real
    """Bare hull [m2]"""
    appendage_area: Real
    """[m2]"""
    appendage_factor: Real
    """1 + k2 of the appendages [-]"""
    allowance: Real
    """CA, for standard hull roughness and the step from model to ship, on hull and appendages [-]"""
    wave: Real
    bulb: Real
    transom: Real

    @property
    def friction(self) -> Real:
        """Flat-plate friction of the bare hull."""
        return plain(self.pressure * self.wetted_surface * self.friction_coefficient)

    @property
    def form(self) -> Real:
        """Viscous resistance of its shape: friction * k1."""
        return plain(self.friction * (self.form_factor - 1.0))

    @property
    def appendages(self) -> Real:
        """Friction of their area with the hull's coefficient, times their 1 + k2, after Holtrop & Mennen (1982)."""
        return plain(self.pressure * self.friction_coefficient * (self.appendage_factor * self.appendage_area))

    @property
    def correlation(self) -> Real:
        """Of the allowance."""
        return plain(self.pressure * self.total_wetted_surface * self.allowance)

    @property
    def total(self) -> Real:
        """[N]"""
        total = self.pressure * self._viscous_area + self.wave
        others = self.bulb + self.transom
        return plain(total + others if np.any(others) else total)

    @property
    def total_wetted_surface(self) -> Real:
        """Hull and appendages [m2]."""
        return plain(self.wetted_surface + self.appendage_area)

    @property
    def _viscous_area(self) -> Real:
        """Friction, form, appendages and allowance over the pressure [m2]."""
        of_friction = self.form_factor * self.wetted_surface + self.appendage_factor * self.appendage_area
        return plain(self.friction_coefficient * of_friction + self.allowance * self.total_wetted_surface)
