"""Blade rate against firing, whirling and what stands ahead of the propeller."""

import numpy as np
import pytest

from engine.constants import RPM
from engine.findings import Verdict
from engine.machinery.vibration import (
    coincidences,
    critical_crossings,
    firing_rate,
    judge_coincidences,
    judge_critical_crossing,
    judge_masking,
    masked_together,
)


def test_four_cylinders_at_2400_rpm_fire_80_times_a_second():
    """Our own example: blades pass 48 times a second with three of them at 2.5:1, 80 times with four at 2:1."""
    assert firing_rate(4, 2400 * RPM) == pytest.approx(80.0)
    assert coincidences(3, 2.5, 4) == ()
    (hit,) = coincidences(4, 2.0, 4)
    assert hit.is_strong
    assert hit.words == "the firing rate"
    assert hit.rate_ratio == pytest.approx(1.0)


@pytest.mark.parametrize("blades", [2, 3, 4, 5])
@pytest.mark.parametrize("cylinders", [1, 2, 3, 4, 6])
def test_a_named_coincidence_is_one_of_rates_at_any_engine_speed(blades, cylinders):
    for ratio in np.linspace(1.0, 4.0, 61):
        for hit in coincidences(blades, ratio, cylinders):
            engine = 37.0
            blade, firing = blades * engine / ratio, firing_rate(cylinders, engine)
            against = {
                "the firing rate": firing,
                "twice the firing rate": 2 * firing,
                "half the firing rate": firing / 2,
                "the engine's own speed": engine,
                "twice the engine's speed": 2 * engine,
            }[hit.words]
            assert blade / against == pytest.approx(hit.rate_ratio, rel=1e-12)
            assert abs(hit.rate_ratio - 1) <= 0.05 + 1e-6


@pytest.mark.parametrize(
    ("blades", "ratio", "cylinders", "words"),
    [
        (3, 2.0, 3, ["the firing rate"]),
        (3, 2.0, 6, ["half the firing rate"]),
        (3, 3.0, 4, ["half the firing rate"]),
        (4, 2.0, 2, ["twice the firing rate"]),
        (3, 3.0, 3, ["the engine's own speed"]),
        (4, 2.0, 6, ["twice the engine's speed"]),
        (2, 2.0, 1, ["twice the firing rate"]),
        (3, 2.86, 2, ["the firing rate"]),
        (3, 2.85, 2, []),
    ],
)
def test_multiples_and_orders_are_named_once(blades, ratio, cylinders, words):
    """3/2.86 is 4.9 % and 3/2.85 is 5.3 % above one."""
    assert [hit.words for hit in coincidences(blades, ratio, cylinders)] == words


def test_equal_rates_want_a_look_multiples_a_mention():
    (equal,) = judge_coincidences(4, 2.0, 4)
    assert equal.verdict is Verdict.LOOK
    assert "the blade rate is the firing rate, at every engine speed" in equal.text
    (near,) = judge_coincidences(4, 2.04, 4)
    assert "is within 2.0 % of the firing rate" in near.text
    (multiple,) = judge_coincidences(3, 3.0, 4)
    assert multiple.verdict is Verdict.FITS
    assert "half the firing rate" in multiple.text
    (clear,) = judge_coincidences(3, 2.5, 4)
    assert clear.verdict is Verdict.FITS
    assert "keeps clear" in clear.text


def test_blades_meet_the_whirling_speed_at_its_share():
    crossing = critical_crossings(np.array([2, 3, 5]), 60.0, 6.0, 25.0)
    assert np.asarray(crossing.shaft_speed) == pytest.approx([30.0, 20.0, 12.0])
    assert list(crossing.is_inside) == [False, True, True]


@pytest.mark.parametrize(
    ("critical", "cruise", "verdict", "word"),
    [
        (60.0, 18.0, Verdict.LOOK, "close to the 1080 rpm"),
        (60.0, 12.0, Verdict.FITS, "pass through it"),
        (90.0, 20.0, Verdict.FITS, "outside"),
        (np.inf, 20.0, Verdict.FITS, "no whirling speed"),
    ],
)
def test_a_crossing_near_the_cruise_wants_a_look(critical, cruise, verdict, word):
    finding = judge_critical_crossing(critical_crossings(3, critical, 6.0, 25.0), cruise)
    assert finding.verdict is verdict
    assert word in finding.text


def test_even_blades_are_masked_together_behind_a_keel_only():
    assert [masked_together(blades, behind_keel=True) for blades in (2, 3, 4, 5)] == [True, False, True, False]
    assert not masked_together(2, behind_keel=False)


def test_masking_is_judged_in_words():
    two, four = judge_masking(2, behind_keel=True), judge_masking(4, behind_keel=True)
    assert (two.verdict, four.verdict) == (Verdict.LOOK, Verdict.LOOK)
    assert "Both blades" in two.text
    assert "Two of the 4 blades" in four.text
    assert judge_masking(3, behind_keel=True).verdict is Verdict.FITS
    assert judge_masking(4, behind_keel=False).verdict is Verdict.FITS


@pytest.mark.parametrize(("blades", "ratio", "cylinders"), [(0, 2.0, 4), (3, 0.0, 4), (3, 2.0, 0)])
def test_impossible_numbers_are_refused(blades, ratio, cylinders):
    with pytest.raises(ValueError, match=r"blades|ratio|cylinders"):
        coincidences(blades, ratio, cylinders)
