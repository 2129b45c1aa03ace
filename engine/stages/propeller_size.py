"""Which stock size the propeller stage takes, and the nearest in the other stock steps."""

from dataclasses import dataclass, replace

from engine.findings import Outcome, stop
from engine.propeller.market import Blades
from engine.propeller.ranking import Rule
from engine.stages.blades import market_offers, usual_area, wanted_blades
from engine.stages.drive import said_of
from engine.stages.propeller_findings import FULL_THROTTLE, half_load_findings
from engine.stages.propeller_tables import BOATS_BESIDE
from engine.stages.setting import Setting
from engine.stages.sizing import Size, SizeTaken, take_size
from engine.stages.stock import LAST_LINE, fitted_words, market_for, other_steps, size_words, stock_for, stock_steps

_MOST_BLADES = 4
"""More are told of only by the search of the whole market: few shops keep them (ours)."""
_SUITABLE = "a wheel that keeps to every rule; the findings say what helps."


@dataclass(frozen=True)
class ChosenSize:
    """Diameter and pitch [m]; in words, in the steps it is ordered in; and the nearest in the other stock steps.

    area_ratio: of its blades, as `SizeTaken.area_ratio`.
    """

    size: Size
    words: str
    other: str | None
    area_ratio: float | None


def assess_size(setting: Setting, largest: float) -> Outcome[ChosenSize]:
    """The size for the chosen ratio.   largest: diameter that there is room for [m]."""
    taken = take_size(setting, largest, stock_steps(setting.plan))
    if taken.size is None:
        nothing = _nothing_fits(setting, taken, largest)
        return replace(nothing, findings=(*nothing.findings, *half_load_findings(setting)))
    other = _other_size(replace(setting, area_ratio=taken.area_ratio or setting.kind.area_ratio), largest)
    return Outcome(ChosenSize(taken.size, _words(setting, taken.size), other, taken.area_ratio))


def _nothing_fits(setting: Setting, taken: SizeTaken, largest: float) -> Outcome[ChosenSize]:
    """Why there is no size, and what would help."""
    series = setting.kind.series
    if taken.found is None or taken.found.wheels == 0:
        low, high = series.pitch_ratio
        text = (
            f"The series of tested propellers ({series.label}) has pitches of {low:g} to {high:g} times the diameter, "
            "and the size you chose lies outside. Choose another pitch or diameter, or leave them empty."
        )
        return Outcome(
            None,
            (stop(text, series.source, "propeller.pitch"),),
            "a size the series describes; the findings say which.",
        )
    rules = taken.binding_rules
    reasons = f" What holds it back: {'; '.join(rules)}." if rules else ""
    more_blades = _with_more_blades(setting, largest) if Rule.BLADE_AREA in rules else ""
    text = (
        "No stock size in the room keeps to every rule with this ratio and the light-running margin asked for."
        f"{reasons}{more_blades} Try every stock wheel with every ratio: another ratio, number of blades or blade area "
        "may do it. Else it takes more room, or less power. A wheel that is there already is judged as it is: give its "
        "diameter and pitch."
    )
    path = "propeller.blades" if more_blades else "gear.ratio"
    return Outcome(None, said_of(setting.drive, [stop(text, FULL_THROTTLE, path)]), _SUITABLE)


def _with_more_blades(setting: Setting, largest: float) -> str:
    """The fewest blades more in stock with which a size does; "" where none does."""
    steps = stock_steps(setting.plan)
    for kind in _more_blades(setting):
        tried = replace(setting, blades=kind.blades, area_ratio=kind.area_ratio)
        stock = stock_for(tried, largest, steps, None, None)
        if market_for(tried, stock, (tried.ratio,), largest, 1, LAST_LINE).rows:
            return f" More blades help: {kind.blades} of an area ratio of {kind.area_ratio:.2f} would do."
    return ""


def _more_blades(setting: Setting) -> list[Blades]:
    """What the market offers with more blades of the sections asked for: the fewest first, of these the usual area."""
    alike = (
        offer.blades
        for offer in market_offers()
        if setting.kind.blades < offer.blades.blades <= _MOST_BLADES
        and offer.blades.series is wanted_blades(setting.plan, offer.blades.blades).series
    )
    return sorted(alike, key=lambda kind: (kind.blades, kind.area_ratio != usual_area(kind.blades), kind.area_ratio))


def _words(setting: Setting, size: Size) -> str:
    """In the steps it is ordered in; one that the owner gives, as it was made."""
    chosen = setting.plan.propeller
    own = chosen.diameter is not None and chosen.pitch is not None
    return (fitted_words if own else size_words)(size, setting.kind.blades, stock_steps(setting.plan))


def _other_size(setting: Setting, largest: float) -> str | None:
    """The best size in centimetres for who orders in inches, and the other way round, found with fewer boats; None
    while the owner chooses."""
    if setting.plan.propeller.diameter is not None or setting.plan.propeller.pitch is not None:
        return None
    other = other_steps(stock_steps(setting.plan))
    size = take_size(setting.with_fewer_boats(BOATS_BESIDE), largest, other).size
    return None if size is None else size_words(size, setting.kind.blades, other)
