"""Where the law may have a say in a repower; the owner asks, this program never decides."""

from engine.data import table
from engine.validity import positive

_LAW = table("installation")["law"]
POWER_INCREASE: float = _LAW["power_increase"]
"""Share by which rated power may rise before directive 2013/53/EU calls it a major engine modification; printed."""
LAW_NOTE = "Ask insurer, flag state and class before the order; this program decides nothing of that."


def noise_limit(power: float, engines: int = 1) -> float:
    """European limit of pass-by noise [dB] for a rated power of one engine [W].

    Source: directive 2013/53/EU, from memory.
    """
    limit = next(decibels for kilowatts, decibels in _LAW["noise_db"] if power <= kilowatts * 1e3)
    return float(limit) + (float(_LAW["twin_db"]) if engines > 1 else 0.0)


def is_deemed_quiet(froude: float, power: float, displacement: float) -> bool:
    """Whether a displacement boat is deemed to meet the noise limits: Froude number and power per weight low enough.

    power: of all engines [W].   displacement: [kg], > 0.   Raises: ValueError naming the argument.
    Source: directive 2013/53/EU, from memory.
    """
    per_tonne = power / float(positive("displacement", displacement))
    return bool(froude <= _LAW["deemed_froude"] and per_tonne <= _LAW["deemed_kw_per_tonne"])
