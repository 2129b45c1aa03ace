"""The sheet with the whole plan: what was given, what was found, what to be careful of."""

from collections.abc import Iterator, Sequence
from datetime import date
from typing import Any

from engine.answers import labels, row_tables, said_of_motor, shown
from engine.assessment import Assessment
from engine.assumptions import Assumption, assumptions
from engine.bands import HIGH, LOW
from engine.entries import entries, table_words, tables
from engine.findings import Finding, Outcome
from engine.machinery.cautions import CAUTIONS
from engine.plan import QUESTIONS, SECTIONS, STAGE_SECTIONS, STAGES, Plan, entry_at, label_at, paths, text_at
from engine.plan_defaults import default_at, default_in
from engine.readiness import Readiness, readiness
from wizard.handover.blocks import Block, Document, Grid, Heading, Listing, Pairs, Paragraph, Picture
from wizard.handover.heads import assumed_from
from wizard.handover.sheet import ASSUMED, head_words
from wizard.handover.variants import variant_blocks
from wizard.measures import MEANING, TITLE, measures
from wizard.stages.plots import chart_of
from wizard.tables import table_cells


def plan_document(assessment: Assessment, on: date | None = None, market: Outcome[Any] | None = None) -> Document:
    """The whole plan: what was given, what was found, what to be careful of."""
    plan = assessment.plan
    blocks: list[Block] = [Heading(1, f"Repower plan: {plan.name}")]
    blocks.append(Paragraph(head_words(plan.units, on)))
    blocks.append(Paragraph(f"{_state(assessment)} {CAUTIONS['plan-not-certificate'].text}"))
    if plan.notes:
        blocks.append(Paragraph(f"Notes: {plan.notes}"))
    blocks += _bands_explained(assessment)
    blocks += _to_order(assessment)
    blocks += _urgent(assessment)
    blocks += _to_measure(assessment)
    assumed = assumptions(assessment)
    taken = frozenset(each.path for each in assumed)
    for number, stage in enumerate(STAGES, start=1):
        blocks.append(Heading(2, f"{number}. {stage.capitalize()}: {QUESTIONS[stage]}"))
        blocks += _stage_blocks(assessment, stage, taken)
        if stage == "propeller" and market is not None:
            blocks += _market_blocks(market, plan.units)
    blocks += variant_blocks(assessment)
    blocks += _assumed(assumed)
    blocks.append(Heading(2, "Cautions"))
    blocks.append(Listing(tuple(("", caution.text) for caution in CAUTIONS.values())))
    return Document(f"Repower plan: {plan.name}", tuple(blocks))


def _state(assessment: Assessment) -> str:
    missing = [stage for stage in STAGES if not assessment.is_done(stage)]
    if missing:
        return f"This plan is not complete. Still open: {', '.join(missing)}."
    return "Every stage of this plan has been worked out."


def _to_order(assessment: Assessment) -> Iterator[Block]:
    """Go or not yet for each thing that is ordered."""
    yield Heading(2, "Ready to order?")
    yield Listing(tuple((item.called, _go_words(item)) for item in readiness(assessment)))


def _go_words(item: Readiness) -> str:
    notes = f", with {item.notes} to look at first" if item.notes else ""
    if item.go:
        return f"go{notes}."
    return f"not yet{notes}. {' '.join(reason.text for reason in item.reasons)}"


def _assumed(found: Sequence[Assumption]) -> Iterator[Block]:
    """What the numbers rest on that was not said."""
    if found:
        yield Heading(2, ASSUMED)
        yield Listing(tuple((f"{each.stage}", f"{each.label}: {each.text} ({assumed_from(each)})") for each in found))


def _urgent(assessment: Assessment) -> Iterator[Block]:
    open_findings = [(stage, finding) for stage, finding in assessment.findings() if finding.verdict.urgency < 2]
    if open_findings:
        yield Heading(2, "To look at first")
        yield Listing(tuple((f"{finding.verdict.value} ({stage})", finding.text) for stage, finding in open_findings))


def _bands_explained(assessment: Assessment) -> Iterator[Block]:
    """What the numbers in brackets are, once there are any."""
    hull = assessment.outcomes["hull"].answers
    if hull is not None:
        low, high = (round(100.0 * share) for share in (LOW, HIGH))
        yield Paragraph(
            f"Numbers in brackets are the {low}th and {high}th percentile of {hull.fleet.size:,} plausible boats, all "
            "like the one described here; the number before them is the middle one. "
            f"{high - low} boats in a hundred lie between the two."
        )


def _to_measure(assessment: Assessment) -> Iterator[Block]:
    found = measures(assessment)
    if found:
        yield Heading(2, TITLE)
        yield Paragraph(MEANING)
        yield Grid(
            "Share of the doubt that each takes away",
            ("Do this", "Power at cruise", "Rpm at full throttle", "It settles"),
            tuple((measure.action, *measure.shares, measure.settles) for measure in found),
        )


def _stage_blocks(assessment: Assessment, stage: str, taken: frozenset[str]) -> Iterator[Block]:
    """taken: the fields for which something stands in."""
    plan, outcome = assessment.plan, assessment.outcomes[stage]
    given = tuple(_given_blocks(plan, stage, taken if outcome.answers is not None else None))
    if given:
        yield from (Heading(3, "Given"), *given)
    problems = assessment.problems(stage)
    if problems:
        yield Listing(tuple(("missing", problem.text) for problem in problems))
    yield from _outcome_blocks(outcome, plan.units)
    if outcome.answers is not None:
        yield Picture(chart_of(stage, outcome.answers, plan.units, of_motor=outcome.of_motor))


def _given_blocks(plan: Plan, stage: str, taken: frozenset[str] | None) -> Iterator[Block]:
    """What the owner gave of a stage, and what stands in.   taken: as in `_given`."""
    for section in STAGE_SECTIONS[stage]:
        given = tuple(_given(plan, section, taken))
        if given:
            yield Pairs(given)
        yield from _given_tables(plan, section)


def _market_blocks(market: Outcome[Any], units: str) -> Iterator[Block]:
    """What the search of the market came to, or what it waits for."""
    yield Heading(2, "Stock wheels: every wheel that fits with every ratio on offer")
    yield from _outcome_blocks(market, units)


def _outcome_blocks(outcome: Outcome[Any], units: str) -> Iterator[Block]:
    if outcome.answers is None:
        yield Paragraph(f"Not worked out yet: {outcome.waits_for}")
    else:
        yield Heading(3, "Worked out")
        answers = outcome.answers
        described = labels(answers, of_motor=outcome.of_motor)
        rows = ((label.text, shown(name, label, getattr(answers, name), units), "") for name, label in described)
        yield Pairs(tuple(rows))
        yield from _answer_tables(outcome, units)
    if outcome.findings:
        yield Heading(3, "Findings")
        yield Listing(tuple((finding.verdict.value, _with_source(finding)) for finding in outcome.findings))


def _with_source(finding: Finding) -> str:
    return f"{finding.text} (Source: {finding.source.rstrip('.')}.)"


def _given(plan: Plan, section: str, taken: frozenset[str] | None) -> Iterator[tuple[str, str, str]]:
    """What the owner gave, and the defaults of empty fields; of a stage that is worked out, those alone that were
    taken.   taken: None before that."""
    rows_at = tuple(f"{section}.{table}." for table in tables(SECTIONS[section]))
    for path in paths(plan, section):
        if rows_at and path.startswith(rows_at):
            continue
        entry, text = entry_at(path), text_at(plan, path)
        if text:
            yield label_at(plan, path), text, "not understood" if path in plan.unread else ""
        elif entry.default and (taken is None or path in taken):
            yield label_at(plan, path), default_in(plan, path), f"default: {default_at(plan, path).source}"


def _given_tables(plan: Plan, section: str) -> Iterator[Block]:
    kind = SECTIONS[section]
    for table, row_type in tables(kind).items():
        count = len(getattr(getattr(plan, section), table))
        names = [
            name
            for name in entries(row_type)
            if any(text_at(plan, f"{section}.{table}.{index}.{name}") for index in range(count))
        ]
        if count and names:
            yield Grid(
                table_words(kind)[table].told,
                tuple(label_at(plan, f"{section}.{table}.0.{name}") for name in names),
                tuple(
                    tuple(text_at(plan, f"{section}.{table}.{index}.{name}") or "-" for name in names)
                    for index in range(count)
                ),
            )


def _answer_tables(outcome: Outcome[Any], units: str) -> Iterator[Block]:
    for _, title, rows in row_tables(outcome.answers):
        if rows:
            heads, cells, note = table_cells(rows, units, of_motor=outcome.of_motor)
            yield Grid(
                said_of_motor(title) if outcome.of_motor else title, tuple(heads), tuple(map(tuple, cells)), note
            )
