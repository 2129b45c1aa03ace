"""A browser that sets and prints a page, where one is installed."""

import shutil
import subprocess
from pathlib import Path

import pytest

_NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
_FLAGS = ("--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer")


def run_browser(page: Path, *more: str) -> subprocess.CompletedProcess[bytes]:
    """Open a page and do what the flags say; the test is skipped where no browser is."""
    found = next(filter(None, map(shutil.which, _NAMES)), None)
    if found is None:
        pytest.skip("no browser is installed that could print the sheets")
    own = f"--user-data-dir={page.parent / 'browser'}"
    return subprocess.run([found, *_FLAGS, own, *more, page.as_uri()], capture_output=True, timeout=60, check=False)
