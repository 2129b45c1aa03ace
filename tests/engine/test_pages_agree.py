"""Where two pages tell of one thing by two propellers, or by two rules, each says by which."""

from collections.abc import Callable

import pytest

from engine.answers import cell
from engine.assessment import search_market
from engine.findings import Finding, Verdict
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
POWER = "engine.candidate.0.rated_power"
BY = "That is by the propeller of the power page; the range page has it by the one chosen."


def only(findings: tuple[Finding, ...], part: str) -> Finding:
    (found,) = [finding for finding in findings if part in finding.text]
    return found


def is_told_what_the_search_goes_by(text: str) -> bool:
    """Whether a sentence on too narrow a wheel ends with the line that the search begins with. An area would be that of
    this wheel, where the search has others, and has taken this one by the next line where none keeps to the first."""
    return text.endswith("Take more blade area. The search of stock wheels goes by the 5 % first.")


class TestLoadAtCruise:
    """An engine of 9 kW in the launch has 98 % of its load at cruise by one propeller, and 117 % by the other."""

    def test_the_engine_page_looks_again_where_one_boat_in_ten_has_not_the_power(
        self, launch: Plan, change: Change
    ) -> None:
        found = assess(change(launch, {POWER: "9 kW"})).outcomes["engine"]
        load = found.answers.cruise_service_load_fraction
        assert load.best < 1.0 < load.high
        said = only(found.findings, "With your margin for wind and sea")
        assert (said.verdict, said.path) == (Verdict.LOOK, "power.sea_margin")
        assert said.text.endswith(f"would need {100 * load.high:.0f} % of the power or more, and must slow down. {BY}")

    def test_it_fits_where_nine_in_ten_have_it(self, launch: Plan, change: Change) -> None:
        found = assess(change(launch, {POWER: "12 kW"})).outcomes["engine"]
        assert found.answers.cruise_service_load_fraction.high < 1.0
        assert only(found.findings, "With your margin for wind and sea").verdict is Verdict.FITS

    def test_a_stop_says_how_much_it_takes_and_by_which_propeller(self, launch: Plan, change: Change) -> None:
        found = assess(change(launch, {POWER: "7 kW"})).outcomes["engine"]
        share = f"{100 * found.answers.cruise_service_load_fraction.best:.0f} % of it. {BY}"
        assert only(found.findings, "takes more power than the engine has").text.endswith(share)

    def test_the_range_page_names_the_propeller_by_which_the_engine_page_passes_it(
        self, launch: Plan, change: Change
    ) -> None:
        outcomes = assess(change(launch, {POWER: "9 kW"})).outcomes
        said = only(outcomes["range"].findings, "the figures at cruise are for power")
        assert said.verdict is Verdict.STOP
        assert said.text.startswith("With all that you allow for, and the chosen propeller, the cruising speed takes")
        load = outcomes["engine"].answers.cruise_service_load_fraction.best
        largest = 0.660 / (1.0 + 2.0 * 0.10)  # of the room of 660 mm, with 10 % of the diameter at either tip
        size = f"The {100 * load:.0f} % of the engine page are by a propeller of {1e3 * largest:.0f} mm"
        assert size in said.text
        assert "a deeper ratio would bring the chosen one nearer" in said.text

    def test_a_deeper_ratio_does_bring_it_nearer(self, launch: Plan, change: Change) -> None:
        weak = {POWER: "9 kW", "propeller.room": "760 mm"}
        loads = []
        for ratio in ("2", "3", "4"):
            outcomes = assess(change(launch, {**weak, "gear.ratios": ratio})).outcomes
            power = outcomes["propeller"].answers.cruise_power_kw.best
            loads.append(power / outcomes["engine"].answers.usable_power_kw.best)
        by_reference = outcomes["engine"].answers.cruise_load_fraction.best
        assert loads[0] > loads[1] > loads[2] > by_reference

    def test_where_both_pages_stop_it_there_is_nothing_to_explain(self, launch: Plan, change: Change) -> None:
        found = assess(change(launch, {POWER: "7 kW"})).outcomes["range"]
        assert "engine page" not in only(found.findings, "the figures at cruise are for power").text

    @pytest.mark.parametrize(("power", "said"), [("9 kW", 0), ("12 kW", 1)])
    def test_no_range_at_cruise_is_called_fitting_on_power_that_is_not_there(
        self, launch: Plan, change: Change, power: str, said: int
    ) -> None:
        texts = [finding.text for finding in assess(change(launch, {POWER: power})).outcomes["range"].findings]
        for part in ("At cruise she goes", "By the trade's rules of thumb", "At full throttle she takes"):
            assert sum(text.startswith(part) for text in texts) == said, part
        assert said or not any("than at cruise" in text for text in texts)


class TestCruiseBeyondFullThrottle:
    """With a light wheel the governor ends full throttle while there is power left, so the load alone does not tell."""

    def test_the_range_page_stops_a_cruise_that_the_propeller_page_says_is_faster_than_full_throttle(
        self, launch: Plan, change: Change
    ) -> None:
        """It called the miles fitting, and full throttle took less than cruise."""
        light = {"propeller.diameter": "18 in", "propeller.pitch": "11 in", "gear.ratio": "3"}
        found = assess(change(launch, light)).outcomes
        slow = found["propeller"].answers.cases[-1].top_kn
        assert slow.best < found["speed"].answers.cruise_kn
        assert "% of the power: the figures" not in " ".join(finding.text for finding in found["range"].findings)
        assert found["range"].answers.cruise_l_per_h.best > found["range"].answers.full_throttle_l_per_h.best
        said = only(found["range"].findings, "make the cruising speed")
        assert (said.verdict, said.path) == (Verdict.STOP, "speed.cruise")
        assert "the figures at cruise are not to be had" in said.text
        texts = [finding.text for finding in found["range"].findings]
        assert not any(text.startswith(("At cruise she goes", "At full throttle she takes")) for text in texts)

    def test_it_looks_again_where_some_of_the_boats_do_not_make_it(self, launch: Plan, change: Change) -> None:
        found = assess(change(launch, {"speed.cruise": "7.6 kn", "speed.top": "7.8 kn", POWER: "24 kW"})).outcomes
        fast = found["propeller"].answers.cases[-1].top_kn
        assert fast.low < found["speed"].answers.cruise_kn < fast.best
        said = only(found["range"].findings, "plausible boats make the cruising speed; the others must slow down")
        assert said.verdict is Verdict.LOOK
        assert only(found["range"].findings, "At cruise she goes").verdict is Verdict.FITS

    def test_it_says_nothing_where_nine_in_ten_make_it(self, launch: Plan) -> None:
        found = assess(launch).outcomes
        assert found["propeller"].answers.cases[-1].top_kn.low > found["speed"].answers.cruise_kn
        assert not [finding for finding in found["range"].findings if "make the cruising speed" in finding.text]


def test_into_a_head_wind_the_engine_page_does_not_pass_more_than_all_the_power(launch: Plan, change: Change) -> None:
    """It fitted with "in nine plausible boats of ten at most 106 %"."""
    found = assess(change(launch, {POWER: "16 kW"})).outcomes["engine"]
    load = found.answers.head_wind_load_fraction
    assert load.best < 1.0 < load.high
    said = only(found.findings, "20 kn of wind from ahead")
    assert said.verdict is Verdict.LOOK
    needed = f"would need {100 * load.high:.0f} % of the power or more"
    assert f"one plausible boat in ten {needed}, and must slow down" in said.text
    assert said.text.endswith(BY.replace("range", "propeller"))


def test_a_load_just_over_the_power_is_not_told_as_all_of_it(launch: Plan, change: Change) -> None:
    """It read "takes 100 % of the power: it cannot be reached", and "100 %, so she will have to slow down"."""
    loads, watts = assess(launch).outcomes["engine"].answers, launch.engine.candidate[0].rated_power.si
    for load, part in (
        (loads.top_load_fraction, "takes 100.3 % of the power of"),
        (loads.head_wind_load_fraction, "takes 100.3 % of the power, so she will have to slow down"),
    ):
        found = assess(change(launch, {POWER: f"{watts * load.best / 1.003:.2f} W"})).outcomes["engine"]
        assert only(found.findings, part).verdict is not Verdict.FITS


def test_a_share_below_nought_is_not_run_together_with_a_dash(launch: Plan, change: Change) -> None:
    """It read "2 (-32-23)"."""
    row = assess(change(launch, {POWER: "9 kW"})).outcomes["engine"].answers.candidates[0]
    low, best, high = (
        f"{round(100 * share, 1):g}"
        for share in (row.reserve_fraction.low, row.reserve_fraction.best, row.reserve_fraction.high)
    )
    assert low.startswith("-")
    assert cell(row, "reserve_fraction", "metric") == f"{best} ({low} to {high})"


CROWDED = {
    POWER: "28.9 kW",
    "engine.candidate.0.rated_speed": "2666 rpm",
    "gear.ratios": "2.5; 3",
    "propeller.room": "512 mm",
}
"""So little room that no wheel in stock keeps to the line for 5 % cavitation."""


class TestBladeAreaOfTheSearch:
    def test_it_says_why_the_wheel_of_the_propeller_page_is_not_among_the_suitable(self, launch: Plan) -> None:
        found = assess(launch)
        wheel, market = found.outcomes["propeller"].answers, search_market(found)
        assert wheel.size not in {row.size for row in market.answers.rows if row.area_ratio == wheel.area_ratio}
        said = only(market.findings, f"The wheel of the propeller page, {wheel.size}, with 3:1")
        assert said.verdict is Verdict.LOOK
        assert "is not among them: too little blade area. A wheel of this search keeps to Burrill's line" in said.text
        page = only(found.outcomes["propeller"].findings, "Burrill's chart asks for")
        assert is_told_what_the_search_goes_by(page.text)

    def test_it_says_what_a_wheel_takes_that_keeps_to_every_rule_but_ranks_behind(
        self, launch: Plan, change: Change
    ) -> None:
        """By the propeller page's own table: the search must not reckon the wheel otherwise."""
        found = assess(change(launch, {POWER: "12 kW", "gear.ratio": "2.5"}))
        searched, wheel = search_market(found), found.outcomes["propeller"].answers
        said = only(searched.findings, f"The wheel of the propeller page, {wheel.size}, with 2.5:1")
        assert said.verdict is Verdict.FITS
        burn = next(row.cruise_l_per_h for row in wheel.neighbours if row.chosen)
        more = 100 * (burn / searched.answers.rows[0].cruise_l_per_h - 1.0)
        assert f"keeps to every rule as well: at cruise it takes {more:.1f} % more, and in " in said.text
        share = round(1000 * wheel.reaches_rated_fraction)
        assert said.text.endswith(f"in {share} of 1,000 plausible boats the engine reaches its rated speed.")

    def test_it_says_why_the_gear_page_has_another_ratio(self, launch: Plan, change: Change) -> None:
        """With 16 kW the deepest ratio is 0.5 % faster, which the gear page calls the same, and thriftier."""
        offered = {POWER: "16 kW", "gear.ratios": "2; 2.5; 3; 3.5", "propeller.room": "560 mm"}
        found = assess(change(launch, offered))
        best, gear = search_market(found), found.outcomes["gear"].answers
        deeper = {row.ratio: row for row in gear.options}[best.answers.rows[0].ratio]
        assert (gear.ratio, deeper.ratio) == (3.0, 3.5)
        assert 1.0 < deeper.top_kn.best / gear.chosen.top_kn.best < 1.006
        assert deeper.cruise_l_per_h.best < 0.98 * gear.chosen.cruise_l_per_h.best
        assert "3:1: that page takes the least reduction" in only(best.findings, "The gear page has").text
        own = search_market(assess(change(launch, offered | {"gear.ratio": "2.5"})))
        assert "2.5:1: that is your own choice" in only(own.findings, "The gear page has").text
        assert not any("The gear page has" in finding.text for finding in search_market(assess(launch)).findings)

    def test_nothing_is_said_of_a_wheel_that_is_among_them(self, launch: Plan, change: Change) -> None:
        best = search_market(assess(launch)).answers.rows[0]
        again = search_market(assess(change(launch, dict(best.changes))))
        assert not [finding for finding in again.findings if "wheel of the propeller page" in finding.text]

    def test_where_no_wheel_keeps_to_the_usual_line_it_goes_to_that_of_the_propeller_page(
        self, launch: Plan, change: Change
    ) -> None:
        """It said that none suits, while the propeller page had one, or sent the owner here for one."""
        crowded = change(launch, CROWDED)
        wider = assess(change(crowded, {"propeller.area_ratio": "0.75"})).outcomes["propeller"].answers
        assert wider.size == "16 x 17 in, 3 blades"
        found = search_market(assess(crowded))
        said = only(found.findings, "No wheel keeps to Burrill's line for about 5 % cavitation.")
        assert (said.verdict, said.path) == (Verdict.LOOK, "propeller.room")
        taken = assess(change(crowded, dict(found.answers.rows[0].changes))).outcomes["propeller"]
        assert taken.answers is not None
        area = only(taken.findings, "Burrill's chart asks for").text
        assert is_told_what_the_search_goes_by(area)

    def test_of_a_wheel_too_narrow_for_that_line_it_says_whose_line_it_is(self, launch: Plan, change: Change) -> None:
        """It read "A wheel of this search keeps to his line", and had named nobody."""
        own = {"propeller.area_ratio": "0.35", "propeller.diameter": "16 in", "propeller.pitch": "15 in"}
        found = search_market(assess(change(launch, CROWDED | own)))
        said = only(found.findings, "The wheel of the propeller page, 16 x 15 in")
        assert "A wheel of this search keeps to Burrill's line for 10 % cavitation, which is not to be" in said.text

    def test_a_search_that_begins_anew_can_still_be_stopped_and_does_not_run_back(
        self, launch: Plan, change: Change
    ) -> None:
        shares: list[float] = []
        search_market(assess(change(launch, CROWDED)), shares.append)
        assert shares == sorted(shares)
        assert shares.count(1.0) > 2


def test_a_ratio_of_the_boat_as_given_is_told_from_that_of_the_middle_boat(launch: Plan, change: Change) -> None:
    """5 t on 11.2 m are 99.2; a displacement is sooner more than less than given, and the middle boat has 99.8."""
    found = assess(change(launch, {"hull.displacement": "5 t"})).outcomes["hull"]
    finding = only(found.findings, "The displacement-length ratio is 99.2; ")
    assert found.answers.displacement_length_ratio.best > 99.5
    assert finding.text.endswith("That ratio is of the boat as given; the answers have that of the middle boat.")
