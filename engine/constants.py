"""Physical constants and exact unit definitions, all SI.

Sources: gravity ISO 80000-3 (standard acceleration of free fall); the nautical mile, foot, pound and gallons
are exact by definition (1959 international yard and pound; US gallon 231 cubic inches; Weights and Measures
Act 1985 for the imperial gallon); mechanical horsepower is 550 foot-pounds force per second.
"""

from math import pi

GRAVITY = 9.80665
"""Standard gravity, m/s2."""

FOOT = 0.3048
INCH = 0.0254
NAUTICAL_MILE = 1852.0
POUND = 0.45359237
LONG_TON = 2240.0 * POUND
SHORT_TON = 2000.0 * POUND
US_GALLON = 231.0 * INCH**3
IMPERIAL_GALLON = 4.54609e-3

KNOT = NAUTICAL_MILE / 3600.0
"""One knot, m/s."""

HORSEPOWER = 550.0 * FOOT * POUND * GRAVITY
"""Mechanical horsepower, W (745.699872)."""

METRIC_HORSEPOWER = 75.0 * GRAVITY
"""Metric horsepower, PS or CV, W (735.49875)."""

PSI = POUND * GRAVITY / INCH**2
"""Pound force per square inch, Pa."""

INCH_OF_MERCURY = 3386.389
"""Conventional inch of mercury, Pa (NIST SP 811)."""

INCH_OF_WATER = 249.08891
"""Conventional inch of water, Pa (NIST SP 811)."""

RPM = 1.0 / 60.0
"""One revolution per minute, rev/s. Rotation in this project is in revolutions, not radians, per second."""

LITRE = 1e-3
"""One litre, m3."""

KILOWATT_HOUR = 3.6e6
"""One kilowatt-hour, J."""

MINUTE = 60.0
HOUR = 3600.0
DAY = 86400.0
MONTH = 365.25 / 12.0 * DAY
"""A twelfth of a year of 365.25 days, s."""

TWO_PI = 2.0 * pi
