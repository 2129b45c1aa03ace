"""A page is styled once, when it is mounted; a key changes only what it changes."""

from dataclasses import replace
from pathlib import Path

import pytest
from textual._compositor import Compositor, LayoutUpdate
from textual.css.stylesheet import Stylesheet

from engine.entries import Kind
from tests.wizard.driving import field, focus, is_open, planning, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.widgets.field import FieldInput
from wizard.widgets.field_texts import FieldTexts


async def test_a_field_is_not_styled_before_it_is_mounted(range_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    early: list[object] = []
    whole_update = Stylesheet.update_nodes

    def update(self: Stylesheet, nodes: object, animate: bool = False) -> None:
        found = list(nodes)  # type: ignore[call-overload]
        early.extend(node for node in found if isinstance(node, FieldInput) and node.parent is None)
        whole_update(self, found, animate)

    monkeypatch.setattr(Stylesheet, "update_nodes", update)
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "range"), pilot)
        assert early == []
        tank = field(app, "range.tank")
        assert tank.has_class("-textual-compact")
        assert tank.styles.height is not None
        assert tank.styles.height.value == 1, "it is styled all the same"


async def test_a_letter_is_painted_without_laying_out_the_page(range_path: Path, layouts: list[object]) -> None:
    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        focus(app, "range.tank")
        await type_text(pilot, "300 L")
        await until(lambda: not app.is_updating, pilot)
        await pilot.pause(0.1)
        layouts.clear()
        field(app, "range.tank").value = "3000 L"
        await until(lambda: app.plan.range.tank and app.plan.range.tank[0].si == pytest.approx(3.0), pilot)
        await until(lambda: not app.is_updating, pilot)
        await until(lambda: "3000 L" in screen_text(app), pilot)
        assert layouts == []


def test_a_value_that_takes_another_row_moves_nothing_beside_a_label_of_two() -> None:
    one_row = FieldTexts("Depth of the water", Kind.QUANTITY, "= 3 m", "", is_long=False, under="", is_value=False)
    two_rows = replace(one_row, beside="= 3.05 m = 10 ft 0 1/16 in")
    assert len(two_rows.set_for(64, True).beside) == 2
    assert one_row.set_for(64, True).shape(1) != two_rows.set_for(64, True).shape(1)
    one_row, two_rows = (replace(texts, label="Length of the room for the engine") for texts in (one_row, two_rows))
    assert len(one_row.set_for(64, True).label) == 2
    assert one_row.set_for(64, True).shape(1) == two_rows.set_for(64, True).shape(1)


async def test_the_focus_goes_on_without_painting_the_whole_window(
    range_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = 0
    whole_update = Compositor.render_full_update

    def update(self: Compositor, simplify: bool = False) -> LayoutUpdate:
        nonlocal whole
        whole += 1
        return whole_update(self, simplify)

    app = ShaftlogApp(range_path, range_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "range")() and app.assessment and not app.is_updating, pilot)
        focus(app, "range.tank")
        await pilot.pause(0.1)
        monkeypatch.setattr(Compositor, "render_full_update", update)
        left = app.focused
        await pilot.press("down")
        await until(lambda: app.focused is not left, pilot)
        await pilot.pause(0.1)
        assert whole == 0


async def test_a_text_longer_than_its_field_shows_its_end_while_it_is_typed(engine_path: Path) -> None:
    app = ShaftlogApp(engine_path, engine_path.parent, assess=fake_assessment)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "engine"), pilot)
        await planning(app).go_to("review")
        app.screen.set_focus(app.screen.query("HeadInput").last())
        await type_text(pilot, "a" * 90 + "bcd")
        await until(lambda: "aaabcd" in screen_text(app), pilot)
