"""What the review page lists, line by line, as plain data: what can be ordered, what stands against it, what was taken
for granted, what fits, what to be careful of, and the sheets to print."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from engine.assumptions import assumptions
from engine.findings import Finding, Verdict
from engine.odd_keys import odd_keys
from engine.plan import STAGES, Plan, entry_at, label_at, page_of, stage_problems
from engine.readiness import Readiness, readiness
from engine.showing import numbered
from wizard.measures import TITLE as TO_MEASURE
from wizard.measures import Measure, measures
from wizard.sheet_choice import SHEETS
from wizard.states import DONE, TODO, VERDICTS

if TYPE_CHECKING:
    from engine.assessment import Assessment

ESTIMATE = (
    "This plan is an estimate from published methods, not a certificate. Local rules, class and the engine maker's "
    "installation manual come first, and licensed people do the work that asks for a licence."
)
AGAIN = "Look at again"
_NAME = max(map(len, STAGES)) + 2
"""Columns for the name of a page."""
_SHARE = 6
"""Columns for a share of doubt."""


@dataclass(frozen=True)
class Place:
    """A page, and maybe a field on it, with what that is called there."""

    page: str
    path: str = ""
    label: str = field(default="", compare=False)


@dataclass(frozen=True)
class Section:
    """A part of the list that is put away to a count until it is opened."""

    name: str


@dataclass(frozen=True)
class Sheet:
    """A sheet to write."""

    name: str


@dataclass(frozen=True)
class Line:
    """One line of the list, told apart by a mark and words, never by its colour alone.

    lead: mark and page, in columns.   style: of the lead.   leads_to: what Enter does; None for nothing.
    detail: paragraphs that say all of it, for the pane beside the list; headings have none.
    """

    lead: str
    text: str
    style: str = ""
    leads_to: Place | Section | Sheet | None = None
    detail: tuple[str, ...] = ()

    @property
    def is_heading(self) -> bool:
        """Whether it only stands over others."""
        return self.leads_to is None and not self.detail

    @property
    def on_enter(self) -> str:
        """What Enter does here, in a sentence; "" for nothing."""
        match self.leads_to:
            case Place(page, _, label):
                return f"Enter goes to the {page} page{f': {label}' if label else ''}. Esc comes back."
            case Section():
                return "Enter opens this part of the list, and closes it."
            case Sheet():
                return "Enter asks for form and file, and writes it."
        return ""


def _place(plan: Plan, page: str, path: str) -> Place:
    """Where a line leads to; a table has no label, nor a path that is none."""
    try:
        return Place(page, path, label_at(plan, path))
    except KeyError:
        return Place(page, path)


# the verdict over all


def verdict(plan: Plan, assessment: "Assessment | None", failure: str = "") -> tuple[str, str, str]:
    """(head, style of the head, the rest of the sentence) about the plan as a whole.

    failure: why it could not be worked out; "" while all is well.
    """
    if assessment is None:
        return ("Not yet.", "$error", failure) if failure else ("", "", "Working it out ...")
    problems = [problem.path in plan.unread for stage in STAGES for problem in stage_problems(plan, stage)]
    missing, unread = problems.count(False), problems.count(True)
    verdicts = [finding.verdict for _, finding in assessment.findings()]
    stops, looks = verdicts.count(Verdict.STOP), verdicts.count(Verdict.LOOK)
    unworked = [stage for stage in STAGES if assessment.outcomes[stage].answers is None]
    unsettled = [item.called for item in readiness(assessment) if not item.go]
    if stops or problems or unworked:
        counts = [f"{stops} to clear first" if stops else "", f"{missing} missing" if missing else ""]
        counts.append(f"{unread} not understood" if unread else "")
        counts.append(f"not worked out yet: {', '.join(unworked)}" if unworked else "")
        return "Not yet.", "$error", f"{'; '.join(part for part in counts if part)}."
    if unsettled:
        return "Not yet.", "$error", f"Nothing stops the plan, but do not order yet: {', '.join(unsettled)}."
    if looks:
        return "Go, with care.", "$warning", f"{looks} want a second look first."
    return "Go.", "$success", "Nothing is missing and nothing stops the plan."


# the list


def review_lines(plan: Plan, assessment: "Assessment | None", opened: frozenset[str] = frozenset()) -> list[Line]:
    """The list, the most urgent first. Parts with nothing in them are left out.

    plan: as it is now; the assessment may still be of the one before.   opened: the parts that are not put away.
    """
    missing = [
        *_counted("What is missing", _problems(plan, unread=False)),
        *_counted("What is not understood", [*_problems(plan, unread=True), *_odd(plan)]),
    ]
    if assessment is None:
        return missing
    found = list(assessment.findings())
    return [
        *_under("Ready to order?", (_ready(plan, item) for item in readiness(assessment))),
        *_counted("What stops", _of_verdict(plan, found, Verdict.STOP)),
        *missing,
        *_measures(plan, measures(assessment)),
        *_counted(AGAIN, _of_verdict(plan, found, Verdict.LOOK)),
        *_put_away("assumed", "Taken for granted, as you have not said", list(_assumed(assessment)), opened),
        *_put_away("fits", "What fits", list(_of_verdict(plan, found, Verdict.FITS)), opened),
        *_under("Be careful", _cautions()),
        *_under("Sheets to print", _sheets()),
    ]


def _under(title: str, lines: Iterable[Line]) -> list[Line]:
    """Lines under a heading; nothing when there are none."""
    found = list(lines)
    return [Line("", title), *found] if found else []


def _counted(title: str, lines: Iterable[Line]) -> list[Line]:
    """The same with their number in the heading."""
    found = list(lines)
    return _under(f"{title} ({len(found)})", found)


def _put_away(name: str, title: str, lines: list[Line], opened: frozenset[str]) -> list[Line]:
    """A heading that opens and closes what stands under it."""
    if not lines:
        return []
    is_open = name in opened
    words = f"{title} ({len(lines)}): Enter {'closes' if is_open else 'opens'}"
    return [Line("", words, "bold $secondary", Section(name)), *(lines if is_open else [])]


def _named(mark: str, name: str) -> str:
    return f"{mark} {name:<{_NAME}}"


def _ready(plan: Plan, item: Readiness) -> Line:
    notes = numbered(item.notes, "note")
    if item.go:
        words = f"go, look at {notes} first" if item.notes else "go"
        all_of_it = [f"The {item.called} can be ordered as this plan says."]
        if item.notes:
            all_of_it.append(f"First look at what is said about it under '{AGAIN}', further down: {notes}.")
        return Line(_named(DONE.mark, item.called), words, f"bold {DONE.style}", Place(item.item), tuple(all_of_it))
    first, *others = item.reasons
    return Line(
        _named(TODO.mark, item.called),
        f"not yet: {first.text}",
        "bold $warning",
        _place(plan, page_of(first.path) or item.item, first.path),
        (f"Do not order the {item.called} yet. {first.text}", *(f"- {reason.text}" for reason in others)),
    )


def _of_verdict(plan: Plan, found: Sequence[tuple[str, Finding]], wanted: Verdict) -> Iterator[Line]:
    state = VERDICTS[wanted]
    for stage, finding in found:
        if finding.verdict is wanted:
            source = (f"Rule: {finding.source}",) if finding.source else ()
            yield Line(
                _named(state.mark, stage),
                finding.text,
                f"bold {state.style}",
                _place(plan, page_of(finding.path) or stage, finding.path),
                (f"{state.word}, {stage}: {finding.text}", *source),
            )


def _problems(plan: Plan, *, unread: bool) -> Iterator[Line]:
    """What is missing, or what has been written and is not understood."""
    for stage in STAGES:
        for problem in (each for each in stage_problems(plan, stage) if (each.path in plan.unread) is unread):
            yield Line(
                _named(TODO.mark, stage),
                problem.text,
                "bold $warning",
                _place(plan, stage, problem.path),
                (problem.text, *_how_to_find(problem.path)),
            )


def _how_to_find(path: str) -> Iterator[str]:
    try:
        entry = entry_at(path)
    except KeyError:
        return
    yield from (words for words in (entry.what, entry.how) if words)


def _odd(plan: Plan) -> Iterator[Line]:
    for problem in odd_keys(plan):
        page = page_of(problem.path) or STAGES[0]
        text = f"In the file: {problem.text}"
        yield Line(_named(TODO.mark, page), text, "bold $warning", Place(page), (text,))


def _measures(plan: Plan, found: Sequence[Measure]) -> Iterator[Line]:
    """A small table; a line of it goes to the field that takes the result."""
    if found:
        yield Line(f"{'power':>{_SHARE}}{'rpm':>{_SHARE}}  ", f"{TO_MEASURE} (share of doubt)")
    for measure in found:
        power, full_throttle = measure.shares
        yield Line(
            f"{power:>{_SHARE}}{full_throttle:>{_SHARE}}  ",
            measure.action,
            "",
            _place(plan, measure.page, measure.path),
            (
                measure.action,
                f"It settles: {measure.settles}.",
                *_taken_away(measure),
            ),
        )


def _taken_away(measure: Measure) -> Iterator[str]:
    answers = ("the shaft power at cruise", "the rpm at full throttle")
    for share, words, answer in zip((measure.power, measure.full_throttle), measure.shares, answers, strict=True):
        if share:
            yield f"It takes away {words} of the doubt in {answer}."


def _assumed(assessment: "Assessment") -> Iterator[Line]:
    look = VERDICTS[Verdict.LOOK]
    for row in assumptions(assessment):
        said = "Guessed, as you do not know it" if row.is_guess else "Default, as the field is empty"
        source = f"From: {row.source}." if row.source else ""
        yield Line(
            _named(look.mark if row.is_guess else " ", row.stage),
            f"{row.label}: {row.text}",
            f"bold {look.style}" if row.is_guess else "",
            _place(assessment.plan, row.stage, row.path),
            (f"{row.label}: {row.text}", f"{said}. {source}".rstrip()),
        )


def _cautions() -> Iterator[Line]:
    from engine.machinery.cautions import CAUTIONS

    yield Line("* ", ESTIMATE, detail=(ESTIMATE,))
    for caution in CAUTIONS.values():
        yield Line("* ", caution.text, detail=(f"{caution.applies[0].upper()}{caution.applies[1:]}:", caution.text))


def _sheets() -> Iterator[Line]:
    for name, title in SHEETS.items():
        yield Line("  ", title, "", Sheet(name), (title,))
