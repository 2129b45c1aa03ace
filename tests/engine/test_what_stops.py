"""What stops a plan stops it, and what wants a second look gets one: the verdict, and the field that it leads to.

A stop that slips to a second look lets the owner order. These are the ones that no other test held.
"""

from collections.abc import Callable

import pytest

from engine.findings import Verdict
from engine.machinery.derating import judge_intake_temperature
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]
FIRST = "engine.candidate.0."
COARSE = {"propeller.diameter": "20 in", "propeller.pitch": "19 in"}
FINE = {"propeller.diameter": "23 in", "propeller.pitch": "14 in"}
"""Wheels that hold the engine down, and that are large for the room."""

STOPS = [
    ({"propeller.room": "515 mm", "gear.ratio": "3"}, "gear", "no propeller of the blades asked for", "gear.ratio"),
    ({"propeller.room": "515 mm", "gear.ratio": "3"}, "propeller", "No stock size in the room", "gear.ratio"),
    (
        {"propeller.diameter": "20 in", "propeller.pitch": "40 in"},
        "propeller",
        "the size you chose lies outside",
        "propeller.pitch",
    ),
    ({"power.water_depth": "1.25 m"}, "range", "no steady speed at full throttle is found", "power.water_depth"),
    ({f"{FIRST}rated_power": "7 kW"}, "engine", "takes more power than the engine has", "power.sea_margin"),
]
LOOKS = [
    ({"engine.intake_air": "55 C"}, "engine", "hotter than one maker allows", "engine.intake_air"),
    ({"propeller.room": "515 mm"}, "engine", "one plausible boat in ten would need", "speed.top"),
    ({"power.water_depth": "1.25 m"}, "engine", "the water is too shallow for the formula", "power.water_depth"),
    ({f"{FIRST}rated_power": "120 kW"}, "engine", "well above hull speed", ""),
    ({f"{FIRST}rated_power": "20 kW"}, "engine", "little is left for a foul bottom", "speed.top"),
    ({f"{FIRST}rated_power": "9 kW"}, "engine", "so she will have to slow down", f"{FIRST}rated_power"),
    ({f"{FIRST}rated_power": "9 kW"}, "engine", "at cruise does not hold that", ""),
    ({"engine.chosen": "second"}, "engine", "The duty class is not given", "engine.candidate.1.duty"),
    ({"engine.chosen": "second"}, "fit", "are not all known: weigh them", "present.engine_weight"),
    ({"speed.cruise": "8.5 kn", "speed.top": "9 kn"}, "power", "displacement rules are left out", "speed.cruise"),
    ({"gear.ratings": "1 kW per 100 rpm; 2 kW per 100 rpm"}, "gear", "so none of them is used", "gear.ratings"),
    ({"shaft.overhang": ""}, "shaft", "the critical speed is that of the bare shaft", "shaft.overhang"),
    ({"gear.rating": ""}, "gear", "The rating of the gear is not given", "gear.rating"),
    ({"hull.appendage_area": ""}, "hull", "because none is given", "hull.appendage_area"),
    ({"hull.keel_draft": "0.65 m"}, "hull", "The hull draft leaves the keel out", "hull.hull_draft"),
    ({"hull.prismatic": "0.72"}, "hull", "The prismatic coefficient you gave, 0.72, lies outside", "hull.prismatic"),
    ({"hull.prismatic": "0.72"}, "hull", "outside some range of every method", "present.log"),
    ({"power.wave_height": "0.3 m", "power.sea_margin": "0 %"}, "power", "a rough guess", "power.wave_height"),
    (
        {"hull.windage_area": "", "power.head_wind": "10 kn"},
        "power",
        "the head wind that you give counts for nothing",
        "hull.windage_area",
    ),
    (COARSE, "propeller", "plausible boats the engine reaches its rated speed", "propeller.pitch"),
    (COARSE, "propeller", "Take more blade area.", "propeller.area_ratio"),
    (COARSE, "propeller", "The number of cylinders is not given", "engine.candidate"),
    (COARSE, "propeller", "With all that you allow for", ""),
    ({"propeller.shaft_depth": "0.2 m"}, "propeller", "it may draw air", "propeller.shaft_depth"),
    ({}, "propeller", "In an aperture the inflow is poor", ""),
    ({}, "shaft", "The strength of S31600 is from memory", "shaft.material"),
    ({}, "shaft", "70 % in contact", ""),
    (FINE, "propeller", "That is less in hand than the 3 % asked for", "propeller.pitch"),
    (FINE, "propeller", "The tips clear the hull by 6 % of the diameter", "propeller.diameter"),
    ({}, "gear", "The hand of the propeller is not known", ""),
    ({}, "gear", "A gear turns its output the same way", "gear.output_turns"),
    ({}, "shaft", "Tapers in service differ", ""),
    ({}, "shaft", "Align with the boat afloat", "shaft.flange"),
    ({}, "fit", "Say where the present engine stands", "fit.present_place"),
    ({}, "engine", "No specific consumption is given", f"{FIRST}fuel_at_rated"),
    ({}, "engine", "Say how many hours a year you run", "engine.hours_per_year"),
]
CASES = [(Verdict.STOP, *row) for row in STOPS] + [(Verdict.LOOK, *row) for row in LOOKS]


@pytest.mark.parametrize(("verdict", "changes", "page", "words", "path"), CASES)
def test_the_verdict_and_where_it_leads(
    launch: Plan, change: Change, verdict: Verdict, changes: dict[str, str], page: str, words: str, path: str
) -> None:
    findings = assess(change(launch, changes)).outcomes[page].findings
    (found,) = [finding for finding in findings if words in finding.text]
    assert (found.verdict, found.path) == (verdict, path)


def test_air_over_45_degrees_wants_a_second_look() -> None:
    """One small-engine maker (anonymised), printed."""
    assert [judge_intake_temperature(air).verdict for air in (45.0, 46.0)] == [Verdict.FITS, Verdict.LOOK]
