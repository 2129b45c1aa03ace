"""The plan and its variants side by side: the table, the differences in words, and what can be done with them."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest
from rich.cells import cell_len
from textual.widgets import Input

from engine.assessment import Assessment, assess
from engine.findings import Outcome, stop
from engine.plan import Plan, Variant, text_at, with_text
from engine.planfile import load_plan
from engine.stages.wording import percent
from engine.variants import choices_of, varied_plan
from tests.wizard.driving import is_open, screen_text, type_text, until
from tests.wizard.fakes import fake_assessment
from wizard.app import ShaftlogApp
from wizard.comparison import Column, comparison_lines, difference_words
from wizard.screens.compare import CompareScreen
from wizard.screens.dialogs import ConfirmScreen, DoList
from wizard.screens.variant import VariantScreen


def column(name: str, plan: Plan) -> Column:
    return Column(name, plan, assess(plan))


def test_numbers_in_the_table_are_those_of_the_assessments(launch: Plan) -> None:
    plan = column("The plan", launch)
    other = column("Slower", varied_plan(launch, {"speed.cruise": "5.5 kn", "gear.ratio": "2.5"}))
    words = difference_words(plan, other, "metric")
    assert "cruising speed 5.5 kn instead of 6.5 kn (15 % less)" in words
    assert "ratio 2.5:1 instead of 3:1" in words
    old, new = (
        each.assessment.outcomes["range"].answers.cruise_l_per_h.best for each in (plan, other) if each.assessment
    )
    assert f"({percent(1.0 - new / old)} less)" in words.partition("fuel at cruise")[2].partition(";")[0]
    table = "\n".join(comparison_lines([plan, other], 0, "metric", 78))
    assert "*5.5 kn" in table
    assert ">The\u00a0plan<" in table


def test_the_same_again_is_as_good_as_equal() -> None:
    plan = with_text(Plan(), "hull.waterline_length", "10 m")
    same = Column("Twin", plan, fake_assessment(plan))
    assert difference_words(same, same, "metric") == "as good as equal."


def test_the_name_of_a_column_stands_whole_over_short_numbers() -> None:
    """Of a plan just begun there are only counts, and its head read "plan<"."""
    plan = Plan(name="Bare")
    lines = comparison_lines([Column("The plan", plan, assess(plan))], 0, "metric", 76)
    assert lines[0].strip().replace("\u00a0", " ") == ">The plan<"


def test_new_findings_gaps_lost_engines_and_faults_are_told() -> None:
    plan = with_text(Plan(), "hull.waterline_length", "10 m")
    first = fake_assessment(plan)
    outcomes = dict(first.outcomes)
    outcomes["fit"] = Outcome(
        first.outcomes["fit"].answers, (stop("It is 3 cm too long. So.", "x"), stop("It is 3 cm too long. Or so.", "x"))
    )
    outcomes["range"] = Outcome(None, (), "the tank.")
    other = replace(plan, engine=replace(plan.engine, chosen="Gone [x]"))
    words = difference_words(Column("A", plan, first), Column("B", other, Assessment(other, outcomes)), "metric")
    assert "stop on the fit page: It is 3 cm too long" in words
    assert words.count("It is 3 cm too long") == 1, "two findings that begin alike are told once"
    assert "not worked out: range, waits for the tank" in words
    assert 'its engine "Gone [x]" is no longer among the candidates' in words
    broken = Column("B", plan, None, "That is a fault.")
    assert difference_words(Column("A", plan, first), broken, "metric") == "That is a fault."
    assert "still being" in difference_words(Column("A", plan, first), Column("B", plan), "metric")


@pytest.mark.parametrize("width", [56, 76, 116])
def test_four_columns_with_odd_names_fit(width: int) -> None:
    plan = with_text(Plan(), "hull.waterline_length", "10 m")
    names = ("The plan", "[/x] [kW]", "⛵" * 30, "a very long name for a variant of the plan")
    lines = comparison_lines([Column(name, plan, fake_assessment(plan)) for name in names], 2, "metric", width)
    table = lines[: lines.index("")]
    assert all(cell_len(line) <= width + 10 for line in table)
    assert any("[/x]" in line for line in lines)


def app_with(plan_path: Path) -> ShaftlogApp:
    return ShaftlogApp(plan_path, plan_path.parent, assess=fake_assessment)


async def test_arrows_and_tab_stay_at_the_ends_of_a_dialog_as_on_the_pages(plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        for dialog, back, first, last in (
            (VariantScreen(app.plan, Variant("A", {}), frozenset()), "up", "variant-name", "keep"),
            (ConfirmScreen("Sure?", "Yes", "No"), "left", "no", "yes"),
        ):
            await app.push_screen(dialog)
            for key, end in (("down", last), ("tab", last), (back, first), ("shift+tab", first)):
                await pilot.press(*[key] * 12)
                await until(lambda end=end: getattr(app.focused, "id", "") == end, pilot)
            await pilot.press("escape")
            await until(is_open(app, "hull"), pilot)


@pytest.mark.parametrize("size", [(60, 18), (120, 40)])
async def test_a_variant_is_made_named_changed_adopted_and_removed(size: tuple[int, int], plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=size) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen) and "nothing beside" in _table(app), pilot)
        await pilot.press("enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("enter")
        await until(lambda: isinstance(app.screen, VariantScreen) and app.focused is not None, pilot)
        await pilot.press("end", *["backspace"] * 12)
        await type_text(pilot, "Slow [x]")
        await pilot.press("enter", "down")
        await until(lambda: getattr(app.focused, "path", "") == "speed.cruise", pilot)
        await pilot.press("end", *["backspace"] * 6)
        await type_text(pilot, "5 kn")
        app.screen.set_focus(app.screen.query_one("#keep"))
        await pilot.press("enter")
        await until(lambda: app.plan.variants and isinstance(app.screen, CompareScreen), pilot)
        assert app.plan.variants[0].name == "Slow [x]"
        assert app.plan.variants[0].choices["speed.cruise"] == "5 kn"
        await until(lambda: "Slow [x] against the plan" in _table(app), pilot)
        await pilot.press("right", "enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("enter")
        await until(lambda: text_at(app.plan, "speed.cruise") == "5 kn", pilot)
        app.undo()
        assert text_at(app.plan, "speed.cruise") == "6 kn"
        await pilot.press("enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("down", "down", "enter")
        await until(lambda: "Remove the variant Slow [x]?" in screen_text(app), pilot)
        await pilot.press("right", "enter")
        await until(lambda: not app.plan.variants, pilot)
        await pilot.press("escape")
        await until(lambda: is_open(app, "hull")() and not isinstance(app.screen, CompareScreen), pilot)
        await pilot.press("f10")
    assert load_plan(plan_path).variants == ()


def _table(app: ShaftlogApp) -> str:
    return str(app.screen.query_one("#comparison-table").content) if app.screen.query("#comparison-table") else ""


async def test_a_name_that_is_taken_or_empty_is_refused(plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        for name, sentence in (("", "Give the variant a name."), ("B", "Another variant has that name.")):
            await app.push_screen(VariantScreen(app.plan, Variant(name, {}), frozenset({"B"})))
            await until(lambda: app.screen.query("#keep"), pilot)
            app.screen.set_focus(app.screen.query_one("#keep"))
            await pilot.press("enter")
            await until(lambda sentence=sentence: sentence in screen_text(app), pilot)
            await pilot.press("escape")


async def test_a_name_takes_the_place_of_the_one_that_is_proposed(plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await app.push_screen(VariantScreen(app.plan, Variant("Variant 1", {}), frozenset()))
        await until(lambda: app.focused is not None and app.focused.id == "variant-name", pilot)
        await type_text(pilot, "Slow")
        assert app.screen.query_one("#variant-name", Input).value == "Slow"
        await pilot.press("escape")


async def test_what_is_not_understood_is_not_compared_as_if_it_were_empty(plan_path: Path) -> None:
    app = app_with(plan_path)
    kept: list[Variant | None] = []
    async with app.run_test(size=(80, 24)) as pilot:
        await until(is_open(app, "hull"), pilot)
        await app.push_screen(
            VariantScreen(app.plan, Variant("B", {"propeller.blades": "3.5"}), frozenset()), kept.append
        )
        await until(lambda: app.screen.query("#keep"), pilot)
        app.screen.set_focus(app.screen.query_one("#keep"))
        await pilot.press("enter")
        await until(lambda: "Not understood: Blades. Correct it, or empty it." in screen_text(app), pilot)
        assert not kept
        await pilot.press("shift+home", *"3", "enter")
        app.screen.set_focus(app.screen.query_one("#keep"))
        await pilot.press("enter")
        await until(lambda: kept, pilot)
        assert kept[0] is not None
        assert kept[0].choices["propeller.blades"] == "3"


@pytest.mark.parametrize("is_kept", [False, True])
async def test_adopting_says_when_what_the_plan_had_is_in_no_variant(is_kept: bool, plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        slow = Variant("Slow", choices_of(with_text(app.plan, "speed.cruise", "5 kn")))
        as_it_is = (Variant("As it is", choices_of(app.plan)),) if is_kept else ()
        app.change(replace(app.plan, variants=(slow, *as_it_is)))
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen), pilot)
        await pilot.press("right", "enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        await pilot.press("enter")
        await until(lambda: any("Adopted: Slow." in toast.message for toast in app._notifications), pilot)
        (said,) = [toast.message for toast in app._notifications if "Adopted" in toast.message]
        assert ("What the plan had before is in no variant." in said) is not is_kept


@pytest.mark.parametrize("keys", [("enter",), ("escape", "enter"), ("end", "enter", "right", "enter")])
async def test_a_variant_that_has_gone_meanwhile_is_left_alone(keys: tuple[str, ...], plan_path: Path) -> None:
    """As when the plan goes over to the version that another program has put into its file."""
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        bare = replace(app.plan, variants=(Variant("Other", {"speed.cruise": "4 kn"}),))
        app.change(replace(app.plan, variants=(*bare.variants, Variant("Slow", {"speed.cruise": "5 kn"}))))
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen), pilot)
        await pilot.press("right", "right", "enter")
        await until(lambda: isinstance(app.screen, DoList), pilot)
        app.change(replace(bare, variants=(Variant("New", {"speed.cruise": "3 kn"}),)))
        await pilot.press(*keys)
        await pilot.press("escape", "escape")
        await pilot.pause()
        assert [variant.name for variant in app.plan.variants] == ["New"]
        assert text_at(app.plan, "speed.cruise") == "6 kn"


async def test_a_variant_that_comes_from_elsewhere_is_worked_out(plan_path: Path) -> None:
    app = app_with(plan_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        await pilot.press("ctrl+d")
        await until(lambda: isinstance(app.screen, CompareScreen), pilot)
        plan = with_text(app.plan, "speed.top", "8 kn")
        app.change(replace(plan, variants=(Variant("New", {"speed.cruise": "3 kn"}),)))
        await until(lambda: "New" in _table(app), pilot)
        await until(lambda: "working out" not in screen_text(app), pilot)


async def test_esc_stops_the_work_and_nothing_comes_after(plan_path: Path) -> None:
    may_go, seen = threading.Event(), []

    def slow(plan: Plan) -> Assessment:
        if plan.speed.cruise is not None and text_at(plan, "speed.cruise") != "6 kn":
            seen.append(text_at(plan, "speed.cruise"))
            assert may_go.wait(10)
        return fake_assessment(plan)

    app = ShaftlogApp(plan_path, plan_path.parent, assess=slow)
    async with app.run_test(size=(80, 24)) as pilot:
        await until(lambda: is_open(app, "hull")() and app.assessment and not app.is_updating, pilot)
        variants = tuple(Variant(f"V{i}", {"speed.cruise": f"{i} kn"}) for i in (4, 5))
        app.change(replace(app.plan, variants=variants))
        await pilot.press("shift+f2")
        await until(lambda: "working out 2 of 3 (Esc stops)" in screen_text(app), pilot)
        await pilot.press("escape")
        await until(lambda: not isinstance(app.screen, CompareScreen), pilot)
        may_go.set()
        await pilot.pause(0.2)
        assert seen == ["4 kn"], "the second is not begun"
