"""The propeller series by name, the usual one for a number of blades, and each with the corrections that belong to it.

A new series is one table in engine/data and one line in SERIES.
"""

from collections.abc import Mapping
from types import MappingProxyType

from engine.numeric import Real
from engine.propeller.open_water import BladeFamily, OpenWaterSeries, series_from_table
from engine.propeller.wageningen import WAGENINGEN_B, correction_family

SERIES: Mapping[str, OpenWaterSeries] = MappingProxyType(
    {
        series.name: series
        for series in (
            WAGENINGEN_B,
            series_from_table("gawn"),
            series_from_table("kca"),
        )
    }
)
"""Every series by the name in its table: wageningen_b, gawn, kca."""

_USUAL_BY_BLADES = {3: "gawn", 4: "gawn"}
_USUAL_OTHERWISE = "wageningen_b"


def usual_series(blades: int) -> OpenWaterSeries:
    """The series nearest to the stock propellers of a number of blades.

    blades: number.   Returns: the Gawn series for three and four, the Wageningen B-series for the rest.
    Source: our choice. Stock wheels have flat faces and wide round blades, as Gawn's models; the series has no other
    number of blades without doubt. Efficiencies of the series differ by 3 to 5 %.
    """
    return SERIES[_USUAL_BY_BLADES.get(blades, _USUAL_OTHERWISE)]


def series_with_no_way_on(series: OpenWaterSeries) -> OpenWaterSeries:
    """The series that answers for such blades at J = 0: itself where it was tested so slow, else the Gawn series.

    Source: ours. The Gawn-Burrill polynomial ends at J = 0.3; carried on to 0 its fine pitches would pull more than an
    ideal disc of their size and power. Gawn's blades are flat-faced as well, and were tested from J = 0.
    """
    return series if series.lowest_advance_ratio == 0.0 else SERIES["gawn"]


def corrected_family(series: OpenWaterSeries, area_ratio: Real, blades: Real, reynolds: Real) -> BladeFamily:
    """Blades of one outline at any pitch, corrected for their Reynolds number if the series has such a correction.

    area_ratio: expanded AE/A0 [-].   blades: number.   reynolds: as `wageningen.reynolds_number` [-]. They broadcast.
    Returns: family of their shape; of the shape of area and blades alone where no correction belongs to the series.
    Valid: the correction holds Rn to 2e6..2e9; `wageningen.reynolds_correction` has the records.
    Source: that of the series; its correction, `wageningen.reynolds_correction`.
    """
    family = series.family(area_ratio, blades)
    return family + correction_family(area_ratio, blades, reynolds) if series.reynolds_correction else family
