"""What all screens share: the app that holds the plan, by its own type, and how a dialog is laid over one. And what the
app may ask of them, so that it need not load them all before the first one is painted."""

from abc import abstractmethod
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast

from wizard.keys import Action

if TYPE_CHECKING:
    from textual.screen import Screen

    from engine.plan import Plan
    from wizard.app import ShaftlogApp

    _Screen = Screen[Any]
else:
    _Screen = object  # Textual styles a screen by the first screen among its bases

Answer = TypeVar("Answer")

_CHANGED = "What this was about has changed meanwhile, so nothing was done. Look at the plan as it is now."


class Hosted(_Screen):
    """Before Screen among the bases of each of our screens.

    actions: what the palette offers on it.
    """

    actions: ClassVar[tuple[Action, ...]] = ()

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", self.app)

    @property
    def plan(self) -> "Plan":
        """The plan as it is now."""
        return self.host.plan

    def lay_over(
        self, dialog: "Screen[Answer]", answered: Callable[[Answer], object] | None = None, about: str = ""
    ) -> None:
        """Show a dialog over this screen, unless one lies over it already.

        answered: is handed what was chosen in it; Esc chooses nothing.
        about: the table, field or other part of the plan that the answer is for, "engine.candidate". The plan may go
        over to another version while one is asked: what is not as it was then is left alone, and the owner is told.
        """
        if self.app.screen is not self:
            return
        part = attrgetter(about) if about else lambda _: None
        asked = part(self.plan)

        def hand_on(answer: Answer | None) -> Any:
            if answer is None or answered is None:
                return None
            if part(self.plan) == asked:
                return answered(answer)
            self.host.tell(_CHANGED)
            return None

        self.app.push_screen(dialog, hand_on)


class ShowsResults(Hosted):
    """A screen that shows what the plan comes to."""

    @abstractmethod
    def refresh_results(self) -> None:
        """Show the latest assessment."""


class ShowsPlan(ShowsResults):
    """The screen of the open plan."""

    page: str

    @abstractmethod
    def refresh_view(self) -> None:
        """Show the newest outcome of the open page."""

    @abstractmethod
    def take_typed(self) -> None:
        """Take over text whose message is still on its way."""

    @abstractmethod
    async def follow_plan(self) -> None:
        """Bring every page that has been opened up to a plan that was changed as a whole."""
