"""The first screen is painted before anything slow is imported. Only a fresh process can prove it."""

import subprocess
import sys
from pathlib import Path

import pytest

_SCRIPT = """
import asyncio, sys
from pathlib import Path
from wizard.app import ShaftlogApp

async def look():
    plan = Path(sys.argv[1])
    app = ShaftlogApp(plan if plan.is_file() else None, plan.parent, assess=lambda plan: None)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        await pilot.pause()
        print([name for name in ("numpy", "scipy", "plotext", "engine.hull") if name in sys.modules])

asyncio.run(look())
"""


@pytest.mark.parametrize("name", ["teasel.toml", "none.toml"])
def test_the_first_frame_loads_no_numpy_scipy_or_plotext(plan_path: Path, name: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", _SCRIPT, str(plan_path.parent / name)], capture_output=True, text=True, timeout=60
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.strip() == "[]"
