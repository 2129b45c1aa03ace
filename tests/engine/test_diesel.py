"""Behaviour of the diesel: full-load curve, governor, load, duty and cruise band."""

import numpy as np
import pytest

from engine.constants import RPM, TWO_PI
from engine.findings import Verdict
from engine.machinery.diesel import (
    DUTY_CLASSES,
    ENGINE_KINDS,
    DieselEngine,
    EngineKind,
    check_engine,
    check_full_load,
    cruise_speed_limit,
    duty_class_for,
    full_load_power,
    judge_cruise_load,
    torque_points_from_power,
)

RATED = 3000 * RPM
ENGINE = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="direct injection")


class TestFullLoad:
    @pytest.mark.parametrize("kind", ENGINE_KINDS)
    def test_every_kind_gives_rated_power_at_rated_speed_and_never_more_below_it(self, kind: EngineKind) -> None:
        engine = DieselEngine(rated_power=40e3, rated_speed=RATED, kind=kind)
        assert full_load_power(engine, RATED) == pytest.approx(40e3, rel=1e-9)
        below = np.asarray(full_load_power(engine, np.linspace(0.0, RATED, 200)))
        # Torque is a straight line between published points, so a shape flat in power bulges by 0.3 % between them.
        assert np.all(below <= 40e3 * 1.003)
        assert np.all(np.diff(below[below < 0.99 * 40e3]) > 0.0)

    def test_the_governor_cuts_to_nothing_eight_percent_over_rated(self) -> None:
        speeds = RATED * np.array([1.0, 1.04, 1.08, 1.2])
        assert np.asarray(full_load_power(ENGINE, speeds)) == pytest.approx([40e3, 0.5 * 1.04 * 40e3, 0.0, 0.0])

    def test_a_given_governed_speed_comes_first(self) -> None:
        engine = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="turbocharged", governed_speed=1.05 * RATED)
        assert full_load_power(engine, 1.025 * RATED) == pytest.approx(0.5 * 1.025 * 40e3)
        assert full_load_power(engine, 1.06 * RATED) == 0.0

    def test_a_governor_at_rated_speed_cuts_at_once(self) -> None:
        engine = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="turbocharged", governed_speed=RATED)
        assert full_load_power(engine, RATED) == pytest.approx(40e3)
        assert full_load_power(engine, 1.001 * RATED) == 0.0

    def test_its_own_torque_points_come_first(self) -> None:
        points = ((1000 * RPM, 100.0), (2000 * RPM, 150.0), (3000 * RPM, 127.324))
        engine = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="turbocharged", torque_curve=points)
        assert full_load_power(engine, 1500 * RPM) == pytest.approx(125.0 * TWO_PI * 1500 * RPM)
        assert check_engine(engine) == ()

    def test_power_points_become_torque_points(self) -> None:
        points = torque_points_from_power(((1000 * RPM, 10e3), (3000 * RPM, 40e3)))
        engine = DieselEngine(rated_power=40e3, rated_speed=RATED, kind="turbocharged", torque_curve=points)
        assert np.asarray(full_load_power(engine, np.array([1000, 3000]) * RPM)) == pytest.approx([10e3, 40e3])

    def test_power_at_the_propeller_shaft_is_brought_back_to_the_flywheel(self) -> None:
        engine = DieselEngine(38.8e3, RATED, "direct injection", power_basis="propeller shaft")
        assert engine.crankshaft_rated_power == pytest.approx(40e3)
        assert full_load_power(engine, 2000 * RPM) == pytest.approx(full_load_power(ENGINE, 2000 * RPM))
        points = ((25.0, 100.0), (50.0, 97.0))
        own = DieselEngine(38.8e3, RATED, "direct injection", "propeller shaft", torque_curve=points)
        assert full_load_power(own, 50.0) == pytest.approx(TWO_PI * 50.0 * 100.0)

    def test_interpolation_stays_between_its_points(self) -> None:
        shape = ENGINE.shape
        x = np.linspace(shape.full_load_speed_fraction[0], 1.0, 300)
        torque = np.asarray(full_load_power(ENGINE, x * RATED)) / (TWO_PI * x * RATED) / ENGINE.rated_torque
        assert torque.min() >= shape.full_load_torque_fraction.min() - 1e-12
        assert torque.max() <= shape.full_load_torque_fraction.max() + 1e-12

    def test_below_its_first_point_power_falls_off_and_it_says_so(self) -> None:
        first = float(ENGINE.shape.full_load_speed_fraction[0]) * RATED
        assert full_load_power(ENGINE, 0.5 * first) == pytest.approx(0.25 * np.asarray(full_load_power(ENGINE, first)))
        assert check_full_load(ENGINE, first * 1.001) == ()
        assert "straight line" in check_full_load(ENGINE, 0.5 * first)[0].sentence()

    def test_a_curve_of_its_own_that_reaches_past_1_08_of_rated_speed_is_not_cut_before_its_end(self) -> None:
        points = ((1000 * RPM, 110.0), (3000 * RPM, 127.3), (3300 * RPM, 60.0), (3390 * RPM, 20.0))
        engine = DieselEngine(40e3, RATED, "turbocharged", torque_curve=points)
        assert engine.no_load_speed == pytest.approx(3390 * RPM)
        assert full_load_power(engine, 3389.999 * RPM) == pytest.approx(20.0 * TWO_PI * 3390 * RPM, rel=1e-4)

    def test_below_idle_there_is_nothing(self) -> None:
        engine = DieselEngine(40e3, RATED, "direct injection", idle_speed=800 * RPM)
        assert full_load_power(engine, 790 * RPM) == 0.0
        assert full_load_power(engine, 810 * RPM) > 0.0

    def test_derating_scales_it_and_cannot_add_power(self) -> None:
        rates = np.array([[0.9], [1.0]])
        found = np.asarray(full_load_power(ENGINE, np.array([2000, 3000]) * RPM, derating=rates))
        assert found.shape == (2, 2)
        assert found[0] == pytest.approx(0.9 * found[1])
        with pytest.raises(ValueError, match="derating"):
            full_load_power(ENGINE, RATED, derating=1.1)

    def test_a_missing_speed_stays_missing(self) -> None:
        assert np.isnan(full_load_power(ENGINE, np.nan))


class TestDataSheet:
    @pytest.mark.parametrize(
        ("changes", "named"),
        [
            ({"rated_power": 0.0}, "rated_power"),
            ({"kind": "steam"}, "kind"),
            ({"power_basis": "guess"}, "power_basis"),
            ({"torque_curve": ((10.0, 100.0),)}, "two points"),
            ({"torque_curve": ((20.0, 100.0), (10.0, 100.0))}, "rising"),
            ({"propeller_fuel_curve": ((20.0, 0.0), (30.0, 1e-3))}, "propeller_fuel_curve"),
        ],
    )
    def test_nonsense_is_refused_by_name(self, changes: dict[str, object], named: str) -> None:
        arguments: dict[str, object] = {"rated_power": 40e3, "rated_speed": RATED, "kind": "turbocharged", **changes}
        with pytest.raises(ValueError, match=named):
            DieselEngine(**arguments)  # type: ignore[arg-type]

    def test_a_curve_that_contradicts_the_rated_power_is_reported(self) -> None:
        points = ((1000 * RPM, 100.0), (3000 * RPM, 110.0))
        engine = DieselEngine(40e3, RATED, "turbocharged", torque_curve=points)
        assert check_engine(engine) == ("The torque curve gives 86 % of the rated power at rated speed.",)

    @pytest.mark.parametrize(("share", "count"), [(0.965, 1), (0.975, 0), (1.025, 0), (1.035, 1)])
    def test_a_torque_curve_may_miss_the_rated_power_by_three_per_cent_either_way(
        self, share: float, count: int
    ) -> None:
        torque = share * 40e3 / (TWO_PI * RATED)
        points = ((1000 * RPM, 100.0), (3000 * RPM, torque))
        assert len(check_engine(DieselEngine(40e3, RATED, "turbocharged", torque_curve=points))) == count

    def test_a_governor_under_rated_speed_and_a_short_curve_are_reported(self) -> None:
        points = ((1000 * RPM, 100.0), (2500 * RPM, 110.0))
        engine = DieselEngine(40e3, RATED, "turbocharged", torque_curve=points, governed_speed=0.9 * RATED)
        assert len(check_engine(engine)) == 2

    def test_an_idle_speed_is_reported_where_it_is_not_under_the_rated_one(self) -> None:
        def idling(speed: float) -> DieselEngine:
            return DieselEngine(40e3, RATED, "turbocharged", idle_speed=speed)

        assert check_engine(idling(800 * RPM)) == ()
        assert check_engine(idling(RATED)) == ("The idle speed is not under the rated speed.",)


class TestLoad:
    @pytest.mark.parametrize(
        ("load", "verdict"),
        [
            (0.15, Verdict.LOOK),
            (0.25, Verdict.LOOK),
            (0.5, Verdict.FITS),
            (0.8, Verdict.FITS),
            (0.9, Verdict.LOOK),
            (1.05, Verdict.STOP),
        ],
    )
    def test_cruise_load_is_judged_at_both_ends(self, load: float, verdict: Verdict) -> None:
        assert judge_cruise_load(load).verdict is verdict

    @pytest.mark.parametrize(("load", "verdict"), [(1.004, Verdict.LOOK), (0.853, Verdict.FITS), (0.697, Verdict.FITS)])
    def test_a_load_is_judged_as_it_is_told(self, load: float, verdict: Verdict) -> None:
        """'85 %; stay at or under 85 %' and '70 %, under the 70 to 85 %' contradict themselves."""
        finding = judge_cruise_load(load)
        assert finding.verdict is verdict
        assert "under the 70" not in finding.text

    @pytest.mark.parametrize(
        ("hours", "factor", "name"),
        [
            (200, 0.3, "pleasure"),
            (200, 0.45, "medium"),
            (700, 0.3, "light"),
            (2500, 0.3, "heavy"),
            (4000, 0.3, "continuous"),
            (100, 0.8, "continuous"),
        ],
    )
    def test_the_lightest_duty_class_that_allows_both_is_chosen(self, hours: float, factor: float, name: str) -> None:
        assert duty_class_for(hours, factor).name == name

    def test_duty_classes_run_from_hard_to_light(self) -> None:
        hours = [duty.hours_per_year for duty in DUTY_CLASSES[1:]]
        assert hours == sorted(hours, key=lambda value: -(value or 0.0))
        assert DUTY_CLASSES[0].hours_per_year is None

    def test_cruise_speed_steps_down_by_rated_speed(self) -> None:
        rated = np.array([2400, 2800, 3000, 3600, 4800, 5200]) * RPM
        limit = np.asarray(cruise_speed_limit(rated)) / RPM
        assert limit[:5] == pytest.approx([2200, 2600, 2700, 3200, 4300])
        assert np.isnan(limit[5])
        assert cruise_speed_limit(2400 * RPM) == pytest.approx(2200 * RPM)
