"""Amounts of money: read as numbers alone, shown with the owner's currency."""

from dataclasses import dataclass

import pytest

from engine.answers import Label, answer, cell, columns, shown, unit_of
from engine.bands import Band, Money
from engine.reading import read_quantity
from engine.showing import show
from engine.stages.wording import Wording
from engine.units import Dimension


@dataclass(frozen=True)
class Line:
    """A line of a bill."""

    price_money: Money = answer("Price", digits=9)
    doubtful_money: Money = answer("About", spread=True)


def test_a_price_is_a_number_alone_and_keeps_its_last_digit() -> None:
    price = read_quantity("24355.5", Dimension.MONEY)
    assert price.si == 24355.5
    assert show(price.si, "", Dimension.MONEY) == "24,355.50"
    assert show(24355.5, "kg", Dimension.MASS) == "24360 kg"


@pytest.mark.parametrize(
    ("amount", "digits", "told"),
    [
        (16042.5, 9, "16,042.50"),
        (64055.0, 9, "64,055"),
        (5304.7, 3, "5,300"),
        (23.3, 3, "23.30"),
        (0.07312, 3, "0.0731"),
        (-1234.5, 9, "-1,234.50"),
        (0.0, 9, "0"),
    ],
)
def test_an_amount_is_told_as_on_a_bill_and_reads_back(amount: float, digits: int, told: str) -> None:
    assert shown("price_money", Label("Price", digits=digits), amount, "metric") == told
    assert read_quantity(told, Dimension.MONEY).si == pytest.approx(amount, rel=0.5 * 10.0 ** (1 - digits))


@pytest.mark.parametrize("text", ["300 EUR", "300 kg", "5 %"])
def test_a_word_behind_a_price_is_refused_with_what_to_do(text: str) -> None:
    with pytest.raises(ValueError, match="as a number alone"):
        read_quantity(text, Dimension.MONEY)


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("24,355", 24355.0),
        ("24.355", 24355.0),
        ("18.500", 18500.0),
        ("1,950", 1950.0),
        ("8,50", 8.5),
        ("8.50", 8.5),
        ("1.5", 1.5),
        ("0.500", 0.5),
    ],
)
def test_three_digits_behind_a_point_or_comma_are_thousands_of_money(text: str, amount: float) -> None:
    assert read_quantity(text, Dimension.MONEY, limits=(0.0, 1e8)).si == amount
    with pytest.raises(ValueError, match="two numbers"):
        read_quantity("24,355", Dimension.MASS, "kg", limits=(0.0, 1e8))


def test_an_amount_carries_its_currency_and_a_column_has_it_in_its_heading() -> None:
    row = Line(Money.of(1234.5, "EUR"), Money.of(Band(200.0, 180.0, 230.0), "EUR"))
    label = row.__dataclass_fields__["price_money"].metadata["label"]
    assert shown("price_money", label, row.price_money, "metric") == "EUR 1,234.50"
    assert columns([row], "metric") == [("price_money", "Price, EUR"), ("doubtful_money", "About, EUR")]
    assert cell(row, "price_money", "metric") == "1,234.50"
    assert cell(row, "doubtful_money", "metric") == "200 (180-230)"
    assert Wording("metric").money(row.doubtful_money) == "EUR 200 (180 to 230)"
    assert unit_of("price_money") is None


def test_without_a_currency_amounts_are_bare() -> None:
    assert Wording("imperial").money(Money.of(15.0, "")) == "15"
    assert columns([Line(Money.of(1.0, ""), Money.of(2.0, ""))], "metric")[0] == ("price_money", "Price")
    assert Wording("metric").money(Money.of(float("nan"), "EUR")) == "-"


def test_a_sum_with_something_put_by_ends_with_the_cent() -> None:
    label = Label("Budget", digits=9)
    assert shown("budget_money", label, Money.of(1.15 * 13218.53, "EUR"), "metric") == "EUR 15,201.31"
    assert shown("budget_money", label, Money.of(float("nan"), "EUR"), "metric") == "-"
