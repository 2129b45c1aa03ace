"""What there is to say about money: the budget, a year under power, and whether a repower pays."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import floor

from engine.bands import Band, Money
from engine.constants import HOUR, KNOT
from engine.defaults import amount, amount_or_none
from engine.findings import Finding, fits, look
from engine.machinery.economics import (
    CONTINGENCY_SOURCE,
    HOURS_SOURCE,
    LEAST_CONTINGENCY,
    LIFE_HOURS,
    LIFE_SOURCE,
)
from engine.plan import Plan, noun_of
from engine.sections.costs import HoursAtSpeed
from engine.sections.electric import Motor
from engine.sections.engine import Candidate
from engine.showing import numbered, round_number
from engine.stages.budget import Budget
from engine.stages.costs_answers import CostsAnswers
from engine.stages.saving import Saving
from engine.stages.wording import Wording, hours_of, percent, years_of
from engine.stages.year import Year, lacks_part
from engine.units import Dimension, convert
from engine.usual import typical

_SUMS = "sum of what you entered"
_BURN = "burn of the range page, over the hours of a year"
_HOURS_IN_YEAR = 8760.0
_REASONS = "What a new engine is bought for is reliability, range, safety, less noise, and parts that can be had."
_SELDOM = "At the 50 to 200 hours a year of most private boats the fuel saved seldom repays a new engine."
_MOTOR_REASONS = (
    "At the 50 to 200 hours a year of most private boats the fuel saved seldom repays a motor with its battery. What "
    "they are bought for is quiet and little upkeep, seldom range."
)
_MOTOR_SOURCE = "common practice, no source; outlay over what is saved in a year"
_SELDOM_SOURCE = "trade articles, informal; outlay over what is saved in a year"
_DIFFER = 0.02
"""Hours that differ by more than this share are two different statements (ours)."""


@dataclass(frozen=True)
class About:
    """What the sentences are about."""

    plan: Plan
    item: Candidate | Motor
    year: Year
    budget: Budget
    saving: Saving

    @property
    def seldom(self) -> tuple[str, str]:
        """That fuel alone seldom repays what is planned, and what it is bought for; the source of it."""
        is_motor = isinstance(self.item, Motor)
        return (_MOTOR_REASONS, _MOTOR_SOURCE) if is_motor else (f"{_SELDOM} {_REASONS}", _SELDOM_SOURCE)

    @property
    def taken(self) -> str:
        """What a year under power takes, in a word."""
        return "electricity" if isinstance(self.item, Motor) else "fuel"

    @property
    def say(self) -> Wording:
        """In the plan's units."""
        return Wording(self.plan.units)

    def price(self, amount_due: Money) -> str:
        """An amount that is in no doubt, to its last digit."""
        return self.say.money(amount_due, digits=9)


def years_kept(plan: Plan) -> float:
    """Years that the owner means to keep her."""
    return convert(amount(plan.costs, "years"), "years", Dimension.DURATION)


def costs_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    """Sentences about the budget, then about the year, then about what is saved."""
    yield from _budget_findings(about, answers)
    yield from _hours_findings(about, answers)
    yield from _year_findings(about, answers)
    yield from _saving_findings(about, answers)
    yield from _worth_findings(about, answers)
    yield from _life_findings(about, answers)


def _budget_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    budget, total = about.budget, answers.total_money
    if total is None:
        yield fits(f"No prices are entered for the work yet: no budget, but hours and {about.taken} of a year.", _SUMS)
        return
    yield fits(
        f"The budget comes to {about.price(total)}; {percent(budget.contingency)} of the prices is put by in it.",
        f"{_SUMS}; put by: {CONTINGENCY_SOURCE}",
    )
    if budget.missing:
        yield look(
            f"No price yet for: {'; '.join(budget.missing)}. The total grows by them; write 0 for what costs nothing.",
            _SUMS,
            "costs.engine",
        )
    if budget.contingency < LEAST_CONTINGENCY:
        yield look(
            f"Only {percent(budget.contingency)} is put by for surprises. An old boat has some when the engine is out: "
            f"plan with {percent(LEAST_CONTINGENCY)} at least.",
            CONTINGENCY_SOURCE,
            "costs.contingency",
        )
    for number, row in enumerate(about.plan.costs.other):
        if row.price is None:
            yield look(
                f"Line {number + 1} of your own in the budget has no price, so it does not count.",
                _SUMS,
                f"costs.other.{number}.price",
            )


def _hours_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    hours, asked = answers.hours_per_year_h, about.plan.costs
    for number, row in enumerate(asked.hours):
        if lacks_part(row):
            lacking = "speed" if row.speed is None else "hours"
            yield look(
                f"Row {number + 1} of the hours at each speed has no {lacking}, so it does not count.",
                _SUMS,
                f"costs.hours.{number}.{lacking}",
            )
    given = amount_or_none(asked, "hours_per_year")
    if given is not None and abs(given / HOUR - hours) > _DIFFER * hours:
        yield look(
            f"The hours at each speed add up to {hours:.0f} a year, and {given / HOUR:.0f} are given for all of them: "
            "the sum counts.",
            _SUMS,
            "costs.hours_per_year",
        )
    is_diesel = isinstance(about.item, Candidate)
    of_engine = amount_or_none(about.plan.engine, "hours_per_year") if is_diesel else None
    if of_engine is not None and abs(of_engine / HOUR - hours) > _DIFFER * hours:
        yield look(
            f"The engine page has {numbered(f'{of_engine / HOUR:.0f}', 'hour')} a year, and this page {hours:.0f}: the "
            "duty class is judged by the first, and all costs by the second.",
            _SUMS,
            "engine.hours_per_year",
        )
    yield from _speed_findings(about, tuple(asked.hours))
    if hours > _HOURS_IN_YEAR:
        yield look(f"A year has 8760 hours, and you give {hours:.0f}.", "calendar", "costs.hours.0.hours")
        return
    usual = typical(about.plan, "costs.hours_per_year")
    if usual is not None and not usual.low / HOUR <= hours <= usual.high / HOUR:
        less = hours < usual.low / HOUR
        yield look(
            f"{numbered(f'{hours:.0f}', 'hour')} a year is {'less' if less else 'more'} than most private boats run "
            f"({usual.low / HOUR:.0f} to {usual.high / HOUR:.0f}). Check it on the hour meter: every figure of a year "
            "hangs on it.",
            HOURS_SOURCE,
            "costs.hours_per_year",
        )


def _speed_findings(about: About, rows: tuple[HoursAtSpeed, ...]) -> Iterator[Finding]:
    """Speeds that the range page's curve does not reach."""
    year, path = about.year, "costs.hours.0.speed" if rows else "speed.cruise"
    fastest, slowest = (f"{end / KNOT:.1f} kn" for end in (year.fastest, year.slowest))
    if (year.asked > year.fastest * (1.0 + 1e-9)).any():
        yield look(
            f"Hours above {fastest}, what full throttle gives in service, count as hours at full throttle.", _BURN, path
        )
    if (year.asked < year.slowest * (1.0 - 1e-9)).any():
        yield look(
            f"Hours below {slowest} count as if at that speed, where the curve of the range page begins: a little too "
            "much fuel.",
            _BURN,
            path,
        )


def _year_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    taken = _taken(about, answers.fuel_l, answers.energy_kwh)
    slower = _taken(about, answers.slower_l, answers.slower_kwh)
    if not taken or not slower:
        return
    money = "" if answers.spent_money is None else f", which costs {about.say.money(answers.spent_money)}"
    hours = f"{answers.hours_per_year_h:.0f}"
    yield fits(f"{numbered(hours, 'hour')} a year {'takes' if hours == '1' else 'take'} {taken}{money}.", _BURN)
    if isinstance(about.item, Motor):
        yield fits(
            "Electricity is counted as if all of it came from the plug. How long the battery lasts is not counted: put "
            "by for the next one in the upkeep.",
            "ours",
        )
    best = answers.slower_l or answers.slower_kwh
    if best is not None and best.best > 0.0:
        longer = f"for {hours_of(answers.slower_h)} more"
        yield fits(
            f"Half a knot slower on the same {answers.distance_nmi:.0f} nmi saves {slower} a year"
            f"{_worth(about, answers)}, {longer}. It needs no new {noun_of(about.item)}.",
            _BURN,
        )


def _worth(about: About, answers: CostsAnswers) -> str:
    return "" if answers.slower_money is None else f", {about.say.money(answers.slower_money)}"


def _taken(about: About, fuel: Band | None, energy: Band | None) -> str:
    """Fuel or energy in words; "" while it is not known."""
    known = fuel or energy
    if known is None or not known.is_known:
        return ""
    return about.say.volume(known.best) if fuel is not None else f"{round_number(known.best, 3)} kWh"


def _saving_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    asked, saved = about.plan.costs, answers.saved_money
    now, then = (amount_or_none(asked, name) for name in ("upkeep_now", "upkeep"))
    if (now is None) != (then is None):
        missing, path = ("now", "upkeep_now") if now is None else (f"with the new {noun_of(about.item)}", "upkeep")
        yield look(f"Upkeep {missing} is not given, so the saving leaves it out.", _SUMS, f"costs.{path}")
    wanted = {"price": "fuel"} | ({"electricity_price": "electricity"} if isinstance(about.item, Motor) else {})
    unpriced = {name: of_what for name, of_what in wanted.items() if amount_or_none(about.plan.range, name) is None}
    if answers.present_fuel_l is not None and unpriced:
        yield look(
            f"What she burns now is given, but the price of {' and of '.join(unpriced.values())} is missing on the "
            "range page: what is saved of it is not in money.",
            _SUMS,
            f"range.{next(iter(unpriced))}",
        )
    if saved is None or not saved.is_known:
        return
    parts, source = about.saving.parts, "your own figures for now, those of the plan for then"
    if saved.best < 0.0:
        more = about.say.money(Money.of(saved.scaled(-1.0), saved.currency))
        spent = parts.replace("fuel", "electricity") if isinstance(about.item, Motor) else parts
        take = "take" if len(about.saving.counted) > 1 else "takes"
        yield look(f"{spent.capitalize()} {take} {more} a year more than now.", source, _given_for_now(about))
    else:
        yield fits(f"{parts.capitalize()} saved against now: {about.say.money(saved)} a year.", source)


def _given_for_now(about: About) -> str:
    """Where the owner has said what she takes now."""
    if "fuel" not in about.saving.counted:
        return "costs.upkeep_now"
    return "costs.present_fuel" if about.plan.costs.present_fuel is not None else "costs.present_burn"


def _worth_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    """Whether it pays, with the owner's own numbers, and why one does it all the same."""
    outlay, years = answers.outlay_money or answers.total_money, years_kept(about.plan)
    seldom, source = about.seldom
    if outlay is not None and outlay.best <= 0.0:
        why = "The overhaul that is avoided and the old engine come to the whole budget"
        yield fits(f"{why if about.budget.has_relief else 'All prices are 0'}: nothing has to be repaid.", _SUMS)
        return
    if answers.payback_years is not None and outlay is not None:
        text = (
            f"What is saved comes to the outlay of {about.price(outlay)} in: {answers.payback}. You mean to keep her "
            f"{years_of(years)}."
        )
        if answers.payback_years.best > years:
            yield look(f"{text} {seldom}", source, "costs.overhaul")
        else:
            yield fits(text, "outlay over what is saved in a year, without interest")
        return
    spent = answers.spent_money
    if outlay is None or spent is None or not spent.best > 0.0 or isinstance(about.item, Motor):
        yield fits(seldom, source)
        return
    yield fits(
        f"Unless the present engine burns more than twice as much, the new one saves less than the "
        f"{about.say.money(Money.of(spent.best, spent.currency))} that its own fuel of a year costs: "
        f"{about.price(outlay)} would take more than {_years_at_least(outlay.best / spent.best)} to come back "
        f"by fuel. {_REASONS}",
        "budget over fuel of a year",
    )


def _years_at_least(years: float) -> str:
    """A time that is exceeded, so never rounded up: whole years, tenths of one under ten."""
    return years_of(floor(years) if years >= 10.0 else floor(10.0 * years) / 10.0)


def _life_findings(about: About, answers: CostsAnswers) -> Iterator[Finding]:
    if answers.hour_money is None or answers.spread_years is None:
        return
    parts = ((about.taken, answers.spent_money), ("upkeep", about.plan.costs.upkeep))
    left_out = [name for name, given in parts if given is None]
    without = f" Not in it, because it is not given: {' and '.join(left_out)}." if left_out else ""
    yield fits(
        f"An hour under power costs {about.say.money(answers.hour_money)}, the budget spread over "
        f"{years_of(answers.spread_years)}.{without}",
        "running costs of a year and the yearly share of the budget, over its hours",
    )
    duty = None if isinstance(about.item, Motor) else about.item.duty
    life, years = LIFE_HOURS.get(duty or ""), years_kept(about.plan)
    used = answers.hours_per_year_h * years
    if life is not None and used > life[0]:
        yield look(
            f"In {years_of(years)} it would run {numbered(round_number(used, 3), 'hour')}. Diesels sold for {duty} "
            f"duty are overhauled after some {life[0]:.0f} to {life[1]:.0f}: a rating for steadier duty lasts longer.",
            LIFE_SOURCE,
            "costs.years",
        )
