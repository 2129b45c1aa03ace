"""The whole chain: a plan in, every stage's answers and findings out."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from engine.findings import Finding, Outcome, Verdict
from engine.plan import STAGES, Plan, Problem, stage_problems

if TYPE_CHECKING:
    from engine.stages.reuse import Worked


@dataclass(frozen=True)
class Assessment:
    """What the plan comes to, stage by stage.   worked: how, for an assessment that comes after this one."""

    plan: Plan
    outcomes: dict[str, Outcome[Any]]
    worked: "Mapping[str, Worked]" = field(default_factory=dict, repr=False, compare=False)

    def findings(self) -> Iterator[tuple[str, Finding]]:
        """(stage, finding) of all stages, the most urgent first, else in the order of the stages."""
        every = [(stage, finding) for stage in STAGES for finding in self.outcomes[stage].findings]
        yield from sorted(every, key=lambda item: item[1].verdict.urgency)

    def problems(self, stage: str) -> list[Problem]:
        """What is missing or unreadable in what a stage asks."""
        return stage_problems(self.plan, stage)

    def is_done(self, stage: str) -> bool:
        """True when a stage has its answers and nothing is missing or unreadable."""
        return self.outcomes[stage].answers is not None and not self.problems(stage)

    @property
    def plan_with_guesses(self) -> Plan:
        """The plan that was worked out: with what is usual in each field that is needed and not known."""
        from engine.usual.guesses import with_guesses

        return with_guesses(self.plan)

    @property
    def is_complete(self) -> bool:
        """True when every stage is done."""
        return all(self.is_done(stage) for stage in STAGES)

    @property
    def is_sound(self) -> bool:
        """True when the plan is complete and no finding stops it."""
        return self.is_complete and not any(finding.verdict is Verdict.STOP for _, finding in self.findings())


def search_market(assessment: Assessment, told: Callable[[float], None] | None = None) -> Outcome[Any]:
    """Try every stock wheel that fits with every ratio on offer, on the plausible boats of an assessed plan.

    told: called with the share done, 0 to 1; what it raises stops the search and passes through.
    Returns: `engine.stages.market.MarketAnswers`, or what they wait for.
    """
    from engine.stages.market import search_market

    return search_market(assessment.plan_with_guesses, assessment.outcomes, told)


def assess(
    plan: Plan, earlier: Assessment | None = None, told: Callable[[str, Outcome[Any]], None] | None = None
) -> Assessment:
    """Work the plan through all stages.

    earlier: of another plan; the stages for which nothing has changed since are taken over. The answers are the same
    with and without it.
    told: called with each stage and its outcome as soon as that is worked out; what it raises stops the work and passes
    through.
    Never raises for what an owner may write: a stage that lacks something has no answers and says what it waits for.
    """
    from engine.stages.chain import run_stages

    return Assessment(plan, *run_stages(plan, {} if earlier is None else earlier.worked, told))
