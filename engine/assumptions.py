"""What the numbers rest on that the owner has not said: defaults of fields left empty, what is reckoned with in others,
and guesses for what is needed and not known."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from engine.assessment import Assessment
from engine.defaults import number_in
from engine.plan import STAGE_SECTIONS, STAGES, Plan, entry_at, label_at, paths, text_at
from engine.plan_defaults import default_at, default_in
from engine.sections.engine import Candidate
from engine.usual import typical

_NO_GUESS = "usual for such boats"


@dataclass(frozen=True)
class Assumption:
    """One value that stands in for what was not said.

    stage: whose page asks it.   path: its field; of rows of a table that are alike, that of the first.
    text: the value in use, in words.   source: where it is from.
    is_guess: taken from what is usual for such boats, not the default of the field.
    """

    stage: str
    path: str
    label: str
    text: str
    source: str
    is_guess: bool


def assumptions(assessment: Assessment) -> tuple[Assumption, ...]:
    """The defaults, stand-ins and guesses that stages of the assessment have taken, in the order they are asked in.

    Of the candidates only the chosen one counts. A stage that waits has taken nothing yet.
    """
    return tuple(row for stage in STAGES for row in _rows_together(_of_stage(assessment, stage)))


def _rows_together(found: Iterable[Assumption]) -> Iterator[Assumption]:
    """One line for rows of a table in which the same stands in for the same field."""
    alike: dict[tuple[str, str, str], list[Assumption]] = {}
    for each in found:
        alike.setdefault((_without_row(each.path), each.text, each.source), []).append(each)
    for first, *others in alike.values():
        rows = [row for each in (first, *others) if (row := _row(each.path)) is not None]
        yield replace(first, label=f"{first.label} ({_row_words(rows)})") if rows else first


def _row(path: str) -> int | None:
    """The number of the row that a field stands in, in a table of several readings or tanks."""
    _, *within = path.split(".")
    return int(within[1]) + 1 if len(within) == 3 and within[0] not in _CANDIDATES else None


def _without_row(path: str) -> str:
    """What the fields of a column of a table have in common: "trial.run.measured"."""
    return ".".join(part for part in path.split(".") if not part.isdigit())


def _row_words(rows: Sequence[int]) -> str:
    """Such as "row 2", or "rows 1 to 3, 5"."""
    runs: list[list[int]] = []
    for row in rows:
        if runs and row == runs[-1][-1] + 1:
            runs[-1].append(row)
        else:
            runs.append([row])
    spans = (str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)
    return f"row{'' if len(rows) == 1 else 's'} {', '.join(spans)}"


def _of_stage(assessment: Assessment, stage: str) -> Iterator[Assumption]:
    plan = assessment.plan
    taken = {place for worked in assessment.worked.values() for place in worked.taken}
    guessed = assessment.plan_with_guesses if plan.not_known else plan
    for section in STAGE_SECTIONS[stage]:
        for path in paths(plan, section):
            if path in plan.not_known - guessed.not_known:
                usual = typical(guessed, path)
                source = _NO_GUESS if usual is None else usual.source
                yield Assumption(stage, path, label_at(plan, path), text_at(guessed, path), source, is_guess=True)
            elif _place(path) not in taken or not _matters(plan, path):
                continue
            elif _is_default(plan, path):
                default, source = default_in(plan, path), default_at(plan, path).source
                yield Assumption(stage, path, label_at(plan, path), default, source, is_guess=False)
            elif stand_in := _stand_in(assessment, stage, path):
                yield stand_in


def _stand_in(assessment: Assessment, stage: str, path: str) -> Assumption | None:
    """What a stage reckons with while a field without a default is empty; None when nothing, or nothing yet."""
    plan, answers = assessment.plan, assessment.outcomes[stage].answers
    row = _STAND_INS.get(_without_row(path))
    if row is None or answers is None or not _is_empty(plan, path):
        return None
    entry = entry_at(path)
    text = number_in(entry, float(row.value(answers)), plan.units, _STAND_IN_DIGITS)
    return Assumption(stage, path, label_at(plan, path), text, row.source, is_guess=False)


def _is_default(plan: Plan, path: str) -> bool:
    """Whether the default of a field stands in for it. Text that was not understood is a problem of its own."""
    return _is_empty(plan, path) and bool(entry_at(path).default)


def _is_empty(plan: Plan, path: str) -> bool:
    return path in plan.not_known or not text_at(plan, path)


def _place(path: str) -> str:
    """What a stage takes of a plan to get at a field: a field of a section, or a whole table."""
    return ".".join(path.split(".")[:2])


_CANDIDATES = ("candidate", "motor")


def _matters(plan: Plan, path: str) -> bool:
    """Whether a field that was read says anything, with what stands in the others."""
    section, table, *_ = path.split(".")
    if table in _CANDIDATES:
        return _is_of_chosen(plan, path)
    if path.startswith("trial.run.") and path.endswith(".measured"):
        return not text_at(plan, f"{path.rpartition('.')[0]}.speed_back")
    return _MATTERS.get(path, _MATTERS.get(section, _always))(plan)


def _is_of_chosen(plan: Plan, path: str) -> bool:
    _, table, index, _ = path.split(".")
    return getattr(plan.engine, table)[int(index)] is plan.engine.selected


def _always(_: Plan) -> bool:
    return True


def _loses_by_formula(plan: Plan) -> bool:
    """Whether the losses aboard are worked out from air and water: for a diesel, when its maker's loss is not given."""
    chosen = plan.engine.selected
    return isinstance(chosen, Candidate) and chosen.power_lost is None


_MATTERS: Mapping[str, Callable[[Plan], bool]] = {
    "present": lambda plan: bool(plan.present.log),
    "trial": lambda plan: bool(plan.trial.run),
    "hull.prismatic": lambda plan: plan.hull.midship is None,
    "hull.midship": lambda plan: plan.hull.prismatic is None,
    "engine.humidity": _loses_by_formula,
    "engine.altitude": _loses_by_formula,
    "engine.raw_water": _loses_by_formula,
}
"""Section or field -> when its default says anything; what is not named here always does."""


@dataclass(frozen=True)
class _StandIn:
    """value: out of the answers of the field's stage, in SI.   source: where it is from."""

    value: Callable[[Any], float]
    source: str


_STAND_IN_DIGITS = 3
_OF_HER_KIND = "usual for her kind of boat; textbook consensus, from memory"
_FITTED = "usual for her kind of boat, made to agree with her displacement; textbook consensus, from memory"
_NO_LESS = "usual for her kind of boat, but no less than her block coefficient; textbook consensus, from memory"
_OF_HER_STERN = "where her propeller works: Taylor (1943), Gerr (1989) and typical values from memory; the mean is ours"
_STAND_INS: Mapping[str, _StandIn] = {
    "hull.prismatic": _StandIn(lambda hull: hull.form.prismatic_coefficient, _FITTED),
    "hull.midship": _StandIn(lambda hull: hull.form.midship_coefficient, _FITTED),
    "hull.waterplane": _StandIn(lambda hull: hull.form.waterplane_coefficient, _NO_LESS),
    "hull.buoyancy_centre": _StandIn(lambda hull: hull.form.lcb_percent, _OF_HER_KIND),
    "hull.entrance_angle": _StandIn(lambda hull: hull.form.half_entrance_angle_deg, _OF_HER_KIND),
    "power.wake": _StandIn(lambda power: power.wake_fraction.best, _OF_HER_STERN),
    "power.thrust_deduction": _StandIn(lambda power: power.thrust_deduction.best, _OF_HER_STERN),
    "engine.candidate.governed_speed": _StandIn(
        lambda engine: engine.drive.engine.no_load_speed, "1.08 of rated speed; from memory, 1.05 to 1.10"
    ),
    "propeller.area_ratio": _StandIn(
        lambda propeller: propeller.area_ratio, "stock wheels of so many blades; from memory, trade practice"
    ),
}
"""Field without a default -> what is reckoned with while it is empty. A form coefficient that follows from the other
one and the displacement is not among them."""
