"""The chosen diesel at full power, as the checks on air, exhaust, water and fuel want it."""

from dataclasses import dataclass

from engine.machinery.diesel import TURBOCHARGED
from engine.machinery.fuel import DIESEL
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.stages.drive import DieselDrive
from engine.stages.engine import EngineAnswers


@dataclass(frozen=True)
class FullPower:
    """One engine at its rating.   power: at its crankshaft [W].   fuel: [kg/s].   engines: how many there are."""

    item: Candidate
    kind: str
    power: float
    fuel: float
    engines: int

    @property
    def fuel_power(self) -> float:
        """Power in the fuel [W]."""
        return self.fuel * DIESEL.heating_value

    @property
    def is_turbocharged(self) -> bool:
        """Whether a turbocharger stands in its exhaust."""
        return self.kind in TURBOCHARGED


def full_power_of(engine: EngineAnswers) -> FullPower | None:
    """The chosen diesel at its rating; None for an electric drive."""
    drive, item = engine.drive, engine.chosen.item
    if not isinstance(drive, DieselDrive) or isinstance(item, Motor):
        return None
    rated = drive.engine.crankshaft_rated_power
    fuel = float(drive.engine_rate(rated, drive.engine.rated_speed))
    return FullPower(item, drive.engine.kind, rated, fuel, engine.engines)
