"""The lines over a page that say what the tour asks for now."""

from textual.widgets import Static

from wizard.tour import Sight, Tour


class TourStrip(Static):
    """Shows the tour's words; takes in what the owner does."""

    DEFAULT_CSS = """
    TourStrip { height: auto; padding: 0 1; background: $surface; color: $accent; text-style: bold; }
    .-tiny-width TourStrip, .-tiny-height TourStrip { display: none; }
    """

    def __init__(self, tour: Tour) -> None:
        super().__init__(tour.line, id="tour", markup=False)
        self._tour = tour

    def look(self, sight: Sight) -> None:
        """Go on when what was asked for has been done."""
        if self._tour.look(sight):
            self.update(self._tour.line)

    def go_on(self) -> None:
        """Go on without it."""
        self._tour.go_on()
        self.update(self._tour.line)
