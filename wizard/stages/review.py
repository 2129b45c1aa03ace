"""The review page: what stops the plan, what is missing, every finding, the cautions, and whether it is a go."""

import textwrap
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from engine.findings import Finding, Verdict
from engine.odd_keys import odd_keys
from engine.plan import PAGES, QUESTIONS, STAGES, Plan, page_of, stage_problems
from wizard.measures import TITLE, measures
from wizard.stages.page import GoTo
from wizard.states import TODO, VERDICTS
from wizard.widgets.line_input import LineInput

if TYPE_CHECKING:
    from engine.assessment import Assessment


class PlanEdited(Message):
    """The owner changed the plan's name or notes."""

    def __init__(self, plan: Plan, part: str) -> None:
        super().__init__()
        self.plan = plan
        self.part = part


class HeadInput(LineInput):
    """The plan's own name or notes. part: which of the two."""

    def __init__(self, plan: Plan, part: str) -> None:
        super().__init__(getattr(plan, part), compact=True, select_on_focus=False, placeholder=part)
        self.part = part
        self.cursor_blink = False

    def taken_into(self, plan: Plan) -> Plan:
        """The plan with the text as it is now."""
        return replace(plan, name=self.value) if self.part == "name" else replace(plan, notes=self.value)


class ReviewList(OptionList):
    """The list of findings; from its first line the arrow goes up to the fields above it."""

    def action_cursor_up(self) -> None:
        """One line up, or out of the list at its top."""
        if self.highlighted:
            super().action_cursor_up()
        elif isinstance(self.parent, ReviewPage):
            self.parent.move(self, -1)


class ReviewPage(Vertical):
    """Enter on a line goes to the page, and the field, that it is about."""

    stage = "review"

    def __init__(self, plan: Plan) -> None:
        super().__init__(id="page-review", classes="page")
        self.plan = plan
        self.last_path = ""
        self._targets: list[tuple[str, str]] = []
        self._shown: list[Content] = []
        self._assessment: Assessment | None = None

    def compose(self) -> ComposeResult:
        yield Static(f"{len(PAGES)} of {len(PAGES)}  {QUESTIONS['review']}", classes="question", markup=False)
        for part, label in (("name", "Name of the plan"), ("notes", "Notes")):
            with Horizontal(classes="head-line"):
                yield Static(label, classes="label", markup=False)
                yield HeadInput(self.plan, part)
        yield Static("", id="verdict", markup=False)
        yield ReviewList(id="review-list", markup=False, compact=True)

    def show(self, plan: Plan, path: str = "") -> None:
        """Take a newer plan; the list comes with the next assessment."""
        del path
        self.plan = plan

    async def follow(self, plan: Plan) -> None:
        """Take a plan that was changed from elsewhere: name and notes too."""
        self.show(plan)
        for field in self.query(HeadInput):
            with self.prevent(Input.Changed):
                field.value = getattr(plan, field.part)

    def show_assessment(self, assessment: "Assessment | None") -> None:
        """List what is missing, what to measure, and what was found, the most urgent first."""
        self._assessment = assessment
        lines = self._lines(assessment)
        self.query_one("#verdict", Static).update(self._words(assessment))
        self._targets = [(page, path) for page, path, _ in lines]
        contents = [content for _, _, content in lines]
        if contents == self._shown:
            return
        self._shown = contents
        listing = self.query_one("#review-list", OptionList)
        kept = listing.highlighted
        listing.clear_options()
        listing.add_options([Option(line, disabled=not page) for page, _, line in lines])
        if contents:
            first = next(i for i, (page, _, _) in enumerate(lines) if page)
            listing.highlighted = min(max(kept or 0, first), len(contents) - 1)

    def on_resize(self) -> None:
        """Wrap the lines for the new width."""
        self.show_assessment(self._assessment)

    def _words(self, assessment: "Assessment | None") -> Content:
        if assessment is None:
            return Content("Working it out ...")
        missing = sum(len(stage_problems(self.plan, stage)) for stage in STAGES)
        verdicts = [finding.verdict for _, finding in assessment.findings()]
        stops, looks = verdicts.count(Verdict.STOP), verdicts.count(Verdict.LOOK)
        unworked = [stage for stage in STAGES if assessment.outcomes[stage].answers is None]
        if stops or missing or unworked:
            counts = [f"{stops} to clear first" if stops else "", f"{missing} missing" if missing else ""]
            counts.append(f"not worked out yet: {', '.join(unworked)}" if unworked else "")
            return Content.assemble(("Not yet. ", "bold $error"), "; ".join(part for part in counts if part) + ".")
        if looks:
            return Content.assemble(("Go, with care. ", "bold $warning"), f"{looks} want a second look first.")
        return Content.assemble(("Go. ", "bold $success"), "Nothing is missing and nothing stops the plan.")

    def _lines(self, assessment: "Assessment | None") -> list[tuple[str, str, Content]]:
        lines = []
        for stage in STAGES:
            for problem in stage_problems(self.plan, stage):
                head = (f"{TODO.mark} missing, {stage}: ", "bold")
                lines.append((stage, problem.path, Content.assemble(head, problem.text)))
        for problem in odd_keys(self.plan):
            head = (f"{TODO.mark} in the file: ", "bold")
            lines.append((page_of(problem.path) or "hull", "", Content.assemble(head, problem.text)))
        found = list(assessment.findings()) if assessment else []
        stops = [item for item in found if item[1].verdict is Verdict.STOP]
        rest = [item for item in found if item[1].verdict is not Verdict.STOP]
        to_measure = list(self._measure_lines(assessment)) if assessment else []
        before = [(stage, finding.path, _line(stage, finding)) for stage, finding in stops]
        return before + lines + to_measure + [(stage, finding.path, _line(stage, finding)) for stage, finding in rest]

    def _measure_lines(self, assessment: "Assessment") -> Iterator[tuple[str, str, Content]]:
        """A small table; a line of it goes to the page whose answer it makes surer."""
        found = measures(assessment)
        if found:
            head = f"{'power':>6}{'rpm':>6}  "
            words = f"{TITLE} (share of doubt it takes away)"
            yield "", "", Content.assemble((_hanging(head, words, self._width), "bold $secondary"))
        for measure in found:
            power, full_throttle = measure.shares
            yield (
                measure.page,
                measure.path,
                Content(_hanging(f"{power:>6}{full_throttle:>6}  ", measure.action, self._width)),
            )

    @property
    def _width(self) -> int:
        """Columns for the words of the list, its padding and scroll bar left out."""
        return max(self.query_one("#review-list").size.width - 4, 40)

    def controls(self) -> list[Widget]:
        return [*self.query(HeadInput), self.query_one("#review-list")]

    def move(self, from_widget: Widget | None, step: int) -> None:
        """Move between name, notes and the list."""
        order = self.controls()
        place = order.index(from_widget) if from_widget in order else -step
        self.screen.set_focus(order[min(max(place + step, 0), len(order) - 1)])

    def focus_path(self, path: str) -> bool:
        """There are no fields of a stage here."""
        del path
        return False

    def focus_first(self) -> None:
        """The list is what this page is for."""
        self.screen.set_focus(self.query_one("#review-list", OptionList))

    @on(OptionList.OptionSelected)
    def _go(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        page, path = self._targets[event.option_index]
        self.post_message(GoTo(page, path))

    @on(Input.Changed)
    def _edited(self, event: Input.Changed) -> None:
        event.stop()
        if isinstance(event.input, HeadInput):
            self.plan = event.input.taken_into(self.plan)
            self.post_message(PlanEdited(self.plan, event.input.part))

    @on(Input.Submitted)
    def _accepted(self, event: Input.Submitted) -> None:
        event.stop()
        self.move(event.input, 1)


def _hanging(lead: str, words: str, width: int) -> str:
    """Words beside a lead, wrapped under themselves."""
    return lead + f"\n{' ' * len(lead)}".join(textwrap.wrap(words, width - len(lead)))


def _line(stage: str, finding: Finding) -> Content:
    state = VERDICTS[finding.verdict]
    return Content.assemble((f"{state.mark} {state.word}, {stage}: ", f"bold {state.style}"), finding.text)
