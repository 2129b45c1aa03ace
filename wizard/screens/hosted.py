"""What screens over a plan share: the app that holds the plan, by its own type."""

from typing import TYPE_CHECKING, Any, cast

if TYPE_CHECKING:
    from textual.screen import Screen

    from engine.plan import Plan
    from wizard.app import ShaftlogApp


class Hosted:
    """Beside Screen among the bases of a screen."""

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", cast("Screen[Any]", self).app)

    @property
    def plan(self) -> "Plan":
        """The plan as it is now."""
        return self.host.plan
