"""The first three stages: the boat, her speeds and the power they take."""

import re
from collections.abc import Callable

import numpy as np
import pytest

from engine.findings import Finding, Verdict
from engine.hull.coefficients import typical
from engine.hull.methods import ANCHOR
from engine.hull.wetted_surface import WETTED_SURFACES
from engine.plan import Plan, entry_at
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


def outcome(plan: Plan, stage: str):  # type: ignore[no-untyped-def]
    return assess(plan).outcomes[stage]


def answers(plan: Plan, stage: str):  # type: ignore[no-untyped-def]
    found = outcome(plan, stage).answers
    assert found is not None, outcome(plan, stage).waits_for
    return found


def stops(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.text for finding in findings if finding.verdict is Verdict.STOP]


BARGE = {
    "hull.kind": "displacement motor yacht",
    "hull.waterline_length": "23.4 m",
    "hull.waterline_beam": "5 m",
    "hull.hull_draft": "1.05 m",
    "hull.displacement": "90 t",
    "hull.water": "fresh",
}

NARROW = {
    "hull.kind": "tug",
    "hull.waterline_length": "17.4 m",
    "hull.waterline_beam": "2.08 m",
    "hull.hull_draft": "0.55 m",
    "hull.displacement": "17 t",
    "hull.water": "fresh",
    "hull.midship": "0.97",
    "speed.cruise": "2.6 kn",
    "speed.top": "4.3 kn",
}
"""A narrow canal boat: some of her plausible boats are too full for the formulas of Holtrop."""


class TestHull:
    def test_the_coefficients_belong_to_the_volume(self, launch: Plan) -> None:
        hull = answers(launch, "hull")
        form = hull.form
        volume = (
            form.prismatic_coefficient
            * form.midship_coefficient
            * form.waterline_length
            * form.waterline_beam
            * form.draft
        )
        assert volume == pytest.approx(form.volume, rel=1e-9)
        assert form.volume == pytest.approx(9000.0 / float(hull.water.density), rel=1e-9)

    def test_every_answer_is_the_middle_of_a_band(self, launch: Plan) -> None:
        hull = answers(launch, "hull")
        assert hull.displacement_kg.best == pytest.approx(9000.0, rel=1e-3)
        assert hull.displacement_kg.low == pytest.approx(0.95 * 9000.0, rel=2e-3)
        assert hull.displacement_kg.high == pytest.approx(1.10 * 9000.0, rel=2e-3)
        assert hull.prismatic_coefficient.low < hull.form.prismatic_coefficient < hull.prismatic_coefficient.high

    def test_a_sound_boat_has_nothing_to_look_at_again(self, launch: Plan) -> None:
        assert [finding.verdict for finding in outcome(launch, "hull").findings] == [Verdict.FITS]

    def test_the_formulas_for_the_wetted_surface_are_held_against_each_other(
        self, launch: Plan, change: Change
    ) -> None:
        assert not [finding for finding in outcome(launch, "hull").findings if "wetted surface" in finding.text]
        shallow = change(launch, {"hull.hull_draft": "0.40 m", "hull.displacement": "5.4 t"})
        said = next(finding for finding in outcome(shallow, "hull").findings if "wetted surface" in finding.text)
        areas = [float(formula(answers(shallow, "hull").form)) for formula in WETTED_SURFACES.values()]
        low, high = (float(number) for number in re.findall(r"([\d.]+) m2", said.text))
        assert (low, high) == pytest.approx((min(areas), max(areas)), abs=0.05)
        assert said.verdict is Verdict.LOOK

    @pytest.mark.parametrize(
        ("screws", "place", "words"),
        [
            ("1", "twin screws on struts", "give two, or choose another place"),
            ("", "twin screws on struts", "give two, or choose another place"),
            ("2", "behind a skeg", "choose twin screws on struts"),
            ("2", "twin screws on struts", None),
            ("1", "behind a skeg", None),
        ],
    )
    def test_the_place_of_the_propeller_is_held_against_their_number(
        self, launch: Plan, change: Change, screws: str, place: str, words: str | None
    ) -> None:
        findings = outcome(change(launch, {"hull.screws": screws, "hull.propeller_place": place}), "hull").findings
        found = [finding for finding in findings if finding.path == "hull.screws"]
        assert [finding.verdict for finding in found] == ([] if words is None else [Verdict.LOOK])
        assert all(words in finding.text for finding in found if words)

    def test_the_help_of_the_keel_draft_says_all_that_it_changes(self, launch: Plan, change: Change) -> None:
        fin = {"hull.kind": "fin-keel sailing yacht", "hull.keel_volume": "0.3 m3", "hull.keel_draft": "1.5 m"}
        deep = fin | {"hull.keel_draft": "2.0 m"}
        shallow, deeper = (answers(change(launch, each), "power").cruise_resistance_n.best for each in (fin, deep))
        assert shallow != deeper
        assert "Delft" in entry_at("hull.keel_draft").changes

    def test_draft_to_the_keel_is_named_as_the_slip_and_stops(self, launch: Plan, change: Change) -> None:
        slip = change(launch, {"hull.hull_draft": "1.1 m"})
        assert any("bottom of the keel" in text for text in stops(outcome(slip, "hull").findings))

    def test_given_coefficients_that_do_not_give_the_volume_stop(self, launch: Plan, change: Change) -> None:
        wrong = change(launch, {"hull.prismatic": "0.65", "hull.midship": "0.90"})
        assert any("prismatic and midship" in text for text in stops(outcome(wrong, "hull").findings))

    def test_a_barge_fuller_than_every_kind_of_boat_is_worked_out_and_told_what_to_give(
        self, launch: Plan, change: Change
    ) -> None:
        hull = outcome(change(launch, BARGE), "hull")
        assert hull.answers is not None, hull.waits_for
        product = hull.answers.form.midship_coefficient * hull.answers.form.prismatic_coefficient
        assert float(product) == pytest.approx(90e3 / 999.1 / (23.4 * 5.0 * 1.05), rel=1e-3)
        (told,) = [finding.text for finding in hull.findings if "0.73" in finding.text]
        assert "give her midship and prismatic coefficient" in told

    def test_who_gives_the_coefficients_of_a_barge_is_believed(self, launch: Plan, change: Change) -> None:
        narrow = change(launch, NARROW | {"hull.prismatic": "0.88"})
        assert not narrow.unread
        assert "canal boat is none of these: take the tug" in entry_at("hull.kind").how  # as she does
        found = outcome(narrow, "hull")
        assert not [finding.text for finding in found.findings if "block coefficient comes out" in finding.text]
        assert not stops(found.findings)
        wrong = outcome(change(narrow, {"hull.displacement": "14 t"}), "hull")
        assert any("prismatic and midship" in text for text in stops(wrong.findings))

    def test_no_barge_is_given_a_waterplane_smaller_than_the_mean_of_those_below_it(
        self, launch: Plan, change: Change
    ) -> None:
        hull = answers(change(launch, NARROW), "hull")
        assert hull.waterplane_coefficient.best > typical("tug").waterplane.high
        form = hull.boats.form
        assert (np.asarray(form.waterplane_coefficient) >= np.asarray(form.block_coefficient) - 1e-12).all()
        given = answers(change(launch, NARROW | {"hull.waterplane": "0.80"}), "hull")
        assert given.waterplane_coefficient.best == pytest.approx(0.80, rel=1e-3)

    @pytest.mark.parametrize("weight", ["118 t", "121 t", "160 t"])
    def test_a_hull_that_cannot_be_stops_with_a_sentence(self, launch: Plan, change: Change, weight: str) -> None:
        """Block coefficients of 0.96, 0.99 and 1.3: nothing is worked out, so something must say why."""
        hull = outcome(change(launch, BARGE | {"hull.displacement": weight}), "hull")
        assert hull.answers is None
        (told,) = stops(hull.findings)
        assert "check the displacement and the dimensions" in told

    def test_a_coefficient_that_is_not_reckoned_with_as_given_is_told_so(self, launch: Plan, change: Change) -> None:
        """Within 10 % the two and the displacement pass for one hull; the midship one counts, and none over 0.97."""
        for given, words in (
            (
                {"hull.prismatic": "0.59", "hull.midship": "0.69"},
                "prismatic coefficient is reckoned with as 0.56, not 0.59",
            ),
            ({"hull.midship": "0.99"}, "midship coefficient is reckoned with as 0.97, not 0.99"),
        ):
            found = outcome(change(launch, given), "hull")
            (told,) = [finding for finding in found.findings if "reckoned with as" in finding.text]
            assert words in told.text
            assert told.verdict is Verdict.LOOK
        for given in ({"hull.prismatic": "0.57"}, {"hull.prismatic": "0.57", "hull.midship": "0.68"}):
            found = outcome(change(launch, given), "hull")
            assert not any("reckoned with as" in finding.text for finding in found.findings)

    @pytest.mark.parametrize(("given", "found"), [("0.604", 0), ("0.606", 1)])
    def test_a_coefficient_that_reads_as_inside_its_range_is_not_said_to_lie_outside(
        self, launch: Plan, change: Change, given: str, found: int
    ) -> None:
        findings = outcome(change(launch, {"hull.prismatic": given}), "hull").findings
        assert sum("The prismatic coefficient you gave" in finding.text for finding in findings) == found

    def test_a_boat_heavier_than_the_box_she_floats_in_has_no_answers(self, launch: Plan, change: Change) -> None:
        found = outcome(change(launch, {"hull.displacement": "40 t"}), "hull")
        assert found.answers is None
        assert stops(found.findings)

    def test_a_keel_above_the_hull_is_refused(self, launch: Plan, change: Change) -> None:
        wrong = change(launch, {"hull.keel_draft": "0.5 m"})
        assert any("draft to the keel" in text.lower() for text in stops(outcome(wrong, "hull").findings))

    def test_a_missing_dimension_is_waited_for(self, launch: Plan) -> None:
        from engine.plan import with_value

        found = outcome(with_value(launch, "hull.waterline_beam", None), "hull")
        assert found.answers is None
        assert "beam" in found.waits_for

    def test_a_long_keel_without_area_gets_a_default_that_says_so(self, launch: Plan) -> None:
        from engine.plan import with_value

        found = outcome(with_value(launch, "hull.appendage_area", None), "hull")
        area, surface = found.answers.appendage_area_m2, found.answers.wetted_surface_m2
        assert area.best == pytest.approx(0.275 * surface.best, rel=0.01)
        assert area.low == pytest.approx(0.20 * surface.best, rel=0.03)
        assert area.high == pytest.approx(0.35 * surface.best, rel=0.03)
        assert any("none is given" in finding.text and "memory" in finding.source for finding in found.findings)

    def test_fresh_water_floats_her_deeper_in_volume(self, launch: Plan, change: Change) -> None:
        fresh, sea = (answers(change(launch, {"hull.water": kind}), "hull").volume_m3 for kind in ("fresh", "sea"))
        assert fresh.best > sea.best


class TestSpeed:
    def test_hull_speed_is_1_34_times_the_root_of_the_length_in_feet(self, launch: Plan, change: Change) -> None:
        """Common practice, no source: 36.5 ft gives about 8.1 kn."""
        boat = change(launch, {"hull.waterline_length": "36.5 ft"})
        assert answers(boat, "speed").hull_speed_kn.best == pytest.approx(8.1, abs=0.05)

    def test_at_hull_speed_her_wave_is_as_long_as_she_is(self, launch: Plan, change: Change) -> None:
        hull_speed = answers(launch, "speed").hull_speed_kn.best
        boat = change(launch, {"speed.top": f"{hull_speed} kn"})
        assert answers(boat, "speed").top_wave_m == pytest.approx(11.2, rel=0.01)

    def test_each_half_knot_costs_more_power_than_the_one_before(self, launch: Plan) -> None:
        powers = [step.effective_power_kw.best for step in answers(launch, "speed").steps]
        assert np.all(np.diff(np.diff(powers)) > 0.0)

    def test_a_cruise_near_hull_speed_is_told_the_price_of_a_half_knot_once(self, launch: Plan, change: Change) -> None:
        for cruise, times in (("6.5 kn", 2), ("7.9 kn", 1)):
            findings = outcome(change(launch, {"speed.cruise": cruise, "speed.top": "8 kn"}), "speed").findings
            (told,) = [finding.text for finding in findings if "her wave is" in finding.text]
            assert told.count("The half knot up to") == times

    def test_no_plausible_boat_is_without_resistance_where_one_method_refuses_a_hull_so_full(
        self, launch: Plan, change: Change
    ) -> None:
        plan = change(launch, NARROW)
        form, water = answers(plan, "hull").boats.form, answers(plan, "hull").water
        refused = np.isnan(np.asarray(ANCHOR.resistance(form, np.array([1.0]), water).total)).any(axis=1)
        assert 0.1 < refused.mean() < 0.9
        calm = answers(plan, "speed").curve.calm
        assert np.isfinite(calm).all()
        slow = int(np.searchsorted(answers(plan, "speed").curve.speed, 1.0))
        middles = [np.median(calm[which, slow]) for which in (refused, ~refused)]
        assert middles[0] == pytest.approx(middles[1], rel=0.35)  # fuller, and carried on by another method

    def test_a_method_that_refuses_the_hull_is_named_and_stops(self, launch: Plan, change: Change) -> None:
        """The launch has a beam-draft ratio of 4.8; van Oortmerssen's models end at 4."""
        found = assess(change(launch, {"power.method": "van Oortmerssen 1971"})).outcomes
        assert any("has no value for this hull" in text for text in stops(found["speed"].findings))
        assert found["power"].waits_for.startswith("the speed page")

    def test_a_cruise_above_the_top_speed_stops(self, launch: Plan, change: Change) -> None:
        assert stops(outcome(change(launch, {"speed.cruise": "8 kn"}), "speed").findings)

    def test_a_top_speed_above_hull_speed_wants_a_second_look(self, launch: Plan, change: Change) -> None:
        findings = outcome(change(launch, {"speed.top": "9 kn"}), "speed").findings
        assert any(f.verdict is Verdict.LOOK and "From hull speed" in f.text for f in findings)
        findings = outcome(change(launch, {"speed.top": "15 kn"}), "speed").findings
        (told,) = [f for f in findings if f.path == "speed.top"]
        assert told.verdict is Verdict.LOOK
        # 9 t on 11.2 m: 8.858 long tons over 0.3675^3 is 178.5; 8.26 / 178.5^0.311 = 1.647, times the root of 36.75
        assert "By a handbook's rule a boat of her weight and length goes no faster than about 10.0 kn" in told.text

    def test_power_climbs_from_hull_speed_as_is_said_and_more_slowly_far_above_it(
        self, launch: Plan, change: Change
    ) -> None:
        """Of 1.13 times the speed: of any higher speed the sentence would contradict the steps beside it."""
        told, found = (outcome(change(launch, {"speed.top": top}), "speed") for top in ("9 kn", "16 kn"))
        (said,) = [finding.text for finding in told.findings if finding.path == "speed.top"]
        assert said.endswith("From hull speed an eighth more speed takes two to two and a half times the power.")
        steps, hull_kn = found.answers.steps, found.answers.hull_speed_kn.best
        speeds, powers = ([getattr(step, name) for step in steps] for name in ("speed_kn", "effective_power_kw"))
        at, after, far, farther = np.interp(
            np.multiply(hull_kn, (1.0, 1.125, 1.5, 1.5 * 1.125)), speeds, [power.best for power in powers]
        )
        assert 2.0 <= after / at <= 2.5
        assert farther / far < 1.5


class TestPower:
    def test_power_is_force_times_speed_over_the_propulsive_efficiency(self, launch: Plan) -> None:
        power = answers(launch, "power")
        speed = 6.5 * 1852 / 3600
        effective = power.cruise_resistance_n.best * speed / 1e3
        assert power.cruise_effective_power_kw.best == pytest.approx(effective, rel=1e-9)
        delivered = effective / power.propulsive_efficiency.best
        assert power.cruise_shaft_power_kw.best == pytest.approx(delivered / 0.985, rel=0.02)  # medians of each

    def test_the_power_curve_rises_and_the_margin_lies_above_it(self, launch: Plan) -> None:
        curve = answers(launch, "power").curve
        for part in ("low", "best", "high"):
            shaft = np.array([getattr(row.shaft_power_kw, part) for row in curve])
            assert np.all(np.diff(shaft) > 0.0)
        for row in curve:
            assert row.service_shaft_power_kw.best > row.shaft_power_kw.best > row.effective_power_kw.best
            assert row.shaft_power_kw.low < row.shaft_power_kw.best < row.shaft_power_kw.high

    def test_a_heavier_boat_takes_more_power(self, launch: Plan, change: Change) -> None:
        heavy = change(launch, {"hull.displacement": "9.8 t", "hull.hull_draft": "0.70 m"})
        assert answers(heavy, "power").top_shaft_power_kw.best > answers(launch, "power").top_shaft_power_kw.best

    def test_without_a_place_for_the_propeller_it_says_where_that_is_asked(self, launch: Plan) -> None:
        from engine.plan import with_value

        outcomes = assess(with_value(launch, "hull.propeller_place", None)).outcomes
        assert outcomes["hull"].answers is not None
        assert "hull page" in outcomes["power"].waits_for

    def test_the_estimated_wake_carries_the_mark_of_its_sources(self, launch: Plan, change: Change) -> None:
        assert any("Wake (" in f.text and "memory" in f.source for f in outcome(launch, "power").findings)
        own = change(launch, {"power.wake": "0.10", "power.thrust_deduction": "0.12"})
        assert not any("Wake (" in f.text for f in outcome(own, "power").findings)

    def test_the_owners_wake_is_not_called_usual_nor_held_against_the_range_of_a_formula(
        self, launch: Plan, change: Change
    ) -> None:
        full = {"hull.hull_draft": "0.45 m"}  # a block coefficient of 0.56
        for own, words in (
            ({}, "Wake and thrust deduction are"),
            ({"power.wake": "0.10"}, "Thrust deduction is"),
            ({"power.thrust_deduction": "0.12"}, "Wake is"),
            ({"power.wake": "0.10", "power.thrust_deduction": "0.12"}, None),
        ):
            findings = outcome(change(launch, full | own), "power").findings
            told = [finding for finding in findings if "half what is usual here" in finding.text]
            begin = [re.sub(r" \(\d+ %\)", "", finding.text.partition(" half by")[0]) for finding in told]
            assert begin == ([] if words is None else [words])
            assert any("the wake formulas were compared" in f.text for f in findings) == (words is not None)

    def test_the_owners_wake_replaces_the_estimate(self, launch: Plan, change: Change) -> None:
        own = change(launch, {"power.wake": "0.10", "power.thrust_deduction": "0.12"})
        assert answers(own, "power").wake_fraction.best == pytest.approx(0.10, abs=1e-4)
        assert answers(own, "power").hull_efficiency.best == pytest.approx(0.88 / 0.90, rel=1e-3)

    def test_the_rules_of_thumb_lie_above_calm_water_and_carry_their_label(self, launch: Plan) -> None:
        found = outcome(launch, "power")
        assert found.answers.rule_gerr_kw > found.answers.cruise_shaft_power_kw.high
        assert any("never for sizing a propeller" in finding.source for finding in found.findings)

    def test_above_hull_speed_the_rules_are_left_out(self, launch: Plan, change: Change) -> None:
        fast = answers(change(launch, {"speed.cruise": "8.6 kn", "speed.top": "9 kn"}), "power")
        assert fast.rule_wyman_kw is None
        assert fast.rule_gerr_kw is None

    def test_a_method_chosen_alone_says_where_the_boat_lies_outside_its_sample(
        self, launch: Plan, change: Change
    ) -> None:
        findings = outcome(change(launch, {"power.method": "Holtrop & Mennen 1982"}), "power").findings
        assert any("length-beam ratio" in f.text and f.verdict is Verdict.LOOK for f in findings)

    def test_a_method_chosen_alone_has_all_the_weight_and_no_other_is_said_to_count(
        self, launch: Plan, change: Change
    ) -> None:
        found = outcome(change(launch, {"power.method": "Holtrop 1984"}), "power")
        assert all(row.by_method_fraction == {"Holtrop 1984": 1.0} for row in found.answers.curve)
        assert not any("counts for most" in finding.text for finding in found.findings)
        together = outcome(launch, "power")
        assert sum(together.answers.curve[8].by_method_fraction.values()) == pytest.approx(1.0)
        assert any("counts for most" in finding.text for finding in together.findings)

    def test_a_log_row_is_read_through_the_present_propeller(self, launch: Plan, change: Change) -> None:
        from engine.plan import with_row

        boat = change(
            with_row(launch, "present.log"),
            {
                "present.gear_ratio": "2:1",
                "present.propeller_diameter": "18 in",
                "present.propeller_pitch": "13 in",
                "present.log.0.engine_speed": "1600 rpm",
                "present.log.0.speed": "6 kn",
            },
        )
        (point,) = answers(boat, "power").logged
        assert point.slip_fraction == pytest.approx(1.0 - 6 * 1215.22 / (13 * 800), abs=1e-3)
        assert 0.0 < point.shaft_power_kw < 20.0

    def test_a_boat_that_outruns_her_propeller_is_named(self, launch: Plan, change: Change) -> None:
        from engine.plan import with_row

        boat = change(
            with_row(launch, "present.log"),
            {
                "present.gear_ratio": "2:1",
                "present.propeller_diameter": "18 in",
                "present.propeller_pitch": "10 in",
                "present.log.0.engine_speed": "1000 rpm",
                "present.log.0.speed": "7 kn",
            },
        )
        assert any("outrunning her propeller" in finding.text for finding in outcome(boat, "power").findings)
