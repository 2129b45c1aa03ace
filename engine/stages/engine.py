"""Stage 4: which engine? Power available against power demanded, candidates side by side."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from engine.answers import answer, maybe, table
from engine.bands import Band
from engine.constants import RPM
from engine.findings import Outcome
from engine.machinery.duty_cycles import DUTY_CYCLES
from engine.machinery.fuel import G_PER_KWH
from engine.numeric import Array
from engine.plan import Plan
from engine.stages.boats import each_boat
from engine.stages.candidates import CandidateRow, Rival, Rivals, candidate_row
from engine.stages.cases import Cases
from engine.stages.drive import DieselDrive, ElectricDrive
from engine.stages.engine_findings import engine_findings
from engine.stages.hull import HullAnswers
from engine.stages.loading import Loading
from engine.stages.speed import SpeedAnswers


@dataclass(frozen=True)
class EngineRow:
    """One engine speed: what the engine can give, and what the hull asks for through a propeller that suits it."""

    engine_rpm: float = answer("Engine speed", digits=4)
    available_kw: float = answer("Full-load power")
    demand_kw: Band = answer("Demand, calm", spread=True)
    service_demand_kw: Band = answer("Demand, with margin")


@dataclass(frozen=True, kw_only=True)
class EngineAnswers:
    """The chosen candidate. Power figures are for one engine, at its crankshaft."""

    name: str = answer("Engine")
    engines: int = answer("Number of engines")
    rated_power_kw: float = answer("Rated power at the crankshaft")
    aboard_fraction: float | None = maybe("Left of it in your air and water", only_known=True)
    usable_power_kw: Band = answer("Power left after losses aboard")
    power_at_propeller_kw: Band = answer("Power that reaches the propeller")
    rated_rpm: float = answer("Rated engine speed", digits=4)
    cruise_load_fraction: Band = answer("Load at cruise, calm")
    cruise_service_load_fraction: Band = answer("Load at cruise, with margin")
    head_wind_load_fraction: Band | None = maybe("Load at cruise into a head wind", only_known=True)
    reserve_fraction: Band = answer("Left at cruise, with margin")
    top_load_fraction: Band = answer("Load at the top speed wanted")
    cruise_rpm: float = answer("Engine speed at cruise, about")
    reachable_kn: Band = answer("Speed it could reach, calm")
    weight_change_kg: float | None = maybe("Change of weight")
    cycle_e5_g_per_kwh: float | None = maybe("Specific consumption over test cycle E5", only_known=True)
    cycle_e3_g_per_kwh: float | None = maybe("Specific consumption over test cycle E3", only_known=True)
    drive: DieselDrive | ElectricDrive
    rivals: Rivals
    curve: tuple[EngineRow, ...] = table("Power available and demanded")
    candidates: tuple[CandidateRow, ...] = table("Candidates side by side, each with a propeller that would suit it")

    @property
    def chosen(self) -> Rival:
        """The candidate that the later pages work with."""
        return self.rivals.chosen


_CURVE_FROM, _CURVE_TO, _CURVE_POINTS = 0.4, 1.05, 27
"""Engine speeds of the curve: from and to this much of rated speed, and how many (ours)."""


def assess_engine(
    plan: Plan,
    hull: HullAnswers,
    speed: SpeedAnswers,
    cases: Cases,
    rivals: Rivals,
) -> Outcome[EngineAnswers]:
    """Every complete candidate against the demand of the boat; the chosen one in detail."""
    chosen, drive = rivals.chosen, rivals.drive
    loading, fleet = chosen.loading, hull.fleet
    output = each_boat(hull.boats.engine_output, fleet.rows)
    row = candidate_row(plan, chosen, speed, chosen=True)
    answers = EngineAnswers(
        name=chosen.name,
        engines=loading.demand.screws,
        rated_power_kw=row.rated_power_kw,
        aboard_fraction=drive.if_fuel(drive.derating),  # a motor loses nothing to them
        usable_power_kw=fleet.band(output * drive.usable_power / 1e3),
        power_at_propeller_kw=fleet.band(output * drive.power_at_propeller / 1e3),
        rated_rpm=row.rated_rpm,
        cruise_load_fraction=row.cruise_load_fraction,
        cruise_service_load_fraction=fleet.band(loading.cruise_service),
        head_wind_load_fraction=None if cases.head_wind is None else fleet.band(loading.cruise_head_wind),
        reserve_fraction=row.reserve_fraction,
        top_load_fraction=row.top_load_fraction,
        cruise_rpm=row.cruise_rpm,
        reachable_kn=row.reachable_kn,
        weight_change_kg=row.weight_change_kg,
        cycle_e5_g_per_kwh=_over_cycle(drive, "E5"),
        cycle_e3_g_per_kwh=_over_cycle(drive, "E3"),
        drive=drive,
        rivals=rivals,
        curve=tuple(engine_curve(loading)),
        candidates=tuple(
            row if rival is chosen else candidate_row(plan, rival, speed, chosen=False) for rival in rivals.every
        ),
    )
    return Outcome(answers, tuple(engine_findings(plan, hull, speed, cases, chosen)))


def _over_cycle(drive: DieselDrive | ElectricDrive, name: str) -> float | None:
    if isinstance(drive, ElectricDrive):
        return None
    return drive.over_cycle(DUTY_CYCLES[name]) / G_PER_KWH


def engine_curve(loading: Loading) -> Iterator[EngineRow]:
    """Power available and demanded over engine speed; no demand where the boat's speed leaves those worked out."""
    drive, demand, fleet = loading.drive, loading.demand, loading.fleet
    grid = demand.resistance.speed
    turning, in_service = (np.asarray(p.shaft_speed) for p in (demand.propeller, demand.service_propeller))
    scale = loading.engine_per_shaft_speed
    engine_speed = np.linspace(_CURVE_FROM, _CURVE_TO, _CURVE_POINTS) * drive.engine.rated_speed
    available = drive.full_load(engine_speed)

    def demanded(turns: Array, *, service: bool) -> tuple[Band, ...]:
        boat_speed = np.interp(engine_speed, turns * scale, grid, left=np.nan, right=np.nan)
        each = demand.each_delivered_power(boat_speed, service=service) / demand.screws
        return fleet.each_band(drive.at_crankshaft(each) / 1e3)

    calm, service = demanded(turning, service=False), demanded(in_service, service=True)
    for i in range(_CURVE_POINTS):
        yield EngineRow(
            engine_rpm=float(engine_speed[i]) / RPM,
            available_kw=float(available[i]) / 1e3,
            demand_kw=calm[i],
            service_demand_kw=service[i],
        )
