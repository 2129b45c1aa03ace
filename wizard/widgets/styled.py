"""What Textual does for every widget, and ours on a page need only at times: a page has a hundred of them."""

from typing import TYPE_CHECKING, ClassVar, cast

from textual.geometry import Size
from textual.reactive import Reactive

if TYPE_CHECKING:
    from textual.widget import Widget


class StyledWhenMounted:
    """Before Textual's class among the bases of a widget.

    Textual styles a widget when it is mounted. Every class that it is given before that would have all rules tried on
    it for nothing.
    """

    def update_node_styles(self, animate: bool = True) -> None:
        """As in Textual, once it has a place."""
        if cast("Widget", self).parent is not None:
            super().update_node_styles(animate)  # type: ignore[misc]


class LaidOutOnce:
    """Before Textual's class among the bases of a widget.

    When a layout has made a widget larger or smaller, Textual lays out the whole window a second time, and it does so
    for each letter in a field. But nothing else moves by then: a scrollbar that comes or goes asks for itself.
    """

    virtual_size: ClassVar[Reactive[Size]] = Reactive(Size(0, 0), repaint=False)
