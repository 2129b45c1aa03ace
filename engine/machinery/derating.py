"""What is left of a diesel's rated power in other air and water than its data sheet is declared for."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from engine.data import table
from engine.findings import Finding, fits, look
from engine.machinery.diesel import EngineKind
from engine.machinery.engine_air import INTAKE_LIMIT_C
from engine.numeric import Real, plain
from engine.validity import OutOfRange, not_negative, outside_range, positive

_DERATING = table("derating")
_REFERENCE: Mapping[str, float] = _DERATING["reference"]
_SATURATION: Mapping[str, float] = _DERATING["saturation"]
_ATMOSPHERE: Mapping[str, float] = _DERATING["atmosphere"]

STATUS: str = _DERATING["status"]
REFERENCE_C: float = _REFERENCE["temperature_c"]
"""Air at the intake that data sheets are declared for [C]."""
MECHANICAL_EFFICIENCY: float = _REFERENCE["mechanical_efficiency"]
_ZERO_C = 273.0
"""The standard reckons 25 C as 298 K."""
_LOSS_OF_WARMTH = 0.7
"""The standard's factor of the friction term in alpha."""
AIR_PRESSURE = "air pressure"
"""What `check_site` calls it, in kPa."""
_AIR_C, _AIR_KPA = (-20.0, 60.0), (60.0, 106.0)
"""What the formula can be believed for, at the intake (ours)."""
_INTAKE_SOURCE = "one small-engine maker (anonymised), printed"


@dataclass(frozen=True, eq=False)
class SiteConditions:
    """Air and water that an engine works in; any one broadcast shape.

    air_pressure: [Pa], > 0.   air_temperature: at the intake [C].   humidity: relative [-], 0 to 1.
    raw_water_temperature: [C]; the coolant of a charge cooler is taken to be as warm.
    """

    air_pressure: Real
    air_temperature: Real
    humidity: Real
    raw_water_temperature: Real


@dataclass(frozen=True, eq=False)
class SiteAdjustment:
    """Power and fuel at a site over those of the data sheet.

    indicated_ratio: k of the standard.   power_ratio: alpha.   consumption_ratio: of fuel per energy, beta.   All [-].
    """

    indicated_ratio: Real
    power_ratio: Real
    consumption_ratio: Real

    @property
    def claimed_power_ratio(self) -> Real:
        """alpha, not above one: the standard lets nobody claim more than the rating. What was above is in
        power_ratio."""
        return plain(np.minimum(self.power_ratio, 1.0))


def saturation_pressure(temperature_c: Real) -> Real:
    """Pressure of saturated water vapour [Pa] at a temperature [C].

    Valid: 0 to 60 C.   Source: Buck's equation, from memory; 3.17 kPa at 25 C.
    """
    t = np.asarray(temperature_c, dtype=float)
    exponent = (_SATURATION["a"] - t / _SATURATION["b"]) * t / (_SATURATION["c"] + t)
    return plain(1e3 * _SATURATION["base_kpa"] * np.exp(exponent))


def pressure_at_altitude(altitude: Real) -> Real:
    """Pressure of the standard atmosphere [Pa] at a height above the sea [m].

    Valid: -500 to 11000 m.   Source: ISO 2533, from memory.
    """
    share = 1.0 - _ATMOSPHERE["lapse"] * np.asarray(altitude, dtype=float)
    return plain(_ATMOSPHERE["sea_level_pa"] * share ** _ATMOSPHERE["exponent"])


def site_adjustment(
    kind: EngineKind | str, site: SiteConditions, *, mechanical_efficiency: Real = MECHANICAL_EFFICIENCY
) -> SiteAdjustment:
    """Power and specific consumption of a diesel at a site.

    kind: one of the kinds of diesel, or a row of the standard such as "naturally aspirated, limited by heat".
    mechanical_efficiency: [-], > 0 to 1; 0.80 from memory.
    Returns: SiteAdjustment; broadcast shape of the site.
    Raises: ValueError naming the argument.
    Valid: low- and medium-speed four-strokes; for small high-speed engines a stand-in until the maker answers.
    Source: ISO 3046-1 (2002), from memory.
    """
    rows = _DERATING["adjustment"]
    name = _DERATING["adjustment_of_kind"].get(kind, kind)
    if name not in rows:
        raise ValueError(f"kind must be one of {', '.join((*_DERATING['adjustment_of_kind'], *rows))}, not {kind!r}")
    row = rows[name]
    vapour = row["humidity_factor"] * not_negative("humidity", site.humidity)
    dry = positive("air_pressure", site.air_pressure) - vapour * np.asarray(saturation_pressure(site.air_temperature))
    dry_reference = 1e3 * _REFERENCE["pressure_kpa"] - row["humidity_factor"] * _REFERENCE["humidity"] * float(
        saturation_pressure(_REFERENCE["temperature_c"])
    )
    air = _REFERENCE["temperature_k"] / positive("air_temperature in kelvin", site.air_temperature + _ZERO_C)
    coolant = (_REFERENCE["charge_coolant_c"] + _ZERO_C) / positive(
        "raw_water_temperature in kelvin", site.raw_water_temperature + _ZERO_C
    )
    k = (
        positive("dry air pressure", dry / dry_reference) ** row["pressure_exponent"]
        * air ** row["air_exponent"]
        * coolant ** row["coolant_exponent"]
    )
    friction = 1.0 / positive("mechanical_efficiency", mechanical_efficiency) - 1.0
    alpha = k - _LOSS_OF_WARMTH * (1.0 - k) * friction
    return SiteAdjustment(plain(k), plain(alpha), plain(k / positive("power left", alpha)))


def check_site(site: SiteConditions) -> tuple[OutOfRange, ...]:
    """Where a site lies beyond what the formula can be believed for: -20 to 60 C at the intake, 60 to 106 kPa.

    Returns: records in C and in kPa, that of the pressure called `AIR_PRESSURE`.   Source: the limits are ours.
    """
    note = "the formula is not meant for it"
    air = outside_range("air at the intake", site.air_temperature, *_AIR_C, note)
    return air + outside_range(AIR_PRESSURE, np.asarray(site.air_pressure) / 1e3, *_AIR_KPA, note)


def judge_intake_temperature(temperature_c: float, said: str = "") -> Finding:
    """Verdict on the air at the engine's intake [C].   said: it and the data sheet's, as the owner is to read them.

    Source: one small-engine maker (anonymised), printed.
    """
    words = f"The engine breathes air of {said or f'{temperature_c:.0f} C (its data sheet is for {REFERENCE_C:.0f} C)'}"
    if temperature_c > INTAKE_LIMIT_C:
        return look(f"{words}: hotter than one maker allows. Lead outside air to its filter.", _INTAKE_SOURCE)
    return fits(f"{words}, within what one maker allows.", _INTAKE_SOURCE)
