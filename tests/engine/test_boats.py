"""The plausible boats: what differs between them, how their resistance is drawn, and that it is the same every time."""

from collections.abc import Callable

import numpy as np
import pytest

from engine.assessment import assess
from engine.constants import GRAVITY, KNOT
from engine.fleet import Fleet, draw
from engine.hull.consensus import consensus
from engine.hull.methods import METHODS
from engine.numeric import Array
from engine.plan import Plan, with_value
from engine.stages.boats import Boats, boats_of
from engine.stages.resistance import bare_resistance, calm_resistance, resistance_curve, steps_to_reach
from engine.stages.unknowns import COLUMN, UNKNOWNS, as_described, between, scores_of
from engine.water import water

Change = Callable[[Plan, dict[str, str]], Plan]
SEA = water("sea", 15.0)


@pytest.fixture(scope="module")
def fleet() -> Fleet:
    return draw(1024, len(UNKNOWNS))


def boats(plan: Plan, fleet: Fleet) -> Boats:
    return boats_of(plan, SEA, scores_of(fleet.scores))


def tenths(values: object) -> tuple[float, float, float]:
    low, middle, high = np.quantile(np.asarray(values, dtype=float), [0.1, 0.5, 0.9])
    return float(low), float(middle), float(high)


class TestWhatDiffers:
    def test_what_the_owner_is_unsure_of_spreads_as_he_says(self, launch: Plan, change: Change, fleet: Fleet) -> None:
        unsure = change(launch, {"hull.displacement": "9 t (8.6 t to 10 t)"})
        assert tenths(boats(unsure, fleet).mass) == pytest.approx((8600.0, 9000.0, 10000.0), rel=2e-3)

    def test_coefficients_not_given_spread_over_what_is_usual_and_make_the_volume(
        self, launch: Plan, fleet: Fleet
    ) -> None:
        form = boats(launch, fleet).form
        low, _, high = tenths(form.prismatic_coefficient)
        assert 0.53 < low < 0.57 < high < 0.62
        product = np.asarray(form.prismatic_coefficient) * np.asarray(form.midship_coefficient)
        assert product == pytest.approx(np.asarray(form.block_coefficient), rel=1e-12)

    def test_a_given_coefficient_differs_by_less_than_one_that_is_not(
        self, launch: Plan, change: Change, fleet: Fleet
    ) -> None:
        given = change(launch, {"hull.midship": "0.68"})
        widths = [np.ptp(tenths(boats(plan, fleet).form.midship_coefficient)) for plan in (given, launch)]
        assert widths[0] < widths[1]

    def test_no_boat_is_fuller_than_a_hull_can_be(self, launch: Plan, change: Change, fleet: Fleet) -> None:
        full = change(launch, {"hull.displacement": "15 t (14 t to 18 t)", "hull.kind": "tug"})
        form = boats(full, fleet).form
        assert np.all(np.asarray(form.prismatic_coefficient) <= 0.97 + 1e-9)
        assert np.all(np.asarray(form.midship_coefficient) <= 0.97 + 1e-9)

    def test_the_boat_as_described_is_the_one_with_nothing_unknown(self, launch: Plan) -> None:
        described = boats_of(launch, SEA, as_described)
        assert described.mass == 9000.0
        assert described.propeller_pitch == described.engine_output == described.tachometer == 1.0

    def test_low_and_high_are_the_tenth_and_the_ninetieth_percentile(self, fleet: Fleet) -> None:
        values = between(fleet.scores[:, 0], 10.0, 7.0, 15.0)
        assert tenths(values) == pytest.approx((7.0, 10.0, 15.0), rel=2e-3)

    def test_every_unknown_has_its_own_column_an_action_and_a_field(self) -> None:
        from engine.plan import SECTIONS
        from engine.stages.unknowns import LOG_IT

        assert len(COLUMN) == len(UNKNOWNS)
        for unknown in UNKNOWNS:
            section, name = unknown.path.split(".")
            assert name in SECTIONS[section].__dataclass_fields__, unknown.path
            assert unknown.action.endswith(".") or unknown.action == LOG_IT


class TestResistance:
    SPEED: Array = np.linspace(0.0, 0.55, 40) * np.sqrt(GRAVITY * 11.2)

    def test_the_middle_of_the_fleet_lies_near_the_consensus(self, launch: Plan, fleet: Fleet) -> None:
        described = boats_of(launch, SEA, as_described).form
        opinion = consensus(described, self.SPEED, SEA)
        drawn = bare_resistance(boats(launch, fleet), described, opinion, SEA)
        together = opinion.total
        assert np.median(drawn, axis=0)[1:] == pytest.approx(together[1:], rel=0.08)

    def test_no_boat_has_a_step_or_a_gap_in_her_curve(self, launch: Plan, fleet: Fleet) -> None:
        described = boats_of(launch, SEA, as_described).form
        speed = np.linspace(0.15, 0.70, 400) * np.sqrt(GRAVITY * 11.2)
        drawn = bare_resistance(boats(launch, fleet), described, consensus(described, speed, SEA), SEA)
        assert np.all(np.isfinite(drawn))
        assert np.max(np.abs(np.diff(np.log(drawn), axis=1))) < 0.08

    def test_a_method_chosen_alone_is_drawn_for_all_with_its_own_doubt(self, launch: Plan, fleet: Fleet) -> None:
        described = boats_of(launch, SEA, as_described).form
        scores = np.zeros_like(fleet.scores)
        scores[:, COLUMN["method"]] = fleet.scores[:, COLUMN["method"]]
        alike = boats_of(launch, SEA, scores_of(scores))
        alone = consensus(described, self.SPEED, SEA, ("holtrop_1982",))
        drawn = bare_resistance(alike, described, alone, SEA)
        own = np.asarray(METHODS["holtrop_1982"].resistance(described, self.SPEED, SEA).total)
        assert drawn == pytest.approx(np.broadcast_to(own, drawn.shape), rel=1e-9)

    def test_months_without_cleaning_and_a_head_sea_add_and_shallow_water_adds(
        self, launch: Plan, change: Change, fleet: Fleet
    ) -> None:
        described = boats_of(launch, SEA, as_described).form
        calm = {"power.sea_margin": "0 %"}
        cruise = 6.0 * KNOT
        service = {}
        for name, more in (
            ("clean", {}),
            ("foul", {"power.time_since_cleaning": "6 months"}),
            ("head sea", {"power.wave_height": "0.4 m"}),
            ("shallow", {"power.water_depth": "2.2 m"}),
            ("wind", {"power.head_wind": "15 kn"}),
        ):
            plan = change(launch, calm | more)
            calm_water = calm_resistance(plan, fleet, boats(plan, fleet), described, SEA, steps_to_reach(cruise))
            curve = resistance_curve(plan, fleet, boats(plan, fleet), described, SEA, calm_water)
            service[name] = float(np.interp(cruise, curve.speed, curve.median_service))
        assert all(service[name] > 1.02 * service["clean"] for name in service if name != "clean")


class TestTheSameEveryTime:
    def test_two_assessments_agree_to_the_last_digit(self, launch: Plan) -> None:
        first, second = (assess(launch).outcomes["power"].answers for _ in range(2))
        assert first.cruise_shaft_power_kw == second.cruise_shaft_power_kw
        assert first.curve == second.curve

    def test_more_doubt_makes_a_wider_band(self, launch: Plan, change: Change) -> None:
        wide = change(launch, {"hull.displacement": "9 t (6 t to 12.5 t)"})
        bands = [assess(plan).outcomes["power"].answers.cruise_shaft_power_kw for plan in (launch, wide)]
        assert np.ptp((bands[1].low, bands[1].high)) > 1.15 * np.ptp((bands[0].low, bands[0].high))

    def test_without_a_place_for_the_propeller_the_boats_still_have_forms(self, launch: Plan) -> None:
        outcomes = assess(with_value(launch, "hull.propeller_place", None)).outcomes
        assert outcomes["hull"].answers.wetted_surface_m2.is_known
        assert outcomes["power"].answers is None
