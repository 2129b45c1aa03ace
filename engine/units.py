"""Quantities as people write them, and back: "36 ft 6 in", "4,2 t", "55 hp" <-> SI numbers.

The internal units are SI, with three habits of the trade kept because every formula book uses them: angles are in
degrees, temperatures in degrees Celsius, and rotation is in revolutions (not radians) per second.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

from engine import constants as c
from engine.quoting import quoted


class Dimension(Enum):
    """What a quantity measures. Units of one dimension convert into each other, and never into another's."""

    LENGTH = "length"
    DISTANCE = "distance"
    AREA = "area"
    VOLUME = "volume"
    MASS = "mass"
    FORCE = "force"
    SPEED = "speed"
    POWER = "power"
    TORQUE = "torque"
    ROTATION = "rotation"
    ENERGY = "energy"
    GEAR_RATING = "power per shaft speed"
    TEMPERATURE = "temperature"
    PRESSURE = "pressure"
    ANGLE = "angle"
    DURATION = "duration"
    FLOW = "volume per time"
    CONSUMPTION = "fuel mass per energy"
    PRICE = "price per volume"
    ENERGY_PRICE = "price per energy"
    MONEY = "money"
    ELECTRIC_CURRENT = "electric current"
    VOLTAGE = "voltage"
    FRACTION = "share"
    RATIO = "ratio"
    NUMBER = "number"


@dataclass(frozen=True)
class Unit:
    """One unit: SI value = number * factor + offset. `names` are the ways people write it, lower case."""

    symbol: str
    dimension: Dimension
    factor: float
    names: tuple[str, ...]
    offset: float = 0.0

    def to_si(self, number: float) -> float:
        """The SI value of a number in this unit; that of an angle in degrees, of a temperature in degrees Celsius."""
        return number * self.factor + self.offset

    def from_si(self, value: float) -> float:
        """The number in this unit of such a value."""
        return (value - self.offset) / self.factor


def _unit(dimension: Dimension, symbol: str, factor: float, *names: str, offset: float = 0.0) -> Unit:
    return Unit(symbol, dimension, factor, (symbol.lower(), *names), offset)


_D = Dimension

UNITS: tuple[Unit, ...] = (
    _unit(_D.LENGTH, "m", 1.0, "metre", "metres", "meter", "meters"),
    _unit(_D.LENGTH, "cm", 0.01, "centimetre", "centimetres", "centimeter", "centimeters"),
    _unit(_D.LENGTH, "mm", 0.001, "millimetre", "millimetres", "millimeter", "millimeters"),
    _unit(_D.LENGTH, "ft", c.FOOT, "foot", "feet", "'", "′", "’"),
    _unit(_D.LENGTH, "in", c.INCH, "inch", "inches", '"', "″", "”", "''"),
    _unit(_D.DISTANCE, "nmi", c.NAUTICAL_MILE, "nm", "nautical mile", "nautical miles"),
    _unit(_D.DISTANCE, "km", 1000.0, "kilometre", "kilometres", "kilometer", "kilometers"),
    _unit(_D.AREA, "m2", 1.0, "m²", "m^2", "sq m", "square metres", "square meters"),
    _unit(_D.AREA, "cm2", 1e-4, "cm²", "cm^2", "sq cm"),
    _unit(_D.AREA, "in2", c.INCH**2, "in²", "in^2", "sq in", "square inches"),
    _unit(_D.AREA, "ft2", c.FOOT**2, "ft²", "ft^2", "sq ft", "square feet"),
    _unit(_D.VOLUME, "L", c.LITRE, "l", "ltr", "litre", "litres", "liter", "liters"),
    _unit(_D.VOLUME, "m3", 1.0, "m³", "m^3", "cubic metres", "cubic meters"),
    _unit(_D.VOLUME, "cm3", 1e-6, "cm³", "cm^3", "cc", "ml"),
    _unit(_D.VOLUME, "in3", c.INCH**3, "in³", "in^3", "cu in", "cubic inches"),
    _unit(_D.VOLUME, "ft3", c.FOOT**3, "ft³", "ft^3", "cu ft", "cubic feet"),
    _unit(_D.VOLUME, "US gal", c.US_GALLON, "usgal", "us gallon", "us gallons", "gal us"),
    _unit(_D.VOLUME, "imp gal", c.IMPERIAL_GALLON, "imperial gallon", "imperial gallons", "uk gal", "uk gallons"),
    _unit(_D.MASS, "kg", 1.0, "kilo", "kilos", "kilogram", "kilograms"),
    _unit(_D.MASS, "t", 1000.0, "tonne", "tonnes", "metric ton", "metric tons"),
    _unit(_D.MASS, "lb", c.POUND, "lbs", "pound", "pounds"),
    _unit(_D.MASS, "long ton", c.LONG_TON, "long tons"),
    _unit(_D.MASS, "short ton", c.SHORT_TON, "short tons"),
    _unit(_D.FORCE, "N", 1.0, "newton", "newtons"),
    _unit(_D.FORCE, "kN", 1000.0),
    _unit(_D.FORCE, "lbf", c.POUND * c.GRAVITY),
    _unit(_D.SPEED, "kn", c.KNOT, "kt", "kts", "knot", "knots"),
    _unit(_D.SPEED, "ft/s", c.FOOT, "feet per second"),
    _unit(_D.SPEED, "m/s", 1.0, "metres per second"),
    _unit(_D.SPEED, "km/h", 1.0 / 3.6, "kmh", "kph"),
    _unit(_D.SPEED, "mph", 1609.344 / c.HOUR),
    _unit(_D.POWER, "kW", 1000.0, "kilowatt", "kilowatts"),
    _unit(_D.POWER, "W", 1.0, "watt", "watts"),
    _unit(_D.POWER, "hp", c.HORSEPOWER, "bhp", "shp", "horsepower", "horse power"),
    _unit(_D.POWER, "PS", c.METRIC_HORSEPOWER, "cv", "pk", "metric hp", "metric horsepower"),
    _unit(_D.TORQUE, "N m", 1.0, "nm", "n·m", "newton metres"),
    _unit(_D.TORQUE, "lb ft", c.POUND * c.GRAVITY * c.FOOT, "ft lb", "lbf ft", "lb-ft", "ft-lb"),
    _unit(_D.ROTATION, "rpm", c.RPM, "r/min", "rev/min", "1/min", "revs", "u/min"),
    _unit(_D.ROTATION, "rev/s", 1.0, "r/s", "1/s"),
    _unit(_D.ENERGY, "kWh", c.KILOWATT_HOUR, "kw h", "kilowatt hours", "kilowatt-hours"),
    _unit(_D.ENERGY, "Wh", c.HOUR, "w h", "watt hours", "watt-hours"),
    _unit(_D.ENERGY, "MJ", 1e6, "megajoules"),
    _unit(_D.GEAR_RATING, "kW per 100 rpm", 1000.0 / (100.0 * c.RPM), "kw/100 rpm", "kw/100rpm"),
    _unit(_D.GEAR_RATING, "kW/rpm", 1000.0 / c.RPM, "kw per rpm"),
    _unit(_D.GEAR_RATING, "hp per 100 rpm", c.HORSEPOWER / (100.0 * c.RPM), "hp/100 rpm", "hp/100rpm"),
    _unit(_D.TEMPERATURE, "C", 1.0, "°c", "deg c", "celsius", "°"),
    _unit(_D.TEMPERATURE, "F", 5.0 / 9.0, "°f", "deg f", "fahrenheit", offset=-160.0 / 9.0),
    _unit(_D.PRESSURE, "kPa", 1000.0, "kilopascal"),
    _unit(_D.PRESSURE, "mbar", 100.0, "hpa", "millibar"),
    _unit(_D.PRESSURE, "bar", 1e5, "bars"),
    _unit(_D.PRESSURE, "psi", c.PSI, "lb/in2", "pounds per square inch"),
    _unit(_D.PRESSURE, "in Hg", c.INCH_OF_MERCURY, "inhg", "inches of mercury"),
    _unit(_D.PRESSURE, "mm Hg", c.INCH_OF_MERCURY / 25.4, "mmhg", "millimetres of mercury"),
    _unit(_D.PRESSURE, "in water", c.INCH_OF_WATER, "inh2o", "in h2o", "inches of water"),
    _unit(_D.ANGLE, "deg", 1.0, "°", "degree", "degrees"),
    _unit(_D.DURATION, "h", c.HOUR, "hr", "hrs", "hour", "hours"),
    _unit(_D.DURATION, "min", c.MINUTE, "minute", "minutes"),
    _unit(_D.DURATION, "s", 1.0, "second", "seconds"),
    _unit(_D.DURATION, "days", c.DAY, "day", "d"),
    _unit(_D.DURATION, "weeks", 7.0 * c.DAY, "week"),
    _unit(_D.DURATION, "months", c.MONTH, "month"),
    _unit(_D.DURATION, "years", 12.0 * c.MONTH, "year"),
    _unit(_D.FLOW, "L/h", c.LITRE / c.HOUR, "l/hr", "litres per hour", "liters per hour", "lph"),
    _unit(_D.FLOW, "US gal/h", c.US_GALLON / c.HOUR, "gph us", "us gallons per hour"),
    _unit(_D.FLOW, "imp gal/h", c.IMPERIAL_GALLON / c.HOUR, "imperial gallons per hour"),
    _unit(_D.FLOW, "L/min", c.LITRE / c.MINUTE, "litres per minute", "liters per minute", "lpm"),
    _unit(_D.FLOW, "US gal/min", c.US_GALLON / c.MINUTE, "us gallons per minute"),
    _unit(_D.FLOW, "m3/min", 1.0 / c.MINUTE, "m³/min", "cubic metres per minute"),
    _unit(_D.FLOW, "cfm", c.FOOT**3 / c.MINUTE, "ft3/min", "cubic feet per minute"),
    _unit(_D.CONSUMPTION, "g/kWh", 1e-3 / c.KILOWATT_HOUR, "g/kw h", "g per kwh"),
    _unit(_D.CONSUMPTION, "lb/hp h", c.POUND / (c.HORSEPOWER * c.HOUR), "lb/hph", "lb/hp-h"),
    _unit(_D.PRICE, "per L", 1.0 / c.LITRE, "/l", "a litre", "per litre", "per liter"),
    _unit(_D.PRICE, "per US gal", 1.0 / c.US_GALLON, "/us gal", "a us gallon"),
    _unit(_D.PRICE, "per imp gal", 1.0 / c.IMPERIAL_GALLON, "/imp gal", "an imperial gallon"),
    _unit(_D.ENERGY_PRICE, "per kWh", 1.0 / c.KILOWATT_HOUR, "/kwh", "a kwh"),
    _unit(_D.MONEY, "", 1.0),
    _unit(_D.ELECTRIC_CURRENT, "A", 1.0, "amp", "amps", "ampere", "amperes", "cca"),
    _unit(_D.VOLTAGE, "V", 1.0, "volt", "volts", "v dc", "vdc"),
    _unit(_D.FRACTION, "%", 0.01, "percent", "per cent"),
    _unit(_D.FRACTION, "", 1.0),
    _unit(_D.RATIO, ":1", 1.0, ": 1", "to 1", "/1", ""),
    _unit(_D.NUMBER, "", 1.0),
    _unit(_D.NUMBER, "% L", 1.0, "%", "% of length", "%l"),
)

AMBIGUOUS: Mapping[str, str] = {
    "ton": "A ton can be three things: write t (1000 kg), long ton (2240 lb) or short ton (2000 lb).",
    "tons": "A ton can be three things: write t (1000 kg), long ton (2240 lb) or short ton (2000 lb).",
    "miles": "A mile can be two things: write nmi (1852 m) or km.",
    "gal": "A gallon can be two things: write US gal or imp gal.",
    "gallon": "A gallon can be two things: write US gal or imp gal.",
    "gallons": "A gallon can be two things: write US gal or imp gal.",
    "gal/h": "A gallon can be two things: write US gal/h or imp gal/h.",
    "gph": "A gallon can be two things: write US gal/h or imp gal/h.",
    "gallons per hour": "A gallon can be two things: write US gal/h or imp gal/h.",
    **dict.fromkeys(
        ("per gal", "per gallon", "a gallon", "a gal", "/gal"),
        "A gallon can be two things: write per US gal or per imp gal.",
    ),
}

_BY_NAME: Mapping[Dimension, Mapping[str, Unit]] = {
    dimension: {name: unit for unit in UNITS if unit.dimension is dimension for name in unit.names}
    for dimension in Dimension
}


@lru_cache(maxsize=1024)
def unit_named(name: str, dimension: Dimension) -> Unit:
    """The unit that people write as `name` when they measure `dimension`.

    Raises: ValueError with a sentence for the owner when the name means nothing, or two things.
    """
    key = " ".join(name.lower().split())
    found = _BY_NAME[dimension].get(key) or _BY_NAME[dimension].get(key.rstrip("."))
    if found:
        return found
    if key in AMBIGUOUS:
        raise ValueError(AMBIGUOUS[key])
    if dimension is Dimension.MONEY:
        raise ValueError("Write an amount of money as a number alone: its currency is named once, on the costs page.")
    if dimension is Dimension.NUMBER:
        raise ValueError(f"This is a number without a unit, so {quoted(name)} means nothing here. Write it alone.")
    known = ", ".join(unit.symbol for unit in UNITS if unit.dimension is dimension and unit.symbol)
    if not key:
        raise ValueError(f"The number wants a unit of {dimension.value}. Write one of: {known}.")
    cure = f"Write one of: {known}." if ", " in known else f"Write the number alone, or {known} behind it."
    raise ValueError(f"{quoted(name)} is not a unit of {dimension.value} that is known here. {cure}")


def convert(value: float, symbol: str, dimension: Dimension) -> float:
    """An SI value in the unit `symbol`.   Raises: ValueError when the dimension has no unit of that name."""
    return unit_named(symbol, dimension).from_si(value)


@dataclass(frozen=True)
class Quantity:
    """A number the owner gave: its SI value and the text as written; low and high when they are unsure of it."""

    si: float
    text: str
    low: "Quantity | None" = None
    high: "Quantity | None" = None

    @property
    def written(self) -> str:
        """One line that reads back as the same quantity."""
        if self.low is None or self.high is None:
            return self.text
        return f"{self.text} ({self.low.text} to {self.high.text})"
