"""Read a quantity out of what an owner typed: any unit of the dimension, decimal comma or point, feet and inches.

The reader never guesses in silence. What can mean two things is settled by the limits of the field, else asked.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import product

from engine.constants import FOOT, HOUR
from engine.quoting import quoted, shortened
from engine.showing import band_text, limits_shown, with_unit
from engine.units import UNITS, Dimension, Quantity, Unit, unit_named

_NUMBER = re.compile(
    r"""(?P<sign>[-+−]?)\s*
        (?: (?P<whole>\d+)[\s-]+(?P<top>\d+)\s*/\s*(?P<bottom>\d+)     # 13 3/4
          | (?P<lone_top>\d+)\s*/\s*(?P<lone_bottom>\d+)               # 3/4
          | (?P<digits>\d{1,3}(?:[ \u00a0\u202f]\d{3})+(?![\d])(?:[.,]\d+)?
              | \d{1,3}(?:['’]\d{3})+(?:[.,]\d+)?(?![\d'’]|[.,]\d|\s*(?:["″”]|in\b|inch))   # 9'200, never 9 ft 200 in
              | \d[\d.,]*\d | [.,]\d+ | \d)
            (?P<exponent>e[-+]?\d{1,2}(?!\w))? )""",
    re.VERBOSE | re.IGNORECASE,
)
_NEXT_PART = re.compile(
    r"""(?<=['"′″’”\s])\d | (?<=[a-z])\d+(?=[\s./]*\d*\s*(?:in|inch|inches|"|″|”)\b)""", re.VERBOSE | re.IGNORECASE
)
_FEET_JOINED = re.compile(r"""(['′’]|(?<![a-z])(?:ft|foot|feet))(?:-|\s+(?:-|and)\s+)(?=\d)""", re.IGNORECASE)
"""Feet joined to inches as on drawings, 36'-6", or as they are said; not "36 ft -6 in", which takes inches off."""
_SPREAD = re.compile(r"(?P<best>[^()]+)\((?P<ends>[^()]+)\)")
_BETWEEN = re.compile(r"(?<![a-z])to(?![a-z])|\.\.\.?|…|–", re.IGNORECASE)
_DASH = re.compile(r"(?<=\s)-(?=\s)")
"""Between low and high where no word is: a minus sign stands close to its number."""
_TOLERANCE = re.compile(r"±|\+/-|\+-")
_CURRENCY = re.compile("[$\u00a2\u00a3\u00a5\u20a0-\u20cf]")
_WORD_FIRST = re.compile(r"[^\W\d]+\.? ?\d")
"""As of a currency before its amount, "EUR 850", "kr. 850"."""
_OF_MONEY = (Dimension.MONEY, Dimension.PRICE, Dimension.ENERGY_PRICE)
_VULGAR = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}

_LONGEST = 200
"""Characters that a quantity may have, low and high included. Our own choice; the longest anyone needs are some 60."""

_TRAILING = " .,"
_TIMES = " .,x×*"
"""What may stand behind a number and means nothing."""

Limits = tuple[float, float]
_ROUNDING = 1e-9
"""Of the larger limit: 122 F are 50 C, and a hair more as a computer reckons."""


def read_quantity(text: str, dimension: Dimension, unit: str = "", limits: Limits | None = None) -> Quantity:
    """Read a quantity such as "36 ft 6 in", "4,2 t", "13 3/4 in" or "14800 lb (14000 lb to 16500 lb)".

    text: what was typed.   unit: symbol used when the text has a bare number; it is then written into the
    quantity's text, so that the number keeps its meaning when the plan's units change. A bare low or high takes the
    unit that is written at its other end or at the best value.
    limits: lowest and highest believable SI value; used to settle "1,500", and enforced.
    Raises: ValueError whose message is one plain sentence that says what to do.
    """
    check_visible(text)
    cleaned = _clean(text)
    if len(cleaned) > _LONGEST:
        raise ValueError(f"{quoted(cleaned)} is too long to be a number. Write one number and its unit.")
    if _TOLERANCE.search(cleaned):
        raise ValueError(
            f"{quoted(cleaned)} is not understood. Write low and high in brackets, as in {_example(unit)}."
        )
    if spread := _spread(cleaned):
        of_best, of_low, of_high = (_unit_written(part, dimension) for part in spread)
        best = read_quantity(spread[0], dimension, unit, limits)
        low = read_quantity(_with_unit(spread[1], of_low, of_high or of_best), dimension, unit, limits)
        high = read_quantity(_with_unit(spread[2], of_high, of_low or of_best), dimension, unit, limits)
        return with_spread(best, low, high)
    readings = _readings(cleaned, dimension, unit)
    believable = [within for reading in readings if (within := _within(reading, limits)) is not None]
    if dimension is Dimension.MONEY:  # nobody writes three digits of a cent: behind a point or comma they are thousands
        believable = sorted(believable, key=lambda reading: reading.si)[-1:]
    if len(believable) > 1 and "," in cleaned:
        raise ValueError(
            f"{quoted(cleaned)} can mean two numbers, a thousand times apart. "
            "Write it without a thousands comma, or with a decimal point."
        )
    if believable:
        return believable[0]
    if not readings and (currency := _currency_in(cleaned, dimension)):
        raise ValueError(
            f"{quoted(cleaned)} has {currency}. Leave it out: the currency is named once, on the costs page."
        )
    if not readings and any(sign.isdigit() for sign in cleaned):
        raise ValueError(
            f"{quoted(cleaned)} does not begin with a number. Write a number and its unit; when you are not sure, low "
            f"and high behind them in brackets, as in {_example(unit)}."
        )
    if not readings:
        raise ValueError(f"{quoted(cleaned)} has no number in it that can be read. Write a number and its unit.")
    raise ValueError(_outside(readings[0], dimension, unit, limits))


def _currency_in(text: str, dimension: Dimension) -> str:
    """What of a text is, or seems to be, a currency; "" when nothing is."""
    if _CURRENCY.search(text):
        return "the sign of a currency in it"
    return "a word before the number" if dimension in _OF_MONEY and _WORD_FIRST.match(text) else ""


def with_spread(best: Quantity, low: Quantity, high: Quantity) -> Quantity:
    """Join three readings of one field into an unsure one. Raises: ValueError unless low <= best <= high."""
    if not low.si <= best.si <= high.si:
        raise ValueError("The best value must lie between the low and the high one.")
    return Quantity(best.si, best.text, low, high)


def _example(unit: str) -> str:
    """How an unsure value is written, in the unit of the field."""
    best, low, high = (number if unit == ":1" else with_unit(number, unit) for number in ("7", "6.5", "7.5"))
    return band_text(best, low, high)


def _spread(text: str) -> tuple[str, str, str] | None:
    """(best, low, high) of "4.2 t (4 t to 4.5 t)"; None when that is not its form.

    The ends part at the middle one of the words between them: in "2 to 1 to 3 to 1" at the second.
    """
    match = _SPREAD.fullmatch(text)
    between = (list(_BETWEEN.finditer(match["ends"])) or list(_DASH.finditer(match["ends"]))) if match else []
    if match is None or len(between) % 2 == 0:
        return None
    ends, middle = match["ends"], between[len(between) // 2]
    return match["best"], ends[: middle.start()], ends[middle.end() :]


def _unit_written(text: str, dimension: Dimension) -> str:
    """Symbol of the first unit in a text; "" when it is a bare number, or has none of this dimension."""
    parts = _split(_FEET_JOINED.sub(r"\1 ", text.strip()))
    try:
        return unit_named(parts[0][1], dimension).symbol if parts and parts[0][1] else ""
    except ValueError:
        return ""


def _with_unit(text: str, its_own: str, beside: str) -> str:
    """A bare number with the unit that stands beside it, where there is one; a ratio is the same without."""
    has_unit = its_own or any(unit for _, unit in _split(text.strip()))
    return text if has_unit or beside in ("", ":1") else with_unit(text.strip().rstrip(_TRAILING), beside)


def check_visible(text: str) -> None:
    """Raises: ValueError with a plain sentence when a text has a character in it that cannot be seen, space apart."""
    bare = "".join(text.split())
    if not bare.isprintable():
        raise ValueError(
            f"There is a character in {quoted(text)} that cannot be seen. Delete it all and type it again."
        )


def _clean(text: str) -> str:
    for sign, spelled in _VULGAR.items():
        text = text.replace(sign, spelled)
    return " ".join(text.replace("\u00a0", " ").replace("\u202f", " ").split())


def _readings(text: str, dimension: Dimension, unit: str) -> list[Quantity]:
    """Every way to read the text, the likeliest first. The parts of "36 ft 6 in" add up."""
    parts = _split(_FEET_JOINED.sub(r"\1 ", text))
    if not parts:
        return []
    if dimension is Dimension.ENERGY and (batteries := _volts_and_ampere_hours(parts)):
        return [Quantity(volts * amperes * HOUR, text) for volts, amperes in batteries]
    if len(parts) > 1:
        return [_sum_of_parts(text, parts, dimension)]
    numbers, unit_text = parts[0]
    if unit_text:
        chosen = _unit_behind(text, unit_text, dimension, unit)
        return [_written(number, chosen, text) for number in numbers]
    return [_bare_number(number, dimension, unit, text) for number in numbers]


def _unit_behind(text: str, unit_text: str, dimension: Dimension, unit: str) -> Unit:
    """The unit that is written behind a number.   text, unit: the whole text, and the unit of the field."""
    try:
        return unit_named(unit_text, dimension)
    except ValueError:
        if not any(sign.isdigit() for sign in unit_text):  # what was typed behind an older text is a second number, too
            raise
    feet = " Feet and inches are written 36 ft 6 in." if dimension is Dimension.LENGTH and unit == "ft" else ""
    raise ValueError(
        f"{quoted(text)} has two numbers in it. Write the likeliest; when you are not sure, low and high behind it in "
        f"brackets, as in {_example(unit)}.{feet}"
    )


def _volts_and_ampere_hours(parts: Sequence[tuple[list[float], str]]) -> list[tuple[float, float]]:
    """A battery as its plate has it, "48 V 400 Ah" or "400 Ah x 48 V"; nothing when it is written in other units."""
    numbers = {unit.strip(_TIMES).lower().replace(" ", ""): readings for readings, unit in parts}
    if len(parts) != 2 or set(numbers) != {"v", "ah"}:
        return []
    return list(product(numbers["v"], numbers["ah"]))


def volts_of(energy: Quantity) -> float | None:
    """Voltage that a battery's energy is written with, as in "48 V 400 Ah" [V]; None when it is written without."""
    batteries = _volts_and_ampere_hours(_split(_clean(energy.text)))
    return next((volts for volts, amperes in batteries if volts * amperes * HOUR == energy.si), None)


def _written(number: float, unit: Unit, text: str) -> Quantity:
    return Quantity(unit.to_si(number), text)


def _bare_number(number: float, dimension: Dimension, unit: str, text: str) -> Quantity:
    if dimension is Dimension.FRACTION:
        symbol = "%" if abs(number) > 1.0 else ""
    else:
        symbol = unit
    chosen = unit_named(symbol, dimension)
    bare = text.rstrip(_TRAILING)
    return _written(number, chosen, with_unit(bare, symbol) if symbol != ":1" else bare)


def _split(text: str) -> list[tuple[list[float], str]]:
    """[(readings of the number, unit text), ...] in the order written; [] when the text does not begin with one."""
    parts: list[tuple[list[float], str]] = []
    position = 0
    while position < len(text):
        match = _NUMBER.match(text, position)
        if not match:
            return []
        start = match.end()
        following = _next_part(text, start)
        unit_text = text[start:following].strip().rstrip(",")
        parts.append((_number_readings(match), unit_text if unit_text.strip(_TRAILING) else ""))
        position = following
        while position < len(text) and text[position] in " ,":
            position += 1
    return parts


def _next_part(text: str, start: int) -> int:
    """Where the next number of a compound such as 36 ft 6 in begins; a digit inside a unit (ft2) does not count."""
    for match in _NEXT_PART.finditer(text[start:]):
        before = text[start : start + match.start()].strip()
        if before and not before.endswith(("/", "per", "^", ":", "to")):
            return start + match.start()
    return len(text)


def _sum_of_parts(text: str, parts: Sequence[tuple[list[float], str]], dimension: Dimension) -> Quantity:
    total, last = 0.0, float("inf")
    for index, (numbers, unit_text) in enumerate(parts):
        if not unit_text and index == len(parts) - 1 and last == FOOT and dimension is Dimension.LENGTH:
            unit_text = "in"
        if not unit_text:
            raise ValueError(f"In {quoted(text)} one of the numbers has no unit. Write it like 36 ft 6 in.")
        unit = unit_named(unit_text, dimension)
        if unit.factor >= last or unit.offset:
            raise ValueError(
                f"{quoted(text)} mixes units in an order that makes no sense. Write the larger unit first."
            )
        total += unit.to_si(numbers[0]) if total >= 0 else -unit.to_si(numbers[0])
        last = unit.factor
    return Quantity(total, text)


def _number_readings(match: "re.Match[str]") -> list[float]:
    sign = -1.0 if match["sign"] in ("-", "−") and match["sign"] else 1.0
    if match["whole"] is not None:
        return [sign * (int(match["whole"]) + _fraction(match["top"], match["bottom"]))]
    if match["lone_top"] is not None:
        return [sign * _fraction(match["lone_top"], match["lone_bottom"])]
    exponent = 10.0 ** int(match["exponent"][1:]) if match["exponent"] else 1.0
    return [sign * exponent * value for value in _decimal_readings(match["digits"])]


def _fraction(top: str, bottom: str) -> float:
    if int(bottom) == 0:
        raise ValueError("A fraction cannot have zero below the line.")
    return int(top) / int(bottom)


def _decimal_readings(digits: str) -> list[float]:
    """The numbers that a run of digits, points and commas can stand for, the likeliest first.

    Spaces and apostrophes part thousands.
    """
    digits = re.sub("[ '’]", "", digits)
    commas, points = digits.count(","), digits.count(".")
    if commas and points:
        decimal = max(digits.rfind(","), digits.rfind("."))
        if digits.count(digits[decimal]) > 1:
            raise ValueError(f"{quoted(digits)} mixes commas and points so that no number can be read from it.")
        whole = re.sub(r"[.,]", "", digits[:decimal])
        return [float(f"{whole}.{digits[decimal + 1 :]}")]
    if commas > 1 or points > 1:
        if not re.fullmatch(r"\d{1,3}([.,]\d{3})+", digits):
            raise ValueError(f"{quoted(digits)} has more than one decimal sign. Write one number.")
        return [float(re.sub(r"[.,]", "", digits))]
    as_decimal = float(digits.replace(",", "."))
    if re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", digits):
        as_thousands = float(re.sub(r"[.,]", "", digits))
        return [as_decimal, as_thousands] if points else [as_thousands, as_decimal]
    return [as_decimal]


def _within(reading: Quantity, limits: Limits | None) -> Quantity | None:
    """A reading that is believable; one beyond a limit by no more than the rounding of its unit is that limit."""
    if limits is None:
        return reading
    low, high = limits
    held = min(max(reading.si, low), high)
    if not abs(held - reading.si) <= _ROUNDING * max(abs(low), abs(high)):
        return None
    return reading if held == reading.si else replace(reading, si=held)


def _outside(reading: Quantity, dimension: Dimension, unit: str, limits: Limits | None) -> str:
    assert limits is not None, "only limits make a reading unbelievable"
    shown_in = unit or next(known.symbol for known in UNITS if known.dimension is dimension)
    between = limits_shown(*limits, shown_in, dimension)
    side = "less" if reading.si < limits[0] else "more"
    read = shortened(reading.text)
    return f"{read} is {side} than can be believed here ({between}). Check the number and its unit."
