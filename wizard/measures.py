"""What to measure next: the actions of the power page and of the propeller page, merged, the most worthwhile first."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from engine.plan import page_of

if TYPE_CHECKING:
    from engine.assessment import Assessment

TITLE = "What to measure next"
MEANING = (
    "Each line takes away a share of the doubt in two answers: the shaft power at cruise, and the engine speed at full "
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


def _percent(share: float) -> str:
    return f"{100.0 * share:.0f} %" if share else "-"
