"""Which tested series and which blade area stand for the propeller of a plan, and the states she is tried in."""

from collections.abc import Callable

import numpy as np
import pytest

from engine.plan import Plan
from engine.stages.blades import market_offers, present_blades, usual_area, wanted_blades
from engine.stages.cases import _floating_lighter
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


class TestBlades:
    @pytest.mark.parametrize(("blades", "series"), [(2, "wageningen_b"), (3, "gawn"), (4, "gawn"), (5, "wageningen_b")])
    def test_stock_wheels_of_three_and_four_blades_are_flat_faced(
        self, launch: Plan, change: Change, blades: int, series: str
    ) -> None:
        kind = wanted_blades(change(launch, {"propeller.blades": str(blades)}))
        assert (kind.series.name, kind.blades, kind.area_ratio) == (series, blades, usual_area(blades))

    @pytest.mark.parametrize(
        ("sections", "series"),
        [
            ("flat-faced (Gawn)", "gawn"),
            ("flat-faced (Gawn-Burrill), three blades", "kca"),
            ("airfoil (Wageningen B)", "wageningen_b"),
        ],
    )
    def test_the_owner_may_name_the_sections(self, launch: Plan, change: Change, sections: str, series: str) -> None:
        assert wanted_blades(change(launch, {"propeller.sections": sections})).series.name == series

    def test_area_may_be_given_in_the_ways_of_the_trade(self, launch: Plan, change: Change) -> None:
        """A mean-width ratio of 0.33 is a disc-area ratio of 0.505 with three blades (0.51 Z MWR), nearly expanded."""
        width = {"propeller.area_ratio": "0.33", "propeller.area_measure": "mean-width ratio of a blade"}
        disc = {"propeller.area_ratio": "0.505", "propeller.area_measure": "developed or disc-area ratio"}
        by_width, by_disc = (wanted_blades(change(launch, change_)).area_ratio for change_ in (width, disc))
        assert by_width == pytest.approx(by_disc, abs=2e-4)
        assert by_disc == pytest.approx(0.34 * 0.505 * (2.75 + 0.505 / 3))  # Radojcic (1988)
        assert wanted_blades(change(launch, {"propeller.area_ratio": "0.505"})).area_ratio == 0.505

    def test_the_present_wheel_is_read_by_the_series_that_covers_its_pitch(self, launch: Plan, change: Change) -> None:
        usual = change(launch, {"present.propeller_diameter": "500 mm", "present.propeller_pitch": "350 mm"})
        fine = change(usual, {"present.propeller_pitch": "270 mm"})
        finest = change(usual, {"present.propeller_pitch": "200 mm"})
        assert present_blades(usual).series.name == "gawn"  # type: ignore[union-attr]
        assert present_blades(fine).series.name == "wageningen_b"  # type: ignore[union-attr]
        assert present_blades(finest) is None
        assert present_blades(launch) is None

    def test_every_offer_of_the_market_lies_in_the_range_of_its_series(self) -> None:
        for offer in market_offers():
            kind = offer.blades
            low, high = kind.series.pitch_ratio
            assert kind.series.outside(0.5 * (low + high), kind.area_ratio, kind.blades) == ()
        assert {offer.blades.blades for offer in market_offers()} == {2, 3, 4, 5}


class TestCases:
    def cases(self, plan: Plan):  # type: ignore[no-untyped-def]
        return assess(plan).outcomes["power"].answers.cases

    def test_growth_and_wind_ask_for_more_thrust_at_every_speed(self, launch: Plan) -> None:
        cases = self.cases(launch)
        moving = slice(4, None)
        for harder in (cases.foul, cases.head_wind):
            assert np.all(harder.middle.thrust[moving] > cases.calm.middle.thrust[moving])
            assert np.all(harder.boats.thrust[:, moving] > cases.calm.boats.thrust[:, moving])
        assert cases.foul.months == 6.0
        assert cases.head_wind.months == 0.0

    def test_what_the_plan_allows_for_takes_the_place_of_the_usual_season_and_wind(
        self, launch: Plan, change: Change
    ) -> None:
        usual = self.cases(launch)
        own = self.cases(change(launch, {"power.time_since_cleaning": "12 months", "power.head_wind": "30 kn"}))
        assert "12 months" in own.foul.words
        assert "30 kn" in own.head_wind.words
        assert own.foul.middle.thrust[20] > usual.foul.middle.thrust[20]
        assert own.head_wind.middle.thrust[20] > usual.head_wind.middle.thrust[20]

    def test_the_head_sea_of_the_plan_is_named_where_it_takes_the_power(self, launch: Plan, change: Change) -> None:
        """Into 20 kn of wind she needs less than half of it; with seas of a metre more than there is."""
        for height, words in (
            ("0 m", "20 kn of wind from ahead"),
            ("1 m", "20 kn of wind from ahead and your head sea"),
        ):
            outcomes = assess(change(launch, {"power.wave_height": height})).outcomes
            (told,) = [finding.text for finding in outcomes["engine"].findings if "of wind from ahead" in finding.text]
            assert told.startswith(f"Clean, {words}: to hold 6.5 kn takes ")
            (row,) = [row for row in outcomes["propeller"].answers.cases if "of wind" in row.state]
            assert row.state == f"clean, {words}"

    def test_without_a_frontal_area_nothing_is_said_of_a_head_wind(self, launch: Plan, change: Change) -> None:
        """A wind without drag is a calm: sentences about it would pass her at half the power that it takes."""
        found = assess(change(launch, {"hull.windage_area": ""}))
        outcomes = found.outcomes
        assert outcomes["power"].answers.cases.head_wind is None
        assert outcomes["engine"].answers.head_wind_load_fraction is None
        propeller = outcomes["propeller"].answers
        assert [row.state for row in propeller.cases if "wind from ahead" in row.state] == []
        assert all(row.head_wind_demand_kw is None for row in propeller.match)
        assert all(row.foul_demand_kw.is_known for row in propeller.match)
        said = [finding for _, finding in found.findings() if "wind" in finding.text]
        assert not any("wind from ahead" in finding.text for finding in said)
        assert any(finding.path == "hull.windage_area" for finding in said)

    def test_the_margin_is_for_the_clean_boat_at_full_load_unless_half_load_is_chosen(
        self, launch: Plan, change: Change
    ) -> None:
        full = self.cases(launch)
        assert full.margin.boats is full.calm.boats
        half = self.cases(change(launch, {"propeller.margin_state": "new, clean, half load, calm water"}))
        ratio = half.margin.middle.thrust[12:] / half.calm.middle.thrust[12:]
        # 95 % of the displacement: resistance falls about in proportion, or somewhat more where she makes waves
        assert np.all((ratio > 0.88) & (ratio < 0.99))
        lighter = self.cases(
            change(
                launch,
                {"propeller.margin_state": "new, clean, half load, calm water", "propeller.half_load": "8 t"},
            )
        )
        assert np.all(lighter.margin.middle.thrust[12:] < half.margin.middle.thrust[12:])

    def test_a_barge_at_half_load_is_no_fuller_than_at_full_load(self, launch: Plan, change: Change) -> None:
        """Her block coefficient of 0.83 is more than the waterplane of her kind: drawn up by that alone she would leave
        the water before her weight does, and no hull would be left to work out."""
        barge = {
            "hull.kind": "displacement motor yacht",
            "hull.waterline_length": "23.4 m",
            "hull.waterline_beam": "5 m",
            "hull.hull_draft": "1.05 m",
            "hull.keel_draft": "",
            "hull.displacement": "105 t",
            "propeller.margin_state": "new, clean, half load, calm water",
            "propeller.half_load": "30 t",
        }
        found = assess(change(launch, barge)).outcomes
        assert found["power"].answers is not None, found["power"].waits_for
        form = found["hull"].answers.form
        fullness = [_floating_lighter(form, share).block_coefficient for share in (1.0, 0.6, 0.3)]
        assert np.all(np.diff(fullness) < 1e-12)
