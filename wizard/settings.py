"""What the wizard remembers from one run to the next: a small file among the plans. Losing it does no harm."""

import tomllib
from collections.abc import Mapping
from pathlib import Path

from engine.disk import Disk, sweep
from wizard.keeping.side_file import write_aside

THEMES = ("day", "night", "terminal")
"""What the owner calls the themes."""
DEFAULTS = {"theme": ""}
"""What stands when nothing is remembered; no theme is the usual one."""
_CHOICES = {"theme": THEMES}
_NAME = ".settings"


def load_settings(folder: Path) -> dict[str, str]:
    """What is remembered in a folder of plans; the defaults for whatever is missing, unknown, or cannot be read."""
    try:
        found = tomllib.loads((folder / _NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        found = {}
    return DEFAULTS | {key: found[key] for key, choices in _CHOICES.items() if found.get(key) in choices}


def save_settings(folder: Path, settings: Mapping[str, str]) -> None:
    """Remember settings: the file holds the old ones or the new ones. Where nothing can be written, nothing happens."""
    import tomli_w

    sweep(Disk(), folder / _NAME)
    write_aside(Disk(), folder / _NAME, tomli_w.dumps(dict(settings)))
