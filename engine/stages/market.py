"""The whole market for a plan: every stock wheel that fits, with every ratio on offer, on the plausible boats."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from math import isnan
from typing import Any

from engine.answers import answer, first_known, maybe, table
from engine.constants import KNOT
from engine.findings import Finding, Outcome, fits, look, stop
from engine.machinery.vibration import coincidences, masked_together
from engine.plan import Plan
from engine.propeller.market import MarketFound, MarketRow, Told, stock_of
from engine.propeller.ranking import Rule
from engine.sections.drive import EXPANDED_RATIO
from engine.showing import numbered, share_of_boats
from engine.stages.blades import Offer, market_offers
from engine.stages.boats import is_behind_a_keel
from engine.stages.drive import said_of
from engine.stages.gear_answers import GearAnswers
from engine.stages.gear_findings import WORTH
from engine.stages.market_own import LINE_WORDS, LINES_SOURCE, own_wheel_findings
from engine.stages.propeller_answers import PropellerAnswers
from engine.stages.ratios import ratios_on_offer
from engine.stages.room import tip_clearance
from engine.stages.setting import Setting
from engine.stages.stock import LAST_LINE, USUAL_LINE, market_for, size_words, stock_diameters, stock_steps
from engine.stages.wording import more_or_less, percent

_NEEDED = ("hull", "speed", "power", "engine", "gear")
_ROWS = 8
"""Wheels that are told of each kind of sections (ours)."""
_SERIES_DIFFER = 0.05
"""By so much at most the tested series differ in efficiency for one wheel (comparison of the published series)."""
_RANKED = "chance of reaching rated speed in steps of 5 %, 90 % being enough, then burn at cruise: ours"


@dataclass(frozen=True, kw_only=True)
class WheelRow:
    """One wheel of the market with one ratio; `changes` make it the plan's."""

    size: str = answer("Wheel")
    sections: str = answer("Sections")
    area_ratio: float = answer("Blade area ratio")
    ratio: float = answer("Gear ratio", digits=4, to_one=True)
    reaches_rated_fraction: float = answer("Boats that reach rated speed", of_boats=True)
    cruise_l_per_h: float | None = maybe("Burn at cruise, calm", only_known=True)
    cruise_drawn_kw: float | None = maybe("Drawn at cruise, calm", metric="kW", imperial="kW", only_known=True)
    light_running_fraction: float = answer("Light running")
    top_kn: float = answer("Speed at rated power")
    cruise_efficiency_fraction: float = answer("Efficiency at cruise")
    tip_clearance_fraction: float = answer("Tip clearance")
    tip_speed_m_per_s: float = answer("Tip speed")
    regret_fraction: float | None = maybe("Regret")
    remarks: str = answer("Mind")
    changes: Mapping[str, str] = field(default_factory=dict)

    @property
    def cruise_consumption(self) -> float:
        """Burn of a diesel or draw of a motor at cruise, whichever it is."""
        return first_known(self.cruise_l_per_h, self.cruise_drawn_kw)


@dataclass(frozen=True, kw_only=True)
class MarketAnswers:
    """What the search came to, the recommended wheel first. Different series are never ranked against each other."""

    wheels: int = answer("Wheels tried")
    combinations: int = answer("Wheels with each ratio")
    feasible: int = answer("Of them suitable")
    tried: int = answer("Of them worked out on the plausible boats")
    rows: tuple[WheelRow, ...] = table("The best with the sections asked for, the recommended one first")
    others: tuple[WheelRow, ...] = table("The best with other sections")


def search_market(plan: Plan, outcomes: Mapping[str, Outcome[Any]], told: Told | None = None) -> Outcome[MarketAnswers]:
    """The best wheels and ratios of the market for a plan.

    outcomes: of the stages, as from `assess`.   told: called with the share done, 0 to 1; it may raise to stop.
    """
    lacking = next((stage for stage in _NEEDED if outcomes[stage].answers is None), None)
    if lacking is not None:
        return Outcome(None, waits_for=f"the {lacking} page: {outcomes[lacking].waits_for}")
    hull, speed, power, engine, gear = (_answers(outcomes, stage) for stage in _NEEDED)
    ratios = [ratio for ratio in ratios_on_offer(plan) if _carries(gear, ratio)]
    if not ratios:
        text = "The gear is rated for less than the engine gives in every ratio. Take a stronger gear."
        stopped = stop(text, "gear makers' rating by power per speed", "gear.rating")
        return Outcome(None, said_of(engine.drive, [stopped]), "a stronger gear.")
    setting = Setting(plan, hull, speed, power.demand, power.cases, engine.drive, ratios[0])
    line, searches = _searches(setting, gear.largest_diameter_m, ratios, told)
    counts = _Counts.of(searches)
    if not any(search.found.rows for search in searches):
        return Outcome(None, said_of(engine.drive, [_nothing_finding(counts)]), "a wheel that suits.")
    first, *rest = sorted(searches, key=lambda search: not search.found.rows)
    answers = MarketAnswers(
        wheels=counts.wheels,
        combinations=counts.combinations,
        feasible=counts.feasible,
        tried=counts.tried,
        rows=tuple(_rows(setting, first)),
        others=tuple(row for search in rest for row in _rows(setting, search)),
    )
    asked = searches[0].sections if first is not searches[0] else ""
    own = outcomes["propeller"].answers if "propeller" in outcomes else None
    findings = [*_findings(answers, counts, asked, line), *_ratio_findings(plan, gear.ratio, answers.rows[0])]
    if own is not None:
        tried = replace(setting, ratio=gear.ratio, area_ratio=own.area_ratio)
        findings += _own_findings(tried, own, answers, gear.largest_diameter_m, line)
    return Outcome(answers, said_of(engine.drive, findings))


def _nothing_finding(counts: "_Counts") -> Finding:
    """That no wheel suits, and what would help."""
    pairs = numbered(counts.combinations, "pair")
    text = (
        f"None of {pairs} of wheel and ratio suits. {counts.what_rules_out}".rstrip()
        + " Look at the room for the propeller, the ratios on offer and the light-running margin asked for."
    )
    return stop(text, _RANKED, "gear.ratios")


def _ratio_findings(plan: Plan, taken: float, best: WheelRow) -> Iterator[Finding]:
    """Why the recommended wheel is with another ratio than the gear page's, where it is."""
    if best.ratio == taken:
        return
    why = (
        "that is your own choice"
        if plan.gear.ratio is not None
        else "that page takes the least reduction with which she is as fast at full power as with any that it can take"
    )
    yield fits(
        f"The gear page has {taken:.4g}:1: {why}. This search goes, among wheels that keep to its rules, by the chance "
        "of reaching rated speed, then by burn at cruise.",
        f"{_RANKED}; gear page: a gain of {percent(WORTH, 1)} in speed, ours",
        "gear.ratio",
    )


def _own_findings(
    setting: Setting, own: PropellerAnswers, answers: MarketAnswers, largest: float, line: str
) -> Iterator[Finding]:
    """What became of the propeller page's wheel, where no row is of it; arguments as of `own_wheel_findings`."""
    shown = {(row.size, row.sections, row.area_ratio, row.ratio) for row in (*answers.rows, *answers.others)}
    alike = {offer.sections for offer in market_offers() if offer.blades.series is setting.kind.series}
    if not any((own.size, sections, own.area_ratio, setting.ratio) in shown for sections in alike):
        best = answers.rows[0]
        least = best.cruise_consumption if best.sections in alike else None
        yield from own_wheel_findings(setting, own, largest, line, least)


def _answers(outcomes: Mapping[str, Outcome[Any]], stage: str) -> Any:
    return outcomes[stage].answers


@dataclass(frozen=True, eq=False)
class _Searched:
    """The market in one kind of sections."""

    offers: tuple[Offer, ...]
    found: MarketFound

    @property
    def sections(self) -> str:
        return self.offers[0].sections


def _searches(
    setting: Setting, largest: float, ratios: Sequence[float], told: Told | None
) -> tuple[str, tuple[_Searched, ...]]:
    """The line of Burrill's chart that the blade areas keep to, and the searches: the line on which the propeller page
    lets a wheel pass, where none keeps to the usual one."""
    searches = tuple(_searched(setting, largest, ratios, USUAL_LINE, told))
    narrow = any(search.found.ruled_out[Rule.BLADE_AREA].by_this_alone for search in searches)
    if any(search.found.rows for search in searches) or not narrow:
        return USUAL_LINE, searches
    still = None if told is None else partial(_tell_the_end, told)
    anew = tuple(_searched(setting, largest, ratios, LAST_LINE, still))
    return (LAST_LINE, anew) if any(search.found.rows for search in anew) else (USUAL_LINE, searches)


def _searched(
    setting: Setting, largest: float, ratios: Sequence[float], line: str, told: Told | None
) -> Iterator[_Searched]:
    """One search for each kind of sections, the one whose series stands for the plan's own wheel first."""
    steps, asked = stock_steps(setting.plan), setting.kind.series
    by_sections: dict[str, list[Offer]] = {}
    for offer in market_offers():
        by_sections.setdefault(offer.sections, []).append(offer)
    kinds = sorted(by_sections.values(), key=lambda offers: offers[0].blades.series is not asked)
    diameters = stock_diameters(setting, ratios, largest, steps.diameter)
    for place, mine in enumerate(kinds):
        stock = stock_of([offer.blades for offer in mine], diameters, steps.pitch)
        part = None if told is None else partial(_tell_part, told, place, len(kinds))
        yield _Searched(tuple(mine), market_for(setting, stock, ratios, largest, _ROWS, line, part))


def _tell_part(told: Told, place: int, parts: int, share: float) -> None:
    told((place + share) / parts)


def _tell_the_end(told: Told, _: float) -> None:
    """For a second search, which begins where the bar is full; it can still be stopped."""
    told(1.0)


@dataclass(frozen=True)
class _Counts:
    """What all searches came to, and what one rule alone held back, by its words."""

    wheels: int
    combinations: int
    feasible: int
    tried: int
    held_back: Mapping[str, int]

    @classmethod
    def of(cls, searches: Sequence[_Searched]) -> "_Counts":
        found = [search.found for search in searches]
        held_back: Counter[str] = Counter()
        for one in found:
            held_back.update({rule: count.by_this_alone for rule, count in one.ruled_out.items()})
        return cls(
            wheels=sum(one.wheels for one in found),
            combinations=sum(one.combinations for one in found),
            feasible=sum(one.feasible for one in found),
            tried=sum(one.tried for one in found),
            held_back=+held_back,
        )

    @property
    def what_rules_out(self) -> str:
        if not self.held_back:
            return ""
        (rule, count), *rest = sorted(self.held_back.items(), key=lambda item: -item[1])
        parts = [f"{rule} ({numbered(count, 'pair')})", *(f"{rule} ({count})" for rule, count in rest)]
        return f"Some would suit but for one rule: {'; '.join(parts)}."


def _carries(gear: GearAnswers, ratio: float) -> bool:
    """Whether the gear is rated for the engine in a ratio, as far as that is known."""
    return next(row for row in gear.options if row.ratio == ratio).is_carried


def _rows(setting: Setting, searched: _Searched) -> Iterator[WheelRow]:
    return (_row(setting, searched.offers[row.kind], row) for row in searched.found.rows)


def _row(setting: Setting, offer: Offer, row: MarketRow) -> WheelRow:
    plan, steps = setting.plan, stock_steps(setting.plan)
    size = row.diameter, row.pitch
    return WheelRow(
        size=size_words(size, offer.blades.blades, steps),
        sections=offer.sections,
        area_ratio=offer.blades.area_ratio,
        ratio=row.ratio,
        reaches_rated_fraction=row.chance,
        cruise_l_per_h=setting.drive.if_fuel(row.burn),
        cruise_drawn_kw=setting.drive.if_electric(row.burn),
        light_running_fraction=row.light_running,
        top_kn=row.top_speed / KNOT,
        cruise_efficiency_fraction=row.cruise_efficiency,
        tip_clearance_fraction=tip_clearance(plan, row.diameter),
        tip_speed_m_per_s=row.tip_speed,
        regret_fraction=None if isnan(row.regret) else row.regret,
        remarks="; ".join(_remarks(setting, offer, row)),
        changes={
            "propeller.blades": str(offer.blades.blades),
            "propeller.sections": offer.sections,
            "propeller.area_ratio": f"{offer.blades.area_ratio:g}",
            "propeller.area_measure": EXPANDED_RATIO,
            "propeller.diameter": steps.text(row.diameter),
            "propeller.pitch": steps.text(row.pitch),
            "gear.ratio": repr(row.ratio),
        },
    )


def _remarks(setting: Setting, offer: Offer, row: MarketRow) -> Iterator[str]:
    """What else to mind, in a few words each."""
    kind, chosen = offer.blades, setting.plan.engine.selected
    cylinders = None if chosen is None else chosen.cylinders
    if cylinders is not None and any(each.is_strong for each in coincidences(kind.blades, row.ratio, cylinders)):
        yield "blade rate on the firing rate"
    if masked_together(kind.blades, is_behind_a_keel(setting.plan)):
        yield "even blades behind a keel"
    if kind.series.reservations(row.pitch / row.diameter, kind.blades):
        yield "fine pitch for its series"
    if kind.blades == 2 and row.cruise_efficiency > kind.series.two_blade_efficiency_limit:
        yield "efficiency optimistic"


def _remark_findings(rows: Sequence[WheelRow]) -> Iterator[Finding]:
    """What there is to mind with the recommended wheel, and what the best without it costs."""
    best = rows[0]
    if not best.remarks:
        return
    text = f"With the recommended wheel mind: {best.remarks}."
    plain = next((row for row in rows if not row.remarks), None)
    if plain is not None:
        more = plain.cruise_consumption / best.cruise_consumption - 1.0
        text += f" The best without that is {plain.size}, {plain.sections}, with {plain.ratio:.4g}:1"
        text += f": takes {percent(more, 1)} more." if more > 0.0 else "."
    yield look(text, "trade practice, from memory")


def other_sections_finding(best: WheelRow, other: WheelRow) -> Finding:
    """What the best wheel of another series comes to beside the recommended one, as far as two series can tell."""
    change = round(other.cruise_consumption / best.cruise_consumption - 1.0, 3)
    if abs(change) <= _SERIES_DIFFER:
        verdict = "so that decides nothing"
    elif change < 0.0:
        verdict = "and that is more: ask the shop for such a wheel as well"
    else:
        verdict = "and that is more: nothing speaks for it"
    return fits(
        f"The best with other sections, {other.size}, {other.sections}, would take {more_or_less(change, 1)} by its "
        "own series. The series differ by 3 to 5 % for the same wheel, "
        f"{verdict}. The pitch of the one is wrong for the other.",
        "comparison of the published series",
    )


def _findings(answers: MarketAnswers, counts: _Counts, without: str, line: str) -> Iterator[Finding]:
    """without: the sections that stand for the plan's own wheel, where none with them suits.   line: of Burrill's
    chart, which the search keeps to."""
    best = answers.rows[0]
    text = (
        f"Recommended: {best.size}, {best.sections}, blade area ratio {best.area_ratio:g}, with {best.ratio:.4g}:1. In "
        f"{share_of_boats(best.reaches_rated_fraction)} plausible boats it lets the engine reach its rated speed."
    )
    if sum(row.regret_fraction is not None for row in answers.rows) > 1:
        text += (
            f" Of those too close to call it is the one with {best.changes['propeller.blades']} blades that is least "
            "regretted over the plausible boats."
        )
    yield fits(text, _RANKED)
    if line == LAST_LINE:
        yield look(
            f"No wheel keeps to Burrill's {LINE_WORDS[USUAL_LINE]}. Those here keep to his {LINE_WORDS[LAST_LINE]}, as "
            "on the propeller page. More room for the propeller or less power is kinder to the blades.",
            LINES_SOURCE,
            "propeller.room",
        )
    if without:
        yield look(
            f"No wheel with {without} sections suits, which the propeller page reckons with. Ask the shop whether it "
            f"can have one with {best.sections} sections.",
            _RANKED,
            "propeller.sections",
        )
    yield from _remark_findings(answers.rows)
    if answers.others:
        yield other_sections_finding(best, answers.others[0])
    yield look(
        "Whether a shop keeps such a wheel, with which sections and blade area, only the shop can say: ask before you "
        "order.",
        "common practice, no source",
    )
    keep = "keeps" if counts.feasible == 1 else "keep"
    yield fits(
        f"{numbered(counts.wheels, 'wheel')} with each ratio made {numbered(counts.combinations, 'pair')}, of which "
        f"{counts.feasible} ({percent(counts.feasible / counts.combinations, 1)}) {keep} to every rule. "
        f"{counts.what_rules_out}",
        _RANKED,
    )
