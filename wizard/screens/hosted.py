"""What screens over a plan share: the app that holds the plan, by its own type. And what the app may ask of them, so
that it need not load them all before the first one is painted."""

from abc import abstractmethod
from typing import TYPE_CHECKING, Any, ClassVar, cast

from wizard.keys import Action

if TYPE_CHECKING:
    from textual.screen import Screen

    from engine.plan import Plan
    from wizard.app import ShaftlogApp


class Hosted:
    """Beside Screen among the bases of a screen.   actions: what the palette offers on it."""

    actions: ClassVar[tuple[Action, ...]] = ()

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", cast("Screen[Any]", self).app)

    @property
    def plan(self) -> "Plan":
        """The plan as it is now."""
        return self.host.plan


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
