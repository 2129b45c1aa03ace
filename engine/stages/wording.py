"""Numbers inside the sentences of findings, in the owner's units: the same units as in the answers."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.answers import Label, shown
from engine.bands import Band, Money
from engine.constants import INCH
from engine.showing import numbered, round_number

_PLAIN = Label("")
_WHOLE = Label("", digits=2)
_ELECTRIC = Label("", metric="kW", imperial="kW")
_OPENING = Label("", metric="cm2", imperial="in2")
_SMALL = Label("", metric="mm", imperial="in")
_ROUGH = Label("", metric="mm", imperial="in", digits=2)
_GAUGE = Label("", metric="bar", imperial="psi", digits=2)
_MANY = 9.95
"""So many hours or miles are said in whole ones; with two digits that count nothing below it reads as ten."""


@dataclass(frozen=True)
class Wording:
    """Says numbers in "metric" or "imperial" units; each argument is in the unit its name says."""

    units: str

    def length(self, metres: float) -> str:
        return shown("_m", _PLAIN, metres, self.units)

    def size(self, metres: float) -> str:
        """A small length: a diameter, a pitch, a key."""
        return shown("_m", _SMALL, metres, self.units)

    def about_size(self, metres: float) -> str:
        """A small length that nobody measures to a tenth of a millimetre."""
        return shown("_m", _ROUGH, metres, self.units)

    def fitted(self, metres: float) -> str:
        """A size that something is bored or turned to: hundredths of a millimetre, or thousandths of an inch."""
        number, unit = (metres * 1e3, "mm") if self.units == "metric" else (metres / INCH, "in")
        text = f"{number:.2f}" if unit == "mm" else f"{number:.3f}"
        return f"{text.rstrip('0').rstrip('.')} {unit}"

    def gap(self, metres: float) -> str:
        """A clearance: hundredths of a millimetre, or thousandths of an inch."""
        return f"{metres * 1e3:.2f} mm" if self.units == "metric" else f"{metres / INCH:.3f} in"

    def gap_of_float(self, metres: float) -> str:
        """How much deeper or higher she floats: "1.2 cm deeper"; what would be told as 0.0 is "as before"."""
        number, unit = (metres * 100.0, "cm") if self.units == "metric" else (metres / INCH, "in")
        size = f"{abs(number):.1f}"
        return "as before" if not float(size) else f"{size} {unit} {'deeper' if number > 0.0 else 'higher'}"

    def immersion(self, kilograms_per_metre: float) -> str:
        """Weight that sinks a boat a little: "193 kg a centimetre"."""
        if self.units == "metric":
            return f"{self.mass(kilograms_per_metre / 100.0)} a centimetre"
        return f"{self.mass(kilograms_per_metre * INCH)} an inch"

    def tip_speed(self, metres_per_second: float) -> str:
        return shown("_m_per_s", _WHOLE, metres_per_second, self.units)

    def area(self, square_metres: float) -> str:
        return shown("_m2", _PLAIN, square_metres, self.units)

    def mass(self, kilograms: float) -> str:
        return shown("_kg", _PLAIN, kilograms, self.units)

    def power(self, kilowatts: float) -> str:
        return shown("_kw", _PLAIN, kilowatts, self.units)

    def electric(self, kilowatts: float) -> str:
        """Electric power is in kilowatts everywhere."""
        return shown("_kw", _ELECTRIC, kilowatts, self.units)

    def temperature(self, celsius: float) -> str:
        return shown("_c", _PLAIN, celsius, self.units)

    def pressure(self, kilopascals: float) -> str:
        return shown("_kpa", _PLAIN, kilopascals, self.units)

    def oil_pressure(self, kilopascals: float) -> str:
        """As on the gauge of an engine."""
        return shown("_kpa", _GAUGE, kilopascals, self.units)

    def opening(self, square_metres: float) -> str:
        """A small area: a vent."""
        return shown("_m2", _OPENING, square_metres, self.units)

    def torque(self, newton_metres: float) -> str:
        return shown("_nm", _PLAIN, newton_metres, self.units)

    def band(self, kilowatts: Band) -> str:
        """A power with its low and high."""
        return shown("_kw", _PLAIN, kilowatts, self.units)

    def force(self, newtons: float) -> str:
        return shown("_n", _PLAIN, newtons, self.units)

    def gear_rating(self, kilowatts_per_100_rpm: float) -> str:
        return shown("_kw_per_100_rpm", _PLAIN, kilowatts_per_100_rpm, self.units)

    def volume(self, litres: float) -> str:
        return shown("_l", _PLAIN, litres, self.units)

    def money(self, amount: Money, digits: int = 3) -> str:
        """An amount with its currency, and its low and high when it is in doubt. digits: significant ones."""
        return shown("_money", Label("", digits=digits), amount, self.units)

    def flow(self, litres_per_hour: float) -> str:
        return shown("_l_per_h", _PLAIN, litres_per_hour, self.units)


def at_the_shafts(screws: int) -> str:
    """Where the power of one or two propellers is meant: "at the shaft", "at both shafts together"."""
    return "at the shaft" if screws == 1 else "at both shafts together"


def percent(share: float, decimals: int = 0) -> str:
    """A share as "27 %"."""
    return f"{100.0 * share:.{decimals}f} %"


def is_told_in_times(change: float) -> bool:
    """Whether a change, as a share, makes more than the double: it is told as so many times, not in per cent."""
    return change > 1.0


def more_or_less(change: float, decimals: int = 0) -> str:
    """A change as a share, in words: "27 % more", "3 % less"; beyond the double "6.3 times as much"."""
    if is_told_in_times(change):
        return f"{round_number(1.0 + change, 2)} times as much"
    return f"{percent(abs(change), decimals)} {'more' if change >= 0.0 else 'less'}"


def more_or_less_than(change: float, what: str) -> str:
    """The same beside something: "27 % more than before", "6.3 times as much as before"."""
    return f"{more_or_less(change)} {'as' if is_told_in_times(change) else 'than'} {what}"


def as_much_or(change: float, decimals: int = 0) -> str:
    """The same, but "as much" for a change that reads as none."""
    return "as much" if percent(abs(change), decimals) == percent(0.0, decimals) else more_or_less(change, decimals)


def counted(number: float) -> str:
    """Hours, miles: whole ones from ten on, below that with two digits that count: "47", "2.6", "0.36"."""
    return f"{number:.0f}" if number >= _MANY else round_number(number, 2)


def months_of(months: float) -> str:
    """A time in months, which need not be whole: "1 month", "6 months", "0.33 months"."""
    return numbered(round_number(months, 2), "month")


def years_of(years: float) -> str:
    """A time in years, which need not be whole: "1 year", "2.5 years"."""
    return numbered(round_number(years, 2), "year")


def hours_of(hours: float) -> str:
    """A time in hours, as `counted`: "1 hour", "47 hours", "0.36 hours"."""
    return numbered(counted(hours), "hour")


def capitalised(text: str) -> str:
    """At the beginning of a sentence; names in it stay as they are."""
    return f"{text[:1].upper()}{text[1:]}"


def listed(words: Sequence[str]) -> str:
    """In one sentence: "length, beam and draft"."""
    *others, last = words
    return f"{', '.join(others)} and {last}" if others else last
