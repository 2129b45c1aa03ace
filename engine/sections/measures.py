"""The units in which fields are asked, one pair for each thing that is measured: metric and imperial."""

from engine.entries import Measure
from engine.units import Dimension

ANGLE = Measure(Dimension.ANGLE, "deg", "deg")
AREA = Measure(Dimension.AREA, "m2", "ft2")
ELECTRIC_POWER = Measure(Dimension.POWER, "kW", "kW")
FLOW = Measure(Dimension.FLOW, "L/h", "US gal/h")
GAS_PRESSURE = Measure(Dimension.PRESSURE, "kPa", "in Hg")
GEAR_RATING = Measure(Dimension.GEAR_RATING, "kW per 100 rpm", "hp per 100 rpm")
HOURS = Measure(Dimension.DURATION, "h", "h")
KNOTS = Measure(Dimension.SPEED, "kn", "kn")
LENGTH = Measure(Dimension.LENGTH, "m", "ft")
MONTHS = Measure(Dimension.DURATION, "months", "months")
OIL_PRESSURE = Measure(Dimension.PRESSURE, "bar", "psi")
PER_CENT = Measure(Dimension.FRACTION, "%", "%")
PLAIN = Measure(Dimension.NUMBER, "", "")
POWER = Measure(Dimension.POWER, "kW", "hp")
RATIO = Measure(Dimension.RATIO, ":1", ":1")
ROTATION = Measure(Dimension.ROTATION, "rpm", "rpm")
SMALL_LENGTH = Measure(Dimension.LENGTH, "mm", "in")
TANK_LENGTH = Measure(Dimension.LENGTH, "m", "in")
TEMPERATURE = Measure(Dimension.TEMPERATURE, "C", "F")
VOLUME = Measure(Dimension.VOLUME, "L", "US gal")
WEIGHT = Measure(Dimension.MASS, "kg", "lb")
