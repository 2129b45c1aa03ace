"""What every resistance method gives back."""

from dataclasses import dataclass

from engine.numeric import Real, plain


@dataclass(frozen=True)
class Resistance:
    """Calm-water resistance at a speed, part by part [N], with what interaction formulas need later.

    Every field has the broadcast shape of hull and speed. A method without a part leaves it zero; a method that knows
    only residuary resistance puts it in `wave`.
    """

    speed: Real
    """[m/s]"""
    friction: Real
    """Flat-plate friction of the bare hull."""
    form: Real
    """Viscous resistance of its shape: friction * k1."""
    appendages: Real
    wave: Real
    bulb: Real
    transom: Real
    correlation: Real
    """Standard hull roughness and the step from model to ship."""
    form_factor: Real
    """1 + k1 [-]"""
    viscous_coefficient: Real
    """CV, on the wetted surface with appendages [-]; finite at rest too."""
    wetted_surface: Real
    """Bare hull [m2]"""
    appendage_area: Real
    """[m2]"""

    @property
    def total(self) -> Real:
        """[N]"""
        viscous = self.friction + self.form + self.appendages + self.correlation
        return plain(viscous + self.wave + self.bulb + self.transom)

    @property
    def total_wetted_surface(self) -> Real:
        """Hull and appendages [m2]."""
        return plain(self.wetted_surface + self.appendage_area)

    @property
    def effective_power(self) -> Real:
        """Resistance times speed [W]."""
        return plain(self.total * self.speed)
