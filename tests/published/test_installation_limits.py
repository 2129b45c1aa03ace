"""Limits of an installation that are printed somewhere, against those that the checks work with.

Sources: Gerr, D. (2009), Boat Mechanical Systems Handbook; Professional BoatBuilder, December 2017, on exhausts;
manuals of makers of engines and V-drives (anonymised); US Army TM 55-1905-221. Inches and feet as they print them.
"""

import pytest

from engine.constants import FOOT, INCH, INCH_OF_MERCURY
from engine.machinery.bearings import RUNOUT_LIMIT, coupling_alignment_limit, hub_gap_limit
from engine.machinery.engine_air import least_airflow
from engine.machinery.engine_law import POWER_INCREASE
from engine.machinery.engine_room import CLEARANCE
from engine.machinery.engine_services import FILL_FROM_OPENING, SECOND_SHUT_OFF, SUCTION_LIFT
from engine.machinery.exhaust import (
    INJECTION_HEIGHT,
    LIFT_LIMIT,
    LONG_RUN_BORES,
    LONG_RUN_INCREASE,
    LOOP_HEIGHT,
    WET_OVER_DRY_BORE,
    back_pressure_limit,
    least_muffler_volume,
    water_falling_back,
)
from engine.machinery.stern_gear import ANODE_GAP


def test_airflow_is_the_handbooks_metric_line() -> None:
    """Gerr (2009): cfm = 2.75 hp - 90, in metric (2.75 x 1.341 kW - 90) x 0.02832 m3 a minute."""
    kilowatts = 484.0
    printed = (2.75 * 1.341 * kilowatts - 90.0) * 0.02832
    assert float(least_airflow(kilowatts * 1e3)) * 60.0 == pytest.approx(printed, rel=5e-4)  # 1.341, 0.02832: rounded


def test_back_pressure_allowed_is_no_more_than_the_handbooks() -> None:
    """Gerr (2009): 2.5 in of mercury without a turbocharger, 2.0 with one (40 mm printed beside it is a slip).

    6.8 kPa is 2.0 in rounded up by 0.4 %.
    """
    assert back_pressure_limit(is_turbocharged=False) <= 2.5 * INCH_OF_MERCURY
    assert back_pressure_limit(is_turbocharged=True) == pytest.approx(2.0 * INCH_OF_MERCURY, rel=5e-3)


def test_heights_and_lengths_of_an_exhaust_are_the_printed_ones() -> None:
    assert pytest.approx(12.0 * INCH, abs=0.005) == INJECTION_HEIGHT  # a maker prints 300 mm, a journal 12 in
    assert LOOP_HEIGHT == 0.45
    assert pytest.approx(42.0 * INCH, abs=0.005) == LIFT_LIMIT
    assert (LONG_RUN_BORES, LONG_RUN_INCREASE, WET_OVER_DRY_BORE) == (60.0, 0.20, 1.4)


def test_a_muffler_holds_three_times_the_water_that_falls_back() -> None:
    assert least_muffler_volume(0.05, 0.6) == pytest.approx(3.0 * float(water_falling_back(0.05, 0.6)))


def test_water_and_fuel_lines_end_where_they_are_printed_to() -> None:
    assert SUCTION_LIFT == 2.0
    assert pytest.approx(12.0 * FOOT) == SECOND_SHUT_OFF  # a line of just 12 ft needs no second one
    assert pytest.approx(15.0 * INCH, abs=0.005) == FILL_FROM_OPENING


def test_gaps_of_engine_and_stern_gear_are_the_printed_ones() -> None:
    assert CLEARANCE == 0.025
    assert pytest.approx(0.003 * INCH) == RUNOUT_LIMIT
    assert ANODE_GAP == 0.150
    assert hub_gap_limit(0.03) == 0.03


@pytest.mark.parametrize(("flange_in", "limit"), [(2.0, 0.002 * INCH), (5.0, 0.003 * INCH)])
def test_coupling_is_aligned_to_a_thousandth_of_its_flange_and_to_three_at_most(flange_in: float, limit: float) -> None:
    """Printed 0.003 in for the most; the table has 0.08 mm for it, which is 0.00315 in."""
    assert coupling_alignment_limit(flange_in * INCH) == pytest.approx(limit, rel=0.055)


def test_law_speaks_of_more_than_fifteen_percent() -> None:
    """Directive 2013/53/EU, major engine modification; two copies."""
    assert POWER_INCREASE == 0.15
