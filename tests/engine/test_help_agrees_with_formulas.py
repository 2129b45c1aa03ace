"""What the help says that a field changes, in numbers, against the formulas that the program works with."""

import pytest

from engine.constants import KNOT
from engine.data import table
from engine.hull.friction import friction_coefficient_ittc57, hull_reynolds_number
from engine.machinery.derating import SiteConditions, pressure_at_altitude, site_adjustment
from engine.plan import Plan, entry_at, with_text
from engine.stages.hull import HullAnswers
from engine.stages.power import PowerAnswers
from engine.stages.propeller_answers import PropellerAnswers
from engine.water import water
from tests.engine.one_after_another import assess


def friction(celsius: float) -> float:
    sea = water("sea", celsius)
    return float(friction_coefficient_ittc57(hull_reynolds_number(6.0 * KNOT, 10.0, sea)) * sea.density)


def test_friction_over_the_range_of_water_temperatures() -> None:
    """The help said 2 %, which is what 5 C do."""
    assert friction(0.0) / friction(30.0) - 1.0 == pytest.approx(0.14, abs=0.01)
    assert "14 per cent over the whole range" in entry_at("hull.water_temperature").changes


def power_left(kind: str, celsius: float = 25.0, height: float = 0.0) -> float:
    site = SiteConditions(pressure_at_altitude(height), celsius, 0.3, 25.0)
    return float(site_adjustment(kind, site).power_ratio)


@pytest.mark.parametrize(
    ("kind", "lost"), [("direct injection", 0.04), ("turbocharged", 0.07), ("turbocharged and charge-cooled", 0.04)]
)
def test_power_lost_for_ten_degrees_at_the_intake(kind: str, lost: float) -> None:
    assert 1.0 - power_left(kind, 35.0) / power_left(kind) == pytest.approx(lost, abs=0.006)
    assert f"{100.0 * lost:.0f} %" in entry_at("engine.intake_air").changes


@pytest.mark.parametrize(("kind", "lost"), [("direct injection", "1.4 %"), ("turbocharged", "1 %")])
def test_power_lost_for_a_hundred_metres_of_height(kind: str, lost: str) -> None:
    """The help said 1 % of one without turbocharger, and nothing of one with."""
    share = 1.0 - power_left(kind, height=100.0) / power_left(kind)
    assert share == pytest.approx(float(lost.removesuffix(" %")) / 100.0, abs=0.0005)
    assert lost in entry_at("engine.altitude").changes


def worked_out(plan: Plan) -> tuple[float, float]:
    """Power at cruise [kW], and pitch at the handbook's diameter, which does not jump from stock size to size [m]."""
    outcomes = assess(plan).outcomes
    power, propeller = outcomes["power"].answers, outcomes["propeller"].answers
    assert isinstance(power, PowerAnswers)
    assert isinstance(propeller, PropellerAnswers)
    assert propeller.series_pitch_m is not None
    return power.cruise_shaft_power_kw.best, propeller.series_pitch_m


def test_what_the_wake_changes(launch: Plan) -> None:
    """A quarter of an inch on 14 in is 1.8 %; the help said half an inch."""
    (_, coarse), (_, fine) = (worked_out(with_text(launch, "power.wake", text)) for text in ("0.20", "0.25"))
    assert 1.0 - fine / coarse == pytest.approx(0.25 / 14.0, abs=0.005)
    assert "0.05 of wake is about a quarter of an inch on a 14 inch pitch" in entry_at("power.wake").changes


def test_what_the_place_of_the_propeller_changes(launch: Plan) -> None:
    """From a strut in clear water to an aperture; the help said five to ten per cent of pitch."""
    places = ("on a shaft and strut in clear water", "in an aperture behind a full keel")
    strut, aperture = (worked_out(with_text(launch, "hull.propeller_place", place)) for place in places)
    assert aperture[0] / strut[0] - 1.0 == pytest.approx(0.10, abs=0.03)
    assert strut[1] / aperture[1] - 1.0 == pytest.approx(0.03, abs=0.01)
    assert "power by about ten per cent and the pitch by about three" in entry_at("hull.propeller_place").changes


def test_what_a_tenth_above_hull_speed_takes(launch: Plan) -> None:
    """The help said half as much power again, or more, and the speed page twice the power for an eighth."""
    hull = assess(launch).outcomes["hull"].answers
    assert isinstance(hull, HullAnswers)
    at, above = (
        assess(with_text(launch, "speed.top", f"{share * hull.hull_speed_kn.best} kn")).outcomes["power"].answers
        for share in (1.0, 1.1)
    )
    assert isinstance(at, PowerAnswers)
    assert isinstance(above, PowerAnswers)
    assert above.top_shaft_power_kw.best / at.top_shaft_power_kw.best == pytest.approx(2.0, abs=0.4)
    assert "a tenth above it asks for about twice the power" in entry_at("speed.top").how


def test_what_the_shape_above_the_water_changes() -> None:
    """The help said a fifth or so."""
    kinds = table("air_drag")["kinds"]
    middles = [sum(row["drag_coefficient"]) / 2.0 for row in kinds.values()]
    assert max(middles) / kinds["unknown"]["default"] - 1.0 == pytest.approx(0.45, abs=0.02)
    assert "up to 45 per cent" in entry_at("hull.upperworks").changes
