"""Quantities as people write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.constants import FOOT, HORSEPOWER, INCH, METRIC_HORSEPOWER, POUND
from engine.reading import read_quantity, volts_of
from engine.showing import feet_and_inches, round_number, show
from engine.units import UNITS, Dimension, convert, unit_named

LENGTH, MASS, POWER, ROTATION = Dimension.LENGTH, Dimension.MASS, Dimension.POWER, Dimension.ROTATION


@pytest.mark.parametrize(
    ("text", "dimension", "expected"),
    [
        ("36 ft 6 in", LENGTH, 36.5 * FOOT),
        ("36' 6\"", LENGTH, 36.5 * FOOT),
        ("36'6", LENGTH, 36.5 * FOOT),
        ("36ft6in", LENGTH, 36.5 * FOOT),
        ("10 ft 4 1/2 in", LENGTH, 10 * FOOT + 4.5 * INCH),
        ("36'-6\"", LENGTH, 36.5 * FOOT),
        ("11'-0 1/2\"", LENGTH, 11 * FOOT + 0.5 * INCH),
        ("11 ft 0 1/2 in", LENGTH, 11 * FOOT + 0.5 * INCH),
        ("11 ft 1/2 in", LENGTH, 11 * FOOT + 0.5 * INCH),
        ("11 ft - 6-1/2 in", LENGTH, 11 * FOOT + 6.5 * INCH),
        ("11 feet and 6 inches", LENGTH, 11.5 * FOOT),
        ("13 3/4 in", LENGTH, 13.75 * INCH),
        ("1-1/2 in", LENGTH, 1.5 * INCH),
        ("14½ in", LENGTH, 14.5 * INCH),
        ('3/4"', LENGTH, 0.75 * INCH),
        ("11,4 m", LENGTH, 11.4),
        ("4,2 t", MASS, 4200.0),
        ("4.2 t", MASS, 4200.0),
        ("22 500 lb", MASS, 22500 * POUND),
        ("9'200 kg", MASS, 9200.0),
        ("1’234’567.5 kg", MASS, 1234567.5),
        ("14'500", Dimension.MONEY, 14500.0),
        ("1'200 mm", LENGTH, 1.2),
        ("1'200.5 mm", LENGTH, 1.2005),
        ("36'6.125\"", LENGTH, 36 * FOOT + 6.125 * INCH),
        ("1'100\"", LENGTH, FOOT + 100 * INCH),
        ("1.234,5 kg", MASS, 1234.5),
        ("1,234.5 kg", MASS, 1234.5),
        ("1,234,567 kg", MASS, 1234567.0),
        ("55 hp", POWER, 55 * HORSEPOWER),
        ("55 PS", POWER, 55 * METRIC_HORSEPOWER),
        ("40 kW", POWER, 40e3),
        ("2400 RPM", ROTATION, 40.0),
        ("59 F", Dimension.TEMPERATURE, 15.0),
        ("2.5:1", Dimension.RATIO, 2.5),
        ("2,5 to 1", Dimension.RATIO, 2.5),
        ("12 ft2", Dimension.AREA, 12 * FOOT**2),
        ("-2.5 %", Dimension.NUMBER, -2.5),
        ("2.4 kW/100 rpm", Dimension.GEAR_RATING, 1440.0),
        ("400 L", Dimension.VOLUME, 0.4),
        ("230 g/kWh", Dimension.CONSUMPTION, 230e-3 / 3.6e6),
    ],
)
def test_a_quantity_is_read_as_people_write_it(text: str, dimension: Dimension, expected: float) -> None:
    assert read_quantity(text, dimension).si == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("text", "expected"), [("15 %", 0.15), ("15", 0.15), ("0.15", 0.15), ("1", 1.0), ("0", 0.0)])
def test_a_share_may_be_given_as_per_cent_or_as_a_number_up_to_one(text: str, expected: float) -> None:
    assert read_quantity(text, Dimension.FRACTION, "%").si == pytest.approx(expected)


def test_a_bare_number_gets_the_unit_of_its_field_written_in() -> None:
    read = read_quantity("36.5", LENGTH, "ft")
    assert read.text == "36.5 ft"
    assert read.si == pytest.approx(36.5 * FOOT)


def test_a_thousands_comma_is_told_from_a_decimal_comma_by_what_can_be_believed() -> None:
    assert read_quantity("1,500 rpm", ROTATION, limits=(10.0, 100.0)).si == pytest.approx(25.0)
    assert read_quantity("4,250 t", MASS, limits=(300.0, 200e3)).si == pytest.approx(4250.0)
    assert read_quantity("1.500 rpm", ROTATION, limits=(10.0, 100.0)).si == pytest.approx(25.0)


def test_a_comma_that_can_mean_two_numbers_is_asked_about() -> None:
    with pytest.raises(ValueError, match="can mean two numbers"):
        read_quantity("4,250 kg", MASS)


@pytest.mark.parametrize(
    ("text", "dimension", "part"),
    [
        ("", LENGTH, "no number"),
        ("banana", LENGTH, "no number"),
        ("[/x] [kW]", POWER, "no number"),
        ("12 m", MASS, "is not a unit of mass"),
        ("5 tons", MASS, "t \\(1000 kg\\)"),
        ("400 gallons", Dimension.VOLUME, "US gal or imp gal"),
        ("6 in 2 ft", LENGTH, "larger unit first"),
        ("1/0 in", LENGTH, "zero below the line"),
        ("1,2,3 m", LENGTH, "more than one decimal sign"),
        ("36 ft -6 in", LENGTH, "two numbers in it"),
        ("36", LENGTH, "wants a unit of length"),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_plain_sentence(text: str, dimension: Dimension, part: str) -> None:
    with pytest.raises(ValueError, match=part):
        read_quantity(text, dimension)


def test_a_number_that_rounding_puts_beyond_a_limit_is_that_limit() -> None:
    """122 F are 50 C and 1e-14 more as a computer reckons: the formulas that end at a limit take it at the limit."""
    limits = (-10.0, 50.0)
    assert unit_named("F", Dimension.TEMPERATURE).to_si(122.0) > 50.0
    for text, held in (("122 F", 50.0), ("50.00000004 C", 50.0), ("-10.00000004 C", -10.0)):
        read = read_quantity(text, Dimension.TEMPERATURE, "C", limits)
        assert (read.si, read.text) == (held, text)
    for text in ("50.0001 C", "-10.0001 C"):
        with pytest.raises(ValueError, match="believed here"):
            read_quantity(text, Dimension.TEMPERATURE, "C", limits)


def test_a_number_beyond_belief_is_refused_with_the_limits() -> None:
    with pytest.raises(ValueError, match=r"400 m is more than can be believed here \(4 m to 30 m\)"):
        read_quantity("400 m", LENGTH, limits=(4.0, 30.0))


@pytest.mark.parametrize(
    "text",
    [
        "14,800 lb (14,000 to 16,500)",
        "14,800 lb (14,000 to 16,500 lb)",
        "14,800 lbs (14,000 lb to 16,500)",
        "6.7 t (14,000 to 16,500 lb)",
    ],
)
def test_a_bare_low_or_high_is_in_the_unit_beside_it_and_not_in_the_plans(text: str) -> None:
    """Read in kilograms 'the best value must lie between the low and the high one': nobody sees why it does not."""
    limits = (300.0, 200e3)
    read = read_quantity(text, MASS, "kg", limits)
    assert read.low is not None
    assert read.high is not None
    assert (read.low.si, read.high.si) == pytest.approx((14000 * POUND, 16500 * POUND))
    assert read_quantity(read.written, MASS, "t", limits) == read


@pytest.mark.parametrize(
    ("text", "dimension", "low", "high"),
    [
        ("1 % (0.5 to 2)", Dimension.FRACTION, 0.005, 0.02),
        ("48 V 400 Ah (15 kWh to 20 kWh)", Dimension.ENERGY, 54e6, 72e6),
        ("11.2 m (11 - 11.5)", Dimension.LENGTH, 11.0, 11.5),
        ("36 ft 6 in (36 ft - 6 in to 37 ft)", Dimension.LENGTH, 36.5 * FOOT, 37.0 * FOOT),
        ("2.5:1 (2 to 3)", Dimension.RATIO, 2.0, 3.0),
    ],
)
def test_low_and_high_are_read_as_they_are_meant(text: str, dimension: Dimension, low: float, high: float) -> None:
    read = read_quantity(text, dimension)
    assert read.low is not None
    assert read.high is not None
    assert (read.low.si, read.high.si) == pytest.approx((low, high))


@pytest.mark.parametrize("sign", ["±", "+/-", "+-"])
def test_who_writes_a_tolerance_is_told_how_low_and_high_are_written(sign: str) -> None:
    with pytest.raises(ValueError, match=r"low and high in brackets, as in 7 m \(6.5 m to 7.5 m\)"):
        read_quantity(f"11.2 m {sign} 0.2 m", Dimension.LENGTH, "m")


def test_low_and_high_of_a_bare_number_are_in_the_unit_of_the_plan() -> None:
    read = read_quantity("9 (8 to 10)", MASS, "t")
    assert read.written == "9 t (8 t to 10 t)"


def test_an_unsure_quantity_keeps_its_low_and_high() -> None:
    read = read_quantity("14800 lb (14000 lb to 16500 lb)", MASS)
    assert read.low is not None
    assert read.high is not None
    assert (read.low.text, read.text, read.high.text) == ("14000 lb", "14800 lb", "16500 lb")
    assert read_quantity(read.written, MASS) == read


def test_an_unsure_quantity_must_lie_within_its_own_band() -> None:
    with pytest.raises(ValueError, match="between the low and the high"):
        read_quantity("10 kg (12 kg to 14 kg)", MASS)


@given(st.floats(1e-3, 1e6), st.sampled_from([unit for unit in UNITS if unit.symbol]))
def test_any_number_in_any_unit_reads_back_as_itself(number: float, unit: object) -> None:
    assert isinstance(unit, type(UNITS[0]))
    read = read_quantity(f"{number:.9f} {unit.symbol}", unit.dimension)
    assert convert(read.si, unit.symbol, unit.dimension) == pytest.approx(number, rel=1e-6, abs=1e-6)


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_and_never_breaks(text: str) -> None:
    refusal, value = "", 4.0
    try:
        value = read_quantity(text, LENGTH, "m", (4.0, 30.0)).si
    except ValueError as error:
        refusal = str(error)
    assert refusal.endswith(".") if refusal else 4.0 <= value <= 30.0


@pytest.mark.parametrize("unit", UNITS, ids=lambda unit: f"{unit.dimension.value} {unit.symbol}")
def test_every_name_of_a_unit_finds_it_or_an_equal_one(unit: object) -> None:
    assert isinstance(unit, type(UNITS[0]))
    for name in unit.names:
        found = unit_named(name, unit.dimension)
        assert (found.factor, found.offset) == (unit.factor, unit.offset), name


def test_numbers_are_shown_with_four_digits_and_no_exponent() -> None:
    assert round_number(123456.0) == "123500"
    assert round_number(0.0012345) == "0.001234"
    assert round_number(2.50) == "2.5"
    assert round_number(float("nan")) == "-"
    assert show(0.15, "%", Dimension.FRACTION) == "15 %"
    assert show(2.5, ":1", Dimension.RATIO) == "2.5:1"


def test_feet_are_shown_with_inches_to_the_quarter() -> None:
    assert feet_and_inches(36.5 * FOOT) == "36 ft 6 in"
    assert feet_and_inches(6 * FOOT) == "6 ft"
    assert feet_and_inches(0.25 * INCH) == "1/4 in"
    assert feet_and_inches(11 * FOOT + 0.5 * INCH) == "11 ft 0 1/2 in", "not 11 ft 1/2 in, which looks like 11 1/2"
    assert feet_and_inches(-11 * FOOT - 6.25 * INCH) == "-11 ft 6 1/4 in"
    assert feet_and_inches(0.0) == feet_and_inches(-0.1 * INCH) == "0 ft", "height above the sea is not in inches"
    assert feet_and_inches(11.99 * INCH) == "1 ft"


def test_the_only_unit_of_its_kind_may_be_left_out() -> None:
    with pytest.raises(ValueError, match="Write the number alone, or :1 behind it"):
        unit_named("bra", Dimension.RATIO)
    with pytest.raises(ValueError, match="Write one of: m, cm"):
        unit_named("bra", Dimension.LENGTH)


@pytest.mark.parametrize("text", ["about 7 m", "~7 m", "O.7 m", "between 6 and 7 m"])
def test_a_number_behind_something_else_is_not_said_to_be_missing(text: str) -> None:
    with pytest.raises(ValueError, match=r"does not begin with a number\..*low and high behind them in brackets"):
        read_quantity(text, Dimension.LENGTH, "m")
    with pytest.raises(ValueError, match="has no number in it"):
        read_quantity("seven m", Dimension.LENGTH, "m")


def test_a_plain_number_with_a_unit_is_told_to_stand_alone() -> None:
    with pytest.raises(ValueError, match="'mm' means nothing here"):
        unit_named("mm", Dimension.NUMBER)


@pytest.mark.parametrize(
    ("metres", "unit", "shown"), [(1e-7, "m", "0 m"), (-1e-8, "mm", "0 mm"), (1e-5, "mm", "0.01 mm")]
)
def test_a_length_that_nobody_can_measure_is_shown_as_none(metres: float, unit: str, shown: str) -> None:
    assert show(metres, unit, LENGTH) == shown


@pytest.mark.parametrize(
    ("text", "kilowatt_hours"),
    [
        ("48 V 400 Ah", 19.2),
        ("400 Ah, 48 V", 19.2),
        ("51.2V x 280Ah", 14.336),
        ("51,2 V × 280 A h", 14.336),
        ("12 v * 1200 ah", 14.4),
        ("8 kWh 500 Wh", 8.5),
    ],
)
def test_a_battery_is_read_from_its_plate(text: str, kilowatt_hours: float) -> None:
    """Nothing on it says kilowatt-hours; 'V is not a unit of energy' was all that its owner was told."""
    found = read_quantity(text, Dimension.ENERGY, "kWh")
    assert found.si == pytest.approx(kilowatt_hours * 3.6e6)
    assert found.text == text
    assert read_quantity(found.text, Dimension.ENERGY, "kWh").si == found.si


@pytest.mark.parametrize(
    ("text", "volts"),
    [("48 V 400 Ah", 48.0), ("400 Ah, 51,2 V", 51.2), ("19.2 kWh", None), ("20", None), ("69 MJ", None)],
)
def test_a_battery_written_in_ampere_hours_tells_its_voltage(text: str, volts: float | None) -> None:
    assert volts_of(read_quantity(text, Dimension.ENERGY, "kWh")) == volts


@pytest.mark.parametrize(
    ("text", "dimension", "unit", "said"),
    [
        ("28 to 30 ft", LENGTH, "ft", r"two numbers in it.*as in 7 ft \(6.5 ft to 7.5 ft\)\. Feet and"),
        ("30 6", LENGTH, "ft", "two numbers in it.*Feet and inches are written 36 ft 6 in"),
        ("18x12", LENGTH, "in", r"two numbers in it.*as in 7 in \(6.5 in to 7.5 in\)\.$"),
        ("560 mm420 mm", LENGTH, "mm", "two numbers in it"),
        ("6-7", Dimension.SPEED, "kn", r"two numbers in it.*7 kn \(6.5 kn to 7.5 kn\)"),
        ("2.5 3", Dimension.RATIO, ":1", r"two numbers in it.*as in 7 \(6.5 to 7.5\)"),
        ("about 9", MASS, "lb", r"does not begin with a number.*as in 7 lb \(6.5 lb to 7.5 lb\)"),
        ("30 +- 1", LENGTH, "ft", r"brackets, as in 7 ft \(6.5 ft"),
        ("$4.50", Dimension.PRICE, "per US gal", "sign of a currency in it. Leave it out"),
        ("EUR 850", Dimension.MONEY, "", "a word before the number. Leave it out: the currency is named once"),
        ("kr. 14,50", Dimension.PRICE, "per L", "a word before the number. Leave it out: the currency is named once"),
        ("\u20ac 17,500", Dimension.MONEY, "", "sign of a currency in it. Leave it out"),
        ("4.50 per gallon", Dimension.PRICE, "per US gal", "gallon can be two things: write per US gal or"),
    ],
)
def test_what_owners_write_by_mistake_is_answered_in_the_unit_of_the_field(
    text: str, dimension: Dimension, unit: str, said: str
) -> None:
    """Two numbers were "not a unit", and an owner who thinks in feet was shown an example in metres."""
    with pytest.raises(ValueError, match=said):
        read_quantity(text, dimension, unit)


def test_a_ratio_and_a_power_are_read_as_people_write_them_too() -> None:
    assert read_quantity("2.5/1", Dimension.RATIO, ":1").si == 2.5
    assert read_quantity("55 horse power", Dimension.POWER, "kW").si == read_quantity("55 hp", Dimension.POWER, "kW").si


@pytest.mark.parametrize("text", ["48 V", "48 V 400 A", "400 Ah 400 Ah", "48 V 400 Ah 2 h"])
def test_a_plate_that_is_read_by_half_is_asked_about(text: str) -> None:
    with pytest.raises(ValueError, match="unit of energy"):
        read_quantity(text, Dimension.ENERGY, "kWh")
