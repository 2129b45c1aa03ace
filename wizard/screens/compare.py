"""The plan and up to three variants side by side; variants are made, changed, adopted and removed from here."""

from dataclasses import replace
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.widgets import Static

from engine.plan import Plan, Variant
from engine.variants import MOST_VARIANTS, adopted, choices_of, varied_plan, with_variant, without_variant
from wizard.comparing import Compared, Comparing
from wizard.comparison import Column, comparison_lines
from wizard.keys import closing, keys_of, printed
from wizard.recalculation import Assess, counted
from wizard.screens.dialog import Dialog, at_once
from wizard.screens.dialogs import ConfirmScreen, DoList
from wizard.screens.hosted import ShowsResults
from wizard.screens.sizes import HEIGHTS, WIDTHS, too_small
from wizard.screens.variant import VariantScreen

if TYPE_CHECKING:
    from engine.assessment import Assessment

_KEYS = "Left, right: column   Enter: what to do with it   up, down, PgDn: scroll   Esc closes"
_SHORT_KEYS = "Arrows: column, scroll  Enter: do  Esc closes"
_FIRST = "There is nothing beside the plan yet. Enter makes a variant: another engine, ratio, propeller or speed."
_OF_PLAN = {
    "new": "New variant: other speed, engine, ratio or propeller",
    "keep": "Keep the plan as it is now as a variant",
}
_OF_VARIANT = {
    "adopt": "Adopt it: the plan takes its choices",
    "change": "Change it, or its name",
    "remove": "Remove it",
}


class CompareScreen(ShowsResults, Dialog[None]):
    """Changes go to the app's plan, so that they can be taken back like any other."""

    HORIZONTAL_BREAKPOINTS = WIDTHS
    VERTICAL_BREAKPOINTS = HEIGHTS
    BINDINGS: ClassVar[list[BindingType]] = [
        closing("compare"),
        at_once("left", "choose(-1)", "Column before", "compare-left"),
        at_once("right", "choose(1)", "Next column", "compare-right"),
        at_once("enter", "do", "What to do with it", "compare-do"),
        at_once("down", "scroll(1)", "Down", "compare-down"),
        at_once("up", "scroll(-1)", "Up", "compare-up"),
        at_once("pagedown", "scroll(10)", "A page down", "compare-page-down"),
        at_once("pageup", "scroll(-10)", "A page up", "compare-page-up"),
    ]
    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    CompareScreen { background: $background; }
    #comparison { width: 100%; height: 100%; background: $background; }
    #comparison-title { height: 1; padding: 0 1; text-style: bold; color: $primary; background: $panel; }
    #comparison-scroll { height: 1fr; padding: 0 1; scrollbar-size-vertical: 1; }
    .-tiny-width #comparison, .-tiny-height #comparison { display: none; }
    """

    def __init__(self, assess: Assess) -> None:
        super().__init__()
        self._assess = assess
        self._chosen = 0
        self._known: list[Compared] = []
        self._beside: list[Plan] = []
        self._under_way: Comparing | None = None

    def compose(self) -> ComposeResult:
        yield Static(too_small(), id="too-small", markup=False)
        with Vertical(id="comparison"):
            yield Static("", id="comparison-title", markup=False)
            with VerticalScroll(id="comparison-scroll", can_focus=False):
                yield Static("", id="comparison-table", markup=False)
            yield Static("", id="comparison-keys", classes="key-line", markup=False)

    def on_mount(self) -> None:
        self._begin()

    def on_unmount(self) -> None:
        self._stop()

    def on_resize(self, event: events.Resize) -> None:
        """Set the table for the new width."""
        del event
        self._show()

    # working out

    def _varied(self) -> list[Plan]:
        """The plan of each variant, without the variants beside it."""
        alone = replace(self.plan, variants=())
        return [varied_plan(alone, variant.choices) for variant in self.plan.variants]

    def _stop(self) -> None:
        if self._under_way is not None:
            self._under_way.stop()
        self._under_way = None

    def _begin(self) -> None:
        """Work out what is not known yet."""
        self._stop()
        self._beside = self._varied()
        missing = [plan for plan in self._beside if self._found(plan) is None]
        if missing:
            self._under_way = Comparing(self, self._assess, missing)
            self._under_way.start()
        self._show()

    def _found(self, plan: Plan) -> Compared | None:
        return next((one for one in self._known if counted(one.plan) == counted(plan)), None)

    @on(Compared)
    def _compared(self, message: Compared) -> None:
        self._known.append(message)
        self._show()

    def refresh_results(self) -> None:
        """The plan itself has been worked out anew; when it is another version, there may be other variants."""
        if not self.query("#comparison"):
            return  # a result on its way while the screen is being built or taken down
        if self._varied() != self._beside:
            self._begin()
        else:
            self._show()

    # what is shown

    def _columns(self) -> list[Column]:
        assessment: Assessment | None = None if self.host.is_updating else self.host.assessment
        columns = [Column("The plan", self.plan, assessment, self.host.failure)]
        for variant, plan in zip(self.plan.variants, self._varied(), strict=True):
            found = self._found(plan)
            columns.append(
                Column(variant.name, plan, found.assessment if found else None, found.failure if found else "")
            )
        return columns

    def _show(self) -> None:
        columns = self._columns()
        self._chosen = min(self._chosen, len(columns) - 1)
        done = sum(column.assessment is not None or bool(column.failure) for column in columns)
        at = f": working out {done + 1} of {len(columns)} (Esc stops)" if done < len(columns) else ""
        self.query_one("#comparison-title", Static).update(f"The plan and its variants side by side{at}")
        lines = comparison_lines(columns, self._chosen, self.plan.units, max(self.size.width - 4, 30))
        lines += [] if columns[1:] else [self.host.failure or _FIRST]
        self.query_one("#comparison-table", Static).update("\n".join(lines))
        keys = _KEYS if len(_KEYS) <= self.size.width - 2 else _SHORT_KEYS
        self.query_one("#comparison-keys", Static).update(keys)

    # keys

    def action_choose(self, step: int) -> None:
        """Another column."""
        self._chosen = min(max(self._chosen + step, 0), len(self.plan.variants))
        self._show()

    def action_scroll(self, lines: int) -> None:
        """Scroll the table and the words under it."""
        self.query_one(VerticalScroll).scroll_relative(y=lines, animate=False)

    def action_do(self) -> None:
        """Ask what to do with the chosen column."""
        if 0 < self._chosen <= len(self.plan.variants):
            place = self._chosen - 1
            offered = DoList(self.plan.variants[place].name, _OF_VARIANT)
            self.lay_over(offered, lambda what: self._do_with_variant(what, place), about="variants")
        else:
            self.lay_over(DoList("The plan", _OF_PLAN), self._do_with_plan)

    def _do_with_plan(self, what: str) -> None:
        if len(self.plan.variants) >= MOST_VARIANTS:
            self.host.tell_here(f"A plan has at most {MOST_VARIANTS} variants beside it. Remove one first.")
            return
        number = next(i for i in range(1, MOST_VARIANTS + 2) if f"Variant {i}" not in self._names())
        variant = Variant(f"Variant {number}", choices_of(self.plan))
        if what == "keep":
            self._take(with_variant(self.plan, variant))
        else:
            self._ask(variant, None)

    def _ask(self, variant: Variant, place: int | None) -> None:
        """Ask for the choices of a variant: of the one at a place, or of one more."""

        def keep(kept: Variant) -> None:
            self._take(with_variant(self.plan, kept, place))

        taken = self._names() - ({variant.name} if place is not None else set())
        self.lay_over(VariantScreen(self.plan, variant, taken), keep, about="variants")

    def _do_with_variant(self, what: str, place: int) -> None:
        variant = self.plan.variants[place]
        if what == "adopt":
            is_kept = any(each.choices == choices_of(self.plan) for each in self.plan.variants)
            lost = "" if is_kept else " What the plan had before is in no variant."
            if self._take(adopted(self.plan, place)):
                self.host.tell(f"Adopted: {variant.name}.{lost} {printed(keys_of('undo')[-1])} takes it back.")
        elif what == "change":
            self._ask(variant, place)
        elif what == "remove":
            question = ConfirmScreen(f"Remove the variant {variant.name}?", "Remove it", "Keep it")
            self.lay_over(question, lambda is_sure: self._remove(is_sure, place), about="variants")

    def _remove(self, is_sure: bool, place: int) -> None:
        if is_sure:
            self._take(without_variant(self.plan, place))

    def _names(self) -> frozenset[str]:
        return frozenset(variant.name for variant in self.plan.variants)

    def _take(self, plan: Plan) -> bool:
        self.host.end_step()
        is_taken = self.host.change(plan)
        self.host.call_later(self.host.show_whole_plan)
        self._begin()
        return is_taken
