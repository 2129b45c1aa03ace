"""What is said of range at the slow end, where the engine idles and no fuel map reaches."""

import re
from collections.abc import Callable

import pytest

from engine.findings import Verdict
from engine.plan import Plan
from tests.engine.one_after_another import assess

Change = Callable[[Plan, dict[str, str]], Plan]


@pytest.mark.parametrize(("idle", "slowest"), [("850 rpm", 850.0), ("", 0.27 * 2800.0)])
def test_the_curve_of_range_begins_where_the_engine_idles_or_usually_does(
    launch: Plan, change: Change, idle: str, slowest: float
) -> None:
    strong = {"engine.candidate.0.rated_power": "50 kW", "propeller.room": "760 mm", "propeller.area_ratio": "0.7"}
    plan = change(launch, {**strong, "engine.candidate.0.idle_speed": idle})
    ship = assess(plan).outcomes["range"].answers
    assert ship is not None
    turns = [row.engine_rpm.best for row in ship.curve]
    assert slowest <= turns[0] < slowest + 50.0


GUESS = "is a guess, and on the hopeful side: the line for marine diesels"


@pytest.mark.parametrize(("leg", "verdict"), [("", Verdict.FITS), ("60 nmi", Verdict.FITS), ("600 nmi", Verdict.LOOK)])
def test_a_best_range_at_a_load_that_no_fuel_map_reaches_is_called_a_guess(
    launch: Plan, change: Change, leg: str, verdict: Verdict
) -> None:
    found = assess(change(launch, {"range.leg": leg})).outcomes["range"]
    assert found.answers is not None
    (said,) = [finding for finding in found.findings if GUESS in finding.text]
    assert said.verdict is verdict
    by_line = float(re.findall(r"makes it (\d+) nmi", said.text)[0])
    # by hand: 14.12 g an hour for each rated kilowatt and 205.717 g for each that is given, of 840 g to the litre
    row = min(found.answers.curve, key=lambda row: abs(row.speed_kn - found.answers.best_kn))
    given = row.load_fraction.best * assess(launch).outcomes["engine"].answers.usable_power_kw.best
    hours = found.answers.planned_l * 840.0 / (14.12 * 30.0 + 205.717 * given)
    assert by_line == pytest.approx(hours * row.speed_kn, rel=0.01)
    assert by_line < found.answers.best_range_nmi.low


def test_where_the_line_lies_in_the_band_no_second_number_is_told(launch: Plan, change: Change) -> None:
    """The map of indirect injection was measured at light loads, and goes with the line."""
    kind = {"engine.candidate.0.kind": "indirect injection", "engine.candidate.0.fuel_at_rated": "250 g/kWh"}
    findings = assess(change(launch, kind)).outcomes["range"].findings
    (said,) = [finding.text for finding in findings if "is a guess" in finding.text]
    assert "is a guess, though the line for marine diesels" in said
    assert "makes it about as much. Measure" in said


def test_it_is_no_guess_by_the_makers_own_curve(launch: Plan, change: Change) -> None:
    curve = {
        "engine.candidate.0.fuel_speeds": "700 rpm; 1400 rpm; 2800 rpm",
        "engine.candidate.0.fuel_flows": "0.7 L/h; 1.6 L/h; 8.2 L/h",
    }
    found = assess(change(launch, curve)).outcomes["range"]
    assert found.answers is not None
    assert not any("is a guess" in finding.text for finding in found.findings)


@pytest.mark.parametrize(
    ("cruise", "idle", "says"),
    [("2 kn", "850 rpm", "and it idles at 850 rpm"), ("2 kn", "", "idles at about 756 rpm"), ("3.5 kn", "850 rpm", "")],
)
def test_a_cruising_speed_at_which_the_engine_would_turn_slower_than_it_idles_is_not_to_be_had(
    launch: Plan, change: Change, cruise: str, idle: str, says: str
) -> None:
    plan = change(launch, {"speed.cruise": cruise, "engine.candidate.0.idle_speed": idle})
    told = [f for f in assess(plan).outcomes["range"].findings if "In gear she cannot go so slowly" in f.text]
    assert [f.verdict for f in told] == ([Verdict.LOOK] if says else [])
    assert all(says in finding.text and finding.path == "speed.cruise" for finding in told)
