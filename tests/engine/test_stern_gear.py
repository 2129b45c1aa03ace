"""Packing, key and torsion."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import INCH
from engine.findings import Verdict
from engine.machinery.shaft_ends import taper_for
from engine.machinery.stern_gear import (
    bearing_press_fit,
    check_packing_size,
    judge_torsion,
    key_stress_ratio,
    packing_size,
    torsion_reasons,
)
from engine.plan import Plan
from engine.stages.stern_gear import taper_words, yard_rows


@pytest.mark.parametrize(
    ("shaft", "packing"), [(1.0, 0.25), (1.25, 0.25), (1.375, 0.3125), (1.5, 0.3125), (2.0, 0.375), (3.0, 0.375)]
)
def test_packing_by_the_trade_table(shaft: float, packing: float) -> None:
    """From memory; over 2 in an eighth of the shaft."""
    assert float(packing_size(shaft * INCH)) == pytest.approx(packing * INCH)


def test_the_table_says_where_it_ends() -> None:
    assert check_packing_size(1.5 * INCH) == ()
    assert check_packing_size(np.array([0.75, 3.0]) * INCH)


def test_a_key_bears_in_proportion_to_torque() -> None:
    taper = taper_for(1.25 * INCH, "inch")
    once, twice = (key_stress_ratio(torque, taper, 205e6) for torque in (200.0, 400.0))
    assert once is not None
    assert twice == pytest.approx((2.0 * once[0], 2.0 * once[1]))


def test_the_key_of_one_taper_by_hand() -> None:
    """30 mm, 1:10 over 70 mm: mean diameter 26.5 mm; key 8 x 7 mm; 300 N m push 22642 N at the mean radius."""
    force = 300.0 / 0.01325
    shear, crushing = force / (0.008 * 0.070), force / (0.0035 * 0.070)
    ratios = key_stress_ratio(300.0, taper_for(0.030, "metric"), 205e6)
    assert ratios == pytest.approx((shear / (0.4 * 205e6), crushing / (0.9 * 205e6)))


def test_the_end_of_a_shaft_says_how_deep_its_keyway_is_and_how_sure_its_thread_is(launch: Plan) -> None:
    """Threads of inch ends are from memory; those of the two metric rows stand on a propeller maker's sheet."""
    inch = taper_words(launch, taper_for(1.25 * INCH, "inch"))
    assert "key 7.94 mm, keyway at least 3.99 mm deep at its side" in inch
    assert "thread 7/8-9 (from memory)" in inch
    metric = taper_words(launch, taper_for(0.030, "metric"))
    assert "thread M20 x 1.5 (a propeller maker's sheet)" in metric
    assert metric.count("key 8 mm x 7 mm") == 1


@pytest.mark.parametrize(("units", "gap"), [("metric", "150 mm"), ("imperial", "5.9 in")])
def test_how_far_an_anode_stays_clear_is_told_no_finer_than_it_is_known(launch: Plan, units: str, gap: str) -> None:
    (row,) = (row for row in yard_rows(replace(launch, units=units), 0.030) if row.item.startswith("anode"))
    assert row.wanted == gap


def test_a_square_key_gives_way_in_shear_first() -> None:
    ratios = key_stress_ratio(300.0, taper_for(1.25 * INCH, "inch"), 205e6)
    assert ratios is not None
    assert ratios[0] == pytest.approx(ratios[1] * 0.9 / (2.0 * 0.4))


def test_a_key_without_strength_is_refused() -> None:
    with pytest.raises(ValueError, match="key_yield"):
        key_stress_ratio(200.0, taper_for(1.25 * INCH, "inch"), 0.0)


def test_a_shell_is_pressed_in_by_a_thousandth_of_its_bore() -> None:
    assert bearing_press_fit(np.array([1.0, 2.0]) * INCH) == pytest.approx(np.array([0.001, 0.002]) * INCH)


@pytest.mark.parametrize(
    ("cylinders", "power", "length", "count"),
    [(4, 30e3, 40.0, 0), (3, 30e3, None, 1), (None, 200e3, 70.0, 2)],
)
def test_torsion_is_asked_about_for_plain_reasons(
    cylinders: int | None, power: float, length: float | None, count: int
) -> None:
    reasons = list(torsion_reasons(cylinders, power, length))
    assert len(reasons) == count
    judged = judge_torsion(cylinders=cylinders, rated_power=power, length_over_diameter=length)
    assert judged.verdict is (Verdict.LOOK if count else Verdict.FITS)
    assert all(reason in judged.text for reason in reasons)


def test_a_motor_is_asked_for_no_damper_plate() -> None:
    diesel, motor = (
        judge_torsion(cylinders=None, rated_power=15e3, length_over_diameter=None, is_diesel=each)
        for each in (True, False)
    )
    assert diesel.text.endswith("usually fit: a damper plate behind the diesel.")
    assert motor.text.endswith("usually fit.")
