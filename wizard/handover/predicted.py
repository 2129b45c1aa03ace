"""What the trial card prints beside its boxes: speed and consumption expected at an engine speed."""

from dataclasses import dataclass

import numpy as np

from engine.bands import UNKNOWN, Band
from engine.constants import RPM
from engine.stages.drive import Drive
from wizard.handover.lines import Asked


@dataclass(frozen=True)
class Predicted:
    """Clean, in calm water.   speed_kn: of the boat.   per_hour: of all engines, L/h of a diesel or kW of a motor."""

    speed_kn: Band
    per_hour: Band


def predicted_at(asked: Asked, engine_rpm: float) -> Predicted | None:
    """At an engine speed, on straight lines between those worked out; None outside them, or before the propeller is."""
    propeller, engine = asked.answers("propeller"), asked.answers("engine")
    rows = () if propeller is None or engine is None else propeller.match
    speeds = [row.engine_rpm for row in rows]
    if not speeds or not speeds[0] <= engine_rpm <= speeds[-1]:
        return None
    speed, demand = (
        Band(
            *(
                float(np.interp(engine_rpm, speeds, [getattr(getattr(row, name), part) for row in rows]))
                for part in _PARTS
            )
        )
        for name in ("speed_kn", "demand_kw")
    )
    return Predicted(speed, _consumed(engine.drive, demand, engine_rpm).scaled(engine.engines))


_PARTS = ("best", "low", "high")


def _consumed(drive: Drive, demand_kw: Band, engine_rpm: float) -> Band:
    """Of one engine for the power that the propeller asks of it."""
    if not demand_kw.is_known:
        return UNKNOWN
    return demand_kw.mapped(lambda kw: float(drive.per_hour(drive.engine_rate(kw * 1e3, engine_rpm * RPM))))
