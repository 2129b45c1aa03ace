"""Published coefficient tables as TOML files, each naming its source in the file itself."""

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

_FOLDER = Path(__file__).parent


@cache
def table(name: str) -> dict[str, Any]:
    """Read one table of this folder once and keep it.

    name: file name without its ending, "wageningen_b".
    Returns: the parsed TOML; callers must not change it, it is shared.
    Raises: FileNotFoundError when there is no such table.
    """
    return tomllib.loads((_FOLDER / f"{name}.toml").read_text(encoding="utf-8"))
