"""That freed memory stays for the next array."""

import platform
import subprocess
import sys

import pytest

_SECOND_ASSESSMENT = """
import resource
from engine.assessment import assess
from engine.planfile import load_plan

plan = load_plan("saved_plans/two-sisters.toml")
assess(plan)
before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
assess(plan)
print(resource.getrusage(resource.RUSAGE_SELF).ru_minflt - before)
"""


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="only the GNU C library is told to keep memory")
def test_a_second_assessment_takes_hardly_any_new_pages_from_the_system() -> None:
    """Over ten thousand when each array takes pages of its own."""
    told = subprocess.run([sys.executable, "-c", _SECOND_ASSESSMENT], capture_output=True, text=True, check=True)
    assert int(told.stdout) < 2000
