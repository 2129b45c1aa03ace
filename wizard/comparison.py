"""The plan and its variants side by side: a table, and the differences in words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isfinite
from typing import TYPE_CHECKING

from rich.cells import cell_len, set_cell_size

from engine.answers import best_of, label_of, shown
from engine.bands import Band
from engine.findings import Verdict
from engine.plan import STAGES, Plan
from engine.stages.wording import more_or_less
from wizard.tables import grid_lines
from wizard.upsets import gist

if TYPE_CHECKING:
    from engine.assessment import Assessment

ROWS: tuple[tuple[str, str, str], ...] = (
    ("Cruising speed", "speed", "cruise_kn"),
    ("Top speed wanted", "speed", "top_kn"),
    ("Engine", "engine", "name"),
    ("Ratio", "gear", "ratio"),
    ("Propeller", "propeller", "size"),
    ("Full throttle", "propeller", "full_throttle_rpm"),
    ("Boats that reach rated rpm", "propeller", "reaches_rated_fraction"),
    ("Top speed reached", "propeller", "top_kn"),
    ("Shaft power at cruise", "power", "cruise_shaft_power_kw"),
    ("Load at cruise", "engine", "cruise_load_fraction"),
    ("Fuel at cruise", "range", "cruise_l_per_h"),
    ("Electricity at cruise", "range", "cruise_drawn_kw"),
    ("Range at cruise", "range", "cruise_range_nmi"),
    ("Change of weight", "engine", "weight_change_kg"),
    ("Shaft", "shaft", "diameter_m"),
)
"""Label, stage and answer of each line of the table."""
EQUAL = 0.01
"""Numbers closer than this share are as good as equal (ours)."""
_NAME = 18
MEANING = (
    "* differs from the plan. Power and load at cruise are those in calm water; consumption and range have your margin "
    "in them. All columns are worked out on the same plausible boats. Differences of less than 1 % are left out below."
)


@dataclass(frozen=True)
class Column:
    """The plan or a variant.   assessment: None while it is being worked out;   failure: a sentence in its place."""

    name: str
    plan: Plan
    assessment: "Assessment | None" = None
    failure: str = ""


def comparison_lines(columns: Sequence[Column], chosen: int, units: str, width: int) -> list[str]:
    """The table, what the marks mean, and a paragraph for each variant."""
    heads = ["", *(_head(column.name, i == chosen) for i, column in enumerate(columns))]
    cells = [[label, *texts] for label, *texts in comparison_cells(columns, units)]
    lines = [*grid_lines(heads, cells, width), "", MEANING, ""]
    for column in columns[1:]:
        lines += [f"{column.name} against the plan: {difference_words(columns[0], column, units)}", ""]
    return lines


def _head(name: str, is_chosen: bool) -> str:
    """A name in a table head: cut to its columns, in one piece, marked when it is the chosen one."""
    name = name if cell_len(name) <= _NAME else f"{set_cell_size(name, _NAME - 3).rstrip()}..."
    one_piece = name.replace(" ", "\u00a0")
    return f">{one_piece}<" if is_chosen else one_piece


def comparison_cells(columns: Sequence[Column], units: str) -> Iterator[list[str]]:
    """The lines of the table that say something in any column."""
    for label, stage, name in ROWS:
        texts = [_text(column.assessment, stage, name, units) for column in columns]
        if any(text != "-" for text in texts):
            yield [label, *_marked(texts)]
    for label, verdict in (("Stops", Verdict.STOP), ("To look at again", Verdict.LOOK)):
        yield [label, *_marked([_count(column.assessment, verdict) for column in columns])]


def _marked(texts: Sequence[str]) -> list[str]:
    return [f"*{text}" if text not in ("-", "...", texts[0]) and texts[0] != "..." else text for text in texts]


def _text(assessment: "Assessment | None", stage: str, name: str, units: str) -> str:
    if assessment is None:
        return "..."
    answers = assessment.outcomes[stage].answers
    value = getattr(answers, name, None)
    if answers is None or value is None:
        return "-"
    return shown(name, label_of(type(answers), name), best_of(value) if isinstance(value, Band) else value, units)


def _count(assessment: "Assessment | None", verdict: Verdict) -> str:
    if assessment is None:
        return "..."
    return str(sum(finding.verdict is verdict for _, finding in assessment.findings()))


def difference_words(plan: Column, other: Column, units: str) -> str:
    """In what a variant differs from the plan, in one paragraph."""
    if other.failure or plan.failure:
        return other.failure or plan.failure
    if plan.assessment is None or other.assessment is None:
        return "still being worked out."
    chosen, parts = other.plan.engine.chosen, []
    if chosen and chosen not in [item.name for item in other.plan.engine.all]:
        parts.append(f'its engine "{chosen}" is no longer among the candidates')
    parts += _differences(plan.assessment, other.assessment, units)
    parts += _waiting(plan.assessment, other.assessment)
    parts += dict.fromkeys(_fresh_findings(plan.assessment, other.assessment))
    return f"{'; '.join(parts)}." if parts else "as good as equal."


def _differences(plan: "Assessment", other: "Assessment", units: str) -> Iterator[str]:
    for label, stage, name in ROWS:
        old, new = (_text(assessment, stage, name, units) for assessment in (plan, other))
        if old == new or "-" in (old, new):
            continue
        share = _change(plan, other, stage, name)
        if share is None:
            yield f"{label.lower()} {new} instead of {old}"
        elif abs(share) >= EQUAL:
            yield f"{label.lower()} {new} instead of {old} ({more_or_less(share)})"


def _change(plan: "Assessment", other: "Assessment", stage: str, name: str) -> float | None:
    """The change of a number, as a share of what the plan has; None for texts, shares and what has no measure."""
    old, new = (getattr(assessment.outcomes[stage].answers, name) for assessment in (plan, other))
    if isinstance(old, str) or name.endswith("_fraction") or name == "ratio":
        return None
    before, after = best_of(old), best_of(new)
    return after / before - 1.0 if before > 0.0 and isfinite(before) and isfinite(after) else None


def _waiting(plan: "Assessment", other: "Assessment") -> Iterator[str]:
    stages = [
        stage for stage in STAGES if other.outcomes[stage].answers is None and plan.outcomes[stage].answers is not None
    ]
    if stages:
        yield f"not worked out: {', '.join(stages)}, waits for {other.outcomes[stages[0]].waits_for.rstrip('.')}"


def _fresh_findings(plan: "Assessment", other: "Assessment") -> Iterator[str]:
    """What stops or wants a look here and not in the plan; the same sentence with other numbers is nothing new."""
    known = {(stage, gist(finding.text)) for stage, finding in plan.findings()}
    for stage, finding in other.findings():
        if finding.verdict is not Verdict.FITS and (stage, gist(finding.text)) not in known:
            yield f"{finding.verdict.value} on the {stage} page: {finding.text.partition('. ')[0].rstrip('.')}"
