"""What to measure next: the actions of the power page and of the propeller page, merged, the most worthwhile first."""

from dataclasses import dataclass
from math import sqrt
from typing import TYPE_CHECKING

from engine.answers import Label, shown
from engine.bands import Band
from engine.plan import page_of

if TYPE_CHECKING:
    from engine.assessment import Assessment

TITLE = "What to measure next"
MEANING = (
    "Each line takes away a share of the doubt in two answers: the shaft power at cruise, and the rpm at full "
    "throttle. The more it takes away, the sooner it is worth doing."
)


@dataclass(frozen=True)
class Measure:
    """One thing to do.

    power, full_throttle: shares of the doubt that it takes away, 0 to 1.   page, path: where its result is entered.
    """

    action: str
    power: float
    full_throttle: float
    settles: str
    path: str

    @property
    def page(self) -> str:
        """The page with the field."""
        return page_of(self.path)

    @property
    def shares(self) -> tuple[str, str]:
        """Both shares as text; what is not worth naming is a dash."""
        return _percent(self.power), _percent(self.full_throttle)


def measures(assessment: "Assessment") -> tuple[Measure, ...]:
    """The actions of both pages, those that take away most of either doubt first; none before there are answers."""
    paths: dict[str, str] = {}
    shares: dict[str, dict[str, float]] = {}
    settles: dict[str, str] = {}
    for stage in ("power", "propeller"):
        answers = assessment.outcomes[stage].answers
        for row in answers.doubt if answers is not None else ():
            shares.setdefault(row.action, {})[stage] = row.share_fraction
            settles[row.action], paths[row.action] = row.settles, row.path
    found = (
        Measure(action, share.get("power", 0.0), share.get("propeller", 0.0), settles[action], paths[action])
        for action, share in shares.items()
    )
    return tuple(sorted(found, key=lambda measure: -max(measure.power, measure.full_throttle)))


def doubt_words(assessment: "Assessment", path: str, units: str) -> str:
    """How much of the doubt in the power at cruise one field makes, and how narrow its band would be without; "" when
    it makes next to none."""
    power = assessment.outcomes["power"].answers
    rows = [] if power is None else [row for row in power.doubt if row.path == path]
    if power is None or not rows:
        return ""
    share = rows[0].share_fraction
    band, name = power.cruise_shaft_power_kw, "cruise_shaft_power_kw"
    left = sqrt(max(1.0 - share, 0.0))
    without = Band(band.best, band.best - left * (band.best - band.low), band.best + left * (band.high - band.best))
    now, then = (shown(name, Label(""), each, units) for each in (band, without))
    part = f"{_percent(share)} of the doubt in the power at cruise"
    return f"Not knowing it better makes {part}: {now}; without, about {then}."


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %" if share else "-"
