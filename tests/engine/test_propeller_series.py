"""The propeller series by name: what each describes, what it says outside, and how the three lie to each other."""

import numpy as np
import pytest

from engine.data import table
from engine.propeller.geometry import (
    developed_area_ratio,
    developed_ratio_from_mean_width,
    expanded_area_ratio,
    mean_width_ratio_from_developed,
)
from engine.propeller.series import SERIES, corrected_family, usual_series
from engine.propeller.wageningen import WAGENINGEN_B, reynolds_correction

GAWN, KCA = SERIES["gawn"], SERIES["kca"]


def quantities(records):
    return [record.quantity for record in records]


def test_every_series_goes_by_the_name_in_its_table():
    assert list(SERIES) == ["wageningen_b", "gawn", "kca"]
    assert all(series.name == name == table(name)["name"] for name, series in SERIES.items())
    assert SERIES["wageningen_b"] is WAGENINGEN_B


@pytest.mark.parametrize(("name", "thrust_terms", "torque_terms"), [("gawn", 39, 47), ("kca", 16, 17)])
def test_no_term_is_missing(name, thrust_terms, torque_terms):
    """The counts the sources give: Radojcic (1988) 16 and 17; Gawn as many as the B-series, whose exponents it has."""
    assert (len(SERIES[name].thrust_terms), len(SERIES[name].torque_terms)) == (thrust_terms, torque_terms)


def test_gawn_has_the_powers_of_the_b_series_and_its_terms_in_blades():
    """11 thrust and 14 torque terms differ, one each by a flagged digit; all others of them are free of Z."""
    flagged = {(2, 0, 0, 2), (3, 0, 1, 1)}
    for gawn, wageningen, count in (
        (GAWN.thrust_terms, WAGENINGEN_B.thrust_terms, 11),
        (GAWN.torque_terms, WAGENINGEN_B.torque_terms, 14),
    ):
        assert [row[1:] for row in gawn] == [row[1:] for row in wageningen]
        differing = {mine[1:] for mine, theirs in zip(gawn, wageningen, strict=True) if mine != theirs}
        assert len(differing) == count
        assert all(powers[3] == 0 for powers in differing - flagged)


def test_the_flagged_digits_of_gawn_matter_less_than_a_tenth_of_a_percent():
    """KT term (2, 0, 0, 2) might be 0.0025983, KQ term (3, 0, 1, 1) 0.0035985: where the wheel still pulls."""
    J = np.linspace(0.0, 0.6, 13)
    open_water = GAWN.cubics(0.8, 0.6, 4)
    thrust, torque = open_water.thrust_coefficient(J), open_water.torque_coefficient(J)
    assert np.max((0.0025983 - 0.0025963) * J**2 * 4**2 / thrust) < 1e-3
    assert np.max((0.0035985 - 0.0035895) * J**3 * 0.6 * 4 / torque) < 1e-3


def test_terms_of_kca_are_read_by_the_names_of_their_columns():
    """Printed rows are C, power of ten, powers of AD/A0, P/D, J; ours are C, powers of J, P/D, area, Z."""
    assert KCA.thrust_terms[5] == pytest.approx((5.863051e-2, 2, 2, 0, 0), rel=1e-15)
    assert KCA.torque_terms[-1] == pytest.approx((-3.151756e-3, 2, 2, 2, 0), rel=1e-15)
    assert KCA.thrust_terms[-4] == pytest.approx((-2.47084e-2, 3, 2, 2, 0), rel=1e-15)


@pytest.mark.parametrize("blades", [3, 4])
def test_gawn_behaves_over_its_whole_range_and_below(blades):
    pitch_ratio, area = np.meshgrid(np.linspace(0.4, 1.6, 25), np.linspace(0.4, 1.1, 15), indexing="ij")
    open_water = GAWN.cubics(pitch_ratio, area, blades)
    end = open_water.zero_thrust_advance_ratio
    assert np.all(end < 1.35 * pitch_ratio)
    J = end[..., None] * np.linspace(0.0, 1.0, 80)
    wide = open_water.with_trailing_axis()
    assert np.all(np.diff(wide.thrust_coefficient(J)) < 0.0)
    assert np.all(np.diff(wide.torque_coefficient(J)) < 0.0)
    efficiency = wide.efficiency(J[..., :-1])
    assert np.all(efficiency < 0.80)
    assert efficiency.max() > 0.70


class TestWhatTheSeriesWereTestedFor:
    def test_nothing_is_said_inside(self):
        assert GAWN.outside(0.8, 0.6, np.array([3, 4]), 0.0) == ()
        assert KCA.outside(1.0, 0.65, 3, 0.5) == ()

    def test_two_blades_of_gawn_are_answered_with_more_doubt(self):
        records = GAWN.outside(0.8, 0.55, np.array([2, 3, 5]))
        assert quantities(records) == ["number of blades", "number of blades"]
        none, doubtful = records
        assert none.where.tolist() == [False, False, True]
        assert "none in the Gawn series" in none.sentence()
        assert doubtful.where.tolist() == [True, False, False]
        assert doubtful.sentence() == (
            "The number of blades in 1 of 3 cases is outside 3 to 4; the models have three blades, "
            "and two go by terms of another series: expect more error."
        )
        assert GAWN.cubics(0.8, 0.55, 2).thrust_coefficient(0.4) > 0.0

    @pytest.mark.parametrize("blades", [2, 3, 4])
    def test_narrow_blades_keep_the_value_and_are_reported(self, blades):
        records = [record for record in GAWN.outside(0.8, 0.45, blades) if record.quantity == "blade area ratio"]
        assert [(record.low, record.high) for record in records] == [(0.5, 1.1)]
        at = GAWN.cubics(0.8, np.array([0.449, 0.45, 0.451]), blades).thrust_coefficient(0.4)
        assert at[0] != at[1] != at[2]

    def test_pitch_of_gawn(self):
        assert quantities(GAWN.outside(np.array([0.59, 1.61]), 0.6, 3)) == ["pitch ratio"]

    def test_area_of_kca_is_held_against_its_range_as_developed_area(self):
        """AD/A0 0.5 is AE/A0 0.496, and 1.1 is 1.166: expanded areas between them are inside."""
        low, high = expanded_area_ratio(np.array([0.5, 1.1]), 3)
        assert (low, high) == pytest.approx((0.49583, 1.16563), abs=1e-5)
        assert KCA.outside(1.0, np.array([low + 1e-6, 1.15, high - 1e-6]), 3) == ()
        (record,) = KCA.outside(1.0, np.array([low - 1e-3, 0.8, high + 1e-3]), 3)
        assert record.quantity == "developed blade area ratio"
        assert record.where.tolist() == [True, False, True]

    def test_kca_has_three_blades_and_no_slow_water(self):
        assert quantities(KCA.outside(1.0, 0.65, 4)) == ["number of blades"]
        assert quantities(KCA.outside(0.75, 0.65, 3, 0.25)) == ["pitch ratio", "advance ratio"]


class TestReservations:
    def test_fine_pitch_of_gawn(self):
        (record,) = GAWN.reservations(np.array([0.62, 0.65, 0.8]), 3)
        assert record.where.tolist() == [True, False, False]
        assert "is under 0.65; for finer ones the efficiency is some 0.05 below" in record.sentence()

    def test_fine_pitch_of_gawn_is_as_much_below_the_b_series_as_it_says(self):
        """The range that heavily loaded wheels of slow boats work at, J 0.3 to 0.4."""
        J = np.linspace(0.3, 0.4, 5)
        below, above = (
            WAGENINGEN_B.cubics(pitch_ratio, 0.5, 3).efficiency(J) - GAWN.cubics(pitch_ratio, 0.5, 3).efficiency(J)
            for pitch_ratio in (0.62, 0.8)
        )
        assert np.mean(below) == pytest.approx(0.05, abs=0.01)
        assert np.all(above < 0.01)

    @pytest.mark.parametrize("name", ["wageningen_b", "gawn"])
    def test_a_high_efficiency_of_two_blades(self, name):
        series = SERIES[name]
        assert series.two_blade_efficiency_limit == 0.75
        (record,) = series.reservations(1.0, np.array([2, 2, 3]), np.array([0.76, 0.74, 0.76]))
        assert record.quantity == "open-water efficiency of two blades"
        assert record.where.tolist() == [True, False, False]
        assert "optimistic" in record.sentence()

    def test_none_is_known_of_the_others(self):
        assert WAGENINGEN_B.reservations(0.5, 3, 0.8) == ()
        assert KCA.reservations(0.5, 2, 0.9) == ()

    def test_only_two_blades_of_the_b_series_pass_80_percent(self):
        """The scan the limit rests on: best efficiency over the tested areas and pitches."""
        best = {}
        for blades, areas in table("wageningen_b")["validity"]["tested_area_ratio"].items():
            pitch_ratio, area = np.meshgrid(np.linspace(0.5, 1.4, 19), areas)
            open_water = WAGENINGEN_B.cubics(pitch_ratio, area, int(blades))
            J = np.asarray(open_water.zero_thrust_advance_ratio)[..., None] * np.linspace(0.0, 0.999, 80)
            best[blades] = np.max(open_water.with_trailing_axis().efficiency(J))
        assert {blades for blades, efficiency in best.items() if efficiency > 0.80} == {"2"}


def test_a_series_describes_sizes_up_to_both_ends_of_its_pitch_ratios():
    gawn = SERIES["gawn"]
    np.testing.assert_array_equal(
        gawn.describes(0.5, 0.5 * np.array([0.59, 0.6, 1.0, 1.6, 1.61])), [False, True, True, True, False]
    )


class TestTheUsualSeries:
    @pytest.mark.parametrize(("blades", "name"), [(2, "wageningen_b"), (3, "gawn"), (4, "gawn"), (5, "wageningen_b")])
    def test_for_a_number_of_blades(self, blades, name):
        assert usual_series(blades) is SERIES[name]

    @pytest.mark.parametrize("blades", range(2, 8))
    def test_it_has_such_propellers(self, blades):
        assert "number of blades" not in quantities(usual_series(blades).outside(0.8, 0.6, blades))


class TestReynoldsCorrection:
    def test_belongs_to_the_b_series_alone(self):
        assert {name for name, series in SERIES.items() if series.reynolds_correction} == {"wageningen_b"}
        for name in ("gawn", "kca"):
            plain = SERIES[name].cubics(0.9, 0.6, 3)
            np.testing.assert_array_equal(
                corrected_family(SERIES[name], 0.6, 3, 5e6).at(0.9).torque_cubic, plain.torque_cubic
            )

    def test_of_the_b_series_is_the_one_of_its_module(self):
        expected = WAGENINGEN_B.cubics(0.8, 0.55, 4) + reynolds_correction(0.8, 0.55, 4, 1e7).open_water
        found = corrected_family(WAGENINGEN_B, 0.55, 4, 1e7).at(0.8)
        np.testing.assert_allclose(found.thrust_cubic, expected.thrust_cubic, rtol=1e-12)
        np.testing.assert_allclose(found.torque_cubic, expected.torque_cubic, rtol=1e-12)
        assert found.torque_coefficient(0.5) < WAGENINGEN_B.cubics(0.8, 0.55, 4).torque_coefficient(0.5)

    @pytest.mark.parametrize("name", SERIES)
    def test_families_broadcast(self, name):
        reynolds, pitch_ratio = np.array([3e6, 4e6]), np.array([0.8, 0.9])
        many = corrected_family(SERIES[name], np.array([0.55, 0.7]), 3, reynolds).at(pitch_ratio)
        one = corrected_family(SERIES[name], 0.7, 3, 4e6).at(0.9)
        assert many.thrust_cubic.shape == (2, 4)
        np.testing.assert_allclose(many.torque_cubic[1], one.torque_cubic, rtol=1e-12, atol=1e-15)


class TestTheSeriesBesideEachOther:
    """P/D 1.0, developed area 0.65, three blades. Flat-faced series differ by 3-5 % in efficiency."""

    J = np.array([0.4, 0.6, 0.8])

    def wheel(self, name):
        return SERIES[name].cubics(1.0, expanded_area_ratio(0.65, 3), 3)

    def test_flat_faces_take_more_torque_and_give_more_thrust(self):
        b, gawn = self.wheel("wageningen_b"), self.wheel("gawn")
        torque = gawn.torque_coefficient(self.J) / b.torque_coefficient(self.J) - 1.0
        assert np.all((torque > 0.05) & (torque < 0.20))
        assert np.all(gawn.thrust_coefficient(self.J) > b.thrust_coefficient(self.J))

    def test_the_two_flat_faced_series_agree_in_efficiency(self):
        np.testing.assert_allclose(
            self.wheel("kca").efficiency(self.J), self.wheel("gawn").efficiency(self.J), rtol=0.06
        )

    def test_taking_expanded_for_developed_area_is_a_small_matter(self):
        assert developed_area_ratio(0.65, 3) == pytest.approx(0.65, rel=0.02)


@pytest.mark.parametrize(
    ("blades", "mean_widths", "low", "high"),
    [(2, [0.25, 0.33], 0.25, 0.34), (3, [0.33], 0.50, 0.55), (4, [0.33], 0.62, 0.70)],
)
def test_stock_wheels_by_width_come_to_the_areas_they_are_sold_by(blades, mean_widths, low, high):
    """Mean-width and developed area ratios of stock wheels, from memory, and the way to the series' expanded area."""
    developed = developed_ratio_from_mean_width(np.array(mean_widths), blades)
    assert np.all((developed >= low) & (developed <= high))
    back = developed_area_ratio(expanded_area_ratio(developed, blades), blades)
    np.testing.assert_allclose(mean_width_ratio_from_developed(back, blades), mean_widths, rtol=1e-12)
