"""Why the search of the market has not the wheel of the propeller page among its best."""

from collections.abc import Iterator

from engine.findings import Finding, fits, look
from engine.propeller.ranking import Rule
from engine.showing import share_of_boats
from engine.stages.blades import market_offers
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.setting import Setting
from engine.stages.stock import LAST_LINE, USUAL_LINE, market_for, stock_for, stock_steps
from engine.stages.wording import as_much_or, listed

LINE_WORDS = {
    USUAL_LINE: "line for about 5 % cavitation",
    LAST_LINE: "line for 10 % cavitation, which is not to be passed",
}
"""What a line of Burrill's chart that blade areas keep to is called."""
LINES_SOURCE = "Burrill (1943); which of his lines decides where is ours"


def own_wheel_findings(
    setting: Setting, own: PropellerAnswers, largest: float, line: str, least: float | None
) -> Iterator[Finding]:
    """Which rules of the search the propeller page's wheel breaks, or what it burns more than the recommended one.

    setting: with its ratio and its blades.   largest: diameter that there is room for [m].
    line: of Burrill's chart, which the search keeps to.
    least: consumption at cruise of the recommended wheel; None where it is of another series.
    """
    stock = stock_for(setting, largest, stock_steps(setting.plan), own.diameter_m, own.pitch_m)
    found = market_for(setting, stock, (setting.ratio,), largest, 1, line)
    text = f"The wheel of the propeller page, {own.size}, with {setting.ratio:.4g}:1,"
    broken = [rule for rule, count in found.ruled_out.items() if count.combinations]
    if not broken:
        row, is_tried = found.rows[0], setting.kind in [offer.blades for offer in market_offers()]
        text += " keeps to every rule as well" + ("" if is_tried else ", though no blades of its area are searched")
        more = "" if least is None else f"at cruise it takes {as_much_or(row.burn / least - 1.0, 1)}, and "
        yield fits(
            f"{text}: {more}in {share_of_boats(row.chance)} plausible boats the engine reaches its rated speed.",
            "rules of the search: ours",
        )
        return
    text += f" is not among them: {listed(broken)}."
    if Rule.BLADE_AREA in broken:
        text += f" A wheel of this search keeps to Burrill's {LINE_WORDS[line]}"
        if line != LAST_LINE:
            text += f"; where that page chooses the size, one keeps to his {LINE_WORDS[LAST_LINE]}"
        text += "."
    yield look(text, LINES_SOURCE if Rule.BLADE_AREA in broken else "rules of the search: ours", "propeller.area_ratio")
