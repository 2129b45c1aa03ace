"""What is slow to load is loaded when it is needed. Lists of modules of a fresh process prove it, never the clock."""

import subprocess
import sys
from pathlib import Path

import pytest

SLOW = {"textual", "numpy", "scipy", "plotext", "tomli_w"}
_AFTERWARDS = "\nimport sys; print('loaded', *sys.modules)"
_WIZARD = """
import asyncio, sys
from pathlib import Path
from wizard.app import ShaftlogApp

async def look():
    plan = Path(sys.argv[1])
    app = ShaftlogApp(plan if plan.is_file() else None, plan.parent)
    if sys.argv[2] == "held":
        app._recalculation._start = lambda *_: None
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.pause()
        while sys.argv[2] == "goes on" and app.assessment is None:
            await asyncio.sleep(0.01)

asyncio.run(look())
"""


def loaded_after(root: Path, code: str, *words: str) -> set[str]:
    """The modules that are loaded after some code has run in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-c", code + _AFTERWARDS, *words], cwd=root, capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    return set(done.stdout.rpartition("loaded ")[2].split())


@pytest.mark.parametrize("words", [["--help"], ["report", "--help"], ["check", "--help"], ["--keys"], ["--nonsense"]])
def test_help_keys_and_refusals_load_nothing_slow(root: Path, words: list[str]) -> None:
    code = f"from wizard.cli import main\ntry: main({words})\nexcept SystemExit: pass"
    loaded = loaded_after(root, code)
    assert "wizard.cli" in loaded
    assert sorted(loaded & SLOW) == []
    assert "engine.plan" not in loaded


def test_a_check_loads_no_screen(root: Path) -> None:
    loaded = loaded_after(root, "from wizard.cli import main; main(['check', 'saved_plans/bittern.toml'])")
    assert sorted(loaded & {"textual", "scipy", "plotext"}) == []


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_report_loads_no_screen(root: Path, form: str) -> None:
    words = ["report", "saved_plans/bittern.toml", "--format", form]
    loaded = loaded_after(root, f"from wizard.cli import main; main({words})")
    assert sorted(loaded & {"textual", "scipy"}) == []


def test_the_list_of_plans_loads_no_plan_page(root: Path, tmp_path: Path) -> None:
    loaded = loaded_after(root, _WIZARD, str(tmp_path / "none.toml"), "held")
    assert "wizard.screens.plans" in loaded
    assert sorted(loaded & {"numpy", "scipy", "plotext", "wizard.screens.planning", "wizard.charts"}) == []
    # these took a part of the time to the first frame, for marks of very long names and to find a folder of our own
    assert sorted(loaded & {"hashlib", "secrets", "zipfile", "importlib.resources"}) == []


def test_the_page_of_a_plan_loads_no_dialog_and_no_list(root: Path, plan_path: Path) -> None:
    loaded = loaded_after(root, _WIZARD, str(plan_path), "held")
    assert "wizard.screens.planning" in loaded
    assert sorted(loaded & {"numpy", "scipy", "plotext", "wizard.screens.plans"}) == []
    assert (
        sorted(loaded & {f"wizard.screens.{name}" for name in ("compare", "market", "workings", "plot", "sheet")}) == []
    )


def test_numpy_comes_with_the_first_calculation_and_scipy_not_at_all(root: Path, plan_path: Path) -> None:
    loaded = loaded_after(root, _WIZARD, str(plan_path), "goes on")
    assert "numpy" in loaded
    assert sorted(loaded & {"scipy", "plotext"}) == []


def test_one_thread_is_enough_for_the_matrices(root: Path) -> None:
    code = "from wizard.cli import main; main(['--keys']); import os; assert os.environ['OPENBLAS_NUM_THREADS'] == '1'"
    assert "wizard.cli" in loaded_after(root, code)


def test_what_is_ready_is_painted_at_once(root: Path) -> None:
    code = "from wizard.cli import main; main(['--keys']); import textual.screen as s; assert s.UPDATE_PERIOD < 0.005"
    assert "textual.screen" in loaded_after(root, code)
