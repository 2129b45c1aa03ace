"""What has moved since the last layout is painted, also when a scroll came between."""

from pathlib import Path

from textual._compositor import Compositor
from textual.geometry import Region

from tests.wizard.driving import field, focus, is_open, planning, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp


def is_painted_next(compositor: Compositor, region: Region) -> bool:
    """Whether all of a region is among what the next painting does."""
    return any(dirty.contains_region(region) for dirty in compositor._dirty_regions)


async def test_a_layout_that_takes_a_scroll_back_paints_what_it_moves(engine_path: Path) -> None:
    """Textual compares a layout with the last one, in which all stood where it stands again now."""
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "engine")() and app.assessment and not app.is_updating, pilot)
        focus(app, "engine.candidate.0.rated_power")
        await pilot.pause(0.1)
        screen, page = planning(app), planning(app).current
        compositor = screen._compositor
        screen._refresh_layout()
        there = compositor.full_map[field(app, "engine.candidate.0.rated_power")].region
        compositor._dirty_regions.clear()
        page.set_reactive(type(page).scroll_y, page.scroll_y + 3)
        compositor.reflow_visible(screen, screen.size)
        compositor._dirty_regions.clear()  # painted
        page.set_reactive(type(page).scroll_y, page.scroll_y - 3)
        compositor.reflow(screen, screen.size)
        assert is_painted_next(compositor, there)


async def test_a_layout_after_a_scroll_and_none_between_paints_nothing_twice(engine_path: Path) -> None:
    """Nor does asking where a widget stands."""
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "engine")() and app.assessment and not app.is_updating, pilot)
        await pilot.pause(0.1)
        screen, page = planning(app), planning(app).current
        compositor = screen._compositor
        screen._refresh_layout()
        page.set_reactive(type(page).scroll_y, page.scroll_y + 3)
        compositor.reflow_visible(screen, screen.size)
        compositor._dirty_regions.clear()
        assert compositor.full_map
        assert compositor._dirty_regions == set()
        compositor.reflow(screen, screen.size)
        assert compositor._dirty_regions == set()
