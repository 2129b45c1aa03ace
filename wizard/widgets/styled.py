"""Widgets that are not styled before there is anything to style."""

from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from textual.widget import Widget


class StyledWhenMounted:
    """Before Textual's class among the bases of a widget.

    Textual styles a widget when it is mounted. Every class that it is given before that would have all rules tried on
    it for nothing, and a page has a hundred such widgets.
    """

    def update_node_styles(self, animate: bool = True) -> None:
        """As in Textual, once it has a place."""
        if cast("Widget", self).parent is not None:
            super().update_node_styles(animate)  # type: ignore[misc]
