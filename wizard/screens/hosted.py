"""What all screens share: the app that holds the plan, by its own type, and the rule for keys that come too fast. And
what the app may ask of them, so that it need not load them all before the first one is painted."""

from abc import abstractmethod
from collections.abc import Callable
from operator import attrgetter
from typing import TYPE_CHECKING, Any, ClassVar, TypeVar, cast

from textual.events import Mount
from textual.message import Message
from textual.reactive import Reactive
from textual.widgets import Button, Input, OptionList

from wizard.keys import Action, keys_of
from wizard.screens.painted import PaintedWhole
from wizard.screens.typing import seen_by

if TYPE_CHECKING:
    from textual.screen import Screen
    from textual.widget import Widget

    from engine.plan import Plan
    from wizard.app import ShaftlogApp

    _Screen = Screen[Any]
else:
    _Screen = object  # Textual styles a screen by the first screen among its bases

Answer = TypeVar("Answer")

_CHOSEN = (Button.Pressed, Input.Submitted, OptionList.OptionSelected)
"""What Enter in a part of a screen comes to."""
_TURNS = 100
"""How often a screen is asked whether it is built; a page takes a few of its turns."""
_CHANGED = "What this was about has changed meanwhile, so nothing was done. Look at the plan as it is now."


class Hosted(_Screen):
    """Before Screen among the bases of each of our screens.

    A key may come before what the one before it asked for has been done. So keys wait for a screen that is not there
    yet; only the screen on top hears what is chosen on it, and only over that one another is laid. Textual paints the
    whole window again whenever the focus goes on; what loses or gains it has painted itself by then.

    actions: what the palette offers on it.   leaving: keys that do something also in a window too small to show what.
    """

    actions: ClassVar[tuple[Action, ...]] = ()
    leaving: ClassVar[tuple[str, ...]] = ("escape", *keys_of("leave"))
    focused: ClassVar[Reactive["Widget | None"]] = Reactive(None, repaint=False)  # type: ignore[misc]
    _is_there = False

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._compositor = self._painted = PaintedWhole()

    @property
    def host(self) -> "ShaftlogApp":
        """The app, by its own type."""
        return cast("ShaftlogApp", self.app)

    @property
    def plan(self) -> "Plan":
        """The plan as it is now."""
        return self.host.plan

    @property
    def is_on_top(self) -> bool:
        """False once another screen lies over it, it has been closed, or the program is being ended."""
        return self.app.screen is self and not self.host.is_ending

    @property
    def is_built(self) -> bool:
        """False while keys would find nothing on it yet."""
        return self.is_mounted

    @property
    def is_too_small(self) -> bool:
        """Whether the window only says that it is too small."""
        return self.has_class("-tiny-width") or self.has_class("-tiny-height")

    def takes(self, key: str) -> bool:
        """Whether a key may do anything here as it is now: in a window too small to show what, only one that leaves."""
        return not self.is_too_small or key in self.leaving

    async def there(self) -> None:
        """Wait until it is built, and what has the focus at first has it: keys typed ahead are for that."""
        for _ in range(_TURNS if not self._is_there else 0):
            await seen_by(self)
            if self.is_built:
                self._is_there = True
                return

    async def _on_message(self, message: Message) -> None:
        """Hear what has come to it; a choice only while it is on top. Once the program is being ended no screen is
        built any more, so there is nothing to set on it."""
        if isinstance(message, Mount) and self.host.is_ending:
            return
        if self.is_on_top or not isinstance(message, _CHOSEN):
            await super()._on_message(message)

    def lay_over(
        self, dialog: "Screen[Answer]", answered: Callable[[Answer], object] | None = None, about: str = ""
    ) -> None:
        """Show a dialog over this screen, unless one lies over it already.

        answered: is handed what was chosen in it; Esc chooses nothing.
        about: the table, field or other part of the plan that the answer is for, "engine.candidate". The plan may go
        over to another version while one is asked: what is not as it was then is left alone, and the owner is told.
        """
        if not self.is_on_top:
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

        self.host.gone_on()  # now, as what shows round a dialog is the screen under it
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
    async def typing_done(self) -> None:
        """Wait until the field with the focus has got all keys that were typed into it, and take over its text."""

    @abstractmethod
    async def follow_plan(self) -> None:
        """Bring every page that has been opened up to a plan that was changed as a whole."""
