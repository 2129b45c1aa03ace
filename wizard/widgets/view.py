"""What the engine makes of a page: findings, answers and the plot, all at once or one after the other."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from engine.findings import Finding, Verdict
from wizard.states import VERDICTS
from wizard.tables import answer_lines, tables_of
from wizard.widgets.plot import Plot
from wizard.widgets.say import say
from wizard.widgets.scrolled import ScrolledText

if TYPE_CHECKING:
    from engine.findings import Outcome

VIEWS = ("answers", "findings", "plot")
_WHAT_WAS_FITTED = ("trial.gear_ratio", "trial.propeller_diameter", "trial.propeller_pitch")
LEADS = {
    "engine": ("engine.candidate",),
    "power": ("present.log", "trial.run"),
    "propeller": ("propeller.pitch",),
    "trial": ("trial.run", *_WHAT_WAS_FITTED),
}
"""Page -> the fields whose findings stand first on it, after what stops the plan: on the engine page what to look for
while there is no candidate, on the power page those of log and trial, on the propeller page full throttle and in how
many boats rated speed is reached, on the trial page what the runs say of the propeller, or that they are not used yet.
"""

TABLES_FIRST = frozenset({"fit"})
"""Pages whose tables answer their question, with the figures behind them for those who want to know more."""


class StageView(Vertical):
    """Three panes. In a narrow window one of them shows, in a wide one all, or one large."""

    def __init__(self) -> None:
        super().__init__(id="view")
        self.current = "answers"
        self.is_wide = False
        self._stage = ""
        self.outcome: Outcome[Any] | None = None
        self._units = "metric"
        self._aside = ""
        self._unread = ""
        self._head = Static("", id="view-title", markup=False)
        self._texts = {name: ScrolledText(id=name) for name in ("findings", "answers")}
        self._plot = Plot(id="plot")

    def compose(self) -> ComposeResult:
        yield self._head
        yield from self._texts.values()
        yield self._plot

    def show(self, stage: str, outcome: "Outcome[Any] | None", units: str, aside: str, unread: str = "") -> None:
        """Show an outcome.

        aside: "updating", or the sentence about a failure, or "" while all is well.
        unread: what is said of fields of the page that were not understood.
        """
        if stage != self._stage:
            for text in self._texts.values():
                text.scroll_to(y=0, animate=False)
        is_same = self.outcome is outcome and (self._stage, self._units, self._unread) == (stage, units, unread)
        self._stage, self.outcome, self._units, self._aside, self._unread = stage, outcome, units, aside, unread
        if is_same and outcome is not None and outcome.answers is not None:
            self._show_aside()
        else:
            self._render_all()

    def set_wide(self, is_wide: bool) -> None:
        """Show all panes at once when there is room."""
        self.is_wide = is_wide
        self.current = "all" if is_wide else "answers" if self.current == "all" else self.current
        self._render_all()

    def cycle(self) -> None:
        """Go on to the next view."""
        order = ("all", *VIEWS) if self.is_wide else VIEWS
        self.current = order[(order.index(self.current) + 1) % len(order)]
        self._render_all()

    def scroll_page(self, direction: int) -> None:
        """Scroll what is showing by a page, down (1) or up (-1)."""
        for text in self._texts.values():
            if text.display:
                text.scroll_relative(y=direction * max(text.size.height - 1, 1), animate=False)

    def on_resize(self, event: events.Resize) -> None:
        del event
        self._render_all()

    def _render_all(self) -> None:
        if not self.is_mounted:
            return
        showed = [part.display for _, part in self._parts]
        for name, part in self._parts:
            part.display = self._shown in ("all", name)
        self._texts["findings"].set_class(self._shown == "findings", "-alone")
        self._texts["findings"].show(self._findings())
        self._texts["answers"].show(self._answers())
        self._plot.show(self._chart() if self.current in ("all", "plot") else None)
        self._show_aside(is_new=showed != [part.display for _, part in self._parts])

    @property
    def _parts(self) -> tuple[tuple[str, Widget], ...]:
        return (*self._texts.items(), ("plot", self._plot))

    @property
    def _shown(self) -> str:
        """What shows; in the place of a plot of nothing, what the page waits for."""
        has_plot = self.outcome is not None and self.outcome.answers is not None
        return self.current if has_plot or self.current != "plot" else "answers"

    @property
    def shows_plot(self) -> bool:
        """Whether a plot has the view to itself."""
        return self._shown == "plot"

    def _show_aside(self, is_new: bool = False) -> None:
        """Dim what shows while it is old, and say why. What does not show is left alone: for each widget whose style
        changes out of sight the whole page is arranged anew.   is_new: another pane shows now.
        """
        if is_new or self.has_class("-stale") is not bool(self._aside):
            self.set_class(bool(self._aside), "-stale", update=False)
            for _, part in self._parts:
                if part.display:
                    part.update_node_styles()
        say(self._head, self._title(), fits=True)

    def _title(self) -> Content:
        names: list[tuple[str, str]] = []
        for name in VIEWS:
            is_here = self.current in ("all", name)
            mark, colour = self._worst_mark() if name == "findings" else ("", "")
            names += [(f" {name} ", "bold reverse" if is_here and self.current != "all" else "")]
            names += [(f"{mark:<2}", f"bold {colour}" if mark else "")]
        if self.current == "all":
            names = [("findings, answers, plot  ", "bold")]
        aside = f"  {self._aside}" if self._aside and self.outcome is not None else ""  # else the pane says it
        return Content.assemble(*names, ("F5 next view", "$quiet"), aside)

    def _worst_mark(self) -> tuple[str, str]:
        """The mark and colour of the findings, which may be out of sight: of a stop, else of a second look."""
        verdicts = [finding.verdict for finding in self.outcome.findings] if self.outcome else []
        worst = min(verdicts, key=lambda verdict: verdict.urgency, default=Verdict.FITS)
        return ("", "") if worst is Verdict.FITS else (VERDICTS[worst].mark, VERDICTS[worst].style)

    def _waiting(self) -> str:
        if self.outcome is None:
            return "Working it out ..." if not self._aside or self._aside == "updating" else self._aside
        return f"Waits for: {self.outcome.waits_for or 'what is still missing above.'}"

    def _findings(self) -> Iterator[Content]:
        if self._unread:
            yield Content.styled(self._unread, VERDICTS[Verdict.LOOK].style)
        if self.outcome is None or (self.outcome.answers is None and not self.outcome.findings):
            if self.current == "findings":  # else the answers beside say it
                yield Content(self._waiting())
        elif not self.outcome.findings:
            yield Content("No findings on this page.")
        else:
            for finding in sorted(self.outcome.findings, key=self._urgency):
                yield from finding_text(finding).split("\n")

    def _urgency(self, finding: Finding) -> float:
        """The place of a finding; less is earlier."""
        urgency = finding.verdict.urgency
        return min(urgency, 0.5) if self._leads(finding) else urgency

    def _leads(self, finding: Finding) -> bool:
        return finding.path in LEADS.get(self._stage, ())

    def _lead(self) -> Iterator[Content]:
        """What must not be missed in a window that has no room for the findings beside: the first thing that stops the
        plan, and the first sentence about what leads on this page."""
        found = self.outcome.findings if self.outcome and self.current in ("answers", "plot") else ()
        stop = next((finding for finding in found if finding.verdict is Verdict.STOP), None)
        lead = next((finding for finding in found if self._leads(finding)), None)
        if stop is not None:
            yield finding_text(stop).split("\n")[0]
        if lead is not None and lead is not stop:
            yield Content(lead.text)

    def _answers(self) -> Iterator[Content]:
        if self._unread and self.current != "all":  # else the findings beside say it
            yield Content.styled(self._unread, VERDICTS[Verdict.LOOK].style)
        if self.outcome is None or self.outcome.answers is None:
            yield Content(self._waiting())
            for lead in self._lead():
                yield from (Content(""), lead)
            return
        yield from self._lead()
        width = max(self._texts["answers"].size.width - 2, 24)
        answers = self.outcome.answers
        of_motor = self.outcome.of_motor
        parts = [list(map(Content, answer_lines(answers, self._units, width, of_motor=of_motor)))]
        for title, lines in tables_of(answers, self._units, width, of_motor=of_motor):
            parts.append([Content.styled(title, "bold"), *map(Content, lines)])
        if self._stage in TABLES_FIRST:
            parts = [*parts[1:], parts[0]]
        for place, part in enumerate(parts):
            yield from ([Content(""), *part] if place else part)

    def _chart(self) -> Any:
        if self.outcome is None or self.outcome.answers is None:
            return None
        from wizard.stages.plots import chart_of

        return chart_of(self._stage, self.outcome.answers, self._units, of_motor=self.outcome.of_motor)


def finding_text(finding: Finding) -> Content:
    """A finding with its mark and verdict word, and where the rule is from."""
    state = VERDICTS[finding.verdict]
    source = (f"  Rule: {finding.source}", "$quiet") if finding.source else ""
    return Content.assemble(
        (f"{state.mark} {state.word}: ", f"bold {state.style}"), finding.text, "\n" if source else "", source
    )
