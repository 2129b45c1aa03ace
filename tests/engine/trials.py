"""Sea trials of boats that only the test knows, with at most one thing wrong."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from engine.assessment import Assessment
from engine.constants import HOUR, KNOT, LITRE, RPM
from engine.fleet import Fleet, thinned
from engine.hull.consensus import Consensus
from engine.numeric import Array
from engine.plan import Plan, text_at, with_row, with_text
from engine.stages.boats import boats_of
from engine.stages.drive import ElectricDrive
from engine.stages.logged_drive import TWO_RUNS, LoggedDrive, Reading
from engine.stages.resistance import opinion_of
from engine.stages.trial_boats import TrialBoats
from engine.stages.unknowns import scores_of

STEP = 200.0
LOWEST = {False: 1200.0, True: 600.0}
"""Engine speeds of a trial [rpm]; the lowest of an engine, and of a motor, which is geared to turn slower."""


@dataclass(frozen=True)
class Faults:
    """Factors on resistance, pitch and output."""

    hull: float = 1.0
    pitch: float = 1.0
    engine: float = 1.0


class Yard:
    """A plan as far as the propeller, with what it says fitted, and the boats that a trial is run with."""

    def __init__(self, found: Assessment) -> None:
        self.hull, self.speed, self.engine, self.gear, self.propeller = (
            found.outcomes[stage].answers for stage in ("hull", "speed", "engine", "gear", "propeller")
        )
        plan = found.plan
        for name, text in (
            ("gear_ratio", f"{self.gear.ratio}"),
            ("propeller_diameter", f"{self.propeller.diameter_m} m"),
            ("propeller_pitch", f"{self.propeller.pitch_m} m"),
            ("tachometer", "checked with an optical one"),
        ):
            plan = with_text(plan, f"trial.{name}", text)
        self.plan: Plan = plan

    @cached_property
    def fitted(self) -> LoggedDrive:
        fitted = LoggedDrive.fitted(self.plan, self.hull.water)
        assert fitted is not None
        return fitted

    @cached_property
    def opinion(self) -> Consensus:
        return opinion_of(self.plan, self.hull.form, self.speed.curve.speed, self.hull.water)

    def boats(self, fleet: Fleet) -> TrialBoats:
        """A fleet of this plan at its trial."""
        boats = boats_of(self.plan, self.hull.water, scores_of(fleet.scores))
        return TrialBoats.of(self.plan, self.hull, self.opinion, self.fitted, self.engine.drive, fleet, boats)

    @cached_property
    def expected(self) -> TrialBoats:
        """The boats before the trial."""
        return self.boats(thinned(self.hull.fleet, 256))

    def hidden(self, count: int) -> Iterator[TrialBoats]:
        """Boats that the plan allows for, one by one."""
        fleet = thinned(self.hull.fleet, count)
        for row in fleet.scores:
            yield self.boats(Fleet(row[None, :], np.ones(1)))

    def readings(self, boat: TrialBoats, faults: Faults, rng: np.random.Generator) -> tuple[Reading, ...]:
        """What would be read on its trial: both ways, and as far off as the plan takes such readings to be."""
        tried = boat.tried(hull=faults.hull, pitch=faults.pitch, engine=faults.engine)
        full = float(tried.full_throttle[0])
        is_electric = isinstance(boat.drive, ElectricDrive)
        turning: Array = np.append(np.arange(LOWEST[is_electric] * RPM, full - 0.5 * STEP * RPM, STEP * RPM), full)
        curves = tried.over(turning)
        taken = boat.drive.consumption(curves.delivered_power, turning)[0] * np.exp(0.05 * rng.normal())
        found = []
        for i, engine_speed in enumerate(turning):
            off = rng.normal(size=3)
            is_full = i == len(turning) - 1
            read = float(taken[i] * (1.0 + 0.03 * off[2]))
            found.append(
                Reading(
                    index=i,
                    engine_speed=float(engine_speed * (1.0 + (0.005 if is_full else 0.01) * off[0])),
                    speed=float(curves.boat_speed[0, i] + 0.10 * KNOT * off[1]),
                    fuel_flow=None if is_electric else read * LITRE / HOUR,
                    measured=TWO_RUNS,
                    full_throttle=is_full,
                    drawn=1e3 * read if is_electric else None,
                )
            )
        return tuple(found)

    def with_trial(self, readings: tuple[Reading, ...], current_kn: float = 0.4) -> Plan:
        """The plan with a trial entered as the owner would, in a current."""
        plan = self.plan
        for reading in readings:
            flow = {} if reading.fuel_flow is None else {"fuel_flow": f"{reading.fuel_flow * HOUR / LITRE:.3f} L/h"}
            drawn = {} if reading.drawn is None else {"drawn": f"{reading.drawn / 1e3:.3f} kW"}
            plan = with_row(
                plan,
                "trial.run",
                {
                    "engine_speed": f"{reading.engine_speed / RPM:.0f} rpm",
                    "speed": f"{reading.speed_kn + current_kn:.3f} kn",
                    "speed_back": f"{reading.speed_kn - current_kn:.3f} kn",
                    "throttle": "full" if reading.full_throttle else "part",
                    **flow,
                    **drawn,
                },
            )
        return plan


def with_the_pitch_asked_for(plan: Plan, new_pitch_m: float) -> Plan:
    """A tried plan with what comes next in it: the diameter that was fitted, with another pitch."""
    chosen = with_text(plan, "propeller.diameter", text_at(plan, "trial.propeller_diameter"))
    return with_text(chosen, "propeller.pitch", f"{new_pitch_m} m")
