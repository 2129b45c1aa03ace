"""Show SI numbers to people: a sensible number of digits, in the unit they think in."""

import math

from engine.constants import FOOT, INCH
from engine.units import Dimension, unit_named

_DIGITS = 4
"""Significant digits of a shown number; enough for every measurement an owner can make aboard."""
_IN_PLURAL = ("days", "weeks", "months", "years")
"""Symbols of units that are words, and have a singular."""
_NO_LENGTH = 1e-6
"""Lengths below it are shown as none [m]: nothing aboard is measured to a thousandth of a millimetre."""
OF_BOATS = "of 1,000"
"""What stands behind the number in a share of the plausible boats, as a unit does."""
_DIGITS_OF_MONEY = 9
"""A price is known to the last digit."""
_ROUNDING = 1e-7
"""Of a step: a limit that lies as near to one is that step but for the rounding of its unit."""


def show(value: float, unit: str, dimension: Dimension, digits: int = 0) -> str:
    """An SI value as "11.13 m"; feet as "36 ft 6 in"; a missing one as "-".

    digits: significant ones; 0 takes four, and of an amount of money all.
    """
    digits = digits or _usual_digits(dimension)
    if not math.isfinite(value):
        return "-"
    if dimension is Dimension.MONEY:
        return money_number(value, digits)
    if dimension is Dimension.LENGTH and abs(value) < _NO_LENGTH:
        value = 0.0
    if unit == "ft" and dimension is Dimension.LENGTH:
        return feet_and_inches(value)
    number = unit_named(unit, dimension).from_si(value)
    if unit == ":1":
        return f"{round_number(number, digits)}:1"
    return with_unit(round_number(number, digits), unit)


def _usual_digits(dimension: Dimension) -> int:
    return _DIGITS_OF_MONEY if dimension is Dimension.MONEY else _DIGITS


def limits_shown(low: float, high: float, unit: str, dimension: Dimension, digits: int = 0) -> str:
    """Two SI limits as "7.88 in to 118 in", each rounded to the inside, so that what is told can be entered.

    digits: as `show`; in feet it is whole inches, and quarters under a foot.
    """
    return " to ".join(
        show(_inside(limit, unit, dimension, digits, inwards), unit, dimension, digits)
        for limit, inwards in ((low, 1.0), (high, -1.0))
    )


def _inside(limit: float, unit: str, dimension: Dimension, digits: int, inwards: float) -> float:
    """The SI value next to a limit that is shown without rounding.   inwards: 1 for one above it, -1 for one below."""
    as_unit = unit_named(unit, dimension)
    number = as_unit.from_si(limit)
    if number == 0.0:
        return limit
    if unit == "ft" and dimension is Dimension.LENGTH:
        step = (INCH if abs(limit) >= FOOT else INCH / 4.0) / FOOT
    else:
        step = 10.0 ** -decimals_of(number, digits or _usual_digits(dimension))
    return as_unit.to_si(inwards * math.ceil(inwards * number / step - _ROUNDING) * step)


def with_unit(number: str, unit: str) -> str:
    """A number with the symbol of its unit behind it: "11.2 m", "6 months", "1 month"; alone where it has none."""
    return numbered(number, unit.removesuffix("s")) if unit in _IN_PLURAL else f"{number} {unit}".strip()


def without_unit(text: str, unit: str) -> str:
    """The number of such a text, where its unit is told elsewhere."""
    one = unit.removesuffix("s") if unit in _IN_PLURAL else unit
    return text.removesuffix(f" {unit}").removesuffix(f" {one}") if unit else text


def numbered(number: int | str, of_what: str) -> str:
    """So many of something, the number as it is told: "1 row", "4 rows", "0.5 hours"."""
    return f"{number} {of_what}{'' if str(number) == '1' else 's'}"


def thousandths(share: float) -> str:
    """A share of the plausible boats as so many of 1,000: "915", "1,000"."""
    return f"{1000.0 * share:,.0f}"


def share_of_boats(share: float) -> str:
    """The same with what it is of: "915 of 1,000"."""
    return f"{thousandths(share)} {OF_BOATS}"


def round_step(least: float) -> float:
    """A step for the marks of an axis: 1, 2 or 5 times a power of ten, not under `least` but for a thousandth of it."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(power * factor for factor in (1.0, 2.0, 5.0, 10.0) if power * factor >= least * 0.999)


def decimals_of(number: float, digits: int) -> int:
    """Decimal places at which the significant digits of a number end, below 0 ahead of the point.

    number: finite, not 0.
    """
    return digits - 1 - math.floor(math.log10(abs(number)))


def round_number(number: float, digits: int = _DIGITS) -> str:
    """Round to significant digits without an exponent and without trailing noise: 12345.6 -> "12350"."""
    if not math.isfinite(number):
        return "-"
    if number == 0.0:
        return "0"
    decimals = decimals_of(number, digits)
    rounded = round(number, decimals)
    if decimals <= 0:
        return f"{rounded:.0f}"
    text = f"{rounded:.{decimals}f}".rstrip("0").rstrip(".")
    return text or "0"


def money_number(amount: float, digits: int = _DIGITS_OF_MONEY) -> str:
    """An amount as on a bill: "16,042.50", "64,055"; one of little more than a cent keeps its digits, "0.0731"."""
    number = round_number(amount, digits)
    part = number.partition(".")[2]
    return number if number == "-" else f"{float(number):,.{max(2, len(part)) if part else 0}f}"


def feet_and_inches(metres: float) -> str:
    """Metres as feet and inches to the nearest quarter inch; under a foot, inches alone; none at all is "0 ft".

    Between feet and a fraction stands a nought, "11 ft 0 1/2 in": without it the eye takes 11 1/2 for one number.
    """
    sign = "-" if metres < 0 else ""
    quarters = round(abs(metres) / INCH * 4)
    feet, rest = divmod(quarters, 48)
    inches, quarter = divmod(rest, 4)
    fraction = ("", " 1/4", " 1/2", " 3/4")[quarter]
    inch_text = f"{inches}{fraction}" if feet or inches else fraction.strip()
    if not quarters:
        return "0 ft"
    if not feet:
        return f"{sign}{inch_text} in"
    return f"{sign}{feet} ft" if not rest else f"{sign}{feet} ft {inch_text} in"


def band_text(best: str, low: str, high: str) -> str:
    """A best value with its range, as one phrase."""
    return f"{best} ({low} to {high})"
