"""Behaviour of the hull form, its coefficients and the check of dimensions."""

from dataclasses import replace

import numpy as np
import pytest

from engine.constants import FOOT, LONG_TON
from engine.hull import wetted_surface
from engine.hull.appendages import APPENDAGE_KINDS, combine_appendages
from engine.hull.coefficients import (
    KINDS,
    reconcile_coefficients,
    typical,
)
from engine.hull.dimension_check import Diagnosis, check_dimensions
from engine.hull.form import HullForm

SEA = 1025.0
LAUNCH = HullForm(
    waterline_length=12.0,
    waterline_beam=3.333,
    draft=0.6,
    volume=8.78,
    midship_coefficient=0.65,
    waterplane_coefficient=0.70,
    lcb_percent=-2.0,
)


def test_volume_is_the_product_of_the_coefficients_and_dimensions() -> None:
    box = LAUNCH.waterline_length * LAUNCH.waterline_beam * LAUNCH.draft
    assert LAUNCH.prismatic_coefficient * LAUNCH.midship_coefficient * box == pytest.approx(LAUNCH.volume, rel=1e-12)
    assert LAUNCH.midship_area * LAUNCH.waterline_length * LAUNCH.prismatic_coefficient == pytest.approx(8.78)


def test_trim_by_the_stern_deepens_the_stern_and_leaves_the_mean_draft() -> None:
    trimmed = replace(LAUNCH, trim=0.2)
    assert (trimmed.draft_forward, trimmed.draft_aft) == pytest.approx((0.5, 0.7))
    assert trimmed.block_coefficient == LAUNCH.block_coefficient


def test_some_of_many_hulls_are_each_as_if_alone() -> None:
    """What the whole row has worked out already does not go with some of it."""
    lengths, drafts = np.array([[10.0], [12.0], [14.0]]), np.array([[0.55], [0.6], [0.7]])
    many = replace(LAUNCH, waterline_length=lengths, draft=drafts, keel_draft=None)
    assert np.shape(many.slenderness) == np.shape(many.prismatic_coefficient) == (3, 1)
    some = many.rows(np.array([2, 0, 2]))
    for row, place in enumerate((2, 0, 2)):
        alone = replace(LAUNCH, waterline_length=lengths[place, 0], draft=drafts[place, 0])
        for name in ("slenderness", "prismatic_coefficient", "beam_draft_ratio", "volume", "waterplane_area"):
            assert np.broadcast_to(getattr(some, name), (3, 1))[row, 0] == getattr(alone, name), name


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"waterline_length": 0.0}, "waterline length must be greater"),
        ({"draft": np.array([0.6, -0.1])}, "draft must be greater"),
        ({"volume": -1.0}, "volume must be greater"),
        ({"trim": 1.3}, "draft forward must be greater"),
        ({"midship_coefficient": 1.01}, "midship coefficient cannot exceed 1"),
        ({"transom_area": -0.1}, "transom area must not be negative"),
        ({"half_entrance_angle_deg": 90.0}, "less than 90 degrees"),
        ({"wetted_surface": 0.0}, "wetted surface must be greater"),
        ({"volume": 16.0}, "does not fit"),
    ],
)
def test_an_impossible_form_is_refused_by_name(changes, message) -> None:
    with pytest.raises(ValueError, match=message):
        replace(LAUNCH, **changes)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_boat_has_ordered_and_consistent_ranges(kind) -> None:
    form = typical(kind)
    for name in ("prismatic", "midship", "waterplane", "lcb_percent", "half_entrance_angle_deg"):
        one = getattr(form, name)
        assert one.low < one.middle < one.high, name
    assert form.block.contains(form.prismatic.middle * form.midship.middle)
    assert form.status.startswith("from memory")


def test_an_unknown_kind_of_boat_is_refused_naming_the_nearest() -> None:
    with pytest.raises(ValueError, match="Did you mean 'tug'"):
        typical("tugg")


class TestReconciledCoefficients:
    usual = typical("trawler yacht")

    @pytest.mark.parametrize("block", [0.30, 0.44, 0.4758, 0.55])
    def test_product_is_always_the_block_coefficient(self, block) -> None:
        pair = reconcile_coefficients(block, self.usual)
        assert pair.prismatic * pair.midship == pytest.approx(block, rel=1e-12)

    def test_usual_block_gives_the_usual_pair(self) -> None:
        pair = reconcile_coefficients(self.usual.prismatic.middle * self.usual.midship.middle, self.usual)
        assert (pair.prismatic, pair.midship) == pytest.approx((0.61, 0.78))

    def test_the_less_certain_coefficient_takes_the_larger_share(self) -> None:
        pair = reconcile_coefficients(0.44, self.usual)
        moved_prismatic, moved_midship = np.log(pair.prismatic / 0.61), np.log(pair.midship / 0.78)
        expected = (np.log(0.64 / 0.58) / np.log(0.85 / 0.70)) ** 2
        assert moved_prismatic / moved_midship == pytest.approx(expected, rel=1e-9)

    def test_a_given_coefficient_is_kept_and_the_other_follows(self) -> None:
        assert reconcile_coefficients(0.45, self.usual, prismatic=0.60).midship == pytest.approx(0.75)
        assert reconcile_coefficients(0.45, self.usual, midship=0.75).prismatic == pytest.approx(0.60)

    @pytest.mark.parametrize("name", ["prismatic", "midship"])
    def test_a_given_coefficient_of_nothing_is_refused_by_name(self, name: str) -> None:
        with pytest.raises(ValueError, match=name):
            reconcile_coefficients(0.45, self.usual, **{name: 0.0})

    def test_two_given_coefficients_are_both_kept(self) -> None:
        pair = reconcile_coefficients(0.45, self.usual, prismatic=0.62, midship=0.80)
        assert (pair.prismatic, pair.midship) == (0.62, 0.80)

    def test_a_fleet_is_judged_boat_by_boat(self) -> None:
        pair = reconcile_coefficients(np.array([0.25, 0.4758]), self.usual)
        assert pair.midship_is_usual.tolist() == [False, True]


class TestCheckOfDimensions:
    """A trawler yacht of 12 m; 21 t with a hull draft of 1.05 m is consistent."""

    usual = typical("trawler yacht")

    def diagnoses(self, length=12.0, beam=3.7, draft=1.05, mass=21000.0, **coefficients) -> list[Diagnosis]:
        findings = check_dimensions(length, beam, draft, mass, SEA, self.usual, **coefficients)
        return [finding.diagnosis for finding in findings]

    def test_a_consistent_boat_has_no_findings(self) -> None:
        assert self.diagnoses() == []
        assert self.diagnoses(prismatic=0.60, midship=0.73) == []

    def test_what_a_fin_keel_displaces_is_left_out_of_the_block(self) -> None:
        weight = {"mass": 21000.0 + 2.0 * SEA, "prismatic": 0.60, "midship": 0.73}
        assert self.diagnoses(**weight, keel_volume=2.0) == []
        assert self.diagnoses(**weight, keel_volume=0.0) == [Diagnosis.COEFFICIENTS_DISAGREE]
        with pytest.raises(ValueError, match="canoe body"):
            self.diagnoses(mass=SEA, keel_volume=1.0)

    def test_draft_to_the_bottom_of_the_keel_is_recognised_and_a_hull_draft_suggested(self) -> None:
        (finding,) = check_dimensions(12.0, 3.7, 1.8, 21000.0, SEA, self.usual)
        assert finding.diagnosis is Diagnosis.DRAFT_TO_KEEL
        assert finding.value == pytest.approx(21000.0 / SEA / (12.0 * 3.7 * 1.8))
        assert "bottom of the keel" in finding.sentence
        assert "near 54 % of what is given" in finding.sentence  # 0.97 of 1.8 m

    @pytest.mark.parametrize(
        ("keel_draft", "diagnosis"),
        [(1.8, Diagnosis.DRAFT_TO_KEEL), (1.9, Diagnosis.DRAFT_TO_KEEL), (2.4, Diagnosis.BLOCK_UNUSUAL)],
    )
    def test_a_draft_that_is_told_apart_from_the_keels_is_not_taken_for_it(
        self, keel_draft: float, diagnosis: Diagnosis
    ) -> None:
        assert self.diagnoses(draft=1.8, keel_draft=keel_draft) == [diagnosis]

    def test_a_boat_too_light_for_her_length_is_told_so_and_not_about_her_keel(self) -> None:
        found = self.diagnoses(mass=12000.0)
        assert Diagnosis.DISPLACEMENT_TOO_SMALL in found
        assert Diagnosis.DRAFT_TO_KEEL not in found

    def test_a_boat_too_heavy_for_her_length_is_told_so(self) -> None:
        assert Diagnosis.DISPLACEMENT_TOO_LARGE in self.diagnoses(mass=32000.0)

    def test_a_full_block_at_a_usual_weight_means_dimensions_too_small(self) -> None:
        assert self.diagnoses(draft=0.7) == [Diagnosis.DIMENSIONS_TOO_SMALL]

    def test_a_block_just_outside_its_range_is_only_unusual(self) -> None:
        assert self.diagnoses(draft=1.12) == [Diagnosis.BLOCK_UNUSUAL]

    @pytest.mark.parametrize(("block", "found"), [(0.334, 0), (0.326, 0), (0.32, 1), (0.464, 0), (0.47, 1)])
    def test_what_would_read_as_inside_its_range_is_not_called_unusual(self, block: float, found: int) -> None:
        """A launch's block is usually 0.33 to 0.46: 'comes out at 0.33; 0.33 to 0.46 is usual' says nothing."""
        mass = block * 11.2 * 3.1 * 0.65 * SEA
        findings = check_dimensions(11.2, 3.1, 0.65, mass, SEA, typical("full-keel launch"))
        assert sum(finding.quantity == "block coefficient" for finding in findings) == found

    def test_more_than_the_box_holds_is_not_put_down_to_coefficients_that_nobody_gave(self) -> None:
        dimensions = (12.0, 3.7, 0.4, 21000.0, SEA, self.usual)
        assert "no hull fills all of it" in check_dimensions(*dimensions)[0].sentence
        assert "with these coefficients" in check_dimensions(*dimensions, midship=0.9)[0].sentence

    def test_coefficients_that_do_not_give_the_volume_are_a_contradiction(self) -> None:
        (finding,) = check_dimensions(12.0, 3.7, 1.05, 21000.0, SEA, self.usual, prismatic=0.60, midship=0.85)
        assert finding.diagnosis is Diagnosis.COEFFICIENTS_DISAGREE
        assert finding.value == pytest.approx(0.8618, abs=1e-3)

    def test_more_displacement_than_the_hull_has_room_for_is_impossible(self) -> None:
        findings = check_dimensions(12.0, 3.7, 0.4, 21000.0, SEA, self.usual)
        assert findings[0].diagnosis is Diagnosis.IMPOSSIBLE

    def test_a_slender_boat_has_an_unusual_length_beam_ratio(self) -> None:
        assert self.diagnoses(beam=3.0, draft=1.25) == [Diagnosis.LENGTH_BEAM_UNUSUAL]

    @pytest.mark.parametrize(
        ("beam", "mass", "said"),
        [
            (3.0, 21000.0, "She is narrow for her length: look again at beam and length."),
            (4.7, 21000.0, "She is wide for her length: look again at beam and length."),
            (3.7, 9000.0, "She is light for her length: look again at weight and length."),
            (3.7, 42000.0, "She is heavy for her length: look again at weight and length."),
        ],
    )
    def test_an_unusual_ratio_says_what_she_is_and_what_to_look_at_again(
        self, beam: float, mass: float, said: str
    ) -> None:
        """That 250 to 400 is usual tells nothing to who does not know the ratio."""
        found = check_dimensions(12.0, beam, 1.2, mass, SEA, self.usual)
        (told,) = [each.sentence for each in found if said in each.sentence]
        assert told.endswith(said)

    def test_displacement_length_limit_is_in_tons_and_feet(self) -> None:
        length = 100.0 * FOOT
        findings = check_dimensions(length, length / 3.2, 3.0, 240.0 * LONG_TON, SEA, self.usual)
        unusual = next(f for f in findings if f.diagnosis is Diagnosis.DISPLACEMENT_LENGTH_UNUSUAL)
        assert (unusual.value, unusual.low, unusual.high) == pytest.approx((240.0, 250.0, 400.0))


class TestWettedSurface:
    def test_all_formulas_agree_within_15_percent_for_a_launch(self) -> None:
        areas = [float(formula(LAUNCH)) for formula in wetted_surface.WETTED_SURFACES.values()]
        assert max(areas) / min(areas) < 1.15

    def test_they_part_company_on_shallow_and_on_deep_hulls_as_their_module_says(self) -> None:
        def spread(kind: str, beam_draft: float) -> float:
            form_of = typical(kind)
            block = form_of.prismatic.middle * form_of.midship.middle
            form = replace(
                LAUNCH,
                draft=LAUNCH.waterline_beam / beam_draft,
                volume=block * LAUNCH.waterline_length * LAUNCH.waterline_beam**2 / beam_draft,
                midship_coefficient=form_of.midship.middle,
                waterplane_coefficient=form_of.waterplane.middle,
            )
            areas = [float(formula(form)) for formula in wetted_surface.WETTED_SURFACES.values()]
            return max(areas) / min(areas) - 1.0

        usual = [spread(kind, ratio) for kind in KINDS for ratio in (4.0, 4.5, 5.0, 5.5)]
        assert (min(usual), max(usual)) == pytest.approx((0.03, 0.14), abs=0.005)
        far = [spread(kind, ratio) for kind in KINDS for ratio in (2.0, 9.0)]
        assert (min(far), max(far)) == pytest.approx((0.23, 0.33), abs=0.01)

    def test_a_box_has_more_wetted_surface_the_longer_it_is(self) -> None:
        lengths = np.array([10.0, 12.0, 14.0])
        areas = wetted_surface.wetted_surface_holtrop(replace(LAUNCH, waterline_length=lengths))
        assert np.all(np.diff(areas) > 0.0)

    def test_formulas_scale_with_the_square_of_size(self) -> None:
        double = replace(
            LAUNCH, waterline_length=24.0, waterline_beam=6.666, draft=1.2, volume=8.0 * float(LAUNCH.volume)
        )
        for name, formula in wetted_surface.WETTED_SURFACES.items():
            assert formula(double) == pytest.approx(4.0 * formula(LAUNCH), rel=1e-12), name


class TestAppendages:
    def test_equivalent_factor_is_weighted_by_area(self) -> None:
        assert combine_appendages([(1.0, 1.5), (3.0, 2.5)]) == pytest.approx((4.0, 2.25))

    def test_no_appendages_have_no_area_and_a_factor_of_one(self) -> None:
        assert combine_appendages([]) == (0.0, 1.0)
        assert combine_appendages([(0.0, 3.0)]) == (0.0, 1.0)

    def test_fleets_broadcast(self) -> None:
        area, factor = combine_appendages([(np.array([0.0, 2.0]), 1.7), (0.0, 3.0)])
        np.testing.assert_allclose(area, [0.0, 2.0])
        np.testing.assert_allclose(factor, [1.0, 1.7])

    def test_default_factor_is_the_middle_of_the_range(self) -> None:
        assert APPENDAGE_KINDS["shafts"].factor == 3.0
        assert all(1.0 < kind.low <= kind.factor <= kind.high for kind in APPENDAGE_KINDS.values())

    def test_a_negative_area_is_refused(self) -> None:
        with pytest.raises(ValueError, match="appendage area"):
            combine_appendages([(-1.0, 1.5)])
