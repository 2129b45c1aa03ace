"""Numbers inside the sentences of findings, in the owner's units."""

from dataclasses import dataclass

from engine.showing import show
from engine.units import Dimension, unit_named


@dataclass(frozen=True)
class Wording:
    """Says SI and suffixed numbers in "metric" or "imperial" units."""

    units: str

    def _say(self, value: float, given: str, dimension: Dimension, metric: str, imperial: str, digits: int) -> str:
        si = unit_named(given, dimension).to_si(value)
        return show(si, imperial if self.units == "imperial" else metric, dimension, digits)

    def length(self, metres: float) -> str:
        return self._say(metres, "m", Dimension.LENGTH, "m", "ft", 3)

    def size(self, metres: float) -> str:
        """A small length: a diameter, a pitch, a key."""
        return self._say(metres, "m", Dimension.LENGTH, "mm", "in", 3)

    def area(self, square_metres: float) -> str:
        return self._say(square_metres, "m2", Dimension.AREA, "m2", "ft2", 3)

    def mass(self, kilograms: float) -> str:
        return self._say(kilograms, "kg", Dimension.MASS, "kg", "lb", 3)

    def power(self, kilowatts: float) -> str:
        return self._say(kilowatts, "kW", Dimension.POWER, "kW", "hp", 3)

    def gear_rating(self, kilowatts_per_100_rpm: float) -> str:
        unit = "kW per 100 rpm"
        return self._say(kilowatts_per_100_rpm, unit, Dimension.GEAR_RATING, unit, "hp per 100 rpm", 3)

    def volume(self, litres: float) -> str:
        return self._say(litres, "L", Dimension.VOLUME, "L", "US gal", 3)

    def flow(self, litres_per_hour: float) -> str:
        return self._say(litres_per_hour, "L/h", Dimension.FLOW, "L/h", "US gal/h", 3)


def percent(share: float, decimals: int = 0) -> str:
    """A share as "27 %"."""
    return f"{100.0 * share:.{decimals}f} %"
