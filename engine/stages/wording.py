"""Numbers inside the sentences of findings, in the owner's units: the same units as in the answers."""

from dataclasses import dataclass

from engine.answers import Label, shown
from engine.bands import Band

_PLAIN = Label("")
_SMALL = Label("", metric="mm", imperial="in")


@dataclass(frozen=True)
class Wording:
    """Says numbers in "metric" or "imperial" units; each argument is in the unit its name says."""

    units: str

    def length(self, metres: float) -> str:
        return shown("_m", _PLAIN, metres, self.units)

    def size(self, metres: float) -> str:
        """A small length: a diameter, a pitch, a key."""
        return shown("_m", _SMALL, metres, self.units)

    def area(self, square_metres: float) -> str:
        return shown("_m2", _PLAIN, square_metres, self.units)

    def mass(self, kilograms: float) -> str:
        return shown("_kg", _PLAIN, kilograms, self.units)

    def power(self, kilowatts: float) -> str:
        return shown("_kw", _PLAIN, kilowatts, self.units)

    def band(self, kilowatts: Band) -> str:
        """A power with its low and high."""
        return shown("_kw", _PLAIN, kilowatts, self.units)

    def force(self, newtons: float) -> str:
        return shown("_n", _PLAIN, newtons, self.units)

    def gear_rating(self, kilowatts_per_100_rpm: float) -> str:
        return shown("_kw_per_100_rpm", _PLAIN, kilowatts_per_100_rpm, self.units)

    def volume(self, litres: float) -> str:
        return shown("_l", _PLAIN, litres, self.units)

    def flow(self, litres_per_hour: float) -> str:
        return shown("_l_per_h", _PLAIN, litres_per_hour, self.units)


def percent(share: float, decimals: int = 0) -> str:
    """A share as "27 %"."""
    return f"{100.0 * share:.{decimals}f} %"


def thousandths(share: float) -> str:
    """A share of the plausible boats as so many of 1,000: "915"."""
    return f"{1000.0 * share:.0f}"
