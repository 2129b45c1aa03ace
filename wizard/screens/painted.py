"""What of a screen has to be painted anew after a layout."""

from textual._compositor import Compositor, CompositorMap, ReflowResult
from textual.geometry import Size
from textual.widget import Widget


class PaintedWhole(Compositor):
    """Paints all that has moved, also since a scroll.

    Textual compares a layout with the one before. What has been scrolled meanwhile stands elsewhere by now, and where
    the next layout takes it back, or an open list away, it left it painted there. Textual hides that, as it paints the
    whole window with each focus; we do not (`Hosted.focused`).
    """

    def reflow(self, parent: Widget, size: Size) -> ReflowResult:
        """As in Textual."""
        scrolled = self._visible_map
        found = super().reflow(parent, size)
        self._paint_what_moved_since(scrolled)
        return found

    def shows(self, widget: Widget) -> bool:
        """Whether any of a widget was in sight by the last layout. Textual's own answer may lay all out again."""
        return widget in self._full_map and bool(self._full_map[widget].visible_region)

    @property
    def full_map(self) -> "CompositorMap":
        """As in Textual, where it may be worked out anew between two layouts."""
        before = self._visible_map or self._full_map if self._full_map_invalidated else None
        found = super().full_map
        self._paint_what_moved_since(before)
        return found

    def _paint_what_moved_since(self, before: "CompositorMap | None") -> None:
        """before: where all in sight stood; None when that has been compared already."""
        if before is not None and self.size.region not in self._dirty_regions:
            then, now = ({(part, map[part].region, map[part].clip) for part in map} for map in (before, self._full_map))
            self._dirty_regions.update(seen for _, place, clip in then ^ now if (seen := clip.intersection(place)))
