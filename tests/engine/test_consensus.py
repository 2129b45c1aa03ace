"""The methods together: weights by accuracy and distance from the range, and no step anywhere in the curve."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import GRAVITY
from engine.hull.consensus import (
    DOUBT_OF_ANOTHER_KIND,
    SMALLEST_DOUBT,
    applies,
    consensus,
    doubt_outside,
    method_doubt,
    share_outside,
    standing,
    standing_in_words,
)
from engine.hull.form import HullForm
from engine.hull.methods import METHODS
from engine.numeric import Array
from engine.sections.hull import BOAT_KINDS
from engine.water import water

SEA = water("sea", 15.0)
YACHT = HullForm(
    waterline_length=10.0,
    waterline_beam=3.1,
    draft=0.70,
    volume=8.2,
    midship_coefficient=0.69,
    waterplane_coefficient=0.68,
    lcb_percent=-3.0,
    appendage_area=6.0,
    appendage_factor=1.5,
)
SPEED: Array = np.linspace(0.0, 0.90, 181) * np.sqrt(GRAVITY * 10.0)


def with_beam_draft_ratio(ratio: float) -> HullForm:
    """The yacht with another draft, as full below the water."""
    return replace(YACHT, draft=3.1 / ratio, volume=8.2 * 3.1 / ratio / 0.70)


class TestWeights:
    def test_they_add_up_to_one_at_every_speed(self) -> None:
        says = consensus(YACHT, SPEED, SEA).says
        assert sum(say.weight for say in says.values()) == pytest.approx(np.ones_like(SPEED))

    def test_a_method_counts_by_one_over_the_square_of_its_doubt(self) -> None:
        says = consensus(YACHT, SPEED[60:61], SEA).says
        first, second = says["delft_1992"], says["holtrop_1982"]
        ratio = (second.doubt[0] / first.doubt[0]) ** 2
        assert first.weight[0] / second.weight[0] == pytest.approx(ratio, rel=1e-9)

    def test_no_method_is_surer_than_the_floor(self) -> None:
        assert all(np.all(method_doubt(method, YACHT, SPEED) >= SMALLEST_DOUBT) for method in METHODS.values())

    def test_a_hull_further_outside_a_range_makes_the_method_count_for_less(self) -> None:
        near, far = (replace(YACHT, waterline_beam=beam, volume=8.2 * beam / 3.1) for beam in (2.7, 3.4))
        method = METHODS["holtrop_1982"]
        assert np.all(method_doubt(method, far, SPEED[1:]) > method_doubt(method, near, SPEED[1:]))

    def test_the_distance_is_nothing_inside_and_the_logarithm_of_the_ratio_outside(self) -> None:
        limit = next(limit for limit in METHODS["holtrop_1982"].ranges if limit.parameter == "length_beam_ratio")
        inside = replace(YACHT, waterline_beam=10.0 / limit.low)
        assert share_outside(limit, inside, 0.0) == pytest.approx(0.0, abs=1e-12)
        outside = replace(YACHT, waterline_beam=10.0 / (limit.low / 1.2))
        assert share_outside(limit, outside, 0.0) == pytest.approx(np.log(1.2))

    @pytest.mark.parametrize("name", METHODS)
    @pytest.mark.parametrize("kind", BOAT_KINDS)
    def test_what_is_measured_on_sailing_yachts_alone_is_doubted_more_on_others(self, name: str, kind: str) -> None:
        method = METHODS[name]
        own, others = (np.asarray(method_doubt(method, YACHT, SPEED, each)) for each in (None, kind))
        missed = DOUBT_OF_ANOTHER_KIND if "delft" in name and "sailing" not in kind else 0.0
        assert others == pytest.approx(np.hypot(own, missed))
        assert ("made from sailing yachts" in standing_in_words(method, YACHT, kind)) is (missed > 0.0)

    @pytest.mark.parametrize("kind", ["tug", "fishing boat"])
    def test_of_a_tug_a_method_made_from_tugs_and_trawlers_says_most(self, kind: str) -> None:
        """A hull inside the ranges of all the methods but Holtrop's, whose ships are longer for their beam."""
        tug = HullForm(
            waterline_length=13.0,
            waterline_beam=4.1,
            draft=1.4,
            volume=35.0,
            midship_coefficient=0.78,
            waterplane_coefficient=0.78,
            lcb_percent=-2.0,
        )
        speed = np.array([0.30 * np.sqrt(GRAVITY * 13.0)])
        weights = {name: say.weight[0] for name, say in consensus(tug, speed, SEA, kind=kind).says.items()}
        assert max(weights, key=weights.__getitem__) == "van_oortmerssen_1971"

    def test_a_method_alone_has_all_the_weight_and_its_own_curve(self) -> None:
        alone = consensus(YACHT, SPEED, SEA, ("holtrop_1984",))
        assert alone.total == pytest.approx(np.asarray(METHODS["holtrop_1984"].resistance(YACHT, SPEED, SEA).total))


class TestApplying:
    def test_a_hull_a_little_outside_is_still_spoken_of_and_one_far_outside_is_not(self) -> None:
        """Holtrop's sample ends at a length-beam ratio of 3.9."""
        near, far = (replace(YACHT, waterline_beam=10.0 / ratio, volume=8.2) for ratio in (3.5, 3.0))
        method = METHODS["holtrop_1982"]
        speed = SPEED[60]
        assert doubt_outside(method, near, speed) < 0.10 < doubt_outside(method, far, speed)
        assert applies(method, near, speed)
        assert not applies(method, far, speed)

    def test_a_method_that_has_half_faded_does_not_apply(self) -> None:
        assert not applies(METHODS["van_oortmerssen_1971"], with_beam_draft_ratio(4.4), SPEED[60])


class TestNoCliff:
    def test_a_method_that_ends_at_a_speed_has_faded_out_before_it(self) -> None:
        for name in ("van_oortmerssen_1971", "delft_1998", "delft_1992"):
            end = METHODS[name].highest_froude_number
            says = consensus(YACHT, SPEED, SEA).says[name]
            froude = np.asarray(YACHT.froude_number(SPEED))
            assert np.all(says.weight[froude >= end] == 0.0)
            assert says.weight[np.searchsorted(froude, end) - 1] < 0.05
            assert np.all(np.isfinite(says.total[says.weight > 0.0]))

    def test_it_stands_whole_inside_and_half_at_half_way_out(self) -> None:
        """Beam-draft ratio 4.0 is the end of the range, 4.5 where nothing is left, at a speed far from any end."""
        method, speed = METHODS["van_oortmerssen_1971"], SPEED[50]
        found = [standing(method, with_beam_draft_ratio(ratio), speed) for ratio in (3.0, 4.0, 4.25, 4.5)]
        assert found == pytest.approx([1.0, 1.0, 0.5, 0.0], abs=1e-9)

    def test_the_curve_has_no_step_where_methods_leave_it(self) -> None:
        """Halving the step of speed halves the largest change of the curve's slope in logarithms, as no step would."""
        changes = []
        for count in (400, 800):
            froude = np.linspace(0.15, 0.85, count)
            total = consensus(YACHT, froude * np.sqrt(GRAVITY * 10.0), SEA).total
            changes.append(float(np.max(np.abs(np.diff(np.log(total))))))
        assert changes[1] < 0.55 * changes[0]

    @pytest.mark.parametrize("froude", [0.25, 0.35, 0.42])
    def test_nothing_jumps_as_the_beam_draft_ratio_leaves_the_range_of_van_oortmerssen(self, froude: float) -> None:
        speed = np.array([froude * np.sqrt(GRAVITY * 10.0)])
        ratios = np.linspace(3.8, 4.8, 101)
        per_weight = np.array(
            [consensus(form, speed, SEA).total[0] / form.volume for form in map(with_beam_draft_ratio, ratios)]
        )
        assert np.max(np.abs(np.diff(np.log(per_weight)))) < 0.02

    def test_beyond_four_and_a_half_the_method_of_van_oortmerssen_is_silent(self) -> None:
        says = consensus(with_beam_draft_ratio(4.6), SPEED[40:80], SEA).says["van_oortmerssen_1971"]
        assert np.all(says.weight == 0.0)
        assert standing(METHODS["van_oortmerssen_1971"], with_beam_draft_ratio(4.6), SPEED[40]) == 0.0


class TestWords:
    def test_a_hull_inside_is_told_which_end_is_nearest(self) -> None:
        """ln(4.96/4.34)/ln(8.5/4.34) is 0.20; length-beam ratio and waterplane come next, with 0.26."""
        words = standing_in_words(METHODS["delft_1992"], YACHT)
        assert words == "inside all 6 ranges; nearest an end with length over cube root of volume 4.96 (4.34 to 8.5)"

    def test_a_hull_outside_is_told_what_puts_her_there(self) -> None:
        words = standing_in_words(METHODS["holtrop_1982"], YACHT)
        assert words.startswith("outside:")
        assert "length-beam ratio 3.23, range 3.9 to 6.3" in words
