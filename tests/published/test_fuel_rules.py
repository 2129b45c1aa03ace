"""Rules of thumb for fuel, range and load, against numbers printed in their sources."""

import pytest

from engine.constants import HORSEPOWER, KNOT, NAUTICAL_MILE, US_GALLON
from engine.machinery.diesel import load_factor
from engine.machinery.fuel import CONSUMPTION_RULES, DIESEL, FUELS, litres_per_hour
from engine.machinery.range import cruising_range, endurance

RULES = {rule.text: rule for rule in CONSUMPTION_RULES}
US_GALLON_PER_HOUR = US_GALLON * DIESEL.density / 3600.0
"""One US gallon of diesel an hour [kg/s]."""


# Source: Gerr, D. (2009), Boat Mechanical Systems Handbook, fuel chapter: twin 350 hp engines.


def test_twin_350_hp_engines_burn_37_8_us_gallons_an_hour() -> None:
    rate = 700 * HORSEPOWER * RULES["0.054 US gallon per horsepower-hour"].specific_consumption(DIESEL.density)
    assert rate / US_GALLON_PER_HOUR == pytest.approx(37.8, abs=0.05)
    assert rate / US_GALLON_PER_HOUR / 60.0 == pytest.approx(0.63, abs=0.005)


def test_522_kw_burn_143_litres_an_hour() -> None:
    rate = 522e3 * RULES["0.054 US gallon per horsepower-hour"].specific_consumption(DIESEL.density)
    assert litres_per_hour(rate) == pytest.approx(143, abs=0.5)
    assert litres_per_hour(rate) / 60.0 == pytest.approx(2.38, abs=0.01)  # printed from 0.274 L/kWh, rounded


def test_handbook_rule_is_0_274_litre_per_kilowatt_hour() -> None:
    consumption = RULES["0.054 US gallon per horsepower-hour"].specific_consumption(DIESEL.density)
    assert litres_per_hour(consumption * 1e3) == pytest.approx(0.274, abs=5e-4)


# Source: boat-plan supplier's design note (anonymised): 350 shp at 18.7 kn, 450 US gal.


def test_design_note_runs_480_miles_on_450_gallons() -> None:
    rate = 350 * HORSEPOWER * RULES["1 US gallon an hour for every 20 horsepower"].specific_consumption(DIESEL.density)
    fuel = 450 * US_GALLON * DIESEL.density
    assert rate / US_GALLON_PER_HOUR == pytest.approx(17.5, abs=0.05)
    assert endurance(fuel, rate) / 3600.0 == pytest.approx(25.7, abs=0.05)
    # Printed from the rounded 25.7 h.
    assert cruising_range(fuel, 18.7 * KNOT, rate) / NAUTICAL_MILE == pytest.approx(480.6, rel=1e-3)


# Source: engine maker's pocket guide (anonymised), by way of an open naval wiki.


def test_160_litres_in_8_hours_at_60_an_hour_is_a_third() -> None:
    assert load_factor(160.0, 60.0 / 3600.0, 8 * 3600.0) == pytest.approx(0.333, abs=5e-4)


# Source: boating press, March 2018: one US gallon of diesel holds about 38 kWh or 130 000 BTU.


def test_a_us_gallon_of_diesel_holds_about_38_kilowatt_hours() -> None:
    fuel = FUELS["US2"]
    energy = fuel.density * US_GALLON * fuel.heating_value
    assert energy / 3.6e6 == pytest.approx(38, abs=0.5)
    assert energy / 1055.056 == pytest.approx(130_000, rel=0.01)  # "about"
