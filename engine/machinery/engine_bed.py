"""What the mounts and the bed must bear."""

from dataclasses import dataclass

from engine.constants import GRAVITY
from engine.validity import not_negative, positive


@dataclass(frozen=True)
class MountLoads:
    """Loads [N].

    fore, aft: weight on one mount of each pair.   torque: added to each mount of one side, taken off the other.
    thrust: of the propeller, on all mounts together, unless a thrust block takes it.   heaviest: on one mount, down.
    """

    fore: float
    aft: float
    torque: float
    thrust: float
    heaviest: float


def mount_loads(
    mass: float, ahead: float, behind: float, track: float, shaft_torque: float, thrust: float
) -> MountLoads:
    """Loads of four mounts, fore pair and after pair.

    mass: of engine and gear [kg], > 0.   ahead, behind: from its centre of gravity to the pairs [m], > 0.
    track: between port and starboard mounts [m], > 0.   shaft_torque: behind the gear [N m], >= 0.   thrust: [N], >= 0.
    Raises: ValueError naming the argument.
    Source: statics; two mounts on each side share the torque's couple equally.
    """
    weight = GRAVITY * float(positive("mass", mass))
    base = float(positive("ahead", ahead) + positive("behind", behind))
    fore, aft = 0.5 * weight * behind / base, 0.5 * weight * ahead / base
    torque = 0.5 * float(not_negative("shaft_torque", shaft_torque) / positive("track", track))
    return MountLoads(fore, aft, torque, float(not_negative("thrust", thrust)), max(fore, aft) + torque)
