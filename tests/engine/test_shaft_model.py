"""The finite-element model of a shaft: converged, above the Dunkerley sum, and moved the right way by what changes."""

from math import inf

import numpy as np
import pytest

from engine.findings import Verdict
from engine.machinery.shaft_model import (
    Disc,
    ElasticShaft,
    critical_speeds,
    judge_model_agreement,
    overhung_critical_speed,
)
from engine.machinery.whirling import (
    propeller_in_water,
    whirling_critical_speed,
    whirling_inertia,
)
from engine.numeric import Array

CASES = [  # span, overhang, diameter, modulus, density, dry propeller mass, its radius of gyration
    (1.6, 0.12, 0.040, 193e9, 8000.0, 14.0, 0.15),
    (2.0, 0.15, 0.045, 193e9, 7890.0, 22.0, 0.17),
    (1.2, 0.10, 0.030, 200e9, 7800.0, 7.0, 0.12),
]
EACH = pytest.mark.parametrize("case", CASES)
Case = tuple[float, ...]


def loaded(case: Case) -> tuple[float, ...]:
    """Arguments of both ways of reckoning, without gyroscopic effect."""
    wheel = propeller_in_water(case[5], case[5] * case[6] ** 2)
    return (*case[:5], float(wheel.mass), float(whirling_inertia(wheel)))


@EACH
def test_the_dunkerley_sum_bounds_it_from_below(case: Case) -> None:
    model, bound = overhung_critical_speed(*loaded(case)), float(whirling_critical_speed(*loaded(case)))
    assert 0.90 * model < bound < model
    assert judge_model_agreement(model, bound).verdict is Verdict.FITS


@pytest.mark.parametrize(
    ("share", "verdict", "words"),
    [
        (1.0, Verdict.FITS, "differ by 0 %"),
        (0.91, Verdict.FITS, "safe side"),
        (0.89, Verdict.LOOK, "11 %: more than they should"),
        (1.01, Verdict.LOOK, "1 %, and the one that should err low does not"),
        (inf, Verdict.LOOK, "Only one"),
    ],
)
def test_the_two_ways_are_judged(share: float, verdict: Verdict, words: str) -> None:
    judged = judge_model_agreement(25.0, share * 25.0)
    assert judged.verdict is verdict
    assert words in judged.text


def test_the_gap_between_them_stays_under_ten_percent_on_small_craft() -> None:
    """Slenderness, overhang and weight of propeller drawn over what small craft have; 8.1 % was the most of 4000."""
    draw = np.random.default_rng(1)
    for _ in range(60):
        diameter = draw.uniform(0.022, 0.06)
        span, overhang = diameter * draw.uniform(15.0, 45.0), diameter * draw.uniform(1.0, 5.0)
        wheel_diameter = diameter * draw.uniform(12.0, 20.0)
        dry = draw.uniform(40.0, 140.0) * wheel_diameter**3
        arguments = loaded((span, overhang, diameter, 193e9, 8000.0, dry, 0.21 * wheel_diameter))
        assert 0.90 < float(whirling_critical_speed(*arguments)) / overhung_critical_speed(*arguments) < 1.0


@EACH
def test_finer_elements_change_it_by_less_than_a_ten_thousandth(case: Case) -> None:
    span, overhang, diameter, modulus, density, mass, tilting = loaded(case)
    length = span + overhang
    shaft = ElasticShaft(length, diameter, modulus, density, (0.0, span), discs=(Disc(length, mass, tilting),))
    assert critical_speeds(shaft, 1)[0] == pytest.approx(critical_speeds(shaft, 1, elements=48)[0], rel=1e-5)


@EACH
@pytest.mark.parametrize("ahead", [(), (1.3,), (1.3, 2.1)])
def test_each_span_has_elements_enough_for_a_hundred_thousandth(case: Case, ahead: tuple[float, ...]) -> None:
    span, overhang, diameter, modulus, density, mass, tilting = loaded(case)
    supports = np.cumsum([0.0, *reversed(ahead), span])
    length = float(supports[-1]) + overhang
    discs = (Disc(length, mass, tilting),)
    shaft = ElasticShaft(length, diameter, modulus, density, tuple(supports.tolist()), discs=discs)
    finer = critical_speeds(shaft, 1, elements=96)[0]
    assert overhung_critical_speed(*loaded(case), spans_ahead=ahead) == pytest.approx(finer, rel=1e-5)


def test_a_bearing_more_raises_the_critical_speed() -> None:
    two, three = (
        critical_speeds(ElasticShaft(2.0, 0.04, 193e9, 8000.0, places), 1)[0]
        for places in ((0.0, 2.0), (0.0, 1.0, 2.0))
    )
    assert three == pytest.approx(4.0 * two, rel=1e-3)


@EACH
def test_a_span_ahead_holds_the_shaft_and_bearings_that_give_let_it_go(case: Case) -> None:
    alone = overhung_critical_speed(*loaded(case))
    ahead = [overhung_critical_speed(*loaded(case), spans_ahead=(share * case[0],)) for share in (1.0, 0.5, 0.2)]
    assert alone < ahead[0] < ahead[1] < ahead[2]
    gives = [overhung_critical_speed(*loaded(case), support_stiffness=10.0**power) for power in (6, 7, 8, 12)]
    assert gives[0] < gives[1] < gives[2] < alone
    assert gives[3] == pytest.approx(alone, rel=1e-4)


def test_spans_ahead_are_counted_from_the_propeller_forward() -> None:
    """The bearing next ahead matters more than the one beyond it."""
    short_next, long_next = (
        overhung_critical_speed(*loaded(CASES[0]), spans_ahead=spans) for spans in ((0.4, 1.5), (1.5, 0.4))
    )
    assert short_next > long_next


def test_a_tilting_inertia_far_below_zero_leaves_the_shaft_its_other_modes() -> None:
    """The limit is a propeller that cannot tilt: still finite, and no lower than without the effect."""
    arguments = loaded(CASES[0])
    strong, stronger = (overhung_critical_speed(*arguments[:-1], tilting) for tilting in (-10.0, -1e6))
    assert arguments[-1] < 1.0
    assert overhung_critical_speed(*arguments) < strong < inf
    assert stronger == pytest.approx(strong, rel=0.05)


def test_the_gyroscopic_effect_of_forward_whirl_raises_it() -> None:
    """A disc's J_d - J_p is negative."""
    arguments = loaded(CASES[0])
    wheel = propeller_in_water(14.0, 14.0 * 0.15**2)
    forward = float(whirling_inertia(wheel, "forward synchronous"))
    assert forward < 0.0
    assert overhung_critical_speed(*arguments[:-1], forward) > overhung_critical_speed(*arguments)


@pytest.mark.parametrize("apart", [3e-16, 1e-12, 1e-9, 1e-6, 9e-5])
def test_places_that_differ_by_rounding_are_one_place(apart: float) -> None:
    """Of the length; the two halves of a disc on either side of a bearing, and a bearing at the very end."""

    def speeds(gap: float) -> Array:
        wheel = (Disc(1.0, 10.0, 0.1), Disc(1.0 + gap, 10.0, 0.1), Disc(1.5 + gap, 5.0, 0.2))
        return critical_speeds(ElasticShaft(2.0, 0.04, 193e9, 8000.0, (0.0, 1.5, 2.0 - gap), discs=wheel), 2)

    assert speeds(2.0 * apart) == pytest.approx(speeds(0.0), rel=2e-4)


def test_places_a_little_further_apart_are_two() -> None:
    """Just beyond the share that counts as one place nothing jumps."""
    below, above = (
        critical_speeds(ElasticShaft(2.0, 0.04, 193e9, 8000.0, (0.0, 2.0 * (1.0 - gap))), 1)[0] for gap in (9e-5, 11e-5)
    )
    assert above == pytest.approx(below, rel=5e-4)


def test_there_are_no_more_critical_speeds_than_motions() -> None:
    shaft = ElasticShaft(1.0, 0.03, 193e9, 8000.0, (0.0, 1.0))
    found = critical_speeds(shaft, 9, elements=2)
    assert np.isfinite(found[:4]).all()
    assert found[-1] == inf


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"supports": (0.0,)}, "hold the shaft"),
        ({"supports": (0.0, 3.0)}, "lie on the shaft"),
        ({"discs": (Disc(-0.1, 1.0, 0.0),)}, "lie on the shaft"),
        ({"diameter": 0.0}, "diameter"),
        ({"density": -1.0}, "density"),
        ({"support_stiffness": 0.0}, "support_stiffness"),
    ],
)
def test_a_shaft_that_cannot_be_is_refused(changes: dict[str, object], words: str) -> None:
    fields: dict[str, object] = {
        "length": 2.0,
        "diameter": 0.04,
        "elastic_modulus": 193e9,
        "density": 8e3,
        "supports": (0.0, 2.0),
    }
    with pytest.raises(ValueError, match=words):
        ElasticShaft(**(fields | changes))  # type: ignore[arg-type]
