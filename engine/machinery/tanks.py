"""Volume in a tank by dipstick, for the usual shapes; sound upright and level, and add several tanks up.

Source: geometry. Raises: ValueError naming an argument that no tank can have, and for a depth over the tank's own,
which is a reading of another tank.
"""

import numpy as np

from engine.numeric import Array, Real, plain
from engine.validity import not_negative, positive


def _depth(depth: Real, full_depth: Array) -> Array:
    reading = not_negative("depth", depth)
    if np.any(reading > full_depth * (1.0 + 1e-9)):
        raise ValueError("depth must not be over the depth of the tank")
    return np.asarray(np.minimum(reading, full_depth))


def box_volume(length: Real, breadth: Real, depth: Real) -> Real:
    """Volume [m3] of a box filled to a depth; length, breadth > 0, depth >= 0 [m]."""
    return plain(positive("length", length) * positive("breadth", breadth) * not_negative("depth", depth))


def wedge_volume(full_volume: Real, depth: Real, full_depth: Real) -> Real:
    """Volume [m3] of a V-bottomed tank whose sides slope to a point, filled to a depth.

    full_volume: [m3], > 0.   depth: from the point [m].   full_depth: [m], > 0.
    """
    height = positive("full_depth", full_depth)
    return plain(positive("full_volume", full_volume) * (_depth(depth, height) / height) ** 2)


def tapered_volume(length: Real, bottom_breadth: Real, top_breadth: Real, depth: Real, full_depth: Real) -> Real:
    """Volume [m3] of a prism with sloping sides, filled to a depth.

    length: [m], > 0.   bottom_breadth, top_breadth: at depth 0 and full_depth [m], >= 0.   full_depth: [m], > 0.
    """
    height = positive("full_depth", full_depth)
    reading = _depth(depth, height)
    bottom, top = not_negative("bottom_breadth", bottom_breadth), not_negative("top_breadth", top_breadth)
    return plain(positive("length", length) * reading * (bottom + (top - bottom) * reading / (2.0 * height)))


def horizontal_cylinder_volume(length: Real, radius: Real, depth: Real) -> Real:
    """Volume [m3] of a cylinder lying on its side with flat ends, filled to a depth; length, radius > 0 [m]."""
    r = positive("radius", radius)
    h = _depth(depth, 2.0 * r)
    segment = r**2 * np.arccos((r - h) / r) - (r - h) * np.sqrt(np.maximum(2.0 * r * h - h**2, 0.0))
    return plain(positive("length", length) * segment)
